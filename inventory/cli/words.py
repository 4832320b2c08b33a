"""Words of a command line that are taken as they stand.

typer has every value read by a library whose loading takes a fifth of a looking command. A word where a word is wanted
needs no reading, nor do plain digits, a path nobody looks at before the command does, a default of our own and what was
not said; all else is left to typer.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import typer
from typer.core import TyperCommand, TyperGroup

from inventory.cli.completing import VARIABLE, completed
from inventory.cli.drawing.texts import terminal_width
from inventory.cli.helping import command_screen, group_screen, in_words
from inventory.errors import nearest

_ASKED = "get_runtime_param"
"""Where typer asks for a parameter's reading; versions that have no such place load nothing either."""

_MISTAKE: type[Exception] = typer.BadParameter.__mro__[1]
"""What typer raises of a command line it cannot read; it has no public name of its own."""

_DIGITS = re.compile("[0-9]{1,9}")


class PlainCommand(TyperCommand):
    """A command whose words are taken as they stand. everything: its help folds nothing."""

    everything = False

    def get_params(self, ctx: Any) -> list[Any]:
        """Its parameters, as typer asks for them before it reads their values."""
        return [_plain(parameter) for parameter in super().get_params(ctx)]

    def format_help(self, ctx: Any, formatter: Any) -> None:
        """One screen where it can be."""
        lines = command_screen(
            ctx.command_path,
            self.help or "",
            self.get_params(ctx),
            terminal_width(),
            everything=self.everything,
        )
        formatter.write("\n".join(lines) + "\n")


def asked_whole(arguments: Sequence[str]) -> bool:
    """Whether a command line asks for the whole help of a command: `--help --all`."""
    return "--all" in arguments and not {"--help", "-h"}.isdisjoint(arguments)


class WholeCommand(PlainCommand):
    """One that is asked for everything about it."""

    everything = True


REMOVES = frozenset({"restore", "undo", "release", "retire", "took", "handed-over"})
"""Commands that put something in the place of another, or take something away: no slip of the pen is taken for one."""


class PlainGroup(TyperGroup):
    """The same of what stands before a command."""

    def __init__(self, *words: Any, **named: Any) -> None:
        super().__init__(*words, **named)
        self.suggest_commands = False  # typer knows no difference between a look and a removal

    def format_help(self, ctx: Any, formatter: Any) -> None:
        """Each command in a line, in its room."""
        rooms: dict[str, list[tuple[str, str]]] = {}
        for name, one in self.commands.items():
            does = " ".join((one.help or "").split("\n\n")[0].split())
            rooms.setdefault(getattr(one, "rich_help_panel", None) or "", []).append((name, does))
        lines = group_screen(self.help or "", rooms, self.get_params(ctx), terminal_width())
        formatter.write("\n".join(lines) + "\n")

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command meant. Raises typer's own mistake, with what it may have meant that does no harm."""
        try:
            return super().resolve_command(ctx, args)
        except _MISTAKE as error:
            near = nearest(args[0], [name for name in self.commands if name not in REMOVES])
            meant = f"Did you mean {' or '.join(near)}?" if near else "All of them: kitdrawer --help"
            said = str(getattr(error, "message", "")).rstrip(".")
            error.message = f"{said}. {meant}"  # type: ignore[attr-defined]  # typer's base has it
            raise

    def get_params(self, ctx: Any) -> list[Any]:
        """Its parameters, as typer asks for them before it reads their values."""
        return [_plain(parameter) for parameter in super().get_params(ctx)]


def _plain(parameter: Any) -> Any:
    if VARIABLE in os.environ:
        completed(parameter)
    if hasattr(parameter, "display_type_rich") and (
        parameter.metavar is None or parameter.param_type_name == "argument"
    ):
        parameter.display_type_rich = lambda **_: in_words(parameter)
    whole = getattr(parameter, _ASKED, None)
    if whole is not None and not isinstance(whole, _Plain):
        setattr(parameter, _ASKED, _Plain(whole))
    return parameter


class _Plain:
    """Stands for a parameter's reading, which is made only where a value needs it."""

    def __init__(self, whole: Callable[[], Any]) -> None:
        self.whole = whole

    def __call__(self) -> _Plain:
        return self

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        """The value as the command takes it. Raises typer's own mistakes."""
        wanted = param.type_descriptor.annotation
        if value is None:
            return () if param.multiple or param.nargs == -1 else None
        if wanted == list[str] and _words(value):
            return list(value)
        if type(value) is wanted and (wanted is str or value is param.default):
            return value
        if wanted is int and type(value) is str and _DIGITS.fullmatch(value):
            allowed = param.type_descriptor.parameter_info
            if (allowed.min or 0) <= int(value) and allowed.max is None:
                return int(value)
        if wanted is Path and type(value) is str and _any_path(value, param.type_descriptor.parameter_info):
            return Path(value)
        return self.whole().coerce(value, param=param, ctx=ctx)


def _any_path(value: str, allowed: Any) -> bool:
    """Whether a path is taken as written: the library that looks at others takes as long to load as a small answer."""
    looked_at = (allowed.exists, allowed.readable, allowed.writable, allowed.resolve_path, allowed.allow_dash)
    either = allowed.file_okay and allowed.dir_okay and allowed.path_type is None
    return bool(value) and "\0" not in value and either and not any(looked_at)


def _words(value: object) -> bool:
    return isinstance(value, list | tuple) and all(type(one) is str for one in value)
