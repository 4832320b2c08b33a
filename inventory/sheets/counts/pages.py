"""The printed pages of a count sheet: drawer by drawer, two tables side by side, breaks where a drawer ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from math import ceil
from typing import Final

from inventory.catalogue import KINDS, fold
from inventory.catalogue.names import natural
from inventory.measures import STEPS, show_amount, show_date
from inventory.measures.units import UNITS, plural
from inventory.reports.session_sheet import CountRow, CountSheet
from inventory.sheets.drawing import Cell
from inventory.sheets.forms.pages import Band, Field, Item, Paragraph, PrintedTable, page_points
from inventory.sheets.forms.printed import Printed
from inventory.sheets.paper import PLAIN, TITLE, room
from inventory.sheets.sessions.tabs import FULL, OF, OPEN
from inventory.sheets.values import show_day

PAGE_MM: Final = 184.0
"""Width of a page, upright: A4 and Letter have room for it between their margins."""
COUNT: Final = "count"
"""The heading by which a table of these pages is known when it comes back."""
PRINTED: Final[Printed] = {
    COUNT: {COUNT: "part", "which": "bottle", "there": "counted", "again": "second count", "open g": OPEN}
}
"""What the printed headings stand for."""
_ROOM: Final = room(landscape=False)[1] / 25.4 * 72
_HOW: Final = (
    "Write in the shaded boxes; 0 where nothing is, empty where nobody counted. Bottles: what is there, or the full "
    "ones and the open one on the scale with its cap on. “Again” is for a second count, where the first surprises."
)
_SPARE: Final = 3
"""Empty rows at the end, in either table, for what stands on no row."""
_LEAST: Final = 2
"""Rows of a drawer that may stand alone at the foot of a page."""
_OPEN: Final = frozenset({"what"})
_GAP: Final = 2.0
"""Millimetres between the tables."""
_FEW: Final = 20
"""Of so many rows each says why it is worth counting; where all are counted that is no news."""
Rows = Sequence[CountRow]


def count_pages(sheet: CountSheet) -> list[list[Item]]:
    """The pages: the fewest there can be, and with as many no drawer is parted that a page has room for."""
    head = _head(sheet)
    found = [list(rows) for _, rows in groupby(by_drawer(sheet.rows), key=lambda row: fold(_lies_in(row)))]
    drawers = [(_lies_in(rows[0]), rows) for rows in found]
    parted, whole = (_Pages(sheet, head, whole=whole).all(drawers) for whole in (False, True))
    return whole if len(whole) <= len(parted) else parted


def by_drawer(rows: Iterable[CountRow]) -> list[CountRow]:
    """Drawer by drawer, what lies in none last and by kind; in each the bottles last, all in natural order.

    >>> [row.part for row in by_drawer([CountRow("b", "piece"), CountRow("10", "piece", drawer="drawer 10"),
    ...     CountRow("a", "piece", drawer="drawer 9"), CountRow("a", "piece")])]
    ['a', '10', 'a', 'b']
    """
    return sorted(rows, key=_order)


def _order(row: CountRow) -> tuple[object, ...]:
    kind = 0 if row.drawer or not row.kind else KINDS.index(row.kind)
    return (not row.drawer, natural(row.drawer), kind, row.containers, natural(row.part), row.lot)


def _lies_in(row: CountRow) -> str:
    if row.drawer:
        return row.drawer
    kinds = {"supply": "supplies", "piece": "finished pieces"}
    return f"in no drawer: {kinds.get(row.kind, f'{row.kind}s')}" if row.kind else "in no drawer"


def _head(sheet: CountSheet) -> list[Item]:
    how = "the book's figures are left out" if sheet.blind else "with the book's figures"
    return [Paragraph(f"Count, {show_day(sheet.on)}: {how}", TITLE, bold=True), Paragraph(_HOW)]


class _Pages:
    """Pages on their way out. whole: a drawer goes to the next page rather than being parted."""

    def __init__(self, sheet: CountSheet, head: Sequence[Item], *, whole: bool) -> None:
        self.sheet, self.whole = sheet, whole
        self.of = f"{sheet.mark} count {sheet.version}".strip()
        self.done: list[list[Item]] = [list(head)]

    def all(self, drawers: Sequence[tuple[str, Rows]]) -> list[list[Item]]:
        """Every drawer, then rows to add to."""
        for title, rows in drawers:
            self._drawer(title, rows)
        plain = [PrintedTable(self._fields(bottles=False), (), _SPARE, {OF: self.of}, _OPEN)] * 2
        more: list[Item] = [_title("anything else"), Band(tuple(plain))]
        if not self._fits(more):
            self.done.append([])
        self.done[-1] += more
        return self.done

    def _fits(self, items: Sequence[Item]) -> bool:
        return page_points([*self.done[-1], *items], PAGE_MM) <= _ROOM

    def _drawer(self, title: str, rows: Rows) -> None:
        left, said = rows, title
        while left:
            many = len(left) if self._fits(self._items(said, left)) else self._some(said, left)
            if self.done[-1] and (
                many < min(_LEAST, len(left)) or (self.whole and many < len(left) == len(rows))
            ):
                self.done.append([])
                continue
            many = max(many, 1)
            self.done[-1] += self._items(said, left[:many])
            left, said = left[many:], f"{title}, continued"
            if left:
                self.done.append([])

    def _some(self, title: str, rows: Rows) -> int:
        """The most of these rows the page has room for: more rows are never lower than fewer."""
        low, high = 0, len(rows)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self._fits(self._items(title, rows[:middle])) else (low, middle)
        return low

    def _items(self, title: str, rows: Rows) -> list[Item]:
        """A drawer's tables: what is counted by the piece, then what comes in bottles."""
        items: list[Item] = [_title(title)]
        before = next((one for one in reversed(self.done[-1]) if isinstance(one, Band)), None)
        for bottles, some in groupby(rows, key=lambda row: row.containers):
            band = self._band(list(some), bottles=bottles)
            same = before is not None and before.blocks[0].fields == band.blocks[0].fields
            both = before is not None and len(before.blocks) >= len(band.blocks)
            before = replace(band, headed=not (same and both))
            items.append(before)
        return items

    def _band(self, rows: Rows, *, bottles: bool) -> Band:
        fields, half = self._fields(bottles=bottles), ceil(len(rows) / 2)
        blocks = [
            PrintedTable(fields, [self._row(row) for row in some]) for some in (rows[:half], rows[half:])
        ]
        return Band(tuple(block for block in blocks if block.rows))

    def _fields(self, *, bottles: bool) -> tuple[Field, ...]:
        """One of two tables side by side: its columns together are half a page wide."""
        figure = Field("booked", 0 if bottles else 15, side="right", form="#,##0.###")
        booked = () if self.sheet.blind else (figure,)  # of bottles it stands under the name
        ones = (_ask("full ones", 11, FULL), _ask("open g", 13, OPEN)) if bottles else ()
        there, unit, again = (12.0, 8.0, 12.0) if bottles else (15.0, 12.0, 15.0)
        asked = (
            _ask("there", there, "counted"),
            Field("", unit, "unit", side="center"),
            *ones,
            _ask("again", again, "second count"),
        )
        wide = PAGE_MM / 2 - _GAP - sum(one.mm for one in (*booked, *asked))
        codes = (Field("part", 0), Field("lot", 0), Field(OF, 0))
        return (Field(COUNT, wide, "what", bold=True), *booked, *asked, Field("", _GAP, "gap"), *codes)

    def _row(self, row: CountRow) -> Mapping[str, Cell]:
        return {
            "what": "\n".join(self._said(row)),
            "booked": None if row.booked is None else Fraction(row.booked, STEPS),
            "unit": plural(row.unit) if UNITS[row.unit].kind == "count" else row.unit,
            "part": row.part,
            "lot": row.lot or None,
            OF: self.of,
        }

    def _said(self, row: CountRow) -> Iterable[str]:
        yield row.part
        if row.lot and row.name:
            day = row.opened_on
            yield row.name.replace(show_date(day), show_day(day)) if day else row.name
        if row.booked is not None and row.containers:
            yield f"booked: {show_amount(row.booked, row.unit)}"
        if row.why and len(self.sheet.rows) <= _FEW:
            yield row.why


def _ask(heading: str, mm: float, name: str) -> Field:
    return Field(heading, mm, name, fill=True, side="center")


def _title(drawer: str) -> Paragraph:
    return Paragraph(drawer, PLAIN, bold=True, least=20)
