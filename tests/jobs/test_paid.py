"""What a price was for, and what is asked about before it is booked."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.catalogue import Part, Supply
from inventory.errors import BadMeasure, Place
from inventory.jobs.counting.doubts import cost_doubt, count_doubts, known_costs, quantity_doubts
from inventory.jobs.counting.what_to_count import values
from inventory.ledger import Count
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.paid import paid_for, unit_cost
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import EUR, Stock, shop

BOTTLE = Part("blue glue", Supply("adhesive", net=50_000, density=Fraction(21, 20)), unit="ml")
PAD = Part("fine pad", Supply("abrasive"), unit="pad")


@pytest.mark.parametrize(
    ("said", "part", "packs", "amount"),
    [
        ("all", PAD, (), 12_000),
        ("for all of it", PAD, (5000,), 12_000),
        ("a pack", PAD, (5000,), 5000),
        ("per bottle", BOTTLE, (), 50_000),
        ("Pack", BOTTLE, (), 50_000),
        ("10 ml", BOTTLE, (), 10_000),
        ("2 bottles", BOTTLE, (50_000,), 100_000),
        ("21 g", BOTTLE, (), 20_000),
        ("1", PAD, (), 1000),
    ],
)
def test_what_a_price_was_for(said: str, part: Part, packs: tuple[int, ...], amount: int) -> None:
    """All twelve, the pack it is offered in, a bottle's content, an amount in any unit it is told in."""
    assert paid_for(said, part, 12_000, packs) == amount


@pytest.mark.parametrize(
    ("said", "part", "packs", "quantity", "words"),
    [
        ("all", PAD, (), 0, "Nothing is there"),
        ("pack", PAD, (5000, 10_000), 1000, "comes in packs of 5 pads or 10 pads"),
        ("pack", PAD, (), 1000, "How much a pack of fine pad holds is not known"),
        ("bottle", PAD, (), 1000, "nobody has said how much"),
        ("the cupboard", PAD, (), 1000, "Write pack, bottle, all, or an amount"),
        ("0 ml", BOTTLE, (), 1000, "is nothing, and a price is for something"),
    ],
)
def test_a_price_for_nobody_knows_what(
    said: str, part: Part, packs: tuple[int, ...], quantity: int, words: str
) -> None:
    """Refused with what is accepted; nothing is guessed."""
    with pytest.raises(BadMeasure) as caught:
        paid_for(said, part, quantity, packs)
    assert words in f"{caught.value.message} {caught.value.hint}"


def test_the_cost_of_one_is_exact() -> None:
    """1.00 for three is a third of a euro each."""
    assert unit_cost(100, 3000) == Fraction(100, 3)


def places(there: Shop, *counts: Count) -> list[str]:
    """What is asked about of some counts."""
    parts = goods.catalogue().parts
    return [one.problem for one in count_doubts(counts, parts, there.prices, there.book, EUR)]


def test_a_unit_cost_far_from_the_offers() -> None:
    """Four times as dear and a quarter are still believed, what is beyond is not; offers in any step count."""
    there = shop(Stock())  # kits are offered at 4.50 and, by the ten, 3.60; in dollars for 2.70
    each = [Fraction(cost) for cost in (1801, 1800, 68, 67)]
    asked = [bool(places(there, Count(goods.CHROME_KIT, 1000, cost))) for cost in each]
    assert asked == [True, False, False, True]
    assert "If it is the price of a pack" in places(there, Count(goods.CHROME_KIT, 1000, Fraction(9000)))[0]


def test_without_offers_what_lies_there_tells() -> None:
    """Lots of known cost; where there are none nobody can tell, and nobody is asked."""
    stock = Stock()
    stock.lot(goods.STRIP, 60_000, 1800)
    assert places(shop(stock), Count(goods.STRIP, 1000, Fraction(300))) != []
    dark = Stock()
    dark.lot(goods.STRIP, 60_000, cost_from=UNKNOWN)
    assert places(shop(dark), Count(goods.STRIP, 1000, Fraction(300)), Count(goods.STRIP, 1000)) == []
    assert known_costs(goods.STRIP, shop(dark).prices, shop(dark).book) is None


def test_the_likeliest_slip_is_named_only_where_it_explains_the_figure() -> None:
    """50 ml at 9 cents: 4.50 is a bottle's price, 45 is not."""
    known = (Fraction(9), Fraction(9))
    assert "Was it paid for a bottle of 50 ml?" in cost_doubt(BOTTLE, Fraction(450), known, EUR)
    assert "bottle" not in cost_doubt(BOTTLE, Fraction(4500), known, EUR)


def test_a_hundred_times_the_usual() -> None:
    """Of what is there, or of the most that ever came at once; where nothing ever was, nothing is usual."""
    stock = Stock()
    stock.lot(goods.TUBE, 5000, 200)
    rows = [Count(goods.TUBE, 500_000, place=Place("a.csv", "counts", 2)), Count(goods.GLUE, 900_000)]

    def asked(usual: int) -> list[int | None]:
        found = quantity_doubts(
            rows, goods.catalogue().parts, stock.book, lambda _: {goods.TUBE.casefold(): usual}
        )
        return [place.row for place in found]

    assert (asked(0), asked(5000), asked(5001)) == ([2], [2], [])


def test_what_to_count_first_goes_by_the_offer_where_no_cost_is_known() -> None:
    """Kits nobody priced are worth what they are offered for, not nothing."""
    stock = Stock()
    stock.lot(goods.CHROME_KIT, 4000, cost_from=UNKNOWN)
    stock.lot(goods.STRIP, 4000, cost_from=UNKNOWN)
    assert values(shop(stock)) == {goods.CHROME_KIT.casefold(): 1080, goods.STRIP.casefold(): 0}


def test_the_example_of_a_pack_is_a_round_one() -> None:
    """Whoever is asked how much a pack holds is shown how to write it."""
    with pytest.raises(BadMeasure) as caught:
        paid_for("pack", PAD, 1000, ())
    assert caught.value.hint == "Write it, such as 10 pads."
