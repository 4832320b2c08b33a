"""Setting up and care: begin, load, undo, verify, backup, restore, and the edge of the command line."""

from __future__ import annotations

import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from inventory.cli import main, store_last
from inventory.cli.app import COMMANDS, GROUPS, command, make_app
from inventory.cli.edge import run
from inventory.guide import page

from .conftest import SAMPLE, TODAY, Kitdrawer


def version(store: Path) -> int:
    with sqlite3.connect(store) as connection:
        return int(connection.execute("SELECT version FROM shop").fetchone()[0])


def test_begin_never_touches_an_existing_book(kitdrawer: Kitdrawer, store: Path) -> None:
    """A second begin is refused and changes nothing."""
    before = store.read_bytes()
    assert kitdrawer("begin").code == 1
    assert store.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--currency", "XXQ"], "XXQ"),
        (["--rate", "USD"], "USD"),
        (["--rate", "EUR=1"], "EUR"),
        (["--rate", "USD=0"], "USD"),
        (["--labour-rate", "much"], "much"),
        (["--margin", "120 %"], "120"),
    ],
    ids=" ".join,
)
def test_begin_refuses_what_it_cannot_read(
    kitdrawer: Kitdrawer, tmp_path: Path, words: list[str], sentence: str
) -> None:
    """No half-made store is left behind."""
    path = tmp_path / "new.kitdrawer"
    answer = kitdrawer("begin", *words, "--store", str(path))
    assert answer.code == 1
    assert sentence in answer.err
    assert not path.exists()


def test_begin_keeps_the_makers_figures(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Labour rate and margin go into the lowest sensible price."""
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    path = str(tmp_path / "new.kitdrawer")
    assert kitdrawer("begin", "--labour-rate", "30", "--margin", "50 %", "--store", path).code == 0
    assert kitdrawer("load", str(SAMPLE), "--yes", "--store", path).code == 0
    told = kitdrawer("can-take", "--order", "S41", "--json", "--store", path).json
    assert told["lowest_price"] == 2 * (told["cost_per_piece"] + told["labour_per_piece"])


def test_the_store_is_in_the_data_folder_where_nobody_says(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One book for one person, in the usual place."""
    monkeypatch.delenv("KITDRAWER_STORE", raising=False)
    monkeypatch.setattr("platformdirs.user_data_path", lambda name: tmp_path / name)
    assert "kitdrawer begin" in kitdrawer("shelf").err
    assert kitdrawer("begin").code == 0
    assert (tmp_path / "kitdrawer" / "book.kitdrawer").exists()


def test_the_same_sheets_twice_are_refused(kitdrawer: Kitdrawer, store: Path) -> None:
    """Already booked, whatever the order of files."""
    again = kitdrawer("load", str(SAMPLE), "--yes")
    assert again.code == 1
    assert "already" in again.err.casefold()
    assert version(store) == 1


def test_a_dry_run_books_nothing(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """It is read and shown, differences included."""
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nDunlin kit gunmetal,5\n")
    answer = kitdrawer("load", str(path), "--dry-run")
    assert re.search(r"Dunlin kit gunmetal +5 +3", answer.out)
    assert version(store) == 1


def test_a_count_books_the_difference(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Counting anew sets the shelf right; it does not add up."""
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nDunlin kit gunmetal,2\n")
    assert kitdrawer("load", str(path), "--yes").code == 0
    rows = {row["part"]: row for row in kitdrawer("shelf", "--json").json["parts"]}
    assert rows["Dunlin kit gunmetal"]["on_hand"] == 2
    assert version(store) == 2


def test_every_bad_cell_is_named_and_nothing_is_loaded(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """File, tab, row and column of each, on the screen and as JSON."""
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nDunlin kit gunmetl,2\nDunlin kit gunmetal,2.5\nCA thin,2 oz\n")
    answer = kitdrawer("load", str(path), "--yes")
    assert answer.code == 1
    for words in ("row 2", "row 3", "row 4", "Dunlin kit gunmetal", "whole", "fl oz"):
        assert words in answer.err
    assert version(store) == 1


def test_a_long_list_of_bad_cells_is_cut_on_the_screen(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """Forty on the screen say enough; the count of the rest is told."""
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\n" + "".join(f"nothing {n},1\n" for n in range(60)))
    answer = kitdrawer("load", str(path), "--yes")
    assert "more (--json lists all)" in answer.err
    assert version(store) == 1


def test_a_missing_file_is_a_sentence(kitdrawer: Kitdrawer, store: Path) -> None:
    """So is loading nothing."""
    assert store.exists()
    assert "There is no" in kitdrawer("load", "nowhere.xlsx").err
    assert kitdrawer("load").code == 2


def test_undo_takes_back_step_by_step(kitdrawer: Kitdrawer, store: Path) -> None:
    """The hand-over, then the promise; the load is still needed until then."""
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("handed-over", "S41", "--yes")
    refused = kitdrawer("undo", "1", "--yes")
    assert refused.code == 1
    assert "Promise S41" in " ".join(refused.err.split()) or "Hand over S41" in " ".join(refused.err.split())
    assert "Hand over S41" in kitdrawer("undo", "--yes").out
    assert "Promise S41" in kitdrawer("undo", "--yes").out
    assert "Load" in kitdrawer("undo", "--yes").out
    rows = kitdrawer("shelf", "--json").json["parts"]
    assert all(row["on_hand"] == 0 for row in rows)
    assert kitdrawer("load", str(SAMPLE), "--yes").code == 0
    assert kitdrawer("verify").code == 0
    assert version(store) == 7


def test_undo_asks(kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A no changes nothing."""
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    assert "Nothing was changed" in kitdrawer("undo").out
    assert "Not promised" in kitdrawer("promise", "S41").out
    copy = str(store.parent / "copy")
    assert kitdrawer("backup", copy).code == 0
    assert "Nothing was changed" in kitdrawer("restore", copy).out
    assert version(store) == 1


def test_verify_names_what_disagrees(kitdrawer: Kitdrawer, store: Path) -> None:
    """A balance changed behind the book's back is found."""
    with sqlite3.connect(store) as connection:
        connection.execute("UPDATE part_balance SET on_hand = on_hand + 1000 WHERE on_hand > 0")
    answer = kitdrawer("verify", "--json")
    assert answer.code == 3
    assert answer.json["ok"] is False
    assert answer.json["problems"]
    assert "Keep the file as it is" in " ".join(kitdrawer("verify").out.split())


def test_backup_and_restore(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """What was promised after the backup is gone after restoring, and kept beside."""
    copy = tmp_path / "copy.kitdrawer"
    assert kitdrawer("backup", str(copy)).code == 0
    assert kitdrawer("backup", str(copy)).code == 1
    assert kitdrawer("backup", str(copy), "--overwrite").code == 0
    kitdrawer("promise", "S41", "--yes")
    answer = kitdrawer("restore", str(copy), "--yes")
    assert "kept as" in " ".join(answer.out.split())
    assert version(store) == 1
    assert kitdrawer("verify", "--json").json == {"ok": True, "problems": []}


@pytest.mark.parametrize(
    ("content", "sentence"),
    [(b"no database at all, but long enough to be one" * 40, "not a"), (b"", "")],
    ids=["text", "empty"],
)
def test_files_that_are_no_store(kitdrawer: Kitdrawer, tmp_path: Path, content: bytes, sentence: str) -> None:
    """A sentence, and the file stays as it was."""
    path = tmp_path / "letter.txt"
    path.write_bytes(content)
    answer = kitdrawer("shelf", "--store", str(path))
    assert answer.code == 1
    assert sentence in " ".join(answer.err.split())
    assert path.read_bytes() == content


def test_no_such_command_offers_the_nearest(kitdrawer: Kitdrawer) -> None:
    """A mistyped command is guessed at, never run."""
    answer = kitdrawer("shlef")
    assert answer.code == 2
    assert "shelf" in answer.err


def test_version_and_help(kitdrawer: Kitdrawer) -> None:
    """Both end well and say something."""
    assert kitdrawer("--version").out.startswith("kitdrawer ")
    told = kitdrawer("--help").out
    assert all(group in told for group in GROUPS)


def test_interrupting_says_so(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, store: Path) -> None:
    """130, and nothing half-done."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("inventory.cli.session.say", stop)
    monkeypatch.setattr("inventory.cli.commands.looking.shelf.say", stop)
    assert kitdrawer("shelf").code == 130
    assert store.exists()


def test_the_store_may_be_said_first() -> None:
    """Before the command or after it."""
    assert store_last(["--store", "x", "shelf"]) == ["shelf", "--store", "x"]
    assert store_last(["--store=x", "shelf"]) == ["shelf", "--store=x"]
    assert store_last(["shelf"]) == ["shelf"]


def test_main_leaves_with_the_exit_code(capsys: pytest.CaptureFixture[str]) -> None:
    """The process ends with what the command answered."""
    with pytest.raises(SystemExit) as stop:
        main(["--version"])
    assert stop.value.code == 0
    assert "kitdrawer" in capsys.readouterr().out


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_guide_and_help_know_every_command(name: str) -> None:
    """The guide's reference names it, and its help leads with an example."""
    assert f"`{name}" in page("reference")
    assert f"kitdrawer {name}" in (command(name).__doc__ or "")


def test_a_closed_pipe_is_no_error(store: Path) -> None:
    """`kitdrawer shelf | head -1` ends quietly."""
    with subprocess.Popen(
        [sys.executable, "-m", "inventory.cli", "shelf", "--store", str(store)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        process.wait()


@pytest.mark.parametrize("after", [0.5, 0.8, 1.1, 1.4])
def test_a_load_killed_half_way_leaves_the_book_as_it_was(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, after: float
) -> None:
    """kill -9 in the middle: all of it or nothing, and the book agrees with itself."""
    path = tmp_path / "counts.csv"
    rows = "".join(f"CA thin,{n % 90 + 1},lot {n}\n" for n in range(6000))
    path.write_text("part,quantity,lot\n" + rows)
    process = subprocess.Popen(
        [sys.executable, "-m", "inventory.cli", "load", str(path), "--yes", "--store", str(store)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    time.sleep(after)
    process.send_signal(signal.SIGKILL)
    process.wait()
    assert kitdrawer("verify").code == 0
    assert version(store) in (1, 2)
    lots = kitdrawer("trace", "CA thin", "--json").json["lots"]
    assert len(lots) == (2 if version(store) == 1 else 6002)


def test_make_app_for_no_arguments_knows_all() -> None:
    """Help and guesses need every command."""
    assert len(make_app().registered_commands) == len(set(COMMANDS) - {n for n in COMMANDS if " " in n})
    assert len(make_app(["shelf"]).registered_commands) == 1


def test_run_gives_back_what_a_bug_raises(monkeypatch: pytest.MonkeyPatch, store: Path) -> None:
    """A bug keeps its traceback: it is never dressed up as a refusal."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("inventory.cli.commands.looking.shelf.say", broken)
    with pytest.raises(ZeroDivisionError):
        run(make_app(["shelf"]), ["shelf", "--store", str(store)])
    shutil.rmtree(store.parent, ignore_errors=True)


def test_columns_save_without_a_store(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The empty workbook is for before there is a book."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "none.kitdrawer"))
    assert kitdrawer("columns", "--save", str(tmp_path / "shop.xlsx")).code == 0


def test_an_empty_book_has_no_orders(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """It says so."""
    path = str(tmp_path / "empty.kitdrawer")
    kitdrawer("begin", "--store", path)
    assert kitdrawer("orders", "--store", path).out == "No orders.\n"


def test_a_great_recount_is_told_in_short(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """A page of differences says enough; unknown columns are noted."""
    rows = [row for row in kitdrawer("shelf", "--kind", "supplies", "--json").json["parts"] if row["on_hand"]]
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity,mood\n" + "".join(f'"{row["part"]}",1,fine\n' for row in rows))
    answer = kitdrawer("load", str(path), "--dry-run")
    assert len(rows) > 20
    shown = sum(f"{row['part']}  " in answer.out for row in rows if row["on_hand"] != 1)
    assert f"and {sum(row['on_hand'] != 1 for row in rows) - shown} more: --all" in answer.out
    assert len(answer.out.splitlines()) <= 24
    assert "mood" in answer.out
    assert version(store) == 1


def test_a_store_of_a_later_program(kitdrawer: Kitdrawer, store: Path) -> None:
    """It is left alone and said."""
    with sqlite3.connect(store) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    answer = kitdrawer("shelf", "--json")
    assert answer.code == 1
    assert answer.json["error"]["kind"] == "newer store"


def test_run_as_a_module(store: Path) -> None:
    """`python -m inventory.cli` is the command."""
    words = [sys.executable, "-m", "inventory.cli", "shelf", "--kind", "kits", "--store", str(store)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "Dunlin kit chrome" in done.stdout


def test_a_document_that_is_not_there(kitdrawer: Kitdrawer, store: Path) -> None:
    """A number has no like-named neighbours to offer, but a last one."""
    answer = kitdrawer("undo", "99", "--yes")
    assert answer.err == "There is no entry called “99”.\nThe last one is entry 1.\n"
    assert version(store) == 1
