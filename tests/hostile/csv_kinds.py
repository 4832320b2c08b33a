"""CSV as people's programs, editors and mail programs leave it, and CSV that means harm or is none."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from random import Random
from typing import Literal

from .generator import Tabs, a_cell, a_measure, a_tab, kind, required, tabs

ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252")
SEPARATORS = ",;\t|"
UNSEEN = "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff"
"""Marks of direction and width that copying from web pages leaves behind."""
BIDI = "\u202a\u202b\u202d\u202e\u2066\u2067"
HUGE = ("9" * 400, "1e400", "-1e400", "inf", "-Infinity", "NaN", "9" * 5000, "0x10", "1_000", "∞", "٤٢٤٢x")


def plain(cell: object) -> str:
    """A cell as CSV holds it."""
    return "" if cell is None else cell.isoformat() if isinstance(cell, date) else str(cell)


def text_of(
    lines: list[list[object]], separator: str = ",", quoting: Literal[0, 1] = csv.QUOTE_MINIMAL
) -> str:
    """One tab as text."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, quoting=quoting).writerows(
        [[plain(c) for c in line] for line in lines]
    )
    return out.getvalue()


def folder_of(
    folder: Path,
    among: Tabs,
    *,
    separator: str = ",",
    encoding: str = "utf-8",
    quoting: Literal[0, 1] = csv.QUOTE_MINIMAL,
) -> Path:
    """A folder of CSV files."""
    out = folder / "sheets"
    out.mkdir()
    for tab, lines in among.items():
        (out / f"{tab}.csv").write_bytes(text_of(lines, separator, quoting).encode(encoding))
    return out


def each_cell(among: Tabs, change: Callable[[str], str], *, headings: bool = True) -> Tabs:
    """Every filled cell changed."""
    return {
        tab: [
            [change(plain(cell)) if plain(cell) and (row or headings) else cell for cell in line]
            for row, line in enumerate(lines)
        ]
        for tab, lines in among.items()
    }


@kind("same")
def any_encoding(rng: Random, folder: Path) -> Path:
    """Every usual encoding with every usual separator."""
    return folder_of(folder, tabs(), encoding=rng.choice(ENCODINGS), separator=rng.choice(SEPARATORS))


@kind("same")
def line_ends(rng: Random, folder: Path) -> Path:
    """Windows, Unix and old Mac line ends, all in one file or mixed, the last one missing."""
    out = folder_of(folder, tabs())
    for path in out.iterdir():
        ends = [rng.choice(("\r\n", "\n", "\r"))] if rng.random() < 0.5 else ["\r\n", "\n"]
        lines = path.read_bytes().decode().split("\r\n")[:-1]
        path.write_bytes("".join(line + rng.choice(ends) for line in lines).rstrip("\r\n").encode())
    return out


@kind("same")
def blank_rows_and_columns(rng: Random, folder: Path) -> Path:
    """Rows of nothing, of separators and of blanks; blank columns between and behind."""
    among = tabs()
    for tab, lines in among.items():
        at = rng.randrange(len(lines[0]) + 1)
        lines = [[*line[:at], None, *line[at:]] for line in lines]
        for _ in range(rng.randrange(4)):
            lines.insert(rng.randrange(len(lines) + 1), rng.choice(([], [None] * 12, [" ", "\t", "\u00a0"])))
        among[tab] = lines
    return folder_of(folder, among)


@kind("same")
def headings_loosely(rng: Random, folder: Path) -> Path:
    """Columns in any order, headings in any case, with spaces, underscores and hyphens as they please."""

    def loosely(heading: str) -> str:
        bridge = rng.choice((" ", "_", "-", "  ", "", " - ", "\u2013"))
        return rng.choice((str, str.upper, str.title))(heading.replace(" ", bridge))

    among = tabs()
    for tab, lines in among.items():
        order = list(range(len(lines[0])))
        rng.shuffle(order)
        lines[0] = [loosely(str(heading)) for heading in lines[0]]
        among[tab] = [[line[at] if at < len(line) else None for at in order] for line in lines]
    return folder_of(folder, among)


@kind("same")
def everything_quoted(rng: Random, folder: Path) -> Path:
    """Quotes around every cell."""
    return folder_of(folder, tabs(), quoting=csv.QUOTE_ALL, separator=rng.choice(SEPARATORS))


@kind("same")
def marks_nobody_sees(rng: Random, folder: Path) -> Path:
    """Right-to-left marks, joiners and widthless spaces in headings and cells."""

    def sprinkle(text: str) -> str:
        for _ in range(rng.randrange(3)):
            at = rng.randrange(len(text) + 1)
            text = text[:at] + rng.choice(UNSEEN) + text[at:]
        return text

    return folder_of(folder, each_cell(tabs(), sprinkle))


@kind("same")
def spaces_of_all_widths(rng: Random, folder: Path) -> Path:
    """No-break, narrow, doubled and outer spaces, tabs and line breaks inside cells."""
    spaces = (" ", "\u00a0", "  ", "\u202f", "\t", "\n", "\r\n", "\u2003")
    return folder_of(
        folder,
        each_cell(
            tabs(),
            lambda text: " " * rng.randrange(3) + re.sub(" ", lambda _: rng.choice(spaces), text) + " ",
        ),
    )


@kind("same")
def separator_line(rng: Random, folder: Path) -> Path:
    """The line `sep=` that one spreadsheet program puts first."""
    separator = rng.choice(SEPARATORS)
    out = folder_of(folder, tabs(), separator=separator)
    for path in out.iterdir():
        path.write_bytes(f"{rng.choice(('sep', 'SEP'))}={separator}\r\n".encode() + path.read_bytes())
    return out


@kind("same")
def decimal_commas(_rng: Random, folder: Path) -> Path:
    """Numbers of half of Europe, with semicolons between."""
    among = tabs()
    for lines in among.values():
        for line in lines[1:]:
            line[:] = [str(cell).replace(".", ",") if isinstance(cell, float) else cell for cell in line]
    return folder_of(folder, among, separator=";")


@kind("same")
def numbers_with_zeros(rng: Random, folder: Path) -> Path:
    """12 as 12.0, +12 or 12.00; 4.3 as 4.300."""

    def dress(cell: object) -> object:
        if isinstance(cell, bool) or not isinstance(cell, (int, float)):
            return cell
        return rng.choice((f"{cell:.4f}", f"+{cell}", f" {cell} ", str(cell)))

    among = {
        tab: [lines[0], *([dress(c) for c in line] for line in lines[1:])] for tab, lines in tabs().items()
    }
    return folder_of(folder, among)


@kind("same")
def columns_of_ones_own(rng: Random, folder: Path) -> Path:
    """Columns that are not asked for, with anything in them; cells behind the last heading."""
    among = tabs()
    for lines in among.values():
        lines[0].append(f"my thoughts {rng.randrange(99)}")
        for line in lines[1:]:
            line += [None] * (len(lines[0]) - 1 - len(line))
            line.append(rng.choice(("=HYPERLINK(1)", "nul", "1e999", "x" * 30_000, None)))
            line += ["far"] if rng.random() < 0.2 else []
    return folder_of(folder, among)


@kind("same")
def neighbours_in_the_folder(rng: Random, folder: Path) -> Path:
    """Lock files, pictures, notes and files of other programs beside the sheets."""
    out = folder_of(folder, tabs())
    for name in (
        ".~lock.counts.csv#",
        "~$counts.xlsx",
        "photo.jpg",
        "old.xls",
        "thumbs.db",
        ".hidden.csv",
        "a.ods",
    ):
        (out / name).write_bytes(rng.randbytes(50))
    (out / "inner").mkdir()
    (out / "folder.csv").mkdir()
    (out / "thoughts.csv").write_text("anything,at all\n1,2\n")
    return out


@kind("refused")
def no_number_at_all(rng: Random, folder: Path) -> Path:
    """Infinities, 400 digits, exponents and other scripts where a measure belongs."""
    among = tabs()
    tab, row, column = a_measure(rng, among)
    among[tab][row][column] = rng.choice(HUGE)
    return folder_of(folder, among)


@kind("refused")
def formulas_for_numbers(rng: Random, folder: Path) -> Path:
    """Text that would be a formula elsewhere."""
    among = tabs()
    tab, row, column = a_measure(rng, among)
    among[tab][row][column] = rng.choice(
        ("=1+1", "@SUM(A1)", "=cmd|' /C calc'!A0", "+A1", "#REF!", "#NAME?", "Err:508")
    )
    return folder_of(folder, among)


@kind("refused")
def twice_the_same_heading(rng: Random, folder: Path) -> Path:
    """Two columns of one name."""
    among = tabs()
    tab, column = required(rng, among)
    for row, line in enumerate(among[tab]):
        line.append(among[tab][0][column].upper() if not row else rng.choice((None, "other")))
    return folder_of(folder, among)


@kind("refused")
def a_column_gone(rng: Random, folder: Path) -> Path:
    """A column that has to be there is missing or misspelt."""
    among = tabs()
    tab, column = required(rng, among)
    name = among[tab][0][column]
    at = rng.randrange(len(name))
    among[tab][0][column] = rng.choice((None, "", name[:at] + name[at + 1 :] + "zz", "column 7"))
    return folder_of(folder, among)


@kind("refused")
def an_empty_cell(rng: Random, folder: Path) -> Path:
    """What has to be filled is blank."""
    among = tabs()
    tab, column = required(rng, among)
    among[tab][rng.randrange(1, len(among[tab]))][column] = rng.choice((None, " ", "\u200e"))
    return folder_of(folder, among)


@kind("refused")
def a_row_twice(rng: Random, folder: Path) -> Path:
    """The same thing given twice."""
    among = tabs()
    tab = rng.choice([name for name in among if name != "counts"])
    among[tab].append(rng.choice(among[tab][1:]))
    return folder_of(folder, among)


@kind("refused")
def nul_bytes(rng: Random, folder: Path) -> Path:
    """Zeros inside and behind the text, as broken disks leave them."""
    out = folder_of(folder, tabs())
    path = rng.choice(sorted(out.iterdir()))
    data = path.read_bytes()
    at = rng.choice((rng.randrange(1, len(data)), len(data)))
    path.write_bytes(data[:at] + b"\0" * rng.choice((1, 7, 4096)) + data[at:])
    return out


@kind("refused")
def an_open_quote(rng: Random, folder: Path) -> Path:
    """A quotation mark that is never closed, or stands inside a quoted cell."""
    out = folder_of(folder, tabs())
    path = rng.choice(sorted(out.iterdir()))
    path.write_text(path.read_text() + rng.choice(('"never closed,1,2,3,4,5,6\n', '"a" b,1,2\n')))
    return out


@kind("refused")
def what_cannot_be_shown(rng: Random, folder: Path) -> Path:
    """Control characters, overrides of direction and private signs in names."""
    among = tabs()
    tab, row, _ = a_cell(rng, {name: among[name] for name in ("platings", "suppliers", "patterns")}, str)
    among[tab][row][0] = "Dunlin" + rng.choice((*BIDI, "\x07", "\x1b[31m", "\ue000", "\x85x\x9f")) + "kit"
    return folder_of(folder, among)


@kind("refused")
def cells_without_end(rng: Random, folder: Path) -> Path:
    """Names of thousands of characters, notes of a hundred thousand."""
    among = tabs()
    tab = rng.choice(("platings", "kits", "counts", "orders", "supplies"))
    among[tab][rng.randrange(1, len(among[tab]))][0] = rng.choice("xé漢") * rng.choice(
        (121, 2001, 40_000, 140_000)
    )
    return folder_of(folder, among)


@kind("refused")
def broken_text(rng: Random, folder: Path) -> Path:
    """Bytes that are no text of the encoding the file says it has."""
    out = folder_of(folder, tabs())
    path = rng.choice(sorted(out.iterdir()))
    data = path.read_bytes()
    path.write_bytes(
        rng.choice(
            (
                b"\xef\xbb\xbf" + data + b"\xff\xfe",
                data + b"\x81\x8d\x8f",
                b"\xff\xfe" + data + (b"" if len(data) % 2 else b"x"),
                b"\xff\xfe\x00\x00" + data + b"xyz"[: (len(data) + 1) % 4 or 1],
            )
        )
    )
    return out


@kind("refused")
def noise(rng: Random, folder: Path) -> Path:
    """Bytes by chance, called counts."""
    out = folder_of(folder, tabs())
    (out / rng.choice(("counts.csv", "orders.csv", "tubes.tsv"))).write_bytes(
        b"q" + rng.randbytes(rng.choice((1, 40, 5000)))
    )
    return out


@kind("refused")
def other_things_called_csv(rng: Random, folder: Path) -> Path:
    """A page of the web, a letter, a picture, a program, a workbook."""
    among = tabs()
    out = folder_of(folder, among)
    path = out / f"{a_tab(rng, among)}.csv"
    path.write_bytes(
        rng.choice(
            (
                b"<html><body><table><tr><td>part</td></tr></table></body></html>",
                b"Dear Sir,\nplease find attached\n",
                b"\x89PNG\r\n\x1a\n" + rng.randbytes(200),
                b"\x7fELF" + rng.randbytes(200),
                b"PK\x03\x04" + rng.randbytes(200),
                b"{\\rtf1\\ansi part}",
                b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n",
            )
        )
    )
    return out
