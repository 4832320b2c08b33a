"""README.md and the pages of the guide as promises: the commands they show, and the screens below them.

A block that begins with `$ kitdrawer …` shows a screen, and `…` alone on a line stands for lines left out. Commands set
in without a screen are run too, block by block, each block in a folder and on a copy of the sample's book of its own.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from inventory.catalogue.safety import MOMENTS
from inventory.guide import TOPICS
from inventory.measures.tables import rows

ROOT = Path(__file__).resolve().parents[2]
PAGES = {"README": ROOT / "README.md"} | {
    name: ROOT / "inventory" / "guide" / f"{name}.md" for name in TOPICS
}
LEFT_OUT = "…"
_SCREEN = re.compile(r"^```console\n\$ (kitdrawer .*)\n((?:.*\n)*?)```$", re.MULTILINE)


SHOWN = {
    "cut": ("can-take --safety", "plan --safety", "weekend sheet"),
    "turn": ("can-take --safety", "plan --safety", "weekend sheet"),
    "finish": ("can-take --safety", "plan --safety", "weekend sheet"),
    "glue": ("can-take --safety", "plan --safety", "weekend sheet"),
    "flammables": ("can-take --safety", "plan --safety", "weekend sheet"),
    "after": ("can-take --safety", "plan --safety", "weekend sheet", "weekend book"),
    "selling": ("can-take --safety", "can-take", "promise", "sold"),
}
"""Where the cautions of a moment are shown; the last three of selling in one line beside the price."""


def text(page: str) -> str:
    """The Markdown of a page."""
    return PAGES[page].read_text(encoding="utf-8")


@dataclass(frozen=True)
class Screen:
    """One screen a page shows: words: of the command, without the program's name; lines: as they stand there."""

    words: tuple[str, ...]
    lines: tuple[str, ...]


def screens(page: str) -> list[Screen]:
    """The screens of a page, in its order."""
    return [
        Screen(tuple(shlex.split(said)[1:]), tuple(lines.splitlines()))
        for said, lines in _SCREEN.findall(text(page))
    ]


def shortened(like: Sequence[str], answer: str) -> list[str]:
    """An answer cut as these lines are: as many before the first `…`, as many after the last."""
    lines = [line.rstrip() for line in answer.rstrip("\n").splitlines()]
    if LEFT_OUT not in like:
        return lines
    before = list(like).index(LEFT_OUT)
    after = list(reversed(like)).index(LEFT_OUT)
    if before + after >= len(lines):
        return lines
    return [*lines[:before], LEFT_OUT, *lines[len(lines) - after :]]


def renewed(page: str, answers: Sequence[str]) -> str:
    """The Markdown of a page with these answers in place of its screens'."""
    left = iter(answers)

    def one(found: re.Match[str]) -> str:
        lines = shortened(found[2].splitlines(), next(left))
        return f"```console\n$ {found[1]}\n" + "".join(f"{line}\n" for line in lines) + "```"

    return _SCREEN.sub(one, text(page))


_TABLE = re.compile(r"(?:^\|.*\n)+", re.MULTILINE)


def hazards() -> str:
    """The table of the page on safety: what is said at which moment, in which job, and where."""
    lines = ["| moment | in a job with | is said | where |", "|---|---|---|---|"]
    for row in rows("cautions"):
        when = row["when"].replace("+", " and ").replace("|", " or ")
        where = ", ".join(f"`{place}`" for place in SHOWN[row["moment"]])
        lines.append(f"| {MOMENTS[row['moment']]} | {when} | {row['says']} | {where} |")
    for row in rows("hazard_kinds"):
        at = "flammables" if row["kind"] == "flammables" else "finish"
        where = ", ".join(f"`{place}`" for place in SHOWN[at])
        said = f"Official statements of {', '.join(row['codes'].split())}, by the codes of each product."
        lines.append(f"| {MOMENTS[at]}; of a glue: {MOMENTS['glue']} | {row['kind']} | {said} | {where} |")
    return "\n".join(lines) + "\n"


def tabled(page: str) -> str:
    """The Markdown of the page on safety with the table as the data has it; other pages as they are."""
    return _TABLE.sub(lambda _: hazards(), text(page), count=1) if page == "safety" else text(page)


def blocks(page: str) -> Iterator[list[str]]:
    """Blocks of lines set in, without their margin; a line that ends in a stroke goes on in the next."""
    for block in re.findall(r"(?:^    .*\n)+", text(page), re.MULTILINE):
        yield re.sub(r"\\\n\s+", "", re.sub("^    ", "", block, flags=re.MULTILINE)).splitlines()


def commands(block: Sequence[str]) -> list[list[str]]:
    """The words after the program's name of each of its lines that begins so."""
    return [shlex.split(line, comments=True)[1:] for line in block if line.startswith("kitdrawer ")]
