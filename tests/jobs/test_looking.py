"""Looking: the shelf and its filters, orders and how they stand, the story of a part, and loading."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.catalogue import KINDS, Part, Tool, Tube, fold
from inventory.errors import BadInput, BadMeasure, UnknownName
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.stock.loading import KnownShop, load
from inventory.jobs.stock.shelf import Filters, is_low, nearest_drills, shelf
from inventory.jobs.stock.tracing import trace
from inventory.ledger import Account, Balance, Claim, Count, Intake
from inventory.ledger.documents.booked import Document, Happening
from inventory.measures import read_drill, read_length
from jobs import goods
from jobs.shop import DUE, EUR, TODAY, Stock, order, plenty, shop

TURNSTONES = {goods.CHROME_KIT, goods.RHODIUM_KIT, goods.GUN_KIT}


def shown(**filters: object) -> set[str]:
    """The names on a well-filled shelf that pass."""
    rows = shelf(goods.catalogue(), plenty().book, Filters(**filters), TODAY)  # type: ignore[arg-type]  # fields by name
    return {row.part.name for row in rows}


@pytest.mark.parametrize(
    ("filters", "names"),
    [
        ({"kind": "kits"}, {*TURNSTONES, goods.AVOCET_KIT, goods.GODWIT_KIT}),
        ({"kind": "Tube"}, {goods.TUBE, goods.CAP_TUBE, goods.BODY_TUBE}),
        (
            {"kind": "supplies"},
            {goods.GLUE, goods.FINISH, goods.EPOXY, goods.STRIP, goods.REFILL, goods.SLIM},
        ),
        ({"kind": "refills"}, {goods.REFILL, goods.SLIM}),
        ({"kind": "bushings"}, {goods.BUSHINGS}),
        ({"kind": "adhesive"}, {goods.GLUE, goods.EPOXY}),
        ({"plating": "Chrome"}, {goods.CHROME_KIT, goods.GODWIT_KIT}),
        ({"material": "olive wood"}, {goods.OLIVE, goods.THICK}),
        ({"family": "turnstone"}, {*TURNSTONES, goods.TUBE, goods.REFILL, goods.BUSHINGS, goods.PILOT}),
        ({"family": "Godwit"}, {goods.GODWIT_KIT}),
        ({"tube": "Tube 27/64"}, {*TURNSTONES, goods.TUBE}),
        ({"tube": "10.15 mm"}, {goods.BODY_TUBE, goods.AVOCET_KIT}),
        ({"tube": "12.5 mm"}, {goods.CAP_TUBE, goods.AVOCET_KIT}),
        ({"drill": "27/64"}, {*TURNSTONES, goods.TUBE, goods.DRILL}),
        ({"drill": "10.5 mm"}, {goods.BODY_TUBE, goods.AVOCET_KIT, goods.DRILL_BODY}),
        ({"drill": "3/8"}, {goods.GODWIT_KIT}),
        ({"text": "kit TURNSTONE"}, TURNSTONES),
        ({"text": "spring"}, {goods.SLIM}),
        ({"family": "Turnstone", "plating": "gunmetal"}, {goods.GUN_KIT}),
        ({"kind": "kit", "drill": "10.5 mm"}, {goods.AVOCET_KIT}),
        ({"text": "heron"}, set()),
    ],
    ids=lambda value: " ".join(map(str, value.items())) if isinstance(value, dict) else "",
)
def test_each_filter(filters: dict[str, object], names: set[str]) -> None:
    """What passes is what a maker would reach for; several filters all hold."""
    assert shown(**filters) == names


@pytest.mark.parametrize(
    "filters",
    [
        {"kind": "kitz"},
        {"plating": "chrom"},
        {"material": "oliv wood"},
        {"family": "Avocett"},
        {"tube": "tube 27/46"},
    ],
    ids=lambda value: next(iter(value)),
)
def test_an_unknown_filter_offers_the_nearest(filters: dict[str, object]) -> None:
    """A mistyped word is refused, never taken for an empty shelf."""
    with pytest.raises(UnknownName) as caught:
        shown(**filters)
    assert caught.value.nearest


def test_a_drill_that_is_none() -> None:
    """A drill filter must be a drill."""
    with pytest.raises(BadInput):
        shown(drill="blunt")


def test_the_whole_shelf_in_order() -> None:
    """Without filters every part, by kind and name, the unbooked ones with nothing."""
    rows = shelf(goods.catalogue(), plenty().book, Filters(), TODAY)
    assert len(rows) == len(goods.catalogue().parts)
    keys = [(KINDS.index(row.part.kind), fold(row.part.name)) for row in rows]
    assert keys == sorted(keys)
    assert next(row.balance for row in rows if row.part.name == goods.ACRYLIC) == Balance()


def test_what_a_row_tells() -> None:
    """Family and plating of a kit, size and drill of a tube, size of a drill, and nothing of the rest."""
    stock = plenty()
    stock.to_count = (goods.TUBE.upper(),)
    rows = {row.part.name: row for row in shelf(goods.catalogue(), stock.book, Filters(), TODAY)}
    assert (rows[goods.CHROME_KIT].family, rows[goods.CHROME_KIT].plating) == ("Turnstone", "chrome")
    assert (rows[goods.TUBE].tube, rows[goods.TUBE].drill) == ("10.3 mm × 55.8 mm", "27/64")
    assert (rows[goods.DRILL_CAP].drill, rows[goods.SAW].drill, rows[goods.ANTLER].tube) == (
        "12.5 mm",
        "",
        "",
    )
    assert [row.to_count for row in rows.values() if row.to_count] == [True]
    assert rows[goods.TUBE].to_count


def test_tools_without_size_have_no_drill() -> None:
    """A drill of unknown size passes no drill filter; a tube no barrel takes still passes its own."""
    odd = Part("odd", Tool("drill"))
    loose = Part("loose", Tube(read_length("7 mm"), read_length("53 mm"), read_drill("27/64")))
    rows = shelf(goods.catalogue().with_parts(odd, loose), Stock().book, Filters(drill="27/64"), TODAY)
    names = {row.part.name for row in rows}
    assert "loose" in names
    assert "odd" not in names


@pytest.mark.parametrize(
    ("level", "balance", "low"),
    [
        (None, Balance(), False),
        (None, Balance(to_buy=1), True),
        (5000, Balance(5000), False),
        (5000, Balance(5000, 1), True),
        (5000, Balance(2000, 0, 3000), False),
        (5000, Balance(2000, 0, 3000, 1), True),
    ],
    ids=["no level", "promised", "at it", "claimed under it", "due in", "due in claimed"],
)
def test_what_is_low(level: int | None, balance: Balance, low: bool) -> None:
    """Free plus unclaimed due-in under the level, or promised without being there."""
    assert is_low(replace(goods.catalogue().part(goods.TUBE), level=level), balance, balance.unclaimed) == low


def test_only_the_low_ones() -> None:
    """Epoxy under its 10 ml, and kits to buy."""
    stock = plenty().with_only(goods.EPOXY, 9999)
    stock.claim("Reed", goods.RHODIUM_KIT, 1000, "to buy")
    rows = shelf(goods.catalogue(), stock.book, Filters(low=True), TODAY)
    assert [row.part.name for row in rows] == [goods.RHODIUM_KIT, goods.EPOXY]
    assert all(row.low for row in rows)


def test_how_orders_stand() -> None:
    """Open ones by their day: requests by their verdict, promises by what they lack."""
    stock = plenty().with_only(goods.CHROME_KIT, 6000)
    stock.orders += [
        order("late wish", 4, due=TODAY - timedelta(days=1)),
        order("possible", 4),
        order("mistaken", 4, pattern="Heron"),
        order("done", 4, state="handed over"),
        order("given up", 4, state="released"),
        order("waits", 4, state="promised", due=TODAY - timedelta(days=2)),
        order("ready", 4, state="promised", due=TODAY),
    ]
    stock.claim("waits", goods.RHODIUM_KIT, 1000, "to buy")
    stock.claim("waits", goods.TUBE, 1000, "to buy")
    stock.claim("ready", goods.TUBE, 1000)
    here = shop(stock)
    got = [(one.order.name, one.stands) for one in standings(here)]
    assert got == [
        ("waits", "2 to buy, overdue"),
        ("late wish", "past its day"),
        ("ready", "all set aside"),
        ("mistaken", "There is no pattern called “Heron”."),
        ("possible", "from the shelf"),
    ]
    every = {one.order.name: one.stands for one in standings(here, everything=True)}
    assert (every["done"], every["given up"], len(every)) == ("handed over", "released", 7)
    (one,) = standings(here, "READY")
    assert [claim.part for claim in one.claims] == [goods.TUBE]
    with pytest.raises(UnknownName):
        standings(here, "nobody")


@pytest.mark.parametrize(
    ("day", "said"), [(DUE, "due in 2026-12-16"), (None, "due in")], ids=["a day", "no day"]
)
def test_a_promise_that_waits_for_a_delivery(day: object, said: str) -> None:
    """What is claimed of a delivery is said with the last of its days."""
    stock = plenty()
    stock.orders.append(order("Reed", state="promised"))
    row = stock.coming(goods.TUBE, 2000, DUE if day else None)
    stock.coming(goods.TUBE, 2000, DUE + timedelta(days=9))
    stock.claims.append(Claim("Reed", goods.TUBE, "due claim", 2000, None, row))
    assert standings(shop(stock))[0].stands == said


movements = st.lists(
    st.tuples(
        st.sampled_from(["shelf", "claim", "due", "to buy"]), st.integers(-99, 99), st.integers(-99, 99)
    ),
    max_size=9,
)


@given(movements)
def test_the_story_of_a_part_adds_up(lines: list[tuple[Account, int, int]]) -> None:
    """After each step the totals are the sums of the shelf and claim lines so far."""
    document = Document(3, "count", "Count", TODAY, "2026-11-25T10:00:00Z")
    history = [
        Happening(document, goods.TUBE, account, quantity, cost, 7, order="Reed")
        for account, quantity, cost in lines
    ]
    stock = plenty()
    story = trace(goods.catalogue().part(goods.TUBE), history, stock.book, TODAY)
    for at, step in enumerate(story.steps, 1):
        sofar = lines[:at]
        assert step.on_hand == sum(quantity for account, quantity, _ in sofar if account == "shelf")
        assert step.worth == sum(cost for account, _, cost in sofar if account == "shelf")
        assert step.claimed == sum(quantity for account, quantity, _ in sofar if account == "claim")
        assert (step.document, step.title, step.on, step.order, step.lot) == (3, "Count", TODAY, "Reed", 7)
    assert story.worth == sum(cost for account, _, cost in lines if account == "shelf")
    assert (story.balance, story.lots) == (stock.book.balance(goods.TUBE), stock.book.lots_of(goods.TUBE))
    assert story.free[0] == (TODAY, 80_000)


def test_loading_makes_one_document() -> None:
    """Counts, requests and the fingerprint of the sheets become one document on top of the book as it is."""
    stock = plenty().with_only(goods.TUBE, 5000, 100)
    counts = (Count(goods.TUBE, 4000), Count(goods.ACRYLIC, 2000, Fraction(300)))
    requested = order("Reed")
    intake = Intake(
        counts=counts, orders=(requested,), fingerprint="abc", rows=(("counts", 2),), notes=("a note",)
    )
    known = KnownShop(goods.catalogue().parts, shop(stock).prices, EUR)
    done = load(intake, stock.book, TODAY, "Load shop.xlsx", known)
    assert done.proposal.kind == "load"
    assert (done.proposal.fingerprint, done.proposal.expected_version, done.proposal.orders) == (
        "abc",
        7,
        (requested,),
    )
    lines = [(one.part, one.quantity, one.cost) for one in done.proposal.lines]
    assert lines == [(goods.TUBE, -1000, -20), (goods.ACRYLIC, 2000, 600)]
    assert done.proposal.counted == (goods.TUBE, goods.ACRYLIC)
    assert [(one.part, one.booked, one.found) for one in done.differences] == [(goods.TUBE, 5000, 4000)]
    assert (done.rows, done.notes, len(done.proposal.lots)) == ((("counts", 2),), ("a note",), 1)


def test_the_nearest_drills() -> None:
    """Of those on hand, by size; where none is on hand, of those known."""
    there = shop(plenty())
    found = nearest_drills(there.catalogue, there.book, "11 mm")
    assert [part.name for part, _ in found] == [goods.DRILL]
    none = shop(Stock())
    names = [part.name for part, _ in nearest_drills(none.catalogue, none.book, "11 mm", 2)]
    assert names == [goods.DRILL, goods.DRILL_BODY]
    with pytest.raises(BadMeasure):
        nearest_drills(none.catalogue, none.book, "a wide one")
