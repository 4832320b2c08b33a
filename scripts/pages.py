"""The screens README.md and inventory/guide/ show, answered anew by the program on the invented shop.

python3 scripts/pages.py           say which pages differ; exit code 1 where one does
python3 scripts/pages.py --keep    write today's answers into them (look at the difference before you commit)
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import tempfile
from pathlib import Path

from environment import ROOT, elsewhere

TODAY = "2026-11-28"


def main(arguments: list[str]) -> int:
    """Compare, or keep; the exit code."""
    code = elsewhere(__file__, arguments, "test")
    if code is not None:
        return code
    sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]
    from cli.pages import (  # they import the program, which only .venv has
        PAGES,
        renewed,
        screens,
        tabled,
        text,
    )

    differing = []
    for page in PAGES:
        now = renewed(page, answers(page)) if screens(page) else tabled(page)
        if now != text(page):
            differing.append(page)
            if "--keep" in arguments:
                PAGES[page].write_text(now, encoding="utf-8", newline="\n")
    print(f"{len(PAGES)} pages, {len(differing)} differ{': ' if differing else '.'}{', '.join(differing)}")
    return 1 if differing and "--keep" not in arguments else 0


def answers(page: str) -> list[str]:
    """What the commands of a page's screens say, run in its order on a book made for it."""
    from cli.walked_pages import shown
    from commands.conftest import Answer

    from inventory.cli.app import make_app
    from inventory.cli.edge import run

    def call(*words: str) -> Answer:
        said = io.StringIO()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(io.StringIO()):
            code = run(make_app(words), words)
        return Answer(code, said.getvalue(), "")

    with tempfile.TemporaryDirectory(prefix="kitdrawer-pages-") as folder, contextlib.chdir(folder):
        os.environ |= {"KITDRAWER_STORE": f"{folder}/book.db", "KITDRAWER_TODAY": TODAY, "COLUMNS": "80"}
        call("begin", "--rate", "USD=0.92")
        call("load", str(ROOT / "sample_stock"), "--yes")
        return [answer.out for answer in shown(call, page, Path(folder))]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
