"""Many lines of ordinary days at once, out of a sheet: each as its command would book it, all of them one entry.

What was made is one evening and is booked first; a later line sees the shelf as those before it leave it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from inventory.catalogue import fold, over
from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.jobs.days.bringing import added, back, found
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.evening import one_evening
from inventory.jobs.days.said_lines import SaidSoFar, Told, made_tonight, told
from inventory.jobs.days.selling import Sale, sold
from inventory.jobs.days.taking import Going, taken
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.jobs.stock.drawing import shop_of
from inventory.ledger import Proposal
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.documents.proposal import Payment
from inventory.ledger.lending import Lending, left_owed
from inventory.ledger.sessions import Session
from inventory.ledger.shop import Shop
from inventory.measures import plural
from inventory.reports.days_sheet import DayLine, FilledDays, SaidLine
from inventory.reports.filled import FilledSession
from inventory.reports.shortfalls import Shortfall, lacking

Line = tuple[DayLine, ByHand] | tuple[SaidLine, Told]
"""A line with what it does."""
Evening = Callable[[Shop, Session, FilledSession], SessionBooking]
"""What an evening at the bench books, with all it teaches."""


@dataclass(frozen=True, slots=True)
class Days:
    """The proposed document, what each line does, what promised orders lack by it, prices that are asked about."""

    proposal: Proposal
    made: tuple[Line, ...]
    short: tuple[Shortfall, ...]
    doubts: tuple[Place, ...]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Entry:
    """The entry while it grows. evening: the session of what was made, where anything was."""

    shop: Shop
    draft: Draft
    lent: Sequence[Lending]
    said: SaidSoFar
    made: list[Line] = field(default_factory=list)
    evening: SessionBooking | None = None
    payments: dict[str, Payment] = field(default_factory=dict)

    def at_the_bench(self, lines: Sequence[SaidLine], book: Evening) -> None:
        """All that was made, on the shelf as it lies."""
        several = [(line.place, made_tonight(self.shop, line)) for line in lines]
        self.evening = booked = book(self.shop, *one_evening(self.shop, several))
        self.draft.add(booked.proposal.lines, booked.proposal.lots)
        self.shop = replace(self.shop, catalogue=booked.shop.catalogue)
        self._orders(booked.proposal)
        for line, one in zip(lines, booked.made, strict=True):
            out = one.outcome
            of = f"{out.good} good of {out.started}: {out.pattern}, {out.kit}, {out.blank}"
            self.made.append(
                (line, Told(booked.proposal, f"{of}{f', for {out.order}' if out.order else ''}."))
            )

    def add(self, line: DayLine) -> None:
        """One line more, on the shelf as those before it leave it."""
        now = replace(shop_of(self.shop, self.draft), today=line.on)
        one = _done(now, line, self.lent, self.draft)
        if line.what == "back":
            self.lent = left_owed(self.lent, line.part.name, one.quantity)
        self._orders(one.proposal)
        self.made.append((line, one))

    def say(self, line: SaidLine) -> None:
        """One line more of what is said."""
        one = told(shop_of(self.shop, self.draft), line, self.said)
        self.draft.add(one.proposal.lines)
        for payment in one.proposal.payments:
            key = fold(payment.order)
            before = self.payments.get(key, Payment(payment.order, 0))
            self.payments[key] = replace(payment, amount=before.amount + payment.amount)
            paid = self.said.paid.get(key, 0) + payment.amount
            self.said = replace(self.said, paid={**self.said.paid, key: paid})
        self._orders(one.proposal)
        self.made.append((line, one))

    def _orders(self, proposal: Proposal) -> None:
        orders = {fold(order.name): order for order in (*proposal.orders, *proposal.agreed)}
        self.draft.book = replace(self.draft.book, orders={**self.draft.book.orders, **orders})


def day_of(filled: FilledDays, newest: date, today: date) -> date:
    """The day the entry is of: the last a line says, but no earlier than the newest entry, for the book is in order.

    newest: the day of the last entry. A line that only says something is of today, unless it says what was spent.
    """
    days = [line.on for line in filled.lines if line.on is not None]
    return min(max([newest, *days]), today) if days else today


def many(shop: Shop, filled: FilledDays, lent: Sequence[Lending], said: SaidSoFar, evening: Evening) -> Days:
    """All lines as one document of the shop's today. Raises BadSheet with every line that cannot be; then none is."""
    entry, problems = _Entry(shop, Draft(shop.book, shop.prices), lent, said), list[Place]()
    bench = [line for line in filled.lines if isinstance(line, SaidLine) and line.what == "made"]
    try:
        if bench:
            entry.at_the_bench(bench, evening)
    except KitdrawerError as error:
        first = replace(bench[0].place, problem=f"{error.message} {error.hint}".strip())
        problems += error.where or (first,)
    for line in filled.lines:
        try:
            if isinstance(line, DayLine):
                entry.add(line)
            elif line.what != "made":
                entry.say(line)
        except KitdrawerError as error:
            problems.append(replace(line.place, problem=f"{error.message} {error.hint}".strip()))
    if problems:
        raise BadSheet(
            f"{plural(len(problems), 'line')} of {filled.name} cannot be booked.",
            hint="Nothing was booked. Correct these cells and give the sheet again.",
            where=problems,
        )
    return _report(shop, filled, entry)


def _done(shop: Shop, line: DayLine, lent: Sequence[Lending], draft: Draft) -> ByHand:
    part, quantity = line.part, line.quantity
    match line.what:
        case "took":
            return taken(shop, part, Going(quantity, line.why, line.whom, line.lot), draft)
        case "back":
            return back(shop, part, quantity, lent, draft)
        case "sold":
            return sold(shop, part, Sale((quantity or 1000) // 1000, line.price, line.whom), draft)
        case "add":
            return added(shop, part, quantity or 0, line.cost, use_by=line.use_by, draft=draft)
        case "found":
            return found(shop, part, quantity or 0, lot=line.lot, use_by=line.use_by, draft=draft)


def _report(shop: Shop, filled: FilledDays, entry: _Entry) -> Days:
    draft = entry.draft
    at = {id(line): number for number, line in enumerate(filled.lines)}
    made = tuple(sorted(entry.made, key=lambda one: at[id(one[0])]))
    bench = [entry.evening.proposal] if entry.evening else []
    proposals = [*bench, *(one.proposal for line, one in made if line.what != "made")]
    agreed = {fold(order.name): order for one in proposals for order in one.agreed}
    document = Proposal(
        "days",
        f"Days, {filled.name}: {_counted(made)}",
        shop.today,
        lines=tuple(draft.lines),
        lots=tuple(draft.lots),
        orders=tuple(order for one in proposals for order in one.orders),
        order_states=tuple(state for one in proposals for state in one.order_states),
        fingerprint=filled.fingerprint,
        expected_version=shop.book.version,
        changes=tuple(change for one in proposals for change in one.changes),
        agreed=tuple(agreed.values()),
        payments=tuple(one for one in entry.payments.values() if one.amount),
        expenses=tuple(spent for one in proposals for spent in one.expenses),
    )
    if entry.evening is not None:
        document = _with_evening(document, entry.evening)
    by_hand = [(line, one) for line, one in made if isinstance(one, ByHand)]
    doubts = tuple(replace(line.place, problem=one.doubt) for line, one in by_hand if one.doubt)
    known = over(entry.shop.catalogue.parts, {fold(one.part.name): one.part for _, one in by_hand})
    short = tuple(lacking(draft.lines, shop.book, lambda part: known[fold(part)].unit))
    notes = (*filled.notes, *(entry.evening.announced if entry.evening else ()))
    return Days(document, made, short, doubts, notes)


def _with_evening(document: Proposal, evening: SessionBooking) -> Proposal:
    """The document with the session of what was made, and what it taught."""
    said = evening.proposal
    return replace(
        document,
        sessions=(evening.session,),
        outcomes=said.outcomes,
        observed=said.observed,
        learned=said.learned,
        parts=said.parts,
        to_count=said.to_count,
        counted=said.counted,
    )


def _counted(made: Iterable[Line]) -> str:
    sums: Counter[str] = Counter()
    for line, _ in made:
        sums[line.what] += 1
    return ", ".join(f"{many} {what}" for what, many in sums.items())
