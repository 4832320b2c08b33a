"""Sheets that are small to send and huge to read: each has to be refused in bounded time and memory."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterable
from itertools import chain, repeat
from pathlib import Path

from .book_kinds import changed
from .books import MAIN, Book, Parts, letters, pack

HUGE: dict[str, Callable[[Path], Path]] = {}
SHEET = "xl/worksheets/sheet1.xml"
MILLION = 1_000_000


def huge(write: Callable[[Path], Path]) -> Callable[[Path], Path]:
    """Register what writes a sheet into a folder, under its name."""
    HUGE[write.__name__.replace("_", " ")] = write
    return write


def parts(tab: str = "platings", *rows: list[object]) -> Parts:
    """The parts of a small workbook."""
    return Book({tab: rows or [["plating"], ["chrome"]]}).parts()


def streamed(folder: Path, small: Parts, name: str, pieces: Iterable[bytes]) -> Path:
    """The workbook with one part written piece by piece, so that writing it takes no memory either."""
    with zipfile.ZipFile(folder / "shop.xlsx", "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for other, data in small.items():
            if other != name:
                archive.writestr(other, data)
        with archive.open(name, "w", force_zip64=True) as out:
            for piece in pieces:
                out.write(piece)
    return folder / "shop.xlsx"


def rows_of(
    pieces: Iterable[str], tab: str = "platings", heading: str = "plating"
) -> tuple[Parts, Iterable[bytes]]:
    """A workbook and its first tab's XML with these rows under the heading."""
    start = f'<worksheet xmlns="{MAIN}"><sheetData><row><c t="str"><v>{heading}</v></c></row>'
    whole = chain((start,), pieces, ("</sheetData></worksheet>",))
    return parts(tab), (piece.encode() for piece in whole)


def text(folder: Path, name: str, pieces: Iterable[str]) -> Path:
    """A CSV file written piece by piece."""
    with (folder / name).open("w", encoding="utf-8") as file:
        file.writelines(pieces)
    return folder / name


@huge
def a_gigabyte_of_nothing(folder: Path) -> Path:
    """A tab that unfolds to a gigabyte of blanks."""
    return streamed(folder, parts(), SHEET, repeat(b" " * MILLION, 1000))


@huge
def gigabytes_of_texts(folder: Path) -> Path:
    """Shared texts of 200 MB that are packed at a ratio nobody notices."""
    junk = "".join(f"<si><t>{n:x}{n * 2654435761 % 2**32:08x}</t></si>" for n in range(40_000)).encode()
    return streamed(
        folder, parts(), "xl/sharedStrings.xml", (f'<sst xmlns="{MAIN}">'.encode(), *repeat(junk, 150))
    )


@huge
def ten_million_rows_by_number(folder: Path) -> Path:
    """A row whose number says ten million, and a size that says so too."""
    small = changed(parts(), SHEET, "<sheetData>", '<dimension ref="A1:XFD10000000"/><sheetData>')
    return pack(folder / "shop.xlsx", changed(small, SHEET, '<row r="2"', '<row r="10000000"'))


@huge
def ten_million_rows(folder: Path) -> Path:
    """Ten million rows of CSV, each of them there."""
    return text(folder, "platings.csv", ("plating\n", *repeat("chrome\n" * 10_000, 1000)))


@huge
def a_cell_of_a_hundred_megabytes(folder: Path) -> Path:
    """One text without end in a workbook."""
    return streamed(
        folder,
        *_named(('<row><c t="inlineStr"><is><t>', *repeat("x" * MILLION, 100), "</t></is></c></row>")),
    )


@huge
def a_line_of_a_hundred_megabytes(folder: Path) -> Path:
    """One text without end in CSV, in quotes over many lines."""
    return text(folder, "platings.csv", ('plating\n"', *repeat("x\n" * 500_000, 100), '"\n'))


@huge
def numbers_of_four_hundred_digits(folder: Path) -> Path:
    """Fifty thousand of them, each to be told."""
    lines = (f"glue,{'9' * 400}{n}\n" for n in range(50_000))
    return text(folder, "counts.csv", ("part,quantity\n", *lines))


@huge
def a_million_bad_cells(folder: Path) -> Path:
    """Each of another name nobody knows, in a tab where names have to be known."""
    lines = (f"part {n * 2654435761 % 2**32:08x},x{n}\n" for n in range(MILLION))
    return text(folder, "counts.csv", ("part,quantity\n", *lines))


@huge
def names_nearly_known(folder: Path) -> Path:
    """A hundred thousand names, each like two thousand known ones."""
    out = folder / "sheets"
    out.mkdir()
    text(out, "tools.csv", ("part,type\n", *(f"bushings of sort {n:06}x,bushings\n" for n in range(2000))))
    text(out, "counts.csv", ("part,quantity\n", *(f"bushings of sort {n:06}y,1\n" for n in range(100_000))))
    return out


@huge
def a_million_deep(folder: Path) -> Path:
    """Elements inside elements."""
    return streamed(folder, *_named(("<a>" * MILLION, "</a>" * MILLION)))


@huge
def a_billion_laughs(folder: Path) -> Path:
    """Nine entities of ten of the one before."""
    entities = "".join(
        f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefghi", "bcdefghij", strict=True)
    )
    head = f'<!DOCTYPE z [<!ENTITY a "ha">{entities}]>'
    small = changed(parts(), SHEET, "?>\n", f"?>\n{head}")
    return pack(folder / "shop.xlsx", changed(small, SHEET, "</sheetData>", "<c>&j;</c></sheetData>"))


@huge
def every_column_a_sheet_has(folder: Path) -> Path:
    """Three thousand rows of 16,384 cells."""
    cells = "".join(f'<c r="{letters(at)}?"><v>1</v></c>' for at in range(16_384))
    return streamed(
        folder, *_named(f'<row r="{n}">{cells.replace("?", str(n))}</row>' for n in range(2, 3002))
    )


@huge
def far_cells(folder: Path) -> Path:
    """A hundred thousand rows with something in the last column only."""
    return streamed(
        folder, *_named(f'<row r="{n}"><c r="XFD{n}"><v>1</v></c></row>' for n in range(2, 100_002))
    )


@huge
def four_million_texts(folder: Path) -> Path:
    """Shared texts that are all different and never used."""
    starts = range(0, 4 * MILLION, 10_000)
    pieces = ("".join(f"<si><t>{at + n}</t></si>" for n in range(10_000)).encode() for at in starts)
    whole = chain((f'<sst xmlns="{MAIN}">'.encode(),), pieces, (b"</sst>",))
    return streamed(folder, parts(), "xl/sharedStrings.xml", whole)


@huge
def a_thousand_tabs_and_one(folder: Path) -> Path:
    """Each of them with nothing of ours."""
    return pack(folder / "shop.xlsx", Book({f"tab {n}": [["x"]] for n in range(1001)}).parts())


@huge
def a_million_formats(folder: Path) -> Path:
    """Cell formats without end."""
    pieces = repeat(b'<xf numFmtId="14"/>' * 10_000, 100)
    start = f'<styleSheet xmlns="{MAIN}"><cellXfs>'.encode()
    return streamed(folder, parts(), "xl/styles.xml", (start, *pieces, b"</cellXfs></styleSheet>"))


@huge
def a_tag_without_end(folder: Path) -> Path:
    """An attribute of a hundred megabytes."""
    return streamed(folder, *_named(('<row a="', *repeat("x1y2z3" * 100_000, 170), '"/>')))


@huge
def merges_without_end(folder: Path) -> Path:
    """A million merged cells, each over two rows."""
    cells = (f'<mergeCell ref="A{n + 2}:A{n + 3}"/>' for n in range(MILLION))
    return streamed(
        folder, *_named(chain(("</sheetData><mergeCells>",), cells, ("</mergeCells><sheetData>",)))
    )


@huge
def thousands_of_files(folder: Path) -> Path:
    """A folder of five thousand sheets, none of which is right."""
    out = folder / "sheets"
    out.mkdir()
    for n in range(5000):
        (out / f"counts {n}.csv").write_text("part,quantity\nx,1\n")
    return out


def _named(pieces: Iterable[str]) -> tuple[Parts, str, Iterable[bytes]]:
    small, body = rows_of(pieces)
    return small, SHEET, body
