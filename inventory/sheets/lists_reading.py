"""An edited supplier list, back again: packs changed, rows added or taken out, prices put right."""

from __future__ import annotations

from pathlib import Path

from inventory.catalogue import Catalogue, fold
from inventory.errors import BadMeasure, BadSheet, Place
from inventory.jobs.placing import Placed
from inventory.measures import Currency, currency, read_amount, read_money
from inventory.sheets.columns import fold_heading
from inventory.sheets.filled import FilledRow, filled_tabs, finish
from inventory.sheets.lists_common import RESERVED, titles

MOST_PACKS = 100_000


def read_lists(path: Path, known: Catalogue, own: Currency) -> tuple[Placed, ...]:
    """What was ordered: one row a line with packs above 0. own: the shop's currency.

    Raises BadSheet with every cell that cannot be taken.
    """
    problems: list[Place] = []
    names = {fold(title): name for name, title in titles(s.name for s in known.suppliers.values()).items()}
    done: list[Placed] = []
    lists = 0
    for tab in filled_tabs(path, problems):
        if fold(tab.name) in RESERVED:
            continue
        supplier = names.get(fold(tab.name))
        if supplier is None or not {fold_heading("part"), fold_heading("packs")} <= set(tab.headings):
            problem = f"No supplier's list: tabs are called {', '.join(list(names.values())[:6])}."
            problems.append(Place(tab.file, tab.name, problem=problem))
            continue
        lists += 1
        coin = currency(known.supplier(supplier).currency or own.code)
        rows = [_row(row, supplier, known, coin) for row in tab.rows]
        done += [row for row in rows if row is not None]
    if not lists and not problems:
        raise BadSheet(
            f"{path.name} holds no supplier's list.", hint="Give a file saved by `shopping --save`."
        )
    finish(problems, path.name)
    return tuple(done)


def _row(row: FilledRow, supplier: str, known: Catalogue, coin: Currency) -> Placed | None:
    packs = row.read("packs", _packs, 0)
    name = row.said("part")
    if not name:
        if packs:
            row.refuse("part", "Packs without a part: name what they are of.")
        return None
    part = known.parts.get(fold(name))
    if part is None:
        row.read("part", known.part, None)
        return None
    if not packs:
        return None
    pack = row.read("pack", lambda text: read_amount(text, part.unit), 1000)
    price = row.read("price", lambda text: read_money(text, coin), None)
    if pack <= 0:
        row.refuse("pack", "A pack holds something: write more than 0.")
    if price is None:
        if not row.said("price"):
            row.refuse("price", "The price of a pack is missing.")
        return None
    return Placed(supplier, part.name, pack, packs, price, row.said("supplier code"), row.place())


def _packs(text: str) -> int:
    if not text.isdecimal() or int(text) > MOST_PACKS:
        raise BadMeasure(
            f"“{text}” is no count of packs.", hint="Write a whole number, 0 to leave the line out."
        )
    return int(text)
