"""`labels`: drawers, bottles and finished pieces, on sheets of labels."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.texts import pasted, wrapped
from inventory.cli.json.exact import Value, dumps
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.errors import BadInput, Refused
from inventory.jobs.stock.labels import CARE, labels_of
from inventory.jobs.stock.shelf import Filters
from inventory.measures import plural
from inventory.measures.labels import LabelSheet, read_label_sheet
from inventory.reports.labels import LABEL_KINDS, LabelKind, LabelRun

USUAL: dict[LabelKind, str] = {"drawers": "63.5x38.1", "bottles": "99.1x67.7", "pieces": "63.5x38.1"}
"""The sheet each kind is printed on where nobody says: hazard statements are long."""


def labels(
    part: Annotated[str, typer.Argument(help="One part, by its name or the code on its label.")] = "",
    save: Annotated[
        Path | None, typer.Option(metavar="FILE.html", readable=False, help="Where to write them.")
    ] = None,
    of: Annotated[
        str, typer.Option("--of", metavar="WHAT", help="drawers, bottles or (finished) pieces.")
    ] = "drawers",
    sheet: Annotated[
        str,
        typer.Option(metavar="MEASURES", help="A label's width x height in mm, or all measures of a sheet."),
    ] = "",
    first: Annotated[
        int, typer.Option(metavar="N", help="The first free label of a half-used sheet.", min=1)
    ] = 1,
    care: Annotated[str, typer.Option(help="What a piece's label says of its care.")] = CARE,
    family: Annotated[str, typer.Option(help="Kits of a family, and what is only for it.")] = "",
    plating: Annotated[str, typer.Option(help="Kits in a plating.")] = "",
    tube: Annotated[str, typer.Option(help="A tube by name or size, and the kits that take it.")] = "",
    drill: Annotated[str, typer.Option(help="What wants this drill, and the drill.")] = "",
    material: Annotated[str, typer.Option(help="Blanks of a material.")] = "",
    kind: Annotated[
        str, typer.Option(help="kit, tube, blank, supply, tool, or a type such as adhesive.")
    ] = "",
    text: Annotated[str, typer.Option(help="Words in the name or note.")] = "",
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Write over a page of that name.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Labels to print: drawers, bottles with their dangers, finished pieces; each with a code commands take for a name.

    A sheet is known by a label's measures, or told by all of its own: columns x rows, width x height, left + top,
    gap x gap and the paper, in mm.

    For example:
    kitdrawer labels --kind kits --save kits.html
    kitdrawer labels --of bottles --save bottles.html --first 4
    kitdrawer labels --save own.html --sheet "2x4, 90x60, 10+15, 5x2, A4"
    """
    from inventory.pages.labels import labels_html
    from inventory.sheets.saving import saving

    which = _which(of)
    if save is not None and save.suffix.casefold() not in (".html", ".htm"):
        raise Refused(f"{save.name} is no name for a page.", hint="Let it end in .html.")
    on = read_label_sheet(sheet or USUAL[which])
    if first > on.each:
        raise BadInput(f"A sheet has {on.each} labels, not {first}.", hint="Count from the left, row by row.")
    filters = Filters(family, plating, tube, drill, material, kind, text=text, part=part)
    with opened(store) as found, found.reading() as read:
        run = LabelRun(which, on, first, labels_of(shop_of(read), filters, which, care))
    if not run.labels:
        raise Refused(f"There are no {which} to label.", hint="`kitdrawer shelf` shows what is there.")
    if save is not None:
        with saving(save, overwrite=overwrite) as unfinished:
            unfinished.write_text(labels_html(run), encoding="utf-8")
    if as_json:
        say(dumps(_json(run, save)))
        return
    say(_screen(run, save))


def _which(of: str) -> LabelKind:
    which = next((one for one in LABEL_KINDS if one == of.strip().casefold()), None)
    if which is None:
        raise BadInput(f"There are no labels of “{of}”.", hint=f"Say one of {', '.join(LABEL_KINDS)}.")
    return which


def _sheet(on: LabelSheet) -> str:
    return f"{on.columns} × {on.rows} labels of {on.width} × {on.height} mm, {on.paper}"


def _screen(run: LabelRun, save: Path | None) -> list[str]:
    many = f"{plural(len(run.labels), 'label')} on {plural(run.sheets, 'sheet')}"
    lines = wrapped(f"{many} of {_sheet(run.sheet)}.")
    if save is None:
        return [*lines, f"Write them: kitdrawer labels --of {run.kind} --save labels.html"]
    lines += wrapped(
        "Print at 100 %, without margins and without fitting to the page; try plain paper first."
    )
    if run.kind == "bottles":
        lines += wrapped("Statements are those the sheet of supplies says; the safety data sheet governs.")
    return [*lines, f"Saved: {pasted(str(save))}"]


def _json(run: LabelRun, save: Path | None) -> dict[str, Value]:
    on = run.sheet
    places = [(sheet, place, label) for sheet, some in enumerate(run.by_sheet(), 1) for place, label in some]
    return {
        "saved": None if save is None else str(save),
        "of": run.kind,
        "sheets": run.sheets,
        "paper": on.paper,
        "label": {"width": on.width, "height": on.height},
        "labels": [
            {
                "part": label.part,
                "code": label.code,
                "sheet": sheet,
                "left": on.place(place)[0],
                "top": on.place(place)[1],
                "lines": list(label.lines),
                "small": label.small,
                "price": label.price or None,
            }
            for sheet, place, label in places
        ],
    }
