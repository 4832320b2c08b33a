"""Where a supply's rates come from, as `trace` shows it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.catalogue import Part, Supply, fold
from inventory.cli.json.exact import Value
from inventory.cli.screens.learned import figure, rate_table
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.learning.report import RateLine, rate_lines
from inventory.jobs.learning.use_by_session import SessionUse, session_uses
from inventory.ledger.sessions import UNREAD
from inventory.measures import show_amount, show_date

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


def rates_screen(part: Part, rates: Sequence[RateLine], uses: Sequence[SessionUse]) -> list[str]:
    """The rates, and the sessions they were learned from."""
    lines: list[str] = []
    if rates:
        lines += ["", "Rates:", *rate_table(rates, {one.document: one.on for one in uses}, named=False)]
    if uses:
        lines += [
            "",
            *wrapped(
                f"Sessions behind them, in {_many(part.unit)}: the sheet's rates, those of now, the truth."
            ),
        ]
        columns = (
            Column("No.", right=True),
            Column("Day"),
            Column("Sheet", right=True),
            Column("Now", right=True),
            Column("Used", right=True),
            Column("±", right=True),
            Column("How", gives=True),
        )
        rows = [
            [
                str(one.document),
                show_date(one.on),
                figure(one.expected),
                figure(one.now),
                f"−{figure(-one.used)}" if one.used < 0 else figure(one.used),
                figure(one.error),
                _how(one),
            ]
            for one in uses
        ]
        lines += table(columns, rows)
    return lines


def _how(one: SessionUse) -> str:
    said = [one.way, *([f"of {one.sessions} sessions"] if one.sessions > 1 else [])]
    return ", ".join([*said, *([] if one.standing == "counts" else [one.standing])])


def _many(unit: str) -> str:
    """The unit as of many: ml, strips; pieces have no name of their own."""
    return show_amount(2000, unit).partition(" ")[2] or "pieces"
