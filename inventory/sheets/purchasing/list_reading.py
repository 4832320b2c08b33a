"""An edited supplier list, back again: packs changed, rows added or taken out, prices put right."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from inventory.catalogue import Catalogue, Part, fold
from inventory.errors import AskedCell, BadMeasure, BadSheet, Place
from inventory.measures import Currency, currency, read_money, read_unit
from inventory.reports.purchasing.placed import Placed, PlacedSheet
from inventory.sheets.forms.blanks import PACKS
from inventory.sheets.forms.by_hand import take
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab
from inventory.sheets.forms.unseen import check_unseen
from inventory.sheets.purchasing.supplier_tabs import RESERVED, Senders

MOST_PACKS = 100_000
_READ = ("part", "supplier code", "pack", "packs", "price", "supplier")
ONE = 1000
"""A pack of one, in thousandths."""


def read_lists(
    path: Path, known: Catalogue, own: Currency, answers: Mapping[AskedCell, str] | None = None
) -> PlacedSheet:
    """What was ordered: one row a line with packs above 0, from a workbook, a CSV file or a folder of them.

    own: the shop's currency; answers: to cells that were asked about. The tabs `summary` and `reasons` are left alone.
    Raises BadSheet with every cell that cannot be taken, or where there is no list at all.
    """
    form, senders = ReturnedForm(path, answers=answers), Senders(known)
    lists = [tab for tab in form.tabs if fold(tab.name) not in RESERVED]
    done = [row for tab in lists for row in _tab(form, tab, senders, own)]
    if not lists and not form.problems:
        hint = "Give a file saved by `shopping --save`."
        raise BadSheet(f"{form.name} holds no supplier's list.", hint=hint)
    form.finish()
    return PlacedSheet(tuple(done), form.told())


def _tab(form: ReturnedForm, tab: ReturnedTab, senders: Senders, own: Currency) -> list[Placed]:
    sender = senders.of_tab(tab)
    if not tab.has("part", "packs") or (sender is None and not tab.has("supplier")):
        names = ", ".join(list(senders.by_title)[:6])
        problem = (
            f"No supplier's list: it has the columns part and packs, and its tab is called one of {names}."
        )
        form.problems.append(Place(tab.file, tab.name, problem=problem))
        return []
    check_unseen(form, [tab], _READ)
    rows = [_row(row, senders, sender, own, form.announced) for row in tab.rows]
    return [row for row in rows if row is not None]


def _row(
    row: ReturnedRow, senders: Senders, sender: str | None, own: Currency, told: list[str]
) -> Placed | None:
    said = take(row, "packs", _packs, PACKS, told)
    packs = 0 if said is None else said.value
    part = row.read("part", senders.known.part, None)
    if not row.said("part") and packs:
        row.refuse("part", "Packs without a part: name what they are of.")
    if part is None or not packs:
        return None
    supplier = senders.of_row(row, sender)
    if supplier is None:
        return None
    coin = currency(senders.known.supplier(supplier).currency or own.code)
    pack, price = _pack(row, part), row.read("price", lambda text: read_money(text, coin), None)
    if price is None and not row.said("price"):
        row.refuse("price", "The price of a pack is missing.")
    if price is None or pack is None:
        return None
    return Placed(supplier, part.name, pack, packs, price, row.text("supplier code"), row.place())


def _packs(text: str) -> int:
    if not text.isdecimal() or int(text) > MOST_PACKS:
        hint = f"Write a whole number up to {MOST_PACKS:,}, 0 to leave the line out."
        raise BadMeasure(f"“{text}” is no count of packs.", hint=hint)
    return int(text)


def _pack(row: ReturnedRow, part: Part) -> int | None:
    """What one pack holds: one, where a row added by hand says nothing of a part that is counted."""
    if not row.said("pack"):
        if read_unit(part.unit).kind == "count":
            return ONE
        row.refuse("pack", f"How much is in a pack? Write it in {part.unit}.")
        return None
    pack = row.read("pack", part.read_amount, None)
    if pack == 0:
        row.refuse("pack", "A pack holds something: write more than 0.")
    return pack or None
