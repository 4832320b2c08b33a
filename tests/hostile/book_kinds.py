"""Workbooks that are unusual and sound: each has to come to the clean shop's book."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

from .books import DAY, MACROS, MAIN, SHEET, Book, Parts, Way, letters, pack
from .generator import Tabs, a_tab, kind, tabs

TEXTS = ("shared", "inline", "plain", "rich")


def sheets_of(parts: Parts) -> list[str]:
    """The names of the worksheets."""
    return [name for name in parts if "/sheet" in name]


def changed(parts: Parts, name: str, old: str, new: str, times: int = 1) -> Parts:
    """The parts with a piece of one put in another's place; it has to be there."""
    data = parts[name]
    assert old.encode() in data, (name, old)
    return {**parts, name: data.replace(old.encode(), new.encode(), times)}


def each(parts: Parts, change: Callable[[bytes], bytes]) -> Parts:
    """The parts with every worksheet changed."""
    return {name: change(data) if name in sheets_of(parts) else data for name, data in parts.items()}


def some_way(rng: Random, **more: Any) -> Way:
    """Any lawful way to write texts."""
    return Way(texts=rng.choice(TEXTS), **more)


@kind("same")
def any_way_of_text(rng: Random, folder: Path) -> Path:
    """Shared, inline, rich with how it is spoken, or the result of a formula; packed or stored."""
    method = rng.choice((zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED))
    return pack(folder / "shop.xlsx", Book(tabs(), some_way(rng)).parts(), method)


@kind("same")
def day_numbers(rng: Random, folder: Path) -> Path:
    """Days of the 1904 calendar, of the 1900 calendar, and in ISO form."""
    way = some_way(rng, days=rng.choice(("1904", "1900", "iso")))
    return pack(folder / "shop.xlsx", Book(tabs(), way).parts())


@kind("same")
def strict_and_prefixed(rng: Random, folder: Path) -> Path:
    """The strict namespace of the standard, and prefixes before every element."""
    way = some_way(rng, strict=rng.random() < 0.5, prefix=rng.choice(("", "x", "ss", "main-1")))
    return pack(folder / "shop.xlsx", Book(tabs(), way).parts())


@kind("same")
def no_cell_says_where(rng: Random, folder: Path) -> Path:
    """Neither rows nor cells have places: they follow one another."""
    return pack(folder / "shop.xlsx", Book(tabs(), some_way(rng, places=False)).parts())


@kind("same")
def hidden_tabs(rng: Random, folder: Path) -> Path:
    """Some tabs hidden, some rows hidden."""
    among = tabs()
    hidden = frozenset(rng.sample(sorted(among), rng.randrange(1, len(among))))
    parts = Book(among, some_way(rng, hidden=hidden)).parts()
    parts = each(parts, lambda data: data.replace(b'<row r="2"', b'<row r="2" hidden="1" ht="0"'))
    return pack(folder / "shop.xlsx", parts)


@kind("same")
def other_names_and_places(rng: Random, folder: Path) -> Path:
    """Worksheets in folders of any name, parts named with other capitals than where they are pointed to."""
    parts = Book(tabs(), some_way(rng, folder=rng.choice(("xl/data", "cells", "xl/Worksheets")))).parts()
    if rng.random() < 0.5:
        parts = {name if name.startswith("[") else name.upper(): data for name, data in parts.items()}
    return pack(folder / "shop.xlsx", parts)


@kind("same")
def relative_ways(rng: Random, folder: Path) -> Path:
    """Targets with ./ and ../ and percent signs that lead to the right part all the same."""
    parts = Book(tabs(), some_way(rng)).parts()
    way = rng.choice(
        ("worksheets/", "./worksheets/", "../xl/worksheets/", "%77orksheets/", "x/../worksheets/")
    )
    return pack(
        folder / "shop.xlsx", changed(parts, "xl/_rels/workbook.xml.rels", "/xl/worksheets/", way, 99)
    )


@kind("same")
def sizes_that_lie(rng: Random, folder: Path) -> Path:
    """A declared size of one cell, of the whole sheet, of ten million rows, or of nonsense."""
    said = rng.choice(("A1", "A1:XFD1048576", "A1:ZZ10000000", "B2:A1", "", "A0:A0", "nonsense"))
    parts = Book(tabs(), some_way(rng)).parts()
    mark = f'<dimension ref="{said}"/><sheetData>'.encode()
    return pack(folder / "shop.xlsx", each(parts, lambda data: data.replace(b"<sheetData>", mark)))


@kind("same")
def cells_in_any_order(rng: Random, folder: Path) -> Path:
    """Cells of a row that do not follow their columns; each says where it belongs."""

    def shuffled(data: bytes) -> bytes:
        pieces = data.split(b"<row ")
        for at, piece in enumerate(pieces[1:], start=1):
            head, _, rest = piece.partition(b">")
            inner, end, tail = rest.rpartition(b"</row>")
            cells = [cell + b"</c>" for cell in inner.split(b"</c>")[:-1]]
            rng.shuffle(cells)
            pieces[at] = head + b">" + b"".join(cells) + end + tail
        return b"<row ".join(pieces)

    return pack(folder / "shop.xlsx", each(Book(tabs(), some_way(rng)).parts(), shuffled))


@kind("same")
def styles_far_away(rng: Random, folder: Path) -> Path:
    """Formats on cells without anything in them, to the last row and the last column of the sheet."""
    far = b'<row r="1048576"><c r="A1048576" s="2"/><c r="XFD1048576" s="1"/></row></sheetData>'
    wide = b'<c r="XFD1" s="2"/></row>'

    def format_(data: bytes) -> bytes:
        return data.replace(b"</sheetData>", far).replace(b"</row>", wide, 1)

    parts = Book(tabs(), some_way(rng)).parts()
    chosen = set(rng.sample(sheets_of(parts), 2))
    return pack(folder / "shop.xlsx", {n: format_(d) if n in chosen else d for n, d in parts.items()})


@kind("same")
def gaps_between_rows(rng: Random, folder: Path) -> Path:
    """Blank rows in between, by the thousand."""
    among, gap = tabs(), rng.choice((1, 30, 4000))
    tab = a_tab(rng, among)
    lines = among[tab]
    among[tab] = [lines[0], *([] for _ in range(gap)), *lines[1:]]
    return pack(folder / "shop.xlsx", Book(among, some_way(rng)).parts())


@kind("same")
def macros(rng: Random, folder: Path) -> Path:
    """Macros beside the cells: they are left alone."""
    parts = Book(tabs(), some_way(rng, kind=MACROS)).parts()
    parts["xl/vbaProject.bin"] = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + rng.randbytes(3000)
    return pack(folder / rng.choice(("shop.xlsm", "shop.XLSX", "shop.xlsx")), parts)


@kind("same")
def links_to_elsewhere(rng: Random, folder: Path) -> Path:
    """Links to other workbooks and pages, formulas on them with what they came to last."""
    parts = Book(tabs(), some_way(rng)).parts()
    target = rng.choice(("file:///etc/passwd", "http://192.0.2.1/book.xlsx", "\\\\server\\share\\book.xlsx"))
    parts["xl/externalLinks/externalLink1.xml"] = f'<externalLink xmlns="{MAIN}"/>'.encode()
    link = f'<Relationship Id="rId99" Type="x/externalLink" Target="{target}" TargetMode="External"/>'
    parts = changed(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", f"{link}</Relationships>")
    return pack(folder / "shop.xlsx", each(parts, lambda d: d.replace(b"<v>", b"<f>[1]Sheet1!$A$1</f><v>")))


@kind("same")
def much_else_inside(rng: Random, folder: Path) -> Path:
    """Pictures, charts, comments, paths that lead out of the archive: what is not cells is not read."""
    parts = Book(tabs(), some_way(rng)).parts()
    for name in (
        "xl/media/image1.png",
        "xl/charts/chart1.xml",
        "../../evil.txt",
        "/etc/passwd",
        "docProps/core.xml",
    ):
        parts[name] = rng.choice((b"", b"<broken", rng.randbytes(500), b"<!DOCTYPE a><a/>"))
    return pack(folder / "shop.xlsx", parts)


@kind("same")
def a_tab_that_is_a_chart(rng: Random, folder: Path) -> Path:
    """A tab that holds a chart alone has no cells."""
    parts = Book(tabs(), some_way(rng)).parts()
    chart = f'<Relationship Id="rId77" Type="x/relationships/chartsheet" Target="chartsheets/{rng.randrange(9)}.xml"/>'
    parts = changed(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", f"{chart}</Relationships>")
    parts = changed(
        parts, "xl/workbook.xml", "</sheets>", '<sheet name="c" sheetId="77" r:id="rId77"/></sheets>'
    )
    return pack(folder / "shop.xlsx", parts)


@kind("same")
def sixty_thousand_styles(rng: Random, folder: Path) -> Path:
    """As many cell formats as common programs allow; days shown by a format of one's own."""
    parts = Book(tabs(), some_way(rng)).parts()
    code = rng.choice(("yyyy\\-mm\\-dd", "[$-407]d. mmmm yyyy;@", "dd/mm/yy"))
    xfs = '<xf numFmtId="0"/><xf numFmtId="170"/><xf numFmtId="49"/>' + '<xf numFmtId="0"/>' * 60_000
    parts["xl/styles.xml"] = (
        f'<styleSheet xmlns="{MAIN}"><numFmts><numFmt numFmtId="170" formatCode="{code}"/></numFmts>'
        f"<cellXfs>{xfs}</cellXfs></styleSheet>"
    ).encode()
    return pack(folder / "shop.xlsx", parts)


@kind("same")
def numbers_as_text(rng: Random, folder: Path) -> Path:
    """Every number stored as text, days as ISO text."""
    among: Tabs = {
        tab: [[cell.isoformat() if isinstance(cell, date) else cell for cell in line] for line in lines]
        for tab, lines in tabs().items()
    }
    return pack(folder / "shop.xlsx", Book(among, some_way(rng, numbers_as_text=True)).parts())


@kind("same")
def escaped_line_ends(rng: Random, folder: Path) -> Path:
    """_x000D_ where a text had a line end of another program (ECMA-376 part 1, 22.9.2.19)."""
    among = tabs()
    for lines in among.values():
        for line in lines:
            line[:] = [
                f"{cell}_x000D_\n" if isinstance(cell, str) and rng.random() < 0.3 else cell for cell in line
            ]
    return pack(folder / "shop.xlsx", Book(among, Way(texts=rng.choice(TEXTS))).parts())


@kind("same")
def merged_and_harmless(rng: Random, folder: Path) -> Path:
    """Merged headings, merged blank cells, and merges in columns that are not ours."""
    parts = Book(tabs(), some_way(rng)).parts()
    at = letters(rng.randrange(15, 40))
    merges = rng.choice((f"{at}1:{at}9", "N50:Z60", f"{at}:{at}", "A500:B900", "Y1:Z1"))
    mark = f'</sheetData><mergeCells><mergeCell ref="{merges}"/></mergeCells>'.encode()
    return pack(folder / "shop.xlsx", each(parts, lambda data: data.replace(b"</sheetData>", mark)))


@kind("same")
def tabs_of_ones_own(rng: Random, folder: Path) -> Path:
    """Tabs with names of one's own and anything in them, ours in any order and case."""
    among: Tabs = {name.upper() if rng.random() < 0.3 else name: lines for name, lines in tabs().items()}
    among |= {f"thoughts {n}": [[f"=BOOM({n})", "∞", 1e300]] for n in range(rng.randrange(1, 30))}
    names = list(among)
    rng.shuffle(names)
    return pack(folder / "shop.xlsx", Book({name: among[name] for name in names}, some_way(rng)).parts())


@kind("same")
def other_encodings_of_xml(rng: Random, folder: Path) -> Path:
    """Parts in UTF-16, or in one byte a sign, as their heads declare (XML 1.0, 4.3.3)."""
    code = rng.choice(("utf-16", "iso-8859-1", "utf-8-sig"))
    said = "utf-8" if code == "utf-8-sig" else code

    def recoded(data: bytes) -> bytes:
        return (
            data.decode().replace('encoding="UTF-8"', f'encoding="{said}"').encode(code, "xmlcharrefreplace")
        )

    return pack(folder / "shop.xlsx", {n: recoded(d) for n, d in Book(tabs(), some_way(rng)).parts().items()})


@kind("same")
def empty_results(rng: Random, folder: Path) -> Path:
    """Formulas that came to empty text, in cells that may be blank."""
    parts = Book(tabs(), some_way(rng)).parts()
    at = letters(rng.randrange(20, 30))
    cell = f'<c r="{at}2" t="str"><f>IF(TRUE,"",1)</f><v></v></c><c r="{letters(31)}2" s="{DAY}"><f/><v>1</v></c></row>'
    return pack(
        folder / "shop.xlsx",
        each(parts, lambda d: d.replace(b"</row>", cell.encode(), 2).replace(cell.encode(), b"</row>", 1)),
    )


@kind("same")
def a_template_filled(rng: Random, folder: Path) -> Path:
    """The type of a template, under any of the endings that are read."""
    ending = rng.choice(("xlsx", "xltx", "xltm", "XLSM"))
    parts = Book(tabs(), some_way(rng, kind=f"{SHEET}.template.main+xml")).parts()
    return pack(folder / f"shop.{ending}", parts)


@kind("same")
def half_and_half(rng: Random, folder: Path) -> Path:
    """Some tabs in a workbook, the others in CSV files beside it."""
    from .csv_kinds import folder_of

    among = tabs()
    names = rng.sample(sorted(among), rng.randrange(1, len(among)))
    out = folder_of(folder, {name: among[name] for name in among if name not in names}, encoding="utf-16")
    pack(out / "rest.xlsx", Book({name: among[name] for name in names}, some_way(rng)).parts())
    return out
