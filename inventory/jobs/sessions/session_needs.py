"""What the pieces of one session need together: in working order, how probably it lasts, and glue by the pot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, sqrt

from inventory.catalogue import STAGES, Part, Supply, fold
from inventory.jobs.learning.supply_use import doubt_of
from inventory.jobs.orders.needs import shared
from inventory.jobs.sessions.cut_plan import CutReport, cut_together
from inventory.jobs.sessions.plan_rows import PlanRow
from inventory.ledger.availability import free
from inventory.ledger.learned import MILLION, LearnedFigures
from inventory.ledger.shop import Shop
from inventory.making.bom import Use
from inventory.making.consumption import by_piece, supplied_by_kits
from inventory.making.distributions import Distribution, both, mean, suffices, use_of
from inventory.making.evening import all_enough
from inventory.making.rates.priors import NINE_IN_TEN

FIRST_GUESS = 0.5
"""Nine in ten first guesses of a rate are right to within half of it (see `making.rates`)."""
TUBE_MINUTES = 1
"""Minutes it takes to glue one tube in, where the settings say nothing (an assumption)."""


@dataclass(frozen=True, slots=True)
class Together:
    """One part over all rows of a session, thousandths of its unit.

    need: by stage, of counted parts at the confidence of each row, of supplies what suffices for all rows together at
    the highest of them; mean: what will be used on average; enough: the probability that it
    suffices; there: usable and not set aside for anybody outside the session; pieces: started ones that use it;
    session: taken once, whatever is made; reckoned: by stage what the present rates ask for all pieces allowed for.
    """

    part: Part
    need: Mapping[str, int]
    mean: float
    enough: float
    there: int
    pieces: int
    session: int = 0
    reckoned: Mapping[str, int] = field(default_factory=dict)

    @property
    def total(self) -> int:
        """Over all stages."""
        return sum(self.need.values())

    @property
    def runs_out_after(self) -> int:
        """Pieces it lasts for, at the mean rate."""
        each = (self.mean - self.session) / self.pieces if self.pieces else 0
        return int(max(self.there - self.session, 0) / each) if each else self.pieces


@dataclass(slots=True)
class _Sum:
    """One part while the rows are gone through: by stage, needed and taken once; uses with their probabilities; pieces.

    uses: with the pieces expected; level: the highest confidence of a row.
    """

    need: Counter[str] = field(default_factory=Counter)
    once: Counter[str] = field(default_factory=Counter)
    use: Distribution = field(default_factory=lambda: {0: 1.0})
    rows: dict[str, int] = field(default_factory=dict)
    uses: list[tuple[Use, float]] = field(default_factory=list)
    level: float = 0.0


def together(
    shop: Shop, rows: Sequence[PlanRow], learned: LearnedFigures, cuts: CutReport | None = None
) -> tuple[Together, ...]:
    """Every part of the session's bills, in working order. What a session takes once is taken once: one pot of glue.

    Blanks are those of the cut plan, which several orders share. cuts: that plan, where it is known already.
    """
    sums: dict[str, _Sum] = {}
    for row in rows:
        worked = row.report.plan.evening.begun(row.starts).worked
        for use in row.report.plan.uses:
            if not use.is_blank:
                _add(sums.setdefault(fold(use.part), _Sum()), row, use, worked[STAGES.index(use.stage)])
    sums |= _blanks(rows, cuts or cut_together(shop, rows))
    orders = [row.order.name for row in rows]
    done = [_together(shop, key, one, orders, learned) for key, one in sums.items()]
    return tuple(sorted(done, key=lambda one: min(STAGES.index(stage) for stage in one.need)))


def _blanks(rows: Sequence[PlanRow], cuts: CutReport) -> dict[str, _Sum]:
    """The blanks of the cut plan, each kind at the stage its first row takes it."""
    done: dict[str, _Sum] = {}
    for row in rows:
        blank = next((use for use in row.report.plan.uses if use.is_blank), None)
        if blank is None:
            continue
        one = done.setdefault(fold(blank.part), _Sum(Counter({blank.stage: 0})))
        one.rows[row.order.name] = row.starts
    for cut in cuts.every:
        one = done[fold(cut.part.name)]
        stage = next(iter(one.need))
        one.need[stage] += 1000 * cut.blanks
        one.use = {one.need[stage]: 1.0}
    return done


def _add(sums: _Sum, row: PlanRow, use: Use, worked: Distribution) -> None:
    """One use of one row. worked: how many of its pieces are worked on at that stage."""
    plan = row.report.plan
    sums.rows[row.order.name] = row.starts
    supplied = supplied_by_kits(use, plan.reach, plan.kit, plan.uses)

    def taken(pieces: int) -> int:
        return by_piece(use, pieces, supplied)

    need, used = taken(plan.reach[STAGES.index(use.stage)]), use_of(worked, taken)
    sums.uses.append((use, mean(worked)))
    sums.level = max(sums.level, row.report.resolved.request.confidence)
    sums.need[use.stage] += need
    sums.once[use.stage] = max(sums.once[use.stage], use.per_session)
    sums.use = both(sums.use, used)


def _together(
    shop: Shop,
    key: str,
    sums: _Sum,
    orders: Sequence[str],
    learned: LearnedFigures,
) -> Together:
    part = shop.catalogue.part(key)
    once = sum(sums.once.values())
    reckoned = {stage: quantity + sums.once[stage] for stage, quantity in sums.need.items()}
    need: Mapping[str, int] = reckoned
    there = available(shop, part, orders)
    doubt = doubt_of(learned, part, sums.uses)
    if doubt is None:
        probability = suffices(sums.use, once, there)
    else:
        whole = sum(sums.use.values())
        amounts = [(float(amount), weight / whole) for amount, weight in sums.use.items()]
        probability = doubt.probability(there, amounts)
        need = dict(shared(doubt.enough(amounts, sums.level), list(reckoned.items())))
    pieces = sum(sums.rows.values())
    return Together(part, need, mean(sums.use) + once, probability, there, pieces, once, reckoned)


def _spreads(learned: LearnedFigures) -> dict[str, float]:
    """The widest relative deviation among a part's learned rates."""
    found: dict[str, float] = {}
    for one in learned.rates:
        wide = (one.high - one.low) / (2 * NINE_IN_TEN * max(one.factor, MILLION // 100))
        found[fold(one.part)] = max(found.get(fold(one.part), 0.0), wide)
    return found


def rate_scatter(expected: Mapping[str, int], learned: LearnedFigures) -> dict[str, int]:
    """By how much a session's use may ordinarily lie beside the expected: what the rate leaves open, and the scatter.

    One standard deviation, thousandths, by folded part; for a first guess half of it nine times in ten.
    """
    spread = _spreads(learned)
    scatter = learned.scatter()
    return {
        part: round(
            sqrt((quantity * spread.get(part, FIRST_GUESS / NINE_IN_TEN)) ** 2 + scatter.get(part, 0) ** 2)
        )
        for part, quantity in expected.items()
    }


def available(shop: Shop, part: Part, orders: Iterable[str]) -> int:
    """Usable and nobody else's: free, or set aside for these orders."""
    return free(shop.book, part, shop.today, orders)


def probability_of(row: PlanRow) -> float:
    """The chance that a row's starts give what is wanted of it, with what is laid out for them."""
    return row.report.plan.evening.begun(row.starts).probability


def probability_of_all(rows: Sequence[PlanRow]) -> float:
    """The chance that every row gives what is wanted of it. The confidence asked for is that of each alone."""
    return all_enough(
        [
            (
                row.report.plan.evening.begun(row.starts),
                [(fold(row.report.resolved.material.name), stage) for stage in STAGES],
            )
            for row in rows
        ]
    )


@dataclass(frozen=True, slots=True)
class Mix:
    """A glue to be mixed: so many pots, tubes each, and millilitres each with what stays in the pot (thousandths)."""

    part: Part
    mixes: int
    tubes: int
    each: int
    minutes: int


def mixes(shop: Shop, rows: Sequence[PlanRow], needs: Iterable[Together]) -> tuple[Mix, ...]:
    """How a glue with a working time is shared into pots: tubes a pot = working time / time to glue one tube."""
    text = shop.settings.get("minutes a tube", "")
    slow = Fraction(text) if text else Fraction(TUBE_MINUTES)
    done = []
    for one in needs:
        detail = one.part.detail
        if not isinstance(detail, Supply) or detail.works is None or "glue" not in one.need:
            continue
        tubes = sum(
            row.starts * sum(1 for barrel in row.report.resolved.family.barrels if barrel.tube)
            for row in rows
            if any(fold(use.part) == fold(one.part.name) for use in row.report.plan.uses)
        )
        most = max(int(detail.works / slow), 1)
        pots = -(-tubes // most)
        if pots:
            each = ceil((one.reckoned["glue"] - one.session) / pots) + one.session
            done.append(Mix(one.part, pots, min(most, tubes), each, detail.works))
    return tuple(done)
