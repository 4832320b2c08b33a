"""What is saved for: reached and to go in line 1, then the pieces that would bring the rest."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import good, look
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.shop import Shop
from inventory.measures import Currency, plural, show_day, show_money
from inventory.reports.accounts.goals import GoalPieces, GoalPlan, GoalStand

CHECK = "such pieces as they sold in the last year, spoiled ones shared by all; setting up takes more"


def goals_screen(plans: Sequence[GoalPlan], shop: Shop, *, everything: bool) -> list[str]:
    """The plan of one goal; of several a row each, and the plan of the first that is not reached."""
    if not plans:
        following = ("Say one", 'kitdrawer goal "new lathe" 900 --by 2027-03-31')
        return draw(Screen(f"No goal, {show_day(shop.today)}.", following=following))
    plan = next((one for one in plans if one.stand.to_go), plans[0])
    coin, others = shop.currency, [one.stand for one in plans if one is not plan]
    groups: list[Sequence[Block]] = [
        [_pieces(plan, coin)],
        _facts(plan, shop, everything=everything),
        [Fact("Also" if at == 0 else "", goal_words(one, coin, shop.today)) for at, one in enumerate(others)],
    ]
    head = f"{goal_words(plan.stand, coin)}."
    doors = [] if everything else [("Hours by stage", "--all")]
    following = ("Which pieces pay", "kitdrawer earned --by pattern")
    return draw(Screen(head, (), groups, "", doors, following), everything=everything)


def goal_words(one: GoalStand, coin: Currency, today: date | None = None) -> str:
    """How far it is, in a sentence without its stop. today: whose year is left out."""
    by = show_day(one.goal.by, today.year if today else None)
    if not one.to_go:
        return f"{one.goal.name}: {good('reached')}, {show_money(one.goal.amount, coin)} by {by}"
    of = f"{_money(one.reached, coin)} of {show_money(one.goal.amount, coin)}"
    return f"{one.goal.name}: {of}, {_money(one.to_go, coin)} to go by {by}"


def _pieces(plan: GoalPlan, coin: Currency) -> Listing:
    columns = (
        Cells("Make", right=True),
        Cells("Piece"),
        Cells("One leaves", right=True, folds=2),
        Cells("Together", right=True),
        Cells("Hours", right=True),
        Cells("Expected", right=True, folds=1),
    )
    return Listing(columns, [_row(one, coin) for one in plan.pieces], least=0)


def _row(one: GoalPieces, coin: Currency) -> list[str]:
    most = "" if one.most is None else str(one.most)
    together, hours = _money(one.count * one.of.net, coin), f"{one.count * one.of.minutes / 60:.1f}"
    return [str(one.count), one.of.pattern, _money(one.of.net, coin), together, hours, most]


def _facts(plan: GoalPlan, shop: Shop, *, everything: bool) -> list[Block]:
    coin = shop.currency
    leave = plural(plan.orders, "order due by then leaves", "orders due by then leave")
    promised = f"{leave} about {_money(plan.promised, coin)}"
    stages: dict[str, int] = {}
    for one in plan.pieces:
        for stage, many in (one.of.by_stage or {"in all": one.of.minutes}).items():
            stages[stage] = stages.get(stage, 0) + one.count * many
    by_stage = ", ".join(f"{stage} {many / 60:.1f}" for stage, many in stages.items())
    return [
        Fact("Promised", promised if plan.orders else ""),
        Fact("Hours", _hours(plan)),
        Fact("Stages", by_stage if everything else ""),
        Fact("Short", look(_short(plan, coin)) if not plan.enough else ""),
        Fact("Check", CHECK if plan.pieces else ""),
    ]


def _hours(plan: GoalPlan) -> str:
    if not plan.stand.to_go:
        return ""
    if plan.there is None:
        return 'how many there are nobody said: kitdrawer hours "tue 2, sat 5"'
    fewest = "the fewest that do" if plan.enough and plan.proven else "at most"
    return f"{plan.minutes / 60:.1f} of the {plan.there / 60:.1f} there are beside what is promised; {fewest}"


def _short(plan: GoalPlan, coin: Currency) -> str:
    lacks = plan.stand.to_go - plan.promised - plan.gain
    sold = "hours, or what is asked for, do not do"
    why = sold if plan.pieces else "no piece sold in the last year left anything"
    return f"{show_money(lacks, coin)} still lacks: {why}"


def goals_json(plans: Sequence[GoalPlan], coin: Currency) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    exact = Exact(coin.exponent)
    return {
        "currency": coin.code,
        "goals": [
            {
                **goal_json(one.stand, coin),
                "promised": exact.money(one.promised),
                "minutes_there": one.there,
                "minutes": one.minutes,
                "enough": one.enough,
                "proven": one.proven,
                "pieces": [
                    {
                        "pattern": piece.of.pattern,
                        "count": piece.count,
                        "leaves": exact.money(piece.of.net),
                        "minutes": piece.of.minutes,
                        "expected": piece.most,
                    }
                    for piece in one.pieces
                ],
            }
            for one in plans
        ],
    }


def goal_json(one: GoalStand, coin: Currency) -> dict[str, Value]:
    """How far one is."""
    exact = Exact(coin.exponent)
    return {
        "goal": one.goal.name,
        "amount": exact.money(one.goal.amount),
        "by": one.goal.by,
        "since": one.goal.since,
        "reached": exact.money(one.reached),
        "to_go": exact.money(one.to_go),
    }


def _money(cost: int, coin: Currency) -> str:
    return show_money(cost, coin).rsplit(" ", 1)[0]
