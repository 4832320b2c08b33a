"""Which pieces would bring the rest of a goal: a whole-number programme over patterns.

    least T with max { Σ_j net_j · x_j : Σ_j minutes_j · x_j ≤ T, x_j ≤ asked_j } ≥ to go, T ≤ minutes there are

so that the pieces take as few hours as can be; where even all the hours do not do, the set that leaves most. The inner
one is the product-mix programme of `making.product_mix`; it grows with T, which is whole minutes, so halving finds it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from inventory.catalogue import fold
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.hours.time_left import promised_work
from inventory.jobs.hours.week import week_of
from inventory.ledger.shop import Shop
from inventory.making.product_mix import BestMix, MixItem, MixTask, best_mix
from inventory.reports.accounts.earned import Earned, EarnedSums, added
from inventory.reports.accounts.goals import GoalPieces, GoalPlan, GoalStand, PatternNet

LOOKED_BACK = timedelta(days=365)
"""Of so long what pieces left is the average."""
Asked = Mapping[str, int]
"""By folded pattern how many are expected to be asked for until then."""


def pattern_nets(shop: Shop, made: Earned) -> tuple[PatternNet, ...]:
    """Of each pattern that was sold at a price and left something, what a piece left; what pays best an hour first.

    What all patterns' spoiled pieces cost is shared by all that were sold.
    """
    sold = [part for part in made.parts if part.groups["kind"] != "gift" and not part.sums.unpriced]
    pieces = sum(part.sums.pieces for part in sold)
    spoiled = Fraction(made.total.spoiled, pieces) if pieces else Fraction(0)
    found = []
    for name in dict.fromkeys(part.groups["pattern"] for part in sold):
        pattern = shop.catalogue.patterns.get(fold(name))
        sums = added(part.sums for part in sold if part.groups["pattern"] == name)
        if pattern is None or not sums.pieces or (net := _net(sums, spoiled)) <= 0:
            continue
        time = piece_time(shop.catalogue, shop.settings, pattern)
        found.append(PatternNet(pattern.name, net, sums.pieces, max(time.minutes, 1), dict(time.by_stage)))
    return tuple(sorted(found, key=lambda one: (Fraction(-one.net, one.minutes), one.pattern)))


def _net(sums: EarnedSums, spoiled: Fraction) -> int:
    return int((Fraction(sums.left, sums.pieces) - spoiled) // 1)


def goal_plan(shop: Shop, stand: GoalStand, nets: Sequence[PatternNet], asked: Asked | None) -> GoalPlan:
    """asked: what is expected to be asked for beside what is promised, None where nothing tells."""
    goal = stand.goal
    orders = [one for one in shop.book.orders.values() if one.state == "promised" and one.due <= goal.by]
    net = {fold(one.pattern): one.net for one in nets}
    known = [one for one in orders if fold(one.pattern) in net]
    promised = sum(one.count * net[fold(one.pattern)] for one in known)
    there = _there(shop, goal.by)
    missing = max(stand.to_go - promised, 0)
    mix = fewest_hours(nets, asked, missing, there)
    by_name = {one.pattern: one for one in nets}
    pieces = tuple(
        GoalPieces(by_name[str(name)], many, None if asked is None else asked.get(fold(str(name)), 0))
        for name, many in mix.pieces.items()
    )
    plan = GoalPlan(stand, promised, len(known), there, pieces, False, mix.proven)
    return replace(plan, enough=plan.gain >= missing)


def _there(shop: Shop, by: date) -> int | None:
    """Minutes of work until that day that nothing promised needs."""
    week = week_of(shop.settings)
    if week is None:
        return None
    taken = sum(one.minutes for one in promised_work(shop) if one.due <= by)
    return max(week.between(shop.today, by + timedelta(days=1)) - taken, 0)


def fewest_hours(nets: Sequence[PatternNet], asked: Asked | None, missing: int, there: int | None) -> BestMix:
    """The pieces that leave `missing` minor units in the fewest minutes; what leaves most within `there` where none do.

    asked: at most so many of each; there: minutes.
    """
    most = {one.pattern: ceil(Fraction(missing, one.net)) for one in nets}
    if asked is not None:
        most = {name: min(many, asked.get(fold(name), 0)) for name, many in most.items()}
    items = [
        MixItem(one.pattern, None, one.net, one.minutes, {("asked", one.pattern): 1})
        for one in nets
        if most[one.pattern]
    ]
    if not items:
        return BestMix({}, {}, 0, proven=True)
    high = sum(one.minutes * most[one.pattern] for one in nets)
    high = high if there is None else min(high, there)
    task = MixTask(items, {("asked", name): many for name, many in most.items()}, minutes=high)
    best = best_mix(task)
    if best.gain < missing:
        return best
    low = 0
    while low < high:
        middle = (low + high) // 2
        tried = best_mix(replace(task, minutes=middle))
        if tried.gain >= missing:
            best, high = tried, middle
        else:
            low = middle + 1
    return best
