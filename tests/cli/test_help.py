"""Help leads with what a maker does, in lines that survive pasting; a shell completes names from the book."""

from __future__ import annotations

import re
import shlex
import shutil
import time
from pathlib import Path

import pytest
from commands.learned import fill

from inventory.cli import main
from inventory.cli.app import COMMANDS, GROUPS, TWO_WORDS, command
from inventory.cli.completing import FROM_THE_BOOK, VARIABLE, WITHOUT_A_BOOK

from .conftest import Kitdrawer, Process
from .test_promises_of_the_readme import examples, parser


def lines(text: str) -> list[str]:
    """The command lines of a screen, as somebody would select and paste them."""
    return [line.strip() for line in text.splitlines() if line.strip().startswith("kitdrawer ")]


FIVE = [
    "kitdrawer shelf",
    "kitdrawer orders",
    "kitdrawer shopping",
    "kitdrawer plan",
    "kitdrawer weekend sheet --save sat.xlsx",
    "kitdrawer weekend book sat.xlsx",
]


MORE = ["kitdrawer --help --all", "kitdrawer shelf --help", "kitdrawer guide"]
COLUMNS = [40, 52, 80, 120]


@pytest.mark.parametrize("columns", COLUMNS)
@pytest.mark.parametrize("words", [(), ("--help",), ("-h",)])
def test_help_leads_with_the_five_jobs(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], columns: int
) -> None:
    """Alone and with --help: each a line to paste, whole at any width, before the commands; then what says more."""
    monkeypatch.setenv("COLUMNS", str(columns))
    answer = kitdrawer(*words)
    said = answer.out
    assert answer.err == ""
    before, _, after = said.partition("\nSet up")
    assert lines(before) == FIVE
    assert max(map(len, said.splitlines())) <= min(columns, 80)
    assert "sample_stock" not in said
    assert "kitdrawer begin" in before
    assert re.findall(r"kitdrawer(?: (?! )\S+)+", after) == MORE


@pytest.mark.parametrize("columns", COLUMNS)
def test_help_names_every_command_beside_its_group(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, columns: int
) -> None:
    """Each group with its commands in their order; at 80 columns all of the help is on a screen of 24 lines."""
    monkeypatch.setenv("COLUMNS", str(columns))
    said = kitdrawer("--help").out
    assert columns < 80 or len(said.splitlines()) <= 24
    table = " ".join(said[said.index("\nSet up") : said.index("\nMore")].split())
    assert table == " ".join(f"{group} {', '.join(names)}" for group, names in GROUPS.items())


def test_the_lines_that_say_more_say_it(
    kitdrawer: Kitdrawer, interpreter: Process, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each ends well: all commands with what each is for and the options of the program, one of them, the pages.

    A process of its own says what this one does.
    """
    monkeypatch.setenv("COLUMNS", "80")
    told = [kitdrawer(*shlex.split(line)[1:]) for line in MORE]
    assert [one.code for one in told] == [0, 0, 0]
    first = [re.split(r"[.:?]", (command(name).__doc__ or ""))[0] for name in COMMANDS if " " not in name]
    everything = " ".join(re.sub("[│╭╰─╮╯]", " ", told[0].out).split())
    assert [one for one in first if " ".join(one.split()) not in everything] == []
    assert all(one in everything for one in ("--version", "--install-completion", *TWO_WORDS))
    for words in (("--all",), ("--all", "--help"), ("--help", "--all")):
        assert kitdrawer(*words).out.strip() == told[0].out.strip()
    assert interpreter(env={"COLUMNS": "80"}).out == kitdrawer().out


def test_the_five_lines_work_in_a_shop_of_ones_own(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pasted one after the other, in a book with other names than the sample's and one promised order."""
    sheets = {
        "tubes": "part,outside diameter,length,drill\ntube A,7 mm,50 mm,7.1 mm\n",
        "platings": "plating\nplain\n",
        "families": "family,makes\nKnot,pen\n",
        "barrels": "family,barrel,tube,finished a,finished b\nKnot,body,tube A,9 mm,10 mm\n",
        "kits": "part,family,plating,tubes inside\nKnot kit plain,Knot,plain,yes\n",
        "materials": "material,allowance\npear,2 mm\n",
        "blanks": "part,material,shape,width,length\npear blank,pear,square,20 mm,120 mm\n",
        "patterns": "pattern,family\nKnot pen,Knot\n",
        "bills": "pattern,stage,part,quantity,per\nKnot pen,cut,the blank,1,piece\n"
        "Knot pen,glue,the tubes,1,piece\nKnot pen,assemble,the kit,1,piece\n",
        "counts": "part,quantity,unit cost\nKnot kit plain,3,4.00\npear blank,2,1.50\n",
    }
    (tmp_path / "own").mkdir()
    for name, text in sheets.items():
        (tmp_path / "own" / f"{name}.csv").write_text(text)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "own.kitdrawer"))
    assert kitdrawer("begin").code == 0
    assert kitdrawer("load", "own", "--yes").code == 0
    options = ("--plating", "plain", "--blank", "pear blank", "--by", "2099-12-20")
    assert kitdrawer("promise", "Ann", "--pattern", "Knot pen", *options, "--yes").code in (0, 3)
    for line in FIVE:
        words = shlex.split(line)[1:]
        if "book" in words:
            fill(Path("sat.xlsx"), {("pieces", "Ann", "good"): 1})
        answer = kitdrawer(*words, *(["--yes"] if words[0] == "plan" or "book" in words else []))
        assert answer.code in (0, 3), (line, answer.err)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_example_survives_pasting(kitdrawer: Kitdrawer, name: str) -> None:
    """As it stands on a terminal of 80 columns each is one whole line, which the command's own parser takes."""
    shown = [shlex.split(line)[1:] for line in lines(kitdrawer(*name.split(), "--help").out)]
    assert shown == examples(name)
    for words in shown:
        parser(name).make_context(name, words[len(name.split()) :])


@pytest.mark.parametrize("name", TWO_WORDS)
def test_names_of_two_words_have_examples_too(kitdrawer: Kitdrawer, name: str) -> None:
    shown = lines(kitdrawer(name, "--help").out)
    assert len(shown) >= 2
    for line in shown:
        first, second, *words = shlex.split(line)[1:]
        assert f"{first} {second}" in COMMANDS
        parser(f"{first} {second}").make_context(second, words)


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_what_an_option_takes_is_said_in_words(kitdrawer: Kitdrawer, name: str) -> None:
    """No `<str>` and no `<bool>`."""
    assert re.findall(r"<\w+(?:\[\w+\])?>", kitdrawer(*name.split(), "--help").out) == []


@pytest.fixture
def complete(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> object:
    """What bash offers for a line whose last word is begun."""

    def offer(line: str) -> list[str]:
        monkeypatch.setenv(VARIABLE, "complete_bash")
        monkeypatch.setenv("COMP_WORDS", line)
        monkeypatch.setenv("COMP_CWORD", str(len(line.replace('"', "").split(" ")) - 1))
        capsys.readouterr()
        with pytest.raises(SystemExit):
            main([])
        said = capsys.readouterr()
        assert said.err == ""
        return said.out.split("\n")[:-1] if said.out.strip() else []

    return offer


OFFERED = [
    ("kitdrawer sho", ["shopping"]),
    ("kitdrawer weekend b", ["book"]),
    ("kitdrawer promise S4", ["S41", "S42", "S43", "S44", "S45", "S46"]),
    ("kitdrawer plan S42 S43 S4", ["S41", "S42", "S43", "S44", "S45", "S46"]),
    ("kitdrawer can-take --order s42", ["S42"]),
    ('kitdrawer can-take "Cur', ["Curlew capped pen"]),
    ("kitdrawer can-take Cur", ['"Curlew capped pen"']),
    ("kitdrawer can-take X --plating gun", ["gunmetal"]),
    ("kitdrawer can-take X --blank walnut", ['"walnut blank"', '"walnut stopper block"']),
    ("kitdrawer trace acc", ["accelerator"]),
    ("kitdrawer fits God", ["Godwit"]),
    ("kitdrawer losses iro", ["iroko"]),
    ("kitdrawer arrived --supplier Oys", ['"Oystershell Kits"']),
    ("kitdrawer guide saf", ["safety"]),
    ("kitdrawer columns coun", ["counts"]),
    ("kitdrawer promise Zzz", []),
]


@pytest.mark.parametrize(
    ("line", "offered"), OFFERED, ids=lambda value: value if isinstance(value, str) else ""
)
def test_a_shell_completes_from_the_book(
    complete: object, store: Path, line: str, offered: list[str]
) -> None:
    """Commands, and names of the book where a name is wanted; what has a space comes in quotes, unless one is open."""
    assert store.exists()
    assert callable(complete)
    assert complete(line) == offered


@pytest.mark.parametrize("book", ["missing", "empty", "broken", "older"])
def test_completion_never_complains(
    complete: object, store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, book: str
) -> None:
    """Without a book, with a file that is none, with one of an earlier version: nothing is offered, nothing changed."""
    path = tmp_path / f"{book}.kitdrawer"
    if book == "empty":
        path.touch()
    if book == "broken":
        path.write_bytes(b"no book at all" * 100)
    if book == "older":
        import sqlite3

        shutil.copy(store, path)
        with sqlite3.connect(path) as connection:
            connection.execute("UPDATE alembic_version SET version_num = '0001'")
        connection.close()
    before = path.read_bytes() if path.exists() else None
    monkeypatch.setenv("KITDRAWER_STORE", str(path))
    assert callable(complete)
    assert complete("kitdrawer promise S4") == []
    assert (path.read_bytes() if path.exists() else None) == before
    assert sorted(one.name for one in tmp_path.iterdir() if "before" in one.name) == []


def test_completion_is_for_parameters_that_exist() -> None:
    """Each name that is completed is a parameter of some command."""
    names = {one.name for name in COMMANDS for one in parser(name).params}
    assert {*FROM_THE_BOOK, *WITHOUT_A_BOOK} <= names


def test_completion_is_quick(interpreter: Process, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pressing a key is answered before anybody wonders: two seconds on a busy machine, half of one on a quiet one."""
    assert store.exists()
    monkeypatch.setenv(VARIABLE, "complete_bash")
    monkeypatch.setenv("COMP_WORDS", "kitdrawer promise S4")
    monkeypatch.setenv("COMP_CWORD", "2")
    began = time.process_time()
    assert interpreter().out.split() == ["S41", "S42", "S43", "S44", "S45", "S46"]
    assert time.process_time() - began < 2


def test_columns_as_json(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Every tab and column for programs; of one tab alone; a workbook is written all the same."""
    told = kitdrawer("columns", "--json").json["tabs"]
    assert len(told) == 16
    assert all(one["columns"] for one in told)
    (counts,) = kitdrawer("columns", "counts", "--json").json["tabs"]
    assert counts["columns"][0]["column"] == "part"
    assert counts["columns"][0]["required"] is True
    path = tmp_path / "shop.xlsx"
    assert kitdrawer("columns", "--save", str(path), "--json").json["saved"] == str(path)
    assert path.exists()
    assert kitdrawer("columns", "conts", "--json").json["error"]["kind"]


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_is_one_screen(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """24 lines of 80 columns with every option at least named; `--help --all` explains each; nothing is lost at 40."""
    common = ("store", "as_json", "yes", "help")
    own = [one for one in parser(name).params if one.name not in common and not getattr(one, "hidden", False)]
    first = [one.opts[0] for one in own if one.param_type_name == "option"]
    monkeypatch.setenv("COLUMNS", "80")
    said = kitdrawer(*name.split(), "--help").out
    assert len(said.rstrip().splitlines()) <= 24
    assert max(map(len, said.splitlines())) <= 80
    assert [option for option in first if not re.search(rf"(?<![\w-]){option}(?![\w-])", said)] == []
    whole = " ".join(kitdrawer(*name.split(), "--help", "--all").out.split())
    assert [one.name for one in own if " ".join((one.help or "").split()) not in whole] == []
    monkeypatch.setenv("COLUMNS", "40")
    narrow = kitdrawer(*name.split(), "--help", "--all").out
    assert [
        one.name for one in own if " ".join((one.help or "").split()) not in " ".join(narrow.split())
    ] == []
    assert [line for line in narrow.splitlines() if len(line) > 40 and "kitdrawer " not in line] == []


def test_types_are_words(kitdrawer: Kitdrawer) -> None:
    """What an option takes is a name, a sum, an amount, a day: neither capitals nor a bound in brackets."""
    said = kitdrawer("arrived", "--help", "--all").out
    for row in ("--supplier name", "--price sum", "--quantity amount", "--on date", "--settles, --still-due"):
        assert row in said
    assert "[x>=" not in kitdrawer("plan", "--help", "--all").out
