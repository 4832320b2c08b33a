"""Every row of a past, behind --all."""

from __future__ import annotations

from fractions import Fraction

from inventory.cli.drawing.blocks import Cells, Listing
from inventory.measures import Currency, show_amount, show_day, show_measurable, show_money
from inventory.reports.history import History, UsePast

BY_HAND = "by hand"
"""What was bought of nobody named."""


def history_tables(made: History, coin: Currency) -> list[Listing]:
    """Patterns, what was spoiled, suppliers, prices, use, late orders, what sleeps."""
    return [
        _patterns(made, coin),
        _spoiled(made),
        _suppliers(made, coin),
        _prices(made, coin),
        _uses(made),
        _late(made),
        _asleep(made, coin),
    ]


def sum_of(cost: int | Fraction, coin: Currency) -> str:
    """A sum without its coin's name."""
    return show_money(round(cost), coin).rsplit(" ", 1)[0]


def share_of(part: int | Fraction, whole: int | Fraction) -> str:
    """A share with one decimal, as a person compares such; empty of nothing."""
    return f"{float(Fraction(part) / Fraction(whole)) * 100:.1f} %" if whole else ""


def signed(share: Fraction) -> str:
    """A change as people read it."""
    return f"{'+' if share > 0 else '−'}{abs(float(share)) * 100:.0f} %"


def range_of(one: UsePast) -> str:
    """The present rate's 90 % range, times what the bills write."""
    low, high = one.band()
    return f"{float(low):.2f} to {float(high):.2f}"


def _right(*headings: str) -> tuple[Cells, ...]:
    return tuple(Cells(name, right=True) for name in headings)


def _patterns(made: History, coin: Currency) -> Listing:
    return Listing(
        (Cells("Pattern"), *_right("Made", "Spoiled", "Sold", "Sold for")),
        [
            [one.pattern, f"{one.made}", f"{one.spoiled}", f"{one.sold}", sum_of(one.sold_for, coin)]
            for one in made.patterns
        ],
    )


def _spoiled(made: History) -> Listing:
    return Listing(
        (Cells("Spoiled"), Cells("At"), *_right("Pieces", "Of", "Share")),
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


def _suppliers(made: History, coin: Currency) -> Listing:
    whole = sum(one.spent for one in made.suppliers)
    return Listing(
        (Cells("Supplier"), *_right("Parcels", "Goods", "Postage", "Of all")),
        [
            [
                one.supplier or BY_HAND,
                f"{one.parcels or ''}",
                sum_of(one.goods, coin),
                sum_of(one.postage, coin),
                share_of(one.spent, whole),
            ]
            for one in made.suppliers
        ],
    )


def _prices(made: History, coin: Currency) -> Listing:
    return Listing(
        (
            Cells("Prices of a pack"),
            Cells("Supplier", folds=2),
            *_right("First", "Last", "Change"),
        ),
        [
            [
                f"{one.part}, {show_amount(one.pack, one.unit)}",
                one.supplier,
                sum_of(one.seen[0][1], coin),
                sum_of(one.seen[-1][1], coin),
                signed(one.change) if one.change else "",
            ]
            for one in made.prices
        ],
    )


def _uses(made: History) -> Listing:
    return Listing(
        (Cells("Used, times its bills"), *_right("Looks", "Times", "90 % range")),
        [
            [
                one.part.name,
                f"{len(one.looks)}",
                f"{float(one.times):.2f}",
                range_of(one),
            ]
            for one in made.uses
        ],
    )


def _late(made: History) -> Listing:
    return Listing(
        (Cells("Late orders"), Cells("Due"), Cells("Handed over"), Cells("Days", right=True)),
        [
            [one.order, show_day(one.due, made.last.year), show_day(one.on, made.last.year), f"{one.days}"]
            for one in made.orders.late
        ],
    )


def _asleep(made: History, coin: Currency) -> Listing:
    return Listing(
        (Cells("Asleep"), Cells("On hand", right=True), Cells(coin.code, right=True), Cells("Since")),
        [
            [
                one.part,
                show_measurable(one.quantity, one.unit, down=True),
                sum_of(one.cost, coin),
                show_day(one.last, made.last.year),
            ]
            for one in made.asleep
        ],
    )
