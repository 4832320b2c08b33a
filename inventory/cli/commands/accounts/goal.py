"""`goal`: what is saved for, how much of it was earned, and which pieces would bring the rest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import dumps
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of, today
from inventory.errors import BadInput
from inventory.measures import read_date, read_money
from inventory.measures.dates import days_in
from inventory.measures.text import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inventory.ledger import Proposal
    from inventory.ledger.shop import Shop
    from inventory.reports.accounts.goals import GoalPlan
    from inventory.store import Read


def goal(
    name: Annotated[str, typer.Argument(metavar="[NAME]", help="What for.")] = "",
    amount: Annotated[str, typer.Argument(metavar="[AMOUNT]", help="How much.")] = "",
    by: Annotated[str, typer.Option(metavar="DATE", help="The day it is wanted.")] = "",
    since: Annotated[
        str, typer.Option(metavar="DATE", help="From when on what is left counts; else from today.")
    ] = "",
    off: Annotated[bool, typer.Option("--off", help="It is no goal any more.")] = False,
    everything: Annotated[bool, typer.Option("--all", help="Hours by stage too.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What is saved for: reached, to go, and pieces that would bring the rest in the fewest hours.

    For example:
    kitdrawer goal "new lathe" 900 --by 2027-03-31
    kitdrawer goal
    kitdrawer goal "new lathe" --off
    """
    if not amount and not off:
        _look(name, store, everything=everything, as_json=as_json)
        return
    words = plain(name, "name")

    def work_out(read: Read) -> Proposal:
        from inventory.jobs.accounts.goals import with_goal, without_goal
        from inventory.reports.accounts.goals import Goal

        shop = shop_of(read, lambda _: (), offers=False)
        if off:
            return without_goal(shop, words)
        begins, wanted = read_date(since) if since else today(), read_money(amount, shop.currency)
        if not by:
            raise BadInput("By when?", hint=f'Say it: kitdrawer goal "{name}" {amount} --by 2027-03-31')
        return with_goal(shop, Goal(words, wanted, read_date(by), begins))

    def show(made: Proposal) -> None:
        say(draw(Screen(days_in(f"{made.title}.", made.on.year), reserved=3)))

    with opened(store) as found:
        answer = Answer(
            work_out, lambda made: made, show, "Book it?", booked_as, lambda _, made: {"said": made.title}
        )
        write(found, answer, yes=yes, as_json=as_json)


def _look(name: str, store: str | None, *, everything: bool, as_json: bool) -> None:
    from inventory.cli.screens.accounts.goal import goals_json, goals_screen
    from inventory.jobs.accounts.goals import goal_called

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        if name:
            goal_called(shop.settings, name)
        plans = _plans(read, shop, name)
    if as_json:
        say(dumps(goals_json(plans, shop.currency)))
        return
    say(goals_screen(plans, shop, everything=everything))


def _plans(read: Read, shop: Shop, name: str) -> Sequence[GoalPlan]:
    from inventory.catalogue import fold
    from inventory.cli.past.asked_for import past_of
    from inventory.cli.past.earned import goal_stands
    from inventory.jobs.accounts.earned import earned
    from inventory.jobs.accounts.goal_asked import asked_until
    from inventory.jobs.accounts.goal_plan import LOOKED_BACK, goal_plan, pattern_nets

    standing = goal_stands(read, shop)
    if not standing:
        return ()
    first = shop.today - LOOKED_BACK
    nets = pattern_nets(
        shop, earned(shop, read.settings(), read.past_sales(first, shop.today), first, shop.today)
    )
    past = past_of(read, shop)
    return tuple(
        goal_plan(shop, one, nets, asked_until(shop, past, one.goal.by))
        for one in standing
        if not name or fold(one.goal.name) == fold(name)
    )
