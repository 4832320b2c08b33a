"""An invented shop in code: three families, three platings, three kinds of blank, two suppliers.

Turnstone has one barrel, Avocet two with different tubes and drills, Godwit is a stopper without a tube.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction

from inventory.catalogue import (
    Barrel,
    BillLine,
    Blank,
    Catalogue,
    Family,
    Kit,
    Material,
    Offer,
    Order,
    Part,
    Pattern,
    Plating,
    PriceStep,
    Supplier,
    Supply,
    Tool,
    Tube,
    fold,
)
from inventory.jobs.shop import Shop
from inventory.jobs.wishes import Wish
from inventory.ledger import Account, Balance, Book, Claim, DueIn, Lot
from inventory.measures import currency, read_drill, read_length

TODAY = date(2026, 11, 25)
DUE = TODAY + timedelta(days=21)
EUR = currency("EUR")

CHROME_KIT, RHODIUM_KIT, GUN_KIT = "Turnstone kit chrome", "Turnstone kit rhodium", "Turnstone kit gunmetal"
AVOCET_KIT, GODWIT_KIT = "Avocet kit gunmetal", "Godwit kit chrome"
TUBE, CAP_TUBE, BODY_TUBE = "tube 27/64", "tube 12.25", "tube 10.15"
OLIVE, ACRYLIC, ANTLER, THICK = "olive square", "acrylic round", "antler", "olive thick"
GLUE, FINISH, EPOXY, STRIP = "thin CA", "gloss CA", "epoxy", "strip P400"
REFILL, SLIM = "refill G2", "refill slim"
DRILL, DRILL_CAP, DRILL_BODY, SAW = "bit 27/64", "bit 12.5", "bit 10.5", "band saw"
BUSHINGS, PILOT = "Turnstone bushings", "pilot 27/64"


def mm(text: str) -> Fraction:
    """Millimetres of a length as written."""
    return read_length(text).mm


def _parts() -> Iterable[Part]:
    for name, family, plating in (
        (CHROME_KIT, "Turnstone", "chrome"),
        (RHODIUM_KIT, "Turnstone", "rhodium"),
        (GUN_KIT, "Turnstone", "gunmetal"),
        (AVOCET_KIT, "Avocet", "gunmetal"),
        (GODWIT_KIT, "Godwit", "chrome"),
    ):
        yield Part(name, Kit(family, plating))
    for name, outside, length, drill in (
        (TUBE, "10.3 mm", "55.8 mm", "27/64"),
        (CAP_TUBE, "12.25 mm", "48 mm", "12.5 mm"),
        (BODY_TUBE, "10.15 mm", "53 mm", "10.5 mm"),
    ):
        yield Part(name, Tube(read_length(outside), read_length(length), read_drill(drill)))
    yield Part(OLIVE, Blank("olive wood", "square", read_length("19 mm"), read_length("127 mm")))
    yield Part(THICK, Blank("olive wood", "square", read_length("45 mm"), read_length("70 mm")))
    yield Part(ACRYLIC, Blank("acrylic", "round", read_length("20 mm"), read_length("130 mm")))
    yield Part(ANTLER, Blank("antler", "natural"))
    yield Part(GLUE, Supply("adhesive", 56_000, None, 365, 90, ("H315", "H319", "EUH202")), "ml")
    yield Part(FINISH, Supply("finish", hazards=("H225", "H319")), "ml")
    yield Part(EPOXY, Supply("adhesive", hazards=("H317",)), "ml", level=10_000)
    yield Part(STRIP, Supply("abrasive"), "strip")
    yield Part(REFILL, Supply("refill"))
    yield Part(SLIM, Supply("refill"), note="the spring sits lower.")
    for name, kind, size in (
        (DRILL, "drill", "27/64"),
        (DRILL_CAP, "drill", "12.5 mm"),
        (DRILL_BODY, "drill", "10.5 mm"),
        (SAW, "saw", "1.2 mm"),
        (BUSHINGS, "bushings", ""),
        (PILOT, "trimmer pilot", ""),
    ):
        yield Part(name, Tool(kind, size))


def _line(stage: str, part: str, quantity: int, per: str = "piece") -> BillLine:
    return BillLine(stage, part, quantity, per)  # type: ignore[arg-type]  # tests spell `per` as text


def _families() -> Iterable[Family]:
    turned = read_length("12 mm"), read_length("12.4 mm")
    one = Barrel("barrel", TUBE, None, *turned)
    yield Family("Turnstone", "pen", REFILL, (BUSHINGS,), (PILOT,), "", (one,))
    cap = Barrel("cap", CAP_TUBE, None, read_length("14 mm"), read_length("15 mm"))
    body = Barrel("body", BODY_TUBE, None, read_length("12 mm"), read_length("13 mm"))
    yield Family("Avocet", "capped pen", REFILL, (), (), "", (cap, body))
    stop = Barrel("stopper", None, read_drill("3/8"), read_length("30 mm"), None, read_length("60 mm"))
    yield Family("Godwit", "bottle stopper", None, (), (), "", (stop,))


def _patterns() -> Iterable[Pattern]:
    yield Pattern(
        "Turnstone gloss",
        "Turnstone",
        minutes=45,
        bill=(
            _line("cut", "the blank", 1000),
            _line("glue", "the tubes", 1000, "barrel"),
            _line("glue", GLUE, 1500, "tube glue volume"),
            _line("glue", EPOXY, 2000, "session"),
            _line("finish", FINISH, 40, "barrel area"),
            _line("finish", STRIP, 500),
            _line("assemble", "the kit", 1000),
            _line("assemble", "the refill", 1000),
        ),
    )
    yield Pattern(
        "Avocet gloss",
        "Avocet",
        bill=(
            _line("cut", "the blank", 1000),
            _line("glue", "the tubes", 2000),
            _line("assemble", "the kit", 1000),
        ),
    )
    yield Pattern(
        "Godwit plain", "Godwit", bill=(_line("cut", "the blank", 1000), _line("assemble", "the kit", 1000))
    )


def _materials() -> Iterable[Material]:
    losses = {"drill": Fraction(2, 100), "turn": Fraction(3, 100), "assemble": Fraction(1, 100)}
    yield Material("olive wood", read_length("3.2 mm"), losses)
    yield Material("acrylic", read_length("9.5 mm"), {"turn": Fraction(6, 100)}, "chips; take light cuts.")
    yield Material("antler", read_length("6.4 mm"), {}, "", "Cervus listed here")


def _offers() -> Iterable[Offer]:
    for name, pack, price in (
        (CHROME_KIT, 1000, 450),
        (RHODIUM_KIT, 1000, 900),
        (TUBE, 10_000, 400),
        (OLIVE, 1000, 300),
        (REFILL, 5000, 500),
        (GLUE, 56_000, 700),
        (DRILL, 1000, 1200),
    ):
        yield Offer("Saltmarsh Turning", name, pack, (PriceStep(1, price), PriceStep(10, price * 8 // 10)))
    yield Offer("Far Shore Fittings", CHROME_KIT, 5000, (PriceStep(1, 1500),), "FS-7")
    yield Offer("Far Shore Fittings", GUN_KIT, 1000, (PriceStep(1, 250),))


SUPPLIERS = (
    Supplier("Saltmarsh Turning", 5, 490, 6000, None, "EUR", "orders@saltmarsh.example.com"),
    Supplier("Far Shore Fittings", 30, 1500, None, None, "USD", "hello@farshore.example.com"),
)


def by_part(offers: Iterable[Offer]) -> dict[str, tuple[Offer, ...]]:
    """Offers by the folded name of their part."""
    done: dict[str, tuple[Offer, ...]] = {}
    for offer in offers:
        done[fold(offer.part)] = (*done.get(fold(offer.part), ()), offer)
    return done


def catalogue() -> Catalogue:
    """Everything the shop knows by name."""
    platings = (Plating("chrome", ("rhodium",)), Plating("rhodium", ("chrome",)), Plating("gunmetal"))
    return Catalogue(
        {fold(one.name): one for one in _parts()},
        {fold(one.name): one for one in platings},
        {fold(one.name): one for one in _materials()},
        {fold(one.name): one for one in _families()},
        {fold(one.name): one for one in _patterns()},
        {fold(one.name): one for one in SUPPLIERS},
        by_part(_offers()),
    )


def with_parts(known: Catalogue, *parts: Part) -> Catalogue:
    """The catalogue with some parts added or replaced."""
    return replace(known, parts={**known.parts, **{fold(one.name): one for one in parts}})


def with_family(known: Catalogue, name: str, **changes: object) -> Catalogue:
    """The catalogue with one family changed."""
    family = replace(known.family(name), **changes)  # type: ignore[arg-type]  # fields by name
    return replace(known, families={**known.families, fold(name): family})


def with_pattern(known: Catalogue, pattern: Pattern) -> Catalogue:
    """The catalogue with one pattern added or replaced."""
    return replace(known, patterns={**known.patterns, fold(pattern.name): pattern})


def with_losses(known: Catalogue, material: str, **losses: str) -> Catalogue:
    """The catalogue with one material's losses by stage, as decimal fractions."""
    changed = replace(known.material(material), losses={k: Fraction(v) for k, v in losses.items()})
    return replace(known, materials={**known.materials, fold(material): changed})


def line(stage: str, part: str, quantity: int, per: str = "piece") -> BillLine:
    """One line of a bill."""
    return _line(stage, part, quantity, per)


def wish(count: int = 4, **changes: object) -> Wish:
    """Some Turnstones in olive and chrome, three weeks off."""
    usual = Wish("Turnstone gloss", ("chrome",), OLIVE, count, DUE)
    return replace(usual, **changes)  # type: ignore[arg-type]  # fields by name


def order(name: str = "Reed", count: int = 4, **changes: object) -> Order:
    """The same as an order."""
    usual = Order(name, "Turnstone gloss", OLIVE, count, DUE, ("chrome",))
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
        return self.lot(ANTLER, 1000, cost, name=name, **sizes)

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
        (CHROME_KIT, 40, 16_000),
        (TUBE, 80, 2400),
        (OLIVE, 40, 8000),
        (REFILL, 50, 4500),
        (STRIP, 60, 1800),
    ):
        stock.lot(part, 1000 * pieces, cost)
    stock.lot(GLUE, 50_000, 600)
    stock.lot(FINISH, 90_000, 1100)
    stock.lot(EPOXY, 50_000, 900)
    for tool in (DRILL, SAW, BUSHINGS, PILOT):
        stock.lot(tool, 1000)
    return stock


def without(stock: Stock, *parts: str) -> Stock:
    """The stock without any lot of these parts."""
    stock.lots = [lot for lot in stock.lots if lot.part not in parts]
    return stock


def with_only(stock: Stock, part: str, quantity: int, cost: int = 0) -> Stock:
    """The stock with one lot of so many thousandths as all there is of a part."""
    without(stock, part).lot(part, quantity, cost)
    return stock


def shop(
    stock: Stock | Book | None = None,
    known: Catalogue | None = None,
    settings: Mapping[str, str] | None = None,
    today: date = TODAY,
) -> Shop:
    """The shop of a book (a well-filled one where none is given)."""
    known = known or catalogue()
    stock = plenty() if stock is None else stock
    book = stock.book if isinstance(stock, Stock) else stock
    return Shop(known, book, EUR, today, {"rate USD": "0.9"} if settings is None else settings, known.offers)
