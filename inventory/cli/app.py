"""The commands, grouped by job. Each lives in its own module, which is loaded only where that command is wanted."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from importlib import import_module
from inspect import cleandoc
from typing import Annotated, Any

import typer

from inventory import __version__
from inventory.cli.completing import VARIABLE
from inventory.cli.drawing.texts import terminal_width
from inventory.cli.helping import ALL_HELP, PROGRAM, first_screen
from inventory.cli.words import PlainCommand, PlainGroup, WholeCommand, asked_whole

GROUPS: dict[str, tuple[str, ...]] = {
    "Set up": ("begin", "columns", "load", "guide"),
    "Look": ("shelf", "fits", "trace", "entries"),
    "Take an order": ("can-take", "hours", "promise", "orders", "release", "handed-over", "paid"),
    "Buy": ("shopping", "levels", "rehearse", "market", "placed", "due-in", "arrived"),
    "Ordinary days": (
        "made",
        "add",
        "took",
        "found",
        "sold",
        "spent",
        "days",
        "change",
        "came-back",
        "rename",
        "merge",
        "retire",
    ),
    "Make": ("makeable", "plan", "weekend", "count", "rates", "losses"),
    "Look back": ("cost", "earned", "goal", "worth", "history", "page", "labels"),
    "Care": ("undo", "verify", "backup", "restore", "carry", "admit"),
}
ROOMS: dict[str, str] = {
    "Set up": "setup",
    "Look": "looking",
    "Take an order": "orders",
    "Buy": "purchasing",
    "Ordinary days": "days",
    "Make": "making",
    "Look back": "accounts",
    "Care": "care",
}
"""The room of `cli.commands` where the modules of a group are."""
TWO_WORDS: dict[str, tuple[str, ...]] = {"weekend": ("sheet", "book"), "count": ("sheet", "book")}
"""Names that take a second word, and which: `count sheet` is `count_sheet` in a module of that name."""
ABOUT: dict[str, str] = {
    "weekend": """The sheet of a planned session, and its booking once it is filled.

    For example:
    kitdrawer weekend sheet --save saturday.xlsx
    kitdrawer weekend book saturday.xlsx
    """,
    "count": """What is really there: a sheet to fill, and its booking.

    For example:
    kitdrawer count sheet --few 12 --save count.xlsx
    kitdrawer count book count.xlsx
    """,
}
"""What the help says of a name that takes a second word."""

COMMANDS = {
    f"{name} {second}".rstrip(): group
    for group, names in GROUPS.items()
    for name in names
    for second in TWO_WORDS.get(name, ("",))
}
"""Every command with all its words, and its group."""


def make_app(arguments: Sequence[str] = ()) -> typer.Typer:
    """The command line for these arguments: the command they name, or all where they name none."""
    at = next((at for at, word in enumerate(arguments) if not word.startswith("-")), 0)
    meant, second = [*arguments[at : at + 2], "", ""][:2]
    names = {name: group for group, names in GROUPS.items() for name in names}
    app = typer.Typer(
        name="kitdrawer",
        cls=PlainGroup if "--all" in arguments else _First,
        help=PROGRAM,
        epilog="One of them in full: kitdrawer shelf --help. Pages that say more: kitdrawer guide.",
        no_args_is_help=True,
        add_completion=meant not in names or VARIABLE in os.environ,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["--help", "-h"]},
    )
    app.callback()(_top)
    kind = WholeCommand if asked_whole(arguments) else PlainCommand
    for name in [meant] if meant in names else names:
        if name in TWO_WORDS:
            app.add_typer(_with_second_word(name, second, kind), name=name, rich_help_panel=names[name])
        else:
            app.command(name, cls=kind, rich_help_panel=names[name])(command(name))
    return app


class _First(PlainGroup):
    """The whole program, which is asked what it can do."""

    def format_help(self, _: Any, formatter: Any) -> None:
        """One screen, in place of a list of every command and option."""
        formatter.write("\n".join(first_screen(GROUPS, terminal_width())) + "\n")


def _with_second_word(name: str, second: str, kind: type[PlainCommand]) -> typer.Typer:
    """What stands under a name that takes a second word: the one meant, or all where none of them is."""
    app = typer.Typer(
        cls=PlainGroup, name=name, help=cleandoc(ABOUT[name]), no_args_is_help=True, add_completion=False
    )
    for word in [second] if second in TWO_WORDS[name] else TWO_WORDS[name]:
        app.command(word, cls=kind)(command(f"{name} {word}"))
    return app


def command(name: str) -> Callable[..., None]:
    """The function behind a command: `can-take` is `can_take` in `commands.orders.can_take`, its group's room."""
    word, room = name.replace("-", "_").replace(" ", "_"), ROOMS[COMMANDS[name]]
    found: Callable[..., None] = getattr(import_module(f"inventory.cli.commands.{room}.{word}"), word)
    return found


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"kitdrawer {__version__}")
        raise typer.Exit


def _show_all(ctx: typer.Context, wanted: bool) -> None:
    if wanted:
        typer.echo(ctx.get_help())
        raise typer.Exit


def _top(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_show_version, is_eager=True, help="Say the version and stop."),
    ] = False,
    everything: Annotated[
        bool, typer.Option("--all", callback=_show_all, is_eager=True, help=ALL_HELP)
    ] = False,
) -> None:
    """Takes what stands before the command."""
