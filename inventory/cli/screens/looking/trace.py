"""Where a number comes from, for a person: what there is of a part, its latest lines, and its lots."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from inventory.catalogue import Part
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen, Sentence
from inventory.cli.drawing.draw import LINES, PAGE, draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.trace_rates import rates_in_full, rates_in_short
from inventory.jobs.learning.report import RateLine
from inventory.jobs.learning.use_by_session import SessionUse
from inventory.jobs.stock.tracing import Trace, TraceStep
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.costs import BY_OFFER, UNKNOWN
from inventory.measures import Currency, plural, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in

STEPS_SHOWN, LEAST_SHOWN, LOTS_SHOWN = 8, 3, 4
"""Of the latest lines at most and at least so many are shown, as the page has room, and of the lots next to be used."""
ACCOUNTS = {"shelf": "", "claim": " set aside", "due claim": " set aside of due in", "due": " due in"}
REASONS = {"claimed": "set aside"}
TELLING = ("set aside", "let go")
"""Reasons that say by themselves that the amount is set aside, not moved off the shelf."""


@dataclass(frozen=True, slots=True)
class Taught:
    """What sessions say of a supply, and which of its figures are usual ones."""

    rates: Sequence[RateLine] = ()
    uses: Sequence[SessionUse] = ()
    usual: str = ""


def trace_screen(
    answer: Trace,
    steps: Sequence[TraceStep],
    coin: Currency,
    learned: Taught = Taught(),
    *,
    everything: bool = False,
) -> list[str]:
    """What there is, then how it came to that; a page of its latest lines. everything: none is left out."""
    if everything:
        return draw(_screen(answer, steps, coin, learned, len(steps), everything=True), everything=True)
    for many in range(STEPS_SHOWN, LEAST_SHOWN - 1, -1):
        screen = _screen(answer, steps, coin, learned, many, everything=False)
        if len(draw(screen, PAGE, everything=True)) <= LINES:
            break
    return draw(screen, everything=True)


def _screen(
    answer: Trace,
    steps: Sequence[TraceStep],
    coin: Currency,
    learned: Taught,
    many: int,
    *,
    everything: bool,
) -> Screen:
    year = answer.free[0][0].year
    shown = steps[-many:] if many else steps
    earlier = len(steps) - len(shown)
    show: Show = show_amount if everything else _as_measured
    table: Block = Sentence("Nothing was ever booked of it.")
    if steps:
        table = _table(shown, answer.part, coin, year, show)
    groups: list[Group] = [
        [Sentence(f"{plural(earlier, 'earlier line')}: --all" if earlier else ""), table],
        [Sentence(_left_out(answer)), Sentence(_free(answer, year, show))],
        _lots(answer, coin, year, show, everything=everything),
    ]
    if everything:
        groups += [*rates_in_full(answer.part, learned.rates, learned.uses, year), [Sentence(learned.usual)]]
    else:
        usual = learned.usual.partition(": ")[2]
        groups.append([*rates_in_short(learned.rates), Fact("Usual", usual and f"not your own: {usual}")])
    head = _headline(answer, coin, show_amount if everything else _there)
    return Screen(head, groups=groups, following=_following(answer, shown))


def _following(answer: Trace, shown: Sequence[TraceStep]) -> tuple[str, str]:
    """What promises lack is bought; else the entries behind its lines, or the count of what has none."""
    if answer.balance.to_buy:
        return "Buy", "kitdrawer shopping"
    if not shown:
        return "Count it", "kitdrawer count sheet --save count.xlsx"
    return "Its entries", f"kitdrawer entries {pasted(answer.part.name)}"


Show = Callable[[int, str], str]
"""How an amount is written: to the thousandth, or as a hand measures it."""


def _as_measured(quantity: int, unit: str) -> str:
    """To the nearest whole unit, so that what came and went adds up; parts of one as they are."""
    return show_amount(quantity if quantity < 1000 else (quantity + 500) // 1000 * 1000, unit)


def _there(quantity: int, unit: str) -> str:
    """What is there, never more than there is: as the shelf says it."""
    return show_measurable(quantity, unit, down=True)


def _headline(answer: Trace, coin: Currency, show: Show) -> str:
    unit, balance = answer.part.unit, answer.balance
    said = [f"{show(balance.on_hand, unit)} on hand"]
    said += [f"{show(answer.off, unit)} out of date"] if answer.off else []
    aside = show_measurable if show is _there else show
    said += [f"{aside(balance.claimed, unit)} set aside"] if balance.claimed else []
    said.append(f"{show(answer.free[0][1], unit)} free")
    day = show_day(answer.free[0][0])
    return f"{answer.part.name}, {day}: {', '.join(said)}, worth {_worth(answer, coin)}."


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


def _free(answer: Trace, year: int, show: Show) -> str:
    """From which day how much can be promised, where that changes."""
    if len(answer.free) < 2:
        return ""
    (_, now), *later = answer.free
    unit = answer.part.unit
    told = [f"{show(many, unit)} from {show_day(day, year)}" for day, many in later]
    return f"Free to promise: {', '.join([f'{show(now, unit)} today', *told])}."


def _table(steps: Sequence[TraceStep], part: Part, coin: Currency, year: int, show: Show) -> Listing:
    columns = (
        Cells("No.", right=True, folds=4),
        Cells("Day"),
        Cells("What"),
        Cells("In / out", right=True, folds=1),
        Cells("On hand", right=True, folds=2),
        Cells("Set aside", right=True, folds=3),
        Cells("Cost", right=True, folds=5),
    )
    return Listing(columns, [_cells(step, part, coin, year, show) for step in steps])


def _cells(step: TraceStep, part: Part, coin: Currency, year: int, show: Show) -> list[str]:
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
        f"{sign}{show(abs(step.quantity), part.unit)}{account}",
        show(step.on_hand, part.unit),
        show(step.claimed, part.unit) if step.claimed else "",
        show_money(step.cost, coin).replace("-", "−") if step.account == "shelf" else "",
    ]


def _lots(answer: Trace, coin: Currency, year: int, show: Show, *, everything: bool) -> list[Block]:
    """What is left, in the order it is used in."""
    if not answer.lots:
        return []
    shown = answer.lots if everything else answer.lots[:LOTS_SHOWN]
    columns = (
        Cells("Next lot used"),
        Cells("Left", right=True),
        Cells("Cost", right=True, folds=1),
        Cells("Received", folds=2),
        Cells("Best before", folds=3),
    )
    more = len(answer.lots) - len(shown)
    rows = [_lot(answer.part, lot, coin, year, show) for lot in shown]
    return [Listing(columns, rows), Sentence(f"and {plural(more, 'more lot')}: --all" if more else "")]


def _lot(part: Part, lot: Lot, coin: Currency, year: int, show: Show) -> list[str]:
    last = use_by(part, lot)
    return [
        days_in(called(lot), year),
        show(lot.quantity, part.unit),
        _lot_cost(lot, coin),
        show_day(lot.received_on, year) if lot.received_on else "",
        show_day(last, year) if last else "",
    ]


def _lot_cost(lot: Lot, coin: Currency) -> str:
    known = "cost unknown" if lot.cost_from == UNKNOWN else show_money(lot.cost, coin)
    return f"{known} by the offer" if lot.cost_from == BY_OFFER else known
