"""Where a number comes from, for a person: what there is of a part, its latest lines, and its lots."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import Part
from inventory.cli.drawing.blocks import Block, Cells, Group, Listing, Screen, Sentence
from inventory.cli.drawing.draw import draw
from inventory.jobs.stock.tracing import Trace, TraceStep
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.costs import BY_OFFER, UNKNOWN
from inventory.measures import Currency, plural, show_amount, show_day, show_money
from inventory.measures.dates import days_in

STEPS_SHOWN, LOTS_SHOWN = 8, 4
"""Of the latest lines and of the lots next to be used so many are shown; the rest is left to `--all`."""
ACCOUNTS = {"shelf": "", "claim": " set aside", "due claim": " set aside of due in", "due": " due in"}
REASONS = {"claimed": "set aside"}
TELLING = ("set aside", "let go")
"""Reasons that say by themselves that the amount is set aside, not moved off the shelf."""


def trace_screen(
    answer: Trace, steps: Sequence[TraceStep], coin: Currency, *, everything: bool = False
) -> list[str]:
    """What there is, then how it came to that. steps: those asked for; everything: none of them is left out."""
    year = answer.free[0][0].year
    shown = steps if everything else steps[-STEPS_SHOWN:]
    earlier = len(steps) - len(shown)
    groups: list[Group] = [
        [
            Sentence(f"{plural(earlier, 'earlier line')}: --all" if earlier else ""),
            _table(shown, answer.part, coin, year) if steps else Sentence("Nothing was ever booked of it."),
        ],
        [Sentence(_left_out(answer)), Sentence(_free(answer, year))],
        _lots(answer, coin, year, everything=everything),
    ]
    return draw(Screen(_headline(answer, coin), groups=groups), everything=True)


def _headline(answer: Trace, coin: Currency) -> str:
    unit, balance = answer.part.unit, answer.balance
    said = [f"{show_amount(balance.on_hand, unit)} on hand"]
    said += [f"{show_amount(answer.off, unit)} out of date"] if answer.off else []
    said += [f"{show_amount(balance.claimed, unit)} set aside"] if balance.claimed else []
    said.append(f"{show_amount(answer.free[0][1], unit)} free")
    day = show_day(answer.free[0][0])
    return f"{answer.part.name} on {day}: {', '.join(said)}, worth {_worth(answer, coin)}."


def _worth(answer: Trace, coin: Currency) -> str:
    """What is known of it, and how much of it is not."""
    known = show_money(answer.worth, coin)
    if not answer.unknown:
        return known
    unknown = f"what {show_amount(answer.unknown, answer.part.unit)} of it cost is unknown"
    return f"{known}; {unknown}" if answer.worth else f"nobody knows what: {unknown}"


def _left_out(answer: Trace) -> str:
    if not answer.left_out:
        return ""
    lines = plural(answer.left_out, "line that was", "lines that were")
    return f"Left out: {lines} taken back (--all shows them)."


def _free(answer: Trace, year: int) -> str:
    """From which day how much can be promised, where that changes."""
    if len(answer.free) < 2:
        return ""
    (_, now), *later = answer.free
    unit = answer.part.unit
    told = [f"{show_amount(many, unit)} from {show_day(day, year)}" for day, many in later]
    return f"Free to promise: {', '.join([f'{show_amount(now, unit)} today', *told])}."


def _table(steps: Sequence[TraceStep], part: Part, coin: Currency, year: int) -> Listing:
    columns = (
        Cells("No.", right=True, folds=3),
        Cells("Day"),
        Cells("What"),
        Cells("In / out", right=True),
        Cells("On hand", right=True, folds=1),
        Cells("Set aside", right=True, folds=2),
        Cells("Cost", right=True, folds=4),
    )
    return Listing(columns, [_cells(step, part, coin, year) for step in steps])


def _cells(step: TraceStep, part: Part, coin: Currency, year: int) -> list[str]:
    reason = step.reason or step.kind
    reason = REASONS.get(reason, reason)
    what = f"{reason} for {step.order}" if step.order else f"{reason}: {step.title}"
    if step.reason == "undone":
        what = step.title
    sign = "+" if step.quantity > 0 else "−" if step.quantity < 0 else ""
    told = step.account == "claim" and reason in TELLING
    account = "" if told else ACCOUNTS.get(step.account, f" {step.account}")
    return [
        str(step.document),
        show_day(step.on, year),
        what,
        f"{sign}{show_amount(abs(step.quantity), part.unit)}{account}",
        show_amount(step.on_hand, part.unit),
        show_amount(step.claimed, part.unit) if step.claimed else "",
        show_money(step.cost, coin).replace("-", "−") if step.account == "shelf" else "",
    ]


def _lots(answer: Trace, coin: Currency, year: int, *, everything: bool) -> list[Block]:
    """What is left, in the order it is used in."""
    if not answer.lots:
        return []
    shown = answer.lots if everything else answer.lots[:LOTS_SHOWN]
    columns = (
        Cells("Lots left, first in first"),
        Cells("Left", right=True),
        Cells("Cost", right=True, folds=1),
        Cells("Received", folds=2),
        Cells("Best before", folds=3),
    )
    more = len(answer.lots) - len(shown)
    rows = [_lot(answer.part, lot, coin, year) for lot in shown]
    return [Listing(columns, rows), Sentence(f"and {plural(more, 'more lot')}: --all" if more else "")]


def _lot(part: Part, lot: Lot, coin: Currency, year: int) -> list[str]:
    last = use_by(part, lot)
    return [
        days_in(called(lot), year),
        show_amount(lot.quantity, part.unit),
        _lot_cost(lot, coin),
        show_day(lot.received_on, year) if lot.received_on else "",
        show_day(last, year) if last else "",
    ]


def _lot_cost(lot: Lot, coin: Currency) -> str:
    known = "cost unknown" if lot.cost_from == UNKNOWN else show_money(lot.cost, coin)
    return f"{known} by the offer" if lot.cost_from == BY_OFFER else known
