"""Rows of suppliers and offers."""

from __future__ import annotations

import re

from inventory.catalogue import Supplier, fold
from inventory.measures import Currency, currency, plural
from inventory.sheets.stock.entries.drafts import OfferDraft
from inventory.sheets.stock.rows import Row

_ADDRESS = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s.]+")


def supplier(row: Row) -> None:
    """One supplier; money is in the supplier's own currency."""
    name, days, postage_text, free_text, least_text, code, email, note = row.values
    key = row.give("supplier", "supplier", name)
    money = currency(code) if code else row.gathering.currency
    postage = row.money("postage", postage_text, money)
    free_from = row.money("free postage from", free_text, money)
    least = row.money("minimum order", least_text, money)
    if email and not _ADDRESS.fullmatch(email):
        row.refuse("email", f"“{email}” is not an address. Write name@shop.example.com.", email)
    if key and not row.bad:
        entry = Supplier(name, days, postage or 0, free_from, least, code or "", email or "", note or "")
        row.gathering.suppliers[key] = entry


def offer(row: Row) -> None:
    """One price step of an offer."""
    supplier_name, part_name, pack_text, price_text, code, packs, group, seen_on, most = row.values
    supplier_name = row.reference("supplier", "supplier", supplier_name)
    part_name = row.reference("part", "part", part_name)
    row.not_ahead("seen on", seen_on)
    if supplier_name is None or part_name is None:
        return
    money = _currency(row, supplier_name)
    price = row.money("price", price_text, money, above_zero=True) if money else None
    part = row.gathering.part(part_name)
    pack = row.amount("pack", pack_text, part) if part else None
    if pack is None or price is None or row.bad:
        return
    key = (fold(supplier_name), fold(part_name), pack, fold(code or ""))
    draft = row.gathering.offers.setdefault(key, OfferDraft(supplier_name, part_name, pack, code or ""))
    _add_step(row, draft, packs or 1, price)
    _add_group(row, draft, group or "")
    _add_most(row, draft, most)
    draft.seen_on = max(filter(None, (draft.seen_on, seen_on)), default=None)


def _currency(row: Row, supplier_name: str) -> Currency | None:
    gathering, key = row.gathering, fold(supplier_name)
    entry = gathering.suppliers.get(key) or gathering.known.suppliers.get(key)
    if entry is None:
        return None  # the supplier's own row could not be read, so neither can its prices
    return currency(entry.currency) if entry.currency else gathering.currency


def _add_step(row: Row, draft: OfferDraft, packs: int, price: int) -> None:
    if packs in draft.steps:
        problem = f"The price from {plural(packs, 'pack')} on of this offer is given twice."
        row.refuse("from packs", problem)
    draft.steps[packs] = price


def _add_most(row: Row, draft: OfferDraft, most: int | None) -> None:
    if most is not None and draft.at_most not in (None, most):
        row.refuse("at most packs", f"Another row says that {draft.at_most} of this offer are left.", most)
    draft.at_most = most if draft.at_most is None else draft.at_most


def _add_group(row: Row, draft: OfferDraft, group: str) -> None:
    if draft.group and group and fold(draft.group) != fold(group):
        row.refuse("price group", f"Another row puts this offer into the group “{draft.group}”.", group)
    draft.group = draft.group or group
