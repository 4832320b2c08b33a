"""`weekend sheet`: the sheet to print, or to fill on a phone, for a planned session."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Block, Screen, Sentence, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.session import StoreOption, opened, say, shop_of
from inventory.jobs.sessions.sheet_contents import session_named, session_sheet
from inventory.measures import plural
from inventory.reports.session_sheet import CountRow, SessionSheet

COUNTED = 6
"""Parts to count beside a session: few, or nobody counts them."""


def weekend_sheet(
    session: Annotated[
        str, typer.Argument(help="The session's name; the only planned one if not said.")
    ] = "",
    save: Annotated[
        Path | None,
        typer.Option(readable=False, metavar="FILE", help="A workbook (.xlsx), or a folder for CSV files."),
    ] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace what is there.")] = False,
    store: StoreOption = None,
) -> None:
    """The sheet of a session: good and spoiled pieces, what was salvaged, bottles to weigh, parts to count.

    For example:
    kitdrawer weekend sheet --save saturday.xlsx
    kitdrawer weekend sheet "2026-11-28" --save saturday/
    """
    from inventory.jobs.counting.what_to_count import worth_counting
    from inventory.sheets.sessions.writing import choices_of, write_session

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        one = session_named(read.sessions(), session)
        worth = worth_counting(shop, read.last_counted(), COUNTED)
        counts = [CountRow(each.part.name, each.part.unit, each.why) for each in worth]
        sheet = session_sheet(shop, one, read.mark(), read.learned(), counts, read.sessions())
    path = save or Path(f"{one.name.replace(' ', '-')}.xlsx")
    files = write_session(path, sheet, choices_of(shop.catalogue), overwrite=overwrite)
    say(_screen(sheet, path, list(files)))


def _screen(sheet: SessionSheet, path: Path, files: Sequence[Path]) -> list[str]:
    """What is on the sheet, where it is, and what to do with it."""
    before = (
        " afterwards, and what may evaporate before you begin too" if _evaporates(sheet) else " afterwards"
    )
    many, rows, counted = sum(not row.idle for row in sheet.bottles), len(sheet.pieces), len(sheet.counts)
    head = (
        f"{plural(rows, 'row')} of pieces, {plural(many, 'bottle')} to weigh, "
        f"{plural(counted, 'part')} to count."
    )
    many_files = f"Saved as {plural(len(files), 'file')} in" if len(files) > 1 else "Saved"
    said: list[Block] = [
        Whole(many_files, str(path if len(files) > 1 else files[0])),
        Sentence(f"Weigh the bottles{before}."),
    ]
    following = ("When it is filled", f"kitdrawer weekend book {pasted(str(path))}")
    return draw(Screen(head, (), [said], following=following))


def _evaporates(sheet: SessionSheet) -> bool:
    return any(row.before for row in sheet.bottles)
