"""Costs that a sheet says of what is there already: on the screen and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Cells, Listing, Sentence
from inventory.cli.json.exact import Exact, Value
from inventory.jobs.counting.cost_corrections import Correction
from inventory.measures import Currency, show_money, show_unit_price


def corrections(found: Sequence[Correction], coin: Currency) -> list[Block]:
    """Each lot with what it cost so far and costs now."""
    columns = (
        Cells("Costs said of what is there"),
        Cells("So far", right=True),
        Cells("Now", right=True),
        Cells("Each", right=True, folds=1),
    )
    rows = [
        [
            one.called,
            "unknown" if one.was is None else show_money(one.was, coin),
            show_money(one.now, coin),
            show_unit_price(one.unit_cost, coin),
        ]
        for one in found
    ]
    told = Sentence("They are booked by an entry of their own." if found else "")
    return [Listing(columns, rows, least=0), told]


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
