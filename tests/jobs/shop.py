"""The book of the invented shop: a stock in the making, requests and orders, and the shop they make."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from inventory.catalogue import (
    Catalogue,
    Order,
    fold,
)
from inventory.jobs.learning.billed import quantities
from inventory.jobs.orders.requests import OrderRequest
from inventory.ledger import Account, Balance, Book, Claim, DueIn, Lot
from inventory.ledger.learned import MILLION, LearnedLoss, LearnedRate, millionths
from inventory.ledger.shop import Shop
from inventory.measures import currency, read_length
from jobs import goods

TODAY = date(2026, 11, 25)
DUE = TODAY + timedelta(days=21)
EUR = currency("EUR")


def request(count: int = 4, **changes: object) -> OrderRequest:
    """Some Turnstones in olive and chrome, three weeks off."""
    usual = OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, count, DUE)
    return replace(usual, **changes)  # type: ignore[arg-type]  # fields by name


def order(name: str = "Reed", count: int = 4, **changes: object) -> Order:
    """The same as an order."""
    usual = Order(name, "Turnstone gloss", goods.OLIVE, count, DUE, ("chrome",))
    return replace(usual, **changes)  # type: ignore[arg-type]  # fields by name


@dataclass
class Stock:
    """A book in the making: lots, claims, what is due in; `book` adds the balances up."""

    lots: list[Lot] = field(default_factory=list)
    claims: list[Claim] = field(default_factory=list)
    due: list[DueIn] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)
    to_count: tuple[str, ...] = ()
    version: int = 7

    def lot(self, part: str, quantity: int, cost: int = 0, **more: object) -> int:
        """A lot of so many thousandths; its number."""
        number = 1 + max((lot.id for lot in self.lots), default=99)
        lot = Lot(number, part, str(more.pop("name", "")), None, quantity, cost)
        self.lots.append(replace(lot, **more))  # type: ignore[arg-type]  # fields by name
        return self.lots[-1].id

    def measured(self, name: str, diameter: str, length: str, cost: int = 0) -> int:
        """A measured antler blank; its number."""
        sizes = {"smallest_diameter": read_length(diameter), "length": read_length(length)}
        return self.lot(goods.ANTLER, 1000, cost, name=name, **sizes)

    def coming(self, part: str, quantity: int, on: date | None, cost: int = 0) -> int:
        """So much of a part bought and not arrived; its number."""
        row = DueIn(900 + len(self.due), part, "Saltmarsh Turning", quantity, cost, on)
        self.due.append(row)
        return row.purchase

    def claim(
        self, order: str, part: str, quantity: int, account: Account = "claim", lot: int | None = None
    ) -> None:
        """So much of a part set aside, or to buy, for an order."""
        self.claims.append(Claim(order, part, account, quantity, lot))

    def without(self, *parts: str) -> Stock:
        """No lot of these parts any more."""
        self.lots = [lot for lot in self.lots if lot.part not in parts]
        return self

    def with_only(self, part: str, quantity: int, cost: int = 0) -> Stock:
        """One lot of so many thousandths as all there is of a part."""
        self.without(part).lot(part, quantity, cost)
        return self

    @property
    def book(self) -> Book:
        """The picture all this adds up to."""
        lots: dict[str, tuple[Lot, ...]] = {}
        for lot in self.lots:
            held = sum(c.quantity for c in self.claims if c.lot == lot.id)
            lots[fold(lot.part)] = (*lots.get(fold(lot.part), ()), replace(lot, claimed=held))
        due = tuple(
            replace(row, claimed=sum(c.quantity for c in self.claims if c.purchase == row.purchase))
            for row in self.due
        )
        named = [*(lot.part for lot in self.lots), *(claim.part for claim in self.claims)]
        names = {fold(name) for name in [*named, *(row.part for row in self.due)]}
        return Book(
            self.version,
            {name: self._balance(name, due) for name in names},
            lots,
            tuple(self.claims),
            due,
            {fold(one.name): one for one in self.orders},
            self.to_count,
        )

    def _balance(self, name: str, due: Iterable[DueIn]) -> Balance:
        def claimed(account: Account) -> int:
            return sum(c.quantity for c in self.claims if fold(c.part) == name and c.account == account)

        return Balance(
            sum(lot.quantity for lot in self.lots if fold(lot.part) == name),
            claimed("claim"),
            sum(row.quantity for row in due if fold(row.part) == name),
            claimed("due claim"),
            claimed("to buy"),
        )


def plenty() -> Stock:
    """Enough of everything for a few dozen Turnstones in olive and chrome, tools included."""
    stock = Stock()
    for part, pieces, cost in (
        (goods.CHROME_KIT, 40, 16_000),
        (goods.TUBE, 80, 2400),
        (goods.OLIVE, 40, 8000),
        (goods.REFILL, 50, 4500),
        (goods.STRIP, 60, 1800),
    ):
        stock.lot(part, 1000 * pieces, cost)
    stock.lot(goods.GLUE, 50_000, 600)
    stock.lot(goods.FINISH, 90_000, 1100)
    stock.lot(goods.EPOXY, 50_000, 900)
    for tool in (goods.DRILL, goods.SAW, goods.BUSHINGS, goods.PILOT):
        stock.lot(tool, 1000)
    return stock


def shop(
    stock: Stock | Book | None = None,
    known: Catalogue | None = None,
    settings: Mapping[str, str] | None = None,
    today: date = TODAY,
) -> Shop:
    """The shop of a book (a well-filled one where none is given)."""
    known = known or goods.catalogue()
    stock = plenty() if stock is None else stock
    book = stock.book if isinstance(stock, Stock) else stock
    return Shop(known, book, EUR, today, {"rate USD": "0.9"} if settings is None else settings, known.offers)


def exactly(here: Shop) -> Shop:
    """The shop with losses and rates that are known exactly: years of sessions taught them, and they are as before."""
    taught = tuple(
        LearnedLoss(material.name, stage, millionths(share), 10**9, 0, worth=10**14)
        for material in here.catalogue.materials.values()
        for stage, share in material.losses.items()
    )
    return replace(here, learned=replace(here.learned, losses=taught, rates=exact_rates(here.catalogue)))


def exact_rates(known: Catalogue) -> tuple[LearnedRate, ...]:
    """Rates that are what the bills write, of a hand whose sessions never differ."""
    one = MILLION, MILLION, MILLION, 99
    return tuple(
        LearnedRate(known.part(key).name, per, *one, points=(MILLION,), hands=(0,))
        for key, by_per in quantities(known).items()
        for per in by_per
    )
