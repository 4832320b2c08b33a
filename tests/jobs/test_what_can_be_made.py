"""What can be made from the shelf, by hand: so many pieces, what they earn, and what one more part would add."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import Pattern, fold
from inventory.errors import BadInput
from inventory.jobs.stock.makeable import MadePiece, Makeable, OneMore, _more, makeable, sold_for
from inventory.ledger.shop import Shop
from inventory.making.product_mix import BestMix, MixItem, MixTask
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, shop


def made(here: Shop, minutes: int | None = None, prices: dict[str, int] | None = None) -> Makeable:
    """Without a solver; one more is tried all the same."""
    return makeable(here, here.settings, minutes, prices, quickly=True)


def few(kits: int = 3, tubes: int = 5) -> Stock:
    """So many Turnstone kits and tubes; of everything else plenty."""
    return (
        plenty()
        .with_only(goods.CHROME_KIT, 1000 * kits, 400 * kits)
        .with_only(goods.TUBE, 1000 * tubes, 30 * tubes)
    )


def test_the_scarcest_part_bounds_the_set() -> None:
    """Three kits, five tubes: three pieces of 45 minutes; one kit more is one piece more, a tube more none."""
    found = made(shop(few()))
    known = goods.catalogue()
    assert found.pieces == (MadePiece("Turnstone gloss", "chrome", goods.CHROME_KIT, goods.OLIVE, 3),)
    assert (found.total, found.gain, found.minutes, found.proven) == (3, None, 135, True)
    assert found.more == (OneMore(known.part(goods.CHROME_KIT), 1),)
    assert [name for name, _ in found.lacking] == ["Avocet gloss", "Godwit plain"]
    assert found.unpriced == ()
    assert not makeable(shop(few()), {}, None, one_more=False, quickly=True).more


def test_both_at_their_end_add_nothing_alone() -> None:
    """As many tubes as kits: one more of either makes no piece."""
    assert made(shop(few(3, 3))).more == ()


def test_a_kit_set_aside_is_left_out() -> None:
    """And of less than a whole one nothing is made."""
    stock = few()
    stock.claim("Reed", goods.CHROME_KIT, 2000)
    assert made(shop(stock)).total == 1
    assert made(shop(plenty().with_only(goods.CHROME_KIT, 999))).total == 0
    assert made(shop(plenty().with_only(goods.CHROME_KIT, 1000))).total == 1


@pytest.mark.parametrize(("minutes", "total"), [(44, 0), (45, 1), (134, 2), (135, 3), (1, 0)])
def test_hours_bound_the_set(minutes: int, total: int) -> None:
    """Pieces of 45 minutes each."""
    found = made(shop(few()), minutes)
    assert (found.total, found.minutes) == (total, 45 * total)


def test_no_time_is_refused() -> None:
    """0 minutes are none."""
    with pytest.raises(BadInput, match="no time"):
        made(shop(few()), 0)


def test_what_a_set_earns() -> None:
    """At 30.00, less 4.00 for the kit and 0.30 for the tube of each, and two blanks at 2.00 that give four."""
    stock = few()
    costly = (goods.CHROME_KIT, goods.TUBE, goods.OLIVE)
    stock.lots = [lot if lot.part in costly else replace(lot, cost=0) for lot in stock.lots]
    found = made(shop(stock), prices={"turnstone gloss": 3000})
    assert (found.total, found.gain) == (3, 3 * (3000 - 400 - 30) - 2 * 200)
    assert found.more == (OneMore(goods.catalogue().part(goods.CHROME_KIT), 3000 - 430),)
    unsold = made(shop(stock), prices={})
    assert (unsold.total, unsold.gain, unsold.unpriced) == (0, 0, ("Turnstone gloss",))
    none = shop(stock.with_only(goods.TUBE, 0))  # nobody knows what the tube costs that would be found
    assert made(none, prices={"turnstone gloss": 3000}).more == (
        OneMore(goods.catalogue().part(goods.TUBE), 3000 - 400 - 200),
    )


def test_a_schedule_and_a_lacking_tool() -> None:
    """A bill without a kit makes nothing by itself; where the drill is gone the pattern is named with it."""
    known = goods.catalogue().with_pattern(
        Pattern("Schedule", "Turnstone", bill=(goods.line("finish", goods.FINISH, 40),))
    )
    assert "Schedule" not in dict(made(shop(few(), known)).lacking)
    lacking = dict(made(shop(few().without(goods.BUSHINGS))).lacking)
    assert lacking["Turnstone gloss"] == "bushings"
    bare = few().without(goods.DRILL, goods.SAW, goods.BUSHINGS, goods.PILOT)
    assert made(shop(bare)).lacking == ()  # a shop that keeps no tools in its book has them


def test_measured_blanks_count_by_what_comes_out_of_each() -> None:
    """Of antler one that gives a piece, one too thin, and none of the catalogue's size."""
    stock = few(5).without(goods.OLIVE)
    stock.measured("a", "20 mm", "70 mm", 700)
    stock.measured("thin", "9 mm", "70 mm")
    found = made(shop(stock))
    assert found.pieces == (MadePiece("Turnstone gloss", "chrome", goods.CHROME_KIT, goods.ANTLER, 1),)
    stock.lot(goods.OLIVE, 1000)
    assert made(shop(stock)).total == 3  # 127 mm give two


def test_the_last_price_of_each_pattern() -> None:
    """Promised, made or handed over, by its day; wishes and what has no price tell nothing."""
    stock = plenty()
    stock.orders = [
        order("A", price=2000, state="handed over", due=TODAY - timedelta(days=9)),
        order("B", price=1800, state="promised", due=TODAY),
        order("C", price=9900, state="wish", due=TODAY + timedelta(days=1)),
        order("D", state="promised", due=TODAY + timedelta(days=2)),
        order("E", price=5000, state="made", pattern="Avocet gloss"),
    ]
    assert sold_for(shop(stock)) == {"turnstone gloss": 1800, "avocet gloss": 5000}


def test_one_more_is_asked_of_what_is_left_less_than_a_piece_takes() -> None:
    """Of two kinds one takes 3 and one 5 of the glue: of 2 that are left none can be made, so 3 more may help.

    With 3 left one could, and what bounds the set is something else; what costs another piece adds none.
    """
    glue, tube = fold(goods.GLUE), fold(goods.TUBE)
    items = [
        MixItem("a", None, needs={glue: 3, tube: 1000}),
        MixItem("b", None, 2, needs={glue: 5, tube: 1000}),
    ]
    here = shop()
    cases: list[tuple[int, dict[Hashable, int], list[int]]] = [
        (10, {"b": 2}, [1]),
        (12, {"b": 2}, [1]),
        (13, {"b": 2}, []),
        (8, {"b": 1, "a": 1}, []),
    ]
    for there, most, adds in cases:
        task = MixTask(items, {glue: there, tube: 9000})
        mix = BestMix(most, {}, most.get("a", 0) + 2 * most["b"], True)
        found = _more(here, task, mix, money=False)
        assert [one.adds for one in found if one.part.name == goods.GLUE] == adds
