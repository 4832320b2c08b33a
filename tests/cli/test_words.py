"""Words of a command line taken as they stand are what typer itself would make of them."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer

from inventory.cli import app
from inventory.cli.words import _Plain, _plain

SAID = (
    "",
    " ",
    "walnut blank",
    " 7",
    "7",
    "007",
    "0",
    "-1",
    "1.5",
    "1e3",
    "٣",
    "1_0",
    "999999999",
    "9999999999",
)


def parameters(name: str) -> Iterator[tuple[Any, Any]]:
    """Every parameter of a command, and the context its values are read in."""
    found: Any = typer.main.get_command(app.make_app(name.split()))
    context = found.make_context("kitdrawer", [], resilient_parsing=True)
    for word in name.split():
        yield from ((parameter, context) for parameter in found.get_params(context))
        found = found.commands[word]
        context = found.make_context(word, [], parent=context, resilient_parsing=True)
    yield from ((parameter, context) for parameter in found.get_params(context))


def outcome(reading: Any, value: object, parameter: Any, context: Any) -> tuple[object, ...]:
    """What a reading makes of a value, or the mistake it finds."""
    try:
        made = reading.coerce(value, param=parameter, ctx=context)
    except typer.BadParameter as mistake:
        return "mistake", str(mistake)
    return type(made), made


@pytest.mark.parametrize("name", app.COMMANDS)
def test_every_word_is_what_typer_makes_of_it(name: str) -> None:
    """Of every parameter of every command: nothing said, the default, and words of all kinds, good and bad."""
    for parameter, context in parameters(name):
        plain = parameter.get_runtime_param()
        if not isinstance(plain, _Plain):
            pytest.skip("this typer reads values without loading anything")
        several = parameter.multiple or parameter.nargs == -1
        said = [(), SAID, list(SAID)] if several else [*SAID, parameter.default]
        for value in [None, *said]:
            ours = outcome(plain, value, parameter, context)
            assert ours == outcome(plain.whole(), value, parameter, context), (parameter.name, value)


def test_a_parameter_read_otherwise_stays_as_it_is() -> None:
    """Versions of typer that read values in another way are left alone, and nothing is wrapped twice."""
    other = object()
    assert _plain(other) is other
    asked, _ = next(parameters("shelf"))
    wrapped = asked.get_runtime_param
    assert _plain(asked).get_runtime_param is wrapped


@pytest.mark.parametrize(
    "words",
    [
        ("can-take", "Dunlin pen", "--count", "2", "--or-plating", "gunmetal"),
        ("plan", "--stall", "Dunlin pen, chrome, walnut blank, 1"),
    ],
)
def test_a_command_of_plain_words_loads_no_reader(tmp_path: Path, words: tuple[str, ...]) -> None:
    """What typer would load for it costs a fifth of a looking command."""
    asked = (
        "import sys; from inventory.cli import main\ntry: main()\nfinally: print('pydantic' in sys.modules)"
    )
    command = [sys.executable, "-c", asked, *words, "--store", str(tmp_path / "none.kitdrawer")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert "There is no store" in done.stderr
    assert done.stdout.split()[-1] == "False"
