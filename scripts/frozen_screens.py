"""Every screen of the program at 80 and at 40 columns, with how many lines it has.

What is looked at stands in `frozen_scenes`: the demo's walk, the looks at its first station, and here what people say
on ordinary days, on a copy of the walk's book. A screen that is asked for again later has its own place.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import demo
from environment import ROOT
from frozen_scenes import LOOKS, MORE_LOOKS, NARROW, STATIONS, USUAL, at_width

PAGE = 24
SALT = "Saltmarsh Turning Supplies"
BEFORE_THE_PARCEL: tuple[tuple[str, ...], ...] = (
    ("due-in",),
    ("due-in", "--save", "parcel.xlsx"),
    ("entries",),
    ("release", "S41", "--yes"),
    ("undo", "--yes"),
)
"""Said on a copy of the book once the list was placed."""
AFTERWARDS: tuple[tuple[str, ...], ...] = (
    ("entries",),
    ("entries", "S42"),
    ("trace", "CA medium"),
    ("trace", "CA medium", "--all"),
    ("trace", "walnut blank"),
    ("rates",),
    ("rates", "CA medium"),
    ("rates", "CA medium", "--pin", "barrel area=0.09 ml", "--yes"),
    ("rates", "CA medium", "--reset", "--yes"),
    ("losses",),
    ("losses", "walnut"),
    ("shelf", "--kind", "finished"),
    ("market",),
    ("market", "harbour market", "2026-12-12", "--expected", "20", "--yes"),
    ("undo", "--yes"),
    ("cost", "S42"),
    ("shelv",),
    ("levels",),
    ("cost", "Dunlin pen"),
    ("cost", "S43", "--fee", "45", "--all"),
    ("worth",),
    ("goal", "new lathe", "900", "--by", "2027-03-31", "--yes"),
    ("goal",),
    ("earned",),
    ("history",),
    ("history", "--all"),
    ("makeable",),
    ("rehearse", "--futures", "50"),
    ("page", "shop.html"),
    ("labels", "--kind", "kits", "--save", "labels.html"),
    ("add", "Dunlin kit chrome", "3", "--paid", "4.10", "--yes"),
    ("took", "tube 7 x 53", "2", "--reason", "lent", "--to", "the neighbour", "--yes"),
    ("entries", "--lent"),
    ("found", "tube 7 x 53", "--back", "--yes"),
    ("took", "CA thin", "--reason", "threw out", "--yes"),
    ("took", "clip", "1", "--from", "Dunlin kit chrome", "--yes"),
    ("sold", "Avocet pen gunmetal", "1", "--price", "38", "--at", "harbour market", "--yes"),
    ("made", "Dunlin pen", "--blank", "walnut", "--plating", "chrome", "--spoiled", "turn=1", "--yes"),
    ("made", "--order", "S42", "--count", "1", "--yes"),
    ("paid", "S42", "50", "--yes"),
    ("orders", "--unpaid"),
    ("orders", "--within", "3w"),
    ("change", "S42", "--by", "2026-12-21", "--yes"),
    ("handed-over", "S42", "--yes"),
    ("came-back", "S42", "--yes"),
    ("rename", "Dunlin kit chrome", "Dunlin kit bright chrome", "--yes"),
    ("merge", "ash blank", "into", "cherry blank", "--yes"),
    ("retire", "Far Reach Fittings", "--yes"),
    ("retire", "Far Reach Fittings", "--back", "--yes"),
    ("hours", "tue 2, thu 2, sat 5", "--until", "2026-12-24", "--yes"),
    ("hours",),
    ("hours", "--stages", "turn 20", "--yes"),
    ("days", "--save", "market.csv"),
    ("days", "ordinary.csv", "--yes"),
    ("count", "sheet", "--save", "count.csv"),
    ("count", "book", "count.csv", "--yes"),
    ("load", "counts.csv", "--dry-run"),
    ("load", "counts.csv", "--yes"),
    ("load", "blanks.csv", "--yes"),
    ("columns", "counts"),
    ("columns", "--save", "start.xlsx"),
    ("shopping", "--save", "list.xlsx"),
    ("placed", "--yes"),
    ("undo", "--yes"),
    ("undo", "1", "--yes"),
    ("backup", "copy.kitdrawer"),
    ("restore", "copy.kitdrawer", "--yes"),
    ("carry", "carried.kitdrawer"),
    ("admit", "maker"),
    ("verify",),
    ("begin", "--from", "notes.csv", "--save", "made.xlsx", "--store", "new.kitdrawer"),
)
"""Said one after the other on a copy of the book at the end of the walk."""
WRITTEN = {
    "ordinary.csv": "what,part,how many,why,paid,for\n"
    "add,Dunlin kit rhodium,2,,6.80,each\ntook,walnut blank,1,broke,,\n",
    "counts.csv": "part,quantity,unit cost\nwalnut blank,7,\ncherry blank,4,\nDunlin kit rhodium,5,6.90\n",
    "blanks.csv": "part,material,shape,width,length,reorder level,drawer\n"
    "walnut blank,walnut,square,3/4 in,5 in,8,rack A\n",
    "notes.csv": "item,have\nDunlin kit chrome,4\nwalnut blanks,6\nCA glue thin,1 bottle\n",
}
"""Files those commands read: an evening's, a count of stock, a changed row, a stranger's notes."""
COUNTED = (
    ("count.csv", "walnut blank", "counted", "4"),
    ("count.csv", "Dunlin kit rhodium", "counted", "3"),
    ("count.csv", "Dunlin kit rhodium", "second count", "3"),
)
"""What is written on the count sheet before it is booked."""


@dataclass(frozen=True)
class Seen:
    """One screen: what was typed, and what was said at each width."""

    name: str
    said: dict[int, str]

    def lines(self, width: int) -> int:
        """How many lines the answer has, without the command and its exit code."""
        return len(self.said[width].splitlines()) - 3


def every(folder: Path) -> list[Seen]:
    """Each screen, in the order they are asked for."""
    shutil.copytree(ROOT / "sample_stock", folder / "sample_stock")
    for name, text in WRITTEN.items():
        (folder / name).write_text(text, encoding="utf-8")
    os.chdir(folder)
    os.environ.update(KITDRAWER_TODAY=demo.TODAY, COLUMNS=str(USUAL))
    told: dict[str, dict[int, str]] = {}
    for width in (USUAL, NARROW):
        os.environ["KITDRAWER_STORE"] = f"shop{width}.kitdrawer"
        inner = Path(str(width))
        inner.mkdir()
        _told(width, inner, told)
    os.chdir(ROOT)
    return [Seen(name, said) for name, said in told.items()]


def _told(width: int, inner: Path, told: dict[str, dict[int, str]]) -> None:
    """Run it all once, and put what is said at that width beside what was said at the other."""
    times: dict[str, int] = {}
    for words in _walked(inner):
        name = " ".join(words).replace(f"{inner}/", "")
        times[name] = times.get(name, 0) + 1
        place = name if times[name] == 1 else f"{name} [{times[name]}]"
        told.setdefault(place, {})[width] = at_width(words, width)


def _walked(folder: Path) -> Iterator[Sequence[str]]:
    for at, step in enumerate(demo.WALK):
        demo.fill(folder / "saturday", step.written)
        yield [word.format(folder=folder) for word in step.words]
        if at in STATIONS and step.words[0] == "load":
            yield from (*LOOKS, *MORE_LOOKS)
        if step.words[0] == "placed":
            yield from _aside(folder / "placed", BEFORE_THE_PARCEL)
    yield from _aside(folder / "after", AFTERWARDS)


def _aside(folder: Path, commands: Sequence[Sequence[str]]) -> Iterator[Sequence[str]]:
    """Commands on a copy of the book; sheets they write land beside it."""
    folder = folder.resolve()
    folder.mkdir(parents=True)
    book, here = os.environ["KITDRAWER_STORE"], Path.cwd()
    shutil.copy(book, folder / book)
    for name in (*WRITTEN, "sample_stock"):
        (folder / name).symlink_to(here / name)
    os.chdir(folder)
    for words in commands:
        if words[:2] == ("count", "book"):
            demo.fill(Path(), COUNTED)
        yield words
    os.chdir(here)


def table(seen: Sequence[Seen], before: dict[str, tuple[int, int]]) -> list[str]:
    """How many lines each has now, and had before; those that are over a page are marked."""
    head = f"{'before':>10}  {'now':>8}" if before else f"{'now':>8}"
    under = f"{'80':>5}{'40':>5}  {'80':>4}{'40':>4}" if before else f"{'80':>4}{'40':>4}"
    rows = [head, under]
    for one in seen:
        now = f"{one.lines(USUAL):4}{one.lines(NARROW):4}{'*' if one.lines(USUAL) > PAGE else ' '} {one.name}"
        was = before.get(one.name)
        rows.append((f"{was[0]:5}{was[1]:5}  " if was else f"{'-':>5}{'-':>5}  ") * bool(before) + now)
    return rows


def figures(text: str) -> dict[str, tuple[int, int]]:
    """The lines at 80 and 40 columns of each screen, as such a file says them."""
    found = re.findall(
        r"^ *(?:[0-9-]+ +[0-9-]+  )? *(\d+) +(\d+)[* ] (\S.*)$", text.split("\n\n", 1)[0], re.MULTILINE
    )
    return {name: (int(wide), int(narrow)) for wide, narrow, name in found}


def as_file(seen: Sequence[Seen], before: dict[str, tuple[int, int]]) -> str:
    """The table, then each screen at 80 and at 40 columns."""
    told = [
        f"{'=' * 80}\n{one.name}: {one.lines(USUAL)} lines at {USUAL} columns, {one.lines(NARROW)} at {NARROW}\n\n"
        f"{one.said[USUAL]}\n{one.said[NARROW]}"
        for one in seen
    ]
    return "\n".join(["\n".join(table(seen, before)), "", *told])
