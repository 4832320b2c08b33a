"""`columns`: what the sheets look like, and an empty workbook to fill."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Catalogue
from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.draw import command, draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Value, dumps
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say
from inventory.errors import NoStore, UnknownName
from inventory.measures import plural

if TYPE_CHECKING:
    from inventory.sheets.stock.columns import Tab


def columns(
    tab: Annotated[str, typer.Argument(help="Only this tab, in full.")] = "",
    save: Annotated[
        Path | None,
        typer.Option(
            readable=False, metavar="FILE.xlsx", help="Write an empty workbook to fill, with drop-down lists."
        ),
    ] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace the file if it is there.")] = False,
    every: AllOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The tabs and columns `load` reads, and what each accepts.

    For example:
    kitdrawer columns
    kitdrawer columns counts
    kitdrawer columns --save shop.xlsx
    """
    from inventory.sheets.stock.tabs import TABS

    if save is not None:
        from inventory.sheets.stock.template import write_template

        write_template(save, _known(store), overwrite=overwrite)
    if as_json:
        tabs = [_tab(tab)] if tab else [*TABS.values()]
        told: dict[str, Value] = {"tabs": [_tab_json(one) for one in tabs]}
        say(dumps(told if save is None else {**told, "saved": str(save)}))
    elif save is not None:
        say(
            [
                *command("Saved, empty", str(save)),
                *command("Fill what you have, then", f"kitdrawer load {pasted(str(save))}"),
            ]
        )
    elif tab:
        say(_one(_tab(tab), everything=every))
    else:
        say(_all_tabs(list(TABS.values()), everything=every))


def _tab(name: str) -> Tab:
    from inventory.sheets.stock.tabs import TABS

    found = next((one for one in TABS.values() if one.name.casefold() == name.strip().casefold()), None)
    if found is None:
        raise UnknownName("tab", name, list(TABS))
    return found


def _tab_json(tab: Tab) -> dict[str, Value]:
    return {
        "tab": tab.name,
        "means": tab.means,
        "columns": [
            {
                "column": one.heading,
                "required": one.required,
                "means": one.means,
                "accepted": one.accepted,
                "example": one.example,
                "choices": list(one.choices),
            }
            for one in tab.columns
        ],
    }


def _known(store: str | None) -> Catalogue:
    """What the store knows, for the drop-down lists; nothing where there is no store yet."""
    try:
        with opened(store) as found, found.reading() as read:
            return read.catalogue()
    except NoStore:
        return Catalogue()


def _all_tabs(tabs: Sequence[Tab], *, everything: bool) -> list[str]:
    """What each tab has to say; its other columns counted, or named."""
    rows = [[tab.name, ", ".join(_must(tab)), _may(tab, everything=everything)] for tab in tabs]
    columns = (Cells("Tab"), Cells("Has to say"), Cells("May say", folds=1))
    head = f"`load` reads {len(tabs)} tabs; empty ones may be left out."
    doors = [("One in full", "kitdrawer columns TAB")]
    doors += [] if everything else [("Every column", "--all")]
    following = ("To fill", "kitdrawer columns --save shop.xlsx")
    screen = Screen(head, (), [[Listing(columns, rows)]], doors=doors, following=following)
    return draw(screen, everything=everything)


def _must(tab: Tab) -> list[str]:
    return [column.heading for column in tab.columns if column.required]


def _may(tab: Tab, *, everything: bool) -> str:
    others = [column.heading for column in tab.columns if not column.required]
    if everything:
        return ", ".join(others)
    return f"{len(others)} more" if others else ""


def _one(tab: Tab, *, everything: bool) -> list[str]:
    """Its columns, those that have to be filled first; what each accepts with everything."""
    ordered = sorted(tab.columns, key=lambda column: not column.required)
    rows = [
        [
            column.heading if column.required else f"[{column.heading}]",
            f"{column.means} Accepted: {column.accepted}." if everything else column.means,
            column.example,
        ]
        for column in ordered
    ]
    columns = (Cells("Column"), Cells("Means"), Cells("Example", folds=1))
    must = sum(column.required for column in tab.columns)
    doors = [] if everything else [("What each accepts", "--all")]
    rest = "In brackets: may be left empty"
    head = f"{tab.name}, {must} of {plural(len(tab.columns), 'column')} to be filled. {tab.means}"
    screen = Screen(head, (), [[Listing(columns, rows, least=must)]], rest, doors)
    return draw(screen, everything=everything)
