"""What an order needs of each part, and what of it is there: usable, unclaimed, not gone off."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from inventory.catalogue import STAGES, Kit, Part, fold
from inventory.jobs.shop import Shop
from inventory.jobs.wishes import Meant
from inventory.ledger import Lot
from inventory.ledger.availability import free
from inventory.ledger.shelf_life import gone_off
from inventory.making.bill import Choice, Use, uses
from inventory.making.blanks import BlankPlan, PieceSize, piece_size, plan_blanks
from inventory.making.fit import ToolNeed, tools_needed
from inventory.making.losses import reach_quantiles


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
    def all_free(self) -> int:
        """What is free of the part, the same number that every screen and sheet shows."""
        return self.free if self.on_shelf is None else self.on_shelf

    @property
    def short(self) -> int:
        """How much is missing."""
        return max(self.need - self.free, 0)


@dataclass(frozen=True, slots=True)
class Requirements:
    """Everything one plating of one wish needs. reach: pieces allowed for at each stage."""

    kit: Part
    plating: str
    reach: tuple[int, ...]
    success: tuple[float, ...]
    uses: tuple[Use, ...]
    parts: tuple[PartNeed, ...]
    blanks: BlankPlan
    size: PieceSize
    tools: tuple[ToolNeed, ...]
    tools_in_book: bool

    @property
    def unknown_tools(self) -> tuple[str, ...]:
        """Tools no part in the book is, where the shop keeps tools in its book: nobody could even buy them."""
        return tuple(tool.what for tool in self.tools if tool.part is None) if self.tools_in_book else ()


def success_by_stage(meant: Meant) -> tuple[float, ...]:
    """The share of pieces that survive each stage, from the material's losses (none stated: nothing is lost)."""
    return tuple(float(1 - meant.material.losses.get(stage, Fraction(0))) for stage in STAGES)


def usable_lots(shop: Shop, part: Part) -> tuple[Lot, ...]:
    """The part's lots that have not gone off."""
    return tuple(lot for lot in shop.book.lots_of(part.name) if not gone_off(part, lot, shop.today))


def usable_free(shop: Shop, part: Part) -> int:
    """What is free of a part today, thousandths: see `ledger.availability.free`."""
    return free(shop.book, part, shop.today)


def pick_kit(shop: Shop, kits: Iterable[Part]) -> Part:
    """Of several kits of one family and plating, the one most of which is free."""
    return max(kits, key=lambda kit: usable_free(shop, kit))


def requirements(shop: Shop, meant: Meant, plating: str, kits: Sequence[Part], level: float) -> Requirements:
    """Needs at the confidence `level` in one plating."""
    wish = meant.wish
    kit = pick_kit(shop, kits)
    success = success_by_stage(meant)
    reach = reach_quantiles(wish.count, success, level)
    lines = uses(
        shop.catalogue, meant.pattern, Choice(kit.name, meant.blank.name, wish.refill, wish.extra_diameter)
    )
    size = piece_size(shop.catalogue, meant.family, meant.material, wish.extra_diameter)
    blanks = plan_blanks(
        meant.blank,
        size,
        shop.book.lots_of(meant.blank.name),
        usable_free(shop, meant.blank),
        shop.kerf,
        reach[blank_stage(lines)],
    )
    on_hand = {key: balance.on_hand for key, balance in shop.book.balances.items()}
    tools = tools_needed(shop.catalogue, meant.family, on_hand)
    kept = any(
        balance.on_hand > 0 and key in shop.catalogue.parts and shop.catalogue.parts[key].kind == "tool"
        for key, balance in shop.book.balances.items()
    )
    parts = (*_parts(shop, lines, reach, kit, blanks), *(_tools(shop, tools) if kept else ()))
    return Requirements(kit, plating, reach, success, lines, parts, blanks, size, tools, kept)


def nothing_to_make(shop: Shop, meant: Meant, kits: Sequence[Part], plating: str) -> Requirements:
    """What a wish needs whose pieces are all finished: nothing."""
    size = piece_size(shop.catalogue, meant.family, meant.material, meant.wish.extra_diameter)
    none = BlankPlan((), 0, 0, 0, 0)
    zeros = (0,) * len(STAGES)
    return Requirements(
        pick_kit(shop, kits), plating, zeros, success_by_stage(meant), (), (), none, size, (), False
    )


def blank_stage(lines: Iterable[Use]) -> int:
    """The number of the stage at which the bill takes the blank (the first where it takes none)."""
    return next((STAGES.index(use.stage) for use in lines if use.role == "the blank"), 0)


def need_of(use: Use, reach: Sequence[int], kit: Part, lines: Iterable[Use]) -> int:
    """Thousandths of one use for the pieces that reach its stage; tubes inside the kits taken are not needed."""
    pieces = reach[STAGES.index(use.stage)]
    if use.role == "the tubes" and isinstance(kit.detail, Kit) and kit.detail.tubes_inside:
        at_kit = next((reach[STAGES.index(line.stage)] for line in lines if line.role == "the kit"), 0)
        pieces = max(pieces - at_kit, 0)
    return ceil(use.per_piece * pieces) + use.per_session


def _parts(
    shop: Shop, lines: Sequence[Use], reach: Sequence[int], kit: Part, blanks: BlankPlan
) -> tuple[PartNeed, ...]:
    left: dict[str, int] = {}
    done = []
    for use in sorted(lines, key=lambda use: STAGES.index(use.stage)):
        part = shop.catalogue.part(use.part)
        key = fold(part.name)
        if use.role == "the blank":
            need, there = blanks.needed * 1000, blanks.usable * 1000
        else:
            there = left.setdefault(key, usable_free(shop, part))
            need = need_of(use, reach, kit, lines)
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
