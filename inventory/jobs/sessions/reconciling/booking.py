"""After a making session: the filled sheet becomes one document, shown before it is booked.

What the session's orders had set aside is let go; every piece draws its bill up to the stage it reached; good pieces
become finished ones; what was weighed and counted brings the book in step with the bench; what is still to be made
for a promise is set aside anew; what is over goes to those who wait. Then the rates and losses are learned again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from inventory.catalogue import STALL, Catalogue, Order, OrderState, fold, over
from inventory.errors import AlreadyBooked, KitdrawerError, Refused
from inventory.jobs.orders.handing_over import held_plan, with_own_blanks
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import setting_aside
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.orders.reserving import promised_request, without_claims
from inventory.jobs.sessions.blanks_used import blanks_taken
from inventory.jobs.sessions.reconciling.bills_drawn import (
    DrawnTally,
    Share,
    Work,
    draw_rows,
    expected,
    once,
    scaled,
    shares_of,
)
from inventory.jobs.sessions.reconciling.measured import (
    Checked,
    Measures,
    beside_the_bills,
    bring_more,
    by_the_bill,
    counts_of,
    measures_of,
    observed,
)
from inventory.jobs.sessions.reconciling.notes import about_notes, notes_of, title_of
from inventory.jobs.sessions.reconciling.piece_rows import Made, orders_of, rows_of
from inventory.jobs.sessions.reconciling.reasons import verdict_of
from inventory.jobs.stock.drawing import opened_words, shop_of
from inventory.ledger import Proposal
from inventory.ledger.availability import off_for, off_in
from inventory.ledger.claims import claims_of, let_go, settle
from inventory.ledger.counting.differences import book_counts
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.documents.proposal import fingerprint
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Observed, Outcome, Session
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledSession
from inventory.reports.session_report import SessionDifference

if TYPE_CHECKING:
    from inventory.jobs.differences.reasons import BookMemory


@dataclass(frozen=True, slots=True)
class SessionBooking:
    """The proposed document and what it comes from. shop: as the document leaves it; before: as it was.

    checked: parts weighed, written down or counted; differences: those not as expected, with reasons; expected: what
    the bills asked of each part, by folded name; unseen: what they drew of a part in earlier sessions of which this
    one's reading tells too.
    """

    before: Shop
    shop: Shop
    session: Session
    proposal: Proposal
    made: tuple[Made, ...]
    tally: DrawnTally
    checked: tuple[Checked, ...]
    differences: tuple[SessionDifference, ...]
    expected: Counter[str]
    announced: tuple[str, ...]
    unseen: Counter[str]
    notes: tuple[str, ...] = ()


def session_of(sessions: Sequence[Session], filled: FilledSession, mark: str) -> Session:
    """The session a sheet is of. Raises Refused for sheets of another book, of an older plan or of a booked session."""
    if filled.mark and filled.mark != mark:
        raise Refused(
            "This sheet is of another book.",
            hint="Book it there (--store), or make a new one: `weekend sheet`.",
        )
    known = next((one for one in sessions if one.number == filled.session), None)
    if filled.session and known is None:
        raise Refused(
            f"The book has no session number {filled.session}.",
            hint="The plan was made in another book; make a new sheet with `weekend sheet`.",
        )
    if known is None:
        open_ones = [one for one in sessions if one.state == "planned"]
        if len(open_ones) != 1:
            raise Refused(
                "The sheet does not say which session it is of.",
                hint="Keep its session tab, or say --session NAME.",
            )
        known = open_ones[0]
    if known.state == "booked":
        raise AlreadyBooked(
            f"The session of {known.name} is already booked.",
            hint="Nothing was booked. `kitdrawer entries` shows what it brought.",
        )
    if known.state == "dropped":
        newer = [one.name for one in sessions if one.state == "planned"]
        hint = f"Newer plans: {', '.join(newer)}; fill their sheet." if newer else "Plan it again: `plan`."
        raise Refused(f"The plan of {known.name} was given up; this sheet is of an older plan.", hint=hint)
    return known


Relearn = Callable[[Sequence[Outcome], Sequence[Observed]], tuple[LearnedFigures, Catalogue]]
"""Rates and losses learned from these too, and the catalogue with them."""


Past = Callable[[Sequence[Checked], Mapping[str, int]], "BookMemory"]
"""What the book remembers of parts that were checked, given what the bills expect of each, by folded name."""


def book_session(
    shop: Shop,
    session: Session,
    filled: FilledSession,
    relearned: Relearn | None = None,
    past: Past | None = None,
    unseen: Mapping[str, int] | None = None,
) -> SessionBooking:
    """Everything one filled sheet changes. Raises BadSheet for what cannot be, naming every cell.

    relearned: gives what is still to be made its parts at the rates this session teaches; None: at the present ones.
    past: what the book remembers of the parts checked, for the likely reasons. unseen: by folded part, what the bills
    drew of it in the sessions since anybody looked: what is missing or too much may be theirs.
    """
    rows = rows_of(shop, session, filled)
    promised = _promised(shop, session, rows.made)
    work, about_blanks = _work(shop, rows.made, filled, [order.name for order in promised])
    asked = expected(work)
    measures = measures_of(shop, filled, asked, unseen)
    if not rows.made and not measures.used and not measures.counts:
        raise Refused("The sheet is empty.", hint="Fill in what was made, weighed or counted, then book it.")
    draft = Draft(shop.book, shop.prices, worked_on=session.on)
    for order in promised:
        draft.add(let_go(shop.book, order.name))
    bring_more(draft, shop, measures)
    tally = draw_rows(draft, shop, scaled(work, measures.used), measures.named, session.name)
    checked = _checked(shop, draft, measures, asked)
    verdict = verdict_of(measures, checked, _explained(shop, checked, past, asked))
    beside_the_bills(draft, shop, measures, tally.quantity, verdict.word)
    off = off_for(shop.catalogue.parts, shop.today)
    counted = book_counts(counts_of(measures), draft.book, shop.prices, off)
    draft.add(counted.lines, counted.lots)
    outcomes = tuple(one.outcome for one in rows.made)
    seen = observed(shop, measures, verdict.taught)
    seen += by_the_bill(shop, tally.quantity, tally.found, seen)
    learned, known = relearned(outcomes, seen) if relearned else (None, shop.catalogue)
    later = _later(shop, draft, tally, known, learned)
    announced = [*rows.announced, *about_blanks, *measures.announced, *filled.announced]
    announced += [*about_notes(filled), *_over_words(seen, measures), *opened_words(draft, shop.catalogue)]
    requests = {
        order.name: promised_request(shop, order) for order in promised
    }  # before its claims are let go
    states = _orders_on(later, draft, promised, requests, orders_of(rows.made), announced)
    moved = {line.part: draft.book.balance(line.part).on_hand for line in draft.lines}
    draft.add(settle(draft.book, moved, off=off_in(draft.book, later.catalogue.parts, shop.today)))
    said = Consequences(states, tuple(counted.parts), outcomes, seen, learned, _agreed(shop, promised))
    return SessionBooking(
        shop,
        _with_parts(_with_states(shop_of(shop, draft), dict(states)), tally),
        session,
        _proposal(shop, session, filled, draft, tally, said),
        tuple(rows.made),
        tally,
        checked,
        verdict.differences,
        asked,
        tuple(dict.fromkeys(announced)),
        Counter({fold(one): measures.earlier[fold(one)] for one in _over(seen, measures)}),
        notes_of(filled),
    )


def _explained(
    shop: Shop, checked: Sequence[Checked], past: Past | None, asked: Mapping[str, int]
) -> Sequence[SessionDifference]:
    if not checked:
        return ()
    from inventory.jobs.differences.reasons import BookMemory, explain  # of an evening nothing is checked

    return explain(shop, checked, past(checked, asked) if past else BookMemory())


def _over(seen: Sequence[Observed], measures: Measures) -> list[str]:
    """The parts that were drawn by the bill before, unlooked at, and of which something is learned now."""
    return [
        one.part for one in seen if one.way in ("weighed", "counted") and measures.earlier[fold(one.part)]
    ]


def _over_words(seen: Sequence[Observed], measures: Measures) -> list[str]:
    return [
        f"{part}: what was used is also of sessions in which nobody looked." for part in _over(seen, measures)
    ]


def _later(
    shop: Shop, draft: Draft, tally: DrawnTally, known: Catalogue, learned: LearnedFigures | None
) -> Shop:
    """The shop as the session leaves it, with what it taught."""
    then = replace(shop, catalogue=known, learned=learned or shop.learned)
    return _with_parts(shop_of(then, draft), tally)


@dataclass(frozen=True, slots=True)
class Consequences:
    """What a session's document says beside its lines."""

    states: tuple[tuple[str, OrderState], ...]
    counted: tuple[str, ...]
    outcomes: tuple[Outcome, ...]
    observed: tuple[Observed, ...]
    learned: LearnedFigures | None
    agreed: tuple[Order, ...] = ()


def _proposal(
    shop: Shop, session: Session, filled: FilledSession, draft: Draft, tally: DrawnTally, said: Consequences
) -> Proposal:
    return Proposal(
        "weekend",
        title_of(session, filled),
        shop.today,
        lines=tuple(draft.lines),
        lots=tuple(draft.lots),
        order_states=said.states,
        fingerprint=fingerprint("session", filled.mark, session.number, filled.fingerprint),
        expected_version=shop.book.version,
        to_count=tuple(dict.fromkeys(tally.found)),
        counted=said.counted,
        parts=tuple(tally.parts.values()),
        session=session.number,
        session_states=((session.number, "booked"),),
        outcomes=said.outcomes,
        observed=said.observed,
        learned=said.learned,
        agreed=said.agreed,
    )


def _promised(shop: Shop, session: Session, made: Sequence[Made]) -> list[Order]:
    """The promised orders the session was planned for, or that something was made for; of the blank it was made of."""
    names = dict.fromkeys([*(row.order for row in session.rows), *orders_of(made)])
    known = [shop.book.orders.get(fold(name)) for name in names]
    of = {fold(one.outcome.order): one.outcome.blank for one in made if one.planned}
    return [
        replace(order, blank=of.get(fold(order.name), order.blank))
        for order in known
        if order is not None and order.state == "promised"
    ]


def _agreed(shop: Shop, promised: Sequence[Order]) -> tuple[Order, ...]:
    """Those that are of another blank now than they were to be."""
    return tuple(one for one in promised if one != shop.book.orders[fold(one.name)])


def _with_states(shop: Shop, states: Mapping[str, OrderState]) -> Shop:
    """The shop once these orders have come to these states."""
    orders = {
        key: replace(order, state=states.get(order.name, order.state))
        for key, order in shop.book.orders.items()
    }
    return replace(shop, book=replace(shop.book, orders=orders))


def _work(
    shop: Shop, made: Sequence[Made], filled: FilledSession, orders: Sequence[str]
) -> tuple[tuple[Work, ...], tuple[str, ...]]:
    """Every row with what it draws, and what is to be said of its blanks.

    What a session takes once, and the blanks it cuts, are shared by the rows that use them.
    """
    planned = []
    for one in made:
        order = one.outcome.order
        own = claims_of(shop.book, order) if order else ()
        freed = without_claims(shop, order) if order else shop
        resolved = one.resolved
        resolved = replace(resolved, request=replace(resolved.request, count=max(one.outcome.started, 1)))
        kits = tuple(
            (plating, tuple(k for k in several if fold(k.name) == fold(one.kit)) or several)
            for plating, several in resolved.kits
        )
        plan = held_plan(with_own_blanks(freed, resolved.blank, own), replace(resolved, kits=kits), own)
        planned.append((one, plan, own))
    pairs = [(one, plan) for one, plan, _ in planned]
    fixed, blanks = once(pairs), blanks_taken(shop, pairs, orders, filled.blanks)
    work = tuple(
        Work(one, plan, _by_stage((*shares_of(one, plan, taken.total), *more)), own, taken.lots)
        for (one, plan, own), more, taken in zip(planned, fixed, blanks.rows, strict=True)
    )
    return work, blanks.announced


def _by_stage(shares: Sequence[Share]) -> tuple[Share, ...]:
    """One share a part and stage, in working order."""
    from inventory.catalogue import STAGES

    sums: dict[tuple[str, str], Share] = {}
    for one in shares:
        key = (fold(one.part), one.stage)
        old = sums.get(key)
        sums[key] = replace(old, used=old.used + one.used, lost=old.lost + one.lost) if old else one
    return tuple(sorted(sums.values(), key=lambda one: STAGES.index(one.stage)))


def _checked(shop: Shop, draft: Draft, measures: Measures, asked: Counter[str]) -> tuple[Checked, ...]:
    """Expected against found: for measured parts the book before less the bills, for counted ones the draft."""
    done = []
    for key, used in measures.used.items():
        on_hand, name = shop.book.balance(key).on_hand, shop.catalogue.part(key).name
        before = on_hand - measures.gone_of(key)
        error, way = measures.error[key], measures.way[key]
        if before != on_hand:
            done.append(Checked(name, on_hand, before, error, way, before=True))
        there = before - used + measures.found[key]
        done.append(Checked(name, before - asked[key], there, error, way))
    for count in measures.counts:
        there = draft.book.balance(count.part).on_hand
        done.append(Checked(shop.catalogue.part(count.part).name, there, count.counted, 0, "counted"))
    return tuple(done)


def _with_parts(shop: Shop, tally: DrawnTally) -> Shop:
    """The shop whose catalogue knows the parts this session brings."""
    return replace(shop, catalogue=with_parts(shop.catalogue, tally))


def with_parts(catalogue: Catalogue, tally: DrawnTally) -> Catalogue:
    """The catalogue with the parts a session brings."""
    return replace(catalogue, parts=over(catalogue.parts, tally.parts))


def _orders_on(
    shop: Shop,
    draft: Draft,
    promised: Sequence[Order],
    requests: Mapping[str, OrderRequest],
    begun: Sequence[str],
    announced: list[str],
) -> tuple[tuple[str, OrderState], ...]:
    """Stall orders are made, or released where nothing was begun of them.

    A customer's order keeps its finished pieces, and parts for those still to be made.
    """
    states: list[tuple[str, OrderState]] = []
    for order in sorted(promised, key=lambda one: (one.due, one.name)):
        if order.customer == STALL:
            states.append((order.name, "made" if order.name in begun else "released"))
            continue
        now = shop_of(shop, draft)
        request = requests[order.name]
        try:
            draft.add(setting_aside(now, order, check(now, request)))
        except (
            KitdrawerError
        ) as error:  # promised once; that it no longer works out must not stop the booking
            announced.append(f"{order.name}: nothing can be set aside: {error.message}")
    return tuple(states)
