"""Where a supply's rates come from, as `trace` shows it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.catalogue import Part, Supply, fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Sentence
from inventory.cli.json.exact import Value
from inventory.cli.screens.learned import figure, rate_listing, said_of, with_unit
from inventory.jobs.learning.report import RateLine, rate_lines
from inventory.jobs.learning.use_by_session import SessionUse, session_uses
from inventory.ledger.sessions import UNREAD
from inventory.measures import plural, show_amount, show_day

if TYPE_CHECKING:
    from inventory.store import Read


def learned_of(read: Read, part: Part) -> tuple[Sequence[RateLine], Sequence[SessionUse]]:
    """The rates of a supply, and what its sessions used; nothing where no session measured it and nobody held it."""
    if not isinstance(part.detail, Supply):
        return (), ()
    key = fold(part.name)
    happened, learned = read.happened(), read.learned()
    measured = any(
        fold(seen.part) == key and seen.way not in UNREAD for one in happened for seen in one.observed
    )
    if not measured and not any(fold(one.part) == key for one in learned.rates):
        return (), ()
    written = read.written()
    uses = session_uses(written, happened, read.rate_words(), learned, part.name)
    return rate_lines(written, learned, part.name), uses


def use_json(one: SessionUse) -> dict[str, Value]:
    """One session's use for programs, in the part's unit."""
    return {
        "document": one.document,
        "on": one.on,
        "way": one.way,
        "expected": round(float(one.expected), 6),
        "now": round(float(one.now), 6),
        "used": float(one.used),
        "error": float(one.error),
        "standing": one.standing,
        "sessions": one.sessions,
    }


def rates_in_short(rates: Sequence[RateLine]) -> list[Block]:
    """A line for each rate: the sheet's figure, what it is now, from how many sessions."""
    said = [
        f"per {one.per} {figure(one.prior)} → {with_unit(one.estimate, one.part.unit)}, "
        f"{'held' if one.pinned else plural(one.sessions, 'session')}"
        for one in rates
        if one.pinned or one.sessions
    ]
    return [Fact("Rates", f"{'; '.join(said)}: --all" if said else "")]


def rates_in_full(
    part: Part, rates: Sequence[RateLine], uses: Sequence[SessionUse], year: int
) -> list[Group]:
    """The rates, and the sessions they were learned from."""
    groups: list[Group] = []
    if rates:
        days = {one.document: one.on for one in uses}
        groups.append([rate_listing(rates, named=False), *said_of(rates, days, year)])
    if uses:
        told = f"Sessions behind them, in {_many(part.unit)}: the sheet's rates, those of now, the truth."
        columns = (
            Cells("No.", right=True),
            Cells("Day"),
            Cells("Sheet", right=True),
            Cells("Now", right=True),
            Cells("Used", right=True),
            Cells("±", right=True),
            Cells("How", folds=1),
        )
        rows = [
            [
                str(one.document),
                show_day(one.on, year),
                figure(one.expected),
                figure(one.now),
                f"−{figure(-one.used)}" if one.used < 0 else figure(one.used),
                figure(one.error),
                _how(one),
            ]
            for one in uses
        ]
        groups.append([Sentence(told), Listing(columns, rows)])
    return groups


def _how(one: SessionUse) -> str:
    said = [one.way, *([f"of {one.sessions} sessions"] if one.sessions > 1 else [])]
    return ", ".join([*said, *([] if one.standing == "counts" else [one.standing])])


def _many(unit: str) -> str:
    """The unit as of many: ml, strips; pieces have no name of their own."""
    return show_amount(2000, unit).partition(" ")[2] or "pieces"
