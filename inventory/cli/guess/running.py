"""`load --guess`: a list of somebody else's added to a running book, asked about as one's own first sheet was."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import Catalogue, fold
from inventory.cli.answers import worked
from inventory.cli.commands.purchasing.placed import as_placed
from inventory.cli.guess.beginning import Beginning
from inventory.cli.session import existing, opened, say, shop_of, talk
from inventory.errors import BadSheet
from inventory.jobs.purchasing.confirming import confirmed
from inventory.jobs.purchasing.placing import place
from inventory.ledger import Proposal
from inventory.ledger.shop import Shop
from inventory.reports.placed import Placed
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
        """The list, then what is on its way by it as an order of its own: it is shown and asked about too."""
        number = Beginning._load(self, found, target, there=there)
        if number is not None and self.coming:
            self._due_in()
        return number

    def _due_in(self) -> None:
        lines = [(one.part, one.quantity, one.supplier) for one in self.coming]

        def make(read: Read) -> tuple[Shop, tuple[Placed, ...], Proposal, tuple[str, ...]]:
            shop = shop_of(read)
            rows, notes = confirmed(shop, lines)
            return shop, rows, place(shop, rows), notes

        with opened(self.store) as book:
            with book.reading() as read:
                rows, notes = confirmed(shop_of(read), lines)
            number = worked(book, as_placed(make), yes=self.yes, as_json=self.as_json)[0] if rows else None
            (talk if self.as_json else say)(
                f"Due in (entry {number})." if number else "Nothing is due in by it."
            )
            for note in notes:
                talk(note)


def _text_of(path: Path) -> str:
    raw = path.read_bytes()
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    return raw.decode("latin-1")
