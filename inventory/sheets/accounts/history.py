"""The past as a workbook: by month or year, patterns, spoiled, suppliers, prices, use, late orders, what sleeps."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.measures import Currency
from inventory.measures.decimals import Exact
from inventory.reports.history import History, OfferPrices, UsePast
from inventory.sheets.accounts.sums import LINES, sums_row
from inventory.sheets.charts import LEAST, bars, keep_whole, lines
from inventory.sheets.drawing import Cell, SheetColumn, draw_sentences, draw_table
from inventory.sheets.formulas import Formulas
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import DAY_FORMAT, MONTH_FORMAT, money_format, show_day
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_YEAR = "yyyy"
DRAWN_OFFERS, DRAWN_SUPPLIES = 6, 3
"""Of prices those that changed most, of supplies those most looked at, are drawn."""
BY_HAND = "by hand"


def write_history(path: Path, made: History, coin: Currency, *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx). Raises Refused where the file is there already (unless `overwrite`)."""
    check_workbook(path)
    from openpyxl import Workbook

    book = _PastBook(made, coin)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        for title, fill in (
            ("over time", book.over_time),
            ("patterns", book.patterns),
            ("spoiled", book.spoiled),
            ("suppliers", book.suppliers),
            ("prices", book.prices),
            ("prices over time", book.prices_over_time),
            ("use", book.use),
            ("use over time", book.use_over_time),
            ("late orders", book.late),
            ("asleep", book.asleep),
        ):
            sheet = workbook.create_sheet(title)
            fill(sheet)
            print_ready(sheet)
            page_head(sheet, book.title)
            keep_whole(sheet)
        workbook.properties.creator, workbook.properties.title = AUTHOR, book.title
        book.formulas.save(workbook, unfinished)


class _PastBook:
    """One past on its way into tabs."""

    def __init__(self, made: History, coin: Currency) -> None:
        self.made, self.coin, self.exact = made, coin, Exact(coin.exponent)
        self.formulas = Formulas()
        self.form = money_format(coin, code=False)
        self.step = MONTH_FORMAT if made.by_month else _YEAR
        self.title = f"The shop from {show_day(made.first)} to {show_day(made.last)}"

    def over_time(self, sheet: Worksheet) -> None:
        """Pieces and money of each month, each with its chart."""
        columns = (
            SheetColumn("month" if self.made.by_month else "year", 12, side="center", form=self.step),
            *(_number(name) for name in ("made", "spoiled", "sold")),
            *(self._money(f"{name}, {self.coin.code}") for name in ("sold for", "spent", "postage in it")),
        )
        money = self.exact.money
        rows: list[list[Cell]] = [
            [
                one.step,
                one.made,
                one.spoiled,
                one.sold,
                *(money(cost) for cost in (one.sold_for, one.spent, one.postage)),
            ]
            for one in self.made.steps
        ]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        sums_row(sheet, after, columns, [row[1:] for row in rows], self.formulas)
        widths = [column.width for column in columns]
        row = draw_sentences(sheet, after + 2, "Check", _MIND, widths)
        if len(rows) >= LEAST:
            span = 2, len(rows) + 1
            bars(sheet, f"A{row}", "Pieces made, spoiled and sold", (2, 3, 4), span, size=(19, 8))
            bars(sheet, f"A{row + 17}", f"Sold for and spent, {self.coin.code}", (5, 6), span, size=(19, 8))

    def patterns(self, sheet: Worksheet) -> None:
        """What was made and sold of each."""
        columns = (
            SheetColumn("pattern", 34, wraps=True),
            *(_number(name) for name in ("made", "spoiled", "sold")),
            self._money(f"sold for, {self.coin.code}"),
        )
        rows: list[list[Cell]] = [
            [one.pattern, one.made, one.spoiled, one.sold, self.exact.money(one.sold_for)]
            for one in self.made.patterns
        ]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        sums_row(sheet, after, columns, [row[1:] for row in rows], self.formulas)

    def spoiled(self, sheet: Worksheet) -> None:
        """Every material and stage, and the shares as bars."""
        columns = (
            SheetColumn("material, stage", 34, wraps=True),
            SheetColumn("material", 22, wraps=True),
            SheetColumn("stage", 11),
            _number("spoiled"),
            _number("started", "All pieces of that material that were begun."),
            SheetColumn("share", 9, side="right", form="0.0 %"),
        )
        rows: list[list[Cell]] = [
            [
                f"{one.material}, {one.stage}",
                one.material,
                one.stage,
                one.spoiled,
                one.started,
                Fraction(one.spoiled, one.started),
            ]
            for one in self.made.spoiled
        ]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        if len(rows) >= LEAST:
            most = min(len(rows), 12)
            where, span = f"A{after + 2}", (2, most + 1)
            bars(sheet, where, "Pieces spoiled", (4,), span, upright=False, size=(19, 3 + 0.7 * most))

    def suppliers(self, sheet: Worksheet) -> None:
        """Goods and postage of each."""
        columns = (
            SheetColumn("supplier", 34, wraps=True),
            _number("parcels"),
            self._money(f"goods, {self.coin.code}"),
            self._money(f"postage, {self.coin.code}"),
            SheetColumn("postage of it", 10, side="right", form="0.0 %"),
        )
        money = self.exact.money
        rows: list[list[Cell]] = [
            [
                one.supplier or BY_HAND,
                one.parcels or None,
                money(one.goods),
                money(one.postage),
                Fraction(one.postage, one.spent) if one.spent else None,
            ]
            for one in self.made.suppliers
        ]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        sums_row(sheet, after, columns[:4], [row[1:4] for row in rows], self.formulas)
        if len(rows) >= LEAST:
            title, span = f"Goods and postage, {self.coin.code}", (2, len(rows) + 1)
            size = (19, 4 + 0.8 * len(rows))
            bars(sheet, f"A{after + 2}", title, (3, 4), span, upright=False, stacked=True, size=size)

    def prices(self, sheet: Worksheet) -> None:
        """What a pack of each offer was ordered at: first, last, least and most."""
        columns = (
            SheetColumn("part", 34, wraps=True),
            SheetColumn("supplier", 26, wraps=True),
            SheetColumn("pack", 8, side="right", form="#,##0.###"),
            SheetColumn("unit", 7, indent=1),
            _number("ordered", "How often."),
            *(self._money(name) for name in ("first", "last", "least", "most")),
            SheetColumn("change", 9, side="right", form="+0.0 %;-0.0 %;0 %"),
        )
        rows = [self._price(one) for one in self.made.prices]
        draw_table(sheet, columns, rows, LINES, self.formulas)
        sheet.auto_filter.ref = f"A1:J{len(rows) + 1}"

    def _price(self, one: OfferPrices) -> list[Cell]:
        every = [price for _, price in one.seen]
        some = (every[0], every[-1], min(every), max(every))
        pack = Fraction(one.pack, 1000)
        told = (self._coins(price) for price in some)
        return [one.part, one.supplier, pack, one.unit, one.lines, *told, one.change]

    def prices_over_time(self, sheet: Worksheet) -> None:
        """Those that changed most, each against its first price."""
        drawn = [one for one in self.made.prices if len(one.seen) > 1][:DRAWN_OFFERS]
        days = sorted({day for one in drawn for day, _ in one.seen})
        columns = (
            SheetColumn("from", 12, side="center", form=self.step),
            *(
                SheetColumn(f"{one.part}, {one.supplier}", 16, "The first price is 100 %.", form="0 %")
                for one in drawn
            ),
        )
        rows = [[day, *(_against_first(one, day) for one in drawn)] for day in days]
        after = draw_table(sheet, columns, rows, LINES, self.formulas, height=60)
        if len(rows) >= LEAST:
            span, title = (2, len(rows) + 1), "Price of a pack against its first"
            every = range(2, len(drawn) + 2)
            lines(sheet, f"A{after + 1}", title, tuple(every), span, form=self.step, size=(22, 11))

    def use(self, sheet: Worksheet) -> None:
        """Every look at every supply."""
        columns = (
            SheetColumn("part", 34, wraps=True),
            SheetColumn("day", 16, side="center", form=DAY_FORMAT),
            *(
                SheetColumn(name, 11, note, side="right", form="#,##0.###")
                for name, note in (
                    ("used", "By the sessions since the last look."),
                    ("by the bills", "What they write for these sessions."),
                    ("low", "The present rate's 90 % range."),
                    ("high", "The present rate's 90 % range."),
                )
            ),
            SheetColumn("unit", 8, indent=1),
            SheetColumn("times the bills", 9, side="right", form="0.00"),
            SheetColumn("counts", 8, "Whether it is learned from.", side="center"),
        )
        rows: list[list[Cell]] = [
            [
                one.part.name,
                seen.on,
                *(_thousandths(value) for value in (seen.used, seen.expected, seen.low, seen.high)),
                one.part.unit,
                _thousandths(seen.used / seen.expected),
                seen.counts,
            ]
            for one in self.made.uses
            for seen in one.looks
        ]
        draw_table(sheet, columns, rows, LINES, self.formulas)
        sheet.auto_filter.ref = f"A1:I{len(rows) + 1}"

    def use_over_time(self, sheet: Worksheet) -> None:
        """The supplies most looked at: how many times the bills each look found, and the range of the rate."""
        drawn = [one for one in self.made.uses if len(one.looks) >= LEAST][:DRAWN_SUPPLIES]
        heads = [f"{one.part.name}{more}" for one in drawn for more in ("", ", low", ", high")]
        columns = (
            SheetColumn("day", 16, side="center", form=DAY_FORMAT),
            *(SheetColumn(name, 12, side="right", form="0.00") for name in heads),
        )
        days = sorted({seen.on for one in drawn for seen in one.looks})
        rows: list[list[Cell]] = [
            [day, *(cell for one in drawn for cell in _times(one, day))] for day in days
        ]
        row = draw_table(sheet, columns, rows, LINES, self.formulas, height=45) + 1
        for at, one in enumerate(drawn):
            title = f"{one.part.name}: times the bills, and the present 90 % range"
            every = (2 + 3 * at, 3 + 3 * at, 4 + 3 * at)
            span = 2, len(rows) + 1
            lines(sheet, f"A{row}", title, every, span, form="[$-809]d mmm yy", dots=True, size=(22, 8))
            row += 17

    def late(self, sheet: Worksheet) -> None:
        """Orders that were handed over after their day."""
        columns = (
            SheetColumn("order", 30, wraps=True),
            SheetColumn("due", 18, side="center", form=DAY_FORMAT),
            SheetColumn("handed over", 18, side="center", form=DAY_FORMAT),
            _number("days late"),
        )
        orders = self.made.orders
        rows: list[list[Cell]] = [[one.order, one.due, one.on, one.days] for one in orders.late]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        kept = f"{orders.on_time} of {orders.handed_over} orders were handed over by their day"
        said = f"{kept}; {orders.overdue} overdue now."
        draw_sentences(sheet, after + 1, "On time", [said], [column.width for column in columns])

    def asleep(self, sheet: Worksheet) -> None:
        """What neither came nor went for half a year or longer."""
        columns = (
            SheetColumn("part", 40, wraps=True),
            SheetColumn("on hand", 10, side="right", form="#,##0.###"),
            SheetColumn("unit", 8, indent=1),
            SheetColumn("since", 18, side="center", form=DAY_FORMAT),
            _number("months", "At least so many."),
            self._money(f"worth, {self.coin.code}"),
        )
        exact = self.exact
        rows: list[list[Cell]] = [
            [one.part, exact.amount(one.quantity), one.unit, one.last, one.months, exact.money(one.cost)]
            for one in self.made.asleep
        ]
        after = draw_table(sheet, columns, rows, LINES, self.formulas)
        blank: list[Cell] = [None] * 4
        sums_row(sheet, after, columns, [[*blank[4:], row[5]] for row in rows], self.formulas, 6)

    def _money(self, heading: str) -> SheetColumn:
        return SheetColumn(heading, 12, side="right", form=self.form)

    def _coins(self, price: Fraction) -> Fraction:
        """A mean price in coins, to the smallest one."""
        return Fraction(round(price), 10**self.coin.exponent)


_MIND = (
    "Sold for counts pieces whose price is known. Spent is what parcels and purchases by hand cost the day they came, "
    "postage with them; postage of parcels booked before it was told apart lies in their goods.",
    "An order is on time by the day that stands in it now.",
)


def _number(heading: str, note: str = "") -> SheetColumn:
    return SheetColumn(heading, 9, note, side="right", form="#,##0")


def _against_first(one: OfferPrices, day: date) -> Fraction | None:
    price = dict(one.seen).get(day)
    return None if price is None else _thousandths(price / one.seen[0][1])


def _times(one: UsePast, day: date) -> Sequence[Fraction | None]:
    seen = next((seen for seen in one.looks if seen.on == day), None)
    if seen is None:
        return None, None, None
    return tuple(_thousandths(value / seen.expected) for value in (seen.used, seen.low, seen.high))


def _thousandths(value: Fraction) -> Fraction:
    return Fraction(round(value * 1000), 1000)
