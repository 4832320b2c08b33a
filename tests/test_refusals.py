"""Every refusal of the program, read from its source: what, where, and what to write instead, by one hand.

What is checked can be seen in the words alone: that a hint is a sentence or a command, that numbers agree with their
nouns, that no hint names what replaces or removes something.
"""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

import pytest
from cli.conftest import Kitdrawer, kitdrawer

from inventory.cli.app import COMMANDS, GROUPS
from inventory.cli.usage import REPLACE
from inventory.cli.words import REMOVES

__all__ = ["kitdrawer"]

ROOT = Path(__file__).resolve().parent.parent


def words(node: ast.expr) -> str:
    """A text as its source has it, each filled-in value as `{}`; both branches of a choice one after the other."""
    if isinstance(node, ast.Constant):
        return str(node.value) if isinstance(node.value, str) else ""
    if isinstance(node, ast.JoinedStr):
        return "".join(map(words, node.values))
    if isinstance(node, ast.FormattedValue):
        return "{words}" if "plural" in ast.unparse(node.value) else "{}"
    if isinstance(node, ast.BinOp):
        return words(node.left) + words(node.right)
    return (
        " | ".join(filter(None, map(words, (node.body, node.orelse)))) if isinstance(node, ast.IfExp) else ""
    )


@cache
def refusals() -> list[tuple[str, str, str]]:
    """Where, message and hint of every refusal with a hint that its source spells out."""
    found = []
    for path in sorted((ROOT / "inventory").rglob("*.py")):
        source = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(source)) if "hint" in source else ():
            if isinstance(node, ast.Call):
                hint = next((words(one.value) for one in node.keywords if one.arg == "hint"), "")
                message = words(node.args[0]) if node.args else ""
                if hint or (message and any(one.arg == "hint" for one in node.keywords)):
                    found.append((f"{path.relative_to(ROOT)}:{node.lineno}", message, hint))
    return found


def hints() -> list[tuple[str, str]]:
    """Where and hint of those that are not only filled in."""
    return [(where, hint) for where, _, hint in refusals() if hint.strip("{} .")]


def test_there_are_many_and_the_reader_sees_them() -> None:
    """Else the checks below would be of nothing."""
    assert len(refusals()) > 300
    assert len(hints()) > 200


TAKES_BACK = ("undoing.py", "undo.py", "commit/writer.py")
"""Who types `undo` is told which entry to undo."""


def test_no_hint_names_what_replaces_or_removes() -> None:
    """Whoever is refused pastes what he is shown; nothing of it may take away what is there."""
    harmful = "|".join(re.escape(name) for name in sorted(REMOVES))
    named = re.compile(
        rf"(?:`|kitdrawer )(?:kitdrawer )?(?:{harmful})\b(?! .*--back)|{'|'.join(sorted(REPLACE))}\b"
    )
    assert [
        (where, hint)
        for where, hint in hints()
        if named.search(hint) and not any(own in where for own in TAKES_BACK)
    ] == []


def test_hints_are_sentences_or_a_command() -> None:
    """They begin with a capital, a command or what is filled in, and end like a sentence, or with what to paste."""
    bad = [
        (where, hint)
        for where, hint in hints()
        if not re.match(r"[A-Z`{(]|--|kitdrawer ", hint)
        or not re.search(r"[.?}]\W*$|(?:^|: )(?:kitdrawer|pip) .+$", hint)
    ]
    assert bad == []


NEVER_ONE = re.compile(r"\{\} days\.|\{\} runs|\{\} characters|more than anyone makes| \| One ")
"""Counts that cannot be one: days of a month, simulated runs, characters and pieces too many; and where one has a
sentence of its own."""
COUNTED = re.compile(
    r"\{\} (?:[a-z]+ )?(?:pieces|parts|rows|packs|tubes|orders|counts|lines|cells|things|days|runs|characters|documents"
    r"|entries|sessions|suppliers|offers|bottles|blanks)\b"
)


def test_numbers_agree_with_their_nouns() -> None:
    """A number that is filled in before a noun goes through `plural`; what can never be one is listed."""
    bad = [
        (where, text)
        for where, message, hint in refusals()
        for text in (message, hint)
        if COUNTED.search(text) and not NEVER_ONE.search(text)
    ]
    assert bad == []


def test_commands_named_in_hints_exist() -> None:
    """What stands between strokes and is a command's name is one that is there."""
    names = {name for group in GROUPS.values() for name in group} | set(COMMANDS)
    bad = [
        (where, said)
        for where, hint in hints()
        for said in re.findall(r"(?:`|: )kitdrawer ([a-z][a-z-]*)", hint)
        if said not in names
    ]
    assert bad == []


@pytest.mark.parametrize("typed", ["restor", "undoo", "rel", "relese", "delete", "tok", "retir", "reorder"])
def test_a_slip_is_never_taken_for_what_removes(kitdrawer: Kitdrawer, typed: str) -> None:
    """Not even where it is the nearest: the whole list is pointed to instead."""
    told = kitdrawer(typed)
    assert told.code == 2
    assert [name for name in REMOVES if re.search(rf"\b{name}\b", told.err.partition("Error")[2])] == []
    assert "Did you mean" in told.err or "kitdrawer --help" in told.err


def test_a_slip_that_does_no_harm_is_understood(kitdrawer: Kitdrawer) -> None:
    """The nearest command that only looks or adds; the second word of two likewise."""
    assert "Did you mean shelf?" in kitdrawer("shlef").err
    assert "Did you mean sheet?" in kitdrawer("count", "shet").err


def test_options_that_replace_are_not_offered(kitdrawer: Kitdrawer) -> None:
    """`--over` may be meant for --overwrite; that is for the help to say."""
    told = kitdrawer("shopping", "--save", "x.xlsx", "--over")
    assert told.code == 2
    assert "--save" in told.err
    assert "--overwrite" not in told.err
