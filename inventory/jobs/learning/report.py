"""Rates and losses as a person reads them: in the part's own unit, with what the sheet said and how sure they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import STAGES, Catalogue, Part, Supply, fold
from inventory.errors import BadInput
from inventory.jobs.learning.beliefs import prior_of
from inventory.jobs.learning.billed import quantities
from inventory.jobs.learning.learned_figures import loss_estimates
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate, exactly, millionths
from inventory.making.rates.priors import factor_quantile

ENDS = (0.05, 0.95)
"""Between these lie nine in ten first guesses."""


@dataclass(frozen=True, slots=True)
class RateLine:
    """One rate, in the part's unit for one of `per`. alike: whether all patterns write the same quantity.

    prior: what the sheets write (the mean, where patterns differ); outliers: documents left out; scatter: what one
    ordinary session uses beside the expected, in the part's unit (one standard deviation).
    """

    part: Part
    per: str
    prior: Fraction
    estimate: Fraction
    low: Fraction
    high: Fraction
    sessions: int
    outliers: tuple[int, ...] = ()
    pinned: bool = False
    alike: bool = True
    scatter: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LossLine:
    """One material at one stage: the sheet's share, the present one, and what taught it."""

    material: str
    stage: str
    prior: Fraction
    estimate: Fraction
    reached: int
    lost: int


def rate_lines(written: Catalogue, learned: LearnedFigures, part: str = "") -> tuple[RateLine, ...]:
    """Every rate of supplies, or those of one part; learned ones first. Raises UnknownName."""
    known = {(fold(one.part), one.per): one for one in learned.rates}
    parts: Iterable[Part] = [written.part(part)] if part else written.parts.values()
    by_bill = quantities(written)
    lines = [
        _line(one, per, several, known.get((fold(one.name), per)))
        for one in parts
        if isinstance(one.detail, Supply)
        for per, several in by_bill.get(fold(one.name), {}).items()
    ]
    return tuple(sorted(lines, key=lambda line: not line.sessions and not line.pinned))


def _line(part: Part, per: str, several: Sequence[Fraction], rate: LearnedRate | None) -> RateLine:
    usual = sum(several, Fraction(0)) / len(several)
    alike = len(several) == 1
    if rate is None:
        spread = prior_of(per).spread
        low, high = (usual * exactly(millionths(factor_quantile(level, spread))) for level in ENDS)
        return RateLine(part, per, usual, usual, low, high, 0, alike=alike)
    return RateLine(
        part,
        per,
        usual,
        usual * exactly(rate.factor),
        usual * exactly(rate.low),
        usual * exactly(rate.high),
        rate.sessions,
        rate.outliers,
        rate.pinned,
        alike,
        Fraction(rate.scatter, 1000),
    )


def pinned_factor(written: Catalogue, part: str, per: str, value: Fraction, *, as_factor: bool) -> int:
    """Millionths of the bill's quantity for a wished rate. Raises BadInput where it is none or does not exist."""
    name = written.part(part).name
    by_per = quantities(written).get(fold(name), {})
    if per not in by_per:
        hint = f"It is taken per {', per '.join(by_per)}." if by_per else "No pattern's bill names it."
        raise BadInput(f"{name} has no rate per {per}.", hint=hint)
    if value < 0:
        raise BadInput("A rate is 0 or more.", hint="Write it like 0.09, or as a factor like x1.2.")
    several = by_per[per]
    if not as_factor and len(several) > 1:
        told = ", ".join(f"{float(one):g}" for one in several)
        raise BadInput(
            f"The patterns write different quantities of {name} per {per}: {told}.",
            hint="Pin how many times these are used: x1.2 is a fifth more.",
        )
    if not as_factor and not several[0]:
        raise BadInput(
            f"The bills write 0 of {name} per {per}, and no factor makes more of that.",
            hint="Write what is used in the bills tab and load it.",
        )
    return _bounded(value if as_factor else value / several[0])


MOST_TIMES = 1_000
"""A use this many times the bill's is a slip of the unit."""


def _bounded(factor: Fraction) -> int:
    if factor > MOST_TIMES:
        raise BadInput(
            f"That is {float(factor):.0f} times what the bills write.",
            hint="Check the unit; if it is right, change the bills tab and load it.",
        )
    return millionths(factor)


def loss_lines(written: Catalogue, learned: LearnedFigures, material: str = "") -> tuple[LossLine, ...]:
    """Every material's losses by stage, or one material's. Raises UnknownName."""
    known: Mapping[tuple[str, str], LearnedLoss] = {
        (fold(one.material), one.stage): one for one in learned.losses
    }
    materials = [written.material(material)] if material else list(written.materials.values())
    done = []
    for one in materials:
        for stage in STAGES:
            found = known.get((fold(one.name), stage))
            prior = one.losses.get(stage, Fraction(0))
            if found is not None:
                done.append(LossLine(one.name, stage, prior, exactly(found.share), found.reached, found.lost))
            elif prior:
                done.append(LossLine(one.name, stage, prior, prior, 0, 0))
    return tuple(done)


def loss_intervals(
    written: Catalogue, learned: LearnedFigures
) -> Mapping[tuple[str, str], tuple[Fraction, Fraction]]:
    """The 90 % interval of every learned loss, by material and stage: what no prediction asks for, only a reader."""
    counts = {(one.material, one.stage): (one.reached, one.lost) for one in learned.losses}
    shares = {(one.material, one.stage): one.share for one in learned.losses}
    return {
        key: (
            exactly(min(millionths(one.low), shares[key])),
            exactly(max(millionths(one.high), shares[key])),
        )
        for key, one in loss_estimates(written, counts).items()
        if key in shares
    }


def changed_rates(
    written: Catalogue, before: LearnedFigures, after: LearnedFigures
) -> Sequence[tuple[RateLine, RateLine]]:
    """Rates that are not what they were, before and after."""
    old = {(line.part.name, line.per): line for line in rate_lines(written, before)}
    return [
        (old[line.part.name, line.per], line)
        for line in rate_lines(written, after)
        if line.estimate != old[line.part.name, line.per].estimate
    ]


def changed_losses(
    written: Catalogue, before: LearnedFigures, after: LearnedFigures
) -> Sequence[tuple[LossLine, LossLine]]:
    """Losses that are not what they were, before and after, of materials that are or were worked."""
    old = {(line.material, line.stage): line for line in loss_lines(written, before)}
    new = {(line.material, line.stage): line for line in loss_lines(written, after)}
    pairs = [
        (old.get(key) or _nothing(*key), new.get(key) or _nothing(*key))
        for key in dict.fromkeys([*new, *old])
    ]
    return [(was, now) for was, now in pairs if was.estimate != now.estimate and (was.reached or now.reached)]


def _nothing(material: str, stage: str) -> LossLine:
    """A stage of which the sheet says nothing and nobody learned."""
    none = Fraction(0)
    return LossLine(material, stage, none, none, 0, 0)
