"""What scripts/soak/fuzz.py gives bytes to: every reader of measures, and all that reads sheets of unknown origin.

Started by it with the name of a target and the fuzzer's options, in an interpreter that has atheris; without a name
it prints those there are.
"""

from __future__ import annotations

import io
import pkgutil
import sys
import tempfile
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from importlib import import_module
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT

Target = Callable[[bytes], object]
"""Takes any bytes; an error that comes out is a finding."""
TESTS = ROOT / "tests"


SHEETS = ("cell", "weight of a bottle", "protect", "grid", "texts", "styles", "book", "csv", "workbook")
"""Targets of the room that reads sheets; the others are readers of measures."""


def main(arguments: Sequence[str]) -> None:
    """Print the names of the targets, or hand one of them to the fuzzer, which ends the process."""
    sys.path[:0] = [str(ROOT), str(TESTS)]
    if not arguments:
        print("\n".join(targets()))
        return
    atheris = import_module("atheris")  # which no environment of this project needs to hold
    name, *options = arguments
    with atheris.instrument_imports(include=["inventory"]):
        room = "inventory.sheets" if name in SHEETS else "inventory.measures"
        for one in pkgutil.iter_modules(import_module(room).__path__):
            import_module(f"{room}.{one.name}")
    with tempfile.TemporaryDirectory() as folder:
        for number, seed in enumerate(seeds(name)):
            (Path(folder) / str(number)).write_bytes(seed)
        atheris.Setup([sys.argv[0], *options, folder], targets()[name])
        atheris.Fuzz()


def targets() -> dict[str, Target]:
    """Every target by name."""
    from measures.laws import LAWS, check

    def reader(name: str) -> Target:
        return lambda data: check(LAWS[name], data.decode("utf-8", "surrogateescape"))

    return {
        **{name.replace(", ", " "): reader(name) for name in LAWS},
        "cell": _cell,
        "weight of a bottle": _weight,
        "protect": _protect,
        "grid": _grid,
        "texts": _part("_Texts"),
        "styles": _part("_Styles"),
        "book": _part("_Book"),
        "csv": _file("counts.csv"),
        "workbook": _file("shop.xlsx"),
    }


def seeds(name: str) -> Sequence[bytes]:
    """What a target begins with: sound examples, so that the search need not find the format by chance."""
    if name in {"cell", "protect"}:
        return (b"\x00=1+1", b"\x0512 mm", b"\x0a2026-11-25", b"\x0fa; b", b"\x11'=1;-2")
    if name == "csv":
        return (
            b"part,quantity\nglue,1\n",
            b'part;quantity\n"a\nb";"2"\n',
            "part\tquantity\nä\t1".encode("utf-16"),
        )
    if name == "grid":
        return (_SHEET.encode(),)
    if name in {"texts", "styles", "book"}:
        return (_PARTS[name].encode(),)
    if name == "workbook":
        return (_workbook(),)
    return tuple(text.encode() for text in _MEASURES)


_MEASURES = (
    *(
        "7 mm",
        "27/64",
        "1-3/16 in (30.16 mm)",
        "#7",
        "letter O",
        "P400",
        "CAMI 400",
        "1.234,5",
        "1 1/2",
        "4 %",
    ),
    *(
        "12.5 ml",
        "2 fl oz",
        "3 bottles",
        "0.5 kg",
        "€12.50",
        "12,50 EUR",
        "JPY",
        "25 Nov 2026",
        "03/04/2026",
        "½",
    ),
)
_SPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
_SHEET = (
    f'<worksheet {_SPACE}><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="1"><v>46351</v></c></row>'
    '<row r="3" hidden="1"><c t="inlineStr"><is><t>a</t></is></c><c><f>A1</f><v>1e3</v></c><c t="b"><v>1</v></c>'
    '<c t="d"><v>2026-11-25</v></c><c t="e"><v>#N/A</v></c></row></sheetData>'
    '<mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>'
)
_PARTS = {
    "texts": f"<sst {_SPACE}><si><t>a_x000D_b</t></si><si><r><t>c</t></r><rPh><t>d</t></rPh></si></sst>",
    "styles": f'<styleSheet {_SPACE}><numFmts><numFmt numFmtId="164" formatCode="[h]:mm"/></numFmts><cellXfs>'
    '<xf numFmtId="14"/><xf numFmtId="164"/></cellXfs></styleSheet>',
    "book": f'<workbook {_SPACE}><workbookPr date1904="1"/><sheets><sheet name="counts" sheetId="1"/></sheets>'
    "</workbook>",
}


def _cell(data: bytes) -> None:
    """The first byte says which column of all tabs, the rest what its cell says."""
    from inventory.errors import BadMeasure
    from inventory.sheets.stock.cells import canonical, reader
    from inventory.sheets.stock.tabs import TABS

    columns = [column for tab in TABS.values() for column in tab.columns]
    try:
        value = reader(columns[data[0] % len(columns)])(data[1:].decode("utf-8", "surrogateescape"))
    except (BadMeasure, IndexError) as error:
        if isinstance(error, IndexError) and data:
            raise
        return
    canonical(value)


def _weight(data: bytes) -> None:
    from inventory.errors import BadMeasure
    from inventory.sheets.forms.cells import number_of, pieces, weight

    text = data.decode("utf-8", "surrogateescape")
    for read in (pieces, weight, number_of("lot")):
        try:
            _hold(read(text) is not None, text)
        except BadMeasure:
            continue


def _protect(data: bytes) -> None:
    from inventory.sheets.csv import protect, unprotect
    from inventory.sheets.xlsx.markup import escaped, unescaped

    text = data.decode("utf-8", "surrogateescape")
    _hold(unprotect(protect(text)) == text, text)
    _hold(unescaped(escaped(text)) == text, text)


def _grid(data: bytes) -> None:
    """A worksheet's XML."""
    from inventory.sheets.files import Aside, SourceError
    from inventory.sheets.xlsx.grid import Frame, read_rows

    frame = Frame(("text", "=1+1"), frozenset({"1", "2"}), frozenset({"2"}))
    try:
        for number, _ in enumerate(read_rows(io.BytesIO(data), frame, "shop.xlsx", "counts", Aside())):
            if number > 5000:  # rows that are left out are blank ones, and take their time
                break
    except SourceError as error:
        _told(error)


def _part(kind: str) -> Target:
    """Another part's XML."""

    def read(data: bytes) -> None:
        from inventory.sheets.files import SourceError
        from inventory.sheets.xlsx import workbooks
        from inventory.sheets.xlsx.markup import parse

        try:
            for _ in parse(io.BytesIO(data), getattr(workbooks, kind)()):
                pass
        except SourceError as error:
            _told(error)

    return read


def _file(name: str) -> Target:
    """A whole file, as a sheet that comes back filled is read."""
    folder = Path(tempfile.mkdtemp(prefix="kitdrawer-fuzz-"))
    path = folder / name

    def read(data: bytes) -> None:
        from inventory.sheets.forms.returned_form import ReturnedForm

        path.write_bytes(data)
        with ExitStack() as stack:
            stack.callback(path.unlink)
            form = ReturnedForm(path)
        for place in form.problems:
            _told(place.problem)

    return read


def _told(error: object) -> None:
    """What a person is told is a sentence."""
    _hold(str(error).endswith((".", "?")), error)


def _hold(holds: bool, what: object) -> None:
    if not holds:
        raise AssertionError(what)


def _workbook() -> bytes:
    """A small sound workbook, stored rather than packed, so that its parts can be reached by changing bytes."""
    from hostile.books import Book, pack

    with tempfile.TemporaryDirectory() as folder:
        book = Book({"counts": [["part", "quantity"], ["glue", 2]]})
        return pack(Path(folder) / "a.xlsx", book.parts(), 0).read_bytes()


if __name__ == "__main__":
    main(sys.argv[1:])
