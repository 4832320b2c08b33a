"""Many lines of ordinary days at once, out of a sheet: each as its command would book it, all of them one entry.

A later line sees the shelf as those before it leave it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from inventory.catalogue import Part, fold
from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.jobs.days.bringing import added, back, found
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.selling import Sale, sold
from inventory.jobs.days.taking import Going, taken
from inventory.jobs.sessions.reconciling.outcome import Shortfall, lacking
from inventory.jobs.shop import Shop
from inventory.jobs.stock.drawing import shop_of
from inventory.ledger import Proposal
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.lending import Lending, left_owed
from inventory.measures import plural

What = Literal["add", "took", "found", "back", "sold"]
WHATS: Final[Mapping[str, What]] = {
    **{one: one for one in ("add", "took", "found", "back", "sold")},
    "added": "add",
    "bought": "add",
    "got": "add",
    "take": "took",
    "taken": "took",
    "find": "found",
    "returned": "back",
    "sell": "sold",
    "sale": "sold",
}
"""What a line may say it is, in our words and others."""


@dataclass(frozen=True, slots=True)
class DayLine:
    """One filled row. quantity: thousandths, None where nothing is said; cost: minor units a unit of what is added.

    price: minor units of one that is sold; whom: to whom it went, or where it was sold.
    """

    place: Place
    what: What
    part: Part
    on: date
    quantity: int | None = None
    why: str = ""
    whom: str = ""
    lot: str = ""
    cost: Fraction | None = None
    price: int | None = None
    use_by: date | None = None


@dataclass(frozen=True, slots=True)
class FilledDays:
    """What a sheet says; fingerprint: of its content, the same for the same rows; notes: what was left alone."""

    name: str
    lines: tuple[DayLine, ...]
    fingerprint: str
    notes: tuple[str, ...] = ()


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
            hint="Nothing was booked. Mend what is listed and give the sheet again.",
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
