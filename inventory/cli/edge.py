"""The edge where refusals become a sentence (or JSON) and an exit code. Bugs keep their traceback."""

from __future__ import annotations

import re
import sys
from collections.abc import Sequence

import typer

from inventory.cli.drawing.texts import wrapped
from inventory.cli.json.exact import Value, dumps
from inventory.cli.unsure import REQUEST
from inventory.cli.usage import sentences
from inventory.cli.words import asked_whole
from inventory.errors import KitdrawerError, Place

INTERRUPTED = 130
USAGE = 2
COMMAND_LINE_MISTAKE: type[Exception] = typer.BadParameter.__mro__[2]
"""The base of every mistake typer finds in a command line; it has no public name of its own."""
NO_COMMAND = "NoArgsIsHelpError"
"""What is raised where no command is said: its message is the help, which is an answer and no complaint."""
_PASSWORD = re.compile(r"(:/+[^\s/:@]*:)[^\s]*(@)|(?<=password=)[^\s&]+")
"""In a URL, which may have lost a stroke where it was taken for a path."""
MOST_PLACES = 40
"""Bad cells listed on a screen; JSON lists them all."""


def run(app: typer.Typer, arguments: Sequence[str]) -> int:
    """Run a command line and give its exit code."""
    as_json = "--json" in arguments
    if arguments and not arguments[0].startswith("-") and asked_whole(arguments):
        arguments = [one for one in arguments if one != "--all"]  # few commands have such an option
    REQUEST.set(tuple(arguments))
    try:
        result = typer.main.get_command(app).main(
            args=list(arguments), prog_name="kitdrawer", standalone_mode=False
        )
    except KitdrawerError as error:
        return _refused(error, as_json)
    except (KeyboardInterrupt, typer.Abort):
        result = INTERRUPTED  # typer itself answers a Control-C with this code and without a word
    except COMMAND_LINE_MISTAKE as error:
        return _usage(error, as_json)
    if result == INTERRUPTED:
        _interrupted(as_json)
    return result if isinstance(result, int) else 0


def _interrupted(as_json: bool) -> None:
    message = "Interrupted; nothing half-done."
    if as_json:
        _print_json("interrupted", message, "", ())
    else:
        sys.stderr.write(f"\n{message}\n")


def _usage(error: Exception, as_json: bool) -> int:
    """Mistakes of the command line itself, which typer repeats word for word: a password in a URL is not."""
    error.message = _masked(str(getattr(error, "message", "")))  # type: ignore[attr-defined]  # typer's base has it
    told = error.format_message()  # type: ignore[attr-defined]  # typer's base has it
    if type(error).__name__ == NO_COMMAND and not as_json:
        sys.stdout.write(told.rstrip() + "\n")
        return USAGE
    *said, how = sentences(error, told)
    if as_json:
        _print_json("usage", " ".join(said), how, ())
    else:
        sys.stderr.write("\n".join([*said, how]) + "\n")
    return USAGE


def _masked(text: str) -> str:
    return _PASSWORD.sub(r"\1***\2", text)


def _refused(error: KitdrawerError, as_json: bool) -> int:
    error.message = _masked(error.message)
    if as_json:
        _print_json(error.kind, error.message, error.hint, error.where)
    else:
        sys.stderr.write("\n".join(_sentences(error)) + "\n")
    return error.exit_code


def _print_json(kind: str, message: str, hint: str, where: Sequence[Place]) -> None:
    places: list[Value] = [
        {"file": p.file, "tab": p.tab, "row": p.row, "column": p.column, "said": p.said, "problem": p.problem}
        for p in where
    ]
    body: Value = {"error": {"kind": kind, "message": message, "hint": hint, "where": places}}
    sys.stdout.write(dumps(body) + "\n")


def _sentences(error: KitdrawerError) -> list[str]:
    lines = wrapped(error.message)
    for place in error.where[:MOST_PLACES]:
        said = f" says “{place.said}”" if place.said else ""
        text = f"{place}{said}: {place.problem}" if place.problem else f"{place}{said}"
        lines += wrapped(text, "  ")
    if len(error.where) > MOST_PLACES:
        lines.append(f"  … and {len(error.where) - MOST_PLACES} more (--json lists all)")
    return [*lines, *(wrapped(error.hint) if error.hint else [])]
