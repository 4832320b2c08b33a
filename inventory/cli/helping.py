"""What help says: five jobs, then which commands there are, on one screen; one command on one screen too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args, get_origin

from inventory.cli.drawing.texts import wrapped

PROGRAM = "Stock and orders of small turned things from kits. A new shop: kitdrawer begin"
JOBS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("What is there, and what of it is free?", ("kitdrawer shelf",)),
    ("Which orders can be taken, and when are they ready?", ("kitdrawer orders",)),
    ("What do I buy, from whom?", ("kitdrawer shopping",)),
    ("What do I make, and what do I lay out for it?", ("kitdrawer plan",)),
    (
        "What is left, and what did we learn? Its sheet, filled and booked:",
        ("kitdrawer weekend sheet --save sat.xlsx", "kitdrawer weekend book sat.xlsx"),
    ),
)
"""Each with lines that can be pasted as they are, and that fit 40 columns whole."""
MORE = ("kitdrawer --help --all", "kitdrawer shelf --help", "kitdrawer guide")
"""Every command in a line, one of them in full, and pages."""
ALL_HELP = "After --help: every command in a line, and these options."


def first_screen(groups: Mapping[str, Sequence[str]], width: int) -> list[str]:
    """Lines no wider than `width` (columns, 40 or more); every name of every group is in them."""
    width = min(width, 80)
    lines = [*wrapped(PROGRAM, width=width), ""]
    for question, pasted in JOBS:
        lines += [*wrapped(question, width=width), *(" " * (width // 40) + line for line in pasted)]
    return [*lines, "", *_rows({**groups, "More": MORE}, width)]


def _rows(groups: Mapping[str, Sequence[str]], width: int) -> list[str]:
    """A group, and what is in it beside it; what can be pasted is never broken, and no comma hangs on it."""
    room = max(map(len, groups)) + 2
    lines = []
    for name, words in groups.items():
        row = name.ljust(room)
        for at, word in enumerate(words):
            said = word if at == len(words) - 1 else f"{word} " if " " in word else f"{word},"
            if len(row.rstrip()) > room and len(row + said.rstrip()) > width:
                lines.append(row.rstrip())
                row = " " * room
            row += f"{said} "
        lines.append(row.rstrip())
    return lines


LINES = 24
"""Of a help on a terminal of 80 columns; what has no room is named, and behind `--help --all`."""
_COMMON = {
    "yes": "--yes (book it without asking)",
    "as_json": "--json",
    "store": "--store file-or-URL (the book)",
    "help": "--help",
}
"""Options nearly every command has, in one sentence."""
_TAKES = {
    "price": "sum", "paid": "sum", "postage": "sum", "budget": "sum", "labour_rate": "sum",
    "quantity": "amount", "damaged": "amount", "pack": "amount",
    "margin": "share", "confidence": "share", "currency": "code", "customer": "name", "lot": "name",
}  # fmt: skip
"""What an option takes, said in words; one that is completed from the book takes a name."""


@dataclass(frozen=True, slots=True)
class HelpRow:
    """An argument or option. kept: it is shown whatever the room, for an example has it or the command needs it."""

    name: str
    says: str
    kept: bool = False


def command_screen(
    path: str, about: str, parameters: Sequence[Any], width: int, *, everything: bool = False
) -> list[str]:
    """The help of one command: what it does, examples to paste, its options, those all commands have in one line.

    path: with all its words; width: columns, 40 or more; everything: every option, whatever the lines.
    """
    width = min(width, 80)
    told, examples = _said(about)
    own = [one for one in parameters if one.name not in _COMMON and not getattr(one, "hidden", False)]
    rows = [_row(one, examples) for one in own]
    arguments = [_row(one, examples).name for one in own if one.param_type_name == "argument"]
    usage = " ".join((path, *arguments, *(["[options]"] if len(own) > len(arguments) else [])))
    head = [*wrapped(f"Usage: {usage}", width=width), ""]
    for paragraph in told:
        head += wrapped(paragraph, width=width)
    head += ["", *(" " * (width // 40) + line for line in examples), ""]
    common = [text for name, text in _COMMON.items() if any(one.name == name for one in parameters)]
    foot = [*([""] if rows else []), *_whole_words(f"Also: {', '.join(common)}", width=width)]
    more: list[str] = []
    folded: list[str] = []
    lines = _listed(rows, width)
    while not everything and len(head) + len(lines) + len(more) + len(foot) > LINES:
        least = next((at for at in range(len(rows) - 1, -1, -1) if not rows[at].kept), None)
        if least is None:
            break
        folded.insert(0, rows.pop(least).name.split(" ")[0].rstrip(","))
        more = [
            "",
            *_whole_words(f"More: {', '.join(folded)}", width=width),
            f"All told: {path} --help --all",
        ]
        lines = _listed(rows, width)
    return [*head, *lines, *more, *(foot[1:] if more else foot)]


def _whole_words(text: str, width: int) -> list[str]:
    """Lines that break no option at its hyphens."""
    from textwrap import wrap

    return wrap(text, width, break_on_hyphens=False)


def _said(about: str) -> tuple[list[str], list[str]]:
    """The paragraphs of a docstring, and its examples."""
    before, _, after = about.partition("For example:")
    return before.strip().split("\n\n"), [line.strip() for line in after.splitlines() if line.strip()]


def _row(parameter: Any, examples: Sequence[str]) -> HelpRow:
    if parameter.param_type_name == "argument":
        word = (parameter.metavar or parameter.name).strip("[]{}").lower().replace("url", "URL")
        several = "…" if parameter.nargs == -1 and not word.endswith("…") else ""
        needed = f"{word}{several}" if parameter.required else f"[{word}{several}]"
        return HelpRow(needed, parameter.help or "", kept=True)
    first, *others = parameter.opts
    names = [first, *(one for one in others if not one.startswith("--")), *parameter.secondary_opts]
    takes = (
        "" if parameter.is_flag else (parameter.metavar or _takes(parameter)).lower().replace("url", "URL")
    )
    default = parameter.default
    said = (
        f" {default} if not said." if default not in (None, "", False, ()) and not parameter.is_flag else ""
    )
    shown = any(f"{name} " in f"{line} " for name in parameter.opts for line in examples)
    return HelpRow(f"{', '.join(names)} {takes}".strip(), f"{parameter.help or ''}{said}", kept=shown)


def _takes(parameter: Any) -> str:
    from inventory.cli.completing import FROM_THE_BOOK

    if parameter.name in FROM_THE_BOOK:
        return "name"
    return _TAKES.get(parameter.name) or in_words(parameter) or ""


def _listed(rows: Sequence[HelpRow], width: int) -> list[str]:
    """Names in a column of their own where there is room for it, else each text below its name."""
    if not rows:
        return []
    wide = min(max(len(row.name) for row in rows), 26) + 2
    lines = []
    for row in rows:
        text = wrapped(row.says, width=width - wide if width >= 60 else width - 4)
        if width >= 60 and len(row.name) <= wide - 2:
            lines += [f"{row.name.ljust(wide)}{text[0]}", *(" " * wide + line for line in text[1:])]
        else:
            indent = wide if width >= 60 else 4
            lines += [row.name, *(" " * indent + line for line in text)]
    return lines


def group_screen(
    about: str, rooms: Mapping[str, Sequence[tuple[str, str]]], parameters: Sequence[Any], width: int
) -> list[str]:
    """The help of what takes another word: rooms: by their heading, the words and what each does."""
    width = min(width, 80)
    told, examples = _said(about)
    lines = [line for paragraph in told for line in wrapped(paragraph, width=width)]
    lines += ["", *(" " * (width // 40) + line for line in examples)] if examples else []
    wide = max(len(word) for words in rooms.values() for word, _ in words)
    for room, words in rooms.items():
        lines += ["", *([room] if room else [])]
        lines += _listed([HelpRow(word.ljust(wide), says) for word, says in words], width)
    rows = [_row(one, ()) for one in parameters if one.name != "help"]
    return [*lines, "", *_listed([*rows, HelpRow("--help", "What is said here.")], width)]


def in_words(parameter: Any) -> str | None:
    """What a value of a parameter is, said to people; a switch takes none."""
    wanted = parameter.type_descriptor.annotation
    if wanted is bool:
        return None
    one = get_args(wanted)[0] if get_origin(wanted) is list else wanted
    word = {int: "number", float: "number", Path: "file"}.get(one, "text")
    return word if one is wanted else f"{word}…"
