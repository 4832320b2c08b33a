"""`columns`: what the sheets look like, and an empty workbook to fill."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Catalogue
from inventory.cli.json.exact import Value, dumps
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, opened, say
from inventory.errors import NoStore, UnknownName

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
        say([f"An empty workbook is at {save}.", f"Fill what you have, then: kitdrawer load {save}"])
    elif tab:
        say(_one(_tab(tab)))
    else:
        for one in TABS.values():
            say(_brief(one))
        say("\nIn brackets: optional. In full: kitdrawer columns TAB.")
        say("To fill: kitdrawer columns --save FILE.xlsx")


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


def _brief(tab: Tab) -> list[str]:
    words = ", ".join(c.heading if c.required else f"[{c.heading}]" for c in tab.columns)
    return wrapped(words, f"{tab.name:<10} ")


def _one(tab: Tab) -> list[str]:
    rows = [[column.heading, "" if column.required else "optional", column.example] for column in tab.columns]
    lines = [*wrapped(f"{tab.name}: {tab.means}"), ""]
    lines += table((Column("Column"), Column(""), Column("Example", gives=True)), rows)
    lines.append("")
    for column in tab.columns:
        lines += wrapped(f"{column.heading}: {column.means} Accepted: {column.accepted}.", "· ")
    return lines
