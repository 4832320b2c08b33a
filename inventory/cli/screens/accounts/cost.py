"""What a piece costs: the sum in line 1, then where each coin goes, prices, what else it would cost and sold for."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.fifo import apportion
from inventory.measures import Currency, listed, plural, show_amount, show_day, show_money
from inventory.reports.accounts.cost import (
    TAX_OF_PRICES,
    BreakEven,
    CostChange,
    CostReport,
    RulePrice,
    SoldBefore,
)

BAR = 20
"""Letters of the longest bar."""
_SMALL = ("supplies", "packaging")
"""What is one row where not every part is asked for."""


def cost_screen(
    made: CostReport, coin: Currency, *, everything: bool, saved: Path | None = None
) -> list[str]:
    """Coins of all pieces; a price is for one."""
    groups: list[Sequence[Block]] = [
        [_rows(made, coin, everything=everything)],
        [_prices(made, coin)],
        _facts(made, coin, everything=everything),
    ]
    doors = [] if everything else [("Every part", "--all")]
    rest = "" if saved is None else f"Saved as {pasted(str(saved))}."
    following = (
        None if saved else ("As a workbook", f"kitdrawer cost {pasted(_asked(made))} --save cost.xlsx")
    )
    screen = Screen(_head(made, coin), [_under(made)], groups, rest, doors, following)
    return draw(screen, everything=everything)


def _asked(made: CostReport) -> str:
    return made.what.split(":", maxsplit=1)[0]


def _head(made: CostReport, coin: Currency) -> str:
    known = "" if not made.unknown else " without what nobody knows the cost of"
    each = show_money(ceil(made.each(made.total)), coin)
    work = ceil(made.each(made.total - made.goods))
    cost = "cost" if made.made else "costs"
    one = f"{made.what} {cost} {each} a piece{known}, {_money(work, coin)} of it work"
    return f"{one}: {show_day(made.on)}."


def _under(made: CostReport) -> str:
    words = made.words or "as they were made"
    if made.made:
        return f"{words}; {plural(made.pieces, 'piece')}, as the book has it"
    return f"{words}; {made.pieces} made together, spoiled ones among what they cost"


def _rows(made: CostReport, coin: Currency, *, everything: bool) -> Listing:
    """Coins of one piece that add up to what line 1 says; of all pieces too behind --all."""
    rows = [(row.name, _amount(row.quantity, row.unit), row.cost) for row in made.rows]
    if not everything:
        rows = [(row.name, "", row.cost) for row in made.rows if row.of not in _SMALL]
        for of in _SMALL:
            mine = [row for row in made.rows if row.of == of]
            name = f"{of}, {len(mine)} kinds" if len(mine) > 1 else "".join(row.name for row in mine)
            rows += [(name, "", sum(row.cost for row in mine))] if mine else []
        rows.sort(key=lambda row: -row[2])
    every = [max(cost, 0) for *_, cost in rows]
    each = apportion(ceil(made.each(made.total)), every)
    columns = (
        Cells("Goes into"),
        Cells("Amount", right=True, folds=2),
        Cells(f"{made.pieces} cost", right=True, folds=1),
        Cells("A piece", right=True),
        Cells("Share", right=True),
        Cells("", folds=3),
    )
    return Listing(
        columns,
        [
            [
                *(name, amount, _money(cost, coin) if everything else "", _money(one, coin)),
                *(_share(cost, made.total), _bar(cost, max(every))),
            ]
            for (name, amount, cost), one in zip(rows, each, strict=True)
        ],
        least=4,
    )


def _amount(quantity: int, unit: str) -> str:
    if not quantity:
        return ""
    return f"{quantity} min" if unit == "min" else show_amount(quantity, unit)


def _share(cost: int, total: int) -> str:
    return f"{100 * cost / total:.0f} %" if total else ""


def _bar(cost: int, most: int) -> str:
    return "█" * max(round(BAR * cost / most), 0) if most > 0 else ""


def _prices(made: CostReport, coin: Currency) -> Listing:
    columns = (
        Cells("A price by"),
        Cells(coin.code, right=True),
        Cells("Margin", right=True),
        Cells("Markup", right=True, folds=1),
        Cells("An hour", right=True),
    )
    return Listing(columns, [_price(one, coin) for one in made.prices])


def _price(one: RulePrice, coin: Currency) -> list[str]:
    hour = "" if one.an_hour is None else _money(one.an_hour, coin)
    return [one.rule, _money(one.price, coin), _percent(one.margin), _percent(one.markup), hour]


def _percent(share: Fraction | None) -> str:
    return "" if share is None else f"{float(100 * share):.0f} %"


def _facts(made: CostReport, coin: Currency, *, everything: bool) -> list[Block]:
    unknown = f"nobody knows what {listed(made.unknown, most=3)} cost: no price can be given"
    changes = [one for one in made.changes if everything or one.what != "blank"]
    said = "; ".join(_change(one, made, coin) for one in changes)
    return [
        Fact("Else", said, folds=1),
        Fact("Before", _before(made.before, coin)),
        Fact("Fee", _even(made.even, coin)),
        Fact("Unknown", look(unknown) if made.unknown else ""),
        Fact("Check", TAX_OF_PRICES if everything else ""),
    ]


def _change(one: CostChange, made: CostReport, coin: Currency) -> str:
    name = f"{one.value} thicker" if one.what == "thicker" else one.value
    if one.difference is None:
        return f"{name}: {one.because}"
    each = round(made.each(one.difference))
    more = f"{_money(abs(each), coin)} {'more' if each > 0 else 'less'}" if each else "the same"
    return f"{name} {more}{f' ({one.because})' if one.because else ''}"


def _before(before: SoldBefore | None, coin: Currency) -> str:
    if before is None:
        return ""
    last = f"last {_money(before.last, coin)} on {show_day(before.last_on)}"
    if before.pieces == 1:
        return f"1 sold, {last}"
    span = f"{_money(before.low, coin)} to {_money(before.high, coin)}"
    return f"{before.pieces} sold for {span}, median {_money(before.median, coin)}, {last}"


def _even(even: BreakEven | None, coin: Currency) -> str:
    if even is None:
        return ""
    at = f"at {_money(even.price, coin)}"
    if even.pieces is None:
        return look(f"{_money(even.fee, coin)}: {at} no piece contributes anything to it")
    gives = _money(int(even.contribution), coin)
    return (
        f"{_money(even.fee, coin)} is paid by {plural(even.pieces, 'piece')} {at}, each contributing {gives}"
    )


def _money(cost: int, coin: Currency) -> str:
    return show_money(cost, coin).rsplit(" ", 1)[0]


def cost_json(made: CostReport, coin: Currency) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    exact, before, even = Exact(coin.exponent), made.before, made.even
    return {
        "currency": coin.code,
        "of": made.what,
        "made": made.made,
        "pieces": made.pieces,
        "total": exact.money(made.total),
        "each": exact.money(ceil(made.each(made.total))),
        "minutes": round(float(made.minutes), 1),
        "goes_into": [
            {
                "what": row.name,
                "kind": row.of,
                "quantity": row.quantity if row.unit == "min" else exact.amount(row.quantity),
                "unit": row.unit or None,
                "cost": exact.money(row.cost),
            }
            for row in made.rows
        ],
        "prices": [
            {
                "by": one.rule,
                "price": exact.money(one.price),
                "margin": _rounded(one.margin),
                "markup": _rounded(one.markup),
                "an_hour": exact.money(one.an_hour),
            }
            for one in made.prices
        ],
        "otherwise": [
            {
                "what": one.what,
                "value": one.value,
                "difference": exact.money(one.difference),
                "because": one.because or None,
            }
            for one in made.changes
        ],
        "sold_before": None
        if before is None
        else {
            "pieces": before.pieces,
            "low": exact.money(before.low),
            "high": exact.money(before.high),
            "median": exact.money(before.median),
            "last": exact.money(before.last),
            "last_on": before.last_on,
        },
        "fee": None
        if even is None
        else {"fee": exact.money(even.fee), "price": exact.money(even.price), "pieces": even.pieces},
        "unknown": list(made.unknown),
    }


def _rounded(share: Fraction | None) -> float | None:
    return None if share is None else round(float(share), 4)
