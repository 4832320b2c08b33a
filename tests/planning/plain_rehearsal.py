"""The same events as `inventory.planning.rehearsal.living`, one future after the other, in plain loops over lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inventory.planning.rehearsal.drawing import Futures
from inventory.planning.rehearsal.scene import SCALE, BuyingWay, Recipe, Scene

if TYPE_CHECKING:
    from inventory.planning.rehearsal.dice import Ints

Told = dict[str, int]


def live_plainly(
    scene: Scene, drawn: Futures, way: BuyingWay, future: int
) -> tuple[Told, list[int], list[list[int]]]:
    """What became of one future, what lay in stock by week, and by part and week what was lacking of it."""
    parts, weeks = range(len(scene.start)), range(scene.weeks)
    asks, work = _asked(scene, drawn, future)
    have, asked = list(scene.start), [0 for _ in parts]
    comes = _coming(scene, drawn, future)
    on_its_way = [sum(one.quantity for one in scene.coming if one.part == part) for part in parts]
    told = dict.fromkeys(("late", "missed", "goods", "postage", "parcels"), 0)
    told["begun"] = sum((have[p] + on_its_way[p]) * scene.bought[p].worth for p in parts) // SCALE
    lacks, held = [[0 for _ in weeks] for _ in parts], []
    had, wanted, lines, line = [], [], [], 0
    for week in weeks:
        for part, quantity in comes[week]:
            have[part] += quantity
            on_its_way[part] -= quantity
        worth = 0
        for part in parts:
            asked[part] += asks[week][part]
            net = have[part] - asked[part]
            lacks[part][week] = max(-net, 0)
            worth += max(net, 0) * scene.bought[part].worth
        held.append(worth // SCALE)
        if way.looks[week]:
            _order(scene, drawn, way, (week, future), (have, asked, on_its_way), comes, told)
        had.append(list(have))
        wanted.append(list(asked))
        if scene.hours is not None:
            line = max(line + work[week] - scene.hours[week], 0)
        lines.append(line)
    told["left"] = sum((have[p] + on_its_way[p] - asked[p]) * scene.bought[p].worth for p in parts) // SCALE
    _late(scene, drawn, future, (had, wanted, lines), told)
    return told, held, lacks


def _of(sorted_futures: Ints, future: int) -> slice:
    """The rows of one future."""
    begin, end = sorted_futures.searchsorted([future, future + 1])
    return slice(int(begin), int(end))


def _asked(scene: Scene, drawn: Futures, future: int) -> tuple[list[list[int]], list[int]]:
    recipes: list[Recipe] = [kind.good for kind in scene.kinds]
    for kind in scene.kinds:
        recipes += [recipe for _, recipe in kind.lost]
    asks = [[0 for _ in scene.start] for _ in range(scene.weeks)]
    work = [0 for _ in range(scene.weeks)]
    mine, gone = _of(drawn.future, future), _of(drawn.lost[0], future)
    made = list(zip(*(one[mine].tolist() for one in (drawn.week, drawn.row, drawn.pieces)), strict=True))
    made += [
        (week, row, 1) for week, row in zip(*(one[gone].tolist() for one in drawn.lost[1:]), strict=True)
    ]
    for week, row, pieces in made:
        for part, units in recipes[row].takes:
            asks[week][part] += units * pieces
        work[week] += recipes[row].minutes * pieces
    for part, each in drawn.hands.items():
        for week in range(scene.weeks):
            asks[week][part] = (asks[week][part] * int(each[future]) + 500) // 1000
    for owed in scene.owed:
        for part, units in owed.takes:
            asks[0][part] += units
        work[0] += owed.minutes
    return asks, work


def _coming(scene: Scene, drawn: Futures, future: int) -> list[list[tuple[int, int]]]:
    comes: list[list[tuple[int, int]]] = [[] for _ in range(scene.weeks)]
    for one in scene.coming:
        late = int(drawn.posted[one.sender, scene.weeks, future]) - min(scene.senders[one.sender].weeks)
        week = max(one.week + late, 0)
        if week < scene.weeks:
            comes[week].append((one.part, one.quantity))
    return comes


def _order(
    scene: Scene,
    drawn: Futures,
    way: BuyingWay,
    when: tuple[int, int],
    stocks: tuple[list[int], list[int], list[int]],
    comes: list[list[tuple[int, int]]],
    told: Told,
) -> None:
    week, future = when
    have, asked, on_its_way = stocks
    packs, groups = {}, dict[int, int]()
    for part, one in enumerate(scene.bought):
        more = way.ahead[week][part] if week in way.ahead else 0
        stock = have[part] + on_its_way[part] - asked[part]
        if stock <= way.level[part] + more:
            packs[part] = max(-(-(way.up_to[part] + more - stock) // one.pack), 0)
            groups[one.group] = groups.get(one.group, 0) + packs[part]
    spent: dict[int, int] = {}
    for part, many in packs.items():
        one = scene.bought[part]
        if many:
            price = [price for packs_from, price in one.steps if packs_from <= groups[one.group]]
            spent[one.supplier] = spent.get(one.supplier, 0) + many * (price or [one.steps[0][1]])[-1]
            on_its_way[part] += many * one.pack
            arrives = week + int(drawn.posted[one.supplier, week, future])
            if arrives < scene.weeks:
                comes[arrives].append((part, many * one.pack))
    for supplier, goods in spent.items():
        sender = scene.senders[supplier]
        told["goods"] += goods
        told["parcels"] += 1
        told["postage"] += sender.postage if goods < sender.free_from else 0


def _late(
    scene: Scene,
    drawn: Futures,
    future: int,
    seen: tuple[list[list[int]], list[list[int]], list[int]],
    told: Told,
) -> None:
    had, wanted, lines = seen
    hours = scene.hours
    mine = _of(drawn.future, future)
    columns = (drawn.week, drawn.row, drawn.pieces, drawn.due, drawn.market)
    for week, row, pieces, due, market in zip(*(one[mine].tolist() for one in columns), strict=True):
        if not pieces or due >= scene.weeks:
            continue
        late = any(had[due][part] < wanted[week][part] for part, _ in scene.kinds[row].good.takes)
        late = late or (hours is not None and lines[week] > sum(hours[week + 1 : due + 1]))
        if late:
            told["missed" if market else "late"] += pieces if market else 1
    before, minutes = dict[int, int](), 0
    for owed in sorted(scene.owed, key=lambda owed: owed.due):
        minutes += owed.minutes
        for part, units in owed.takes:
            before[part] = before.get(part, 0) + units
        if owed.due < scene.weeks:
            late = any(had[owed.due][part] < before[part] for part, _ in owed.takes)
            told["late"] += late or (hours is not None and minutes > sum(hours[: owed.due + 1]))
