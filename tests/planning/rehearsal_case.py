"""A made-up scene of any size for rehearsals: parts of several suppliers, kinds made of some of them, orders due."""

from __future__ import annotations

import numpy as np

from inventory.planning.rehearsal.scene import (
    BoughtAs,
    BuyingWay,
    MadeOf,
    Owed,
    Recipe,
    Scene,
    Sender,
    Stream,
    UnderWay,
)


def made_up(parts: int, kinds: int, weeks: int, seed: int, orders: float = 1.0) -> Scene:
    """orders: expected a week in all."""
    dice = np.random.RandomState(seed)
    senders = [
        Sender(int(dice.randint(300, 900)), int(dice.randint(4000, 9000)), list(dice.randint(1, 5, size=4)))
        for _ in range(4)
    ]
    bought = []
    for part in range(parts):
        supplier = min(4 * part // parts, 3)
        price, pack = int(dice.randint(50, 900)), 1000 * int(dice.choice([1, 1, 5, 10]))
        steps = [(0, price), (5, price * 9 // 10), (25, price * 8 // 10)][: int(dice.randint(1, 4))]
        bought.append(
            BoughtAs(supplier, supplier * parts + part // 5, pack, steps, price * 1_000_000 // max(pack, 1))
        )
    streams, made = [], []
    for _ in range(kinds):
        takes = [
            (int(p), int(dice.choice([1000, 1000, 2000, 350])))
            for p in dice.choice(parts, size=min(12, parts), replace=False)
        ]
        lost = [(0.04, Recipe(takes[:3], 15)), (0.03, Recipe(takes[:8], 40))][: int(dice.randint(0, 3))]
        made.append(MadeOf(Recipe(takes, 60), lost, int(dice.choice([0, 0, 0, 3]))))
    each = max(kinds // 20, 1)
    for begin in range(0, kinds, each):
        rows = list(range(begin, min(begin + each, kinds)))
        a_week = orders * len(rows) / kinds * (1 + 0.5 * np.sin(np.arange(weeks)))
        streams.append(
            Stream(
                a_week.tolist(),
                3.0,
                rows,
                dice.uniform(0.2, 1, size=len(rows)).tolist(),
                (1, 2, 6),
                (0.6, 0.3, 0.1),
                (2, 3, 4),
            )
        )
    at = weeks // 2
    streams.append(
        Stream(
            [6.0 * (week == at) for week in range(weeks)],
            4.0,
            [0, kinds - 1],
            [0.5, 0.5],
            notice=(2,),
            market=True,
        )
    )
    owed = [
        Owed(1, [(0, 2000), (parts - 1, 1000)], 300),
        Owed(4, [(0, 1000)], 100),
        Owed(weeks + 3, [(0, 1000)]),
    ]
    coming = [UnderWay(0, 3000, 0, 0), UnderWay(parts - 1, 2000, 2, 3), UnderWay(parts // 2, 5000, weeks, 1)]
    return Scene(
        weeks,
        dice.randint(0, 12000, size=parts).tolist(),
        bought,
        senders,
        made,
        streams,
        owed,
        coming,
        {1: [700, 1000, 1500]},
        [500 + 200 * (week % 3) for week in range(weeks)],
    )


def ways(scene: Scene) -> tuple[BuyingWay, ...]:
    """Looking each week, each month, and before a market."""
    parts = len(scene.start)
    low, up = [1999] * parts, [6000] * parts
    weekly, monthly = [True] * scene.weeks, [week % 4 == 0 for week in range(scene.weeks)]
    once = {scene.weeks // 2 - 2: [4000] * parts}
    return (
        BuyingWay("weekly", low, up, weekly),
        BuyingWay("monthly", low, up, monthly),
        BuyingWay("for the market", [-1] * parts, [0] * parts, weekly, once),
    )
