"""Drawing the bills of a session's pieces, each up to the stage it reached; good pieces become finished ones.

What the good pieces took goes into their lot, to the last minor unit; what the lost ones took is lost. A part that
was weighed (or whose use was written down) is drawn as the scale says, but no more than the bills expect goes into
pieces: the rest is booked apart.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from inventory.catalogue import STAGES, Part, Supply, fold
from inventory.jobs.orders.finished import piece_part
from inventory.jobs.orders.needs import Requirements
from inventory.jobs.sessions.reconciling.piece_rows import Made
from inventory.jobs.stock.drawing import Drawn, Purpose, own_lots, take
from inventory.ledger import Claim, Line, NewLot
from inventory.ledger.availability import free
from inventory.ledger.costs import UNKNOWN, Cost, worst
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.making.consumption import by_piece, supplied_by_kits, tubes_inside


@dataclass(frozen=True, slots=True)
class Share:
    """So much of one part for one row at one stage, thousandths: for the good pieces and for the lost ones."""

    part: str
    stage: str
    used: int
    lost: int


@dataclass(frozen=True, slots=True)
class Work:
    """One row with its requirements and everything it draws."""

    made: Made
    plan: Requirements
    shares: tuple[Share, ...]
    own: tuple[Claim, ...]
    blanks: tuple[tuple[int, int], ...] = ()
    """Measured blanks cut for it, by lot, thousandths."""


@dataclass(slots=True)
class DrawnTally:
    """What was drawn: by folded part, thousandths and minor units; what each stage's losses cost; parts found.

    unpriced: folded names of parts of whose cost something is not known; lost_unpriced: stages whose losses took any.
    """

    quantity: Counter[str] = field(default_factory=Counter)
    cost: Counter[str] = field(default_factory=Counter)
    lost_cost: Counter[str] = field(default_factory=Counter)
    found: list[str] = field(default_factory=list)
    unpriced: dict[str, None] = field(default_factory=dict)
    lost_unpriced: set[str] = field(default_factory=set)
    parts: dict[str, Part] = field(default_factory=dict)
    pieces: list[tuple[str, str, int, Cost]] = field(default_factory=list)
    """Finished: order, part, pieces, cost."""
    saved: list[tuple[str, int]] = field(default_factory=list)


def shares_of(made: Made, plan: Requirements, blanks: int) -> tuple[Share, ...]:
    """What one row draws by its bill; what a session takes once is left out (see `once`).

    blanks: thousandths of the session's blanks that are the row's.
    """
    outcome, done = made.outcome, []
    reached = [outcome.reached(stage) for stage in STAGES]
    saved = {"the tubes": outcome.tubes_saved, "the kit": outcome.kits_saved}
    for use in plan.uses:
        at = STAGES.index(use.stage)
        if use.is_blank:
            every, used = blanks, blanks * outcome.good // reached[at] if reached[at] else 0
        else:
            supplied = supplied_by_kits(use, reached, plan.kit, plan.uses)
            spent = max(reached[at] - saved.get(use.role, 0), outcome.good)
            every = by_piece(use, spent, supplied)
            used = by_piece(use, outcome.good, supplied)
        done.append(Share(use.part, use.stage, used, every - used))
    return tuple(one for one in done if one.used or one.lost)


def once(work: Sequence[tuple[Made, Requirements]]) -> list[list[Share]]:
    """What the session takes once of a part at a stage: the most any pattern asks, shared by the pieces begun."""
    most: Counter[tuple[str, str]] = Counter()
    for made, plan in work:
        for use in plan.uses:
            if use.per_session and made.outcome.reached(use.stage):
                key = (fold(use.part), use.stage)
                most[key] = max(most[key], use.per_session)
    done: list[list[Share]] = [[] for _ in work]
    for (part, stage), quantity in most.items():
        weights = [
            made.outcome.reached(stage)
            if any(fold(u.part) == part and u.stage == stage and u.per_session for u in plan.uses)
            else 0
            for made, plan in work
        ]
        for at, amount in enumerate(shared(quantity, weights)):
            good = work[at][0].outcome.good
            used = amount * good // weights[at] if weights[at] else 0
            if amount:
                done[at].append(Share(part, stage, used, amount - used))
    return done


def shared(total: int, weights: Sequence[int]) -> list[int]:
    """A whole amount in proportion to weights, nothing lost: running totals are rounded, not the shares."""
    whole, done, before = sum(weights), [], 0
    running = 0
    for weight in weights:
        running += weight
        upto = total * running // whole if whole else 0
        done.append(upto - before)
        before = upto
    return done


def expected(work: Sequence[Work]) -> Counter[str]:
    """What the bills of all rows expect of each part, thousandths by folded name."""
    sums: Counter[str] = Counter()
    for one in work:
        for share in one.shares:
            key = fold(share.part)
            sums[key] += share.used + share.lost
    return sums


def scaled(work: Sequence[Work], real: Mapping[str, int]) -> tuple[Work, ...]:
    """The rows with parts whose use is known drawn as it was, where that is less than the bills expect."""
    sums = expected(work)
    ratio = {key: Fraction(max(used, 0), sums[key]) for key, used in real.items() if max(used, 0) < sums[key]}
    if not ratio:
        return tuple(work)
    gone: defaultdict[str, Fraction] = defaultdict(Fraction)
    given: Counter[str] = Counter()

    def fewer(part: str, quantity: int) -> int:
        key = fold(part)
        if key not in ratio:
            return quantity
        gone[key] += quantity * ratio[key]
        now = int(gone[key]) - given[key]
        given[key] += now
        return now

    return tuple(
        replace(
            one,
            shares=tuple(
                replace(s, used=fewer(s.part, s.used), lost=fewer(s.part, s.lost)) for s in one.shares
            ),
        )
        for one in work
    )


def draw_rows(
    draft: Draft, shop: Shop, work: Sequence[Work], named: Mapping[str, Sequence[tuple[int, int]]], name: str
) -> DrawnTally:
    """Draw everything, bring the finished pieces and what was saved. named: weighed lots and how much left each."""
    tally = DrawnTally()
    left = {key: list(lots) for key, lots in named.items()}
    for one in work:
        order = one.made.outcome.order or None
        spent = Cost(0)
        blank, cut = fold(one.made.resolved.blank.name), list(one.blanks)
        for share in _without_cannibalised(draft, shop, one, tally):
            part = shop.catalogue.part(share.part)
            for quantity, reason in ((share.used, "used"), (share.lost, "lost")):
                if not quantity:
                    continue
                key = fold(part.name)
                lots = cut if key == blank else left.get(key) or own_lots(one.own, part.name)
                drawn = take(draft, part, quantity, Purpose(order, reason, shop.today, share.stage), lots)
                if key in left:
                    left[key] = less(left[key], quantity)
                if key == blank:
                    cut = less(cut, quantity)
                tally.quantity[key] += quantity
                tally.cost[key] += drawn.cost
                if drawn.cost_from == UNKNOWN:
                    tally.unpriced[key] = None
                if reason == "used":
                    spent = Cost(spent.amount + drawn.cost, worst((spent.cost_from, drawn.cost_from)))
                else:
                    _charge(tally, one.made, share.stage, drawn)
                if drawn.found:
                    tally.found.append(part.name)
        _finish(draft, shop, one, spent, name, tally)
        _save(draft, shop, one, tally)
    return tally


def _without_cannibalised(draft: Draft, shop: Shop, one: Work, tally: DrawnTally) -> tuple[Share, ...]:
    """The row's shares. Where tubes lie in the kits and no spare ones are there, lost tubes came out of whole kits.

    Such a kit is no longer whole: its fittings come back as a part of their own, with the kit's cost.
    """
    kit = one.plan.kit
    tubes = {fold(use.part) for use in one.plan.uses if use.role == "the tubes"}
    if not (tubes_inside(kit) and tubes):
        return one.shares
    lost = {fold(share.part): share.lost for share in one.shares if fold(share.part) in tubes}
    spare = {key: free(draft.book, shop.catalogue.part(key), shop.today) for key in lost}
    cannibalised = max((-(-(many - spare[key]) // 1000) for key, many in lost.items()), default=0)
    if cannibalised <= 0:
        return one.shares
    drawn = take(
        draft, kit, 1000 * cannibalised, Purpose(one.made.outcome.order or None, "robbed", shop.today, "glue")
    )
    part = Part(
        f"{kit.name} without its tubes", Supply("spare fitting"), note="takes spare tubes; not a whole kit"
    )
    _bring_back(draft, shop, tally, part, cannibalised, Cost(drawn.cost, drawn.cost_from))
    if drawn.found:
        tally.found.append(kit.name)
    return tuple(
        replace(share, lost=max(share.lost - 1000 * cannibalised, 0)) if fold(share.part) in tubes else share
        for share in one.shares
    )


def less(lots: Sequence[tuple[int, int]], quantity: int) -> list[tuple[int, int]]:
    """What the named lots still have to give once so much was drawn from them in turn."""
    done = []
    for lot, most in lots:
        taken = min(most, quantity)
        quantity -= taken
        if most - taken:
            done.append((lot, most - taken))
    return done


def _charge(tally: DrawnTally, made: Made, stage: str, drawn: Drawn) -> None:
    """What lost pieces took at a stage, shared by the stages at which they were lost: those, and later ones."""
    later = [where for where in STAGES[STAGES.index(stage) :] if made.outcome.lost.get(where)]
    parts = shared(drawn.cost, [made.outcome.lost[where] for where in later])
    for where, part in zip(later, parts, strict=True):
        tally.lost_cost[where] += part
    if drawn.cost and not later:  # tubes of kits that lie in whole kits: lost before, drawn with the rest
        tally.lost_cost[stage] += drawn.cost
    if drawn.cost_from == UNKNOWN:
        tally.lost_unpriced |= set(later) or {stage}


def _finish(draft: Draft, shop: Shop, one: Work, spent: Cost, name: str, tally: DrawnTally) -> None:
    outcome = one.made.outcome
    if not outcome.good:
        return
    part = piece_part(
        shop.catalogue, outcome.pattern, outcome.kit, outcome.blank, outcome.refill, outcome.extra_diameter
    )
    tally.parts[fold(part.name)] = part
    lot = NewLot("made", part.name, name, shop.today)
    line = Line(
        "shelf",
        part.name,
        1000 * outcome.good,
        spent.amount,
        lot="made",
        order=outcome.order or None,
        reason="made",
        cost_from=spent.cost_from,
    )
    draft.add([line], [lot])
    tally.pieces.append((outcome.order, part.name, outcome.good, spent))


def _save(draft: Draft, shop: Shop, one: Work, tally: DrawnTally) -> None:
    """A kit of which something was saved is never a whole one: it comes back as a part of its own, at no cost."""
    many = one.made.outcome.in_part
    if not many:
        return
    part = Part(
        f"{one.plan.kit.name} in part", Supply("spare fitting"), note="fittings salvaged from a spoiled piece"
    )
    _bring_back(draft, shop, tally, part, many, Cost(0))


def _bring_back(draft: Draft, shop: Shop, tally: DrawnTally, part: Part, many: int, cost: Cost) -> None:
    """So many saved things onto the shelf, as a part that comes into being with the first of them."""
    if fold(part.name) not in shop.catalogue.parts:
        tally.parts[fold(part.name)] = part
    line = Line(
        "shelf", part.name, 1000 * many, cost.amount, lot="saved", reason="saved", cost_from=cost.cost_from
    )
    draft.add([line], [NewLot("saved", part.name, "saved", shop.today)])
    tally.saved.append((part.name, 1000 * many))
