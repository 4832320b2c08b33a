"""Files as people's programs write them: encodings, separators, headings, folders, hidden tabs."""

from __future__ import annotations

import codecs
import os
from fractions import Fraction
from pathlib import Path

import pytest

from inventory.sheets import csv
from inventory.sheets.stock import tables

from .shop import Rows, Tabs, problems, read, shop, write_csvs, write_xlsx

COUNTS = "part,quantity,unit cost\nolive blank,8,1.5\n"


def _known_shop(folder: Path) -> Path:
    tabs = shop()
    del tabs["counts"], tabs["orders"]
    return write_xlsx(folder / "known.xlsx", tabs)


def _counts(folder: Path, data: bytes, name: str = "counts.csv") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252"]
)
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"], ids=["comma", "semicolon", "tab", "bar"])
def test_any_usual_encoding_and_separator(tmp_path: Path, encoding: str, separator: str) -> None:
    """The same rows come out, and only a guessed encoding is remarked on."""
    tabs = shop()
    tabs["suppliers"][1][-1] = "geöffnet à midi – 5 €"
    one = read(write_csvs(tmp_path / "one", tabs, encoding=encoding, separator=separator))
    assert one.catalogue.suppliers["saltmarsh turning"].note == "geöffnet à midi – 5 €"
    assert one.counts == read(write_xlsx(tmp_path / "shop.xlsx", tabs)).counts
    assert bool(one.notes) is (encoding == "cp1252")


@pytest.mark.parametrize(
    "text",
    [
        COUNTS,
        COUNTS.replace("\n", "\r\n"),
        COUNTS.replace("\n", "\r"),
        COUNTS.rstrip("\n"),
        "\n\n" + COUNTS.replace("\n", "\n,,\n\n"),
        "sep=,\n" + COUNTS,
        "sep=;\r\n" + COUNTS.replace(",", ";"),
        "Part , QUANTITY,Unit_Cost\n olive  blank ,8.0,\u00a01.50 \n",
        "unit-cost;quantity;part\n1,5;8,0;Olive Blank\n",
        '"part","quantity","unit cost"\n"olive blank","8","1.5"\n',
        "part,quantity,unit cost,\nolive blank,8,1.5,\n",
    ],
    ids=[
        *(
            "plain",
            "windows",
            "old-mac",
            "no-last-break",
            "blank-rows",
            "sep-line",
            "sep-semicolon",
            "loose-spacing",
        ),
        *("decimal-commas", "all-quoted", "trailing-separator"),
    ],
)
def test_messy_text_says_the_same(tmp_path: Path, text: str) -> None:
    """Line ends, blank rows, spacing, quotes, order of columns and decimal commas make no difference."""
    known = read(_known_shop(tmp_path)).catalogue
    intake = read(_counts(tmp_path, text.encode()), known=known)
    assert [(count.part, count.quantity, count.unit_cost) for count in intake.counts] == [
        ("olive blank", 8000, Fraction(150))
    ]
    assert intake.fingerprint == read(_counts(tmp_path, COUNTS.encode()), known=known).fingerprint


@pytest.mark.outside
@pytest.mark.parametrize(
    ("cell", "resolved"),
    [
        ('"aaa"', "aaa"),
        ('"b""bb"', 'b"bb'),
        ('"a,a"', "a,a"),
        ('"b\r\nbb"', "b bb"),
    ],
    ids=["quoted", "doubled-quote", "comma-inside", "line-break-inside"],
)
def test_quoting_of_rfc_4180(tmp_path: Path, cell: str, resolved: str) -> None:
    """RFC 4180, section 2, rules 5 to 7 (from memory): quoted fields, line breaks and commas inside, doubled quotes."""
    known = read(_known_shop(tmp_path)).catalogue
    text = f"part,lot,quantity\r\nolive blank,{cell},8\r\n"
    assert [count.lot for count in read(_counts(tmp_path, text.encode()), known=known).counts] == [resolved]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"part,quantity\nolive \x81blank,3\n", "neither UTF-8"),
        (b"\xef\xbb\xbfpart,quantity\nolive \xffblank,3\n", "neither UTF-8"),
        (b"part,quantity\n" + b"a\0bcdefghijk" * 40, "not a text file"),
        (b"PK\x03\x04 and so on", "It is a workbook, not a CSV file"),
        (b'part,quantity\n"olive blank,3\n', "cannot be taken apart"),
        (b'part,quantity\n"olive" blank,3\n', "cannot be taken apart"),
        (b"part,quantity,part\nolive blank,3,x\n", "two columns called"),
        (b"part\nolive blank\n", "column “quantity” is missing"),
        (b"part,quantitty\nolive blank,3\n", "Did you mean “quantity”"),
    ],
    ids=[
        *(
            "empty",
            "no-encoding",
            "broken-utf8",
            "binary",
            "workbook",
            "open-quote",
            "stray-quote",
            "twice",
            "missing",
        ),
        "misspelt",
    ],
)
def test_text_that_cannot_be_read_is_refused(tmp_path: Path, data: bytes, words: str) -> None:
    """Each with a sentence, and its file."""
    found = problems(_counts(tmp_path, data))
    assert [place.file for place in found] == ["counts.csv"]
    assert words in found[0].problem


def test_the_row_of_an_open_quote_is_named(tmp_path: Path) -> None:
    """Rows count as the person sees them, the heading being row 1."""
    found = problems(_counts(tmp_path, b'part,quantity\nolive blank,3\nolive blank,4\n"olive" blank,3\n'))
    assert [place.row for place in found if "apart" in place.problem] == [4]


def test_strange_columns_and_tabs_are_left_alone_with_a_note(tmp_path: Path) -> None:
    """Each is named, with the one it may have meant."""
    tabs = shop(ordrs=[["anything"]], thoughts=[["anything"]])
    tabs["counts"][0].append("received onn")
    tabs["kits"][0].append("weather")
    tabs["kits"][1] += ["fine", "surplus"]
    notes = read(write_xlsx(tmp_path / "shop.xlsx", tabs)).notes
    assert any("“ordrs”" in note and "Did you mean “orders”" in note for note in notes)
    assert any("“thoughts”" in note and "mean" not in note for note in notes)
    assert any("“received onn”" in note and "did you mean “received on”" in note for note in notes)
    assert any("“weather” is not one of kits and was left alone." in note for note in notes)
    assert any("shop.xlsx, kits, row 2: cells to the right" in note for note in notes)


def test_no_tab_of_ours_is_refused(tmp_path: Path) -> None:
    """A file without any known tab is a mistake, not an empty load."""
    found = problems(write_xlsx(tmp_path / "other.xlsx", {"Sheet1": [["part", "quantity"]]}))
    assert "None of its tabs is one of suppliers" in found[0].problem


def test_blank_cells_beyond_the_headings_are_nothing(tmp_path: Path) -> None:
    """Spaces to the right are not worth a note, and blank rows before the headings neither."""
    tabs: Tabs = {"platings": [[" "], ["plating"], ["chrome", " "], ["rhodium", None, ""]]}
    intake = read(write_xlsx(tmp_path / "p.xlsx", tabs))
    assert (len(intake.catalogue.platings), intake.notes) == (2, ())


def test_an_empty_tab_is_noted(tmp_path: Path) -> None:
    """Nothing at all in a tab is said, headings alone are not."""
    intake = read(write_xlsx(tmp_path / "shop.xlsx", {"counts": [], "platings": [["plating"]]}))
    assert intake.notes == ("shop.xlsx, counts: the tab is empty.",)
    assert intake.fingerprint == ""


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("stock.xls", ".xls files are not read"),
        ("stock.ods", ".ods files are not read"),
        ("stock.pdf", "Only .xlsx and .xlsm workbooks"),
        ("nowhere.xlsx", "no such file"),
    ],
)
def test_other_files_are_refused(tmp_path: Path, name: str, words: str) -> None:
    """What is not read is said, with what is."""
    if "nowhere" not in name:
        (tmp_path / name).write_bytes(b"something")
    assert [(place.file, words in place.problem) for place in problems(tmp_path / name)] == [(name, True)]


def test_a_folder_of_everything(tmp_path: Path) -> None:
    """Workbooks and CSV together, lock files no sheets but told, foreign ones noted, a file given twice read once."""
    folder = tmp_path / "stock"
    tabs = shop()
    counts = {"counts": tabs.pop("counts")}
    write_csvs(folder, counts)
    write_xlsx(folder / "rest.xlsx", tabs)
    for name in ("~$rest.xlsx", ".~lock.rest.xlsx#", "old.xls", "photo.jpg"):
        (folder / name).write_bytes(b"x")
    (folder / "inner.csv").mkdir()
    intake = read(folder, folder / "counts.csv")
    assert len(intake.counts) == 5
    assert intake.notes == (
        "stock/old.xls was left alone: only .xlsx, .xlsm and .csv files are read.",
        "stock/rest.xlsx is open in another program: what is not saved there is not read.",
    )


def test_an_empty_folder_is_refused(tmp_path: Path) -> None:
    """With a sentence, not with an empty load."""
    assert "no workbook and no CSV file" in problems(tmp_path)[0].problem


def test_the_bom_of_utf16_is_believed(tmp_path: Path) -> None:
    """Either order of bytes."""
    known = read(_known_shop(tmp_path)).catalogue
    for mark, encoding in ((codecs.BOM_UTF16_BE, "utf-16-be"), (codecs.BOM_UTF16_LE, "utf-16-le")):
        path = _counts(tmp_path, mark + COUNTS.encode(encoding))
        assert len(read(path, known=known).counts) == 1


def test_progress_is_told(tmp_path: Path) -> None:
    """Rows so far and rows expected, rising to the end."""
    from inventory.catalogue import Catalogue
    from inventory.sheets import read_sheets

    from .shop import EUR, TODAY

    rows = [["plating"], *([f"plating {number}"] for number in range(1500))]
    path = write_csvs(tmp_path / "many", {"platings": rows})
    told: list[tuple[int, int]] = []
    read_sheets(
        [path], Catalogue(), {}, EUR, today=TODAY, progress=lambda done, all_: told.append((done, all_))
    )
    assert told == sorted(told)
    assert told[-1] == (1501, 1501)
    assert len(told) == 4


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX")
def test_a_pipe_is_no_file(tmp_path: Path) -> None:
    """It would be waited on for ever."""
    os.mkfifo(tmp_path / "counts.csv")
    assert "not a file" in problems(tmp_path / "counts.csv")[0].problem


def test_a_file_the_system_will_not_give_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the system's own reason; root may read anything, so the refusal is made here."""

    def refuse(_path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    path = _counts(tmp_path, COUNTS.encode())
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert problems(path)[0].problem == "It cannot be read: Permission denied."


def test_a_text_of_no_honest_size_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is read."""
    monkeypatch.setattr(csv, "MOST_BYTES", 10)
    assert "larger than" in problems(_counts(tmp_path, COUNTS.encode()))[0].problem


def test_a_column_of_ever_new_cells_is_read_in_bounded_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was seen is forgotten from time to time; what is read stays the same."""
    monkeypatch.setattr(tables, "_MOST_SEEN", 3)
    rows: Rows = [["plating"]]
    rows += [[f"plating {number}"] for number in range(20)]
    assert len(read(write_csvs(tmp_path / "p", {"platings": rows})).catalogue.platings) == 20


def test_what_belongs_to_a_bad_row_is_not_blamed(tmp_path: Path) -> None:
    """Barrels and bills of an owner whose own row is bad bring no problems of their own."""
    tabs = shop()
    tabs["families"][1][1] = None
    tabs["patterns"][1][2] = "soon"
    found = problems(write_csvs(tmp_path / "s", tabs))
    assert [(place.tab, place.column) for place in found] == [("families", "makes"), ("patterns", "minutes")]
