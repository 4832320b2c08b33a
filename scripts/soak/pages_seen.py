"""The page of the shop and labels in a real browser: what a reader without a browser cannot check, and pictures.

    python3 scripts/soak/pages_seen.py [--keep FOLDER]

The sample with an uncommonly long name, the same without money and names, the sample as it is loaded, and a shop with
nothing in it, in the system's Chromium: at 320, 390 and 1280 dots nothing is wider than the window, nothing is
complained of, no request leaves the file, an accessibility engine (axe-core) finds no fault, light or dark, labels
neither; the keyboard reaches the search, which leaves what is asked for; large letters and paper lose nothing. A
validator of HTML (the Nu checker, which needs Java) finds no fault in any. Labels: no text is cut, with and without the
page's own script, each code is read from a picture of the print by zxing-cpp, and every label lies where its sheet
says, sideways, up and down, to a fifth of a millimetre. Exit code 1 where any of it fails.
`tests/test_pages_seen.py` breaks pages on purpose: each of these checks has a page it finds.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import PYTHON, ROOT, Stopped, elsewhere, surroundings

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or ""
TODAY = "2026-11-28"
LONG = "an uncommonly long name of a finish, as some makers print it on the lid, Extra-Hard-Wearing-And-Quick-Drying"
PAGES = ("shop", "wall", "fresh", "empty", "empty_wall")
LABELS = ("drawers", "bottles", "pieces", "small")
SEARCHES = (("dunlin chrome", "kit"), ("27/64", "drill"), ("7 x 53", "tube"))


def main(arguments: Sequence[str]) -> int:
    """Make the pages, look at them, and tell what was found."""
    if (code := elsewhere(__file__, arguments, "test", "browser")) is not None:
        return code
    missing = [what for what, there in (("Chromium", CHROMIUM), ("Java", shutil.which("java"))) if not there]
    if missing:
        raise Stopped(
            f"There is no {' and no '.join(missing)} on this machine: install it and run this again."
        )
    with tempfile.TemporaryDirectory() as made:
        folder = Path(arguments[arguments.index("--keep") + 1]) if "--keep" in arguments else Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        make_pages(folder)
        faults = seen(folder)
    for fault in faults:
        print(f"FAULT {fault}")
    print("nothing found" if not faults else f"{len(faults)} faults")
    return 1 if faults else 0


def make_pages(folder: Path) -> None:
    """Each page of PAGES and LABELS; of labels what --json says of them beside it."""
    sheet = folder / "supplies.csv"
    sheet.write_text(f'part,type,unit,hazards\n"{LONG}",finish,ml,H225; H315; H319; H336\n', encoding="utf-8")
    empty, full = (_commands(folder / f"{name}.kitdrawer") for name in ("empty", "full"))
    empty("begin")
    empty("page", str(folder / "empty.html"), "--overwrite")
    empty("page", str(folder / "empty_wall.html"), "--private", "--overwrite")
    full("begin", "--rate", "USD=0.92")
    full("load", str(ROOT / "sample_stock"), "--yes")
    full("page", str(folder / "fresh.html"), "--overwrite")
    full("load", str(sheet), "--yes")
    full("found", LONG, "100 ml", "--yes")
    full("promise", "S41", "--yes")
    full("made", "Avocet pen", "--plating", "gunmetal", "--blank", "olivewood", "--count", "2", "--yes")
    full("sold", "Avocet pen gunmetal", "1", "--price", "38", "--yes")
    full("page", str(folder / "shop.html"), "--overwrite")
    full("page", str(folder / "wall.html"), "--private", "--overwrite")
    for name in LABELS:
        of = ("--sheet", "38.1x21.2") if name == "small" else ("--of", name, "--first", "3")
        said = full("labels", *of, "--save", str(folder / f"{name}.html"), "--overwrite", "--json")
        (folder / f"{name}.json").write_text(said, encoding="utf-8")


def _commands(book: Path) -> Any:
    """A command on this book, made anew; it gives what the command says."""
    book.unlink(missing_ok=True)
    more = surroundings(KITDRAWER_TODAY=TODAY, KITDRAWER_STORE=str(book))

    def run(*words: str) -> str:
        command = [str(PYTHON.with_name("kitdrawer")), *words]
        done = subprocess.run(command, env=more, capture_output=True, text=True, check=False)
        if done.returncode not in (0, 3):
            raise Stopped(f"{' '.join(words)}: {done.stderr}")
        return done.stdout

    return run


def seen(folder: Path) -> list[str]:
    """Everything that is not as it should be."""
    from pages_checks import looked, printed_page, searched, started, valid
    from pages_labels import labels_seen

    faults = valid([folder / f"{name}.html" for name in (*PAGES, *LABELS)])
    with started(CHROMIUM) as browser:
        for path in (folder / f"{name}.html" for name in PAGES):
            for width in (320, 390, 1280):
                for dark in (False, True):
                    faults += looked(browser, path, width, dark=dark)
            faults += printed_page(browser, path)
        faults += searched(browser, folder / "shop.html", SEARCHES)
        for path in (folder / f"{name}.html" for name in LABELS):
            faults += labels_seen(browser, path)
            for dark in (False, True):
                faults += looked(browser, path, 1280, dark=dark)
    return faults


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
