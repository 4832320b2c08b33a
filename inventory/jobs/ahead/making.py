"""What a kind of piece takes, good or lost at some stage, and how many of it lie finished."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from inventory.catalogue import STAGES, Kit, Piece, fold
from inventory.errors import Refused
from inventory.jobs.ahead.recipes import BATCH, plan_of
from inventory.jobs.hours.piece_time import PieceTime, piece_time
from inventory.jobs.orders.needs import Requirements
from inventory.ledger.availability import free
from inventory.ledger.shop import Shop
from inventory.making.consumption import bill_for, blank_stage
from inventory.planning.demand.expected import Kind


@dataclass(frozen=True, slots=True)
class Making:
    """takes: thousandths by folded part, of a good piece, then of each failure, with the minutes of each.

    shares: of starts that fail so; finished: pieces that are nobody's.
    """

    takes: Sequence[Mapping[str, int]]
    minutes: Sequence[int]
    shares: Sequence[float]
    finished: int


def making_of(shop: Shop, pattern: str, kind: Kind) -> Making | None:
    """None where it cannot be made. pattern: folded."""
    try:
        plan = plan_of(shop, pattern, kind)
    except Refused:
        return None
    time = piece_time(shop.catalogue, shop.settings, shop.catalogue.patterns[pattern])
    takes = [_taken(plan, len(STAGES), share_of_session=True)]
    minutes = [time.minutes + ceil(time.once / BATCH)]
    shares: list[float] = []
    there = 1.0
    for at, survival in enumerate(plan.survivals):
        if survival.share < 1:
            shares.append(there * (1 - survival.share))
            takes.append(_taken(plan, at + 1))
            minutes.append(_until(time, at))
            there *= survival.share
    return Making(takes, minutes, shares, _finished(shop, pattern, kind))


def _taken(plan: Requirements, stages: int, *, share_of_session: bool = False) -> dict[str, int]:
    """Thousandths that a piece takes that gets through so many stages; of what an evening takes once its share."""
    reached = [1] * stages + [0] * (len(STAGES) - stages)
    at = blank_stage(plan.uses)
    blank = ceil(1000 * plan.blanks.needed / max(plan.reach[at], 1)) * reached[at]
    done = bill_for([replace(use, per_session=0) for use in plan.uses], plan.kit, reached, blank)
    if share_of_session:
        for use in plan.uses:
            done[use.part] += ceil(use.per_session / BATCH)
    return {fold(part): units for part, units in done.items() if units}


def _until(time: PieceTime, at: int) -> int:
    """Minutes of a piece that is lost at a stage; all of them where nobody said how they fall on stages."""
    some = [many for stage, many in time.by_stage if STAGES.index(stage) <= at]
    return sum(some) if time.by_stage else time.minutes


def _finished(shop: Shop, pattern: str, kind: Kind) -> int:
    """Pieces of the kind that lie finished and are nobody's."""
    own = fold(shop.catalogue.family(shop.catalogue.patterns[pattern].family).refill or "")
    done = 0
    for part in shop.catalogue.parts.values():
        made = part.detail
        if isinstance(made, Piece) and fold(made.pattern) == pattern and fold(made.blank) == kind[1]:
            kit = shop.catalogue.parts[fold(made.kit)].detail
            plating = fold(kit.plating) if isinstance(kit, Kit) else ""
            swapped = fold(made.refill or "") == (kind[2] or "") or (not made.refill and kind[2] == own)
            if plating == kind[0] and swapped and not made.extra_diameter:
                done += free(shop.book, part, shop.today) // 1000
    return done
