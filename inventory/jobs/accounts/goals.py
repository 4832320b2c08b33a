"""What is saved for: kept as one setting, so that each change is an entry that can be taken back; and how far it is."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date

from inventory.catalogue import fold
from inventory.errors import BadInput, UnknownName
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import SettingChanged
from inventory.ledger.shop import Shop
from inventory.measures import show_date, show_money
from inventory.reports.accounts.earned import Earned
from inventory.reports.accounts.goals import Goal, GoalStand

KEY = "goals"
"""The setting they are kept under, as JSON: name, minor units, day, first day of each."""


def goals_of(settings: Mapping[str, str]) -> tuple[Goal, ...]:
    """All there are, the earliest day first."""
    return tuple(
        Goal(name, amount, date.fromisoformat(by), date.fromisoformat(since))
        for by, name, amount, since in json.loads(settings.get(KEY) or "[]")
    )


def goal_called(settings: Mapping[str, str], name: str) -> Goal:
    """The goal of a name. Raises UnknownName."""
    found = [one for one in goals_of(settings) if fold(one.name) == fold(name)]
    if not found:
        raise UnknownName("goal", name, [one.name for one in goals_of(settings)])
    return found[0]


def with_goal(shop: Shop, goal: Goal) -> Proposal:
    """A goal more, or another sum or day for one there is. Raises BadInput."""
    if not goal.name.strip():
        raise BadInput("A goal needs a name.", hint='Say it: kitdrawer goal "new lathe" 900 --by 2027-03-31')
    if goal.amount <= 0:
        raise BadInput(f"{show_money(goal.amount, shop.currency)} is no goal.", hint="Give a sum above 0.")
    if goal.by <= shop.today:
        raise BadInput(f"{show_date(goal.by)} is no day to come.", hint="Give a later day with --by.")
    if goal.since > shop.today:
        raise BadInput(
            f"{show_date(goal.since)} has not come yet.", hint="Give today or a day before with --since."
        )
    others = [one for one in goals_of(shop.settings) if fold(one.name) != fold(goal.name)]
    said = f"Goal: {goal.name}, {show_money(goal.amount, shop.currency)} by {show_date(goal.by)}"
    return _proposal(shop, [*others, goal], said)


def without_goal(shop: Shop, name: str) -> Proposal:
    """One goal less. Raises UnknownName."""
    gone = goal_called(shop.settings, name)
    return _proposal(shop, [one for one in goals_of(shop.settings) if one != gone], f"No goal: {gone.name}")


def _proposal(shop: Shop, goals: Sequence[Goal], title: str) -> Proposal:
    rows = sorted((one.by.isoformat(), one.name, one.amount, one.since.isoformat()) for one in goals)
    text = json.dumps(rows, ensure_ascii=False) if rows else None
    return Proposal(
        "goals", title, shop.today, changes=(SettingChanged(KEY, text),), expected_version=shop.book.version
    )


def stands(goals: Sequence[Goal], made: Earned) -> tuple[GoalStand, ...]:
    """How far each is. made: earned from the first day of all of them on. What one has counts for no later one."""
    done, taken = list[GoalStand](), 0
    for goal in goals:
        left = sum(part.sums.left for part in made.parts if part.on >= goal.since) - taken
        done.append(GoalStand(goal, min(max(left, 0), goal.amount)))
        taken += done[-1].reached
    return tuple(done)
