"""`shelf`: what is there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Catalogue, Part, codes_of, fold
from inventory.cli.drawing.texts import wrapped
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.looking.shelf import shelf_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say, today
from inventory.jobs.stock.shelf import Filters, ShelfRow
from inventory.measures import Drill, currency, show_mm

if TYPE_CHECKING:
    from inventory.store import Read


def shelf(
    part: Annotated[str, typer.Argument(help="One part, by its name or the code on its label.")] = "",
    family: Annotated[str, typer.Option(help="Kits of a family, and what is only for it.")] = "",
    plating: Annotated[str, typer.Option(help="Kits in a plating.")] = "",
    tube: Annotated[str, typer.Option(help="A tube by name or size, and the kits that take it.")] = "",
    drill: Annotated[str, typer.Option(help="What wants this drill, and the drill.")] = "",
    material: Annotated[str, typer.Option(help="Blanks of a material.")] = "",
    kind: Annotated[
        str, typer.Option(help="kit, tube, blank, supply, tool, or a type such as adhesive.")
    ] = "",
    low: Annotated[
        bool, typer.Option("--low", help="Only what is below its reorder level, or promised and short.")
    ] = False,
    text: Annotated[str, typer.Option(help="Words in the name or note.")] = "",
    everything: AllOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What is on hand, set aside, free and due in.

    For example:
    kitdrawer shelf --low
    kitdrawer shelf --family Turnstone
    kitdrawer shelf --drill 27/64
    kitdrawer shelf p42-2
    """
    from inventory.jobs.stock import shelf as job

    filters = Filters(family, plating, tube, drill, material, kind, low, text, part)
    with opened(store) as found, found.reading() as read:
        asks_of_kits = family or plating or tube or drill or material or part
        known, book = read.written() if asks_of_kits else _parts_alone(read), read.totals()
        rows = job.shelf(known, book, filters, today(), read.lent_by_part())
        near = job.nearest_drills(known, book, drill) if drill and not rows else ()
        coin, codes = currency(read.currency), codes_of(known.parts)
    if as_json:
        more: dict[str, Value] = {"nearest_drills": [part.name for part, _ in near]} if near else {}
        say(dumps({"currency": coin.code, "parts": [_json(row, codes) for row in rows], **more}))
    else:
        lines = shelf_screen(rows, today(), filtered=filters != Filters(), everything=everything)
        say([*lines, *_near(near)])


def _parts_alone(read: Read) -> Catalogue:
    return Catalogue(read.parts(), retired=read.retired())


def _json(row: ShelfRow, codes: Mapping[str, str]) -> dict[str, Value]:
    exact, balance = Exact(2), row.balance
    more: dict[str, Value] = {
        key: value
        for key, value in (
            ("family", row.family),
            ("plating", row.plating),
            ("tube", row.tube),
            ("drill", row.drill),
            ("drawer", row.part.drawer),
        )
        if value
    }
    if row.lent:
        more["lent"] = exact.amount(row.lent)
    return {
        "part": row.part.name,
        "code": codes.get(fold(row.part.name)),
        "kind": row.part.kind,
        "unit": row.part.unit,
        "on_hand": exact.amount(balance.on_hand),
        "claimed": exact.amount(balance.claimed),
        "out_of_date": exact.amount(row.off),
        "free": exact.amount(row.free),
        "due_in": exact.amount(balance.due_in),
        "to_buy": exact.amount(balance.to_buy),
        "low": row.low,
        "to_count": row.to_count,
        **more,
    }


def _near(drills: Sequence[tuple[Part, Drill]]) -> list[str]:
    names = [f"{part.name} ({show_mm(size.mm)})" for part, size in drills]
    return wrapped(f"The nearest drills here: {', '.join(names)}.") if names else []
