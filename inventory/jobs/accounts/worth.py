"""What the stock is worth at the end of a day, by lot, and how it became so since another."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from inventory.catalogue import Part
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.past.flows import flows
from inventory.ledger.past.shelf import PastLot, PastShelf
from inventory.reports.accounts.worth import PartWorth, StockWorth


def worth(shelf: PastShelf, named: Mapping[str, Part], since: date, on: date) -> StockWorth:
    """The shelf of a day put together. named: every part there ever was, by folded name, merged ones too."""
    by_part: dict[str, list[PastLot]] = {}
    for lot in shelf.lots:
        by_part.setdefault(lot.part, []).append(lot)
    parts = tuple(
        PartWorth(
            named[key],
            sum(lot.quantity for lot in lots),
            sum(lot.cost for lot in lots),
            sum(lot.quantity for lot in lots if lot.cost_from == UNKNOWN),
            tuple(lots),
        )
        for key, lots in by_part.items()
    )
    flow = flows(shelf.lots, shelf.moved)
    return StockWorth(on, parts, tuple(shelf.lent), tuple(shelf.due), since, flow, named)
