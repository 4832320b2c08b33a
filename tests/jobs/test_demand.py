"""What is wanted, for whom, and how much trouble having it avoids."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.jobs.learning.supply_use import enough_for
from inventory.jobs.purchasing.demand import (
    GOES_OFF,
    LOW,
    RUNS_OUT,
    TROUBLE,
    WORN,
    Past,
    demand,
    unknown_tools,
    worn,
)
from inventory.jobs.purchasing.shopping import ShoppingRequest, shopping
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.demands import Demand
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, shop

UNTIL = TODAY + timedelta(days=56)


def wanted(there: Shop, part: str, past: Past | None = None) -> list[Demand]:
    """The demand for one part."""
    return [one for one in demand(there, past or Past(), UNTIL) if one.part.name == part]


def promised(stock: Stock, *names: str) -> Stock:
    """The stock with orders promised for the day their number says."""
    stock.orders += [
        replace(order(name), state="promised", due=TODAY + timedelta(days=5 + n))
        for n, name in enumerate(names)
    ]
    return stock


def test_a_promise_names_its_order() -> None:
    """What an order lacks is for that order alone."""
    stock = promised(plenty(), "Reed", "Moss")
    stock.claim("Reed", goods.TUBE, 3000, "to buy")
    stock.claim("Moss", goods.TUBE, 1000, "to buy")
    assert [(one.quantity, one.orders) for one in wanted(shop(stock), goods.TUBE)] == [
        (3000, ("Reed",)),
        (1000, ("Moss",)),
    ]


def test_a_missing_tool_is_for_all_who_need_it() -> None:
    """One drill is bought; it is due for the first, and no order is whole without it."""
    (drill,) = wanted(shop(promised(plenty().without(goods.DRILL), "Reed", "Moss")), goods.DRILL)
    assert (drill.quantity, drill.orders) == (1000, ("Reed", "Moss"))
    assert drill.needed_by == TODAY + timedelta(days=5)
    assert "Reed, promised for 2026-11-30" in drill.reason


def test_a_tool_the_book_knows_nothing_of_is_told() -> None:
    """It cannot be put on a list; whoever keeps no tools in the book is not asked for one."""
    stock = plenty()
    stock.orders += [
        replace(order(name), pattern="Godwit plain", state=state)  # type: ignore[arg-type]  # spelled as text
        for name, state in (("Cork", "promised"), ("Wish", "wish"))
    ]
    told = [(one.name, what) for one, what in unknown_tools(shop(stock))]
    assert told == [("Cork", "drill 3/8")]
    assert "Cork wants drill 3/8, and the book knows none: it cannot be put on a list." in (
        shopping(shop(stock), Past(), ShoppingRequest(UNTIL)).warnings
    )
    assert list(unknown_tools(shop(stock.without(goods.DRILL, goods.SAW, goods.BUSHINGS, goods.PILOT)))) == []


@pytest.mark.parametrize(("kept", "wants"), [((), 0), ((goods.SAW,), 1)], ids=["none", "a saw"])
def test_a_drill_is_wanted_where_tools_are_kept_in_the_book(kept: tuple[str, ...], wants: int) -> None:
    """Whoever never counted a tool has them on the wall, and buys none for it."""
    stock = promised(plenty().without(goods.DRILL, goods.SAW, goods.BUSHINGS, goods.PILOT), "Reed")
    for tool in kept:
        stock.lot(tool, 1000)
    assert len(wanted(shop(stock), goods.DRILL)) == wants


@pytest.mark.parametrize(
    ("left", "trouble"),
    [(0, 30), (28, 15), (55, 1), (14, 23)],
    ids=["none", "half", "a day short", "two weeks"],
)
def test_running_out_weighs_by_the_days_without_it(left: int, trouble: int) -> None:
    """Used at 1 ml a day; the horizon is 56 days: 30 points for all of them."""
    stock = plenty().without(goods.FINISH)
    if left:
        stock.lot(goods.FINISH, 1000 * left)
    (one,) = wanted(shop(stock), goods.FINISH, Past({"gloss ca": 90_000}, 90))
    assert (one.tier, one.trouble) == (RUNS_OUT, trouble)
    lasts = f"lasts {left} days" if left else "none to spare"
    assert one.reason == f"{lasts}; you use 7 ml a week"


@pytest.mark.parametrize(("less", "wants"), [(0, []), (1, [1])])
def test_what_just_lasts_is_not_wanted(less: int, wants: list[int]) -> None:
    """As much as 56 days at 1 ml a day may take, and a drop less."""
    glossy = goods.catalogue().part(goods.FINISH)
    stock = plenty().without(goods.FINISH)
    stock.lot(goods.FINISH, enough_for(shop().learned, glossy, 56_000) - less)
    found = wanted(shop(stock), goods.FINISH, Past({"gloss ca": 90_000}, 90))
    assert [one.quantity for one in found] == wants


@pytest.mark.parametrize(
    ("there", "trouble"), [(0, 10), (5000, 5), (9999, 1)], ids=["none", "half", "a drop"]
)
def test_being_low_weighs_by_what_is_missing(there: int, trouble: int) -> None:
    """The level of epoxy is 10 ml: 10 points where there is none."""
    stock = plenty().without(goods.EPOXY)
    if there:
        stock.lot(goods.EPOXY, there)
    (one,) = wanted(shop(stock), goods.EPOXY)
    assert (one.tier, one.trouble, one.orders) == (LOW, trouble, ())


def test_going_off_and_being_worn_have_their_points() -> None:
    """A bottle that goes off: 20; a tool past its life: 5."""
    stock = plenty().without(goods.GLUE)
    stock.lot(goods.GLUE, 5000, use_by=TODAY + timedelta(days=3))
    (glue,) = wanted(shop(stock), goods.GLUE)
    assert (glue.tier, glue.trouble) == (GOES_OFF, TROUBLE[GOES_OFF])
    tool = goods.catalogue().part(goods.BUSHINGS)
    known = goods.catalogue().with_parts(replace(tool, detail=replace(tool.detail, life=3)))  # type: ignore[arg-type]  # a tool
    made = [(order("Old", 4), TODAY)]
    (tool_worn,) = wanted(shop(plenty(), known), goods.BUSHINGS, Past({}, 0, made))
    assert (tool_worn.tier, tool_worn.trouble) == (WORN, TROUBLE[WORN])
    assert wanted(shop(plenty()), goods.CHROME_KIT) == []


@pytest.mark.parametrize(
    ("typed", "counts", "said"),
    [
        (4000, False, "1 free, reorder at 4 (6 worked out)"),
        (4000, True, "1 free, reorder at 4 (6 worked out)"),
        (None, True, "1 free, reorder at 6 (worked out)"),
        (None, False, None),
    ],
)
def test_a_typed_level_stands_and_says_what_the_worked_out_one_would_be(
    typed: int | None, counts: bool, said: str | None
) -> None:
    """Where none is typed the worked-out one counts, or is left to the list that looks ahead."""
    stock = plenty().with_only(goods.TUBE, 1000)
    part = replace(goods.catalogue().part(goods.TUBE), level=typed)
    there = shop(stock, goods.catalogue().with_parts(part))
    levels = {goods.TUBE.casefold(): 6000}
    found = [one for one in demand(there, Past(), UNTIL, (), levels, counts=counts) if one.part == part]
    assert [one.reason for one in found] == ([said] if said else [])
    assert [one.quantity for one in found] == ([(typed or 6000) - 1000] if said else [])


@pytest.mark.parametrize(("tool", "uses"), [(goods.DRILL, 4), (goods.DRILL_CAP, 0), (goods.BUSHINGS, 4)])
def test_a_drill_wears_by_the_holes_of_its_size(tool: str, uses: int) -> None:
    """Four Turnstones have one barrel each, drilled 27/64: no other drill has lost anything by them."""
    part = goods.catalogue().part(tool)
    known = goods.catalogue().with_parts(replace(part, detail=replace(part.detail, life=300)))  # type: ignore[arg-type]  # a tool
    stock = plenty()
    stock.lot(tool, 1000)
    there = shop(stock, known)
    wear = worn(there, known.part(tool), Past({}, 0, [(order("Old", 4), TODAY)]))
    assert wear is not None
    assert wear.uses == uses
