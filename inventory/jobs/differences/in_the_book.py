"""Reasons the book itself can tell: booked twice, not booked yet, gone off, gone into the air, no more than scatter."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import timedelta
from fractions import Fraction
from typing import Final

from inventory.catalogue import Supply, fold
from inventory.catalogue.hazards import FLAMMABLE, evaporates, in_a_sentence
from inventory.jobs.differences.case import BookMemory, Case, Reason
from inventory.ledger import Lot
from inventory.ledger.bottles.shelf_life import gone_off
from inventory.ledger.documents.booked import Document, Happening
from inventory.ledger.shop import Shop
from inventory.measures import show_date, show_number

RECENT: Final = timedelta(days=92)
"""Receipts and withdrawals of the last three months are looked at."""
BROUGHT: Final = frozenset({"load", "arrival", "count", "add", "found", "days", "undo"})
TOOK: Final = frozenset(
    {"hand-over", "weekend", "count", "took", "sold", "made", "days", "came back", "undo"}
)
SOON: Final = timedelta(days=7)
"""What is expected within a week may have come already."""
AT_ONCE, A_MONTH, AT_MOST = Fraction(2, 100), Fraction(2, 100), Fraction(10, 100)
"""Shares of a volatile product that may have gone into the air: at each opening, a month, at most (assumptions)."""


def book_reasons(shop: Shop, case: Case, context: BookMemory) -> Iterator[Reason]:
    """Everything the book gives for one part."""
    yield from _entered_twice(shop, case, context.recent.get(fold(case.part.name), ()))
    yield from _not_booked(shop, case)
    yield from _gone_off(shop, case)
    yield from _evaporated(shop, case)


def ordinary(case: Case, context: BookMemory) -> Reason | None:
    """No more than the measuring, or than sessions ordinarily differ; None where it is more."""
    if abs(case.difference) <= 2 * case.error:
        return Reason(
            1.0,
            f"ordinary scatter: {case.way} to ± {case.about(2 * case.error)}, "
            f"the difference of {case.about(case.difference)} is no more than that",
            use=True,
        )
    scatter = context.scatter.get(fold(case.part.name), 0)
    if case.way != "counted" and abs(case.difference) <= 2 * scatter:
        return Reason(
            0.95,
            f"ordinary scatter: sessions differ by ± {case.about(2 * scatter)} from the rate the book goes by",
            use=True,
        )
    return None


def _entered_twice(shop: Shop, case: Case, recent: Sequence[Happening]) -> Iterator[Reason]:
    less = case.difference < 0
    kinds = BROUGHT if less else TOOK
    sums: Counter[int] = Counter()
    documents: dict[int, Document] = {}
    for one in recent:
        head = one.document
        if one.account == "shelf" and head.kind in kinds and shop.today - head.on <= RECENT:
            sums[head.id] += one.quantity
            documents[head.id] = head
    same = [documents[number] for number, quantity in sums.items() if case.explains(-quantity)]
    amount = case.amount(case.difference)
    if len(same) > 1:
        named = " and ".join(f"{_named(head)}" for head in same[-2:])
        verb = "brought" if less else "took"
        yield Reason(0.88, f"a double entry: {named} each {verb} {amount}; one of them may be booked twice")
    elif same and less:
        yield Reason(
            0.75,
            f"a double entry: {_named(same[0])} brought just {amount}; it may be booked twice or never have come",
        )
    elif same:
        yield Reason(
            0.7,
            f"a double entry: {_named(same[0])} took just {amount}; it may be booked twice or not be used",
        )


def _named(head: Document) -> str:
    return f"entry {head.id} ({head.kind}, {show_date(head.on)})"


def _not_booked(shop: Shop, case: Case) -> Iterator[Reason]:
    rows = [row for row in shop.book.due if fold(row.part) == fold(case.part.name)]
    for row in rows if case.difference > 0 else ():
        whole = case.explains(row.quantity)
        in_packs = row.pack > 0 and case.difference % row.pack == 0 and case.difference < row.quantity
        if not whole and not in_packs:
            continue
        when = f"expected {show_date(row.expected_on)}" if row.expected_on else "with no day to come"
        due = row.expected_on is None or row.expected_on <= shop.today + SOON
        what = "all" if whole else f"{case.difference // row.pack} packs"
        weight = (0.85 if whole else 0.6) - (0 if due else 0.2)
        yield Reason(
            weight,
            f"a delivery not booked: {what} of the {case.amount(row.quantity)} due in from {row.supplier}, {when}",
        )
    together = sum(row.quantity for row in rows)
    if len(rows) > 1 and case.difference > 0 and case.explains(together):
        yield Reason(
            0.75, f"deliveries not booked: {case.amount(together)} is due in from {len(rows)} orders"
        )


def _gone_off(shop: Shop, case: Case) -> Iterator[Reason]:
    lots = [lot for lot in shop.book.lots_of(case.part.name) if gone_off(case.part, lot, shop.today)]
    off = sum(lot.quantity for lot in lots)
    if case.difference >= 0 or not off or case.way == "weighed":  # nobody weighs what he threw away
        return
    for lot in lots:
        if case.explains(-lot.quantity):
            yield Reason(
                0.8, f"thrown away: {_lot(lot)} is out of date and held just {case.amount(lot.quantity)}"
            )
            return
    if -case.difference <= off + 2 * case.error:
        yield Reason(
            0.5, f"thrown away: {case.amount(off)} of it is out of date ({', '.join(map(_lot, lots))})"
        )


def _lot(lot: Lot) -> str:
    return f"“{lot.name}”" if lot.name else f"lot {lot.id}"


def _evaporated(shop: Shop, case: Case) -> Iterator[Reason]:
    detail = case.part.detail
    if not isinstance(detail, Supply) or case.difference >= 0 or case.expected <= 0:
        return
    codes = [code for code in detail.hazards if code in FLAMMABLE]
    if not evaporates(detail):
        return
    days = [day for lot in shop.book.lots_of(case.part.name) if (day := lot.opened_on or lot.received_on)]
    months = Fraction((shop.today - min(days)).days, 30) if days else Fraction(1)
    most = min(AT_ONCE + A_MONTH * max(months, Fraction(0)), AT_MOST)
    share = Fraction(-case.difference, case.expected)
    if share <= most:
        why = f"{in_a_sentence(codes[0], 'flammable')} ({codes[0]})" if codes else f"a {detail.type}"
        yield Reason(
            0.6,
            f"evaporation: it is {why}, and {show_number(Fraction(round(share * 1000), 10))} % less is what such a "
            f"container may lose",
        )
