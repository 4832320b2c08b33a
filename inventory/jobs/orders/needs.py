"""What an order needs of each part, and what of it is there: usable, unclaimed, not gone off."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil

from inventory.catalogue import STAGES, Material, Part, Pattern, fold
from inventory.jobs.learning.supply_use import doubt_of
from inventory.jobs.orders.requests import ResolvedRequest
from inventory.ledger import Lot
from inventory.ledger.availability import free
from inventory.ledger.bottles.shelf_life import gone_off
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import BlankPlan, PieceSize, piece_size, plan_blanks
from inventory.making.bom import RoleChoice, Use, stages_of, uses
from inventory.making.consumption import bill_for, blank_stage, need_of
from inventory.making.distributions import Distribution, mean
from inventory.making.evening import Evening, evening, nothing
from inventory.making.fit import ToolNeed, tools_needed
from inventory.making.losses.priors import first_worth
from inventory.making.losses.starts import Survival
from inventory.making.supply_use import Doubt


@dataclass(frozen=True, slots=True)
class PartNeed:
    """One part at one stage, thousandths of its unit. free: what is left for this stage after the earlier ones.

    on_shelf: what is free of the part in all (None: the same), whatever of it fits or earlier stages take.
    """

    part: Part
    stage: str
    need: int
    free: int
    role: str = ""
    tool: bool = False
    on_shelf: int | None = None

    @property
    def is_blank(self) -> bool:
        """Whether it is the blank the pieces are turned from."""
        return self.role == "the blank"

    @property
    def all_free(self) -> int:
        """What is free of the part, the same number that every screen and sheet shows."""
        return self.free if self.on_shelf is None else self.on_shelf

    @property
    def short(self) -> int:
        """How much is missing."""
        return max(self.need - self.free, 0)


@dataclass(frozen=True, slots=True)
class Requirements:
    """Everything one plating of one request needs. evening: the batch it is made in.

    doubts: by folded name the laws of what the session uses of supplies that go by rates.
    """

    kit: Part
    plating: str
    evening: Evening
    uses: tuple[Use, ...]
    parts: tuple[PartNeed, ...]
    blanks: BlankPlan
    size: PieceSize
    tools: tuple[ToolNeed, ...]
    tools_in_book: bool
    doubts: Mapping[str, Doubt] = field(default_factory=dict)

    @property
    def reach(self) -> tuple[int, ...]:
        """Pieces allowed for at each stage, the first those to start."""
        return self.evening.allowed

    @property
    def survivals(self) -> tuple[Survival, ...]:
        """What is known of the share that survives each stage."""
        return self.evening.survivals

    @property
    def takes_blank(self) -> bool:
        """Whether the bill asks for a blank at all."""
        return any(use.is_blank for use in self.uses)

    @property
    def blank_is_short(self) -> bool:
        """Whether blanks are missing."""
        return any(need.short for need in self.parts if need.is_blank)

    @property
    def unknown_tools(self) -> tuple[str, ...]:
        """Tools no part in the book is, where the shop keeps tools in its book: nobody could even buy them."""
        return tuple(tool.what for tool in self.tools if tool.part is None) if self.tools_in_book else ()


def survivals(shop: Shop, resolved: ResolvedRequest) -> tuple[Survival, ...]:
    """What is known of the share of its pieces that survive each stage."""
    return survivals_of(shop, resolved.pattern, resolved.material)


def survivals_of(shop: Shop, pattern: Pattern, material: Material) -> tuple[Survival, ...]:
    """What is known of the share of pieces that survive each stage, from the material's losses.

    Nothing is lost where none is stated, nor at a stage the pattern does not go through. A figure no session has
    taught is worth what a first guess is.
    """
    through = stages_of(shop.catalogue, pattern)
    key = fold(material.name)
    worth = {one.stage: one.worth / 1000 for one in shop.learned.losses if fold(one.material) == key}
    losses = {stage: float(material.losses[stage]) for stage in through if stage in material.losses}
    return tuple(
        Survival(1.0 - loss, worth.get(stage) or first_worth(loss))
        if (loss := losses.get(stage, 0.0))
        else Survival(1.0)
        for stage in STAGES
    )


def usable_lots(shop: Shop, part: Part) -> tuple[Lot, ...]:
    """The part's lots that have not gone off."""
    return tuple(lot for lot in shop.book.lots_of(part.name) if not gone_off(part, lot, shop.today))


def usable_free(shop: Shop, part: Part) -> int:
    """What is free of a part today, thousandths: see `ledger.availability.free`."""
    return free(shop.book, part, shop.today)


def pick_kit(shop: Shop, kits: Iterable[Part]) -> Part:
    """Of several kits of one family and plating, the one most of which is free."""
    return max(kits, key=lambda kit: usable_free(shop, kit))


def requirements(
    shop: Shop, resolved: ResolvedRequest, plating: str, kits: Sequence[Part], level: float
) -> Requirements:
    """Needs at the confidence `level` in one plating."""
    plan = outline(shop, resolved, plating, kits, level)
    on_hand = {key: balance.on_hand for key, balance in shop.book.balances.items()}
    tools = tools_needed(shop.catalogue, resolved.family, on_hand)
    kept = any(
        balance.on_hand > 0 and key in shop.catalogue.parts and shop.catalogue.parts[key].kind == "tool"
        for key, balance in shop.book.balances.items()
    )
    doubts = _doubts(shop, plan.uses, plan.evening)
    plan = replace(plan, tools=tools, tools_in_book=kept, doubts=doubts)
    return replace(plan, parts=(*_parts(shop, plan, level), *(_tools(shop, tools) if kept else ())))


def outline(
    shop: Shop, resolved: ResolvedRequest, plating: str, kits: Sequence[Part], level: float
) -> Requirements:
    """The batch, its bill and its blanks: all that `expected_bill` asks; no tools, doubts or what is there of parts."""
    request = resolved.request
    kit = pick_kit(shop, kits)
    batch = evening(request.count, survivals(shop, resolved), level)
    reach = batch.allowed
    lines = uses(
        shop.catalogue,
        resolved.pattern,
        RoleChoice(kit.name, resolved.blank.name, request.refill, request.extra_diameter),
    )
    size = piece_size(shop.catalogue, resolved.family, resolved.material, request.extra_diameter)
    blanks = plan_blanks(
        resolved.blank,
        size,
        shop.book.lots_of(resolved.blank.name),
        usable_free(shop, resolved.blank),
        shop.kerf,
        reach[blank_stage(lines)],
    )
    return Requirements(kit, plating, batch, lines, (), blanks, size, (), False)


def expected_bill(plan: Requirements) -> dict[str, int]:
    """Thousandths of each part, by name, that the batch is expected to use, blanks of lost starts among it."""
    pieces = [Fraction(mean(worked)).limit_denominator(10**6) for worked in plan.evening.worked]
    at = blank_stage(plan.uses)
    cut = ceil(1000 * plan.blanks.needed * pieces[at] / max(plan.reach[at], 1))
    return bill_for(plan.uses, plan.kit, pieces, cut)


def nothing_to_make(
    shop: Shop, resolved: ResolvedRequest, kits: Sequence[Part], plating: str
) -> Requirements:
    """What a request needs whose pieces are all finished: nothing."""
    size = piece_size(shop.catalogue, resolved.family, resolved.material, resolved.request.extra_diameter)
    none = BlankPlan((), 0, 0, 0, 0)
    batch = nothing(survivals(shop, resolved))
    return Requirements(pick_kit(shop, kits), plating, batch, (), (), none, size, (), False)


def needs_for(
    plan: Requirements, batch: Evening, level: float, only: str | None = None
) -> dict[tuple[str, str], int]:
    """Thousandths of every part but the blank for a batch, by folded name and stage. only: of just this one.

    Of counted parts as many as the pieces that are allowed for take; of supplies what suffices with probability
    `level`, over what the batch and the hand may do, shared over their stages as the bills do.
    """
    needs: dict[tuple[str, str], int] = {}
    by_rate: dict[str, list[Use]] = {}
    for use in plan.uses:
        key = fold(use.part)
        if only is not None and key != only:
            continue
        if key in plan.doubts and not use.role:
            by_rate.setdefault(key, []).append(use)
        elif not use.is_blank:
            needs[key, use.stage] = need_of(use, batch.allowed, plan.kit, plan.uses)
    worked = batch.worked if by_rate else ()
    for key, several in by_rate.items():
        enough = plan.doubts[key].enough(_amounts(several, worked), level)
        for stage, quantity in shared(enough, [(use.stage, _expected(use, worked)) for use in several]):
            needs[key, stage] = quantity
    return needs


def _amounts(several: Sequence[Use], worked: Sequence[Distribution]) -> tuple[tuple[float, float], ...]:
    """What the present rates reckon for the pieces of a batch, beside what is taken once, with the probability of it.

    Stages of one part go together: where more pieces reach one of them, more reach the others in proportion.
    """
    most = max(several, key=lambda use: (use.per_piece > 0, -STAGES.index(use.stage)))
    pieces = worked[STAGES.index(most.stage)]
    usual = mean(pieces)
    each = sum(float(use.per_piece) * mean(worked[STAGES.index(use.stage)]) for use in several)
    each = each / usual if usual else 0.0
    return tuple((each * many, probability) for many, probability in pieces.items())


def _expected(use: Use, worked: Sequence[Distribution]) -> float:
    return float(use.per_piece) * mean(worked[STAGES.index(use.stage)]) + use.per_session


def shared(quantity: int, shares: Sequence[tuple[str, float]]) -> Iterable[tuple[str, int]]:
    """A quantity over stages in proportion to their shares, whole thousandths; they add up to it."""
    whole, done, given = sum(share for _, share in shares), 0.0, 0
    for stage, share in shares:
        done += share
        until = round(quantity * done / whole) if whole else 0
        yield stage, until - given
        given = until


def _doubts(shop: Shop, lines: Iterable[Use], batch: Evening) -> dict[str, Doubt]:
    worked = batch.worked
    by_part: dict[str, list[tuple[Use, float]]] = {}
    for use in lines:
        if not use.role:
            by_part.setdefault(fold(use.part), []).append((use, mean(worked[STAGES.index(use.stage)])))
    found = {key: doubt_of(shop.learned, shop.catalogue.part(key), uses) for key, uses in by_part.items()}
    return {key: one for key, one in found.items() if one is not None}


def _parts(shop: Shop, plan: Requirements, level: float) -> tuple[PartNeed, ...]:
    left: dict[str, int] = {}
    done = []
    needs = needs_for(plan, plan.evening, level)
    for use in sorted(plan.uses, key=lambda use: STAGES.index(use.stage)):
        part = shop.catalogue.part(use.part)
        key = fold(part.name)
        if use.is_blank:
            need, there = plan.blanks.needed * 1000, plan.blanks.usable * 1000
        else:
            there = left.setdefault(key, usable_free(shop, part))
            need = needs[key, use.stage]
            left[key] = max(there - need, 0)
        done.append(PartNeed(part, use.stage, need, there, use.role, on_shelf=usable_free(shop, part)))
    return tuple(done)


def _tools(shop: Shop, tools: Iterable[ToolNeed]) -> tuple[PartNeed, ...]:
    return tuple(
        PartNeed(part, tool.stage, 1000, 1000 if tool.there else 0, "", True, usable_free(shop, part))
        for tool in tools
        if tool.part is not None and (part := shop.catalogue.part(tool.part))
    )


def raised(parts: Sequence[PartNeed], higher: Mapping[tuple[str, str], int]) -> tuple[PartNeed, ...]:
    """The needs with those that are not covered at a higher level raised to it."""
    done = []
    for part in parts:
        more = higher.get((fold(part.part.name), part.stage), part.need)
        done.append(replace(part, need=more) if more > max(part.free, part.need) else part)
    return tuple(done)
