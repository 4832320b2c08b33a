"""What goes onto the sheet of a planned session: its pieces, bottles to weigh, strips to note, a few parts to count."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from inventory.catalogue import STAGES, Supply, fold, whom
from inventory.catalogue.hazards import evaporates
from inventory.catalogue.safety import Safety
from inventory.errors import Refused
from inventory.jobs.orders.usual_values import said_usual, usual_values
from inventory.jobs.sessions.bench_lines import bench_lines, lengths, parts_by_order, tenths
from inventory.jobs.sessions.cut_plan import CutReport, Cutting, cut_together
from inventory.jobs.sessions.plan_rows import PlannedSession, PlannedStarts, PlanRow, good_of, part_of
from inventory.jobs.sessions.planning import promised_row
from inventory.jobs.sessions.safety import making_safety
from inventory.jobs.sessions.session_needs import Together, together
from inventory.ledger.bottles.containers import called, full_and_open
from inventory.ledger.bottles.shelf_life import gone_off, use_by
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Session
from inventory.ledger.shop import Shop
from inventory.making.bom import stages_of
from inventory.measures import show_amount, show_measurable, show_mm
from inventory.reports.session_sheet import (
    BottleRow,
    CountRow,
    PlannedBlanks,
    PlannedPieces,
    SessionSheet,
    UseRow,
)

NOTED = frozenset({"abrasive", "sundry"})
NOT_AT_THE_BENCH = ("The price of", "All pieces in", "Do not take")
"""Cautions that are said when the order is taken, or beside the tool."""


def planned_again(shop: Shop, session: Session, sessions: Sequence[Session] = ()) -> PlannedSession:
    """A session in the book as it stands now: every row worked out from what its order has set aside.

    sessions: all of the book; of an order with several planned ones each takes its part, the earlier first.
    """
    before = PlannedStarts.of(
        one for one in sessions if one.state == "planned" and _comes_before(one, session)
    )
    rows = []
    for row in session.rows:
        order = shop.book.orders[fold(row.order)]
        if order.state == "promised":
            now = promised_row(shop, order)
            so_far = before.starts[fold(order.name)]
            wanted = good_of(now, so_far + row.starts) - good_of(now, so_far)
            rows.append(part_of(now, row.starts, wanted))
    return PlannedSession(session.name, session.on, tuple(rows))


def _comes_before(one: Session, other: Session) -> bool:
    return (one.on, one.number) < (other.on, other.number)


def session_named(sessions: Sequence[Session], name: str) -> Session:
    """The planned session of a name, or the only one where none is said."""
    open_ones = [one for one in sessions if one.state == "planned"]
    named = [one for one in sessions if fold(one.name) == fold(name)]
    if name and named and named[-1].state == "planned":
        return named[-1]
    if name and named:
        raise Refused(
            f"The session of {named[-1].name} is {'booked' if named[-1].state == 'booked' else 'given up'}.",
            hint=_known(open_ones),
        )
    if name:
        raise Refused(f"No session is called “{name}”.", hint=_known(open_ones))
    if len(open_ones) == 1:
        return open_ones[0]
    if open_ones:
        raise Refused("Which session?", hint=_known(open_ones))
    raise Refused("No session is planned.", hint="Plan one first: `kitdrawer plan --on DATE`.")


def _known(open_ones: Sequence[Session]) -> str:
    names = ", ".join(one.name for one in open_ones)
    return f"Planned are: {names}." if names else "Plan one with `kitdrawer plan --on DATE`."


def session_sheet(
    shop: Shop,
    session: Session,
    mark: str,
    learned: LearnedFigures,
    counts: Iterable[CountRow] = (),
    sessions: Sequence[Session] = (),
) -> SessionSheet:
    """The sheet of one session. counts: parts worth counting beside it; sessions: all of the book."""
    planned = planned_again(shop, session, sessions)
    cuts = cut_together(shop, planned.rows)
    needs = together(shop, planned.rows, learned, cuts)
    bottles = tuple(row for one in needs for row in _bottles(shop, one))
    weighed = {fold(row.part) for row in bottles}
    uses = tuple(
        UseRow(one.part.name, one.part.unit, round(one.mean))
        for one in needs
        if isinstance(one.part.detail, Supply)
        and fold(one.part.detail.type) in NOTED
        and fold(one.part.name) not in weighed
    )
    noted = weighed | {fold(row.part) for row in uses}
    numbers = {fold(row.order): number for number, row in enumerate(session.rows, 1)}
    return SessionSheet(
        mark,
        session.number,
        session.document,
        session.name,
        session.on,
        tuple(_piece(shop, numbers[fold(row.order.name)], row) for row in planned.rows),
        bottles,
        uses,
        tuple(row for row in counts if fold(row.part) not in noted),
        tuple(setup_lines(planned.rows, needs, show_measurable)),
        (*cautions(planned.rows), *_usual(shop, planned.rows)),
        tuple(_blank_rows(cuts)),
        session_safety(shop, planned.rows),
        bench=tuple(bench_lines(shop, planned.rows, needs)),
        by_order=tuple(parts_by_order(planned.rows)),
        kerf=tenths(shop.kerf),
        check_first=(*at_the_bench(cautions(planned.rows)), *_usual(shop, planned.rows)),
    )


def _usual(shop: Shop, rows: Sequence[PlanRow]) -> Iterable[str]:
    """What of the session rests on figures nobody of the shop said."""
    if said := said_usual(usual_values(shop, [row.report for row in rows])):
        yield said


def _blank_rows(cuts: CutReport) -> Iterable[PlannedBlanks]:
    """A row for each kind of blank and each measured one, with what the plan cuts from it."""
    several: dict[tuple[str, int | None], list[Cutting]] = {}
    for cut in cuts.every:
        several.setdefault((cut.part.name, cut.lot), []).append(cut)
    for (part, lot), same in several.items():
        words = "; ".join(said_of(cut) for cut in same)
        yield PlannedBlanks(part, sum(cut.blanks for cut in same), words, lot or 0, same[0].name)


def said_of(cut: Cutting) -> str:
    """One way of cutting in words: pieces for whom, and what is left over."""
    pieces = " and ".join(f"{many} for {whom(order)}" for order, many in cut.pieces)
    over = f", {show_mm(cut.offcut)} left over" if cut.offcut is not None else ""
    return f"{f'{cut.blanks} × ' if cut.blanks > 1 else ''}{pieces}{over}"


def _piece(shop: Shop, number: int, row: PlanRow) -> PlannedPieces:
    order, report = row.order, row.report
    return PlannedPieces(
        number,
        order.name,
        report.resolved.pattern.name,
        report.plan.plating,
        report.plan.kit.name,
        report.resolved.blank.name,
        row.starts,
        row.wanted,
        stages_of(shop.catalogue, report.resolved.pattern),
        order.refill or "",
        order.extra_diameter,
        order.customer,
        order.due,
        lengths(row),
    )


def _bottles(shop: Shop, one: Together) -> Iterable[BottleRow]:
    detail = one.part.detail
    if not isinstance(detail, Supply) or detail.tare is None:
        return
    density = Fraction(1) if one.part.unit == "g" else detail.density
    if density is None:
        return
    idle = set(_idle(shop, one))
    for lot in shop.book.lots_of(one.part.name):
        full, inside = full_and_open(one.part, lot)
        yield BottleRow(
            *(
                one.part.name,
                lot.id,
                called(lot),
                one.part.unit,
                lot.quantity,
                detail.tare,
                density,
                lot.opened_on,
            ),
            use_by=use_by(one.part, lot),
            several=full + bool(inside) > 1,
            before=evaporates(detail),
            idle=lot.id in idle,
        )


def _idle(shop: Shop, one: Together) -> Iterable[int]:
    """Lots the session hardly touches: out of date, or sealed while the open ones hold what it needs."""
    left = one.total
    for lot in sorted(shop.book.lots_of(one.part.name), key=lambda lot: lot.opened_on is None):
        past = gone_off(one.part, lot, shop.today)
        if past or (left <= 0 and lot.opened_on is None):
            yield lot.id
        left -= 0 if past else lot.quantity


def setup_lines(
    rows: Sequence[PlanRow], needs: Iterable[Together], show: Callable[[int, str], str] = show_amount
) -> Iterable[tuple[str, str]]:
    """Tools and parts in working order, each with its stage. show: how amounts are written."""
    by_stage: dict[str, dict[str, None]] = {stage: {} for stage in STAGES}
    for row in rows:
        for tool in row.report.plan.tools:
            there = "" if tool.there or not row.report.plan.tools_in_book else " (missing)"
            by_stage[tool.stage][f"{tool.part or tool.what}{there}"] = None
    for one in needs:
        for stage, quantity in one.need.items():
            if quantity:
                by_stage[stage][f"{one.part.name}: {show(quantity, one.part.unit)}"] = None
    for stage, things in by_stage.items():
        for thing in things:
            yield stage, thing


def cautions(rows: Sequence[PlanRow]) -> tuple[str, ...]:
    """What the orders ask to mind, each sentence once."""
    return tuple(dict.fromkeys(sentence for row in rows for sentence in row.report.cautions))


def at_the_bench(said: Iterable[str]) -> Iterable[str]:
    """Of the cautions those to be looked at before the work: not of money, nor of drills, which their list says."""
    return (one for one in said if not one.startswith(NOT_AT_THE_BENCH))


def session_safety(shop: Shop, rows: Sequence[PlanRow]) -> Safety:
    """What can hurt in a session, each statement once."""
    return making_safety(shop, [(row.report.resolved, row.report.plan) for row in rows])
