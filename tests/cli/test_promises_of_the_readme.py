"""Docs cannot rot: the guide names every command, option and JSON field, README and guide show what is so.

Every example in a help works, every command a page shows runs, and every screen below one is what it answers.
`python3 scripts/pages.py --keep` writes the screens anew where they changed on purpose.
"""

from __future__ import annotations

import re
import shlex
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any, get_type_hints

import pytest
import typer
from commands.conftest import SAMPLE

from inventory.cli.app import COMMANDS, GROUPS, TWO_WORDS, command, make_app
from inventory.guide import TOPICS

from .conftest import Kitdrawer
from .pages import PAGES, blocks, commands, renewed, shortened, tabled, text
from .walked_pages import shown, walked

REFERENCE = text("reference")
PLACES = ("postgresql://",)
"""Commands of places only a server has: `test_sharing` runs those."""
LOOKING = (
    "columns",
    "shelf",
    "fits",
    "trace",
    "can-take",
    "orders",
    "shopping",
    "due-in",
    "verify",
    "count sheet",
)


def examples(name: str) -> list[list[str]]:
    """The command lines a help shows, as words without the program's name; a line may run on."""
    text = " ".join((command(name).__doc__ or "").split("For example:")[1].split())
    return [shlex.split(line) for line in re.split(r"(?:^|\s)kitdrawer (?=[a-z])", text) if line]


SHOWN = [(name, words) for name in COMMANDS for words in examples(name)]


def row_of(table: str, first: str) -> list[str]:
    """The cells of the row of a table that starts so."""
    line = next(line for line in table.splitlines() if line.startswith(f"| {first} |"))
    return [cell.strip() for cell in line.strip("|").split("|")]


@pytest.mark.parametrize("group", GROUPS)
def test_the_reference_lists_each_group_as_the_help_does(group: str) -> None:
    """The same jobs hold the same commands in the same order, a line each."""
    section = REFERENCE.split(f"### {group}\n")[1].split("\n#")[0]
    named = [
        " ".join(words.split()[: words.startswith(tuple(TWO_WORDS)) + 1])
        for words in re.findall(r"^- `([^`]*)`", section, re.M)
    ]
    assert named == [name for name, of in COMMANDS.items() if of == group]


@cache
def parser(name: str) -> Any:
    """What reads the command line of a command, which may have two words."""
    found: Any = typer.main.get_command(make_app(name.split()))
    for word in name.split():
        found = found.commands[word]
    return found


def options(name: str) -> set[str]:
    """Every option a command takes."""
    return {
        word
        for one in parser(name).params
        for word in (*one.opts, *one.secondary_opts)
        if word.startswith("--")
    }


@cache
def said_on_pages() -> tuple[list[str], list[list[str]]]:
    """What stands in a sentence as code, and the lines of blocks."""
    inline = [code for page in PAGES for code in re.findall(r"`(?:kitdrawer )?([^`\n]+)`", text(page))]
    return inline, [line for page in PAGES for block in blocks(page) for line in commands(block)]


@pytest.mark.parametrize("name", COMMANDS)
def test_options_the_pages_show_exist(name: str) -> None:
    """What stands after a command on any page is taken by it."""
    inline, lines = said_on_pages()
    said = [code.split() for code in inline if f"{code} ".startswith(f"{name} ")]
    said += [words for words in lines if words[: len(name.split())] == name.split()]
    named = {word for words in said for one in words for word in re.findall(r"^\[?(--[a-z-]+)", one)}
    assert named - {"--help"} <= options(name)


@pytest.mark.parametrize("page", PAGES)
def test_every_screen_of_a_page_is_what_is_answered(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch, page: str
) -> None:
    """To the letter, but for the lines `…` stands for; `scripts/pages.py --keep` writes them anew."""
    monkeypatch.chdir(store.parent)
    answers = shown(kitdrawer, page, store.parent)
    assert renewed(page, [answer.out for answer in answers]) == text(page) == tabled(page)


BLOCKS = [(page, block) for page in PAGES for lines in blocks(page) if (block := commands(lines))]


@pytest.mark.parametrize(
    ("page", "block"),
    [
        one
        for one in BLOCKS
        if not any(place in word for words in one[1] for word in words for place in PLACES)
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value[0])[:40],
)
def test_every_command_of_a_page_runs(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch, page: str, block: list[list[str]]
) -> None:
    """One after the other, each block on a copy of the sample's book and in an empty folder of its own."""
    monkeypatch.chdir(store.parent)
    said = walked(kitdrawer, block, store.parent, lambda name: "--yes" in options(name))
    assert page in PAGES
    assert [(line, answer.err) for line, answer in said if answer.code not in (0, 3)] == []


@pytest.mark.parametrize("page", PAGES)
def test_lines_to_paste_fit_a_terminal(page: str) -> None:
    """No command of a page is broken where a guide is shown."""
    assert [
        line for block in re.findall(r"^    .*", text(page), re.M) for line in [block] if len(line) > 82
    ] == []


def test_the_readme_stays_short_and_names_the_pages() -> None:
    """At most 150 lines, and a link to every page of the guide."""
    assert len(text("README").splitlines()) <= 150
    assert [page for page in TOPICS if f"(inventory/guide/{page}.md)" not in text("README")] == []


@pytest.mark.parametrize("page", TOPICS)
def test_a_page_is_shown_whole(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, page: str) -> None:
    """Every word of its file, within 80 columns and within 40, without colour."""
    monkeypatch.setenv("COLUMNS", "80")
    wide = kitdrawer("guide", page)
    words = re.findall(r"[^\W_]+", re.sub(r"```\w+", "", text(page)))
    assert (wide.code, wide.err, "\x1b" in wide.out) == (0, "", False)
    assert sorted(re.findall(r"[^\W_]+", wide.out)) == sorted(words)  # cells of a table stand side by side
    assert max(map(len, wide.out.splitlines())) <= 80
    monkeypatch.setenv("COLUMNS", "40")
    assert max(map(len, kitdrawer("guide", page).out.splitlines())) <= 40


def test_the_guide_lists_its_pages(kitdrawer: Kitdrawer) -> None:
    """Alone it says what there is; a page nobody wrote is refused with the nearest name."""
    assert all(page in kitdrawer("guide").out for page in TOPICS)
    told = kitdrawer("guide", "securty")
    assert (told.code, "security" in told.err) == (1, True)


def test_an_answer_that_differs_is_noticed() -> None:
    """What is kept of an answer: as many lines before `…` as stand there, as many after it."""
    assert shortened(("a", "…", "z"), "b\nc\nd\ny\n") == ["b", "…", "y"]
    assert shortened(("a", "z"), "b\nc \nd\n") == ["b", "c", "d"]
    assert shortened(("a", "…"), "b\n") == ["b"]


@pytest.mark.parametrize("name", COMMANDS)
def test_a_file_one_may_not_read_is_ours_to_refuse(name: str) -> None:
    """No option leaves that to the parser, which would answer with its usage and another exit code."""
    hints = get_type_hints(command(name), include_extras=True)
    files = {one: hint.__metadata__[0] for one, hint in hints.items() if "pathlib.Path" in str(hint)}
    assert [one for one, said in files.items() if said.readable] == []


@pytest.mark.parametrize(("name", "words"), SHOWN, ids=lambda value: " ".join(value)[:40])
def test_every_example_parses(name: str, words: list[str]) -> None:
    """The command's own parser takes each example of its help."""
    first = name.split()
    assert words[: len(first)] == first
    parser(name).make_context(name, words[len(first) :])


@pytest.mark.parametrize(
    "words", [words for name, words in SHOWN if name in LOOKING], ids=lambda value: " ".join(value)[:40]
)
def test_every_example_that_looks_works_on_the_sample(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    """Whoever tries an example on the sample stock gets an answer, within 80 columns and without colour.

    But for a command to paste, which alone on its line is never broken.
    """
    monkeypatch.chdir(store.parent)
    answer = kitdrawer(*words)
    assert answer.code in (0, 3)
    assert (answer.err, "\x1b" in answer.out) == ("", False)
    wide = [line for line in answer.out.splitlines() if len(line) > 80]
    assert [line for line in wide if not line.startswith("kitdrawer ")] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_every_help_shows_its_examples(kitdrawer: Kitdrawer, name: str) -> None:
    """Help leads with examples and fits the terminal."""
    answer = kitdrawer(*name.split(), "--help")
    assert answer.code == 0
    said, _, after = answer.out.partition("\n  kitdrawer ")  # the first of them
    assert after.startswith(name)
    assert not re.search("^-", said, re.M)
    wide = [line for line in answer.out.splitlines() if len(line) > 80]
    assert [line for line in wide if not line.startswith("kitdrawer ")] == []


ANSWERS = {
    "`columns`": ["columns", "counts", "--json"],
    "`shelf`": ["shelf", "--json"],
    "`can-take`": ["can-take", "--order", "S42", "--json"],
    "`shopping`": ["shopping", "--json"],
    "`due-in`": ["due-in", "--json"],
    "`load`": ["load", "counts.csv", "kits.csv", "--dry-run", "--json"],
    "`promise`": ["promise", "S41", "--json"],
    "`handed-over`": ["handed-over", "S42", "--json"],
    "`placed`": ["placed", "--json"],
    "`arrived`": ["arrived", "--supplier", "Saltmarsh Turning Supplies", "--complete", "--json"],
    "`undo`": ["undo", "--json"],
    "`count book`": ["count", "book", "found.csv", "--json"],
    "`verify`": ["verify", "--json"],
    "any failure": ["load", "bad.csv", "--json"],
}


def promised(row: str) -> set[str]:
    """The fields the reference promises in one row of its table, at any depth."""
    cell = row_of(REFERENCE.split("### JSON")[1], row)[1]
    return {word.strip() for group in re.findall(r"`([^`]+)`", cell) for word in group.split(",")}


@pytest.mark.parametrize("row", [*ANSWERS])
def test_every_promised_field_is_there(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch, row: str
) -> None:
    """The reference's table of JSON is true to the letter."""
    monkeypatch.chdir(store.parent)
    Path("counts.csv").write_text("part,quantity\nDunlin kit gunmetal,2\n")
    changed = "part,family,plating,note,box\nDunlin kit gunmetal,Dunlin,gunmetal,seen,red\n"
    Path("kits.csv").write_text(changed)
    Path("found.csv").write_text("part,counted\nDunlin kit chrome,8\nDunlin kit black titanium,5\n")
    Path("bad.csv").write_text("part,quantity\nDunlin kit gunmetl,2\n")
    kitdrawer("promise", "S42", "--yes")
    if row in ("`due-in`", "`arrived`"):
        kitdrawer("placed", "--yes")
    if row == "`shelf`":
        kitdrawer("took", "walnut blank", "1", "--reason", "lent", "--yes")
    told = kitdrawer(*ANSWERS[row]).json
    assert len(promised(row)) >= 2
    assert promised(row) <= fields(told)


def fields(value: Any) -> set[str]:
    """The names of all fields, at any depth."""
    if isinstance(value, list):
        return {name for one in value for name in fields(one)}
    return set(value).union(*map(fields, value.values())) if isinstance(value, dict) else set()


@pytest.mark.parametrize(
    "words",
    [
        *ANSWERS.values(),
        ["fits", "Curlew", "--json"],
        ["trace", "CA thin", "--json"],
        ["orders", "--json"],
        ["orders", "S42", "--json"],
        ["can-take", "--order", "S41", "--json"],
        ["can-take", "--sheet", str(SAMPLE / "orders.csv"), "--json"],
        ["load", "nothing.csv", "--json"],
        ["shelf", "--nonsense", "--json"],
        ["shlef", "--json"],
    ],
    ids=lambda value: " ".join(value)[:40],
)
def test_nothing_but_json_is_printed(kitdrawer: Kitdrawer, store: Path, words: list[str]) -> None:
    """One JSON value on standard output, its numbers short and exact, its days ISO 8601."""
    told = kitdrawer(*words).json
    assert store.exists()
    assert isinstance(told, dict)
    for key, value in leaves(told):
        if isinstance(value, Decimal):
            assert len(value.as_tuple().digits) <= 18, (key, value)
        if key in (
            "earliest",
            "due",
            "on",
            "arrives",
            "received_on",
            "use_by",
            "from_day",
            "expected",
        ) and isinstance(value, str):
            assert re.fullmatch(r"\d{4}-\d\d-\d\d", value), (key, value)


def leaves(value: Any, key: str = "") -> list[tuple[str, Any]]:
    """Every value at the end of a branch, with the field it stands in."""
    if isinstance(value, dict):
        return [leaf for name, one in value.items() for leaf in leaves(one, name)]
    if isinstance(value, list):
        return [leaf for one in value for leaf in leaves(one, key)]
    return [(key, value)]


KINDS: dict[str, dict[str, Any]] = {
    "shelf": {
        "part": str, "kind": str, "unit": str, "on_hand": (int, Decimal), "claimed": (int, Decimal),
        "free": (int, Decimal), "due_in": (int, Decimal),
    },
    "can-take": {
        "part": str, "stage": str, "need": (int, Decimal), "free": (int, Decimal), "short": (int, Decimal),
    },
}  # fmt: skip


@pytest.mark.parametrize("name", [*KINDS])
def test_rows_hold_what_they_promise(kitdrawer: Kitdrawer, store: Path, name: str) -> None:
    """Each promised field of each row has its type; free is on hand less claimed, or less where some has gone off."""
    rows = kitdrawer(*ANSWERS[f"`{name}`"]).json["parts"]
    assert store.exists()
    for row in rows:
        assert {key: isinstance(row[key], kind) for key, kind in KINDS[name].items()} == dict.fromkeys(
            KINDS[name], True
        )
    if name == "shelf":
        assert all(row["free"] <= row["on_hand"] - row["claimed"] for row in rows)


def test_can_take_has_its_types(kitdrawer: Kitdrawer, store: Path) -> None:
    """The fields beside the parts."""
    told = kitdrawer(*ANSWERS["`can-take`"]).json
    assert store.exists()
    assert isinstance(told["starts"], int)
    for field in ("odds", "odds_after_buying", "cost_per_piece", "lowest_price"):
        assert isinstance(told[field], Decimal | int)
    assert told["cost_per_piece"].as_tuple().exponent == -2  # cents are printed, the noughts too
    assert all(isinstance(sentence, str) for field in ("cautions", "why") for sentence in told[field])
    assert {"part", "lot", "blanks", "pieces_each", "offcut_mm"} <= set(told["blanks"][0])
    assert {"what", "part", "there", "note"} <= set(told["lay_out"][0])
