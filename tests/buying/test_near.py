"""Price steps nearly reached: by how many packs, of which offers, and what they bring."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from inventory.buying import NearMiss, PackOffer, PriceBreak, SupplierTerms, Want, best_basket, near_misses

from .basket_cases import RATES, TODAY

KIT = ((1, 1000), (5, 900))


def kit(
    part: str, steps: Sequence[tuple[int, int]] = KIT, seller: str = "a", group: str | None = None
) -> PackOffer:
    return PackOffer(part, seller, part, 1000, tuple(PriceBreak(*one) for one in steps), group)


def told(offers: Sequence[PackOffer], coin: str = "EUR", **many: int) -> list[NearMiss]:
    """For so many of each part, the most saving first."""
    wants = [Want(part, 1000 * count) for part, count in many.items()]
    sellers = {one.supplier: SupplierTerms(one.supplier, 3, coin) for one in offers}
    basket = best_basket(wants, offers, sellers, RATES, TODAY)
    return list(near_misses(basket, wants, offers, sellers, RATES, TODAY))


def test_three_packs_short_is_near_and_four_are_not() -> None:
    steps = ((1, 1000), (7, 900))
    (one,) = told([kit("chrome", steps)], chrome=4)
    assert (one.packs, one.parts, one.pays) == (3, ("chrome",), True)
    assert [one.extra, one.alone, one.saving] == [7 * 900 - 4 * 1000, 3000, 700]
    assert [one.short, one.fee, one.filler] == [0, 0, 0]  # which tell of postage
    assert told([kit("chrome", steps)], chrome=3) == []


def test_of_a_step_that_is_reached_the_next_one_is_told() -> None:
    (one,) = told([kit("chrome", (*KIT, (7, 880)))], chrome=5)
    assert [one.packs, one.saving] == [2, 2 * 900 - (7 * 880 - 5 * 900)]


def test_a_step_counts_the_packs_of_its_own_group_at_its_own_seller() -> None:
    """Three and two: five would be the step, if they were one group."""
    for other in (kit("gold", seller="b", group="kits"), kit("gold", group="pens"), kit("gold")):
        found = told([kit("chrome", group="kits"), other], chrome=3, gold=2)
        assert sorted((one.packs, one.parts) for one in found) == [(2, ("chrome",)), (3, ("gold",))]


def test_of_a_group_the_member_that_adds_least_is_named_first() -> None:
    """Three at 10.00 and one at 12.00; a fifth takes 1.00 off each."""
    gold = kit("gold", ((1, 1200), (5, 1100)), group="kits")
    (one,) = told([gold, kit("chrome", group="kits")], gold=1, chrome=3)
    assert (one.parts, one.group) == (("chrome", "gold"), "kits")
    assert one.extra == 4 * 900 + 1100 - 4200


def test_a_part_of_a_cent_saved_is_told() -> None:
    """Two hundredths of a crown at nine cents."""
    (one,) = told([kit("chrome", ((1, 1000), (2, 999)))], "SEK", chrome=1)
    assert one.saving == Fraction(18, 100)
