"""Handing over: what went into the pieces leaves the shelf, first in, first out, and the claims end."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.catalogue import Kit, Order, Part, Pattern
from inventory.errors import BadInput, Refused
from inventory.jobs.orders.handing_over import HandingOver, HandOver, hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import request_of
from inventory.ledger import Balance, Line
from inventory.ledger.claims import claims_of
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.booking import booked
from jobs.shop import TODAY, Stock, order, plenty, shop


def take(here: Shop, one: Order) -> Shop:
    """The shop once the order is promised."""
    return booked(here, promise(here, one, check(here, request_of(one))))


def over(here: Shop, name: str = "Reed", **lost: int) -> tuple[HandOver, Shop]:
    """The hand-over and the shop after it."""
    done = hand_over(here, here.book.orders[name.casefold()], HandingOver(lost=lost))
    return done, booked(here, done.proposal)


def used(done: HandOver) -> dict[str, int]:
    """Thousandths drawn of each part."""
    return {one.part: one.quantity for one in done.drawn}


def shelf_lines(done: HandOver, part: str) -> list[Line]:
    """The lines of a part on the shelf."""
    return [one for one in done.proposal.lines if one.account == "shelf" and one.part == part]


def later_stock(here: Shop) -> Stock:
    """The shop's book, to add to."""
    lots = [lot for lots in here.book.lots.values() for lot in lots]
    return Stock(lots, list(here.book.claims), [], list(here.book.orders.values()))


def worth(here: Shop) -> int:
    """The cost of everything on the shelf."""
    return sum(lot.cost for lots in here.book.lots.values() for lot in lots)


def test_the_bill_of_the_pieces_leaves_the_shelf() -> None:
    """Four pieces take four kits, tubes and refills, two blanks of two, half a strip each, epoxy once."""
    before = take(shop(), order("Reed", 4))
    done, after = over(before)
    got = used(done)
    assert (got[goods.CHROME_KIT], got[goods.TUBE], got[goods.REFILL], got[goods.OLIVE]) == (
        4000,
        4000,
        4000,
        2000,
    )
    assert (got[goods.STRIP], got[goods.EPOXY]) == (2000, 2000)
    for part, quantity in got.items():
        assert before.book.balance(part).on_hand - after.book.balance(part).on_hand == quantity
    assert after.book.orders["reed"].state == "handed over"
    assert claims_of(after.book, "Reed") == ()
    assert after.book.to_count == ()
    assert done.proposal.title == "Hand over Reed"


def test_cost_leaves_with_what_is_used() -> None:
    """What the shelf was worth is what it is worth plus the cost of the pieces, to the last coin."""
    before = take(shop(), order("Reed", 4))
    done, after = over(before, turn=1, drill=2)
    assert worth(before) == worth(after) + done.cost
    kit = next(one for one in done.drawn if one.part == goods.CHROME_KIT)
    assert (kit.cost, kit.unit, kit.found) == (4 * 400, "piece", 0)


def test_oldest_lots_first() -> None:
    """Three kits of the first lot and one of the second, at their own costs."""
    stock = plenty().without(goods.CHROME_KIT)
    first, second = stock.lot(goods.CHROME_KIT, 3000, 1000), stock.lot(goods.CHROME_KIT, 9000, 4500)
    done, _ = over(take(shop(stock), order("Reed", 4)))
    lines = [
        (one.lot, one.quantity, one.cost)
        for one in done.proposal.lines
        if one.account == "shelf" and one.part == goods.CHROME_KIT
    ]
    assert lines == [(first, -3000, -1000), (second, -1000, -500)]


def test_lost_pieces_take_what_their_stages_eat() -> None:
    """One lost at turning and one at assembly: the blank and tube of both, the kit of the second alone."""
    got = used(over(take(shop(), order("Reed", 4)), turn=1, assemble=1)[0])
    assert (got[goods.CHROME_KIT], got[goods.TUBE], got[goods.STRIP], got[goods.OLIVE]) == (
        5000,
        6000,
        2500,
        3000,
    )


def test_losses_that_did_not_come_take_no_blanks() -> None:
    """Half of the pieces were expected to fail and none did: four pieces are two blanks of two, not four."""
    known = goods.catalogue().with_losses("olive wood", turn="0.5")
    here = take(shop(plenty(), known), order("Reed", 4))
    assert used(over(here)[0])[goods.OLIVE] == 2000


def test_none_lost_at_a_stage_may_be_said() -> None:
    """As if nothing had been said of it."""
    before = take(shop(), order("Reed", 4))
    assert used(over(before, turn=0)[0]) == used(over(before)[0])


@pytest.mark.parametrize(
    ("lost", "said"), [({"polish": 1}, "not a stage"), ({"turn": -1}, "cannot be spoiled")]
)
def test_losses_that_cannot_be(lost: dict[str, int], said: str) -> None:
    """An unknown stage and less than nothing are refused."""
    here = take(shop(), order("Reed", 4))
    with pytest.raises(BadInput, match=said):
        hand_over(here, here.book.orders["reed"], HandingOver(lost=lost))


@pytest.mark.parametrize(
    ("state", "hint"), [("wish", "promise"), ("released", "promise"), ("handed over", "handed over before")]
)
def test_only_a_promise_is_handed_over(state: str, hint: str) -> None:
    """Any other order is refused, with what to do."""
    with pytest.raises(Refused, match="not promised") as caught:
        hand_over(shop(), order("Reed", state=state))
    assert hint in caught.value.hint


def test_what_the_book_does_not_hold_is_found() -> None:
    """The shop made it all the same: the missing kits are found at the offer's price, and to be counted."""
    here = take(shop(plenty().with_only(goods.CHROME_KIT, 1000, 400)), order("Reed", 4))
    done, after = over(here)
    kit = next(one for one in done.drawn if one.part == goods.CHROME_KIT)
    assert (kit.quantity, kit.found, kit.cost) == (4000, 3000, 400 + 810)
    reasons = [
        (one.reason, one.quantity)
        for one in done.proposal.lines
        if one.account == "shelf" and one.part == goods.CHROME_KIT
    ]
    assert reasons == [("used", -1000), ("found", 3000), ("used", -3000)]
    assert done.proposal.to_count == after.book.to_count == (goods.CHROME_KIT,)
    assert after.book.balance(goods.CHROME_KIT).on_hand == 0


def test_the_measured_blanks_set_aside_are_the_ones_used() -> None:
    """The claimed antlers leave by their lots; a better one that came later stays."""
    stock = plenty()
    mine = {stock.measured("a", "20 mm", "70 mm", 100), stock.measured("b", "20 mm", "70 mm", 200)}
    here = take(shop(stock), order("Reed", 2, blank=goods.ANTLER))
    later = later_stock(here)
    better = later.measured("long", "15 mm", "130 mm")
    done, after = over(shop(later))
    drawn = {one.lot for one in shelf_lines(done, goods.ANTLER)}
    assert drawn == mine
    assert [lot.id for lot in after.book.lots_of(goods.ANTLER)] == [better]
    assert next(one.cost for one in done.drawn if one.part == goods.ANTLER) == 300


def test_another_order_s_lot_is_not_drawn() -> None:
    """Of a box of four shared by two orders only the own half leaves by name; the rest comes from elsewhere."""
    stock = plenty()
    box = stock.lot(goods.ANTLER, 4000, 400, name="box")
    stock.lot(goods.ANTLER, 5000, 50)
    stock.orders += [
        order("Reed", 3, blank=goods.ANTLER, state="promised"),
        order("Sedge", 3, blank=goods.ANTLER, state="promised"),
    ]
    stock.claim("Reed", goods.ANTLER, 1000, lot=box)
    stock.claim("Sedge", goods.ANTLER, 3000, lot=box)
    done, after = over(shop(stock))
    drawn = [
        (one.lot, one.quantity)
        for one in done.proposal.lines
        if one.account == "shelf" and one.part == goods.ANTLER
    ]
    assert drawn == [(box, -1000), (stock.lots[-1].id, -2000)]
    assert claims_of(after.book, "Sedge")[0].quantity == 3000


def test_what_went_off_is_used_last() -> None:
    """Nobody glues with a bottle gone off while a good one is there, though it came first."""
    stock = plenty().without(goods.GLUE)
    stock.lot(goods.GLUE, 9000, 90, use_by=TODAY - timedelta(days=1))
    good = stock.lot(goods.GLUE, 9000, 40)
    done, _ = over(take(shop(stock), order("Reed", 4)))
    assert [one.lot for one in shelf_lines(done, goods.GLUE)] == [good, "lot 1", "lot 1"]  # opened, and used


def test_a_bottle_gone_off_serves_where_nothing_else_is_left() -> None:
    """The good bottle is emptied first, then the old one."""
    stock = plenty().without(goods.GLUE)
    old = stock.lot(goods.GLUE, 9000, 90, use_by=TODAY - timedelta(days=1))
    good = stock.lot(goods.GLUE, 1000, 40)
    done, _ = over(take(shop(stock), order("Reed", 4)))
    drawn = [(one.lot, one.quantity) for one in shelf_lines(done, goods.GLUE) if one.reason == "used"]
    assert drawn == [(good, -1000), ("lot 1", 1000 - used(done)[goods.GLUE])]
    assert (old, "opened") in [(one.lot, one.reason) for one in shelf_lines(done, goods.GLUE)]


def test_more_claimed_than_used_goes_to_who_waits() -> None:
    """Reed had set aside a tube for a loss that did not come; Sedge, who waits for five, gets it."""
    here = take(shop(plenty().with_only(goods.TUBE, 5000)), order("Reed", 4, due=TODAY))
    here = take(here, order("Sedge", 4))
    assert here.book.balance(goods.TUBE) == Balance(5000, 5000, to_buy=5000)
    _, after = over(here)
    assert after.book.balance(goods.TUBE) == Balance(1000, 1000, to_buy=4000)


def test_more_used_than_claimed_is_taken_from_who_is_due_last() -> None:
    """Losses ate what Sedge held: Sedge's claim waits again, and never exceeds the shelf."""
    here = take(shop(plenty().with_only(goods.CHROME_KIT, 10_000)), order("Reed", 4, due=TODAY))
    here = take(here, order("Sedge", 4))
    held = here.book.balance(goods.CHROME_KIT).claimed
    _, after = over(here, assemble=4)
    left = after.book.balance(goods.CHROME_KIT)
    assert left.on_hand == left.claimed == 2000
    assert left.claimed < held
    assert left.claimed + left.to_buy == sum(
        claim.quantity for claim in claims_of(here.book, "Sedge") if claim.part == goods.CHROME_KIT
    )


def test_the_plating_held_is_the_one_drawn() -> None:
    """Promised in rhodium because chrome was out: rhodium kits leave, although chrome has come since."""
    stock = plenty().without(goods.CHROME_KIT)
    stock.lot(goods.RHODIUM_KIT, 20_000)
    here = take(shop(stock), order("Reed", 2, platings=("chrome", "rhodium")))
    later = later_stock(here)
    later.lot(goods.CHROME_KIT, 30_000)
    done, _ = over(shop(later))
    assert used(done)[goods.RHODIUM_KIT] == 2000
    assert goods.CHROME_KIT not in used(done)


def test_an_order_that_holds_no_kit_takes_its_first_plating() -> None:
    """A promise without kit claims is drawn in the plating wished first."""
    stock = plenty()
    stock.orders.append(order("Reed", 2, platings=("chrome", "rhodium"), state="promised"))
    assert used(over(shop(stock))[0])[goods.CHROME_KIT] == 2000


def test_tubes_inside_the_kits_leave_with_them() -> None:
    """Only tubes of pieces lost before assembly are drawn apart; without any, none is."""
    known = goods.catalogue().with_parts(
        Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    )
    here = take(shop(plenty(), known), order("Reed", 4))
    assert goods.TUBE not in used(over(here)[0])
    assert used(over(here, turn=2, assemble=1)[0])[goods.TUBE] == 2000


def test_an_order_handed_over_late() -> None:
    """Past its day an order is handed over all the same."""
    stock = plenty()
    stock.orders.append(order("Reed", 2, due=TODAY - timedelta(days=9), state="promised"))
    assert over(shop(stock))[1].book.orders["reed"].state == "handed over"


def test_a_pattern_without_blank_or_kit_draws_its_lines() -> None:
    """Bills that take neither role are drawn as they are; blanks too small for the plan still count one each."""
    known = goods.catalogue().with_pattern(
        Pattern("tubes only", "Turnstone", bill=goods.catalogue().pattern("Avocet gloss").bill[1:2])
    )
    stock = plenty()
    stock.orders.append(order("Reed", 2, pattern="tubes only", state="promised"))
    assert used(over(shop(stock, known))[0]) == {goods.TUBE: 4000}
    small = plenty()
    small.lot(goods.THICK, 9000)
    small.orders.append(
        order("Reed", 2, pattern="Avocet gloss", blank=goods.THICK, platings=("gunmetal",), state="promised")
    )
    assert used(over(shop(small))[0])[goods.THICK] == 2000


def test_a_bottle_that_is_opened_keeps_from_that_day() -> None:
    """Handing over draws from a sealed bottle: it is open from today, and its last day is said."""
    stock = plenty().without(goods.GLUE)
    stock.lot(goods.GLUE, 112_000, 1400, received_on=TODAY - timedelta(days=30))
    done, after = over(take(shop(stock), order("Reed", 4)))
    sealed, opened = after.book.lots_of(goods.GLUE)
    assert (sealed.quantity, sealed.opened_on, opened.opened_on) == (56_000, None, TODAY)
    last = (TODAY + timedelta(days=90)).isoformat()
    assert done.said[1:] == (
        f"{goods.GLUE}: a container was opened on {TODAY.isoformat()}; best before {last}.",
    )
