"""Use rates and losses learned from every booked session.

A rate is one factor for a part and a `per`, over all patterns: the bill's written quantity times the factor is what
is really used. A session's exposure is what the written bills ask of the part for that `per`, in the part's unit, by
the pieces that reached each stage; what a session takes once counts once, as the most any of its patterns asks. So
the first guess is a factor of 1, right to within half of it nine times in ten (within all of it for what is taken
once a session, which is a guess indeed). `making.rates` has the regression, `making.learned_losses` the losses.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from inventory.catalogue import STAGES, Blank, Catalogue, fold
from inventory.ledger.sessions import (
    MILLION,
    Happened,
    LearnedFigures,
    LearnedLoss,
    LearnedRate,
    Observed,
    Outcome,
    RateWord,
    exactly,
    millionths,
)
from inventory.making.bill import times, whole_bill
from inventory.making.learned_losses import learn_losses
from inventory.making.rates import Observation, Prior, learn

SPREAD: Final = 0.5
SESSION_SPREAD: Final = 1.0
ROLES_COUNTED: Final = "the "
"""Lines for a role (the kit, the tubes) are counted pieces; nothing is learned of them."""


def relearn(
    written: Catalogue, happened: Sequence[Happened], words: Sequence[RateWord] = ()
) -> LearnedFigures:
    """All figures anew. written: the catalogue without anything learned; words: oldest first.

    The same whatever was learned before: undoing a session and booking it again changes nothing.
    """
    return LearnedFigures(_rates(written, happened, words), _losses(written, happened))


def with_learned(written: Catalogue, learned: LearnedFigures) -> Catalogue:
    """The catalogue as everybody will see it once these figures are booked."""
    losses: dict[str, dict[str, Fraction]] = {}
    for one in learned.losses:
        losses.setdefault(fold(one.material), {})[one.stage] = exactly(one.share)
    materials = {
        key: replace(material, losses={**material.losses, **losses.get(key, {})})
        for key, material in written.materials.items()
    }
    factors = {(fold(one.part), one.per): exactly(one.factor) for one in learned.rates}
    return replace(written, materials=materials, factors=factors)


def reached(outcome: Outcome, stage: str) -> int:
    """Pieces of an outcome that reached a stage: good ones, and those lost there or later."""
    at = STAGES.index(stage)
    return outcome.good + sum(many for where, many in outcome.lost.items() if STAGES.index(where) >= at)


def asked(written: Catalogue, outcomes: Iterable[Outcome]) -> dict[str, dict[str, Fraction]]:
    """What the written bills ask for these outcomes: units of each part, by folded name and `per`."""
    sums: dict[str, dict[str, Fraction]] = {}
    once: dict[str, dict[tuple[str, str], int]] = {}
    for outcome in outcomes:
        pattern = written.pattern(outcome.pattern)
        family = written.family(pattern.family)
        for line in whole_bill(written, pattern):
            pieces = reached(outcome, line.stage)
            key = fold(line.part)
            if not pieces or (key.startswith(ROLES_COUNTED) and key not in written.parts):
                continue
            if line.per == "session":
                most = once.setdefault(key, {})
                at = (fold(pattern.name), line.stage)
                most[at] = most.get(at, 0) + (0 if at in most else line.quantity)
                continue
            each = times(written, family, line.per, outcome.extra_diameter)
            by_per = sums.setdefault(key, {})
            by_per[line.per] = by_per.get(line.per, Fraction(0)) + line.quantity * each * pieces / 1000
    for key, by_pattern in once.items():
        stages: dict[str, int] = {}
        for (_, stage), quantity in by_pattern.items():
            stages[stage] = max(stages.get(stage, 0), quantity)
        sums.setdefault(key, {})["session"] = Fraction(sum(stages.values()), 1000)
    return sums


def pers_of(written: Catalogue, part: str) -> tuple[str, ...]:
    """The `per`s by which any pattern's bill takes a part."""
    key = fold(part)
    found = {
        line.per: None
        for pattern in written.patterns.values()
        if pattern.bill
        for line in whole_bill(written, pattern)
        if fold(line.part) == key
    }
    return tuple(found)


def prior_of(per: str) -> Prior:
    """What is believed of a factor before any session."""
    return Prior(1.0, SESSION_SPREAD if per == "session" else SPREAD)


def _rates(
    written: Catalogue, happened: Sequence[Happened], words: Sequence[RateWord]
) -> tuple[LearnedRate, ...]:
    seen: dict[str, list[tuple[int, Observed]]] = {}
    for one in happened:
        for observed in one.observed:
            seen.setdefault(fold(observed.part), []).append((one.document, observed))
    pins, since = _words(words)
    exposures = {one.document: asked(written, one.outcomes) for one in happened} if seen else {}
    done: list[LearnedRate] = []
    for key in sorted(seen.keys() | pins.keys()):
        if key in written.parts:
            done += _of_part(written, key, seen.get(key, []), exposures, pins.get(key, {}), since.get(key, 0))
    return tuple(done)


def _words(words: Sequence[RateWord]) -> tuple[dict[str, dict[str, int]], dict[str, int]]:
    """Pinned factors by part and per, and the document up to which a part's sessions are forgotten."""
    pins: dict[str, dict[str, int]] = {}
    since: dict[str, int] = {}
    for word in words:
        key = fold(word.part)
        if word.word == "pin":
            pins.setdefault(key, {})[word.per] = word.factor
            continue
        pins.get(key, {}).pop(word.per, None)
        if word.word == "reset":
            since[key] = max(since.get(key, 0), word.document)
    return {key: by_per for key, by_per in pins.items() if by_per}, since


def _of_part(
    written: Catalogue,
    key: str,
    seen: Sequence[tuple[int, Observed]],
    exposures: Mapping[int, Mapping[str, Mapping[str, Fraction]]],
    pinned: Mapping[str, int],
    since: int,
) -> list[LearnedRate]:
    """The rates of one part; one session's several bottles are one observation already."""
    name = written.parts[key].name
    pers = pers_of(written, name)
    if not pers:
        return []
    observations = [
        Observation(
            document,
            one.used / 1000,
            {per: float(amount) for per, amount in exposures[document].get(key, {}).items()},
            one.error / 1000,
        )
        for document, one in seen
        if document > since and exposures[document].get(key)
    ]
    fixed = {per: factor / MILLION for per, factor in pinned.items() if per in pers}
    if not observations and not fixed:
        return []
    learned = learn(observations, {per: prior_of(per) for per in pers}, fixed)
    return [
        LearnedRate(
            name,
            per,
            millionths(rate.estimate),
            min(millionths(rate.low), millionths(rate.estimate)),
            max(millionths(rate.high), millionths(rate.estimate)),
            rate.sessions,
            tuple(int(number) for number in rate.outliers),
            rate.pinned,
            round(1000 * learned.scatter),
        )
        for per, rate in learned.rates.items()
    ]


def _losses(written: Catalogue, happened: Sequence[Happened]) -> tuple[LearnedLoss, ...]:
    counts: dict[tuple[str, str], tuple[int, int]] = {}
    for one in happened:
        for outcome in one.outcomes:
            detail = written.part(outcome.blank).detail
            if isinstance(detail, Blank):
                _count(counts, written.material(detail.material).name, outcome, _stages(written, outcome))
    if not counts:
        return ()
    stages = {stage for _, stage in counts}
    prior: dict[tuple[str, str], float] = {
        (material.name, stage): float(material.losses.get(stage, Fraction(0)))
        for material in written.materials.values()
        for stage in STAGES
        if stage in stages
    }
    learned = learn_losses(counts, prior)
    return tuple(
        LearnedLoss(
            material,
            stage,
            millionths(one.mean),
            millionths(one.low),
            millionths(one.high),
            one.reached,
            one.lost,
        )
        for (material, stage), one in learned.items()
    )


def _stages(written: Catalogue, outcome: Outcome) -> tuple[str, ...]:
    """Stages a piece can be lost at: those of its bill, and those of tubed barrels though they take no part."""
    pattern = written.pattern(outcome.pattern)
    named = {line.stage for line in whole_bill(written, pattern)} | {"cut", "turn"} | set(outcome.lost)
    if any(barrel.tube for barrel in written.family(pattern.family).barrels):
        named |= {"drill", "glue", "trim"}
    return tuple(stage for stage in STAGES if stage in named and stage != "pack")


def _count(
    counts: dict[tuple[str, str], tuple[int, int]], material: str, outcome: Outcome, stages: Iterable[str]
) -> None:
    for stage in stages:
        old = counts.get((material, stage), (0, 0))
        counts[material, stage] = (old[0] + reached(outcome, stage), old[1] + outcome.lost.get(stage, 0))
