"""How a screen is laid out: at 80 columns at most 24 lines, at any other width the same rows.

Which rows are folded is found out for a page of 80 columns, so that what is shown does not hang on the terminal; on a
narrow one it takes more lines, and nothing is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inventory.cli.drawing.blocks import Block, Fact, Listing, Screen, Sentence, Whole
from inventory.cli.drawing.listings import laid_out
from inventory.cli.drawing.texts import NARROW, hanging, plain_of, terminal_width, width_of

PAGE, LINES = 80, 24
LABEL = 9


def draw(screen: Screen, width: int | None = None, *, everything: bool = False) -> list[str]:
    """The lines of a screen at a width (None: the terminal's). everything: no row is folded."""
    width = width or terminal_width()
    shown = _Shown({id(one): len(one.rows) for one in _listings(screen)}, [])
    if not everything:
        _fold(screen, shown)
    return list(_lines(screen, shown, width))


@dataclass(slots=True)
class _Shown:
    """What is on the page: rows of each listing, by its id; facts that are not."""

    rows: dict[int, int]
    folded: list[Fact]


def _listings(screen: Screen) -> list[Listing]:
    return [block for group in screen.groups for block in group if isinstance(block, Listing)]


def _fold(screen: Screen, shown: _Shown) -> None:
    """Leave out rows that may be folded, of the longest listing first, then facts, until a page holds the screen."""
    rows, most = shown.rows, LINES - screen.reserved
    facts = [one for group in screen.groups for one in group if isinstance(one, Fact) and one.folds]
    facts.sort(key=lambda one: one.folds)
    folding = [one for one in _listings(screen) if one.least is not None]
    for one in folding:
        rows[id(one)] = min(len(one.rows), max(LINES, one.least or 0))
    while sum(1 for _ in _lines(screen, shown, PAGE)) > most:
        giving = [one for one in folding if rows[id(one)] > (one.least or 0)]
        if giving:
            rows[id(max(giving, key=lambda one: rows[id(one)]))] -= 1
        elif facts:
            shown.folded.insert(0, facts.pop())
        else:
            break
    for one in folding:
        _unfold_one(screen, shown, one, most)


def _unfold_one(screen: Screen, shown: _Shown, one: Listing, most: int) -> None:
    """A single row that is folded, where it takes no more room than the words that stand for it."""
    if len(one.rows) - shown.rows[id(one)] == 1:
        shown.rows[id(one)] += 1
        if sum(1 for _ in _lines(screen, shown, PAGE)) > most:
            shown.rows[id(one)] -= 1


def _lines(screen: Screen, shown: _Shown, width: int) -> Iterator[str]:
    yield from hanging(screen.headline, "", width)
    for text in screen.under:
        yield from hanging(text, "", width)
    for group in screen.groups:
        drawn = [line for block in group for line in _block(block, shown, width)]
        if drawn:
            yield ""
            yield from drawn
    yield from _end(screen, shown.folded, width)


def _block(block: Block, page: _Shown, width: int) -> Iterator[str]:
    if isinstance(block, Fact):
        if block.text and block not in page.folded:
            first = block.label + " " * max(LABEL - width_of(block.label), 1)
            if width < NARROW:
                first = f"{block.label}: " if block.label else "  "
            yield from hanging(block.text, first, width)
    elif isinstance(block, Sentence):
        if block.text:
            yield from hanging(block.text, block.first, width)
    elif isinstance(block, Whole):
        yield from command(block.what, block.pasted, width)
    else:
        shown = page.rows[id(block)]
        head, drawn = laid_out(block, shown, width)
        yield from head
        yield from (line for row in drawn for line in row)
        if shown < len(block.rows):
            yield from hanging(block.rest(len(block.rows) - shown), " " * block.indent, width)


def _end(screen: Screen, folded: Sequence[Fact], width: int) -> Iterator[str]:
    """Doors and the next command."""
    sentences = [screen.rest.rstrip("."), *(f"{what}: {option}" for what, option in _opened(screen, folded))]
    doors = ". ".join(one for one in sentences if one)
    if doors or screen.following:
        yield ""
    if doors:
        yield from hanging(doors if doors.endswith(("?", "!")) else f"{doors}.", "", width)
    if screen.following:
        yield from command(*screen.following, width)


def _opened(screen: Screen, folded: Sequence[Fact]) -> list[tuple[str, str]]:
    """The doors, what was folded named before what is behind `--all` anyway."""
    labels = ", ".join(one.label for one in folded if one.label)
    if not labels:
        return list(screen.doors)
    known = [what for what, option in screen.doors if option == "--all"]
    every = f"{labels}, {known[0][:1].lower()}{known[0][1:]}" if known else labels
    return [(every, "--all"), *(door for door in screen.doors if door[1] != "--all")]


def command(what: str, pasted: str, width: int | None = None) -> Sequence[str]:
    """What a command does, and the command, which stays on one line so that it can be pasted."""
    line = f"{what}: {plain_of(pasted)}"
    return [line] if width_of(line) <= (width or terminal_width()) else [f"{what}:", plain_of(pasted)]
