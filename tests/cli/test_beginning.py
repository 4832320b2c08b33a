"""Where the book is: begun, found by option, environment or data folder; and what is said where it cannot be."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from commands.conftest import SAMPLE

from inventory.cli import main

from .conftest import Answer, Kitdrawer, Process


@pytest.fixture
def bare(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A machine on which nobody has said where the book is; the working folder is empty."""
    monkeypatch.delenv("KITDRAWER_STORE", raising=False)
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-28")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_begin_asks_nothing_and_says_what_comes_next(kitdrawer: Kitdrawer, bare: Path) -> None:
    """A new book in euros, at the place named, and the two next steps."""
    answer = kitdrawer("begin", "--store", "my.kitdrawer")
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith("A new book in EUR, ")
    assert str(bare / "my.kitdrawer") in answer.out.splitlines()
    assert "kitdrawer columns --save" in answer.out
    assert kitdrawer("shelf", "--store", "my.kitdrawer", "--json").json == {"currency": "EUR", "parts": []}


def test_the_books_coin_is_everybodys(kitdrawer: Kitdrawer, bare: Path) -> None:
    """A book in a currency without cents prints none."""
    assert bare.exists()
    assert kitdrawer("begin", "--currency", "jpy", "--store", "my.kitdrawer").code == 0
    Path("tubes.csv").write_text("part,outside diameter,length,drill\ntube A,7 mm,53 mm,7.2 mm\n")
    Path("counts.csv").write_text("part,quantity,unit cost\ntube A,3,40\n")
    assert kitdrawer("load", "tubes.csv", "counts.csv", "--yes", "--store", "my.kitdrawer").code == 0
    told = kitdrawer("trace", "tube A", "--json", "--store", "my.kitdrawer")
    assert (told.json["currency"], told.json["worth"]) == ("JPY", 120)
    assert '"worth": 120,' in told.out
    assert "worth 120 JPY" in kitdrawer("trace", "tube A", "--store", "my.kitdrawer").out


@pytest.mark.parametrize("content", [b"Dear neighbour,\n", b""], ids=["a letter", "an empty file"])
def test_begin_writes_over_nothing(kitdrawer: Kitdrawer, bare: Path, content: bytes) -> None:
    """Whatever stands at that place stays as it is."""
    (bare / "letter.txt").write_bytes(content)
    answer = kitdrawer("begin", "--store", "letter.txt", "--json")
    assert answer.code in (1, 2)
    assert (bare / "letter.txt").read_bytes() == content


def test_begin_makes_the_folder(kitdrawer: Kitdrawer, bare: Path) -> None:
    """A place that does not exist yet is made."""
    assert kitdrawer("begin", "--store", "shed/shelf/my.kitdrawer").code == 0
    assert (bare / "shed" / "shelf" / "my.kitdrawer").exists()


def test_begin_where_no_folder_can_be(kitdrawer: Kitdrawer, bare: Path) -> None:
    """A file in the way of the folder is a sentence."""
    (bare / "shed").write_text("not a folder")
    answer = kitdrawer("begin", "--store", "shed/my.kitdrawer")
    assert answer.code == 1
    assert "--store" in answer.err
    assert (bare / "shed").read_text() == "not a folder"


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere"
)
def test_begin_where_nobody_may_write(kitdrawer: Kitdrawer, bare: Path) -> None:
    """A folder without the right to write is a sentence, and nothing is left in it."""
    (bare / "locked").mkdir(mode=0o500)
    assert kitdrawer("begin", "--store", "locked/my.kitdrawer").code == 1
    assert list((bare / "locked").iterdir()) == []


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="the data folder has its own rules there")
def test_the_data_folder_of_the_desktop(process: Process, bare: Path) -> None:
    """Where nobody says, the book is in the user's data folder (XDG Base Directory: $XDG_DATA_HOME)."""
    env = {**os.environ, "XDG_DATA_HOME": str(bare / "data")}
    assert "kitdrawer begin" in process("shelf", env=env).err
    assert process("begin", env=env).code == 0
    assert (bare / "data" / "kitdrawer" / "book.kitdrawer").exists()
    assert process("shelf", "--json", env=env).code == 0


def begun(kitdrawer: Kitdrawer, name: str, coin: str) -> None:
    assert kitdrawer("begin", "--currency", coin, "--store", name).code == 0


def test_the_option_goes_before_the_environment(
    kitdrawer: Kitdrawer, bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """--store, else KITDRAWER_STORE."""
    begun(kitdrawer, "a.kitdrawer", "GBP")
    begun(kitdrawer, "b.kitdrawer", "USD")
    monkeypatch.setenv("KITDRAWER_STORE", str(bare / "a.kitdrawer"))
    assert kitdrawer("shelf", "--json").json["currency"] == "GBP"
    assert kitdrawer("shelf", "--json", "--store", "b.kitdrawer").json["currency"] == "USD"


@pytest.mark.parametrize(
    "words",
    [
        ["--store", "a.kitdrawer", "shelf", "--json"],
        ["--store=a.kitdrawer", "shelf", "--json"],
        ["shelf", "--store", "a.kitdrawer", "--json"],
        ["shelf", "--json", "--store=a.kitdrawer"],
    ],
    ids=" ".join,
)
def test_the_store_is_said_before_or_after_the_command(
    kitdrawer: Kitdrawer, bare: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    """Both orders mean the same."""
    assert bare.exists()
    begun(kitdrawer, "a.kitdrawer", "GBP")
    capsys.readouterr()
    with pytest.raises(SystemExit) as stop:
        main(words)
    assert stop.value.code == 0
    assert Answer(0, capsys.readouterr().out, "").json["currency"] == "GBP"


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        (["--store", "nowhere.kitdrawer"], "no store"),
        (["--store", "."], "not a store"),
        (["--store", "letter.txt"], "not a store"),
        (["--store", "other.sqlite"], "not a store"),
        (["--store", "carrier-pigeon://roof/1"], "store"),
    ],
    ids=lambda value: value[-1] if isinstance(value, list) else "",
)
def test_no_book_to_look_into(kitdrawer: Kitdrawer, bare: Path, words: list[str], kind: str) -> None:
    """Each has its kind for programs, and a remedy for people."""
    (bare / "letter.txt").write_text("Dear neighbour,\n" * 200)
    with sqlite3.connect(bare / "other.sqlite") as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
    other.close()
    error = kitdrawer("shelf", *words, "--json").json["error"]
    assert error["kind"] == kind
    assert error["hint"]
    for name in ("load", "backup"):
        assert kitdrawer(name, "letter.txt", *words).code == 1


def test_a_copy_is_a_book_too(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """One file holds everything: carried to another place, it says the same."""
    shutil.copy(store, tmp_path / "carried.kitdrawer")
    here = kitdrawer("shelf", "--json").out
    assert kitdrawer("shelf", "--json", "--store", str(tmp_path / "carried.kitdrawer")).out == here
    assert kitdrawer("load", str(SAMPLE), "--yes", "--store", str(tmp_path / "carried.kitdrawer")).code == 1


def test_a_command_leaves_no_search_for_its_end() -> None:
    """Everything alive is put out of reach of Python's last search, which has nothing to find."""
    asked = (
        "import atexit, gc\n"
        "atexit.register(lambda: print(gc.get_freeze_count() > 10_000, len(gc.get_objects()) < 1000))\n"
        "from inventory.cli import main; main(['--version'])"
    )
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.split()[-2:] == ["True", "True"]
