"""Planning making sessions: which promised orders and stall pieces are made when, and what that sets aside.

Orders go by their due day into the first session that still has the hours, whole pieces, so that an order may be
shared out over several (see `sharing`); what finds no room is said, with the next evenings that have it.
What the stall is to get becomes orders of its own, whose parts are set aside like anybody's.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from string import ascii_lowercase

from inventory.catalogue import STALL, Order, OrderState, fold, only, state_called
from inventory.errors import BadInput, Refused
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.orders.reserving import promised_request, without_claims
from inventory.jobs.sessions.plan_rows import PlannedSession, PlannedStarts, PlanRow, part_of
from inventory.jobs.sessions.planned_blanks import blanks_for_the_stall, without_blanks
from inventory.jobs.sessions.sharing import Parts, Room, evening_words, notes_of, room_for, shared
from inventory.jobs.stock.drawing import shop_of
from inventory.ledger import Line, Proposal
from inventory.ledger.availability import off_in
from inventory.ledger.claims import let_go, settle
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.sessions import Planned, Session
from inventory.ledger.shop import Shop

LETTERS = (*ascii_lowercase, *(a + b for a in ascii_lowercase for b in ascii_lowercase))
"""What tells apart things of one day: a, b, … z, aa, ab …"""


@dataclass(frozen=True, slots=True)
class PlanReport:
    """The proposed document and what it stands for. shop: as the document leaves it; notes: what was left out, why."""

    shop: Shop
    proposal: Proposal
    sessions: tuple[PlannedSession, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """What is to be planned. orders: names of promised ones, none for all; stall: requests; hours: a session, or None.

    days: none for the usual evenings until `until` (None: as many as it takes), or today where no hours are known.
    anew: give up the sessions that are planned and not booked, and plan again.
    """

    days: tuple[date, ...]
    orders: tuple[str, ...] = ()
    stall: tuple[OrderRequest, ...] = ()
    hours: float | None = None
    anew: bool = False
    confidence: float = 0.9
    until: date | None = None


def plan(shop: Shop, sessions: Sequence[Session], ask: Ask) -> PlanReport:
    """The document that plans the sessions. Raises Refused where there is nothing to plan, BadInput for bad days."""
    draft = Draft(shop.book)
    open_ones = [one for one in sessions if one.state == "planned"]
    dropped = open_ones if ask.anew else []
    kept = [] if ask.anew else open_ones
    room = room_for(shop, _days(shop, ask), ask.until, ask.hours, kept)
    released = _give_up(shop, draft, dropped)
    notes: list[str] = [f"The session of {one.name} is given up." for one in dropped]
    begun = PlannedStarts.of(kept)
    rows = [*_promised(shop_of(shop, draft), ask, kept, begun, notes)]
    orders: list[Order] = []
    names = {fold(name) for name in shop.book.orders}
    for request in ask.stall:
        rows.append(_add_for_the_stall(shop, draft, _stall_order(request, room.days[0], names), request))
        orders.append(rows[-1].order)
    every, proven = shared(shop, rows, room, begun)
    planned = _sessions(every, room, sessions)
    notes += _share_notes(every, room, proven=proven)
    if not planned:
        raise Refused(
            "There is nothing to plan." + "".join(f" {note}" for note in notes),
            hint='Promise an order, or name pieces for the stall: --stall "Dunlin pen, chrome, walnut blank, 3".',
        )
    fitting = _fitting(ask.stall, orders, every, room)
    if fitting != ask.stall:  # nothing may be set aside for pieces nobody will make
        rest = plan(shop, sessions, replace(ask, stall=fitting))
        return replace(rest, notes=tuple(dict.fromkeys((*rest.notes, *notes))))
    for one in planned:
        draft.add(blanks_for_the_stall(shop_of(shop, draft), one.rows))
    states: list[tuple[str, OrderState]] = [*released, *((order.name, "promised") for order in orders)]
    proposal = _proposal(shop, draft, planned, orders, states, dropped)
    return PlanReport(shop_of(shop, draft), proposal, planned, tuple(notes))


def _proposal(
    shop: Shop,
    draft: Draft,
    planned: Sequence[PlannedSession],
    orders: Iterable[Order],
    states: Iterable[tuple[str, OrderState]],
    dropped: Iterable[Session],
) -> Proposal:
    return Proposal(
        "plan",
        f"Plan {', '.join(one.name for one in planned)}",
        shop.today,
        lines=tuple(draft.lines),
        orders=tuple(orders),
        order_states=tuple(states),
        expected_version=shop.book.version,
        sessions=tuple(
            Session(
                one.name,
                one.on,
                tuple(Planned(r.order.name, r.report.plan.kit.name, r.starts) for r in one.rows),
            )
            for one in planned
        ),
        session_states=tuple((one.number, "dropped") for one in dropped),
    )


def _days(shop: Shop, ask: Ask) -> tuple[date, ...]:
    done = tuple(sorted(set(ask.days)))
    first = min((*done, *([ask.until] if ask.until else [])), default=shop.today)
    if first < shop.today:
        raise BadInput(
            f"{first} is past; today is {shop.today}.", hint=f"Write --on {shop.today}, or a later day."
        )
    return done


def _give_up(shop: Shop, draft: Draft, dropped: Iterable[Session]) -> list[tuple[str, OrderState]]:
    """Stall orders of sessions that are given up are released; promised orders keep what is theirs."""
    states: list[tuple[str, OrderState]] = []
    for session in dropped:
        for row in session.rows:
            order = draft.book.orders.get(fold(row.order))
            if order is not None and order.customer == STALL and order.state == "promised":
                ends = let_go(draft.book, order.name)
                draft.add(ends)
                parts = {line.part: draft.book.balance(line.part).on_hand for line in ends}
                draft.add(settle(draft.book, parts, off=off_in(draft.book, shop.catalogue.parts, shop.today)))
                states.append((order.name, "released"))
    return states


def _promised(
    shop: Shop, ask: Ask, kept: Sequence[Session], begun: PlannedStarts, notes: list[str]
) -> Iterable[PlanRow]:
    """A row for each promised order that has pieces to make which no session is planned for, earliest due first."""
    taken = {fold(row.order): one.name for one in kept for row in one.rows}
    wanted = {fold(name) for name in ask.orders}
    for name in ask.orders:
        known = shop.book.orders.get(fold(name))
        if known is None or known.state != "promised":
            said = (
                "is not in the book"
                if known is None
                else f"is not promised: it is {state_called(known.state)}"
            )
            raise Refused(f"The order “{name}” {said}.", hint="`orders` shows them; promise it first.")
    every = sorted(shop.book.orders.values(), key=lambda one: (one.due, one.name))
    promised = [one for one in every if one.state == "promised" and one.customer != STALL]
    if not ask.orders and ask.stall:
        if waiting := [one.name for one in promised if fold(one.name) not in taken]:
            notes.append(
                f"For the stall alone. Promised, and planned too if you name them: {', '.join(waiting)}."
            )
        return
    for order in promised:
        if wanted and fold(order.name) not in wanted:
            continue
        row = promised_row(shop, order, ask.confidence)
        if fold(order.name) in taken and row.starts <= begun.starts[fold(order.name)]:
            notes.append(f"{order.name} is planned already, for {taken[fold(order.name)]}.")
        elif row.starts:
            yield row
        else:
            notes.append(f"{order.name} is finished: `handed-over {order.name}`.")


def promised_row(shop: Shop, order: Order, confidence: float = 0.9) -> PlanRow:
    """What is still to be made for a promised order, with its own claims to draw on."""
    request = promised_request(shop, order, confidence)
    return row_of(order, check(without_claims(shop, order.name), request))


def row_of(order: Order, report: OrderReport) -> PlanRow:
    """The row an answer stands for."""
    finished = sum(need.need for need in report.plan.parts if need.role == "finished") // 1000
    starts = report.starts
    minutes = starts * report.price.minutes
    return PlanRow(order, report, starts, order.count - finished, minutes, report.price.setting_up)


def _stall_order(request: OrderRequest, day: date, names: set[str]) -> Order:
    name = next(f"stall {day} {x}" for x in LETTERS if fold(f"stall {day} {x}") not in names)
    names.add(fold(name))
    return Order(
        name,
        request.pattern,
        request.blank,
        request.count,
        request.due,
        request.platings,
        STALL,
        request.refill,
        request.extra_diameter,
    )


def _for_the_stall(shop: Shop, order: Order, request: OrderRequest) -> tuple[PlanRow, tuple[Line, ...]]:
    """Pieces to be made whatever is finished already: the stall wants more of them.

    Their blanks are set aside once the whole session's cut plan is known.
    """
    report = check(without_pieces(shop), replace(request, order=order.name))
    resolved = report.resolved
    if report.verdict == "cannot":
        raise Refused(
            f"{request.count} × {resolved.pattern.name} cannot be made for the stall.",
            hint=" ".join(report.why),
        )
    order = replace(
        order, pattern=resolved.pattern.name, blank=resolved.blank.name, platings=(report.plan.plating,)
    )
    lines = without_blanks(promise(shop, order, report).lines, resolved.blank.name)
    return row_of(order, report), lines


def _add_for_the_stall(shop: Shop, draft: Draft, order: Order, request: OrderRequest) -> PlanRow:
    row, lines = _for_the_stall(shop_of(shop, draft), order, request)
    draft.add(lines)
    return row


def without_pieces(shop: Shop) -> Shop:
    """The shop as if no finished pieces were there."""
    kept = only(shop.catalogue.parts, lambda part: part.kind != "piece")
    return replace(shop, catalogue=replace(shop.catalogue, parts=kept))


def _sessions(every: Iterable[Parts], room: Room, known: Sequence[Session]) -> tuple[PlannedSession, ...]:
    """The evenings that are planned on which anything is made."""
    load: dict[date, list[PlanRow]] = {day: [] for day in room.days}
    for one in every:
        for day, starts, wanted in one.on:
            if day in load:
                load[day].append(part_of(one.row, starts, wanted))
    names = {one.name for one in known}
    return tuple(
        PlannedSession(session_name(day, names), day, tuple(rows)) for day, rows in load.items() if rows
    )


def _share_notes(every: Iterable[Parts], room: Room, *, proven: bool) -> Iterable[str]:
    for one in every:
        yield from notes_of(one, room)
    for day in room.unsaid:
        yield f"No hours are known of {evening_words(day)}; --hours says how long it is."
    if not proven:
        yield "With another way to share the pieces out fewer may be late; the search was stopped."


def _fitting(
    stall: tuple[OrderRequest, ...], orders: Sequence[Order], every: Iterable[Parts], room: Room
) -> tuple[OrderRequest, ...]:
    """The stall's requests with as many pieces as find room in the sessions planned."""
    good: dict[str, int] = {}
    for one in every:
        good[one.row.order.name] = sum(wanted for day, _, wanted in one.on if day in room.minutes)
    counts = [good[order.name] for order in orders]
    return tuple(
        one if many == one.count else replace(one, count=many)
        for one, many in zip(stall, counts, strict=True)
        if many
    )


def session_name(day: date, known: set[str]) -> str:
    """The day, with a letter where a session of that day was planned before."""
    plain = str(day)
    name = next(n for n in (plain, *(f"{plain} {x}" for x in LETTERS)) if n not in known)
    known.add(name)
    return name
