"""`labels`: what stands on them, where on the paper, and codes that another reader reads."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import html5lib
import numpy as np
import pytest
import zxingcpp

from inventory.measures.codes import part_code
from inventory.measures.labels import PAPERS, label_sheets, read_label_sheet
from inventory.pages.labels import qr_path

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
DOTS = 6
"""Dots a module is drawn with."""


def drawn(side: int, path: str) -> Any:
    """The square as a picture: dark rectangles on white, as the path says."""
    picture = np.full((side * DOTS, side * DOTS), 255, dtype=np.uint8)
    for x, y, wide in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path):
        left, top = int(x) * DOTS, int(y) * DOTS
        picture[top : top + DOTS, left : left + int(wide) * DOTS] = 0
    return picture


def saved(kitdrawer: Kitdrawer, path: Path, *words: str) -> tuple[str, Any]:
    """The page, and what was told of it."""
    answer = kitdrawer("labels", "--save", str(path), *words, "--json")
    assert answer.code == 0, answer.err
    return path.read_text(encoding="utf-8"), answer.json


@pytest.mark.outside
@pytest.mark.parametrize("number", [1, 42, 134, 999_999_999])
def test_another_reader_reads_the_codes(number: int) -> None:
    """By zxing-cpp, written by others: the very code, in capitals, within the smallest square with its white."""
    code = part_code(number)
    side, path = qr_path(code)
    (found,) = zxingcpp.read_barcodes(drawn(side, path))
    assert (found.text, found.format) == (code.upper(), zxingcpp.BarcodeFormat.QRCode)
    assert side == 21 + 2 * 4


@pytest.mark.outside
def test_every_code_on_a_sheet_is_read_and_is_taken(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Each square decodes to the code beside it, and `shelf` finds that part by it; html5lib finds no fault."""
    text, told = saved(kitdrawer, tmp_path / "kits.html", "--kind", "kits")
    html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    squares = re.findall(r'viewBox="0 0 (\d+) \1".*?aria-label="Code (\S+)".*?d="([^"]+)"', text)
    assert len(squares) == len(told["labels"]) > 10
    for side, code, path in squares:
        (found,) = zxingcpp.read_barcodes(drawn(int(side), path))
        assert found.text == code
    one = told["labels"][3]
    assert kitdrawer("shelf", one["code"], "--json").json["parts"][0]["part"] == one["part"]


@pytest.mark.parametrize("sheet", label_sheets(), ids=lambda one: f"{one.paper} {one.size}")
def test_labels_lie_on_the_paper_side_by_side(sheet: Any) -> None:
    """None over the edge, none over another; margins on both sides alike, as sheets are cut."""
    wide, high = PAPERS[sheet.paper]
    places = [sheet.place(number) for number in range(sheet.each)]
    assert len(set(places)) == sheet.each
    left, top = places[-1]
    assert abs(left + sheet.width + sheet.left - wide) <= 2
    assert abs(top + sheet.height + sheet.top - high) <= 3
    assert min(sheet.across, sheet.down) >= 0


def test_a_half_used_sheet_goes_on_where_it_is(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The first label at its place, in millimetres; those that do not fit go on to the next sheet."""
    text, told = saved(kitdrawer, tmp_path / "a.html", "--kind", "kits", "--first", "20")
    first, second, third = told["labels"][:3]
    assert (first["left"], first["top"]) == (Decimal("73.25"), Decimal("243.75"))
    assert (second["left"], third["sheet"], third["top"]) == (Decimal("139.25"), 2, Decimal("15.15"))
    assert "left:73.25mm;top:243.75mm" in text
    assert "A sheet has 21 labels, not 22" in kitdrawer("labels", "--first", "22").err


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ("1x1", "no sheet of labels"),
        ("3x7, 70x40, 0+0", "280 mm high together"),
        ("4x7, 63.5x38.1, 7+15", "261 mm wide together"),
        ("3x7, 5x5, 0+0", "at least 10 mm"),
        ("0x7, 50x20, 0+0", "at least one"),
    ],
)
def test_measures_that_cannot_be_are_refused(kitdrawer: Kitdrawer, said: str, wrong: str) -> None:
    """With what is wrong of them, and what is accepted."""
    if wrong == "280 mm high together":
        assert read_label_sheet(said).rows == 7  # 280 of 297 mm
        return
    answer = kitdrawer("labels", "--sheet", said)
    assert answer.code == 1
    assert wrong in " ".join(answer.err.split())


def test_own_measures_are_taken(kitdrawer: Kitdrawer) -> None:
    """With a comma and blanks as people put them, on letter paper too."""
    told = kitdrawer(
        "labels", "--kind", "kits", "--sheet", "2 x 5, 90 x 50 mm, 10 + 12, 5 x 1, letter", "--json"
    ).json
    assert (told["paper"], told["label"]) == ("letter", {"width": 90, "height": 50})
    assert (told["labels"][3]["left"], told["labels"][3]["top"]) == (105, 63)


def test_bottles_say_their_days_and_their_dangers(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Opened on, best before, the official statements; the data sheet governs; a sealed one has a line to write on."""
    _, told = saved(kitdrawer, tmp_path / "bottles.html", "--of", "bottles")
    opened = [
        one for one in told["labels"] if one["lines"][0].startswith("opened ") and "_" not in one["lines"][0]
    ]
    sealed = [one for one in told["labels"] if "____" in one["lines"][0]]
    assert opened
    assert sealed
    thin = next(one for one in opened if one["part"] == "CA thin")
    assert "OUT OF DATE since Mon 31 Aug 2026" in thin["lines"]
    assert "H315 Causes skin irritation." in thin["small"]
    assert all(one["small"].endswith("The safety data sheet governs.") for one in told["labels"])


@pytest.mark.usefixtures("booked")
def test_pieces_say_their_care_and_price(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """One for each that is there, at what such a piece was sold for last; --care says it otherwise."""
    _, told = saved(kitdrawer, tmp_path / "a.html", "--of", "pieces")
    (one,) = told["labels"]
    assert (one["part"], one["lines"], one["price"]) == ("Avocet pen", ["chrome, olivewood"], None)
    assert "soft dry cloth" in one["small"]
    kitdrawer("sold", "Avocet pen chrome", "1", "--price", "38", "--yes")
    made = ("made", "Avocet pen", "--plating", "chrome", "--blank", "olivewood", "--count", "2", "--yes")
    assert kitdrawer(*made).code in (0, 3)
    text, told = saved(kitdrawer, tmp_path / "b.html", "--of", "pieces", "--care", "Oil it <once> a year.")
    assert [one["price"] for one in told["labels"]] == ["38.00 EUR"] * 2
    assert "Oil it &lt;once&gt; a year." in text


def test_what_there_is_none_of_is_told(kitdrawer: Kitdrawer) -> None:
    """No pieces, no such kind, no such page; without --save it says what it would take."""
    assert "There are no pieces to label." in kitdrawer("labels", "--of", "pieces").err
    assert "Say one of drawers, bottles, pieces." in kitdrawer("labels", "--of", "boxes").err
    assert "Let it end in .html." in kitdrawer("labels", "--save", "labels.pdf").err
    assert (
        kitdrawer("labels", "--kind", "kits").out.splitlines()[0].startswith("27 labels on 2 sheets of 3 × 7")
    )
