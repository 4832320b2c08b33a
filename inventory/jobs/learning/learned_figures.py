"""Use rates and losses learned from every booked session.

A rate is one factor for a part and a `per`, over all patterns: the bill's written quantity times the factor is what
is really used. A session's exposure is what the written bills ask of the part for that `per`, in the part's unit, by
the pieces that reached each stage; what a session takes once counts once, as the most any of its patterns asks. So
the first guess is a factor of 1, which claims to be right to within half of it nine times in ten (three quarters for
what is taken once a session); `making.rates.priors` says how far that is believed. `making.rates` has the
regression, `making.losses.learned` the losses.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.catalogue import STAGES, Blank, Catalogue, fold
from inventory.jobs.learning.beliefs import prior_of
from inventory.jobs.learning.billed import BilledUse, quantities
from inventory.jobs.learning.readings import Reading, looks, readings
from inventory.ledger.learned import MILLION, LearnedFigures, LearnedLoss, LearnedRate, millionths
from inventory.ledger.sessions import UNREAD, Happened, Outcome, RateWord
from inventory.making.bom import stages_of
from inventory.making.losses.learned import LossEstimate, learn_losses

if TYPE_CHECKING:
    from inventory.making.rates.model import Learned, Observation, Rate
    from inventory.making.supply_use import Point


def relearn(
    written: Catalogue, happened: Sequence[Happened], words: Sequence[RateWord] = ()
) -> LearnedFigures:
    """All figures anew. written: the catalogue without anything learned; words: oldest first.

    The same whatever was learned before: undoing a session and booking it again changes nothing.
    """
    return LearnedFigures(_rates(written, happened, words), _losses(written, happened))


def learn_on(
    before: LearnedFigures,
    written: Catalogue,
    happened: Sequence[Happened],
    new: Happened,
    words: Sequence[RateWord] = (),
) -> LearnedFigures:
    """What `relearn` gives of all sessions and a new one after them. before: the figures without that one.

    A session that read no bottle's use teaches no rate until somebody looks again: those of before are its own.
    """
    if all(one.way in UNREAD for one in new.observed):
        return LearnedFigures(before.rates, _losses(written, [*happened, new]))
    return relearn(written, [*happened, new], words)


@dataclass(frozen=True, slots=True)
class StandingWords:
    """What the maker's words leave standing. pinned: factors, millionths, by folded part and `per`.

    since: by folded part, the document up to which its sessions are forgotten. A reset of any `per` is one of the
    part: its rates are learned together from the same bottles, so none of them can be begun anew alone.
    """

    pinned: Mapping[str, Mapping[str, int]]
    since: Mapping[str, int]


def standing(words: Sequence[RateWord]) -> StandingWords:
    """The last word on every rate; words: oldest first."""
    pinned: dict[str, dict[str, int]] = {}
    since: dict[str, int] = {}
    for word in words:
        key = fold(word.part)
        if word.word == "pin":
            pinned.setdefault(key, {})[word.per] = word.factor
            continue
        pinned.get(key, {}).pop(word.per, None)
        if word.word == "reset":
            since[key] = max(since.get(key, 0), word.document)
    return StandingWords({key: by_per for key, by_per in pinned.items() if by_per}, since)


def _rates(
    written: Catalogue, happened: Sequence[Happened], words: Sequence[RateWord]
) -> tuple[LearnedRate, ...]:
    seen = looks(happened)
    said = standing(words)
    if not seen and not said.pinned:
        return ()
    asking = BilledUse(written)
    exposures = {one.document: asking.of(one.outcomes) for one in happened}
    by_bill = quantities(written)
    done: list[LearnedRate] = []
    for key in sorted(by_bill.keys() & (seen.keys() | said.pinned.keys())):
        asked = {number: amounts[key] for number, amounts in exposures.items() if key in amounts}
        observations = _observations(readings(seen.get(key, ()), asked), said.since.get(key, 0))
        done += _of_part(written.parts[key].name, tuple(by_bill[key]), observations, said.pinned.get(key, {}))
    return tuple(done)


def _observations(looked: Iterable[Reading], since: int) -> list[Observation]:
    """What sessions after `since` say of a part; those that made nothing with it say nothing of its rates."""
    from inventory.making.rates.model import Observation  # an evening in which nobody weighed teaches no rate

    return [
        Observation(
            one.document,
            one.used / 1000,
            {per: float(amount) for per, amount in one.amounts.items()},
            one.error / 1000,
            one.sessions,
        )
        for one in looked
        if one.first > since and one.amounts
    ]


def _of_part(
    name: str, pers: Sequence[str], observations: Sequence[Observation], pinned: Mapping[str, int]
) -> Iterable[LearnedRate]:
    """The rates of one part, learned together; without any session those that are pinned."""
    from inventory.making.rates.learning import learn

    fixed = {per: factor / MILLION for per, factor in pinned.items() if per in pers}
    asked_for = pers if observations else tuple(fixed)
    if not asked_for:
        return ()
    learned = learn(observations, {per: prior_of(per) for per in asked_for}, fixed)
    points = learned.known.points if observations else ()
    return [_kept(name, rate, learned, points) for rate in learned.rates.values()]


def _kept(name: str, rate: Rate, learned: Learned, points: Sequence[Point]) -> LearnedRate:
    factor = millionths(rate.estimate)
    return LearnedRate(
        name,
        rate.per,
        factor,
        min(millionths(rate.low), factor),
        max(millionths(rate.high), factor),
        rate.sessions,
        tuple(int(number) for number in rate.outliers),
        rate.pinned,
        round(1000 * learned.scatter),
        tuple(millionths(point.factors[rate.per]) for point in points),
        tuple(_hand(point) for point in points),
        round(1000 * learned.known.ordinary),
    )


def _hand(point: Point) -> int:
    """Millionths, at least one; below 0 where sessions differ by the same amount."""
    hand = max(millionths(point.hand), 1)
    return -hand if point.steady else hand


def _losses(written: Catalogue, happened: Sequence[Happened]) -> tuple[LearnedLoss, ...]:
    counts: dict[tuple[str, str], tuple[int, int]] = {}
    for outcome in (outcome for one in happened for outcome in one.outcomes):
        detail = written.part(outcome.blank).detail
        if isinstance(detail, Blank):
            material = written.material(detail.material).name
            for stage in _stages(written, outcome):
                old = counts.get((material, stage), (0, 0))
                counts[material, stage] = (
                    old[0] + outcome.reached(stage),
                    old[1] + outcome.lost.get(stage, 0),
                )
    return tuple(
        LearnedLoss(*key, millionths(one.mean), one.reached, one.lost, round(1000 * one.worth))
        for key, one in loss_estimates(written, counts).items()
    )


def loss_estimates(
    written: Catalogue, counts: Mapping[tuple[str, str], tuple[int, int]]
) -> Mapping[tuple[str, str], LossEstimate]:
    """What is expected of every material at every stage worked at. counts: (reached, lost) by material and stage."""
    worked = {stage for (_, stage), (there, _) in counts.items() if there}
    prior: dict[tuple[str, str], float] = {
        (material.name, stage): float(material.losses.get(stage, Fraction(0)))
        for material in written.materials.values()
        for stage in STAGES
        if stage in worked
    }
    return learn_losses({key: count for key, count in counts.items() if key in prior}, prior)


def _stages(written: Catalogue, outcome: Outcome) -> tuple[str, ...]:
    """Stages a piece can be lost at: those of its pattern, and those at which some were though the bill has changed."""
    named = {*stages_of(written, written.pattern(outcome.pattern)), *outcome.lost}
    return tuple(stage for stage in STAGES if stage in named and stage != "pack")
