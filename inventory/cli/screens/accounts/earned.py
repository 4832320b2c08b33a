"""Earnings: what is left in line 1, then a row a month, pattern or whatever they are sorted by."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.accounts.goal import goal_json, goal_words
from inventory.measures import Currency, listed, plural, show_day, show_money
from inventory.measures.dates import month_of
from inventory.reports.accounts.earned import ESTIMATE, By, Earned, EarnedSums
from inventory.reports.accounts.goals import GoalStand

_HEADS = ("Pieces", "Sold for", "Went in", "Spoiled", "Other", "Spent", "Left", "Hours")


def earned_screen(
    made: Earned,
    coin: Currency,
    by: By,
    goals: Sequence[GoalStand] = (),
    *,
    everything: bool,
    saved: Path | None = None,
) -> list[str]:
    """Went in: materials, supplies, packaging and the wear of tools; each alone behind --all."""
    total, days = made.total, f"{_day(made.first, made.last.year)} to {_day(made.last)}"
    if not made.parts:
        return draw(Screen(f"Nothing was sold or lost: {days}."), everything=everything)
    an_hour = "" if total.an_hour is None else f", about {_money(total.an_hour, coin)} an hour"
    head = f"{show_money(total.left, coin)} left of {_money(total.sold, coin)}{an_hour}; {days}."
    rows = [[_called(name, by), *_row(sums, coin)] for name, sums in made.by(by).items()]
    columns = (
        Cells(by.capitalize()),
        *(
            Cells(name, right=True, folds=at)
            for name, at in zip(_HEADS, (0, 0, 2, 3, 5, 4, 0, 1), strict=True)
        ),
    )
    groups: list[Sequence[Block]] = [
        [Listing(columns, rows, least=0)],
        [
            *(Fact("" if at else "Goal", goal_words(one, coin, made.last)) for at, one in enumerate(goals)),
            *_facts(made, total, coin, everything=everything),
        ],
    ]
    doors = [] if everything else [("Every sum", "--all")]
    following = None if saved else _next(by)
    rest = "" if saved is None else f"Saved as {pasted(str(saved))}."
    screen = Screen(head, (), groups, rest, doors, following)
    return draw(screen, everything=everything)


def _day(day: date, year: int | None = None) -> str:
    return show_day(day, year).split(" ", 1)[1]  # two days, of which no weekday matters


def _next(by: By) -> tuple[str, str]:
    if by == "pattern":
        return ("As a workbook", "kitdrawer earned --save earned.xlsx")
    return ("Which pieces pay", "kitdrawer earned --by pattern")


def _called(name: str, by: By) -> str:
    if name == "-":
        return {"session": "no session", "place": "no market"}.get(by, "none")
    return month_of(name) if by == "month" else name


def _row(sums: EarnedSums, coin: Currency) -> list[str]:
    went = sums.materials + sums.supplies + sums.packaging + sums.tools
    money = (_money(one, coin) for one in (sums.sold, went, sums.spoiled, sums.other, sums.outlay, sums.left))
    return [str(sums.pieces), *money, f"{float(sums.hours):.1f}"]


def _money(cost: int, coin: Currency) -> str:
    return show_money(cost, coin).rsplit(" ", 1)[0]


def _facts(made: Earned, total: EarnedSums, coin: Currency, *, everything: bool) -> list[Block]:
    unpriced = f"{plural(total.unpriced, 'piece')} without a price count as sold for nothing"
    several = plural(made.booked_later, "piece was", "pieces were")
    later = f"{several} sold in a month before that of their sheet's entry: counted in its month, as in worth"
    unknown = f"nobody knows what {listed(made.unknown, most=3)} cost: counted as nothing"
    parts = ", ".join(
        f"{name} {_money(cost, coin)}"
        for name, cost in (
            ("materials", total.materials),
            ("supplies", total.supplies),
            ("packaging", total.packaging),
            ("tools", total.tools),
            ("spoiled", total.spoiled),
            ("other", total.other),
        )
    )
    spent = ", ".join(f"{what} {_money(cost, coin)}" for what, cost in _most_first(total))
    stages = ", ".join(f"{stage} {many / 60:.1f}" for stage, many in total.minutes.items())
    return [
        Fact("Took", parts),
        Fact("Spent", spent),
        Fact("Hours", stages if everything else ""),
        Fact("No price", look(unpriced) if total.unpriced else ""),
        Fact("Later", look(later) if made.booked_later else ""),
        Fact("Unknown", look(unknown) if made.unknown else ""),
        Fact("Check", ESTIMATE),
    ]


def _most_first(sums: EarnedSums) -> list[tuple[str, int]]:
    return sorted(sums.spent.items(), key=lambda one: (-one[1], one[0]))


def earned_json(made: Earned, coin: Currency, by: By, goals: Sequence[GoalStand] = ()) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    months = made.by("month")
    sorted_by = months if by == "month" else made.by(by)
    groups: list[Value] = [{"group": name, **_json(sums, coin)} for name, sums in sorted_by.items()]
    return {
        "currency": coin.code,
        "since": made.first,
        "until": made.last,
        "months": [{"month": name, **_json(sums, coin)} for name, sums in months.items()],
        "total": _json(made.total, coin),
        "sorted_by": by,
        "groups": groups,
        "unknown": list(made.unknown),
        "booked_later": made.booked_later,
        "goals": [goal_json(one, coin) for one in goals],
    }


def _json(sums: EarnedSums, coin: Currency) -> dict[str, Value]:
    exact = Exact(coin.exponent)
    return {
        "pieces": sums.pieces,
        "sold": exact.money(sums.sold),
        "materials": exact.money(sums.materials),
        "supplies": exact.money(sums.supplies),
        "of_other_packaging": exact.money(sums.packaging),
        "tools": exact.money(sums.tools),
        "spoiled": exact.money(sums.spoiled),
        "other": exact.money(sums.other + sums.packaging),
        "spent": exact.money(sums.outlay),
        "spent_on": {what: exact.money(cost) for what, cost in _most_first(sums)},
        "left": exact.money(sums.left),
        "hours": round(float(sums.hours), 2),
        "an_hour": exact.money(sums.an_hour),
        "unpriced": sums.unpriced,
        "minutes": {stage: round(float(many), 1) for stage, many in sums.minutes.items()},
    }
