"""Costs that a sheet says of what is there already: on the screen and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.tables import wrapped
from inventory.jobs.counting.cost_corrections import Correction
from inventory.measures import Currency, show_money, show_unit_price

MOST = 20
"""Lots named on a screen."""


def corrections_screen(found: Sequence[Correction], coin: Currency) -> list[str]:
    """Each lot with what it cost so far and costs now."""
    lines: list[str] = []
    for one in found[:MOST]:
        was = "unknown" if one.was is None else show_money(one.was, coin)
        each = show_unit_price(one.unit_cost, coin)
        lines += wrapped(f"{one.called}: {was} so far, now {show_money(one.now, coin)} ({each} each)", "  ")
    if len(found) > MOST:
        lines.append(f"  … and {len(found) - MOST} more")
    return lines


def corrections_json(found: Sequence[Correction], entry: int | None, coin: Currency) -> dict[str, Value]:
    """The same for programs. entry: the document that booked them; null where none did."""
    exact = Exact(coin.exponent)
    return {
        "entry": entry,
        "lots": [
            {
                "part": one.lot.part,
                "lot": one.lot.name or None,
                "quantity": exact.amount(one.quantity),
                "was": exact.money(one.was),
                "cost": exact.money(one.now),
                "row": one.place.row,
            }
            for one in found
        ],
    }
