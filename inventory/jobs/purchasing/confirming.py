"""What a supplier has confirmed, as lines that were ordered: in the packs and at the prices its offers say."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.catalogue import Offer, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.sourcing import step_price
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.placed import Placed


def confirmed(shop: Shop, said: Iterable[tuple[str, str, str]]) -> tuple[tuple[Placed, ...], tuple[str, ...]]:
    """Lines of the order, and what could not be made one of them, in sentences. said: part, amount and supplier."""
    rows: list[Placed] = []
    notes: list[str] = []
    for name, amount, supplier in said:
        try:
            row = _row(shop, name, amount, supplier)
        except KitdrawerError as error:
            notes.append(f"{name}: not entered as due in: {error.message}")
            continue
        if row is None:
            whole = (
                f"whole packs of an offer of {supplier} with a price" if supplier else "known who sends it"
            )
            notes.append(f"{name}: not entered as due in, for {amount} is not {whole}.")
        else:
            rows.append(row)
    return tuple(rows), tuple(notes)


def _row(shop: Shop, name: str, amount: str, supplier: str) -> Placed | None:
    """The line in the largest packs that make up the amount; None where no offer of the supplier does."""
    part = shop.catalogue.part(name)
    quantity = part.read_amount(amount)
    theirs = [
        one
        for one in shop.offers.get(fold(part.name), ())
        if supplier and fold(one.supplier) == fold(supplier) and quantity and quantity % one.pack == 0
    ]
    if not theirs:
        return None
    best: Offer = max(theirs, key=lambda one: one.pack)
    packs = quantity // best.pack
    return Placed(best.supplier, part.name, best.pack, packs, step_price(best, packs), best.code)
