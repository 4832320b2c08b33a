"""A very small shop for the store's tests: one family, a few parts, one pattern, two suppliers, three wishes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

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
    Piece,
    Plating,
    PriceStep,
    Supplier,
    Supply,
    Tool,
    Tube,
    fold,
)
from inventory.ledger import Account, Book, Intake, Line, NewLot, NewPurchase, Proposal
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate
from inventory.ledger.sessions import Observed, Outcome, Planned, RateWord, Session
from inventory.measures import read_drill, read_length
from inventory.store import Store

DAY = date(2026, 3, 1)
KIT, GOLD_KIT, TUBE, OAK, HORN = "Dunlin chrome", "Dunlin gold", "Tube 7 long", "Oak square", "Horn piece"
GLUE, REFILL, BUSHINGS, PILOT = "Thin glue", "Slim refill", "Dunlin bushings", "Pilot 7"
PATTERN, SUPPLIER, OTHER = "Dunlin slim", "Marsh Supplies", "Tideline"
FIRST, SECOND, THIRD = "A-1", "A-2", "A-3"


def parts() -> tuple[Part, ...]:
    """One or two parts of every kind, every optional field given somewhere."""
    return (
        Part(KIT, Kit("Dunlin", "chrome"), level=2_000),
        Part(GOLD_KIT, Kit("Dunlin", "gold", tubes_inside=True), note="fittings only in one bag"),
        Part(TUBE, Tube(read_length("7 mm"), read_length("2-3/32 in"), read_drill("7 mm"))),
        Part(OAK, Blank("Oak", "square", read_length("3/4 in"), read_length("5 in"))),
        Part(HORN, Blank("Horn", "natural")),
        Part(
            GLUE, Supply("adhesive", 28_000, 9_500, 300, 60, ("H315", "EUH202"), Fraction(21, 20)), unit="ml"
        ),
        Part(REFILL, Supply("refill")),
        Part(BUSHINGS, Tool("bushings", "", 50)),
        Part(PILOT, Tool("trimmer pilot", "7 mm")),
    )


def families() -> tuple[Family, ...]:
    """Two barrels, one with everything and one without a tube."""
    upper = Barrel("upper", TUBE, read_drill("7 mm"), read_length("8.4 mm"), read_length("21/64 in"))
    stop = Barrel("cap", None, None, None, None, read_length("30 mm"))
    return (Family("Dunlin", "pen", REFILL, (BUSHINGS,), (PILOT,), "old style", (upper, stop)),)


def patterns() -> tuple[Pattern, ...]:
    """One that names parts and roles, one that takes the first one's bill in."""
    bill = (
        BillLine("cut", "the blank", 1_000, "piece"),
        BillLine("glue", GLUE, 300, "tube glue volume"),
        BillLine("assemble", "the kit", 1_000, "piece"),
    )
    more = (BillLine("cut", PATTERN, 1_000, "piece"), BillLine("pack", REFILL, 1_000, "piece"))
    return (
        Pattern(PATTERN, "Dunlin", "", 40, bill),
        Pattern("Dunlin boxed", "Dunlin", "with spare", None, more),
    )


def catalogue() -> Catalogue:
    """Everything the little shop knows by name."""
    losses = {"drill": Fraction(1, 50), "turn": Fraction(3, 200)}
    offers = (
        Offer(SUPPLIER, KIT, 1_000, (PriceStep(1, 450), PriceStep(5, 420)), "DU-C", "kits", date(2026, 2, 1)),
        Offer(SUPPLIER, KIT, 10_000, (PriceStep(1, 4_000),), "DU-C10"),
        Offer(OTHER, KIT, 1_000, (PriceStep(1, 470),), at_most=12),
    )
    return Catalogue(
        parts=_keyed(parts()),
        platings=_keyed((Plating("chrome", ("gold",)), Plating("gold"))),
        materials=_keyed(
            (
                Material("Oak", read_length("3.2 mm"), losses),
                Material("Horn", read_length("6 mm"), {}, "smells", "Bos"),
            )
        ),
        families=_keyed(families()),
        patterns=_keyed(patterns()),
        suppliers=_keyed(
            (
                Supplier(SUPPLIER, 5, 490, 5_000, 1_000, "EUR", "shop@example.com", "slow in May"),
                Supplier(OTHER, None),
            )
        ),
        offers={fold(KIT): offers},
    )


def _keyed(things: tuple[Any, ...]) -> dict[str, Any]:
    return {fold(one.name): one for one in things}


def wishes() -> tuple[Order, ...]:
    """Three orders; the first uses every field."""
    return (
        Order(
            FIRST,
            PATTERN,
            OAK,
            2,
            date(2026, 4, 1),
            ("gold", "chrome"),
            "Ada",
            REFILL,
            read_length("2 mm"),
            4_500,
        ),
        Order(SECOND, PATTERN, OAK, 1, date(2026, 3, 20), ("chrome",)),
        Order(THIRD, "Dunlin boxed", HORN, 1, date(2026, 5, 1), ("chrome",)),
    )


def intake() -> Intake:
    """The whole shop as sheets would bring it."""
    return Intake(catalogue=catalogue(), orders=wishes())


def opening() -> Proposal:
    """10 chrome kits at 4.50 each, 5 blanks at 2.00, 100 ml of glue for 7.00."""
    return Proposal(
        "load",
        "Opening count",
        DAY,
        lots=(NewLot("k", KIT, "drawer", DAY), NewLot("b", OAK), NewLot("g", GLUE, use_by=date(2026, 9, 1))),
        lines=(
            Line("shelf", KIT, 10_000, 4_500, lot="k", reason="opening"),
            Line("shelf", OAK, 5_000, 1_000, lot="b", reason="opening"),
            Line("shelf", GLUE, 100_000, 700, lot="g", reason="opening"),
        ),
        fingerprint="opening",
    )


def filled(store: Store) -> int:
    """Book the opening count with the catalogue and the wishes."""
    return store.commit(opening(), intake())


def document(*lines: Line, **more: Any) -> Proposal:
    """A document of these lines."""
    return Proposal(**{"kind": "count", "title": "Some lines", "on": DAY, "lines": lines, **more})


def receipt(part: str, quantity: int, cost: int, **lot: Any) -> Proposal:
    """A delivery of one lot."""
    brought = NewLot("new", part, **lot)
    return document(
        Line("shelf", part, quantity, cost, lot="new", reason="receipt"), lots=(brought,), kind="arrival"
    )


def taken(part: str, quantity: int, cost: int, lot: int, **more: Any) -> Proposal:
    """So much out of one lot."""
    return document(Line("shelf", part, -quantity, -cost, lot=lot, reason="used", **more), kind="weekend")


def claimed(order: str, quantity: int, account: Account = "claim", part: str = KIT, **more: Any) -> Line:
    """A line that sets something aside for an order."""
    return Line(account, part, quantity, order=order, reason="claimed", **more)


def promise(order: str, *lines: Line, **more: Any) -> Proposal:
    """An order promised, with what is set aside for it."""
    return document(
        *lines, kind="promise", title=f"Promise {order}", order_states=((order, "promised"),), **more
    )


def bought(part: str, quantity: int, cost: int, supplier: str = SUPPLIER) -> Proposal:
    """One line of a purchase, expected a week later."""
    new = NewPurchase("p", supplier, part, date(2026, 3, 8), "DU-C", 1_000)
    return document(
        Line("due", part, quantity, cost, purchase="p"), purchases=(new,), kind="placed", title="Bought"
    )


LEARNED = LearnedFigures(
    (LearnedRate(GLUE, "tube glue volume", 1_250_000, 900_000, 1_600_000, 1, (7,), scatter=40),),
    (LearnedLoss("Oak", "drill", 30_000, 4, 1),),
)
OUTCOME = Outcome(FIRST, PATTERN, KIT, OAK, 3, {"drill": 1}, REFILL, read_length("1 mm"), 1, 0, 0)
OBSERVED = Observed(GLUE, 1_240, 410)
PIECE = Part("Dunlin slim, chrome, Oak square", Piece(PATTERN, KIT, OAK, REFILL, read_length("1 mm")))


def planned(order: str) -> Proposal:
    """A session planned for one order."""
    return document(
        kind="plan", title="Plan", sessions=(Session("2026-03-07", DAY, (Planned(order, KIT, 4),)),)
    )


def made(order: str, session: int) -> Proposal:
    """That session booked: three good, one lost, a bottle weighed, and something learned."""
    return document(
        Line("shelf", PIECE.name, 3_000, 900, lot="made", order=order, reason="made"),
        lots=(NewLot("made", PIECE.name, "2026-03-07", DAY),),
        kind="weekend",
        title="Weekend",
        parts=(PIECE,),
        session=session,
        session_states=((session, "booked"),),
        outcomes=(replace(OUTCOME, order=order),),
        observed=(OBSERVED,),
        rate_words=(RateWord(GLUE, "tube glue volume", "pin", 1_250_000),),
        learned=LEARNED,
    )


def book(store: Store) -> Book:
    """The whole book as it stands."""
    with store.reading() as read:
        return read.book()
