"""Cells of all the messy sheets thrown together, odd ones between: no traceback, nothing lost, and it loads."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from random import Random

import pytest
from searching import every

from inventory.catalogue import Catalogue
from inventory.measures import currency
from inventory.sheets.files import NO_VALUE
from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.shop.book import Written, write_shop
from inventory.sheets.guess.shop.resume import begun_in
from inventory.sheets.guess.shop.shop import shop_of
from inventory.sheets.guess.understanding import understand
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.reader import read_sheets

from .messy import TODAY, parse, sheets

_ODD = (
    "½|=1+1|''|—|0|-|1e9|99999999999|1/0|0/0|12/19|31.2.|x|×|@ @|€|3 for|for 3|a few packs|2 packs|"
    "1 pack of 0|10er Pack|²|①|five for 0|3 for 0|gift|free|?|none|1.000|-5|1/3|7 mm x|x 7|#|letter|"
    "drill|tube|kit|chrome|gold gold|(3)|()|((|5 of 5|2×|paid|by|before|total|Total 5|12:30|1'850.-|"
    "٣|½½|1½½ bottles|0 bottles|100 %|2 bottles of|0.0001|1/7 bottle|0,333 l|tube 0 x 0|drill 0 mm|"
    "99/64|blank 5000 mm x 90000|7000 ml|0 ml|kit kit kit|CA 0 ml"
)
ODD = [*_ODD.split("|"), "Dunlin kit " * 30, "x" * 300]
_DAY = datetime(2026, 1, 2)  # noqa: DTZ001 - as a cell has it
VALUES = (True, False, 3, 0, -2, 1e300, 2.5, float("inf"), float("nan"), _DAY)


def thrown(dice: Random, pool: list[str], heads: list[list[str]]) -> list[Grid]:
    """Up to three tabs of random cells, most of them under headings of some sheet."""
    grids = []
    for at in range(dice.randint(1, 3)):
        grid = Grid("f.xlsx", dice.choice(["Stock", "Orders", "Kits", "Holz"]) + str(at))
        head = dice.choice(heads) if dice.random() < 0.7 else []
        for row in range(1, dice.randint(3, 15)):
            for column in range(7):
                raw = head[column] if row == 1 and column < len(head) else _cell(dice, pool)
                text = text_of(raw) if raw is not None else ""
                if text:
                    grid.rows.setdefault(row, {})[column] = Cell(grid.tab, row, column, raw, text)
        grids += [grid] if grid.rows else []
    return grids


def _cell(dice: Random, pool: list[str]) -> object:
    if dice.random() < 0.3:
        return None
    if dice.random() < 0.1:
        return dice.choice((NO_VALUE, *VALUES))
    return dice.choice(pool) if dice.random() < 0.6 else dice.choice(ODD)


@pytest.mark.parametrize("seed", every(4, range(24)))
def test_whatever_the_cells(seed: int, tmp_path: Path) -> None:
    """Every cell keeps its fate, the workbook is written and read back, and our own reader takes it."""
    written_down = [parse(path) for folder in ("sheets", "held_out") for path in sheets(folder)]
    tabs = [rows for messy in written_down for rows in messy.tabs.values()]
    pool = [cell for rows in tabs for row in rows for cell in row if cell]
    grids = thrown(Random(seed), pool, [rows[0] for rows in tabs])
    found = understand(grids, {}, TODAY)
    used = {
        cell
        for thing in [*found.things, *found.orders]
        for said in thing.said.values()
        for cell in said.cells
    }
    told = used | {one.cell for one in found.kept} | set(found.asking.asked_cells)
    assert [cell.ref for grid in grids for cell in grid.filled() if cell not in told] == []
    place = tmp_path / "shop.xlsx"
    shop = shop_of(found)
    write_shop(place, Written(shop, found, grids, {}))
    assert begun_in([place]) is not None
    if shop.lines:
        read_sheets([place], Catalogue(), {}, currency(found.coin), today=TODAY)
