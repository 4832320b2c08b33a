"""What was understood of one's own sheet, and its questions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

from inventory.cli.drawing.texts import wrapped
from inventory.measures import plural
from inventory.sheets.guess.guesses import Kept, Question, Understanding
from inventory.sheets.guess.shop.families import pattern_name
from inventory.sheets.guess.shop.lines import ShopTabs

MOST_LEFT, MOST_CHOICES = 8, 6


def summary(found: Understanding, files: Sequence[str]) -> list[str]:
    """The first lines: how much of it was understood, and of what."""
    kinds = Counter(thing.value("kind") for thing in found.things)
    rows = [_several(number, kind) for kind, number in kinds.most_common() if kind]
    rows += [plural(len(found.orders), "order")] if found.orders else []
    share = 100 * found.understood // max(found.cells, 1)
    names = ", ".join(dict.fromkeys(files))
    lines = wrapped(f"{names}: {found.cells} cells, {share} % understood. Rows: {', '.join(rows) or 'none'}.")
    left = [one for one in found.kept if one.what in ("not understood", "heading not known")]
    if left:
        lines += wrapped(
            "Not understood, kept as they are: "
            + "; ".join(_cell(one) for one in left[:MOST_LEFT])
            + _more(left)
        )
    if found.questions:
        asked = plural(len(found.questions), "question")
        lines.append(f"{asked}. Enter takes the guess, ? shows all choices, later leaves the rest.")
    return lines


def _cell(one: Kept) -> str:
    return f"{one.cell.ref} “{one.cell.text[:24]}”"


def _more(left: Sequence[Kept]) -> str:
    return f" and {len(left) - MOST_LEFT} more" if len(left) > MOST_LEFT else ""


def _several(number: int, kind: str) -> str:
    word = {"supply": "supplies", "packaging": "packaging", "spare": "spare fittings"}.get(kind, f"{kind}s")
    return f"{number} {kind if number == 1 else word}"


def the_question(question: Question, number: int, of: int, *, whole: bool = False) -> list[str]:
    """One question: what it is about, its cell, the guess first."""
    place = f" ({question.cell})" if question.cell else ""
    rows = f" It settles {question.rows} rows." if question.rows > 1 else ""
    lines = wrapped(f"{question.about}{place}{rows}", f"{number}/{of} ")
    choices = [one for one in question.choices if one != question.guess]
    shown = choices if whole else choices[:MOST_CHOICES]
    guess = f"[{question.guess}]" if question.guess else "[no guess]"
    more = " …" if len(shown) < len(choices) else ""
    offered = (
        f"{guess} or {', '.join(shown)}{more}"
        if shown
        else f"{guess}{' or ' + question.accepts if question.accepts else ''}"
    )
    return [*lines, *wrapped(offered, "    ")]


def after_questions(
    found: Understanding, shop: ShopTabs, target: Path | None, unreadable: Sequence[str]
) -> list[str]:
    """What was written, what is left open, what was left out."""
    lines = [""] if found.asking.answered else []
    lines += (
        wrapped(f"{target}: guesses are yellow, open ones orange; every row says its cell.") if target else []
    )
    lines += [line for told in unreadable for line in wrapped(f"An answer cannot be read. {told}", "! ")]
    lines += [line for told in shop.left_out for line in wrapped(told, "! ")]
    totals = Counter(one.what for one in found.kept)
    kept = [f"{totals[what]} {what}" for what in ("total", "note", "not understood") if totals[what]]
    if kept:
        lines += wrapped(f"Not stock, listed in the tab my sheet: {', '.join(kept)} (cells).", "· ")
    if found.questions:
        lines += wrapped(
            f"{plural(len(found.questions), 'question')} open, in its tab questions; best guesses stand.",
            "· ",
        )
    lines += [line for told in found.notes for line in wrapped(told, "· ")]
    return lines


def first_question(shop: ShopTabs, today: date) -> str:
    """The first `can-take` to try: two pieces of a kit that is there, of a blank that is, three weeks from now."""
    counted = {
        line.cells["part"].value
        for line in shop.lines.get("counts", [])
        if line.cells["quantity"].value != "0"
    }
    kits = [line.cells for line in shop.lines.get("kits", []) if line.cells["part"].value in counted]
    blanks = [
        line.cells["part"].value
        for line in shop.lines.get("blanks", [])
        if line.cells["part"].value in counted
    ]
    if not kits or not blanks:
        return ""
    family, plating = kits[0]["family"].value, kits[0]["plating"].value
    return (
        f'kitdrawer can-take "{pattern_name(shop, family)}" --plating "{plating}" --blank "{blanks[0]}" '
        f"--count 2 --by {today + timedelta(days=21)}"
    )
