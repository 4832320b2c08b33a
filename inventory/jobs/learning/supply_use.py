"""What is known of the use of a shop's supplies: which parts go by rates, and the law of what a session takes of one.

The one place that turns kept figures into laws of `making.supply_use`: order checks, set-asides, lay-out and lists ask
here. Counted parts (kits, tubes, refills) are used as the bills say; of supplies that go by millilitres, strips or
grams only a law is known. Quantities are thousandths of the part's unit.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from math import sqrt

from inventory.catalogue import Part, Supply, fold
from inventory.jobs.learning.beliefs import prior_of
from inventory.ledger.learned import MILLION, LearnedFigures, LearnedRate
from inventory.making.bom import Use
from inventory.making.supply_use import Doubt, KnownUse, Point, doubt, first_guess, from_intervals

WORKED_BY_RATE = frozenset({"adhesive", "abrasive", "finish", "solvent", "sundry"})
SESSION = "session"
LEVEL = 0.9
"""How surely a supply shall last that no order asks for."""


def by_rate(part: Part) -> bool:
    """Whether a session's use of it goes by a rate and is not known exactly."""
    return isinstance(part.detail, Supply) and fold(part.detail.type) in WORKED_BY_RATE


def doubt_of(learned: LearnedFigures, part: Part, uses: Iterable[tuple[Use, float]]) -> Doubt | None:
    """The law of a session's use of a part; None where it is counted.

    uses: what is taken of it, each with the pieces expected. What is taken once counts once: the most any use asks at
    a stage. The law is asked with what the present rates reckon for the pieces.
    """
    if not by_rate(part):
        return None
    each: defaultdict[str, float] = defaultdict(float)
    once: dict[str, Fraction] = {}
    reckoned = 0.0
    for use, pieces in uses:
        reckoned += float(use.per_piece) * pieces
        for per, quantity in use.written:
            if per == SESSION:
                once[use.stage] = max(once.get(use.stage, Fraction(0)), quantity)
            else:
                each[per] += float(quantity) * pieces
    pers = tuple(sorted({*each, *((SESSION,) if once else ())}))
    taken_once = ((SESSION, float(sum(once.values()))),) if once else ()
    return _law(
        _rates(learned, part.name),
        pers,
        tuple((per, quantity / reckoned) for per, quantity in each.items() if reckoned),
        taken_once,
    )


def enough_for(learned: LearnedFigures, part: Part, expected: int, level: float = LEVEL) -> int:
    """What suffices with that probability where at the pace of the past one expects so much, thousandths.

    A pace that was weighed is really used, and differs the less the more sessions it covers; one never weighed is what
    the bills write, and may be off as any first guess.
    """
    if not by_rate(part) or expected <= 0:
        return expected
    rates = [one for one in learned.rates if fold(one.part) == fold(part.name) and one.points]
    known = known_use(learned, part.name, tuple(one.per for one in rates) or ("piece",))
    lines = tuple((point.factors.get("piece", 1.0), 0.0, point.hand, False) for point in known.points)
    if rates:
        usual = known.ordinary * max(one.factor for one in rates) / MILLION
        sessions = max(expected / usual, 1.0) if usual else 1.0
        lines = tuple((1.0, 0.0, point.hand / sqrt(sessions), False) for point in known.points)
    return max(Doubt(lines, (1.0, 0.0), 0.0).enough([(float(expected), 1.0)], level), expected)


def known_use(learned: LearnedFigures, part: str, pers: tuple[str, ...]) -> KnownUse:
    """What is known of a part's use for these `per`."""
    return _known(_rates(learned, part), pers)


def _rates(learned: LearnedFigures, part: str) -> tuple[LearnedRate, ...]:
    key = fold(part)
    return tuple(one for one in learned.rates if fold(one.part) == key)


@lru_cache(maxsize=1024)  # a hundred orders of a few patterns ask for a few laws
def _law(
    rates: tuple[LearnedRate, ...],
    pers: tuple[str, ...],
    each: tuple[tuple[str, float], ...],
    once: tuple[tuple[str, float], ...],
) -> Doubt:
    return doubt(_known(rates, pers), dict(each), dict(once))


@lru_cache(maxsize=1024)
def _known(rates: tuple[LearnedRate, ...], pers: tuple[str, ...]) -> KnownUse:
    taught = {one.per: one for one in rates}
    guessed = first_guess(tuple((per, 1.0, prior_of(per).spread) for per in pers))
    told = next((one for one in rates if one.points), None)
    if told is None:  # none learned, or in a book of an earlier version
        return from_intervals(guessed, {per: _ends(one) for per, one in taught.items()})
    return KnownUse(
        tuple(
            Point({per: _factor(taught, guessed, per, j) for per in pers}, abs(hand) / MILLION, hand < 0)
            for j, hand in enumerate(told.hands)
        ),
        float(told.ordinary),
    )


def _ends(one: LearnedRate) -> tuple[float, float, float]:
    return one.low / MILLION, one.factor / MILLION, one.high / MILLION


def _factor(taught: Mapping[str, LearnedRate], guessed: KnownUse, per: str, j: int) -> float:
    return taught[per].points[j] / MILLION if per in taught else guessed.points[j].factors[per]
