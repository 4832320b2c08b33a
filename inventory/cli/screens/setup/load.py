"""What a load would book: how much is new, what is counted otherwise, what changes, what is asked about."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from inventory.catalogue import Part, fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.cli.screens.by_hand import noted
from inventory.cli.screens.costs_said import corrections
from inventory.cli.screens.doubtful import doubtful_rows
from inventory.cli.screens.listing_words import counted_of
from inventory.cli.screens.sheet_changes import WHATS, changed_rows, unused_cells
from inventory.jobs.stock.loading import Load
from inventory.ledger.documents.intake import Unused
from inventory.measures import Currency, listed, plural, show_amount, show_day
from inventory.measures.dates import days_in


def load_screen(
    done: Load, unused: Sequence[Unused], parts: Mapping[str, Part], coin: Currency, *, everything: bool
) -> list[str]:
    """What is booked, before the question; folded to a page, every row and cell with everything."""
    on = done.proposal.on
    groups: list[Group] = [
        [Fact("Read", _read(done)), *_costs(done), *noted(done.notes, on.year)],
        [_otherwise(done, parts), *_short(done, on.year)],
        corrections(done.corrected, coin),
        changed_rows(done.changes, everything=everything),
        unused_cells(unused, everything=everything),
        doubtful_rows(done.doubts, everything=everything),
    ]
    head = f"{days_in(done.proposal.title, on.year)}, {show_day(on)}: {_rows(done)}."
    return draw(Screen(head, (), groups, reserved=3), everything=everything)


def _rows(done: Load) -> str:
    counted = Counter(one.what for one in done.changes)
    said: list[tuple[int, str]] = [(counted[what], what) for what in WHATS if counted[what]]
    if done.differences:
        said.append((len(done.differences), "counted otherwise"))
    if not said:
        return "no row is new or changed"
    (many, first), *others = said
    return ", ".join([f"{plural(many, 'row')} {first}", *(f"{more} {what}" for more, what in others)])


def _read(done: Load) -> str:
    return ", ".join(plural(rows, _one(tab), tab) for tab, rows in done.rows if rows) or "nothing"


def _one(tab: str) -> str:
    """What one row of a tab is."""
    return tab[:-3] + "y" if tab.endswith("ies") else tab.removesuffix("s")


def _costs(done: Load) -> list[Block]:
    """Counts that came without a cost."""
    said: list[Block] = []
    if done.by_offer:
        said.append(Fact("Cost", f"as the latest offer says, where no cost was: {listed(done.by_offer)}."))
    if done.unknown:
        told = f"nobody says what it was, and no offer does: {listed(done.unknown)}."
        more = "Until a count gives a unit cost, no price is given of what is made of it."
        said.append(Fact("" if said else "Cost", f"{told} {more}"))
    return said


def _otherwise(done: Load, parts: Mapping[str, Part]) -> Listing:
    columns = (
        Cells("Counted otherwise than booked"),
        Cells("Found", right=True),
        Cells("Booked", right=True),
    )
    rows = [
        [
            one.part,
            show_amount(one.found, parts[fold(one.part)].unit),
            show_amount(one.booked, parts[fold(one.part)].unit),
        ]
        for one in done.differences
    ]
    return Listing(columns, rows, least=0)


def _short(done: Load, year: int) -> list[Block]:
    return [
        Fact(
            stop("Short"),
            f"{lack.order}{f', due {show_day(lack.due, year)}' if lack.due else ''}, now lacks "
            f"{counted_of(lack.part, lack.unit, lack.quantity)}.",
        )
        for lack in done.short
    ]
