"""The worth of the shelf: by kind of part, how it came to be, what is not in it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.costs import UNKNOWN, WORDS
from inventory.ledger.past.flows import GOES, KINDS
from inventory.ledger.past.shelf import MovedSum
from inventory.measures import Currency, listed, plural, show_measurable, show_money
from inventory.measures.dates import show_day
from inventory.reports.accounts.worth import TAX, PartWorth, StockWorth

CALLED = {"piece": "finished pieces", "supply": "supplies"}
"""Kinds of parts whose plural is not their name with an s."""
SAID = {"found": "found or counted in"}
"""Kinds of movements, where a line has more room than a heading."""


def worth_screen(
    made: StockWorth, coin: Currency, *, everything: bool, saved: Path | None = None
) -> list[str]:
    """What it is in line 1; then by kind, how it came to be, and what is beside it."""
    year = made.on.year
    head = f"The shelf is worth {show_money(made.total, coin)} at the end of {show_day(made.on)}."
    groups: list[Sequence[Block]] = [[_kinds(made, coin)]]
    if everything:
        groups.append([_parts(made, coin)])
    groups.append(_beside(made, coin))
    doors = [] if everything else [("Every part", "--all")]
    day = made.on.isoformat()
    following = (
        None
        if saved
        else ("By lot, for the year's end", f"kitdrawer worth --on {day} --save worth-{year}.xlsx")
    )
    rest = "" if saved is None else f"Saved as {pasted(str(saved))}."
    return draw(Screen(head, (), groups, rest, doors, following), everything=everything)


def _money(cost: int, coin: Currency) -> str:
    return show_money(cost, coin).rsplit(" ", 1)[0]


def _kinds(made: StockWorth, coin: Currency) -> Listing:
    columns = (Cells("On the shelf"), Cells("Parts", right=True), Cells(coin.code, right=True))
    rows = [
        [CALLED.get(kind, f"{kind}s"), str(many), _money(cost, coin)]
        for kind, (many, cost) in made.by_kind().items()
    ]
    return Listing(columns, rows)


def _flow(made: StockWorth, coin: Currency) -> str:
    """Each step of the way, with the sign it counts by."""
    opening, sums, closing = made.summed()
    steps = "".join(
        f" {'-' if kind in GOES else '+'} {_money(sums[kind], coin)} {SAID.get(kind, kind)}"
        for kind in KINDS
        if sums[kind]
    )
    day = show_day(made.since, made.on.year)
    return f"{day}: {_money(opening, coin)} there before{steps} = {_money(closing, coin)}"


def _parts(made: StockWorth, coin: Currency) -> Listing:
    columns = (Cells("Part"), Cells("On hand", right=True), Cells(coin.code, right=True), Cells("Cost"))
    rows = [
        [
            one.part.name,
            show_measurable(one.quantity, one.part.unit, down=True),
            _money(one.cost, coin),
            WORDS[max(lot.cost_from for lot in one.lots)],
        ]
        for one in sorted(made.parts, key=lambda one: -one.cost)
    ]
    return Listing(columns, rows)


def _beside(made: StockWorth, coin: Currency) -> list[Block]:
    return [
        Fact("Since", _flow(made, coin)),
        Fact("Beside", _also(made, coin)),
        Fact("Unknown", _unknown(made)),
        Fact("Odd", _odd(made)),
        Fact("Check", TAX),
    ]


def _also(made: StockWorth, coin: Currency) -> str:
    said = [
        f"{name}: {plural(len(some), 'part')} for {show_money(sum(one.cost for one in some), coin)}"
        for name, some in (("lent", made.lent), ("due in, before postage", made.due))
        if some
    ]
    return "; ".join(said)


def _names(some: Sequence[PartWorth]) -> str:
    return listed([one.part.name for one in some], most=3)


def _unknown(made: StockWorth) -> str:
    some = made.unknown
    return look(f"nobody knows what {_names(some)} cost: counted as nothing") if some else ""


def _odd(made: StockWorth) -> str:
    some = made.odd
    return f"{_names(some)}: more had left by then than had come; later entries put it right" if some else ""


def worth_json(made: StockWorth, coin: Currency) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    exact = Exact(coin.exponent)
    opening, sums, closing = made.summed()
    return {
        "currency": coin.code,
        "on": made.on,
        "total": exact.money(made.total),
        "unknown": [one.part.name for one in made.unknown],
        "parts": [_part_json(one, exact) for one in made.parts],
        "lent_out": _moved_json(made, made.lent, exact),
        "due_in": _moved_json(made, made.due, exact),
        "since": made.since,
        "opening": exact.money(opening),
        **{kind: exact.money(sums[kind]) for kind in KINDS},
        "closing": exact.money(closing),
    }


def _part_json(one: PartWorth, exact: Exact) -> dict[str, Value]:
    return {
        "part": one.part.name,
        "kind": one.part.kind,
        "unit": one.part.unit,
        "on_hand": exact.amount(one.quantity),
        "worth": exact.money(one.cost),
        "lots": [
            {
                "lot": lot.id,
                "name": lot.name or None,
                "received_on": lot.received_on,
                "on_hand": exact.amount(lot.quantity),
                "worth": None if lot.cost_from == UNKNOWN else exact.money(lot.cost),
                "cost": WORDS[lot.cost_from],
            }
            for lot in one.lots
        ],
    }


def _moved_json(made: StockWorth, some: Sequence[MovedSum], exact: Exact) -> list[Value]:
    return [
        {
            "part": made.named[one.part].name,
            "quantity": exact.amount(one.quantity),
            "worth": exact.money(one.cost),
        }
        for one in some
    ]
