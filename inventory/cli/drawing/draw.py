"""How a screen is laid out: at 80 columns at most 24 lines, at any other width the same rows.

Which rows are folded is found out for a page of 80 columns, so that what is shown does not hang on the terminal; on a
narrow one it takes more lines, and nothing is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.cli.drawing.blocks import Block, Fact, Listing, Screen, Sentence
from inventory.cli.drawing.listings import laid_out
from inventory.cli.drawing.texts import NARROW, hanging, plain_of, terminal_width, width_of

PAGE, LINES = 80, 24
LABEL = 9


def draw(screen: Screen, width: int | None = None, *, everything: bool = False) -> list[str]:
    """The lines of a screen at a width (None: the terminal's). everything: no row is folded."""
    width = width or terminal_width()
    rows = {id(one): len(one.rows) for one in _listings(screen)}
    if not everything:
        _fold(screen, rows)
    return list(_lines(screen, rows, width))


def _listings(screen: Screen) -> list[Listing]:
    return [block for group in screen.groups for block in group if isinstance(block, Listing)]


def _fold(screen: Screen, rows: dict[int, int]) -> None:
    """Leave out rows that may be folded, from the longest listing first, until the page holds the screen."""
    folding = [one for one in _listings(screen) if one.least is not None]
    for one in folding:
        rows[id(one)] = min(len(one.rows), max(LINES, one.least or 0))
    while sum(1 for _ in _lines(screen, rows, PAGE)) > LINES:
        giving = [one for one in folding if rows[id(one)] > (one.least or 0)]
        if not giving:
            return
        rows[id(max(giving, key=lambda one: rows[id(one)]))] -= 1


def _lines(screen: Screen, rows: dict[int, int], width: int) -> Iterator[str]:
    yield from hanging(screen.headline, "", width)
    for text in screen.under:
        yield from hanging(text, "", width)
    for group in screen.groups:
        drawn = [line for block in group for line in _block(block, rows, width)]
        if drawn:
            yield ""
            yield from drawn
    yield from _end(screen, width)


def _block(block: Block, rows: dict[int, int], width: int) -> Iterator[str]:
    if isinstance(block, Fact):
        if block.text:
            narrow = width < NARROW and block.label
            first = f"{block.label}: " if narrow else f"{block.label:<{LABEL - 1}} "
            yield from hanging(block.text, first, width)
    elif isinstance(block, Sentence):
        if block.text:
            yield from hanging(block.text, block.first, width)
    else:
        shown = rows[id(block)]
        head, drawn = laid_out(block, shown, width)
        yield from head
        yield from (line for row in drawn for line in row)
        if shown < len(block.rows):
            yield from hanging(block.rest(len(block.rows) - shown), " " * block.indent, width)


def _end(screen: Screen, width: int) -> Iterator[str]:
    """Doors and the next command, which stays on one line so that it can be pasted."""
    sentences = [screen.rest.rstrip("."), *(f"{what}: {option}" for what, option in screen.doors)]
    doors = ". ".join(one for one in sentences if one)
    if doors or screen.following:
        yield ""
    if doors:
        yield from hanging(doors if doors.endswith(("?", "!")) else f"{doors}.", "", width)
    if screen.following:
        yield from _command(*screen.following, width)


def _command(what: str, command: str, width: int) -> Sequence[str]:
    line = f"{what}: {plain_of(command)}"
    return [line] if width_of(line) <= width else [f"{what}:", plain_of(command)]
