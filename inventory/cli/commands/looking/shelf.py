"""`shelf`: what is there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Catalogue, Part
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, opened, say, today
from inventory.jobs.stock.shelf import Filters, ShelfRow
from inventory.measures import Drill, currency, plural, show_amount, show_mm

if TYPE_CHECKING:
    from inventory.store import Read


def shelf(
    family: Annotated[str, typer.Option(help="Kits of a family and what is peculiar to it.")] = "",
    plating: Annotated[str, typer.Option(help="Kits in a plating.")] = "",
    tube: Annotated[str, typer.Option(help="A tube by name or size, and the kits that take it.")] = "",
    drill: Annotated[str, typer.Option(help="What wants this drill, and the drill.")] = "",
    material: Annotated[str, typer.Option(help="Blanks of a material.")] = "",
    kind: Annotated[
        str, typer.Option(help="kit, tube, blank, supply, tool, or a type such as adhesive.")
    ] = "",
    low: Annotated[
        bool, typer.Option("--low", help="Only what is under its level or promised and missing.")
    ] = False,
    text: Annotated[str, typer.Option(help="Words in the name or note.")] = "",
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What is there, what is claimed, what is free, what is due in.

    For example:
    kitdrawer shelf --low
    kitdrawer shelf --family Turnstone
    kitdrawer shelf --drill 27/64
    """
    from inventory.jobs.stock import shelf as job

    filters = Filters(family, plating, tube, drill, material, kind, low, text)
    with opened(store) as found, found.reading() as read:
        asks_of_kits = family or plating or tube or drill or material
        known, book = read.written() if asks_of_kits else _parts_alone(read), read.totals()
        rows = job.shelf(known, book, filters, today(), read.lent_by_part())
        near = job.nearest_drills(known, book, drill) if drill and not rows else ()
        coin = currency(read.currency)
    if as_json:
        more: dict[str, Value] = {"nearest_drills": [part.name for part, _ in near]} if near else {}
        say(dumps({"currency": coin.code, "parts": [_json(row) for row in rows], **more}))
    else:
        say([*_screen(rows), *_near(near)])


def _parts_alone(read: Read) -> Catalogue:
    return Catalogue(read.parts(), retired=read.retired())


def _json(row: ShelfRow) -> dict[str, Value]:
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


def _screen(rows: Sequence[ShelfRow]) -> list[str]:
    if not rows:
        return ["Nothing on the shelf is like that."]
    away = any(row.lent for row in rows)
    columns = (
        Column("Part", gives=True),
        Column("Kind"),
        Column("On hand", right=True),
        Column("Claimed", right=True),
        Column("Free", right=True),
        Column("Due in", right=True),
        *([Column("Lent", right=True)] if away else []),
        Column(""),
    )
    lines = table(columns, [_cells(row, away=away) for row in rows])
    low = sum(row.low for row in rows)
    count = sum(row.to_count for row in rows)
    tail = (
        plural(len(rows), "part") + (f", {low} low" if low else "") + (f", {count} to count" if count else "")
    )
    return [*lines, "", tail]


def _cells(row: ShelfRow, *, away: bool) -> list[str]:
    balance, unit = row.balance, row.part.unit
    mark = " ".join(
        word for word, on in (("low", row.low), ("count it", row.to_count), ("gone off", row.off)) if on
    )
    return [
        row.part.name,
        row.part.kind,
        show_amount(balance.on_hand, unit),
        show_amount(balance.claimed, unit) if balance.claimed else "",
        show_amount(row.free, unit),
        show_amount(balance.due_in, unit) if balance.due_in else "",
        *([show_amount(row.lent, unit) if row.lent else ""] if away else []),
        mark,
    ]
