"""Torn copies: pages lost or cut off, in the book's file or in its log. Refused, or sound; never silently wrong.

Torn are whole pages, as a disk writes them: missing, or holding nothing. A page that reads well and belongs
elsewhere, or a few bytes changed inside one, are known in a copy by its seal (`tests/store/test_care.py`); in a book
in use they are beyond what is promised: SQLite keeps no check sums of its pages.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.errors import KitdrawerError
from inventory.store import open_store, restore

from .shop import Shop
from .worlds import picture

PAGE = 4096
FRAME = PAGE + 24
Tear = Callable[[bytearray, Random], bytearray]


def cut_off(data: bytearray, dice: Random) -> bytearray:
    """Only the beginning is there."""
    return data[: dice.randrange(1, len(data))]


def cut_at_a_page(data: bytearray, dice: Random) -> bytearray:
    """Only the first pages are there."""
    return data[: PAGE * dice.randrange(1, len(data) // PAGE)]


def nought(data: bytearray, dice: Random) -> bytearray:
    """One to four pages hold nothing."""
    for _ in range(dice.randint(1, 4)):
        at = PAGE * dice.randrange(len(data) // PAGE)
        data[at : at + PAGE] = bytes(PAGE)
    return data


TEARS = (cut_off, cut_at_a_page, nought)


def restored(copy: Path, place: Path, whole: str) -> bool:
    """Restore a torn copy where a book is: True where it is the whole book, False where it is refused as it should."""
    before = picture(str(place))
    try:
        restore(copy, place)
    except KitdrawerError as error:
        refused = error
    else:
        assert picture(str(place)) == whole
        return True
    assert refused.message.endswith(".") or ": " in refused.message
    assert refused.hint, refused.message
    assert picture(str(place)) == before
    return False


def torn_copies(shop: Shop, folder: Path, tear: Tear, trials: int) -> int:
    """Tear and restore so many copies; how many of them were whole all the same."""
    dice, whole = Random(f"{tear.__name__} {trials}"), picture(str(shop.book))
    place = Path(shutil.copy(shop.sheets / "earlier", folder / "book"))
    came = 0
    for number in range(trials):
        copy = folder / f"torn {number}"
        copy.write_bytes(tear(bytearray(shop.book.read_bytes()), dice))
        if restored(copy, place, whole):
            came += 1
            shutil.copy(shop.sheets / "earlier", place)
        copy.unlink()
    return came


@pytest.mark.parametrize("tear", TEARS)
def test_torn_copies(small_shop: Shop, tmp_path: Path, tear: Tear) -> None:
    """Two torn copies of each kind are refused with a remedy, and the book that is there stays."""
    torn_copies(small_shop, tmp_path, tear, 2)


@pytest.mark.soak
@pytest.mark.parametrize("tear", TEARS)
def test_many_torn_copies(shop: Shop, tmp_path: Path, tear: Tear) -> None:
    """So are a hundred of each kind; what is restored all the same has every row."""
    assert torn_copies(shop, tmp_path, tear, 100) < 25


@pytest.mark.soak
@pytest.mark.parametrize("tear", TEARS)
def test_using_a_torn_book(
    shop: Shop,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tear: Tear,
) -> None:
    """Commands on a torn book answer as on the whole one or refuse in a sentence; there is never a traceback."""
    dice = Random(tear.__name__)
    wanted = {}
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-28")
    for number in range(40):
        for words in (("shelf", "--json"), ("orders", "--json"), ("verify", "--json")):
            if words not in wanted:
                run(make_app(words), [*words, "--store", str(shop.book)])
                wanted[words] = capsys.readouterr().out
            book = tmp_path / f"book {number}"
            if not book.exists():
                book.write_bytes(tear(bytearray(shop.book.read_bytes()), dice))
            code = run(make_app(words), [*words, "--store", str(book)])
            said = capsys.readouterr().out
            assert code in (1, 3) or said == wanted[words], (words, number)


def with_log(shop: Shop, folder: Path, documents: int) -> tuple[Path, list[str]]:
    """A copy of a book in use, taken with its log before that was put away; and what the book held at each time."""
    from inventory.ledger import Line, NewLot, Proposal
    from inventory.measures import read_date

    book, copy = Path(shutil.copy(shop.book, folder / "used")), folder / "copy"
    held = [picture(str(book))]
    with closing(sqlite3.connect(book)) as reader, open_store(book) as store:
        reader.execute("PRAGMA wal_autocheckpoint = 0")
        reader.execute("SELECT count(*) FROM document").fetchone()  # a reader that stays keeps the log
        for number in range(documents):
            line = Line("shelf", "CA thin", 1_000, 10, lot="t")
            store.commit(
                Proposal("arrival", f"n{number}", read_date("2026-11-28"), (line,), (NewLot("t", "CA thin"),))
            )
            for ending in ("", "-wal"):
                shutil.copy(f"{book}{ending}", f"{copy}{ending}")
            still = folder / "still"
            for ending in ("", "-wal"):
                shutil.copy(f"{book}{ending}", f"{still}{ending}")
            held.append(picture(str(still)))
    return copy, held


def torn_log(data: bytearray, dice: Random) -> bytearray:
    """The log cut off, or with a frame of nothing in it."""
    if dice.random() < 0.5:
        return data[: dice.randrange(len(data))]
    at = 32 + FRAME * dice.randrange((len(data) - 32) // FRAME)
    data[at : at + FRAME] = bytes(FRAME)
    return data


@pytest.mark.parametrize("trials", [4, pytest.param(100, marks=pytest.mark.soak)])
def test_torn_logs(small_shop: Shop, tmp_path: Path, trials: int) -> None:
    """A log torn anywhere gives the book as it was after one of its documents, whole; never something between."""
    copy, held = with_log(small_shop, tmp_path, 4)
    log = Path(f"{copy}-wal").read_bytes()
    assert len(set(held)) == 5
    dice, found = Random(trials), set()
    for number in range(trials):
        book = Path(shutil.copy(copy, tmp_path / f"torn {number}"))
        Path(f"{book}-wal").write_bytes(torn_log(bytearray(log), dice))
        assert run(make_app(["verify"]), ["verify", "--store", str(book)]) == 0
        assert picture(str(book)) in held
        found.add(held.index(picture(str(book))))
    assert len(found) > 1
