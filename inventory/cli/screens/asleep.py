"""What sleeps on the shelf, in one sentence and for programs: the same wherever it is said."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.json.exact import Exact, Value
from inventory.ledger.past.asleep import MONTHS, Asleep, money_asleep
from inventory.measures import Currency, listed, plural, show_money

NAMED = 3


def asleep_said(some: Sequence[Asleep], coin: Currency) -> str:
    """How many parts lay still how long, their money, and the dearest of them."""
    said = [
        f"{months} months or longer {plural(many, 'part')}, {show_money(cost, coin).rsplit(' ', 1)[0]}"
        for months, (many, cost) in money_asleep(some).items()
        if many
    ]
    names = listed([one.part for one in some], most=NAMED)
    return f"{'; '.join(said)}: {names}" if said else f"nothing lay still for {MONTHS[0]} months"


def asleep_json(some: Sequence[Asleep], exact: Exact) -> dict[str, Value]:
    """Each part, and the sums."""
    return {
        "asleep": [
            {
                "part": one.part,
                "since": one.last,
                "months": one.months,
                "on_hand": exact.amount(one.quantity),
                "worth": exact.money(one.cost),
            }
            for one in some
        ],
        "asleep_worth": {f"{months}": exact.money(cost) for months, (_, cost) in money_asleep(some).items()},
    }
