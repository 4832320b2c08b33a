"""`columns`: what the sheets look like, and an empty workbook to fill."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Catalogue
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import StoreOption, opened, say
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
        say([f"An empty workbook is at {save}.", f"Fill what you have, then: kitdrawer load {save}"])
    elif tab:
        found = next((one for one in TABS.values() if one.name.casefold() == tab.strip().casefold()), None)
        if found is None:
            raise UnknownName("tab", tab, list(TABS))
        say(_one(found))
    else:
        for one in TABS.values():
            say(_brief(one))
        say("\nIn brackets: optional. In full: kitdrawer columns TAB.")
        say("To fill: kitdrawer columns --save FILE.xlsx")


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
