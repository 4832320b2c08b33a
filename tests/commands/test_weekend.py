"""From plan to Sunday night on the command line: sheet, filling, booking, what follows."""

from __future__ import annotations

import csv
import shutil
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from sheets.on_pages import columns

from .conftest import Kitdrawer, after

SATURDAY = "2026-11-28"
PEN = {"pattern": "Dunlin pen", "plating": "black titanium", "blank": "walnut blank"}
Fill = Mapping[str, Mapping[str, str]]


@pytest.fixture(scope="session")
def once_planned(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's store with two orders promised and planned for Saturday; beside it their sheet, in both forms."""

    def plan(call: Kitdrawer, folder: Path) -> None:
        for order in ("S41", "S42"):
            assert call("promise", order, "--yes").code in (0, 3)
        assert call("plan", "--on", SATURDAY, "--yes").code in (0, 3)
        for name in ("saturday", "saturday.xlsx"):
            assert call("weekend", "sheet", "--save", str(folder / name)).code == 0

    return after(loaded, tmp_path_factory.mktemp("planned"), plan)


@pytest.fixture
def planned(once_planned: Path, store: Path) -> Path:
    """A copy of that store, known to every command of this test."""
    return Path(shutil.copy(once_planned, store))


@pytest.fixture
def sheet(once_planned: Path, planned: Path) -> Path:
    """Their sheet as a folder of CSV files."""
    return Path(shutil.copytree(once_planned.parent / "saturday", planned.parent / "saturday"))


def read(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def write(path: Path, rows: list[dict[str, str]]) -> None:
    """Rows into it."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)


def fill(folder: Path, pieces: Fill, *more: Mapping[str, str], backwards: bool = False) -> None:
    """Fill the pieces by order, add rows, and turn the order of rows round."""
    rows = read(folder / "pieces.csv")
    for row in rows:
        row.update(pieces.get(row["order"], {}))
    empty = dict.fromkeys(rows[0], "")
    rows += [{**empty, **one} for one in more]
    write(folder / "pieces.csv", rows[::-1] if backwards else rows)


def measure(folder: Path, tab: str, part: str, column: str, said: str) -> None:
    """Fill one cell of another tab."""
    rows = read(folder / f"{tab}.csv")
    assert part in [row["part"] for row in rows]
    for row in rows:
        if row["part"] == part:
            row[column] = said
    write(folder / f"{tab}.csv", rows)


def refused(answer: Any) -> Any:
    """The error of a refused command."""
    assert answer.code == 1
    return answer.json["error"]


def on_hand(kitdrawer: Kitdrawer, part: str) -> float:
    """Units by the book."""
    parts = kitdrawer("shelf", "--text", part, "--json").json["parts"]
    return float(next(one["on_hand"] for one in parts if one["part"] == part))


def test_a_whole_weekend(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Booked, verified, finished pieces claimed and handed over, taken back in turn."""
    fill(
        sheet,
        {"S41": {"good": "2", "spoiled at turn": "1"}, "S42": {"good": "4", "spoiled at finish": "1"}},
        backwards=True,
    )
    report = sheet.parent / "report.xlsx"
    answer = kitdrawer("weekend", "book", str(sheet), "--save", str(report), "--yes")
    assert answer.code == 0
    assert "Sat 28 Nov 2026: 6 good" in " ".join(answer.out.split())
    assert "S42: 5 of 7 planned pieces were started" in " ".join(answer.out.split())
    assert load_workbook(report).sheetnames
    stands = {one["order"]: one["stands"] for one in kitdrawer("orders", "--json").json["orders"]}
    assert stands["S41"] == "finished: hand it over"
    assert stands["S42"].startswith("4 of 6 finished, ")
    assert kitdrawer("can-take", "--order", "S42", "--json").json["starts"] < 6
    assert "of 2 good; 4 are finished" in kitdrawer("can-take", "--order", "S42").out
    over = kitdrawer("handed-over", "S41", "--yes")
    assert "Godwit seam ripper, of Godwit kit chrome, red deer antler" in over.out
    assert "tube ripper" not in over.out
    assert kitdrawer("verify").code == 0
    for _ in range(2):
        assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    assert kitdrawer("weekend", "book", str(sheet), "--yes").code == 0


def test_the_fields_programs_rely_on(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Exact figures under the promised names; nothing is booked without --yes."""
    fill(
        sheet,
        {
            "S41": {"good": "2", "spoiled at assemble": "1", "kits salvaged in part": "1"},
            "S42": {"good": "6"},
        },
    )
    measure(sheet, "bottles", "epoxy 5-minute", "after g", "50")
    measure(sheet, "used", "towel pad", "used", "40")
    told = kitdrawer("weekend", "book", str(sheet), "--json").json
    assert told["document"] is None
    assert {"drawn", "lost", "saved", "differences", "rates", "losses"} <= set(told)
    drawn = {one["part"]: one for one in told["drawn"]}
    assert (drawn["Godwit kit chrome"]["quantity"], float(drawn["Godwit kit chrome"]["cost"])) == (3, 14.4)
    assert [(one["stage"], one["pieces"]) for one in told["lost"]] == [("assemble", 1)]
    assert told["saved"] == [{"part": "Godwit kit chrome in part", "quantity": 1}]
    assert sum(one["cost"] for one in told["made"]) + told["lost"][0]["cost"] <= sum(
        one["cost"] for one in told["drawn"]
    )
    (glue,) = [one for one in told["differences"] if one["part"] == "epoxy 5-minute"]
    assert set(glue) == {"part", "expected", "counted", "difference", "likely", "learned", "before"}
    assert float(glue["counted"]) == pytest.approx((50 - 21) / 1.16, abs=0.001)
    assert glue["difference"] == glue["counted"] - glue["expected"]
    assert glue["likely"]
    assert {"material", "stage", "before", "after"} == set(told["losses"][0])
    assert any(one["part"] == "epoxy 5-minute" and one["after"] > one["before"] for one in told["rates"])
    assert kitdrawer("weekend", "book", str(sheet), "--json", "--yes").json["document"] == 5
    assert on_hand(kitdrawer, "epoxy 5-minute") == float(glue["counted"])


def test_pieces_nobody_planned(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Pattern, plating and blank say what they were made from; the stall has them and a new request finds them."""
    kits = on_hand(kitdrawer, "Dunlin kit black titanium")
    fill(sheet, {"S41": {"good": "2"}}, {**PEN, "good": "2", "spoiled at drill": "1"})
    answer = kitdrawer("weekend", "book", str(sheet), "--yes")
    assert answer.code == 0
    assert "not planned; taken as written" in " ".join(answer.out.split())
    assert "S42: nothing written, taken as not made." in " ".join(answer.out.split())
    assert kits - on_hand(kitdrawer, "Dunlin kit black titanium") == 2
    request = [
        "can-take",
        "Dunlin pen",
        "--plating",
        "black titanium",
        "--blank",
        "walnut blank",
        "--by",
        "2026-12-20",
    ]
    told = kitdrawer(*request, "--count", "2", "--json").json
    assert (told["verdict"], told["starts"]) == ("from the shelf", 0)


@pytest.mark.parametrize(
    ("tab", "part", "column", "said", "problem"),
    [
        ("bottles", "epoxy 5-minute", "after g", "20", "less than the empty bottle"),
        ("bottles", "epoxy 5-minute", "after g", "2000", "a full one holds"),
        ("used", "towel pad", "used", "-3", ""),
        ("used", "towel pad", "used", "many", ""),
    ],
)
def test_measurements_that_cannot_be(
    kitdrawer: Kitdrawer, sheet: Path, tab: str, part: str, column: str, said: str, problem: str
) -> None:
    """Refused with file, row and column; nothing is booked."""
    fill(sheet, {"S41": {"good": "2"}})
    measure(sheet, tab, part, column, said)
    place = refused(kitdrawer("weekend", "book", str(sheet), "--yes", "--json"))["where"][0]
    assert (place["file"], place["column"]) == (f"saturday/{tab}.csv", column)
    assert place["row"] > 1
    assert problem in place["problem"]
    assert on_hand(kitdrawer, "Godwit kit chrome") == 8


@pytest.mark.parametrize(
    ("cells", "column", "problem"),
    [
        ({"good": "1", "spoiled at turn": "x"}, "spoiled at turn", ""),
        ({"good": "-1"}, "good", ""),
        ({"good": "1.5"}, "good", ""),
        ({"good": "1", "kits salvaged": "1"}, "kits salvaged", "only 0 spoiled"),
    ],
)
def test_pieces_that_cannot_be(
    kitdrawer: Kitdrawer, sheet: Path, cells: Mapping[str, str], column: str, problem: str
) -> None:
    """Words, minus, halves, more saved than lost: refused with their place."""
    fill(sheet, {"S41": cells})
    place = refused(kitdrawer("weekend", "book", str(sheet), "--yes", "--json"))["where"][0]
    assert (place["column"], problem in place["problem"]) == (column, True)


def test_a_stage_the_pattern_has_not(kitdrawer: Kitdrawer, planned: Path) -> None:
    """A stopper has no tube, so none is lost at glue."""
    blank = "walnut blank"
    folder = planned.parent / "saturday"
    answer = kitdrawer("weekend", "sheet", "--save", str(folder))
    assert answer.code == 0
    assert "2 rows of pieces" in answer.out
    row = {
        "pattern": "Redshank stopper",
        "plating": "chrome",
        "blank": blank,
        "good": "0",
        "spoiled at glue": "1",
    }
    fill(folder, {"S41": {"good": "2"}}, row)
    (place,) = refused(kitdrawer("weekend", "book", str(folder), "--yes", "--json"))["where"]
    assert (place["column"], place["row"]) == ("spoiled at glue", 4)
    assert "Redshank stopper has no such stage" in place["problem"]


def test_sheets_of_other_books_and_plans(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Another store's mark, an older plan, the same sheet twice: refused, each in its own words."""
    fill(sheet, {"S41": {"good": "2"}, "S42": {"good": "6"}})
    mark = read(sheet / "pieces.csv")[0]["sheet of"].split()[0]
    other = shutil.copytree(sheet, sheet.parent / "other")
    for file in other.iterdir():
        file.write_text(file.read_text(encoding="utf-8").replace(mark, "0" * 12), encoding="utf-8")
    assert "another book" in refused(kitdrawer("weekend", "book", str(other), "--yes", "--json"))["message"]
    assert kitdrawer("plan", "--on", SATURDAY, "--anew", "--yes").code in (0, 3)
    error = refused(kitdrawer("weekend", "book", str(sheet), "--yes", "--json"))
    assert ("older plan" in error["message"], "2026-11-28 a" in error["hint"]) == (True, True)
    newer = sheet.parent / "newer"
    assert kitdrawer("weekend", "sheet", "--save", str(newer)).code == 0
    fill(newer, {"S41": {"good": "2"}})
    assert kitdrawer("weekend", "book", str(newer), "--yes").code == 0
    twice = refused(kitdrawer("weekend", "book", str(newer), "--yes", "--json"))
    assert (twice["kind"], "already booked" in twice["message"]) == ("already booked", True)
    assert kitdrawer("weekend", "sheet", "--save", str(newer), "--overwrite").code == 1


def test_more_than_planned_is_announced(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """It is booked all the same."""
    fill(sheet, {"S41": {"good": "4"}})
    answer = kitdrawer("weekend", "book", str(sheet), "--json", "--yes")
    assert answer.code == 0
    assert "S41: 4 were started, 3 planned." in answer.json["announced"]
    assert kitdrawer("verify").code == 0


def test_no_at_the_terminal_and_nobody_there(
    kitdrawer: Kitdrawer, sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a yes nothing is booked."""
    fill(sheet, {"S41": {"good": "2"}})
    assert kitdrawer("weekend", "book", str(sheet)).code == 1
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    answer = kitdrawer("weekend", "book", str(sheet))
    assert (answer.code, answer.out.splitlines()[-1]) == (0, "Nothing was booked.")
    assert on_hand(kitdrawer, "Godwit kit chrome") == 8


def test_pieces_alone_need_the_session(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """A list that no longer says whose it is: the only planned session, or the one named."""
    fill(sheet, {"S41": {"good": "2"}})
    rows = [
        {key: said for key, said in row.items() if key != "sheet of"} for row in read(sheet / "pieces.csv")
    ]
    alone = sheet.parent / "pieces.csv"
    write(alone, rows)
    assert kitdrawer("weekend", "book", str(alone), "--session", "nowhen", "--yes").code == 1
    assert kitdrawer("weekend", "book", str(alone), "--session", SATURDAY, "--yes").code == 0


# --- workbooks ------------------------------------------------------------------------------------------------------


@pytest.fixture
def workbook(once_planned: Path, planned: Path) -> Path:
    """The sheet as a workbook."""
    return Path(shutil.copy(once_planned.parent / "saturday.xlsx", planned.parent))


def changed(path: Path, change: Callable[[Any, int, Mapping[str, int]], None]) -> None:
    """Change the pieces: `change` gets their page, the first of their rows, and its columns by what they stand for."""
    book = load_workbook(path)
    tab, row, at = next(columns(book, "pieces"))
    change(tab, row + 1, at)
    book.save(path)


def test_numbers_as_text_are_taken(kitdrawer: Kitdrawer, workbook: Path) -> None:
    """A 2 typed as text is a 2."""

    def change(tab: Any, row: int, at: Mapping[str, int]) -> None:
        tab.cell(row, at["good"]).value = "2"
        tab.cell(row + 1, at["good"]).value = " 6 "

    changed(workbook, change)
    told = kitdrawer("weekend", "book", str(workbook), "--json").json
    assert [one["good"] for one in told["made"]] == [2, 6]


def test_a_formula_without_a_result_is_refused(kitdrawer: Kitdrawer, workbook: Path) -> None:
    """With its place: what it stands for nobody knows."""
    changed(workbook, lambda tab, row, at: setattr(tab.cell(row, at["good"]), "value", "=1+1"))
    (place,) = refused(kitdrawer("weekend", "book", str(workbook), "--yes", "--json"))["where"]
    assert (place["tab"], place["column"]) == ("make", "good")
    assert "formula" in place["problem"]


def test_merged_cells_never_book_by_accident(kitdrawer: Kitdrawer, workbook: Path) -> None:
    """One 2 across two rows is refused with its place, or taken for its first row alone."""

    def change(tab: Any, row: int, at: Mapping[str, int]) -> None:
        tab.cell(row, at["good"]).value = 2
        letter = tab.cell(row, at["good"]).column_letter
        tab.merge_cells(f"{letter}{row}:{letter}{row + 1}")

    changed(workbook, change)
    answer = kitdrawer("weekend", "book", str(workbook), "--json")
    if answer.code:
        assert answer.json["error"]["where"][0]["column"] == "good"
    else:
        assert [one["good"] for one in answer.json["made"]] == [2]


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.skipif(shutil.which("soffice") is None, reason="no office program is installed")
def test_saved_again_by_another_program(kitdrawer: Kitdrawer, workbook: Path, tmp_path: Path) -> None:
    """Filled, opened and saved by an office program: the same is booked."""

    def change(tab: Any, row: int, at: Mapping[str, int]) -> None:
        tab.cell(row, at["good"]).value = 2
        tab.cell(row, at["spoiled at turn"]).value = 1
        tab.cell(row + 1, at["good"]).value = 6

    changed(workbook, change)
    plain = kitdrawer("weekend", "book", str(workbook), "--json").json
    out = tmp_path / "again"
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(out), str(workbook)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    again = kitdrawer("weekend", "book", str(out / workbook.name), "--json")
    assert again.code == 0
    for field in ("made", "drawn", "lost", "saved", "short"):
        assert again.json[field] == plain[field]


@pytest.mark.parametrize(
    ("name", "said"), [("there.xlsx", "there already"), ("there.txt", "no name for a workbook")]
)
def test_a_report_that_cannot_be_put_there_is_said_before_booking(
    kitdrawer: Kitdrawer, sheet: Path, tmp_path: Path, name: str, said: str
) -> None:
    """Nothing is booked, and the file stays as it is; --overwrite takes its place."""
    report = tmp_path / name
    report.write_text("mine", encoding="utf-8")
    fill(sheet, {"S41": {"good": "2"}})
    words = ("weekend", "book", str(sheet), "--save", str(report), "--yes")
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert said in answer.err
    assert report.read_text(encoding="utf-8") == "mine"
    if name.endswith(".xlsx"):
        answer = kitdrawer(*words, "--overwrite")
        assert "Booked (entry " in answer.out
        assert report.read_bytes().startswith(b"PK")
