"""Sheets in: every tab of every file read and cross-checked, and handed on only if all is good."""

from __future__ import annotations

import gc
import warnings
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path

from inventory.catalogue import Catalogue, Order
from inventory.errors import BadSheet, Place
from inventory.ledger import Intake
from inventory.measures import Currency, plural
from inventory.sheets.files import Source, fold_heading
from inventory.sheets.hidden import hidden_tab
from inventory.sheets.sources import TEXTS, open_sources
from inventory.sheets.stock.entries import book, goods, making, shop
from inventory.sheets.stock.finishing import finish
from inventory.sheets.stock.headings import near_tab
from inventory.sheets.stock.implied import imply, told
from inventory.sheets.stock.load_context import LoadContext
from inventory.sheets.stock.rows import StockRow
from inventory.sheets.stock.tables import read_table
from inventory.sheets.stock.tabs import TABS, headings_of

Progress = Callable[[int, int], None]

# In an order in which every name is given before it is needed, wherever its tab stands in the file.
_BUILDERS: Mapping[str, Callable[[StockRow], None]] = {
    "suppliers": shop.supplier,
    "materials": goods.material,
    "platings": goods.plating,
    "tubes": goods.tube,
    "blanks": goods.blank,
    "supplies": goods.supply,
    "tools": goods.tool,
    "families": making.family,
    "barrels": making.barrel,
    "kits": goods.kit,
    "patterns": making.pattern,
    "bills": making.bill,
    "offers": shop.offer,
    "counts": book.count,
    "orders": book.order,
    "markets": book.market,
}
_OURS = frozenset({"lists", "readme", "mysheet", "start"})
"""Tabs a template brings along that hold nothing to read."""


def read_sheets(
    paths: Sequence[Path],
    known: Catalogue,
    known_orders: Mapping[str, Order],
    currency: Currency,
    *,
    today: date,
    progress: Progress | None = None,
    csv_tab: str = "",
    packs_of: Callable[[str], Collection[int]] = lambda _: (),
) -> Intake:
    """What the workbooks, CSV files and folders of them say, cross-checked against `known`.

    currency: the shop's. progress: called with rows read so far and rows expected. csv_tab: what CSV files hold,
    whatever they are called; empty: the tab of their name. packs_of: the packs a part was offered in so far. Raises
    BadSheet with every bad cell of every file in `where`; then nothing is handed on.
    """
    context = LoadContext(known, known_orders, currency, today, packs_of=packs_of)
    with ExitStack() as stack, warnings.catch_warnings(), _collector_paused():
        warnings.filterwarnings("ignore", module=r"openpyxl\b")  # about styles, which are not read here
        sources = open_sources(paths, stack, context.problems.append, context.notes.append, headings_of)
        if csv_tab:
            sources = [
                replace(one, tab=csv_tab) if Path(one.file).suffix.casefold() in TEXTS else one
                for one in sources
            ]
        context.torn = bool(context.problems)
        rows = _read(context, sources, progress)
    catalogue = finish(context)
    if context.problems:
        raise _refusal(context.problems)
    context.notes += told(context)
    return Intake(
        catalogue=catalogue,
        counts=tuple(context.counts),
        orders=tuple(context.orders),
        markets=tuple(context.markets),
        fingerprint=context.fingerprint(),
        rows=tuple((tab, rows[tab]) for tab in TABS if tab in rows),
        notes=tuple(dict.fromkeys(context.notes)),
        stood=context.sheets(),
        unused=tuple(context.unused),
    )


@contextmanager
def _collector_paused() -> Iterator[None]:
    """No search for reference cycles: parsing makes none, and the search costs a fifth of the time of a large file."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()


def _read(context: LoadContext, sources: Sequence[Source], progress: Progress | None) -> Counter[str]:
    tick = _ticker(sources, progress)
    by_tab = _sort(context, sources)
    rows: Counter[str] = Counter()
    for tab, build in _BUILDERS.items():
        if tab == "offers":  # from here on names have to be known
            imply(context, rows)
        for source in by_tab.get(tab, ()):
            rows[tab] += read_table(context, source, TABS[tab], build, tick)
    tick(0)
    return rows


def _sort(context: LoadContext, sources: Sequence[Source]) -> dict[str, list[Source]]:
    """The sources by what they hold; strangers are noted, and refused where there is nothing else."""
    real = {fold_heading(tab): tab for tab in TABS}
    by_tab: dict[str, list[Source]] = {}
    for source in sources:
        name = fold_heading(source.tab)
        if name in real:
            by_tab.setdefault(real[name], []).append(source)
            context.notes += source.notes
            if source.hidden:
                context.notes.append(hidden_tab(source.file, source.tab))
        elif name == "questions":
            _questions(context, source)
        elif name not in _OURS:
            near = near_tab(source.tab, TABS)
            hint = f" Did you mean “{near}”?" if near else ""
            context.notes.append(
                f"{source.file}: the tab “{source.tab}” is not one of ours and was left alone.{hint}"
            )
    if sources and not by_tab:
        problem = f"None of its tabs is one of {', '.join(TABS)}; a CSV file has its tab's name."
        context.problems += [
            Place(file, problem=problem) for file in dict.fromkeys(one.file for one in sources)
        ]
    return by_tab


def _questions(context: LoadContext, source: Source) -> None:
    """The open questions of a sheet that was begun from one's own: answers nobody took in yet are refused."""
    from inventory.sheets.guess.shop.resume import still_open, untaken

    for row, answer in untaken(source):
        problem = (
            "The other tabs do not hold this answer yet: `kitdrawer begin --from` this file takes it in."
        )
        context.problems.append(Place(source.file, source.tab, row, "your answer", answer[:120], problem))
    if left := still_open(source):
        context.notes.append(
            f"{source.file}: {plural(left, 'question')} in the tab “{source.tab}” "
            f"{'is' if left == 1 else 'are'} open; best guesses stand in the shaded cells."
        )


def _ticker(sources: Sequence[Source], progress: Progress | None) -> Callable[[int], None]:
    expected, done = sum(source.size for source in sources), 0

    def tick(passed: int) -> None:
        nonlocal done
        done = done + passed if passed else max(done, expected)
        if progress is not None:
            progress(done, max(done, expected))

    return tick


def _refusal(problems: Sequence[Place]) -> BadSheet:
    order = {tab: number for number, tab in enumerate(TABS)}
    where = sorted(
        set(problems), key=lambda one: (one.file, order.get(one.tab, -1), one.row or 0, one.column)
    )
    tabs = len({(place.file, place.tab) for place in where if place.tab})
    things = plural(len(where), "thing")
    places = f" in {plural(tabs, 'tab')}" if tabs else ""
    message = f"{things}{places} cannot be taken, so nothing was loaded."
    return BadSheet(message, hint="Correct these cells and load the same files again.", where=where)
