"""Rehearsing the coming weeks from the book: ways of buying side by side, what runs out, what sleeps.

What a way costs: goods and postage, less what more is there or on its way at the end than at the beginning, what is
owed counting as missing; and what it costs to hold stock, a share of it a year. Orders that are late stand beside it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from inventory.catalogue import Piece, Tool, fold
from inventory.errors import BadInput, Refused
from inventory.jobs.ahead.levels import DemandPast, Levels, levels
from inventory.jobs.ahead.scene import Staged, staged
from inventory.jobs.ahead.terms import HOLDING, minor_units
from inventory.jobs.learning.supply_use import by_rate
from inventory.jobs.purchasing.demand import unclaimed
from inventory.jobs.purchasing.shopping import HORIZON
from inventory.ledger.shop import Shop
from inventory.planning.rehearsal.drawing import Futures, futures
from inventory.planning.rehearsal.living import Lived, live, used_up
from inventory.planning.rehearsal.scene import NEVER, BuyingWay
from inventory.planning.rehearsal.telling import cost, difference, spread
from inventory.reports.rehearsed import Rehearsed, RehearsedWay, Sleeps

AS_NOW, WEEKLY, MONTHLY, WORKED_OUT = "as now", "every week", "every four weeks", "levels worked out"
BEFORE = "before each market"
SHOP_AHEAD = 2
"""Weeks before its pieces are made in which the parts for a market are ordered (an assumption)."""
MOST_WEEKS, MOST_FUTURES = 104, 20_000
SURELY = 0.95


@dataclass(frozen=True, slots=True)
class Rehearsing:
    """What is asked for. notice: see `scene.notices`."""

    weeks: int = 26
    futures: int = 1000
    seed: int = 1
    notice: Sequence[int] = ()


def rehearse(shop: Shop, past: DemandPast, asked: Rehearsing) -> Rehearsed:
    """The coming weeks, many times over.

    Raises BadInput for numbers of weeks or futures that make no sense, Refused where nothing is bought.
    """
    for what, many, most in (("weeks", asked.weeks, MOST_WEEKS), ("futures", asked.futures, MOST_FUTURES)):
        if not 2 <= many <= most:
            raise BadInput(f"{many} {what} cannot be rehearsed.", hint=f"Give 2 to {most} of them.")
    made, end = levels(shop, past), shop.today + timedelta(weeks=asked.weeks)
    stage = staged(shop, made, asked.notice, asked.weeks)
    if not stage.scene.bought:
        raise Refused(
            "There is nothing to rehearse: no part that is used has an offer.",
            hint="Load what is made and who sells its parts first: `kitdrawer columns --save shop.xlsx`.",
        )
    drawn = futures(stage.scene, asked.futures, asked.seed)
    ways = ways_of(shop, made, stage)
    lived = live(stage.scene, drawn, ways)
    return Rehearsed(
        asked.seed,
        asked.weeks,
        asked.futures,
        shop.today,
        shop.currency,
        tuple(_told(shop, stage, one, lived[0]) for one in lived),
        {key: shop.catalogue.parts[key] for key in stage.parts},
        _sleeps(shop, stage, drawn),
        len(stage.scene.owed) + int((~drawn.market).sum()) / asked.futures,
        float(drawn.pieces[drawn.market].sum()) / asked.futures,
        made.expected.weeks,
        stage.scene.hours is not None,
        tuple((one.name, one.on) for one in made.expected.markets if one.on < end),
    )


def ways_of(shop: Shop, made: Levels, stage: Staged) -> tuple[BuyingWay, ...]:
    """As the levels that are typed say, by shopping trips as often as they were, each week and each month; and by
    levels that are worked out."""
    weeks = stage.scene.weeks
    usual = max(round(made.trip / 7), 1)
    typed, worked = _typed(shop, made, stage), _worked_out(made, stage)
    rows = [(AS_NOW, typed, usual), (WEEKLY, typed, 1), (MONTHLY, typed, 4), (WORKED_OUT, worked, usual)]
    ways = [
        BuyingWay(name, *pair, [week % every == 0 for week in range(weeks)])
        for name, pair, every in rows
        if name in (AS_NOW, WORKED_OUT) or every != usual
    ]
    ahead = _before_markets(stage)
    if ahead:
        ways.insert(-1, BuyingWay(BEFORE, *typed, [week in ahead for week in range(weeks)], ahead))
    return tuple(ways)


def _before_markets(stage: Staged) -> dict[int, list[int]]:
    """By the week in which to shop for a market, what it is expected to take of each part."""
    scene = stage.scene
    done: dict[int, list[int]] = {}
    for stream in scene.streams:
        if stream.market:
            week = next(at for at, many in enumerate(stream.expected) if many)
            takes = done.setdefault(max(week - SHOP_AHEAD, 0), [0] * len(stage.parts))
            for row, share in zip(stream.rows, stream.shares, strict=True):
                pieces = stream.expected[week] * share / sum(stream.shares)
                for part, units in scene.kinds[row].good.takes:
                    takes[part] += round(pieces * units)
    return done


Pair = tuple[list[int], list[int]]
"""By part: at what stock to order, and up to what."""


def _typed(shop: Shop, made: Levels, stage: Staged) -> Pair:
    """Below a typed level up to it; supplies to last as long as a list looks ahead; of all else what is asked for."""
    rates = {fold(one.part.name): one.rate for one in made.parts}
    up_to = []
    for key in stage.parts:
        part = shop.catalogue.parts[key]
        lasts = round(1000 * rates.get(key, 0.0) * HORIZON.days / 7) if by_rate(part) else 0
        up_to.append(max(part.level or 0, lasts))
    return _bought_only(stage, [one - 1 for one in up_to], up_to)


def _worked_out(made: Levels, stage: Staged) -> Pair:
    rows = {fold(one.part.name): (one.reorder_at, one.up_to) for one in made.parts}
    pairs = [rows.get(key, (0, 0)) for key in stage.parts]
    return _bought_only(stage, [at - 1 for at, _ in pairs], [up for _, up in pairs])


def _bought_only(stage: Staged, level: list[int], up_to: list[int]) -> Pair:
    """Nothing is ordered that nobody sells."""
    sold = [source is not None for source in stage.sources]
    return [one if some else NEVER for one, some in zip(level, sold, strict=True)], up_to


def _told(shop: Shop, stage: Staged, one: Lived, first: Lived) -> RehearsedWay:
    coin, weeks = float(minor_units(shop)), stage.scene.weeks
    many = one.held.shape[1]
    return RehearsedWay(
        one.way,
        spread(one.late),
        spread(one.missed),
        spread(cost(one, HOLDING / 52), coin),
        spread(one.held.sum(axis=0), coin * weeks),
        tuple(spread(week, coin) for week in one.held),
        int(one.parcels.sum()) / many,
        difference(cost(first, HOLDING / 52), cost(one, HOLDING / 52), coin),
        difference(first.late, one.late),
        {key: tuple(row) for key, row in zip(stage.parts, (one.waits / many).tolist(), strict=True)},
    )


def _sleeps(shop: Shop, stage: Staged, drawn: Futures) -> tuple[Sleeps, ...]:
    """What is there, free or due in for nobody, beyond what is used up in all but one future in twenty."""
    used = dict(zip(stage.parts, used_up(stage.scene, drawn, SURELY), strict=True))
    worth = {key: one.worth for key, one in zip(stage.parts, stage.scene.bought, strict=True)}
    done = []
    for key, part in shop.catalogue.parts.items():
        if isinstance(part.detail, Tool | Piece):
            continue
        there = unclaimed(shop, part, shop.today) if key not in used else _there(shop, key)
        left = there - used.get(key, 0)
        if left >= 1000:
            done.append(Sleeps(part, left, _worth(shop, key, left, worth)))
    return tuple(sorted(done, key=lambda one: (-one.worth, one.part.name)))


def _there(shop: Shop, key: str) -> int:
    balance = shop.book.balance(key)
    return balance.on_hand + balance.due_in


def _worth(shop: Shop, key: str, quantity: int, worth: Mapping[str, int]) -> float:
    """By what it costs in the book, else by what it is bought for."""
    lots = shop.book.lots_of(key)
    held = sum(lot.quantity for lot in lots)
    each = sum(lot.cost for lot in lots) / held if held else worth.get(key, 0) / 1e6
    return each * quantity / minor_units(shop)
