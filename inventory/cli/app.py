"""The commands, grouped by job. Each lives in its own module, which is loaded only where that command is wanted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Annotated

import typer

from inventory import __version__

GROUPS: dict[str, tuple[str, ...]] = {
    "Set up": ("begin", "columns", "load"),
    "Look": ("shelf", "fits", "trace"),
    "Take an order": ("can-take", "promise", "orders", "release", "handed-over"),
    "Buy": ("shopping", "placed", "due-in", "arrived"),
    "Care": ("undo", "verify", "backup", "restore"),
}
COMMANDS = {name: group for group, names in GROUPS.items() for name in names}

EPILOG = 'Begin with: kitdrawer begin, kitdrawer load sample_stock/, kitdrawer can-take --order "NAME".'


def make_app(arguments: Sequence[str] = ()) -> typer.Typer:
    """The command line for these arguments: the command they name, or all where they name none."""
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
    meant = next((word for word in arguments if not word.startswith("-")), "")
    for name in [meant] if meant in COMMANDS else COMMANDS:
        app.command(name, rich_help_panel=COMMANDS[name])(command(name))
    return app


def command(name: str) -> Callable[..., None]:
    """The function behind a command: `can-take` is `can_take` in `commands.can_take`."""
    word = name.replace("-", "_")
    found: Callable[..., None] = getattr(import_module(f"inventory.cli.commands.{word}"), word)
    return found


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
