"""Any rows, in any usual dress, say the same: workbook and CSV, encodings, separators, orders of columns and tabs."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Catalogue, Part, Supply, Tube, fold
from inventory.measures import read_drill, read_length
from inventory.sheets import write_csv
from inventory.sheets.writing import Value
from sheets.plain_tables import write_table

from .shop import Rows, Tabs, problems, read, write_csvs, write_xlsx


def _doubtful(text: str) -> bool:
    """Whether a name written in cp1252 is a text in UTF-8 too, a shorter one: nobody can tell which was meant."""
    try:
        return text.encode("cp1252").decode("utf-8") != text
    except UnicodeDecodeError:
        return False


NAMES = (
    st.text(
        st.characters(codec="cp1252", categories=("L", "N", "P", "Sm", "Sc", "Zs")), min_size=1, max_size=20
    )
    .map(lambda text: " ".join(text.split()))
    .filter(lambda text: text and text[0].isalnum() and not _doubtful(text))
)
PARTS = [
    Part("tube", Tube(read_length("6.85 mm"), read_length("53 mm"), read_drill("7 mm"))),
    Part("glue", Supply("adhesive", net=59_000), unit="ml"),
    Part("Émeri n° 1", Supply("abrasive"), unit="sheet"),
]
KNOWN = Catalogue(parts={fold(part.name): part for part in PARTS})
DAYS = st.dates(date(2020, 1, 1), date(2026, 11, 25))
TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=12)  # a text file holds no NUL
HEADINGS: list[object] = ["part", "quantity", "unit cost", "lot", "received on", "use by"]


@st.composite
def _count(draw: st.DrawFn) -> list[object]:
    part = draw(st.sampled_from(PARTS))
    whole = part.unit == "piece"
    quantity = draw(st.integers(0, 10**6)) / (1 if whole else 1000)
    received = draw(st.none() | DAYS)
    use_by = received + timedelta(draw(st.integers(0, 2000))) if received and draw(st.booleans()) else None
    cost = draw(st.none() | st.integers(0, 10**7).map(lambda coins: coins / 10_000))
    return [part.name, quantity, cost, draw(st.none() | NAMES), received, use_by]


def _what(row: list[object]) -> tuple[object, ...]:
    """What tells two rows of one tab apart."""
    return row[0], fold(str(row[3] or "")), row[4], row[5]


@st.composite
def _dressed(draw: st.DrawFn, rows: Rows) -> Rows:
    """The same rows under headings in another order and spelling, with blank rows between."""
    order = draw(st.permutations(range(len(HEADINGS))))
    spellings: list[Callable[[str], str]] = [str, str.upper, str.title, lambda text: text.replace(" ", "_")]
    spell = draw(st.sampled_from(spellings))
    dressed: Rows = [[spell(str(HEADINGS[place])) for place in order]]
    for row in rows:
        dressed += [[None] * len(order)] * draw(st.integers(0, 1))
        dressed.append([row[place] for place in order])
    return dressed


@examples(25, suppress_health_check=[HealthCheck.too_slow])
@given(rows=st.lists(_count(), max_size=12, unique_by=_what), data=st.data())
def test_counts_say_the_same_in_any_dress(rows: Rows, data: st.DataObject) -> None:
    """Workbook and CSV give one Intake; the order of columns, blank rows, encoding and separator say nothing."""
    plain, dressed = [HEADINGS, *rows], data.draw(_dressed(rows))
    encoding = data.draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252"]))
    separator = data.draw(st.sampled_from([",", ";", "\t", "|"]))
    with TemporaryDirectory() as name:
        folder = Path(name)
        workbook = read(write_xlsx(folder / "a.xlsx", {"counts": plain}), known=KNOWN)
        texts = read(
            write_csvs(folder / "b", {"Counts": dressed}, encoding=encoding, separator=separator), known=KNOWN
        )
    assert workbook.counts == texts.counts
    assert workbook.fingerprint == texts.fingerprint
    assert [count.quantity for count in workbook.counts] == [round(float(str(row[1])) * 1000) for row in rows]
    assert [count.received_on for count in workbook.counts] == [row[4] for row in rows]


@examples(25)
@given(
    names=st.lists(
        NAMES | st.text("=+-@'\"#;,/ab", min_size=1, max_size=8), min_size=1, max_size=8, unique_by=fold
    )
)
def test_names_come_back_as_they_went_out(names: list[str]) -> None:
    """Through our own writers, in both kinds of file, names of any make are unchanged."""
    names = [name for name in names if not name.startswith("#")]
    rows = [[name] for name in names]
    with TemporaryDirectory() as name:
        folder = Path(name)
        write_table(folder / "t.xlsx", "platings", ["plating"], rows)
        write_csv(folder / "platings.csv", ["plating"], rows)
        for path in (folder / "t.xlsx", folder / "platings.csv"):
            assert [one.name for one in read(path).catalogue.platings.values()] == names


@examples(35)
@given(data=st.binary(max_size=400), name=st.sampled_from(["counts.csv", "shop.xlsx", "tubes.csv"]))
def test_no_bytes_bring_anything_but_a_sentence(data: bytes, name: str) -> None:
    """Whatever a file holds, it is read or refused with places, never a crash."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        assert all(place.file == name and place.problem for place in problems(path))


@examples(20)
@given(
    cells=st.lists(
        st.lists(
            st.none() | TEXT | st.integers() | st.floats() | st.booleans() | st.dates(),
            max_size=9,
        ),
        max_size=5,
    ),
    tab=st.sampled_from(["tubes", "barrels", "offers", "bills", "counts", "orders", "supplies", "kits"]),
)
def test_no_cells_bring_anything_but_a_sentence(cells: Rows, tab: str) -> None:
    """Any values in any cells of any tab are taken or refused at their place."""
    from inventory.sheets import TABS

    headings: list[object] = [*(column.heading for column in TABS[tab].columns[:9])]
    tabs: Tabs = {tab: [headings, *cells]}
    with TemporaryDirectory() as folder:
        for place in problems(write_csvs(Path(folder) / "x", tabs), known=KNOWN):
            assert place.tab == tab
            assert place.problem


@pytest.mark.outside
def test_a_data_library_reads_what_we_write(tmp_path: Path) -> None:
    """pandas, an independent reader, sees the same cells in our workbook and our CSV."""
    import pandas as pd

    rows: list[list[Value]] = [["Dunlin kit", 12, 4.5], ["=not a formula", 0, 0.125]]
    write_table(tmp_path / "t.xlsx", "t", ["part", "quantity", "cost"], rows)
    write_csv(tmp_path / "t.csv", ["part", "quantity", "cost"], rows)
    assert pd.read_excel(tmp_path / "t.xlsx").to_numpy().tolist() == rows
    assert pd.read_csv(tmp_path / "t.csv").to_numpy().tolist() == [rows[0], ["'=not a formula", 0, 0.125]]


@pytest.mark.soak  # starts a spreadsheet program
def test_a_workbook_saved_by_another_program(tmp_path: Path) -> None:
    """What a free office program saves from our CSV reads as the CSV does; skipped where there is none."""
    import shutil
    import subprocess

    office = shutil.which("soffice")
    if office is None:
        pytest.skip("no office program on this machine")
    folder = write_csvs(
        tmp_path / "c", {"counts": [HEADINGS, ["glue", 12.5, 0.2, "März", "2026-03-01", None]]}
    )
    command = [
        office,
        f"-env:UserInstallation={(tmp_path / 'office').as_uri()}",  # its own, as tests run side by side
        "--headless",
        "--infilter=CSV:44,34,76",  # commas, double quotes, UTF-8
        "--convert-to",
        "xlsx",
        "--outdir",
        str(tmp_path),
        str(folder / "counts.csv"),
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    assert read(tmp_path / "counts.xlsx", known=KNOWN).counts == read(folder, known=KNOWN).counts
