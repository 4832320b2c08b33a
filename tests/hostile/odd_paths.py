"""Paths that are no sheets: folders, pipes, devices, rings of links, names no system takes."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

from .book_kinds import some_way
from .books import Book, pack
from .csv_kinds import folder_of
from .generator import kind, tabs


@kind("refused")
def no_file_at_all(rng: Random, folder: Path) -> Path:
    """Folders called workbooks, pipes, devices, links in a ring or to nothing, empty files, names too long."""
    path = folder / rng.choice(("shop.xlsx", "counts.csv", "shop.xlsm", "orders.tsv"))
    pick = rng.randrange(8)
    if pick == 0:
        path.mkdir()
    elif pick == 1:
        os.mkfifo(path)
    elif pick == 2:
        path.symlink_to(rng.choice(("/dev/zero", "/dev/null", "/dev/full")))
    elif pick == 3:
        path.symlink_to(path)
    elif pick == 4:
        path.symlink_to(folder / "nowhere")
    elif pick == 5:
        path.write_bytes(b"")
    elif pick == 6:
        path = folder / ("n" * 300 + ".xlsx")
    else:
        path = folder / "counts.docx"
        path.write_bytes(b"part,quantity\n")
    return path


@kind("same")
def names_that_are_no_text(rng: Random, folder: Path) -> Path:
    """Bytes in a file's name that are no text; spaces, quotes, formulas and line breaks in it."""
    name = rng.choice(
        (b"caf\xe9.xlsx", b"=1+1.xlsx", b"a'\"b.xlsx", "schöne Sachen 漢.xlsx".encode(), b"line\nbreak.xlsx")
    )
    path = Path(os.fsdecode(os.path.join(os.fsencode(folder), name)))
    return pack(path, Book(tabs(), some_way(rng)).parts())


@kind("same")
def odd_neighbours(rng: Random, folder: Path) -> Path:
    """Pipes, rings of links and devices beside good sheets are passed by."""
    out = folder_of(folder, tabs())
    os.mkfifo(out / "pipe.csv")
    (out / "ring.xlsx").symlink_to(out / "ring.xlsx")
    (out / "zero.csv").symlink_to("/dev/zero")
    (out / f"again{rng.randrange(9)}.csv").symlink_to(out / "missing.csv")
    return out
