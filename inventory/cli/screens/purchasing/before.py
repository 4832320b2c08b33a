"""What to have before a market: what is missing first, by the day it is to be ordered."""

from __future__ import annotations

from inventory.cli.drawing.blocks import Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.shares import percent
from inventory.jobs.ahead.before import CHANCE, BeforeMarket, ToHave
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_day, show_measurable
from inventory.planning.demand.markets import AHEAD


def before_screen(shop: Shop, made: BeforeMarket, *, everything: bool) -> list[str]:
    """Every part the market takes, those that are missing first."""
    short, year = [one for one in made.parts if one.short], made.market.on.year
    lack = f"{plural(len(short), 'part is', 'parts are')} missing" if short else "Enough is there"
    head = f"{lack} for {made.market.name}, {show_day(made.market.on)}."
    table = Listing(
        (
            Cells("Part"),
            Cells("Free", right=True),
            Cells("To have", right=True),
            Cells("For it", right=True, folds=2),
            Cells("Order by", right=True, folds=1),
        ),
        [_cells(shop, one, year) for one in made.parts],
        least=0,
    )
    facts = [
        Fact(
            "By", f"{show_day(made.ready, year)}: its pieces are made {plural(AHEAD, 'week')} before its day"
        ),
        Fact("To have", f"for orders until then and the market, enough with {percent(CHANCE)}"),
        Fact("For it", f"what {made.market.pieces:.0f} pieces take of it, sold like all others"),
        Fact(
            "Order by", "that day less the days on the way and how late parcels were; today where it is past"
        ),
    ]
    doors = [] if everything else [("Every part", "--all")]
    following = ("What to buy", "kitdrawer shopping") if short else None
    return draw(Screen(head, (), [[table], facts], "", doors, following), everything=everything)


def _cells(shop: Shop, one: ToHave, year: int) -> list[str]:
    unit, there = one.part.unit, show_measurable(one.there, one.part.unit, down=True)
    day = max(one.order_by, shop.today) if one.order_by else None
    by = "nobody sells it" if day is None else "today" if day == shop.today else show_day(day, year)
    return [
        one.part.name,
        look(there) if one.short else there,
        show_measurable(one.wanted, unit),
        show_measurable(one.for_it, unit),
        "" if not one.short else stop(by) if day in (None, shop.today) else by,
    ]


def before_json(made: BeforeMarket) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(0)
    return {
        "market": made.market.name,
        "on": made.market.on,
        "expected": round(made.market.pieces, 3),
        "ready_by": made.ready,
        "parts": [
            {
                "part": one.part.name,
                "free": exact.amount(one.there),
                "to_have": exact.amount(one.wanted),
                "for_it": exact.amount(one.for_it),
                "short": exact.amount(one.short),
                "order_by": one.order_by,
            }
            for one in made.parts
        ],
    }
