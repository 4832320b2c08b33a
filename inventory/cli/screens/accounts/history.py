"""The past of the shop: what was made and sold in line 1, then by year or month, and a line on everything else."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.past.asleep import money_asleep
from inventory.measures import Currency, listed, plural, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import month_of
from inventory.reports.history import History, HistoryStep, OfferPrices, SupplierSpent, UsePast

MOST_STEPS = 12
"""Months a screen has; more are told by year, every one behind --all."""
NAMED = 3
BY_HAND = "by hand"
"""What was bought of nobody named."""


def history_screen(made: History, coin: Currency, *, everything: bool, saved: Path | None) -> list[str]:
    """Each listing alone behind --all."""
    total = made.total
    days = f"{show_day(made.first, made.last.year)} to {show_day(made.last)}"
    if total == HistoryStep(made.first) and not made.asleep and not made.uses:
        return draw(Screen(f"Nothing was made, sold or bought: {days}."), everything=everything)
    head = (
        f"{total.made} made, {total.spoiled} spoiled; {total.sold} sold for {_money(total.sold_for, coin)}, "
        f"{_money(total.spent, coin)} spent on parts, {coin.code}."
    )
    groups: list[Sequence[Block]] = [[_steps(made, coin, everything=everything)]]
    groups += _listings(made, coin) if everything else [_facts(made, coin)]
    doors = [] if everything else [("Every month, price and part", "--all")]
    following = None if saved else ("Charts", "kitdrawer history --save history.xlsx")
    rest = "" if saved is None else f"Saved as {pasted(str(saved))}."
    return draw(Screen(head, (f"From {days}",), groups, rest, doors, following), everything=everything)


def _money(cost: int | Fraction, coin: Currency) -> str:
    return show_money(round(cost), coin).rsplit(" ", 1)[0]


def _steps(made: History, coin: Currency, *, everything: bool) -> Listing:
    by_year = not made.by_month or (len(made.steps) > MOST_STEPS and not everything)
    steps = made.years() if by_year else made.steps
    columns = (
        Cells("Year" if by_year else "Month"),
        *(
            Cells(name, right=True, folds=at)
            for name, at in (
                ("Made", 0),
                ("Spoiled", 1),
                ("Sold", 0),
                ("Sold for", 0),
                ("Spent", 0),
                ("Postage", 2),
            )
        ),
    )
    rows = [
        [
            f"{one.step.year}" if by_year else month_of(f"{one.step:%Y-%m}"),
            *(f"{many}" for many in (one.made, one.spoiled, one.sold)),
            *(_money(cost, coin) for cost in (one.sold_for, one.spent, one.postage)),
        ]
        for one in steps
    ]
    return Listing(columns, rows)


def share_of(part: int | Fraction, whole: int | Fraction) -> str:
    """A share with one decimal, as a person compares such; empty of nothing."""
    return f"{float(Fraction(part) / Fraction(whole)) * 100:.1f} %" if whole else ""


def _facts(made: History, coin: Currency) -> list[Block]:
    return [
        Fact("Spoiled", _spoiled(made)),
        Fact("Spent", _spent(made, coin)),
        Fact("Prices", _prices(made, coin)),
        Fact("Used", _uses(made)),
        Fact("On time", _on_time(made)),
        Fact("Asleep", _asleep(made, coin)),
        Fact("No price", _unpriced(made)),
    ]


def _spoiled(made: History) -> str:
    most = made.spoiled[:NAMED]
    return "; ".join(
        f"{one.spoiled} of {one.started} of {one.material} at {one.stage} ({share_of(one.spoiled, one.started)})"
        for one in most
    )


def _spent(made: History, coin: Currency) -> str:
    whole = sum(one.spent for one in made.suppliers)
    said = [
        f"{one.supplier or BY_HAND} {_money(one.spent, coin)} ({share_of(one.spent, whole)}{_postage(one)})"
        for one in made.suppliers[:NAMED]
    ]
    return "; ".join(said)


def _postage(one: SupplierSpent) -> str:
    return f", postage {share_of(one.postage, one.spent)} of it" if one.postage else ""


def _moved(made: History) -> list[OfferPrices]:
    return [one for one in made.prices if one.change]


def signed(share: Fraction) -> str:
    """A change as people read it."""
    return f"{'+' if share > 0 else '−'}{abs(float(share)) * 100:.0f} %"


def _prices(made: History, coin: Currency) -> str:
    moved = _moved(made)
    if not moved:
        return f"none of {plural(len(made.prices), 'offer')} changed" if made.prices else ""
    said = [
        f"{one.part} {_money(one.seen[0][1], coin)} to {_money(one.seen[-1][1], coin)} ({signed(one.change)})"
        for one in moved[:NAMED]
    ]
    return f"{len(moved)} of {plural(len(made.prices), 'offer')} changed: {'; '.join(said)}"


def _uses(made: History) -> str:
    """Beside what the bills write; most looked at first."""
    return "; ".join(
        f"{one.part.name} {float(one.times):.2f} times its bills ({_band(one)})" for one in made.uses[:NAMED]
    )


def _band(one: UsePast) -> str:
    low, high = one.band()
    return f"{float(low):.2f} to {float(high):.2f}, {plural(len(one.looks), 'look')}"


def _on_time(made: History) -> str:
    orders = made.orders
    late = [f"{one.order} {plural(one.days, 'day')}" for one in orders.late]
    said = [
        f"{orders.on_time} of {plural(orders.handed_over, 'order')}" if orders.handed_over else "",
        f"late: {listed(late, most=NAMED)}" if late else "",
        look(f"{plural(orders.overdue, 'order is', 'orders are')} overdue now") if orders.overdue else "",
    ]
    return "; ".join(filter(None, said))


def _asleep(made: History, coin: Currency) -> str:
    sums = money_asleep(made.asleep)
    said = [
        f"{months} months or longer {plural(many, 'part')}, {_money(cost, coin)}"
        for months, (many, cost) in sums.items()
        if many
    ]
    names = listed([one.part for one in made.asleep], most=NAMED)
    return f"{'; '.join(said)}: {names}" if said else "nothing lay still for 6 months"


def _unpriced(made: History) -> str:
    if not made.unpriced:
        return ""
    return look(f"{plural(made.unpriced, 'piece')} sold without a price count as sold for nothing")


def _listings(made: History, coin: Currency) -> list[Sequence[Block]]:
    """Everything, row by row."""
    whole = sum(one.spent for one in made.suppliers)
    patterns = Listing(
        (Cells("Pattern"), *(Cells(n, right=True) for n in ("Made", "Spoiled", "Sold", "Sold for"))),
        [
            [one.pattern, f"{one.made}", f"{one.spoiled}", f"{one.sold}", _money(one.sold_for, coin)]
            for one in made.patterns
        ],
    )
    spoiled = Listing(
        (Cells("Spoiled"), Cells("At"), *(Cells(n, right=True) for n in ("Pieces", "Of", "Share"))),
        [
            [
                one.material,
                one.stage,
                f"{one.spoiled}",
                f"{one.started}",
                share_of(one.spoiled, one.started),
            ]
            for one in made.spoiled
        ],
    )
    suppliers = Listing(
        (Cells("Supplier"), *(Cells(n, right=True) for n in ("Parcels", "Goods", "Postage", "Of all"))),
        [
            [
                one.supplier or BY_HAND,
                f"{one.parcels or ''}",
                _money(one.goods, coin),
                _money(one.postage, coin),
                share_of(one.spent, whole),
            ]
            for one in made.suppliers
        ],
    )
    prices = Listing(
        (
            Cells("Prices of a pack"),
            Cells("Supplier", folds=2),
            *(Cells(n, right=True) for n in ("First", "Last", "Change")),
        ),
        [
            [
                f"{one.part}, {show_amount(one.pack, one.unit)}",
                one.supplier,
                _money(one.seen[0][1], coin),
                _money(one.seen[-1][1], coin),
                signed(one.change) if one.change else "",
            ]
            for one in made.prices
        ],
    )
    uses = Listing(
        (Cells("Used, times its bills"), *(Cells(n, right=True) for n in ("Looks", "Times", "90 % range"))),
        [
            [
                one.part.name,
                f"{len(one.looks)}",
                f"{float(one.times):.2f}",
                _band(one).split(",", maxsplit=1)[0],
            ]
            for one in made.uses
        ],
    )
    late = Listing(
        (Cells("Late orders"), Cells("Due"), Cells("Handed over"), Cells("Days", right=True)),
        [
            [one.order, show_day(one.due, made.last.year), show_day(one.on, made.last.year), f"{one.days}"]
            for one in made.orders.late
        ],
    )
    asleep = Listing(
        (Cells("Asleep"), Cells("On hand", right=True), Cells(coin.code, right=True), Cells("Since")),
        [
            [
                one.part,
                show_measurable(one.quantity, one.unit, down=True),
                _money(one.cost, coin),
                show_day(one.last, made.last.year),
            ]
            for one in made.asleep
        ],
    )
    listings = (patterns, spoiled, suppliers, prices, uses, late, asleep)
    facts = [
        Fact("On time", _on_time(made)),
        Fact("Asleep", _asleep(made, coin)),
        Fact("No price", _unpriced(made)),
    ]
    return [*([one] for one in listings if one.rows), facts]


def history_json(made: History, coin: Currency) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    exact = Exact(coin.exponent)
    return {
        "currency": coin.code,
        "since": made.first,
        "until": made.last,
        "by": "month" if made.by_month else "year",
        "steps": [{"from": one.step, **_step_json(one, exact)} for one in made.steps],
        "total": _step_json(made.total, exact),
        "unpriced": made.unpriced,
        "patterns": [
            {
                "pattern": one.pattern,
                "made": one.made,
                "spoiled": one.spoiled,
                "sold": one.sold,
                "sold_for": exact.money(one.sold_for),
            }
            for one in made.patterns
        ],
        "spoiled": [
            {
                "material": one.material,
                "stage": one.stage,
                "spoiled": one.spoiled,
                "started": one.started,
            }
            for one in made.spoiled
        ],
        "suppliers": [
            {
                "supplier": one.supplier or None,
                "parcels": one.parcels,
                "goods": exact.money(one.goods),
                "postage": exact.money(one.postage),
            }
            for one in made.suppliers
        ],
        "prices": [_price_json(one, coin, exact) for one in made.prices],
        "uses": [_use_json(one) for one in made.uses],
        "orders": {
            "handed_over": made.orders.handed_over,
            "on_time": made.orders.on_time,
            "overdue": made.orders.overdue,
            "late": [
                {"order": one.order, "due": one.due, "handed_over": one.on, "days": one.days}
                for one in made.orders.late
            ],
        },
        "asleep": [
            {
                "part": one.part,
                "since": one.last,
                "months": one.months,
                "on_hand": exact.amount(one.quantity),
                "worth": exact.money(one.cost),
            }
            for one in made.asleep
        ],
        "asleep_worth": {
            f"{months}": exact.money(cost) for months, (_, cost) in money_asleep(made.asleep).items()
        },
    }


def _step_json(one: HistoryStep, exact: Exact) -> dict[str, Value]:
    return {
        "made": one.made,
        "spoiled": one.spoiled,
        "sold": one.sold,
        "sold_for": exact.money(one.sold_for),
        "spent": exact.money(one.spent),
        "postage": exact.money(one.postage),
    }


def _price_json(one: OfferPrices, coin: Currency, exact: Exact) -> dict[str, Value]:
    return {
        "part": one.part,
        "supplier": one.supplier,
        "pack": exact.amount(one.pack),
        "unit": one.unit,
        "ordered": one.lines,
        "seen": [
            {"from": step, "price": round(float(price) / 10**coin.exponent, 4)} for step, price in one.seen
        ],
        "change": round(float(one.change), 4),
    }


def _use_json(one: UsePast) -> dict[str, Value]:
    low, high = one.band()
    return {
        "part": one.part.name,
        "unit": one.part.unit,
        "times": round(float(one.times), 4),
        "low": round(float(low), 4),
        "high": round(float(high), 4),
        "looks": [
            {
                "on": seen.on,
                "used": round(float(seen.used), 3),
                "expected": round(float(seen.expected), 3),
                "low": round(float(seen.low), 3),
                "high": round(float(seen.high), 3),
                "counts": seen.counts,
            }
            for seen in one.looks
        ],
    }
