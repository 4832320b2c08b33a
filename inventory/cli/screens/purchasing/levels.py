"""Worked-out levels: what to order first, then each part with the level typed, worked out, and why."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.shares import percent
from inventory.jobs.ahead.levels import Levels, PartLevel
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_amount, show_day, show_measurable


def levels_screen(shop: Shop, made: Levels, name: str, *, everything: bool) -> list[str]:
    """Parts that are below their level first, then those of which most is expected to be used."""
    rows = [one for one in made.parts if not name or fold(one.part.name) == fold(name)]
    below = [one for one in rows if _free(shop, one) < one.reorder_at]
    rows.sort(key=lambda one: (_free(shop, one) >= one.reorder_at, -one.rate, one.part.name))
    columns = (
        Cells("Part"),
        Cells("Free", right=True),
        Cells("Reorder at", right=True),
        Cells("Up to", right=True),
        Cells("Typed", right=True, folds=2),
        Cells("Lasts", right=True, folds=1),
    )
    table = Listing(columns, [_row(shop, one) for one in rows], least=0)
    head = f"{plural(len(below), 'part is', 'parts are')} below the level worked out, {show_day(shop.today)}."
    blocks: list[Sequence[Block]] = [[table], [Fact("From", _from(made)), Fact("Check", _mind())]]
    doors = [] if everything else [("Every part", "--all")]
    screen = Screen(head if rows else "Nothing is expected to be used.", (), blocks, "", doors, _next(below))
    return draw(screen, everything=everything)


def _row(shop: Shop, one: PartLevel) -> list[str]:
    unit = one.part.unit
    free = _free(shop, one)
    shown = show_measurable(free, unit)
    return [
        one.part.name,
        look(shown) if free < one.reorder_at else shown,
        show_measurable(one.reorder_at, unit),
        show_measurable(one.up_to, unit),
        show_amount(one.part.level, unit) if one.part.level is not None else "",
        f"{one.weeks:.1f} weeks, {percent(one.chance)}",
    ]


def _free(shop: Shop, one: PartLevel) -> int:
    """Free, and due in for nobody."""
    from inventory.jobs.purchasing.demand import unclaimed

    return unclaimed(shop, one.part, shop.today)


def _from(made: Levels) -> str:
    weeks = made.expected.weeks
    past = (
        f"{plural(weeks, 'week')} of orders and sales"
        if weeks
        else "no past: half an order a week is assumed"
    )
    more = "" if made.kept else ", more than was asked for: less of each part would be none"
    return f"{past}; a shopping trip every {made.trip:.0f} days; about {made.money:.0f} in stock on average{more}"


def _mind() -> str:
    return "a level that was typed stands; else shopping goes by these, once there is a quarter of orders"


def _next(below: Sequence[PartLevel]) -> tuple[str, str] | None:
    return ("What to buy", "kitdrawer shopping") if below else None


def levels_json(made: Levels, name: str) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    rows = [one for one in made.parts if not name or fold(one.part.name) == fold(name)]
    exact = Exact(0)
    return {
        "parts": [
            {
                "part": one.part.name,
                "level": exact.amount(one.reorder_at),
                "up_to": exact.amount(one.up_to),
                "typed": None if one.part.level is None else exact.amount(one.part.level),
                "a_week": round(one.rate, 3),
                "why": f"lasts {one.weeks:.1f} weeks with {percent(one.chance)}, at {one.rate:.2f} a week",
            }
            for one in rows
        ]
    }
