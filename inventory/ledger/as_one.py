"""The past of parts that are one now: what was seen of either was seen of the one, as if it always had one name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import hypot

from inventory.catalogue import fold
from inventory.ledger.sessions import Happened, Observed, RateWord, Way

Called = Mapping[str, str]
"""What parts are called now, by the folded names they had."""
_TELLS: tuple[Way, ...] = ("not learned", "counted", "weighed", "weighed twice", "used", "by the bill")
"""Which of two ways stands for both: a look tells of the whole part, and what cannot be learned from spoils the sum."""


def happened_as_one(happened: Iterable[Happened], called: Called) -> tuple[Happened, ...]:
    """Sessions with their parts under the names they have now."""
    return tuple(replace(one, observed=_seen(one.observed, called)) for one in happened)


def words_as_one(words: Iterable[RateWord], called: Called) -> tuple[RateWord, ...]:
    """What was said of rates, of the parts as they are now."""
    return tuple(replace(one, part=called.get(fold(one.part), one.part)) for one in words)


def _seen(observed: Iterable[Observed], called: Called) -> tuple[Observed, ...]:
    done: dict[str, Observed] = {}
    for one in observed:
        now = replace(one, part=called.get(fold(one.part), one.part))
        key = fold(now.part)
        done[key] = _both(done[key], now) if key in done else now
    return tuple(done.values())


def _both(one: Observed, other: Observed) -> Observed:
    """Two things seen of one part in one session: what was used of both, each measured apart from the other."""
    way = min(one.way, other.way, key=_TELLS.index)
    return Observed(one.part, one.used + other.used, round(hypot(one.error, other.error)), way)
