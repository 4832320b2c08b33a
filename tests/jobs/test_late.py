"""Late promises: bought all the same, from whoever comes first, and still said to be late."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import Basket, PackOffer, PriceBreak, SupplierTerms, Want, best_basket
from inventory.jobs.purchasing.late import eased, told

TODAY = date(2026, 11, 25)
QUICK, SLOW, VAGUE = (
    SupplierTerms(n, d, "EUR", 100) for n, d in (("quick", 5), ("slow", 30), ("vague", None))
)
SELLERS = {one.name: one for one in (QUICK, SLOW, VAGUE)}
RATES = {"EUR": Fraction(1)}


def in_days(days: int) -> date:
    return TODAY + timedelta(days=days)


def offer(seller: SupplierTerms, part: str, price: int) -> PackOffer:
    return PackOffer(f"{seller.name} {part}", seller.name, part, 1000, (PriceBreak(1, price),))


def bought(wants: list[Want], *offers: PackOffer, budget: int | None = None) -> Basket:
    """The list with late wants on it."""
    wanted = eased(wants, offers, SELLERS, TODAY)
    return told(best_basket(wanted.wants, offers, SELLERS, RATES, TODAY, budget=budget), wanted)


def test_the_first_to_come_is_taken_though_it_is_dearer() -> None:
    """Wanted in two days: the quick one at 9.00 brings it three days late, the slow one 28."""
    want = Want("kit", 1000, in_days(2), ("S1",))
    basket = bought([want], offer(QUICK, "kit", 900), offer(SLOW, "kit", 100))
    assert basket.packs() == {"quick kit": 1}
    assert basket.lines[0].needed_by == in_days(2)
    (late,) = basket.unfilled
    assert (late.want, late.bought, late.earliest, late.days_late) == (want, True, in_days(5), 3)


def test_who_can_wait_is_served_cheaply() -> None:
    """The late one needs one quick kit; the others come from the slow seller in time."""
    wants = [Want("kit", 1000, in_days(2)), Want("kit", 9000, in_days(40))]
    basket = bought(wants, offer(QUICK, "kit", 900), offer(SLOW, "kit", 100))
    assert basket.packs() == {"quick kit": 1, "slow kit": 9}
    assert [line.needed_by for line in basket.lines] == [in_days(2)] * 2


def test_what_can_be_had_in_time_is_not_touched() -> None:
    """Nothing late: the same list, nothing said."""
    wants = [Want("kit", 1000, in_days(5)), Want("glue", 1000)]
    offers = offer(QUICK, "kit", 900), offer(SLOW, "glue", 100)
    assert eased(wants, offers, SELLERS, TODAY).late == ()
    assert bought(wants, *offers).unfilled == ()


def test_a_day_nobody_knows() -> None:
    """Only somebody without a lead time has it: it is bought, and has no day."""
    basket = bought([Want("kit", 1000, in_days(2))], offer(VAGUE, "kit", 900))
    assert basket.packs() == {"vague kit": 1}
    assert [(one.earliest, one.days_late, one.bought) for one in basket.unfilled] == [(None, None, True)]


def test_what_nobody_offers_stays_off() -> None:
    """Late or not."""
    (one,) = bought([Want("kit", 1000, in_days(2))]).unfilled
    assert (one.why, one.bought) == ("nobody offers it", False)


def test_what_the_budget_leaves_out_is_not_called_bought() -> None:
    """It is late and too dear: one reason is said, the one that keeps it off."""
    wants = [Want("kit", 1000, in_days(2), ("S1",)), Want("glue", 1000, worth=1)]
    basket = bought(wants, offer(QUICK, "kit", 900), offer(QUICK, "glue", 100), budget=500)
    assert [(one.want.part, one.why, one.bought) for one in basket.unfilled] == [
        ("kit", "beyond the budget", False)
    ]
    assert basket.packs() == {"quick glue": 1}


@examples(30)
@given(
    st.lists(st.tuples(st.sampled_from("ab"), st.none() | st.integers(-3, 40)), min_size=1, max_size=4),
    st.lists(st.tuples(st.sampled_from("ab"), st.sampled_from([QUICK, SLOW, VAGUE])), min_size=1, max_size=4),
)
def test_everything_offered_is_bought_as_early_as_can_be(
    asked: list[tuple[str, int | None]], offered: list[tuple[str, SupplierTerms]]
) -> None:
    """No want of an offered part stays off, and none comes later than it must."""
    wants = [Want(part, 1000, None if days is None else in_days(days)) for part, days in asked]
    offers = [offer(one, part, 100) for part, one in dict.fromkeys(offered)]
    basket = bought(wants, *offers)
    sold = {one.part for one in offers}
    assert {one.want.part for one in basket.unfilled if not one.bought} == {w.part for w in wants} - sold
    for part in sold & {want.part for want in wants}:
        packs = sum(line.packs for line in basket.lines if line.offer.part == part)
        assert packs == sum(1 for want in wants if want.part == part)
    for one in basket.unfilled:
        days = [SELLERS[o.supplier].arrives(TODAY) for o in offers if o.part == one.want.part]
        assert one.earliest == min((day for day in days if day), default=None)


@pytest.mark.parametrize("days", [0, -4])
def test_a_day_already_past_is_late_too(days: int) -> None:
    """An order due today or last week."""
    (one,) = bought([Want("kit", 1000, in_days(days))], offer(QUICK, "kit", 900)).unfilled
    assert one.days_late == 5 - days
