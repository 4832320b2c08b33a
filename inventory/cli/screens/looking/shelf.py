"""The shelf for a person: how many parts are below their reorder level, which; behind a filter or `--all` every one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date

from inventory.catalogue import KINDS
from inventory.catalogue.names import natural
from inventory.cli.drawing.blocks import Cells, Group, Listing, Screen, Sentence
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.jobs.stock.shelf import ShelfRow
from inventory.ledger.bottles.shelf_life import use_by
from inventory.measures import listed, plural, show_amount, show_day, show_measurable

MOST_GONE = 3
"""Lots out of date that are named before the rest is left to `--all`."""
Show = Callable[..., str]


def shelf_screen(
    rows: Sequence[ShelfRow], today: date, *, filtered: bool = False, everything: bool = False
) -> list[str]:
    """The answer, what is below its reorder level, what is out of date, how many parts of which kind.

    filtered: each of the rows is shown; everything: too, to the thousandth.
    """
    if not rows:
        return ["Nothing on the shelf is like that." if filtered else "No part is known yet: kitdrawer load."]
    ordered = sorted(rows, key=_order)
    gone = list(_gone(ordered, today, everything=everything))
    if filtered or everything:
        groups: list[Group] = [[_listing(ordered, _columns("Part"), everything=everything), *gone]]
        return draw(Screen(_headline(rows), groups=groups, following=_following(ordered)), everything=True)
    low = sorted((row for row in ordered if row.low), key=lambda row: not row.balance.to_buy)
    table = [_short(low)] if low else []
    screen = Screen(
        _headline(rows),
        groups=[[*table, *gone], [Sentence(_kinds(rows)), *_drawers(ordered)]],
        doors=[("Every part", "--all")],
        following=("What to buy", "kitdrawer shopping"),
    )
    return draw(screen)


def _following(rows: Sequence[ShelfRow]) -> tuple[str, str]:
    """What to buy where something is below its level, else where a number comes from."""
    if any(row.low for row in rows):
        return "What to buy", "kitdrawer shopping"
    return "Where a number comes from", f"kitdrawer trace {pasted(rows[0].part.name)}"


def _order(row: ShelfRow) -> tuple[object, ...]:
    return KINDS.index(row.part.kind), natural(row.part.name)


def _headline(rows: Sequence[ShelfRow]) -> str:
    """How many there are, and how many of them want something."""
    below = sum(row.below for row in rows)
    buying = sum(row.balance.to_buy > 0 for row in rows)
    count = sum(row.to_count for row in rows)
    off = sum(row.off > 0 for row in rows)
    due = sum(row.balance.due_in > 0 for row in rows)
    said = [f"{below or 'none'} below reorder level"]
    said += [f"{buying} to buy"] if buying else []
    said += [f"{off} out of date"] if off else []
    said += [f"{count} to count again"] if count else []
    said.append(f"{due or 'nothing'} due in")
    text = ", ".join(said)
    return f"{plural(len(rows), 'part')}. {text[:1].upper()}{text[1:]}."


def _columns(heading: str) -> tuple[Cells, ...]:
    return (
        Cells(heading),
        Cells("Kind", folds=6),
        Cells("On hand", right=True, folds=1),
        Cells("Set aside", right=True, folds=3),
        Cells("Free", right=True),
        Cells("Reorder at", right=True, folds=2),
        Cells("Due in", right=True, folds=4),
        Cells("To buy", right=True, folds=2),
        Cells("Lent", right=True, folds=5),
        Cells("Check", folds=7),
    )


def _listing(rows: Sequence[ShelfRow], columns: Sequence[Cells], *, everything: bool = False) -> Listing:
    kinds = len({row.part.kind for row in rows}) > 1
    return Listing(columns, [_cells(row, kinds=kinds, everything=everything) for row in rows])


def _short(rows: Sequence[ShelfRow]) -> Listing:
    """What is below its reorder level, and above it what is promised and to be bought, which is never folded."""
    buying = sum(row.balance.to_buy > 0 for row in rows)
    heading = "To buy, below reorder level" if buying else "Below reorder level"
    cells = [_cells(row, kinds=False, everything=False) for row in rows]
    return Listing(_columns(heading), cells, least=buying, rest=lambda many: f"and {many} more: --low")


def _cells(row: ShelfRow, *, kinds: bool, everything: bool) -> list[str]:
    balance, level = row.balance, row.part.level
    there, wanted = _there(row, everything=everything), _wanted(row, everything=everything)
    return [
        row.part.name,
        row.part.kind if kinds else "",
        there(balance.on_hand),
        there(balance.claimed) if balance.claimed else "",
        there(row.free),
        wanted(level) if level is not None else "",
        there(balance.due_in) if balance.due_in else "",
        wanted(balance.to_buy) if balance.to_buy else "",
        there(row.lent) if row.lent else "",
        "count it again" if row.to_count else "",
    ]


def _there(row: ShelfRow, *, everything: bool) -> Show:
    unit = row.part.unit
    return lambda steps: show_amount(steps, unit) if everything else show_measurable(steps, unit, down=True)


def _wanted(row: ShelfRow, *, everything: bool) -> Show:
    unit = row.part.unit
    return lambda steps: show_amount(steps, unit) if everything else show_measurable(steps, unit)


def _gone(rows: Sequence[ShelfRow], today: date, *, everything: bool) -> Iterator[Sentence]:
    """What is out of date, lot by lot."""
    said = [
        f"{row.part.name}, {_there(row, everything=everything)(lot.quantity)}"
        f"{' opened' if lot.opened_on else ''}, best before {show_day(last, today.year)}"
        for row in rows
        for lot in row.gone
        if (last := use_by(row.part, lot)) and lot.quantity
    ]
    most = len(said) if everything else MOST_GONE
    if said:
        more = [f"and {len(said) - most} more: --all"] if len(said) > most else []
        yield Sentence("; ".join([*said[:most], *more]) + " (not free)", "Out of date: ")


def _kinds(rows: Sequence[ShelfRow]) -> str:
    """How many parts there are of each kind."""
    words = {"supply": ("supply", "supplies"), "piece": ("finished piece", "")}
    counts = {kind: sum(row.part.kind == kind for row in rows) for kind in KINDS}
    said = [plural(many, *words.get(kind, (kind, ""))) for kind, many in counts.items() if many]
    return f"In all {listed(said, most=len(said))}"


def _drawers(rows: Sequence[ShelfRow]) -> list[Sentence]:
    """The filters, with names this shop has."""
    family = next((row.family for row in rows if row.family), "")
    drill = next((row.drill for row in rows if row.drill), "")
    blank = next((row.part.name.split()[0] for row in rows if row.part.kind == "blank"), "")
    said = [f"--kind {rows[0].part.kind}s" if rows[0].part.kind != "supply" else "--kind supplies"]
    said += [f"{option} {pasted(word)}" for option, word in _named(family, drill, blank) if word]
    return [Sentence(f"One drawer: {', '.join(said)}")]


def _named(family: str, drill: str, blank: str) -> tuple[tuple[str, str], ...]:
    return ("--family", family), ("--drill", drill), ("--text", blank)
