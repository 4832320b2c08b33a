"""What the program says and writes, kept word for word, so that moving rooms about changes nothing unseen.

    python3 scripts/frozen.py            compare with what is kept in tests/frozen/; exit code 1 where something differs
    python3 scripts/frozen.py --keep     keep today's answers (look at the difference before you do)
    python3 scripts/frozen.py --lines    how many lines each screen has at 80 and at 40 columns, * where over a page;
                                         with --save FILE the screens too, with --before FILE the lines of such a file

It walks the invented shop of sample_stock/ and keeps: the screen and the JSON of every looking command at several
stations of the walk, each screen at 40, 80 and 120 columns, every workbook and CSV that is written, cell by cell, and
how every hostile sheet is refused.
"""

from __future__ import annotations

import difflib
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from environment import ROOT, elsewhere

KEPT = ROOT / "tests" / "frozen"
SAVE, BEFORE = OPTIONS = "--save", "--before"
MOST = 60
"""Lines of difference shown for one file."""


def main(arguments: list[str]) -> int:
    """Compare, or keep; the exit code."""
    code = elsewhere(__file__, arguments, "test")
    if code is not None:
        return code
    sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]
    os.chdir(ROOT)
    if "--lines" in arguments:
        return lines(arguments)
    import frozen_scenes  # it imports the program, which only .venv has

    with tempfile.TemporaryDirectory(prefix="kitdrawer-frozen-") as folder:
        found = frozen_scenes.everything(Path(folder))
    return keep(found) if "--keep" in arguments else compare(found)


def lines(arguments: list[str]) -> int:
    """Print how many lines each screen has, and keep the screens where a file is named for them."""
    import frozen_screens

    named = {
        option: Path(arguments[arguments.index(option) + 1]).resolve()
        for option in OPTIONS
        if option in arguments
    }
    before = frozen_screens.figures(named[BEFORE].read_text(encoding="utf-8")) if BEFORE in named else {}
    with tempfile.TemporaryDirectory(prefix="kitdrawer-frozen-") as folder:
        seen = frozen_screens.every(Path(folder))
    print("\n".join(frozen_screens.table(seen, before)))
    if SAVE in named:
        named[SAVE].write_text(frozen_screens.as_file(seen, before), encoding="utf-8")
    return 0


def keep(found: dict[str, str]) -> int:
    """Write what was found in place of what is there."""
    KEPT.mkdir(exist_ok=True)
    for old in KEPT.glob("*.txt"):
        if old.stem not in found:
            old.unlink()
    for name, text in found.items():
        (KEPT / f"{name}.txt").write_text(text, encoding="utf-8", newline="\n")
    print(f"{len(found)} files kept in {KEPT.relative_to(ROOT)}.")
    return 0


def compare(found: dict[str, str]) -> int:
    """Say what differs from what is kept."""
    kept = {path.stem: path.read_text(encoding="utf-8") for path in sorted(KEPT.glob("*.txt"))}
    differing = [name for name in sorted({*kept, *found}) if kept.get(name) != found.get(name)]
    for name in differing:
        lines = list(_difference(name, kept.get(name, ""), found.get(name, "")))
        print("\n".join(lines[:MOST]))
        if len(lines) > MOST:
            print(f"… and {len(lines) - MOST} more lines")
    print(
        f"{len(found)} files compared, {len(differing)} differ{': ' if differing else '.'}{', '.join(differing)}"
    )
    return 1 if differing else 0


def _difference(name: str, old: str, new: str) -> Iterator[str]:
    return difflib.unified_diff(
        old.splitlines(), new.splitlines(), f"kept/{name}", f"now/{name}", lineterm="", n=1
    )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
