"""Words at a bad moment: what is said is true of what happened, and nothing said would replace or delete anything."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from inventory.errors import Refused
from inventory.sheets.saving import is_workbook

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
REPLACES = ("restore", "overwrite", "delete")
"""Words of what would put something in another's place."""


def words(answer: Answer) -> str:
    """All it said, in one line."""
    return " ".join(f"{answer.out} {answer.err}".split())


def _text(path: Path) -> None:
    path.write_text("hello")


def _random(path: Path) -> None:
    path.write_bytes(bytes(range(7, 207)) * 25)


def _other(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE tunes (name TEXT)")
        connection.commit()


@pytest.mark.parametrize(
    "write", [_text, _random, _other, Path.touch], ids=["text", "noise", "another database", "empty"]
)
def test_a_file_that_never_was_a_backup(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, write: object
) -> None:
    """Said by its own name, before anything is asked, and the book is as it was."""
    path, before = tmp_path / "holiday.kitdrawer", store.read_bytes()
    write(path)  # type: ignore[operator]  # one of those above
    answer = kitdrawer("restore", str(path))  # nobody is there to say yes: it is refused before that
    said = words(answer)
    assert (answer.code, "holiday.kitdrawer is not a backup" in said, ".new" in said) == (1, True, False)
    assert store.read_bytes() == before


def test_a_backup_that_is_not_sound_is_called_by_its_name(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Not by that of the hidden file it was copied into."""
    copy = tmp_path / "copy.kitdrawer"
    assert kitdrawer("backup", str(copy)).code == 0
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("PRAGMA application_id = 0")
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()
    said = words(kitdrawer("restore", str(copy), "--yes"))
    assert "copy.kitdrawer was written by a later version" in said
    assert ".new" not in said


def test_what_is_said_of_a_damaged_book(kitdrawer: Kitdrawer, store: Path) -> None:
    """Whatever the command: to keep the file; not to run what just failed, and nothing that replaces it."""
    with closing(sqlite3.connect(store)) as connection:
        connection.execute("UPDATE lot_balance SET cost = cost + 1 WHERE lot_id = 1")
        connection.commit()
    tampered = words(kitdrawer("verify"))
    store.write_bytes(store.read_bytes()[:20_000] + bytes(200_000))
    for said in (tampered, words(kitdrawer("verify")), words(kitdrawer("shelf"))):
        assert "Keep the file as it is" in said
        assert "kitdrawer verify" not in said
        assert not any(word in said for word in REPLACES)


@pytest.mark.parametrize(
    ("command", "name"),
    [(["shopping"], "list.ods"), (["due-in"], "list.xls"), (["count", "sheet"], "list.csv.txt")],
)
def test_a_files_name_does_not_become_a_folder(
    kitdrawer: Kitdrawer, tmp_path: Path, command: list[str], name: str
) -> None:
    """Refused, with what is written instead."""
    answer = kitdrawer(*command, "--save", str(tmp_path / name))
    assert (answer.code, "Let the name end in .xlsx" in words(answer)) == (1, True)
    assert list(tmp_path.glob("list*")) == []


def test_a_folder_may_have_a_dot(tmp_path: Path) -> None:
    """Only endings of files are refused."""
    assert not is_workbook(tmp_path / "lists.2026")
    with pytest.raises(Refused):
        is_workbook(tmp_path / "list.pdf")


@pytest.mark.parametrize("lock", ["~$shop.csv", ".~lock.shop.csv#"])
def test_a_workbook_that_is_open_elsewhere(kitdrawer: Kitdrawer, tmp_path: Path, lock: str) -> None:
    """The lock beside it deserves a word: what is not saved is not read."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    path = folder / "counts.csv"
    path.write_text("part,quantity\nGodwit kit chrome,4\n")
    (folder / lock.replace("shop", "counts")).touch()
    for asked in (path, folder):
        notes = kitdrawer("load", str(asked), "--dry-run", "--json").json["notes"]
        assert any(
            "is open in another program: what is not saved there is not read" in note for note in notes
        )


def test_one_part_is_one_part(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """No 1 parts, 1 counts or 1 rows."""
    assert kitdrawer("shelf", "--text", "Godwit kit chrome").out.startswith("1 part. ")
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nGodwit kit chrome,4\n")
    assert "Read     1 count" in kitdrawer("load", str(path), "--dry-run").out
    (tmp_path / "families.csv").write_text("family,makes\nKnot,pen\n")
    assert "Read     1 family" in kitdrawer("load", str(tmp_path / "families.csv"), "--dry-run").out
