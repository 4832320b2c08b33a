"""Many lines of ordinary days at once, out of a sheet: each as its command would book it, all of them one entry.

A later line sees the shelf as those before it leave it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from inventory.catalogue import fold
from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.jobs.days.bringing import added, back, found
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.selling import Sale, sold
from inventory.jobs.days.taking import Going, taken
from inventory.jobs.stock.drawing import shop_of
from inventory.ledger import Proposal
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.lending import Lending, left_owed
from inventory.ledger.shop import Shop
from inventory.measures import plural
from inventory.reports.days_sheet import DayLine, FilledDays
from inventory.reports.session_report import Shortfall, lacking


@dataclass(frozen=True, slots=True)
class Days:
    """The proposed document, what each line does, what promised orders lack by it, prices that are asked about."""

    proposal: Proposal
    made: tuple[tuple[DayLine, ByHand], ...]
    short: tuple[Shortfall, ...]
    doubts: tuple[Place, ...]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Entry:
    """The entry while it grows."""

    shop: Shop
    draft: Draft
    lent: Sequence[Lending]
    made: list[tuple[DayLine, ByHand]] = field(default_factory=list)

    def add(self, line: DayLine) -> None:
        """One line more, on the shelf as those before it leave it."""
        now = replace(shop_of(self.shop, self.draft), today=line.on)
        one = _done(now, line, self.lent, self.draft)
        if line.what == "back":
            self.lent = left_owed(self.lent, line.part.name, one.quantity)
        orders = {fold(order.name): order for order in one.proposal.orders}
        self.draft.book = replace(self.draft.book, orders={**self.draft.book.orders, **orders})
        self.made.append((line, one))


def many(shop: Shop, filled: FilledDays, lent: Sequence[Lending]) -> Days:
    """All lines as one document. Raises BadSheet with every line that cannot be booked; then none is."""
    entry, problems = _Entry(shop, Draft(shop.book, shop.prices), lent), list[Place]()
    for line in filled.lines:
        try:
            entry.add(line)
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
    draft, made = entry.draft, tuple(entry.made)
    proposals = [one.proposal for _, one in made]
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
    )
    doubts = tuple(replace(line.place, problem=one.doubt) for line, one in made if one.doubt)
    units = {fold(line.part.name): line.part.unit for line, _ in made}
    short = tuple(lacking(draft.lines, shop.book, lambda part: units[fold(part)]))
    return Days(document, made, short, doubts, filled.notes)


def _counted(made: Iterable[tuple[DayLine, ByHand]]) -> str:
    sums: dict[str, int] = {}
    for line, _ in made:
        sums[line.what] = sums.get(line.what, 0) + 1
    return ", ".join(f"{many} {what}" for what, many in sums.items())
