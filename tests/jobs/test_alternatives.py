"""What could be taken instead, by hand: as many pieces as the kits allow, another plating, another blank."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.jobs.orders.alternatives import alternatives, wanted_parts
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import resolve
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import TODAY, Stock, plenty, request, shop


def instead(here: Shop, count: int = 7, **changes: object) -> list[tuple[str, str]]:
    """Of an order due today, for which nothing can be bought any more: what is said of each kind."""
    asked = request(count, due=TODAY, **changes)
    found = alternatives(here, check(here, asked), lambda other: check(here, other))
    assert all(one.report.verdict == "from the shelf" for one in found)
    return [(one.what, one.said) for one in found]


def with_kits(many: int) -> Shop:
    """So many Turnstone kits in chrome; what is begun comes out well."""
    stock = plenty().with_only(goods.CHROME_KIT, 1000 * many)
    return shop(stock, goods.catalogue().with_losses("olive wood"))


@pytest.mark.parametrize("many", range(8))
def test_the_most_pieces_that_can_be_had(many: int) -> None:
    """Of seven asked for as many as there are kits; where all can be had nothing else is said."""
    said = "1 piece" if many == 1 else f"{many} pieces"
    assert instead(with_kits(many)) == ([("pieces", said)] if 0 < many < 7 else [])


def test_of_a_single_piece_there_are_no_fewer() -> None:
    """One that cannot be made is not offered as none."""
    assert instead(with_kits(0), 1) == []


def test_another_plating_the_substitutes_first() -> None:
    """Rhodium stands in for chrome, though gunmetal is there as well."""
    stock = plenty().with_only(goods.CHROME_KIT, 0)
    stock.lot(goods.GUN_KIT, 9000)
    assert instead(shop(stock), 3) == [("plating", "gunmetal")]
    stock.lot(goods.RHODIUM_KIT, 9000)
    assert instead(shop(stock), 3) == [("plating", "rhodium")]
    assert instead(shop(stock), 3, platings=("chrome", "rhodium")) == []


def blanks(stock: Stock) -> Stock:
    """A stock without the olive that is asked for."""
    return stock.with_only(goods.OLIVE, 0)


def test_another_blank_of_the_same_sort_first() -> None:
    """Thick olive before acrylic, of which there is more; what there is none of is not looked at."""
    stock = blanks(plenty())
    assert instead(shop(stock), 2) == []
    stock.lot(goods.ACRYLIC, 20_000)
    assert instead(shop(stock), 2) == [("blank", goods.ACRYLIC)]
    stock.lot(goods.THICK, 9000)
    assert instead(shop(stock), 2) == [("blank", goods.THICK)]


def test_whose_lots_are_read() -> None:
    """Those of the order, of other platings' kits and of the blanks that are there."""
    stock = plenty()
    stock.lot(goods.ACRYLIC, 1000)
    here, asked = shop(stock), request(2, due=TODAY + timedelta(days=1))
    names = wanted_parts(here, asked, resolve(here.catalogue, asked, here.today))
    assert {"turnstone kit gunmetal", "acrylic round", "olive square", "refill g2"} <= names
    assert not {"antler", "olive thick"} & names
