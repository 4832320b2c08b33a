"""Sessions booked: single facts of what is drawn, kept, claimed and handed on."""

from __future__ import annotations

import pytest

from inventory.catalogue import Kit, Part, Piece, fold
from inventory.errors import NeverMade, Place
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.handing_over import HandingOver, hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.sessions.reconciling.booking import book_session
from inventory.ledger.claims import claims_of
from inventory.reports.filled import FilledBottle
from inventory.store import Store, verify
from jobs import goods
from jobs.evening_case import Evening
from jobs.sessions import SATURDAY, booked, filled, here, piece, promised, worked_out
from jobs.shop import DUE, TODAY, order, plenty, shop
from jobs.weekend_case import on_hand, picture, rows_of


def test_a_piece_draws_what_it_had_eaten(store: Store) -> None:
    """Lost at drill: a blank, no tube; lost at turn: tube and glue, no kit; lost at assemble: the kit too."""
    at = rows_of(store)
    done = booked(store, filled([piece(at["Reed"], 3, lost={"drill": 1, "turn": 1, "assemble": 1})]))
    got = done.tally.quantity
    assert (got[fold(goods.OLIVE)], got[fold(goods.TUBE)], got[fold(goods.CHROME_KIT)]) == (
        3000,
        5000,
        4000,
    )  # two pieces a blank
    assert (got[fold(goods.STRIP)], got[fold(goods.EPOXY)]) == (2000, 2000)
    assert set(done.tally.lost_cost) == {"drill", "turn", "assemble"}
    lost = sum(line.cost for line in done.proposal.lines if line.account == "shelf" and line.reason == "lost")
    assert sum(done.tally.lost_cost.values()) == -lost


def test_saved_tubes_and_kits_are_not_drawn(store: Store) -> None:
    """A kit saved whole stays on the shelf; one saved in part is gone and comes back as fittings at no cost."""
    at = rows_of(store)
    kits, tubes = on_hand(store, goods.CHROME_KIT), on_hand(store, goods.TUBE)
    lost = {"turn": 2, "assemble": 3}
    done = booked(store, filled([piece(at["Reed"], 2, lost=lost, tubes_saved=2, kits_saved=1, in_part=1)]))
    assert kits - on_hand(store, goods.CHROME_KIT) == 4000  # two good, one lost, one in part
    assert tubes - on_hand(store, goods.TUBE) == 5000
    assert done.tally.saved == [(f"{goods.CHROME_KIT} in part", 1000)]
    assert sum(lot.cost for lot in here(store).book.lots_of(f"{goods.CHROME_KIT} in part")) == 0


def test_spare_tubes_replace_those_of_a_kit(store: Store) -> None:
    """Lost at turn with spare tubes on the shelf: they are drawn, and the kit stays whole."""
    kits = on_hand(store, goods.AVOCET_KIT)
    done = booked(store, filled([piece(rows_of(store)["Tern"], 2, lost={"turn": 1})]))
    assert kits - on_hand(store, goods.AVOCET_KIT) == 2000
    assert (on_hand(store, goods.CAP_TUBE), on_hand(store, goods.BODY_TUBE), done.tally.saved) == (0, 0, [])


def test_without_spare_tubes_a_kit_is_robbed(store: Store) -> None:
    """The second piece lost has no spare tubes: its kit comes back as fittings, with the kit's cost."""
    before = here(store).book
    done = booked(store, filled([piece(rows_of(store)["Tern"], 1, lost={"turn": 2})]))
    name = f"{goods.AVOCET_KIT} without its tubes"
    assert done.tally.saved == [(name, 1000)]
    after = here(store).book
    assert before.balance(goods.AVOCET_KIT).on_hand - after.balance(goods.AVOCET_KIT).on_hand == 2000
    (cannibalised,) = [line for line in done.proposal.lines if line.reason == "robbed"]
    (lot,) = after.lots_of(name)
    assert (cannibalised.order, cannibalised.stage) == ("Tern", "glue")
    assert (lot.quantity, lot.cost) == (1000, -cannibalised.cost)
    assert (lot.cost > 0, on_hand(store, goods.CAP_TUBE)) == (True, 0)


@pytest.mark.parametrize("spare", [0, 1])
def test_no_tube_is_drawn_that_is_not_there(spare: int) -> None:
    """Two are lost: what spare tubes there are go into one; the others lay in kits that are no longer whole."""
    known = goods.catalogue().with_parts(Part(goods.AVOCET_KIT, Kit("Avocet", "gunmetal", tubes_inside=True)))
    stock = plenty()
    stock.lot(goods.AVOCET_KIT, 9000, 900)
    for tube in (goods.CAP_TUBE, goods.BODY_TUBE) if spare else ():
        stock.lot(tube, 1000, 10)
    wanted = order("Tern", 3, pattern="Avocet gloss", platings=("gunmetal",))
    evening = Evening.of(shop(stock, known), [wanted])
    sheet = filled([piece(1, 1, lost={"turn": 2})])
    done = book_session(evening.after_planning, evening.session, sheet)
    taken = [done.tally.quantity.get(fold(part), 0) for part in (goods.CAP_TUBE, goods.BODY_TUBE)]
    assert (taken, done.tally.saved) == (
        [1000 * spare] * 2,
        [(f"{goods.AVOCET_KIT} without its tubes", 2000 - 1000 * spare)],
    )
    assert done.tally.found == []


def test_what_the_session_takes_once(store: Store) -> None:
    """One pot of epoxy for both rows of Turnstones, shared by pieces; none for a session of stoppers."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    done = worked_out(store, filled([piece(at["Reed"], 5), piece(stall, 2)]))
    assert done.tally.quantity[fold(goods.EPOXY)] == 2000
    assert fold(goods.EPOXY) not in worked_out(store, filled([piece(at["Knot"], 2)])).tally.quantity


def test_orders_claim_what_was_made_for_them(store: Store) -> None:
    """Three of five good: three finished are set aside, and parts for the other two."""
    at = rows_of(store)
    booked(store, filled([piece(at["Reed"], 3), piece(at["Knot"], 2)]))
    shop = here(store)
    assert (made_for(shop, "Reed"), made_for(shop, "Knot")) == (3, 2)
    assert sum(c.quantity for c in claims_of(shop.book, "Reed") if c.part == goods.CHROME_KIT) == 2000
    stands = {one.order.name: one.stands for one in standings(shop)}
    assert stands["Reed"] == "3 of 5 finished, all set aside"
    assert stands["Knot"] == "finished: hand it over"
    assert stands["Tern"] == "all set aside"


def test_stall_pieces_serve_whoever_asks(store: Store) -> None:
    """Free finished pieces: a new request of the same kind finds them, and only what is beyond them is to make."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    booked(store, filled([piece(at["Reed"], 5), piece(stall, 2)]))
    shop = here(store)
    assert not any(one.order.name.startswith("stall") for one in standings(shop))
    report = check(shop, OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, 2, DUE))
    assert (report.verdict, report.starts) == ("from the shelf", 0)
    assert report.why == ("2 finished ones are on the shelf.",)
    assert check(shop, OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, 4, DUE)).starts >= 2
    assert check(shop, OrderRequest("Turnstone gloss", ("rhodium",), goods.OLIVE, 2, DUE)).starts >= 2


def test_a_customer_goes_before_the_stall(store: Store) -> None:
    """An order that came two short takes the stall's two of the same kind."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    booked(store, filled([piece(at["Reed"], 3), piece(stall, 2)]))
    assert made_for(here(store), "Reed") == 5


def test_finished_pieces_are_handed_over_first(store: Store) -> None:
    """At their exact cost; only what is missing draws parts."""
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)]))
    (made,) = done.tally.pieces
    shop = here(store)
    over = hand_over(shop, shop.book.orders["reed"])
    assert [(one.part, one.quantity, one.cost) for one in over.drawn] == [(made[1], 5000, made[3].amount)]
    store.commit(over.proposal)
    assert (verify(store), on_hand(store, made[1])) == ((), 0)


def test_a_part_finished_order_draws_parts_for_the_rest(store: Store) -> None:
    """Three finished of five: where the others were made now, three pieces and two bills; else it is not assumed."""
    done = booked(store, filled([piece(rows_of(store)["Reed"], 3)]))
    shop = here(store)
    with pytest.raises(NeverMade, match="2 of 5 pieces of Reed were never booked as made") as refused:
        hand_over(shop, shop.book.orders["reed"])
    assert ("--count 3" in refused.value.hint, "--made-now" in refused.value.hint) == (True, True)
    over = hand_over(shop, shop.book.orders["reed"], HandingOver(made_now=True))
    drawn = {one.part: one.quantity for one in over.drawn}
    assert (drawn[done.tally.pieces[0][1]], drawn[goods.CHROME_KIT], drawn[goods.TUBE]) == (3000, 2000, 2000)
    assert over.drawn[0].cost == done.tally.pieces[0][3].amount


def test_others_who_wait_get_what_was_over(store: Store) -> None:
    """A row left empty at the stall gives its kits back, to an order that had them to buy."""
    many = on_hand(store, goods.CHROME_KIT) // 1000
    promised(store, order("Late", many))
    short = here(store).book.balance(goods.CHROME_KIT).to_buy
    assert short > 0
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)]))
    assert here(store).book.balance(goods.CHROME_KIT).to_buy < short
    state = dict(done.proposal.order_states)
    assert [said for name, said in state.items() if name.startswith("stall")] == ["released"]


def test_more_than_the_book_holds_is_found(store: Store) -> None:
    """More kits went in than the book had: booked as found, and to be counted."""
    many = on_hand(store, goods.GODWIT_KIT) // 1000 + 1
    done = booked(store, filled([piece(rows_of(store)["Knot"], many)]))
    assert done.tally.found == [goods.THICK, goods.GODWIT_KIT] or goods.GODWIT_KIT in done.tally.found
    assert goods.GODWIT_KIT in here(store).book.to_count
    assert any("were started" in said for said in done.announced)


def test_bottles_fuller_and_emptier_than_the_book(store: Store) -> None:
    """Each bottle holds afterwards what the scale said, whatever the other one said."""
    first, second = here(store).book.lots_of(goods.GLUE)
    where = Place("saturday", "bottles", 2)
    grams = {first.id: 12_000 + 5250, second.id: 12_000 + 63_000}  # 5 ml and 60 ml at 1.05 g/ml
    bottles = tuple(FilledBottle(where, goods.GLUE, lot, gross) for lot, gross in grams.items())
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)], bottles=bottles))
    fuller, opened = here(store).book.lots_of(goods.GLUE)
    assert (fuller.id, fuller.quantity) == (second.id, 60_000)
    assert (opened.name, opened.quantity, opened.opened_on) == (first.name, 5000, SATURDAY)
    assert any("more in it than the book says" in said for said in done.announced)
    assert done.proposal.observed[0].used == 11_000


def test_finished_pieces_are_told_apart(store: Store) -> None:
    """Two added rows alike are one part with two lots, each at its own cost."""
    extra = {"pattern": "Turnstone gloss", "blank": goods.OLIVE, "plating": "chrome"}
    done = booked(store, filled([piece(0, 2, **extra), piece(0, 3, lost={"turn": 1}, **extra)]))
    (part,) = {made[1] for made in done.tally.pieces}
    lots = here(store).book.lots_of(part)
    assert sorted((lot.quantity, lot.cost) for lot in lots) == sorted(
        (1000 * many, cost.amount) for _, _, many, cost in done.tally.pieces
    )
    assert isinstance(here(store).catalogue.part(part).detail, Piece)


def test_a_session_opens_a_bottle_on_its_day_and_undo_closes_it(store: Store) -> None:
    """What it took from a sealed lot of thin CA opens one; the day is said, and `undo` takes it back."""
    before = picture(store)
    assert {lot.opened_on for lot in here(store).book.lots_of(goods.GLUE)} == {None}
    booked(store, filled([piece(rows_of(store)["Reed"], 5)]))
    opened = [lot for lot in here(store).book.lots_of(goods.GLUE) if lot.opened_on]
    assert [(lot.opened_on, lot.received_on) for lot in opened] == [(SATURDAY, TODAY)]
    store.commit(store.undo(on=SATURDAY))
    assert (picture(store), verify(store)) == (before, ())
