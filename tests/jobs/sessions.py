"""A small shop in a real store, with several lots of everything, and its making sessions: planned, filled, booked."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from inventory.catalogue import Catalogue, Kit, Order, Part, Supply, fold
from inventory.errors import Place
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import OrderRequest, request_of
from inventory.jobs.sessions.planning import Ask, PlanReport, plan
from inventory.jobs.sessions.reconciling.booking import SessionBooking, book_session, session_of
from inventory.ledger import Intake, Line, NewLot, Proposal
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.reports.filled import FilledPiece, FilledSession
from inventory.store import Read, Store, begin, open_store
from jobs import goods
from jobs.shop import TODAY

SATURDAY = date(2026, 11, 28)
LOTS = tuple(
    (part, many, cost)
    for part, lots in {
        goods.CHROME_KIT: ((7, 2801), (9, 4003), (14, 6001)),
        goods.TUBE: ((11, 331), (30, 1000)),
        goods.OLIVE: ((5, 1117), (20, 5003)),
        goods.REFILL: ((8, 707), (25, 2303)),
        goods.STRIP: ((3, 101), (40, 1297)),
        goods.GLUE: ((20, 251), (56, 703)),
        goods.FINISH: ((30, 373), (60, 811)),
        goods.EPOXY: ((50, 911),),
        goods.AVOCET_KIT: ((3, 4507), (6, 9803)),
        goods.CAP_TUBE: ((1, 53),),
        goods.BODY_TUBE: ((1, 47),),
        goods.GODWIT_KIT: ((4, 1999), (5, 2707)),
        goods.THICK: ((6, 2411), (8, 3301)),
        goods.DRILL: ((1, 1200),),
        goods.DRILL_CAP: ((1, 1200),),
        goods.DRILL_BODY: ((1, 1200),),
        goods.SAW: ((1, 9000),),
        goods.BUSHINGS: ((1, 800),),
        goods.PILOT: ((1, 700),),
    }.items()
    for many, cost in lots
)
"""Pieces (or millilitres, strips) and minor units: sums that do not divide, so that every rounding shows."""


def known() -> Catalogue:
    """The invented shop; Avocet kits hold their tubes, thin CA is weighed, gloss CA too, epoxy is mixed."""
    parts = goods.catalogue().parts
    return goods.catalogue().with_parts(
        Part(goods.AVOCET_KIT, Kit("Avocet", "gunmetal", tubes_inside=True)),
        replace(parts[fold(goods.GLUE)], detail=_weighed("1.05")),
        replace(parts[fold(goods.FINISH)], detail=_weighed("0.9")),
        replace(parts[fold(goods.EPOXY)], detail=Supply("adhesive", works=5)),
    )


def _weighed(density: str) -> Supply:
    from fractions import Fraction

    return Supply("adhesive", 100_000, 12_000, density=Fraction(density))


def opened(path: Path) -> Store:
    """A store with all of that in it, begun once and copied."""
    path.write_bytes(_begun())
    return open_store(path)


@cache
def _begun() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book"
        with begin(path, "EUR") as store:
            store.commit(_opening(), Intake(known()))
        return path.read_bytes()


def _opening() -> Proposal:
    lots = tuple(NewLot(f"l{at}", part, f"lot {at}", TODAY) for at, (part, *_) in enumerate(LOTS))
    lines = tuple(
        Line("shelf", part, 1000 * many, cost, lot=f"l{at}", reason="opening")
        for at, (part, many, cost) in enumerate(LOTS)
    )
    return Proposal("load", "Opening", TODAY, lines=lines, lots=lots)


def shop_now(read: Read, today: date = TODAY) -> Shop:
    """The shop as the store has it."""
    return Shop(read.catalogue(), read.book(), currency("EUR"), today, {}, read.offers())


def here(store: Store, today: date = TODAY) -> Shop:
    """The same, read at once."""
    with store.reading() as read:
        return shop_now(read, today)


def promised(store: Store, *orders: Order) -> None:
    """Orders taken."""
    for one in orders:
        shop = here(store)
        store.commit(promise(shop, one, check(shop, request_of(one))))


def planned(store: Store, ask: Ask | None = None, *stall: OrderRequest) -> PlanReport:
    """A plan, booked."""
    ask = ask or Ask((SATURDAY,), stall=stall)
    with store.reading() as read:
        made = plan(shop_now(read), read.sessions(), ask)
    store.commit(made.proposal)
    return made


def piece(row: int, good: int | None = None, **more: object) -> FilledPiece:
    """One filled row; `lost` by stage."""
    usual = FilledPiece(Place("saturday", "pieces", row + 1), row, good)
    return replace(usual, **more)  # type: ignore[arg-type]  # fields by name


def filled(pieces: Iterable[FilledPiece], session: int = 1, **more: object) -> FilledSession:
    """A sheet that came back."""
    usual = FilledSession("", session, 1, tuple(pieces), fingerprint="of this sheet")
    return replace(usual, **more)  # type: ignore[arg-type]  # fields by name


def worked_out(store: Store, sheet: FilledSession) -> SessionBooking:
    """What a sheet comes to, not booked yet."""
    with store.reading() as read:
        return book_session(shop_now(read, SATURDAY), session_of(read.sessions(), sheet, read.mark()), sheet)


def booked(store: Store, sheet: FilledSession) -> SessionBooking:
    """The same, booked."""
    done = worked_out(store, sheet)
    store.commit(done.proposal)
    return done
