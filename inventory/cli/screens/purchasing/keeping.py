"""What keeping stock costs a year: drawers, classes, what sleeps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.asleep import asleep_json, asleep_said
from inventory.cli.screens.shares import percent
from inventory.jobs.ahead.keeping import PartKept, StockKept
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_day, show_money
from inventory.planning.classes import DEMAND_CLASSES

if TYPE_CHECKING:
    from inventory.planning.classes import ValueClass

ESTIMATE = "an estimate: stock as it is now, use and parcels as expected, thrown out as in the last year"


def keeping_screen(shop: Shop, made: StockKept, *, everything: bool) -> list[str]:
    """The sum, each drawer, then classes, what slept, and what is assumed."""
    cost, worth = sum(one.cost for one in made.parts), sum(one.worth for one in made.parts)
    head = f"Keeping {_money(shop, worth)} in stock costs {_money(shop, cost)} {shop.currency.code} a year, "
    head += f"{show_day(shop.today)}."
    blocks: list[Sequence[Block]] = [[_drawers(shop, made)]]
    if everything:
        blocks.append([_parts(shop, made)])
    blocks.append(_facts(shop, made))
    doors = [] if everything else [("Every part", "--all")]
    return draw(Screen(head, (), blocks, "", doors), everything=everything)


def _money(shop: Shop, coins: float) -> str:
    return show_money(round(coins * 10**shop.currency.exponent), shop.currency).split(" ")[0]


def _drawers(shop: Shop, made: StockKept) -> Listing:
    columns = (
        Cells("Drawer"),
        Cells("Parts", right=True),
        Cells("Worth", right=True),
        Cells("Money", right=True, folds=1),
        Cells("Gone off", right=True, folds=1),
        Cells("Postage", right=True, folds=1),
        Cells("A year", right=True),
        Cells("Asleep", right=True, folds=2),
    )
    rows = [
        [
            name,
            str(len(several)),
            *(
                _money(shop, sum(getattr(one, field) for one in several))
                for field in ("worth", "tied", "expired", "posted", "cost")
            ),
            show_money(sum(one.asleep.cost for one in several if one.asleep), shop.currency).split(" ")[0],
        ]
        for name, several in made.by_drawer().items()
    ]
    return Listing(columns, rows, least=0)


def _parts(shop: Shop, made: StockKept) -> Listing:
    columns = (
        Cells("Part"),
        Cells("Class"),
        Cells("Demand", folds=2),
        Cells("Use a year", right=True),
        Cells("Worth", right=True, folds=1),
        Cells("A year", right=True, folds=1),
        Cells("One short", right=True, folds=3),
        Cells("Asleep since", right=True, folds=2),
    )
    rows = [
        [
            one.part.name,
            f"{one.value} {percent(one.upto)}",
            one.demand or "",
            *(_money(shop, figure) for figure in (one.use, one.worth, one.cost, one.short)),
            show_day(one.asleep.last) if one.asleep else "",
        ]
        for one in made.parts
    ]
    return Listing(columns, rows)


def _facts(shop: Shop, made: StockKept) -> list[Block]:
    use = sum(one.use for one in made.parts)
    by: dict[ValueClass, list[PartKept]] = {"A": [], "B": [], "C": []}
    for one in made.parts:
        by[one.value].append(one)
    value = ", ".join(
        f"{name} {plural(len(several), 'part')} {percent(sum(one.use for one in several) / use) if use else ''}".strip()
        for name, several in by.items()
    )
    seen = Counter(one.demand for one in made.parts if one.demand)
    demand = ", ".join(f"{seen[name]} {name}" for name in DEMAND_CLASSES if seen[name])
    return [
        Fact("Value", f"{value} of {_money(shop, use)} a year's use" if use else ""),
        Fact("Demand", demand and f"{demand}, by weeks"),
        Fact("Asleep", asleep_said(made.asleep, shop.currency)),
        Fact("Money", f"at {percent(made.holding)} of its worth a year, an assumption: --holding"),
        Fact("A year", ESTIMATE),
    ]


def keeping_json(shop: Shop, made: StockKept) -> dict[str, Value]:
    """The same for programs, money in the shop's coin."""
    return {
        "holding": round(made.holding, 6),
        "a_year": round(sum(one.cost for one in made.parts), 2),
        "drawers": [
            {
                "drawer": name,
                "parts": len(several),
                "worth": round(sum(one.worth for one in several), 2),
                "a_year": round(sum(one.cost for one in several), 2),
            }
            for name, several in made.by_drawer().items()
        ],
        "parts": [
            {
                "part": one.part.name,
                "class": one.value,
                "cumulative": round(one.upto, 6),
                "demand": one.demand,
                "use_a_year": round(one.use, 2),
                "worth": round(one.worth, 2),
                "money": round(one.tied, 2),
                "gone_off": round(one.expired, 2),
                "postage": round(one.posted, 2),
                "one_short": round(one.short, 2),
                "asleep_since": one.asleep.last if one.asleep else None,
            }
            for one in made.parts
        ],
        **asleep_json(made.asleep, Exact(shop.currency.exponent)),
    }
