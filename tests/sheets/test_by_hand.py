"""What a hand writes into the blanks of a bench sheet: taken where it can mean one thing, asked about otherwise."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadMeasure, KitdrawerError
from inventory.measures import currency
from inventory.reports.filled import FilledSession
from inventory.sheets.days.said import said_line
from inventory.sheets.forms.blanks import FULL_ONES, SALVAGED, USED_UP, WEIGHED
from inventory.sheets.forms.by_hand import ToFill, read_by_hand
from inventory.sheets.forms.cells import amount_of, pieces, weight
from inventory.sheets.forms.returned_tab import ReturnedRow
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import write_session

from .sessions_case import EPOXY, GLUE, KIT, PADS, SHEET, STRIPS, fill_csv, known, refused

GOOD = ToFill("How many?", most=7, whole=True, confirms=frozenset({"good", "all"}))
SPOILED = ToFill("How many?", most=7, dash=True, turns=frozenset({"good", "left"}))


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheet of the session as a folder, written once."""
    path = tmp_path_factory.mktemp("written") / "weekend"
    write_session(path, SHEET)
    return path


@pytest.fixture
def folder(tmp_path: Path, written: Path) -> Path:
    """A copy of it."""
    return Path(shutil.copytree(written, tmp_path / "weekend"))


def read(path: Path) -> FilledSession:
    """What the sheet says."""
    return read_session(path, known())


@pytest.mark.parametrize(
    ("said", "number", "words"),
    [
        ("2 blew up", 2, "blew up"),
        ("Two blew up.", 2, "blew up"),
        ("2, blew up", 2, "blew up"),
        ("1 (cracked at the knot)", 1, "cracked at the knot"),
        ("IIII", 4, ""),
        ("llll", 4, ""),
        ("|||| ||", 6, ""),
        ("IIII/ II", 7, ""),
        ("///", 3, ""),
        ("I", 1, ""),
        ("••", 2, ""),
        ("...", 3, ""),
        ("xx", 2, ""),
        ("●●○○", 2, ""),
        ("none", 0, ""),
        ("-", 0, ""),
        ("1+1", 2, ""),
        ("x3", 3, ""),
        ("2 of 7", 2, ""),
        ("2 of 7 cracked", 2, "cracked"),
        ("3 ✓", 3, ""),
        ("3!", 3, ""),
        ("11", 2, None),
    ],
)  # fmt: skip
def test_spoiled_pieces(said: str, number: int, words: str | None) -> None:
    """Numbers with a remark, tallies of every kind; more ones than there are pieces are asked about."""
    if words is None:
        with pytest.raises(BadMeasure, match="11 is more than the 7 there are"):
            read_by_hand(said, pieces, SPOILED)
        return
    found = read_by_hand(said, pieces, SPOILED)
    assert (found.value, found.words) == (number, words)
    assert found.taken == str(number)


@pytest.mark.parametrize(
    ("said", "number"),
    [
        ("4 of 5", 4),
        ("all", 7),
        ("all 7", None),
        ("6 good", 6),
        ("7 all good", 7),
        ("4/7", 4),
        ("all but one", 6),
        ("All bar 2.", 5),
    ],
)
def test_good_pieces(said: str, number: int | None) -> None:
    """All of them is what was started; a share of them is one, where it is of all."""
    if number is None:
        with pytest.raises(KitdrawerError):
            read_by_hand(said, pieces, GOOD)
        return
    assert read_by_hand(said, pieces, GOOD).value == number


@pytest.mark.parametrize("said", ["yes", "✓", "x", "4/5", "3 bad", "1111111"])
def test_what_is_asked(said: str) -> None:
    """A tick beside seven pieces, a share of another number, words that turn it round: the question, and what to do."""
    with pytest.raises(BadMeasure) as found:
        read_by_hand(said, pieces, GOOD)
    assert found.value.hint.startswith("How many? Write the number")


def test_a_tick_beside_one_piece() -> None:
    """Is that one."""
    one = ToFill("How many?", most=1, whole=True)
    assert read_by_hand("✓", pieces, one).value == 1


@pytest.mark.parametrize(
    "said", ["about 2", "2?", "2-3", "2 or 3", "a few", "IV", ".", "/", "5 of 4", "2 good", "…", "many of 5"]
)
def test_what_nobody_can_tell(said: str) -> None:
    """Guesses, ranges, Roman numbers, more of fewer: refused, never guessed at."""
    with pytest.raises(KitdrawerError):
        read_by_hand(said, pieces, SPOILED)


@pytest.mark.parametrize(
    ("said", "thousandths", "words"),
    [
        ("2 spilt", 2000, "spilt"),
        ("2 strips, one torn", 2000, "one torn"),
        ("1 pack of 14", None, None),
        ("4 of 5 strips", 4000, ""),
        ("IIII", 4000, ""),
        ("3 left", None, None),
        ("1 furlong", None, None),
        ("yes", None, None),
    ],
)
def test_amounts(said: str, thousandths: int | None, words: str | None) -> None:
    """A unit belongs to the number, a word nobody knows may be one; `3 left` is not what was used."""
    strict = amount_of(known().part(STRIPS))
    if thousandths is None:
        with pytest.raises(KitdrawerError):
            read_by_hand(said, strict, USED_UP)
        return
    found = read_by_hand(said, strict, USED_UP)
    assert (found.value, found.words) == (thousandths, words)


@pytest.mark.parametrize(
    ("said", "grams"),
    [("61.3 g, dropped once", 61_300), ("61.3 weighed twice", 61_300), ("30 ml", None), ("61 net", None)],
)
def test_weights(said: str, grams: int | None) -> None:
    """Millilitres and net weights are not what the scale shows."""
    if grams is None:
        with pytest.raises(KitdrawerError):
            read_by_hand(said, weight, WEIGHED)
        return
    assert read_by_hand(said, weight, WEIGHED).value[0] == grams


@given(st.text(st.sampled_from("0123456789 Il|/.,+-x✓○●ofagd?"), max_size=12))
@examples(300)
def test_what_the_strict_reader_takes_is_taken_as_it_does(text: str) -> None:
    """By hand never changes a plain number, and never reads one into a text without a digit, stroke or word for it."""
    try:
        strict: int | None = pieces(text)
    except KitdrawerError:
        strict = None
    try:
        found = read_by_hand(text, pieces, SALVAGED)
    except KitdrawerError:
        assert strict is None
        return
    assert found.value == strict if strict is not None else bool(text.strip())
    assert found.value >= 0


def test_a_sheet_filled_by_hand(folder: Path) -> None:
    """Understood, with the words kept as remark and reason, and all that was understood said."""
    fill_csv(
        folder / "pieces.csv",
        2,
        {"good": "12 of 14", "spoiled at drill": "I", "spoiled at turn": "1 blew up"},
    )
    fill_csv(folder / "pieces.csv", 3, {"good": "all", "spoiled at cut": "○○○○"})
    fill_csv(folder / "cutting.csv", 2, {"cut": "✓"})
    fill_csv(folder / "bottles.csv", 2, {"gross g": "31.25 g, spilt"})
    fill_csv(folder / "used.csv", 2, {"used": "8 strips, one torn"})
    fill_csv(folder / "used.csv", 3, {"used": "II"})
    fill_csv(folder / "counts.csv", 2, {"counted": "✓"})
    found = read(folder)
    first, second, _ = found.pieces
    assert (first.good, first.lost, first.note) == (12, {"drill": 1, "turn": 1}, "turn: 1 blew up")
    assert (second.good, second.lost) == (5, {})
    assert [one.cut for one in found.blanks] == [9]
    assert [(one.part, one.gross, one.reason) for one in found.bottles] == [(GLUE, 31_250, "spilt")]
    assert [(one.part, one.used, one.reason) for one in found.uses] == [
        (STRIPS, 8000, "one torn"),
        (PADS, 2000, ""),
    ]
    assert [(one.part, one.counted) for one in found.counts] == [(KIT, 31_000)]
    assert len(found.announced) == 9
    assert "weekend/pieces.csv, pieces, row 3, good: “all” was taken as 5." in found.announced
    assert "weekend/counts.csv, counts, row 2, counted: “✓” was taken as 31." in found.announced


def test_pieces_that_are_not_accounted_for(folder: Path) -> None:
    """`4 of 5` with nothing spoiled: where did the fifth go?"""
    fill_csv(folder / "pieces.csv", 2, {"good": "12 of 14", "spoiled at turn": "1"})
    (place,) = refused(folder)
    assert "12 of 14 are good, and 1 are written as spoiled" in place.problem
    assert "Write where 2 pieces were spoiled" in place.problem


def test_a_tick_where_it_says_nothing(folder: Path) -> None:
    """How many full ones, what the scale shows, what was used: a tick does not say."""
    fill_csv(folder / "bottles.csv", 3, {"gross g": "✓"})
    fill_csv(folder / "used.csv", 2, {"used": "yes"})
    fill_csv(folder / "counts.csv", 3, {"counted": "3 missing"})
    assert [(place.tab, place.column) for place in refused(folder)] == [
        ("bottles", "gross g"),
        ("counts", "counted"),
        ("used", "used"),
    ]
    assert EPOXY in {one.part for one in SHEET.bottles}
    assert read_by_hand("3 bottles", pieces, FULL_ONES).value == 3


@pytest.mark.parametrize("said", ["✓ all", "all ✓", "yes, all", "All.", "ok all"])
def test_a_tick_and_all_are_all(said: str) -> None:
    """Of what was due; of that nobody wrote down how much it is, nothing is guessed."""
    assert read_by_hand(said, pieces, ToFill("How many?", tick="12")).value == 12
    with pytest.raises(BadMeasure):
        read_by_hand(said, pieces, ToFill("How many?"))


@pytest.mark.parametrize(
    ("said", "spoiled"),
    [
        ("turn=2; drill=1", {"turn": 2, "drill": 1}),
        ("2 turning", {"turn": 2}),
        ("1 at the drill and 2 while turning", {"drill": 1, "turn": 2}),
        ("glued 1, trimming: 1", {"glue": 1, "trim": 1}),
    ],
)
def test_what_was_spoiled_where_in_words(said: str, spoiled: dict[str, int]) -> None:
    """The stage before or behind the number, in any of its forms; what was understood is told unless it is ours."""
    told: list[str] = []
    row = ReturnedRow("market.csv", "market", 2, {"what": "made", "part": "Dunlin pen", "spoiled": said}, [])
    line = said_line(row, "made", currency("EUR"), date(2026, 11, 28), {}, told)
    assert (line.spoiled, row.problems) == (spoiled, [])
    assert bool(told) == ("=" not in said)
