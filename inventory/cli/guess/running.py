"""`load --guess`: a list of somebody else's added to a running book, asked about as one's own first sheet was."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import Catalogue, fold
from inventory.catalogue.merging import merged
from inventory.cli.guess.beginning import Beginning
from inventory.cli.screens.purchasing.parcels import placed_screen
from inventory.cli.session import existing, opened, say, shop_of, talk
from inventory.errors import BadSheet
from inventory.jobs.purchasing.confirming import confirmed
from inventory.jobs.purchasing.placing import place
from inventory.jobs.stock.loading import offers_with
from inventory.ledger import Intake, Proposal
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.placed import Placed
from inventory.sheets.guess.guesses import Understanding
from inventory.sheets.guess.pasted import grid_of
from inventory.sheets.guess.running import against_book, only_new
from inventory.sheets.guess.shop.lines import OnItsWay, ShopTabs
from inventory.sheets.guess.understanding import Step

if TYPE_CHECKING:
    from inventory.store import Read

PASTED = Path("-")


@dataclass(slots=True)
class Adding(Beginning):
    """One `load --guess`. known: the catalogue of the book; on_hand: thousandths there by folded part name."""

    known: Catalogue = field(default_factory=Catalogue)
    coming: list[OnItsWay] = field(default_factory=list)
    on_hand: Mapping[str, int] = field(default_factory=dict)

    def book_is_there(self) -> bool:
        """Look at the book. Raises NoStore where there is none."""
        with opened(self.store) as found, found.reading() as read:
            self.known, book = read.catalogue(), read.book()
            self.coin = read.currency
        self.on_hand = {fold(one.name): book.balance(one.name).on_hand for one in self.known.parts.values()}
        return True

    def read(self) -> None:
        """A sheet, a text file, or what is pasted at `-`."""
        texts = [path for path in self.paths if path == PASTED or path.suffix.casefold() == ".txt"]
        if not texts:
            Beginning.read(self)
            return
        for path in texts:
            text = sys.stdin.read() if path == PASTED else _text_of(existing(path))
            grid = grid_of(text, "pasted" if path == PASTED else path.stem)
            if not grid.rows:
                raise BadSheet(
                    "Nothing was pasted, so nothing was read.", hint="End with Ctrl-D on a line of its own."
                )
            self.grids = [*self.grids, grid]

    def beside(self) -> Path:
        """Beside the list, under its name and a word more; of what was pasted here."""
        first = self.paths[0]
        if first == PASTED:
            return Path("pasted guessed.xlsx")
        return first.resolve().with_name(f"{first.stem} guessed.xlsx")

    def made_of(self, answers: Mapping[str, str], step: Step | None = None) -> Understanding:
        """What the list says, in the book's own names."""
        found = Beginning.made_of(self, answers, step)
        against_book(found, self.known)
        return found

    def tabs_of(self, found: Understanding) -> ShopTabs:
        """Our tabs with what is new to the book."""
        shop = Beginning.tabs_of(self, found)
        only_new(shop, found, self.known, self.on_hand)
        self.coming = shop.coming
        return shop

    def _load(self, found: Understanding, target: Path, *, there: bool) -> int | None:
        """The list, and what is on its way by it: shown together, asked about once, booked in one go."""
        lines = [(one.part, one.quantity, one.supplier) for one in self.coming]
        due = OnTheirWay(lines, as_json=self.as_json) if lines else None
        self.load = partial(self.load, beside=due)
        number = Beginning._load(self, found, target, there=there)
        if due is not None:
            due.tell(number)
        return number


@dataclass(slots=True)
class OnTheirWay:
    """What a confirmed order says is to come, entered as due in with the load that brings its names and prices.

    lines: part, amount and supplier; rows: what is entered of them; notes: what could not be, in sentences.
    """

    lines: Sequence[tuple[str, str, str]]
    as_json: bool = False
    rows: tuple[Placed, ...] = ()
    notes: tuple[str, ...] = ()
    shop: Shop | None = None
    placed: Proposal | None = None

    def with_it(self, read: Read, intake: Intake, proposal: Proposal) -> Proposal:
        """The load, and right after it the order by what is known once it is booked."""
        now = shop_of(read)
        known = merged(now.catalogue, intake.catalogue)
        offers = offers_with(now.offers, intake.catalogue.offers)
        self.shop = replace(now, catalogue=known, offers={key: tuple(some) for key, some in offers.items()})
        self.rows, self.notes = confirmed(self.shop, self.lines)
        if not self.rows:
            self.placed = None
            return proposal
        self.placed = replace(place(self.shop, self.rows), expected_version=None)
        return booked_after(proposal, self.placed)

    def show(self) -> None:
        """What would be due in."""
        if self.shop is not None and self.placed is not None:
            lines = placed_screen(self.shop, self.rows, self.placed, (), everything=False)
            (talk if self.as_json else say)("\n".join(lines))
        for note in self.notes:
            talk(note)

    def tell(self, number: int | None) -> None:
        """Whether it is due in, and by which entry."""
        entry = None if number is None or self.placed is None else number + 1
        text = (
            f"Due in (entry {entry}): undone first, if the list is." if entry else "Nothing is due in by it."
        )
        (talk if self.as_json else say)(text)


def booked_after(first: Proposal, last: Proposal) -> Proposal:
    """A document with another one booked in one go with it, after those it has already."""
    return replace(first, then=last if first.then is None else booked_after(first.then, last))


def _text_of(path: Path) -> str:
    raw = path.read_bytes()
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    return raw.decode("latin-1")
