"""`entries`: what was booked, and what can be taken back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated

import typer

from inventory.catalogue import whom
from inventory.cli.drawing.blocks import Block, Cells, Listing, Screen, Sentence
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.session import JsonOption, StoreOption, opened, say, today
from inventory.ledger.documents.booked import Entry
from inventory.measures import listed, plural, read_date, show_amount, show_day
from inventory.measures.dates import days_in

SHOWN = 20
"""Entries on the screen where nobody says how many."""
LOOKED_INTO = 100
"""Of so many it is found out what stands on them: each takes a look at all that came after it."""


_NOTES = " (notes: "
"""What stands before the notes in the title of a session."""


def entries(
    about: Annotated[str, typer.Argument(metavar="[PART|ORDER]", help="Only what spoke of it.")] = "",
    since: Annotated[str, typer.Option(metavar="DATE", help="From this day on.")] = "",
    everything: Annotated[
        bool, typer.Option("--all", help=f"All of them, not only the newest {SHOWN}.")
    ] = False,
    lent: Annotated[bool, typer.Option("--lent", help="What is lent and not back yet.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What was booked, newest first, and what stands on it: `undo NUMBER` takes one back.

    For example:
    kitdrawer entries
    kitdrawer entries "Dunlin kit chrome"
    kitdrawer entries S42 --since 2026-11-01
    kitdrawer entries --lent
    """
    if lent:
        _lent(store, as_json=as_json)
        return
    day = read_date(since) if since else None
    limit = None if everything or day else SHOWN
    with opened(store) as found, found.reading() as read:
        shown = read.entries(last=None if limit is None else limit + 1, since=day, about=about)
        more, shown = limit is not None and len(shown) > limit, shown[:limit]
        later = {
            one.document.id: tuple(it.id for it in read.stands_on(one.document.id))
            for one in shown[:LOOKED_INTO]
        }
    if as_json:
        say(dumps({"entries": [_json(one, later) for one in shown], "more": more}))
    else:
        say(_screen(shown, later, more=more, everything=everything or day is not None))


def _json(one: Entry, later: Mapping[int, Sequence[int]]) -> dict[str, Value]:
    head = one.document
    return {
        "entry": head.id,
        "on": head.on,
        "what": head.title,
        "kind": head.kind,
        "by": head.by or None,
        "parts": list(one.parts),
        "orders": list(one.orders),
        "undoes": head.undoes,
        "undone_by": one.undone_by,
        "stands_on_it": later.get(head.id),
    }


def _screen(
    shown: Sequence[Entry], later: Mapping[int, Sequence[int]], *, more: bool, everything: bool
) -> list[str]:
    """The newest first, with what stands on each; the newest that nothing stands on is offered to be taken back."""
    on = today()
    if not shown:
        return draw(Screen(f"Nothing was booked, {show_day(on)}."))
    several = len({one.document.by for one in shown}) > 1  # who works alone need not be told so
    columns = (
        Cells("No.", right=True),
        Cells("Day", folds=1),
        Cells("What"),
        Cells("Of", folds=3),
        Cells("By", folds=4),
        Cells("Stands on it", folds=2),
    )
    rows = [
        [
            str(one.document.id),
            show_day(one.document.on, on.year),
            days_in(one.document.title.partition(_NOTES)[0], on.year),
            _about(one),
            one.document.by if several else "",
            _stands(one, later.get(one.document.id)),
        ]
        for one in shown
    ]
    first = shown[0].document
    head = (
        f"The newest entry is {first.id}, {show_day(first.on)}: {days_in(_title(shown[0]), first.on.year)}."
    )
    notes = [Sentence(f"Notes of {one.document.id}: {text}") for one in shown if (text := _notes(one))]
    doors = [("All of them", "--all"), ("From a day on", "--since DATE")] if more else []
    free = next((one for one in shown if _can_go(one, later)), None)
    following = ("Take one back", f"kitdrawer undo {free.document.id}") if free else None
    groups: list[Sequence[Block]] = [[Listing(columns, rows, least=0)], notes]
    return draw(Screen(head, (), groups, "", doors, following), everything=everything)


def _title(one: Entry) -> str:
    return one.document.title.partition(_NOTES)[0]


def _notes(one: Entry) -> str:
    """What was written on its sheet, in full below the table: in a column it would be cut."""
    notes = one.document.title.partition(_NOTES)[2].removesuffix(")")
    return notes if one.document.undoes is None else ""


def _can_go(one: Entry, later: Mapping[int, Sequence[int]]) -> bool:
    """Whether it stands, with nothing on it."""
    return one.document.undoes is None and one.undone_by is None and later.get(one.document.id) == ()


def _about(one: Entry) -> str:
    """The orders, else the parts, as few words as tell it."""
    orders = list(dict.fromkeys(whom(order) for order in one.orders))
    if orders:
        return listed(orders, most=2)
    return one.parts[0] if len(one.parts) == 1 else plural(len(one.parts), "part") if one.parts else ""


def _stands(one: Entry, later: Sequence[int] | None) -> str:
    if one.undone_by is not None:
        return f"undone by {one.undone_by}"
    if later is None:
        return "not looked up"
    return listed([str(number) for number in later], most=2)


def _lent(store: str | None, *, as_json: bool) -> None:
    """What is lent, the oldest first."""
    with opened(store) as found, found.reading() as read:
        owed, units = read.lent(), {part.name: part.unit for part in read.written().parts.values()}
    if as_json:
        exact = Exact(0)
        rows: list[Value] = [
            {
                "entry": one.document.id,
                "on": one.document.on,
                "what": one.document.title,
                "part": one.lot.part,
                "quantity": exact.amount(one.quantity),
            }
            for one in owed
        ]
        say(dumps({"lent": rows}))
    elif not owed:
        say(f"Nothing is lent, {show_day(today())}.")
    else:
        on = today()
        columns = (Cells("No.", right=True), Cells("Day"), Cells("What"), Cells("Owed", right=True))
        cells = [
            [
                str(one.document.id),
                show_day(one.document.on, on.year),
                days_in(one.document.title, on.year),
                show_amount(one.quantity, units[one.lot.part]),
            ]
            for one in owed
        ]
        head = f"{plural(len(owed), 'thing is', 'things are')} lent, {show_day(on)}."
        back = ("Back again", f"kitdrawer found {pasted(owed[0].lot.part)} --back")
        say(draw(Screen(head, (), [[Listing(columns, cells, least=0)]], following=back)))
