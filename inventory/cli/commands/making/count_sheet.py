"""`count sheet`: what to count, as a sheet to fill."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.making.counting import sheet_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say, shop_of, today
from inventory.errors import Refused
from inventory.jobs.counting.what_to_count import count_sheet as sheet_of
from inventory.jobs.counting.what_to_count import rated, select, worth_counting
from inventory.jobs.stock.shelf import Filters
from inventory.reports.session_sheet import CountRow, CountSheet

if TYPE_CHECKING:
    from inventory.store import Read


def count_sheet(
    part: Annotated[str, typer.Argument(help="One part, by its name or the code on its label.")] = "",
    save: Annotated[
        Path | None,
        typer.Option(
            readable=False, metavar="FILE.xlsx", help="Write the sheet: a workbook, a CSV file, or a folder."
        ),
    ] = None,
    few: Annotated[
        int | None, typer.Option(metavar="N", help="Only the N most worth counting.", min=1)
    ] = None,
    doubtful: Annotated[
        bool, typer.Option("--doubtful", help="Only where the book's figure is doubtful.")
    ] = False,
    family: Annotated[str, typer.Option(help="Kits of a family and what is only for it.")] = "",
    plating: Annotated[str, typer.Option(help="Kits in a plating.")] = "",
    tube: Annotated[str, typer.Option(help="A tube by name or size, and the kits that take it.")] = "",
    drill: Annotated[str, typer.Option(help="What wants this drill, and the drill.")] = "",
    material: Annotated[str, typer.Option(help="Blanks of a material.")] = "",
    kind: Annotated[
        str, typer.Option(help="kit, tube, blank, supply, tool, or a type such as adhesive.")
    ] = "",
    text: Annotated[str, typer.Option(help="Words in the name or note.")] = "",
    supplier: Annotated[str, typer.Option(help="Only what this supplier offers.")] = "",
    empty: Annotated[bool, typer.Option("--empty", help="Also what the book has none of.")] = False,
    with_figures: Annotated[
        bool, typer.Option("--with-figures", help="Show the book's figures; a blind count is surer.")
    ] = False,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace the file if it is there.")] = False,
    every: AllOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What to count: a drawer, or what is most worth it, as a sheet to fill.

    For example:
    kitdrawer count sheet --few 12 --save count.xlsx
    kitdrawer count sheet --kind kits --plating chrome
    kitdrawer count sheet --doubtful --with-figures
    """
    filters = Filters(family, plating, tube, drill, material, kind, low=False, text=text, part=part)

    def work_out(read: Read) -> CountSheet:
        shop, last = shop_of(read), read.last_counted()
        parts = select(shop, filters, supplier=supplier, doubtful=doubtful, empty=empty)
        rows = rated(shop, last, parts) if few is None else worth_counting(shop, last, few, parts)
        return sheet_of(shop, read.mark(), rows, blind=not with_figures)

    with opened(store) as found, found.reading() as read:
        sheet = work_out(read)
    if not sheet.rows and save is not None:
        raise Refused(
            "There is nothing like that to count: no sheet was written.",
            hint="Take a filter away, or add --empty for parts the book has none of.",
        )
    files = _write(save, sheet, overwrite) if save is not None else []
    if as_json:
        say(dumps(_json(sheet.rows, files)))
    else:
        say(sheet_screen(sheet, save, files, today(), everything=every))


def _write(path: Path, sheet: CountSheet, overwrite: bool) -> list[Path]:
    from inventory.sheets.counts.writing import write_counts

    return write_counts(path, sheet, overwrite=overwrite)


def _json(rows: Sequence[CountRow], files: Sequence[Path]) -> Value:
    return {"parts": [_row(row) for row in rows], "saved": [str(path) for path in files]}


def _row(row: CountRow) -> Value:
    more: dict[str, Value] = {"lot": row.lot, "name": row.name} if row.lot else {}
    if row.booked is not None:
        more["booked"] = Exact(2).amount(row.booked)
    return {"part": row.part, "unit": row.unit, "why": row.why, **more}
