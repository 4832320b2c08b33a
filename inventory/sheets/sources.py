"""What the given paths hold: each tab of each workbook and each CSV file, ready to be read row by row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack
from pathlib import Path

from inventory.errors import Place
from inventory.sheets.csv import Known, text_source
from inventory.sheets.files import Source, SourceError
from inventory.sheets.xlsx.workbooks import workbook_sources

WORKBOOKS = frozenset({".xlsx", ".xlsm", ".xltx", ".xltm"})
TEXTS = frozenset({".csv", ".tsv", ".txt"})
FOREIGN = frozenset({".xls", ".xlsb", ".ods", ".numbers", ".fods"})


def open_sources(
    paths: Iterable[Path],
    stack: ExitStack,
    refuse: Callable[[Place], None],
    note: Callable[[str], None],
    known: Known = lambda _: (),
) -> list[Source]:
    """Every tab found; files that cannot be opened go to `refuse`, each with its sentence.

    known: headings that tell how a CSV file separates its cells. Opened files stay open until `stack` closes.
    """
    found: list[Source] = []
    for path, label in _files(paths, refuse, note):
        try:
            found += _open(path, label, stack, known)
        except SourceError as error:
            refuse(error.place or Place(file=label, problem=error.problem))
        except OSError as error:
            refuse(Place(file=label, problem=f"It cannot be read: {error.strerror or error}."))
    return found


def _open(path: Path, label: str, stack: ExitStack, known: Known) -> list[Source]:
    if path.suffix.casefold() in TEXTS:
        return [text_source(path, label, known)]
    return workbook_sources(path, label, stack)


def _files(
    paths: Iterable[Path], refuse: Callable[[Place], None], note: Callable[[str], None]
) -> Iterator[tuple[Path, str]]:
    seen: set[Path] = set()
    for path in paths:
        for one, label in _inside(path, note) if path.is_dir() else [(path, shown(path.name))]:
            try:
                problem = _problem(one)
                real = one.resolve()
            except (
                OSError,
                RuntimeError,
            ) as error:  # a name too long, a folder that is closed, links in a ring
                refuse(Place(file=label, problem=f"It cannot be read: {error}."))
                continue
            if real in seen:
                continue
            seen.add(real)
            if problem:
                refuse(Place(file=label, problem=problem))
            else:
                if _is_open(one):
                    note(f"{label} is open in another program: what is not saved there is not read.")
                yield one, label
        if path.is_dir() and not any(True for _ in _inside(path, _silent)):
            problem = "The folder holds no workbook and no CSV file."
            refuse(Place(file=shown(path.name or str(path)), problem=problem))


def shown(name: str) -> str:
    """A file's name as text: bytes of no text, which some systems allow in names, become ?."""
    return name.encode("utf-8", "replace").decode("utf-8")


def _silent(_text: str) -> None:
    """Takes a note nobody needs twice."""


def _inside(folder: Path, note: Callable[[str], None]) -> Iterator[tuple[Path, str]]:
    for path in sorted(folder.iterdir()):
        # programs leave lock files such as ~$name.xlsx and .~lock.name# beside open workbooks
        if path.name.startswith((".", "~")) or not path.is_file():
            continue
        suffix, label = path.suffix.casefold(), shown(f"{folder.name}/{path.name}")
        if suffix in WORKBOOKS | TEXTS - {".txt"}:
            yield path, label
        elif suffix in FOREIGN:
            note(f"{label} was left alone: only .xlsx, .xlsm and .csv files are read.")


def _is_open(path: Path) -> bool:
    """Whether a lock file lies beside a workbook, as programs leave while they have it open."""
    return any(path.with_name(name).exists() for name in (f"~${path.name}", f".~lock.{path.name}#"))


def _problem(path: Path) -> str:
    suffix = path.suffix.casefold()
    if not path.exists():
        return "There is no such file."
    if suffix in FOREIGN:
        return f"{suffix} files are not read. Save it as .xlsx or .csv and give that one."
    if suffix not in WORKBOOKS | TEXTS:
        return "Only .xlsx and .xlsm workbooks, .csv files and folders of them are read."
    if not path.is_file():
        return "It is not a file."
    return "The file is empty." if path.stat().st_size == 0 else ""
