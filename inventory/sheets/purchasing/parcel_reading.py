"""A filled delivery sheet, back again."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from inventory.catalogue import Catalogue, Part, fold
from inventory.errors import AskedCell, BadMeasure, BadSheet, Place
from inventory.ledger.paid import ACCEPTED, paid_for
from inventory.measures import Currency, currency, read_date, read_money, show_date
from inventory.measures.words import read_yes_or_no
from inventory.reports.purchasing.parcels import Arrived, Delivery
from inventory.sheets.forms import blanks
from inventory.sheets.forms.blanks import DAMAGED
from inventory.sheets.forms.by_hand import ToFill, take
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab
from inventory.sheets.forms.unseen import check_unseen
from inventory.sheets.purchasing.parcel_form import FILLED, PARCELS
from inventory.sheets.purchasing.supplier_tabs import RESERVED, Senders

_PARCEL = ("delivery note", "date", "postage")


Packs = Callable[[str], Collection[int]]
"""The packs a part comes in, thousandths of its unit."""


def read_delivery(
    path: Path,
    known: Catalogue,
    own: Currency,
    today: date,
    packs_of: Packs = lambda _: (),
    answers: Mapping[AskedCell, str] | None = None,
) -> tuple[Delivery, ...]:
    """One delivery a supplier of whom the sheet says that something arrived, was damaged or will not come.

    own: the shop's currency; today: the day of a parcel without a date; packs_of: what “a pack” may mean; answers: to
    cells that were asked about. Prices stay None where none is filled in. Raises BadSheet with every cell that cannot
    be taken, or where nothing is filled in.
    """
    form = ReturnedForm(path, answers=answers)
    reading = _ParcelReading(known, own, today, packs_of)
    for tab in form.tabs:
        if fold(tab.name) == PARCELS:
            check_unseen(form, [tab], ("supplier", *_PARCEL))
            reading.parcels(tab)
    for tab in form.tabs:
        if fold(tab.name) not in RESERVED:
            check_unseen(form, [tab], ("part", "pack", *FILLED, "supplier"))
            reading.lines(tab, form.problems)
    done = reading.deliveries()
    form.finish()
    if not done:
        raise BadSheet(
            f"{form.name} says of nothing that it arrived.",
            hint="Write under “arrived” what came of each part; a tick is all that was due.",
        )
    return (replace(done[0], announced=form.told()), *done[1:])


class _ParcelReading:
    """A delivery sheet on its way in: parcels and lines by supplier."""

    def __init__(self, known: Catalogue, own: Currency, today: date, packs_of: Packs) -> None:
        self.known, self.own, self.today, self.packs_of = known, own, today, packs_of
        self.senders = Senders(known)
        self.parcel: dict[str, ReturnedRow] = {}
        self.told: list[str] = []
        self.understood: dict[str, list[str]] = {}
        self.arrived: dict[str, list[Arrived]] = {}

    def parcels(self, tab: ReturnedTab) -> None:
        """The rows that say of a parcel its note, day and postage."""
        for row in tab.rows:
            if not any(row.said(name) for name in _PARCEL):
                continue
            supplier = self.senders.of_row(row, None)
            if supplier is None:
                continue
            if supplier in self.parcel:
                row.refuse("supplier", f"{supplier} stands here twice. Book one parcel after the other.")
            self.parcel[supplier] = row

    def lines(self, tab: ReturnedTab, problems: list[Place]) -> None:
        """The rows of one supplier's tab."""
        sender = self.senders.of_tab(tab)
        if not tab.has("part", "arrived") or (sender is None and not tab.has("supplier")):
            problem = "No tab of a delivery sheet: nobody is called that, or the columns part and arrived are missing."
            problems.append(Place(tab.file, tab.name, problem=problem))
            return
        for row in tab.rows:
            filled = _filled(tab)
            if not any(row.said(name) for name in filled):
                continue
            supplier = self.senders.of_row(row, sender)
            line = self._line(row, supplier, filled)
            self.understood.setdefault(supplier or "", []).extend(self.told)
            self.told.clear()
            if line is not None and supplier is not None:
                self.arrived.setdefault(supplier, []).append(line)

    def _line(self, row: ReturnedRow, supplier: str | None, filled: Sequence[str]) -> Arrived | None:
        part = row.read("part", self.known.part, None)
        instead = row.read("instead of", self.known.part, None)
        settles = row.read("settles it", read_yes_or_no, None)
        cancelled = row.read("rest cancelled", read_yes_or_no, False)
        if part is None:
            if not row.said("part"):
                row.refuse("part", "What arrived? Name the part.")
            return None
        good = self._amount(row, "arrived", part, blanks.arrived(row))
        damaged = self._amount(row, "damaged", part, DAMAGED)
        coin = currency((supplier and self.known.supplier(supplier).currency) or self.own.code)
        price, pack = self._price(row, part, coin, (good or 0) + (damaged or 0))
        line = Arrived(
            part.name,
            good or 0,
            damaged or 0,
            price,
            instead.name if instead else "",
            cancelled,
            row.text("lot"),
            row.read("use by", read_date, None),
            pack,
            row.place(),
            settles,
        )
        if settles is not None and instead is None and not row.said("instead of"):
            row.refuse("settles it", "It settles what? Name the part that was ordered under “instead of”.")
        if good is None or damaged is None:
            return None
        if not good and not damaged and not cancelled:
            _check_empty(row, filled)
            return None
        return line

    def _amount(self, row: ReturnedRow, heading: str, part: Part, blank: ToFill) -> int | None:
        """Thousandths; 0 where the cell is empty, None after refusing it."""
        if not row.said(heading):
            return 0
        found = take(row, heading, part.read_amount, blank, self.told)
        return None if found is None else found.value

    def _price(
        self, row: ReturnedRow, part: Part, coin: Currency, came: int
    ) -> tuple[int | None, int | None]:
        """The price in minor units, and thousandths of the pack it is for: as it stands, or what was paid for what."""
        pack = row.read("pack", part.read_amount, None) or None
        price = row.read("price", lambda text: read_money(text, coin), None)
        if not row.said("paid") and not row.said("for"):
            return price, pack
        if price is not None:
            row.refuse("paid", "There is a price too. Keep one of the two.")
        elif not row.said("for"):
            row.refuse("for", f"For what was {row.said('paid')} paid? {ACCEPTED}")
        elif not row.said("paid"):
            row.refuse("paid", f"What was paid for “{row.said('for')}”? Write the sum.")
        paid = row.read("paid", lambda text: read_money(text, coin), None)
        packs = {pack} if pack else self.packs_of(part.name)
        amount = row.read("for", lambda text: paid_for(text, part, came, packs), None)
        return paid, amount

    def deliveries(self) -> tuple[Delivery, ...]:
        """The finished deliveries; parcels nothing came with are refused."""
        for supplier, row in self.parcel.items():
            if supplier not in self.arrived:
                row.refuse("supplier", f"Nothing is filled in as arrived from {supplier}.")
        return tuple(self._delivery(supplier, lines) for supplier, lines in self.arrived.items())

    def _delivery(self, supplier: str, lines: Iterable[Arrived]) -> Delivery:
        row, understood = self.parcel.get(supplier), tuple(self.understood[supplier])
        if row is None:
            return Delivery(supplier, self.today, tuple(lines), understood=understood)
        coin = currency(self.known.supplier(supplier).currency or self.own.code)
        day = row.read("date", self._day, self.today)
        postage = row.read("postage", lambda text: read_money(text, coin), 0)
        note = row.text("delivery note")
        return Delivery(supplier, day, tuple(lines), postage, note, understood=understood)

    def _day(self, text: str) -> date:
        day = read_date(text)
        if day > self.today:
            raise BadMeasure(
                f"{show_date(day)} is still to come; today is {show_date(self.today)}.",
                hint=f"Write the day it came, {show_date(self.today)} or before.",
            )
        return day


def _filled(tab: ReturnedTab) -> tuple[str, ...]:
    """The columns that say something came. A supplier's list has its prices before anything does."""
    return tuple(name for name in FILLED if name != "price" or not tab.has("packs"))


def _check_empty(row: ReturnedRow, filled: Sequence[str]) -> None:
    """A row of which nothing came may say no and 0, and nothing else."""
    if any(
        row.said(name)
        for name in filled
        if name not in ("arrived", "damaged", "settles it", "rest cancelled")
    ):
        row.refuse("arrived", "How much arrived? The row says more of it, but not that.")
