"""Cells nobody is sure of: asked about at the keyboard, the best guess first, before anything is booked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

import typer

from inventory.cli.session import somebody, talk
from inventory.errors import AskedCell, BadSheet

T = TypeVar("T")


def read_asking(read: Callable[[Mapping[AskedCell, str]], T], *, ask: bool) -> T:
    """What a sheet says, cells that are not understood as somebody at the keyboard says they are meant.

    ask: whether anybody may be asked. Raises BadSheet as `read` does where nobody is there, or where something else is
    wrong with the sheet too: that wants the sheet mended, and an answer would be typed for nothing.
    """
    answers: dict[AskedCell, str] = {}
    while True:
        try:
            return read(answers)
        except BadSheet as error:
            questions = [one for one in error.where if isinstance(one, AskedCell)]
            if not ask or not somebody() or len(questions) < len(error.where):
                raise
        for at, one in enumerate(questions, start=1):
            answers[one] = _answer(one, f"{at}/{len(questions)}")


def _answer(one: AskedCell, which: str) -> str:
    of = f" {one.of}:" if one.of else ""
    talk(f"{which} {one}:{of} “{one.said[:60]}” {one.why} {one.ask}")
    while True:
        text = str(typer.prompt("  ", default=one.guess or None, prompt_suffix="> ", err=True)).strip()
        if text:
            return text
