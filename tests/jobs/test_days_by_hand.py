"""Ordinary days by hand: sold, back, given away, thrown out, robbed, repaired; the most that can be, and more."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.catalogue import Part, Piece, Supply
from inventory.errors import BadInput, NotEnough, Refused
from inventory.jobs.days.bringing import added, back
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.cannibalising import cannibalised
from inventory.jobs.days.repairing import came_back
from inventory.jobs.days.selling import Sale, sold
from inventory.jobs.days.taking import Going, taken
from inventory.ledger import NewLot
from inventory.ledger.documents.booked import Document
from inventory.ledger.lending import Lending
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, shop

PEN = Part("Turnstone in olive", Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE))
BOTTLE = 56_000


def with_pens(many: int = 3, held: int = 0) -> Shop:
    """Finished pens at 7.00, some set aside for Reed."""
    stock = plenty()
    number = stock.lot(PEN.name, 1000 * many, 700 * many)
    stock.orders = [order("Reed", 1, state="promised")]
    if held:
        stock.claim("Reed", PEN.name, 1000 * held, lot=number)
    return shop(stock, goods.catalogue().with_parts(PEN))


@pytest.mark.parametrize(
    ("pieces", "commission", "kept", "told"),
    [
        (1, "", 0, "For 38.00 EUR each."),
        (2, "", 0, "For 38.00 EUR each, together 76.00 EUR."),
        (2, "15 %", 1140, "Less 11.40 EUR commission."),
        (2, "76", 7600, "Less 76.00 EUR commission."),
        (2, "0", 0, "For 38.00 EUR each, together 76.00 EUR."),
    ],
)
def test_what_is_sold_is_paid_and_what_the_seller_keeps_is_spent(
    pieces: int, commission: str, kept: int, told: str
) -> None:
    """Pens at 38.00: a share or a sum of what was paid, all of it at the most."""
    made = sold(with_pens(), PEN, Sale(pieces, 3800, "harbour market", commission))
    (paid,) = made.proposal.payments
    assert (paid.amount, made.quantity, made.cost, made.on_hand) == (
        3800 * pieces,
        -1000 * pieces,
        700 * pieces,
        3000 - 1000 * pieces,
    )
    assert [one.amount for one in made.proposal.expenses] == [kept] * bool(kept)
    assert told in made.notes
    (order_,) = made.proposal.orders
    assert (order_.name, order_.count, order_.platings) == (f"sold {TODAY} 1", pieces, ("chrome",))


def test_no_more_than_was_paid_is_kept() -> None:
    """A cent more, or of a price nobody said, is refused; without a price nothing is paid."""
    for price, commission in ((3800, "38.01"), (None, "15 %")):
        with pytest.raises(BadInput, match="paid"):
            sold(with_pens(), PEN, Sale(1, price, "", commission))
    assert sold(with_pens(), PEN, Sale(1)).proposal.payments[0].amount == 0


def test_pieces_set_aside_are_not_sold() -> None:
    """Of three pens one is Reed's: two can be sold, three cannot, and four are not there."""
    assert sold(with_pens(3, 1), PEN, Sale(2)).free == 0
    with pytest.raises(NotEnough, match="Only 2 of"):
        sold(with_pens(3, 1), PEN, Sale(3))
    with pytest.raises(NotEnough, match="The book has 3 of"):
        sold(with_pens(3, 1), PEN, Sale(4))


def lent(*owed: tuple[int, int]) -> list[Lending]:
    """Tubes somebody has: pieces and what they cost, the oldest first."""
    return [
        Lending(
            Document(n, "took", "Lent", TODAY - timedelta(days=9 - n), ""),
            NewLot(f"l{n}", goods.TUBE),
            1000 * many,
            cost,
        )
        for n, (many, cost) in enumerate(owed, 1)
    ]


@pytest.mark.parametrize(
    ("quantity", "came", "cost", "note"),
    [
        (None, 5000, 170, ()),
        (5000, 5000, 170, ()),
        (4000, 4000, 130, ("1 still lent.",)),
        (2000, 2000, 50, ("3 still lent.",)),
    ],
)
def test_what_was_lent_is_back_at_what_it_cost(
    quantity: int | None, came: int, cost: int, note: tuple[str, ...]
) -> None:
    """Two for 0.50 and three for 1.20: the oldest first, each with its share."""
    made = back(shop(), shop().catalogue.part(goods.TUBE), quantity, lent((2, 50), (3, 120)))
    assert (made.quantity, made.cost, made.on_hand, made.notes) == (came, cost, 80_000 + came, note)


def test_no_more_comes_back_than_is_lent() -> None:
    """A thousandth more is refused, and where nothing is lent all is."""
    part = shop().catalogue.part(goods.TUBE)
    with pytest.raises(Refused, match="only 2 of tube 27/64 is lent"):
        back(shop(), part, 2001, lent((2, 50)))
    for quantity in (None, 1000):
        with pytest.raises(Refused, match="none is lent"):
            back(shop(), part, quantity, ())


def test_what_is_added_costs_what_is_said() -> None:
    """Five refills of 1.10 cost 5.50; four times what is usual is asked about, no more."""
    part = shop().catalogue.part(goods.REFILL)
    made = added(shop(), part, 5000, Fraction(110))
    assert (made.quantity, made.cost, made.on_hand, made.doubt) == (5000, 550, 55_000, "")
    assert added(shop(), part, 5000, Fraction(4000)).doubt != ""


def glue(*lots: dict[str, object]) -> tuple[Shop, dict[int, str]]:
    """Lots of thin CA, which comes in bottles of 56 ml, by number."""
    stock = Stock()
    names = {}
    for at, one in enumerate(lots):
        more = dict(one)
        number = stock.lot(goods.GLUE, int(str(more.pop("ml"))) * 1000, **more)  # type: ignore[arg-type]  # fields by name
        names[number] = "abc"[at]
    return shop(stock), names


def gone(made: ByHand, names: dict[int, str]) -> dict[str, int]:
    """Millilitres that left each lot."""
    sums: dict[str, int] = {}
    for line in made.proposal.lines:
        if line.account == "shelf" and isinstance(line.lot, int):
            sums[names[line.lot]] = sums.get(names[line.lot], 0) - line.quantity
    return {name: many // 1000 for name, many in sums.items() if many}


@pytest.mark.parametrize(
    ("quantity", "why", "left"),
    [
        (None, "threw out", {"b": 20}),
        (20_000, "threw out", {"b": 20}),
        (30_000, "threw out", {"b": 20, "a": 10}),
        (BOTTLE, "gave away", {"c": 56}),
        (BOTTLE, "lent", {"c": 56}),
    ],
)
def test_which_bottle_goes(quantity: int | None, why: str, left: dict[str, int]) -> None:
    """What is out of date is thrown out, as far as it goes; a whole bottle is given from a sealed one."""
    here, names = glue(
        {"ml": 30, "opened_on": TODAY - timedelta(days=3)},
        {"ml": 20, "use_by": TODAY - timedelta(days=1)},
        {"ml": 112},
    )
    made = taken(here, here.catalogue.part(goods.GLUE), Going(quantity, why))
    assert gone(made, names) == left
    assert made.quantity == -sum(left.values()) * 1000
    assert any("20 ml, out of date" in note for note in made.notes) is ("b" in left)


def test_all_of_it_can_go_and_no_more() -> None:
    """What the book has; a thousandth more is refused; where nothing is out of date the amount has to be said."""
    here, _ = glue({"ml": 30})
    part = here.catalogue.part(goods.GLUE)
    assert taken(here, part, Going(30_000, "broke")).on_hand == 0
    with pytest.raises(NotEnough):
        taken(here, part, Going(30_001, "broke"))
    for why in ("threw out", "broke"):
        with pytest.raises(BadInput, match=r"How much of thin CA went\?"):
            taken(here, part, Going(None, why))


def test_a_robbed_kit_leaves_its_fittings() -> None:
    """Two kits of 4.00 lose their tubes: two spare fittings cost the same 8.00. More can be taken of those."""
    here, kit = shop(), shop().catalogue.part(goods.CHROME_KIT)
    made = cannibalised(here, kit, "tube", 2000, "took")
    saved = [line for line in made.proposal.lines if line.part == f"{kit.name} without its tube"]
    assert [(line.quantity, line.cost) for line in saved] == [(2000, 800)]
    assert (made.quantity, made.cost, made.on_hand) == (-2000, 800, 38_000)
    fittings = Part(saved[0].part, Supply("spare fitting"))
    stock = plenty()
    stock.lot(fittings.name, 2000, 800)
    known = goods.catalogue().with_parts(fittings)
    again = cannibalised(shop(stock, known), fittings, "clip", 1000, "took")
    assert again.proposal.parts[0].name == f"{fittings.name} and its clip"
    for part in (goods.TUBE, goods.STRIP):
        with pytest.raises(BadInput, match="nothing can be taken out of it"):
            cannibalised(here, here.catalogue.part(part), "tube", 1000, "took")


def test_a_repair_takes_what_is_nobodys() -> None:
    """Two refills said apart are one need; of three, one is chosen for Wren, so that two can go and three cannot."""
    stock = plenty().without(goods.REFILL)
    number = stock.lot(goods.REFILL, 3000, 270)
    stock.claim("Wren", goods.REFILL, 1000, lot=number)
    here, part = shop(stock), goods.catalogue().part(goods.REFILL)
    reed = order("Reed", 1, state="handed over")
    made = came_back(here, reed, [(part, 1000), (part, 1000)])
    assert [(one.part, one.quantity, one.cost) for one in made.drawn] == [(goods.REFILL, 2000, 180)]
    assert made.short == ()
    with pytest.raises(NotEnough, match="The book has 2 of"):
        came_back(here, reed, [(part, 2000), (part, 1000)])
    with pytest.raises(Refused, match="Nothing of “Reed” is with a customer"):
        came_back(here, order("Reed", 1, state="promised"), [(part, 1000)])
