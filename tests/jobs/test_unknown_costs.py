"""A cost that nobody knows is not 0: it goes with the stock into pieces, sums leave it out and say so."""

from __future__ import annotations

from dataclasses import replace

from inventory.cli.json.order import order_json
from inventory.cli.json.session import session_json
from inventory.cli.screens.making.session_report import session_screen
from inventory.cli.screens.orders.can_take import order_screen
from inventory.errors import Place
from inventory.jobs.counting.count_booking import book_count
from inventory.jobs.orders.handing_over import hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.sessions.reconciling.session_report import look_back
from inventory.ledger import Line, NewLot, Proposal
from inventory.ledger.costs import BY_OFFER, SAID, UNKNOWN
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledCount, FilledCounts
from inventory.store import Store, verify
from jobs import goods
from jobs.booking import booked as applied
from jobs.sessions import booked, filled, here, piece
from jobs.shop import TODAY, Stock, order, plenty, request, shop
from jobs.test_handing_over import take
from jobs.weekend_case import rows_of


def dark(part: str, quantity: int = 100_000, offers: bool = False) -> Shop:
    """The shop with all of one part of unknown cost; offers: whether anybody offers it."""
    stock: Stock = plenty().without(part)
    stock.lot(part, quantity, cost_from=UNKNOWN)
    there = shop(stock)
    return (
        there
        if offers
        else replace(there, offers={k: v for k, v in there.offers.items() if k != part.casefold()})
    )


def test_no_price_is_given_of_what_is_made_of_it_and_what_lacks_is_named() -> None:
    """Neither cost nor lowest price of a piece in the answer, though an offer would say what new glue costs."""
    there = dark(goods.GLUE, offers=True)
    report = check(there, request(4, price=1))
    assert report.price.unpriced == (goods.GLUE,)
    told = order_json(there, report)
    assert (told["cost_per_piece"], told["lowest_price"], told["unpriced"]) == (None, None, [goods.GLUE])
    assert f"No price of a piece can be given: nobody knows what {goods.GLUE} cost" in " ".join(
        report.cautions
    )
    assert not any("under the lowest" in one for one in report.cautions)
    screen = " ".join(" ".join(order_screen(there, report)).split())
    assert f"Price none: nobody knows what {goods.GLUE} cost" in screen


def test_what_costs_nothing_is_priced() -> None:
    """A lot that was said to cost 0 is no riddle."""
    stock = plenty().without(goods.STRIP)
    stock.lot(goods.STRIP, 60_000, 0)
    assert check(shop(stock), request()).price.known


def test_handing_over_names_what_it_cannot_price() -> None:
    """The sum is of the rest, and said to be."""
    there = take(dark(goods.STRIP), order("Reed", 2))
    done = hand_over(there, there.book.orders["reed"])
    assert done.unpriced == (goods.STRIP,)
    assert done.cost == sum(one.cost for one in done.drawn if one.part != goods.STRIP) > 0


def test_what_is_found_without_an_offer_is_unknown_or_as_the_lot_beside_it() -> None:
    """Strips run out and nobody offers any: what was found costs as those drawn just before, else nobody knows."""
    there = take(shop(), order("Reed", 2))
    alike = plenty().without(goods.STRIP)
    alike.lot(goods.STRIP, 500, 50)
    there = take(shop(alike), order("Reed", 2))
    done = hand_over(there, there.book.orders["reed"])
    strip = next(one for one in done.drawn if one.part == goods.STRIP)
    assert (strip.found, strip.cost, strip.cost_from) == (500, 100, SAID)
    there = take(shop(plenty().without(goods.STRIP)), order("Reed", 2))
    done = hand_over(there, there.book.orders["reed"])
    strip = next(one for one in done.drawn if one.part == goods.STRIP)
    assert (strip.found, strip.cost, strip.cost_from) == (1000, 0, UNKNOWN)
    applied(there, done.proposal)


def _made(store: Store, part: str, cost: int, mark: int) -> tuple[Line, str, str]:
    """Five pieces for Reed where all of one part is a lot of this mark: the line that brings them, screen and names."""
    lines = [
        Line("shelf", lot.part, -lot.quantity, -lot.cost, lot=lot.id)
        for lot in here(store).book.lots_of(part)
    ]
    claims = [
        Line("claim", one.part, -one.quantity, lot=one.lot, order=one.order)
        for one in here(store).book.claims
        if one.part == part and one.account == "claim"
    ]
    new = Line("shelf", part, 90_000, cost, lot="n", cost_from=mark)
    back = [replace(one, quantity=-one.quantity, lot=None) for one in claims]
    store.commit(
        Proposal(
            "count", "x", TODAY, lines=(*claims, *lines, new, *back), lots=(NewLot("n", part, "n", TODAY),)
        )
    )
    done = booked(store, filled([piece(rows_of(store)["Reed"], 4, lost={"turn": 1})]))
    nothing = LearnedFigures((), ())
    report = look_back(done, (), here(store).catalogue, nothing, nothing, ())
    screen = " ".join(" ".join(session_screen(done, report)).split())
    assert session_json(done, report)["unpriced"] == list(report.unpriced)
    made = next(one for one in done.proposal.lines if one.reason == "made")
    return made, screen, " ".join(report.unpriced)


def test_pieces_made_of_it_are_unknown_too(store: Store) -> None:
    """The finished lot carries the mark with what is known of its cost; undo takes it away; the book proves sound."""
    made, screen, unpriced = _made(store, goods.CHROME_KIT, 0, UNKNOWN)
    assert (made.cost_from, unpriced) == (UNKNOWN, goods.CHROME_KIT)
    assert made.cost > 0
    assert f"Nobody knows what {goods.CHROME_KIT} cost; the sums leave it out." in screen
    assert "known materials" in screen
    (lot,) = here(store).book.lots_of(made.part)
    assert lot.cost_from == UNKNOWN
    assert verify(store) == ()
    store.commit(store.undo(on=TODAY))
    assert (here(store).book.lots_of(made.part), verify(store)) == ((), ())


def test_pieces_made_by_the_offer_are_by_the_offer(store: Store) -> None:
    """Their cost is known as well as that of the least known thing in them."""
    made, screen, unpriced = _made(store, goods.OLIVE, 27_000, BY_OFFER)
    assert (made.cost_from, unpriced) == (BY_OFFER, "")
    assert "Nobody knows" not in screen


def test_a_count_of_unknown_stock_has_no_value() -> None:
    """The shelf's cost changes by what is known, and the part is named."""
    there = dark(goods.STRIP, 10_000)
    sheet = FilledCounts("", 0, rows=(FilledCount(Place("c", "counts", 2), goods.STRIP, 9000),))
    report = book_count(there, sheet, "")
    assert (report.cost, report.unpriced, report.found[0].value) == (0, (goods.STRIP,), None)
    offered = dark(goods.GLUE, 10_000, offers=True)
    sheet = FilledCounts("", 0, rows=(FilledCount(Place("c", "counts", 2), goods.GLUE, 9000),))
    assert book_count(offered, sheet, "").found[0].value == -12
