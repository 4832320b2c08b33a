"""What the shelf gives: how many pieces in line 1, a row a kind, and what holds the set back."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value
from inventory.jobs.stock.makeable import Makeable
from inventory.ledger.shop import Shop
from inventory.measures import Currency, listed, plural, show_day, show_money


def makeable_screen(made: Makeable, shop: Shop, minutes: int | None, *, everything: bool) -> list[str]:
    """Nothing is spoiled and no order's parts are touched in it."""
    columns = (Cells("Make", right=True), Cells("Piece"), Cells("Blank"))
    rows = [
        [str(one.count), ", ".join(filter(None, (one.pattern, one.plating))), one.blank]
        for one in sorted(made.pieces, key=lambda one: -one.count)
    ]
    groups: list[Sequence[Block]] = [[Listing(columns, rows, least=0)], _facts(made, shop)]
    doors = [] if everything else [("Every row", "--all")]
    screen = Screen(_head(made, shop, minutes), (), groups, "", doors, _next(made))
    return draw(screen, everything=everything)


def _head(made: Makeable, shop: Shop, minutes: int | None) -> str:
    within = "" if minutes is None else f" in {minutes / 60:g} h"
    if not made.total:
        return f"Nothing can be made{within} from what is free on {show_day(shop.today)}."
    earns = "" if made.gain is None else f", earning {show_money(made.gain, shop.currency)}"
    proven = "" if made.proven else "; more may be possible"
    return f"{plural(made.total, 'piece')} can be made{within}{earns}{proven}: {show_day(shop.today)}."


def _facts(made: Makeable, shop: Shop) -> list[Block]:
    def adds(many: int) -> str:
        return plural(many, "piece") if made.gain is None else show_money(many, shop.currency)

    more = "; ".join(f"{one.part.name} adds {adds(one.adds)}" for one in made.more[:3])
    without = ", ".join(f"{pattern} ({what})" for pattern, what in made.lacking)
    unpriced = f"{listed(made.unpriced, most=3)}: nobody said what such a piece sells for"
    return [
        Fact("Time", f"about {made.minutes / 60:.1f} h, without setting up" if made.total else ""),
        Fact("One more", more),
        Fact("No tool", look(without) if without else ""),
        Fact("No price", unpriced if made.unpriced else ""),
        Fact(
            "Check",
            "if nothing is spoiled; what is set aside or out of date is left out" if made.total else "",
        ),
    ]


def _next(made: Makeable) -> tuple[str, str] | None:
    if not made.pieces:
        return ("What to buy", "kitdrawer shopping")
    one = max(made.pieces, key=lambda piece: piece.count)
    stall = pasted(f"{one.pattern}, {one.plating}, {one.blank}, {one.count}")
    return ("Plan it", f"kitdrawer plan --stall {stall}") if one.plating and one.blank else None


def makeable_json(made: Makeable, coin: Currency) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    exact, counted = Exact(coin.exponent), made.gain is None
    return {
        "currency": coin.code,
        "pieces": [
            {
                "pattern": one.pattern,
                "plating": one.plating or None,
                "kit": one.kit,
                "blank": one.blank or None,
                "count": one.count,
            }
            for one in made.pieces
        ],
        "total": made.total,
        "earns": exact.money(made.gain),
        "minutes": made.minutes,
        "proven": made.proven,
        "one_more": [
            {"part": one.part.name, "adds": one.adds if counted else exact.money(one.adds)}
            for one in made.more
        ],
        "no_tool": [{"pattern": pattern, "tool": what} for pattern, what in made.lacking],
        "no_price": list(made.unpriced),
    }
