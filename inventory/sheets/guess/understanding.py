"""The whole of a stranger's sheet understood: every tab, then what only the whole can tell."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Asking, Kept, Understanding
from inventory.sheets.guess.rows.tabs import read_orders, read_tab
from inventory.sheets.guess.texts.words import lexicon
from inventory.sheets.guess.whole.basis import settle_basis, settle_coin
from inventory.sheets.guess.whole.same import settle_names

Step = Callable[[int, int], None]


def understand(
    grids: Sequence[Grid],
    answers: Mapping[str, str],
    today: date,
    coin: str = "",
    progress: Step | None = None,
) -> Understanding:
    """What these tabs say, with the questions that are left after `answers` (by the questions' keys)."""
    found = Understanding(asking=Asking(answers), today=today)
    later = []
    for at, grid in enumerate(grids):
        found.notes += grid.notes
        later += read_tab(grid, found, today)
        if progress:
            progress(at + 1, len(grids))
    _platings(found)
    settle_names(found)
    read_orders(later, found, today)
    settle_names_of_orders(found)
    settle_basis(found)
    settle_coin(found, coin)
    _account(grids, found)
    return found


def settle_names_of_orders(found: Understanding) -> None:
    """Orders name families as the stock does, whatever their case."""
    families = {thing.value("family").casefold(): thing.value("family") for thing in found.things}
    for order in found.orders:
        wanted = order.said.get("family")
        if (
            wanted
            and wanted.value.casefold() in families
            and wanted.value != families[wanted.value.casefold()]
        ):
            order.put("family", families[wanted.value.casefold()], wanted.grade, wanted.why, *wanted.cells)


def _platings(found: Understanding) -> None:
    """Kits of which nothing says the plating: asked once for all of them."""
    bare = [thing for thing in found.things if thing.value("kind") == "kit" and "plating" not in thing.said]
    if not bare:
        return
    names = list(dict.fromkeys(thing.value("family") for thing in bare))
    listed = ", ".join(names[:3]) + (" …" if len(names) > 3 else "")
    have = [thing.value("plating") for thing in found.things if thing.value("plating")]
    guess = max(sorted(set(have)), key=have.count, default="chrome")
    choices = tuple(dict.fromkeys(lexicon("platings", "plating").phrases.values()))
    said = found.asking.ask(
        "no plating", f"Which plating have {listed}?", guess, bare[0].anchor, choices=choices
    )
    for thing in bare:
        thing.put("plating", said.value, said.grade, said.why, thing.anchor)


def _account(grids: Sequence[Grid], found: Understanding) -> None:
    """Every filled cell has its fate; what nobody used is told as not understood."""
    used: set[Cell] = set()
    for thing in [*found.things, *found.orders]:
        for said in thing.said.values():
            used.update(said.cells)
    kept = {one.cell: one.what for one in found.kept}
    for grid in grids:
        for cell in grid.filled():
            found.cells += 1
            if cell not in used and cell not in kept and cell not in found.asking.asked_cells:
                found.kept.append(Kept(cell, "not understood"))
                kept[cell] = "not understood"
            if (
                kept.get(cell) not in ("not understood", "heading not known")
                and cell not in found.asking.asked_cells
            ):
                found.understood += 1
