"""The commands, grouped by job. Each lives in its own module and loads the rooms it needs when it runs."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

import typer

from inventory import __version__
from inventory.cli.commands.backup import backup, restore
from inventory.cli.commands.begin import begin
from inventory.cli.commands.can_take import can_take
from inventory.cli.commands.columns import columns
from inventory.cli.commands.fits import fits
from inventory.cli.commands.handed_over import handed_over
from inventory.cli.commands.load import load
from inventory.cli.commands.orders import orders
from inventory.cli.commands.promise import promise
from inventory.cli.commands.release import release
from inventory.cli.commands.shelf import shelf
from inventory.cli.commands.trace import trace
from inventory.cli.commands.undo import undo
from inventory.cli.commands.verify import verify

GROUPS: dict[str, dict[str, Callable[..., None]]] = {
    "Set up": {"begin": begin, "columns": columns, "load": load},
    "Look": {"shelf": shelf, "fits": fits, "trace": trace},
    "Take an order": {
        "can-take": can_take,
        "promise": promise,
        "orders": orders,
        "release": release,
        "handed-over": handed_over,
    },
    "Care": {"undo": undo, "verify": verify, "backup": backup, "restore": restore},
}

EPILOG = 'Begin with: kitdrawer begin, kitdrawer load sample_stock/, kitdrawer can-take --order "NAME".'


def make_app() -> typer.Typer:
    """The command line."""
    app = typer.Typer(
        name="kitdrawer",
        help="What is left, what can be promised, and what to buy, for makers of small turned things from kits.",
        epilog=EPILOG,
        no_args_is_help=True,
        add_completion=False,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["--help", "-h"]},
    )
    app.callback()(_top)
    for group, commands in GROUPS.items():
        for name, command in commands.items():
            app.command(name, rich_help_panel=group)(command)
    return app


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"kitdrawer {__version__}")
        raise typer.Exit


def _top(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_show_version, is_eager=True, help="Say the version and stop."),
    ] = False,
) -> None:
    """Takes what stands before the command."""
