"""The futures: who asks for what in which week, what is lost in the making, how late parcels come.

They depend on the scene and the seed alone, so that every way of buying lives the same ones (common random numbers:
Law, Simulation Modeling and Analysis, ch. 11, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inventory.planning.rehearsal.dice import cases, counts, draws, ladder
from inventory.planning.rehearsal.scene import TIME, MadeOf, Scene, Stream, Table, table_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.planning.forecasting.arrays import Floats
    from inventory.planning.rehearsal.dice import Draws, Ints

    Small = NDArray[np.int32]

ASKED, WHAT, LOST, STAGE, POSTED, HAND, TIMES = range(7)
"""What a stream of draws is for."""


@dataclass(frozen=True, slots=True)
class Futures:
    """Orders one a row, by future, then as they come; pieces: to be made, none where finished ones serve.

    lost: rows of (future, week, recipe) of failed starts, by future. posted: weeks a parcel sent in a week takes,
    (suppliers, weeks + 1, futures), the last of those on their way now. hands: by part the thousandths of each future.
    """

    many: int
    table: Table
    future: Ints
    week: Ints
    row: Ints
    pieces: Ints
    due: Ints
    market: NDArray[np.bool_]
    lost: tuple[Ints, Ints, Ints]
    posted: Small
    hands: dict[int, Ints]


def futures(scene: Scene, many: int, seed: int) -> Futures:
    """So many futures of a scene."""
    import numpy as np

    table = table_of(scene.kinds)
    asked = _asked(scene, many, seed)
    parts = [_orders(one, asked[at], seed, at) for at, one in enumerate(scene.streams) if asked[at].any()]
    joined = [np.concatenate(some) for some in zip(*parts, strict=True)] if parts else _none()
    order = np.argsort(joined[0] * scene.weeks + joined[1], kind="stable")
    future, week, row, pieces, due, market = (one[order] for one in joined)
    pieces = _to_make(scene.kinds, future, row, pieces)
    lost = _lost(scene.kinds, table, seed, (future, week, row, pieces))
    posted = np.stack(
        [_posted(one.weeks, scene.weeks, many, seed, at) for at, one in enumerate(scene.senders)]
    )
    hands = {part: _evenly(draws(seed, (HAND, part), many), points) for part, points in scene.hands.items()}
    return Futures(many, table, future, week, row, pieces, due, market.astype(bool), lost, posted, hands)


def _none() -> list[Ints]:
    import numpy as np

    return [np.zeros(0, dtype=np.int64)] * 6


def _asked(scene: Scene, many: int, seed: int) -> Ints:
    """Orders by stream, week and future. Given n orders while M were expected, the next week's number is negative
    binomial of size r + n with odds μ / (r + M + μ), μ by how good a time it is."""
    import numpy as np

    streams = scene.streams
    done = np.zeros((len(streams), scene.weeks, many), dtype=np.int64)
    if not streams:
        return done
    drawn = np.stack(
        [
            draws(seed, (ASKED, at), many * scene.weeks).reshape(scene.weeks, many)
            for at in range(len(streams))
        ]
    )
    shape = np.array([one.shape for one in streams])
    expected = np.array([one.expected for one in streams], dtype=float)
    market = np.array([one.market for one in streams])
    swings = (
        _evenly(draws(seed, (TIMES,), many * scene.weeks), scene.swings).reshape(scene.weeks, many) / 1000
    )
    seen, before = np.zeros((len(streams), many)), np.zeros((len(streams), many))
    for week in range(scene.weeks):
        good = swings[week - week % TIME]
        now = expected[:, week, None] * np.where(market[:, None], 1.0, good)
        odds = (now / (shape[:, None] + before + now)).ravel()
        found = counts(drawn[:, week].ravel(), (shape[:, None] + seen).ravel(), odds)
        done[:, week] = found.reshape(len(streams), many)
        seen += done[:, week]
        before += now
    return done


def _orders(stream: Stream, asked: Ints, seed: int, at: int) -> tuple[Ints, ...]:
    """A stream's orders: future, week, row, pieces, due week, market."""
    import numpy as np

    week, future = np.nonzero(asked)
    times = asked[week, future]
    week, future = np.repeat(week, times), np.repeat(future, times)
    what, size, notice = draws(seed, (WHAT, at), 3 * len(week)).reshape(3, len(week))
    rows = np.array(stream.rows)[cases(what, stream.shares)]
    pieces = np.array(stream.sizes)[cases(size, stream.size_shares)]
    due = week + _evenly(notice, stream.notice)
    return future, week, rows, pieces, due, np.full(len(week), int(stream.market))


def _to_make(kinds: Sequence[MadeOf], future: Ints, row: Ints, pieces: Ints) -> Ints:
    """Pieces less those that lie finished: the first asked for get them. Orders stand by future, then as they come."""
    import numpy as np

    done = pieces.copy()
    for at, kind in enumerate(kinds):
        mine = np.flatnonzero(row == at)
        if kind.finished and mine.size:
            sums = np.cumsum(pieces[mine])
            starts = np.flatnonzero(np.diff(future[mine], prepend=-1))
            base = np.repeat(sums[starts] - pieces[mine][starts], np.diff([*starts, mine.size]))
            until = np.maximum(sums - base - kind.finished, 0)
            done[mine] = until - np.maximum(sums - base - pieces[mine] - kind.finished, 0)
    return done


def _lost(
    kinds: Sequence[MadeOf], table: Table, seed: int, orders: tuple[Ints, Ints, Ints, Ints]
) -> tuple[Ints, Ints, Ints]:
    """Failed starts until so many good pieces are there: negative binomial, each at a stage by its share."""
    import numpy as np

    future, week, row, pieces = orders
    fails = np.array([sum(share for share, _ in kind.lost) for kind in kinds])
    some = np.flatnonzero((pieces > 0) & (fails[row] > 0)) if len(kinds) else np.zeros(0, dtype=np.int64)
    drawn = draws(seed, (LOST,), len(some))
    times = counts(drawn, pieces[some].astype(float), fails[row[some]])
    failed = np.repeat(some, times)
    steps, rows = _stages(kinds, table)
    drawn = draws(seed, (STAGE,), len(failed))
    stage = (steps[row[failed]] <= drawn[:, None]).sum(axis=1)
    return future[failed], week[failed], rows[row[failed], stage]


def _stages(kinds: Sequence[MadeOf], table: Table) -> tuple[Floats, Ints]:
    """By kind the steps of where it fails, and the row of the table for each; padded to one width."""
    import numpy as np

    width = max([1, *(len(kind.lost) for kind in kinds)])
    steps = np.full((len(kinds), width - 1), np.inf)
    rows = np.zeros((len(kinds), width), dtype=np.int64)
    for at, kind in enumerate(kinds):
        if kind.lost:
            steps[at, : len(kind.lost) - 1] = ladder([share for share, _ in kind.lost])
            rows[at, : len(kind.lost)] = table.lost[at]
    return steps, rows


def _posted(weeks: Sequence[int], until: int, many: int, seed: int, at: int) -> Small:
    import numpy as np

    found = _evenly(draws(seed, (POSTED, at), many * (until + 1)), weeks)
    return found.astype(np.int32).reshape(until + 1, many)


def _evenly(drawn: Draws, among: Sequence[int]) -> Ints:
    """One of these for each draw, each as likely."""
    import numpy as np

    return np.array(among, dtype=np.int64)[cases(drawn, [1.0] * len(among))]
