"""Rates and losses as a person reads them: in the part's own unit, with what the sheet said and how sure they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import STAGES, Catalogue, Part, Supply, fold
from inventory.errors import BadInput
from inventory.jobs.learning import pers_of, prior_of
from inventory.ledger.sessions import LearnedFigures, LearnedLoss, LearnedRate, exactly, millionths
from inventory.making.bill import whole_bill


@dataclass(frozen=True, slots=True)
class RateLine:
    """One rate, in the part's unit for one of `per`. alike: whether all patterns write the same quantity.

    prior: what the sheets write (the mean, where patterns differ); outliers: documents left out.
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


@dataclass(frozen=True, slots=True)
class LossLine:
    """One material at one stage: the sheet's share, the present one, its 90 % interval, and what taught it."""

    material: str
    stage: str
    prior: Fraction
    estimate: Fraction
    low: Fraction
    high: Fraction
    reached: int
    lost: int


def written_quantities(written: Catalogue, part: str, per: str) -> tuple[Fraction, ...]:
    """What the bills write for one `per` of a part, in its unit: every different quantity, smallest first."""
    key = fold(part)
    found = {
        Fraction(line.quantity, 1000)
        for pattern in written.patterns.values()
        if pattern.bill
        for line in whole_bill(written, pattern)
        if fold(line.part) == key and line.per == per
    }
    return tuple(sorted(found))


def rate_lines(written: Catalogue, learned: LearnedFigures, part: str = "") -> tuple[RateLine, ...]:
    """Every rate of supplies, or those of one part; learned ones first. Raises UnknownName."""
    known = {(fold(one.part), one.per): one for one in learned.rates}
    parts: Iterable[Part] = [written.part(part)] if part else written.parts.values()
    lines = [
        _line(written, one, per, known.get((fold(one.name), per)))
        for one in parts
        if isinstance(one.detail, Supply)
        for per in pers_of(written, one.name)
    ]
    return tuple(sorted(lines, key=lambda line: not line.sessions and not line.pinned))


def _line(written: Catalogue, part: Part, per: str, rate: LearnedRate | None) -> RateLine:
    quantities = written_quantities(written, part.name, per)
    usual = sum(quantities, Fraction(0)) / len(quantities)
    alike = len(quantities) == 1
    if rate is None:
        first = prior_of(per)
        spread = Fraction(first.spread)
        return RateLine(
            part,
            per,
            usual,
            usual,
            usual * max(1 - spread, Fraction(0)),
            usual * (1 + spread),
            0,
            alike=alike,
        )
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
    )


def pinned_factor(written: Catalogue, part: str, per: str, value: Fraction, *, as_factor: bool) -> int:
    """Millionths of the bill's quantity for a wished rate. Raises BadInput where the rate is none or does not exist."""
    name = written.part(part).name
    pers = pers_of(written, name)
    if per not in pers:
        hint = f"It is taken per {', per '.join(pers)}." if pers else "No pattern's bill names it."
        raise BadInput(f"{name} has no rate per {per}.", hint=hint)
    if value < 0:
        raise BadInput("A rate is 0 or more.", hint="Write it like 0.09, or as a factor like x1.2.")
    if as_factor:
        return millionths(value)
    quantities = written_quantities(written, name, per)
    if len(quantities) > 1:
        told = ", ".join(f"{float(one):g}" for one in quantities)
        raise BadInput(
            f"The patterns write different quantities of {name} per {per}: {told}.",
            hint="Pin how many times these are used: x1.2 is a fifth more.",
        )
    return millionths(value / quantities[0])


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
                shares = exactly(found.share), exactly(found.low), exactly(found.high)
                done.append(LossLine(one.name, stage, prior, *shares, found.reached, found.lost))
            elif prior:
                done.append(LossLine(one.name, stage, prior, prior, prior, prior, 0, 0))
    return tuple(done)


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
    """Losses that are not what they were, before and after, of materials that were worked."""
    old = {(line.material, line.stage): line for line in loss_lines(written, before)}
    done = []
    for line in loss_lines(written, after):
        was = old.get((line.material, line.stage)) or LossLine(
            line.material, line.stage, Fraction(0), Fraction(0), Fraction(0), Fraction(0), 0, 0
        )
        if line.estimate != was.estimate and line.reached:
            done.append((was, line))
    return done
