"""Rows of suppliers and offers."""

from __future__ import annotations

import re
from dataclasses import replace

from inventory.catalogue import Offer, Supplier, fold
from inventory.measures import Currency, currency, plural
from inventory.sheets.stock.entries.drafts import OfferDraft
from inventory.sheets.stock.rows import StockRow

_ADDRESS = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s.]+")


def supplier(row: StockRow) -> None:
    """One supplier; money is in the supplier's own currency."""
    key = row.give("supplier", "supplier")
    coin = currency(row["currency"]) if row["currency"] else row.context.currency
    postage = row.money("postage", coin) or 0
    free_from = row.money("free postage from", coin)
    least = row.money("minimum order", coin)
    email = row["email"]
    if email and not _ADDRESS.fullmatch(email):
        row.refuse("email", f"“{email}” is not an address. Write name@shop.example.com.")
    if key and not row.bad:
        row.context.suppliers[key] = row.make(
            Supplier, postage=postage, free_from=free_from, minimum_order=least
        )


def offer(row: StockRow) -> None:
    """One price step of an offer."""
    supplier, name = row.reference("supplier", "supplier"), row.reference("part", "part")
    row.not_ahead("seen on")
    if supplier is None or name is None:
        return
    coin = _currency(row, supplier)
    price = row.money("price", coin, above_zero=True) if coin else None
    part = row.context.part(name)
    pack = row.amount("pack", part) if part else None
    if pack is None or price is None or row.bad:
        return
    said = row.make(Offer, supplier=supplier, part=name, pack=pack, steps=())
    if now := row.context.known.codes.get((fold(supplier), fold(said.code))):
        row.note(f"the code “{said.code}” is “{now}” now; the row was taken for that.")
        said = replace(said, code=now)
    key = (fold(supplier), fold(name), pack, fold(said.code))
    row.stands("\x1f".join(map(str, key)))
    draft = row.context.offers.setdefault(key, OfferDraft(replace(said, at_most=None)))
    _add_step(row, draft, row["from packs"] or 1, price)
    draft.said = _together(row, draft.said, said)


def _currency(row: StockRow, supplier_name: str) -> Currency | None:
    context, key = row.context, fold(supplier_name)
    entry = context.suppliers.get(key) or context.known.suppliers.get(key)
    if entry is None:
        return None  # the supplier's own row could not be read, so neither can its prices
    return currency(entry.currency) if entry.currency else context.currency


def _add_step(row: StockRow, draft: OfferDraft, packs: int, price: int) -> None:
    if packs in draft.steps:
        problem = f"The price from {plural(packs, 'pack')} on of this offer is given twice."
        row.refuse("from packs", problem)
    draft.steps[packs] = price


def _together(row: StockRow, before: Offer, said: Offer) -> Offer:
    """What the rows of an offer say together; refused where this one says something else than those before it."""
    group, most = before.price_group, before.at_most
    if group and said.price_group and fold(group) != fold(said.price_group):
        row.refuse("price group", f"Another row puts this offer into the group “{group}”.")
    if said.at_most is not None and most not in (None, said.at_most):
        row.refuse("at most packs", f"Another row says that {most} of this offer are left.")
    return replace(
        before,
        price_group=group or said.price_group,
        seen_on=max(filter(None, (before.seen_on, said.seen_on)), default=None),
        at_most=said.at_most if most is None else most,
    )
