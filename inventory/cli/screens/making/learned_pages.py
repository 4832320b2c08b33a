"""What sessions taught: rates and losses, and what becomes of them by a word or an undoing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.cli.drawing.blocks import Block, Cells, Group, Listing, Screen, Sentence
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.learned import (
    changes_listing,
    percent,
    rate_listing,
    said_of,
)
from inventory.jobs.learning.report import LossLine, RateLine
from inventory.measures import plural, show_day
from inventory.measures.dates import days_in

Interval = tuple[Fraction, Fraction]
LearnedChanges = tuple[Sequence[Sequence[str]], str]
"""Rows of what, before and now; what is said of the figures that hardly move."""


def rates_screen(
    lines: Sequence[RateLine], days: Mapping[int, date], part: str, today: date, *, everything: bool
) -> list[str]:
    """Rates that are learned or held; those of one supply, or all, with the others too. days: of entries."""
    shown = [one for one in lines if part or everything or one.sessions or one.pinned]
    day = show_day(today)
    if not shown:
        return draw(Screen(_no_rate(part, day)))
    learned = sum(1 for one in lines if one.sessions)
    who = f"{shown[0].part.name}: " if part else ""
    head = f"{who}{plural(learned, 'rate is', 'rates are')} learned from your sessions, {day}."
    hidden = len(lines) - len(shown)
    more = plural(hidden, "more stands", "more stand")
    rest = f"{more} as in the sheets" if hidden else ""
    following = None
    if any(one.sessions for one in shown):
        following = ("Session by session", f"kitdrawer trace {pasted(shown[0].part.name)} --all")
    groups = [[rate_listing(shown, named=not part), *said_of(shown, days, today.year)]]
    doors = [("Every rate", "--all")] if hidden else []
    return draw(Screen(head, (), groups, rest, doors, following), everything=everything)


def _no_rate(part: str, day: str) -> str:
    if part:
        return f"No pattern's bill names it as a supply, so there is no rate of it, {day}."
    return f"Nothing is learned yet, {day}: the sheets' figures stand. Book a session with `weekend book`."


_TO_LEARN = ("Sessions teach them", "kitdrawer weekend sheet --save saturday.xlsx")


def losses_screen(
    told: Sequence[tuple[LossLine, Interval]], material: str, today: date, *, everything: bool
) -> list[str]:
    """Pieces spoiled of what was worked; of one material, or of all, with those that were not."""
    shown = [(one, interval) for one, interval in told if material or everything or one.reached]
    day = show_day(today)
    if not shown and material:
        none = f"The sheets name no loss of it, and no session made anything of it, {day}."
        return draw(Screen(none, following=("What was learned", "kitdrawer losses")))
    if not shown:
        none = f"Nothing is learned yet, {day}: the sheets' figures stand. `losses MATERIAL` shows them."
        return draw(Screen(none, following=_TO_LEARN))
    columns = (
        Cells("Material"),
        Cells("Stage"),
        Cells("Sheet", right=True),
        Cells("Now", right=True),
        Cells("90 % range", right=True, folds=1),
        Cells("Spoiled", right=True, folds=2),
    )
    rows = [
        [
            one.material,
            one.stage,
            percent(one.prior),
            percent(one.estimate),
            "" if low == high else f"{_in_range(low)}–{_in_range(high)} %",
            f"{one.lost} of {one.reached}" if one.reached else "",
        ]
        for one, (low, high) in sorted(shown, key=lambda row: not row[0].lost)
    ]
    head = f"{_spoiled(shown, material)}, {day}."
    rest = "" if material or everything else "Materials not worked yet share what the others taught"
    doors = [] if material or everything else [("Those too", "--all")]
    listing = Listing(columns, rows, least=sum(1 for one, _ in shown if one.lost))
    following = ("How many to start", "kitdrawer plan")
    if not (material or everything):
        worst = max(shown, key=lambda one: one[0].lost)[0]
        following = ("Stage by stage", f"kitdrawer losses {pasted(worst.material)}")
    elif not any(one.reached for one, _ in shown):
        following = _TO_LEARN
    return draw(Screen(head, (), [[listing]], rest, doors, following), everything=everything)


def _in_range(share: Fraction) -> str:
    """A bound in per cent: whole from 10 on, below it to a tenth; finer says nothing of so few pieces."""
    shown = f"{100 * float(share):.{0 if share * 10 >= 1 else 1}f}"
    return shown.removesuffix(".0")


def _spoiled(shown: Sequence[tuple[LossLine, Interval]], material: str) -> str:
    """How many pieces were begun and how many of them spoiled."""
    begun: dict[str, int] = {}
    for one, _ in shown:
        begun[one.material] = max(begun.get(one.material, 0), one.reached)
    if not any(begun.values()):
        who = shown[0][0].material if material else "Every material"
        return f"{who}: no session worked it yet, the sheets' figures stand"
    lost = sum(one.lost for one, _ in shown)
    of = f"of {plural(sum(begun.values()), 'piece')} begun"
    return f"{shown[0][0].material if material else 'All that was worked'}: {lost} {of} spoiled"


def word_screen(
    title: str, on: date, told: LearnedChanges, lines: Sequence[RateLine], days: Mapping[int, date]
) -> list[str]:
    """A word said of a rate: what changes by it, and the supply's rates as they will be."""
    groups: list[Group] = [_changed(told, "No figure changes by it."), [rate_listing(lines, named=False)]]
    groups[1] = [*groups[1], *said_of(lines, days, on.year)]
    return draw(Screen(f"{days_in(title, on.year)}, {show_day(on)}.", (), groups, reserved=3))


def undo_screen(
    title: str, on: date, reversed_lines: int, told: LearnedChanges | None, *, everything: bool
) -> list[str]:
    """What is taken back, and what becomes of rates and losses. told: None where it taught nothing."""
    lines = f"; {plural(reversed_lines, 'line is', 'lines are')} reversed" if reversed_lines else ""
    groups = [] if told is None else [_changed(told, "Rates and losses stay as they are.")]
    head = f"{days_in(title, on.year)}, {show_day(on)}{lines}."
    return draw(Screen(head, (), groups, reserved=3), everything=everything)


def _changed(told: LearnedChanges, nothing: str) -> list[Block]:
    rows, small = told
    if not rows and not small:
        return [Sentence(nothing)]
    return [changes_listing(rows), Sentence(small)]
