"""What can be made from the shelf: the largest set of pieces, or the one that earns most in the hours there are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from math import ceil

from inventory.catalogue import Blank, Kit, Part, Pattern, fold
from inventory.errors import BadInput
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.orders.needs import usable_free, usable_lots
from inventory.jobs.orders.requests import kits_of
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import piece_size, pieces_each, stock_of
from inventory.making.blanks.model import pieces_from
from inventory.making.bom import RoleChoice, bill_or_nothing, uses
from inventory.making.consumption import tubes_inside
from inventory.making.fit import tools_needed
from inventory.making.product_mix import BestMix, BlankSupply, MixItem, MixTask, best_mix
from inventory.making.quick_mix import quick_mix

A_PIECE = 1_000_000
"""What a piece counts where pieces are counted: more than blanks cost, so that of equal sets the cheaper is taken."""
TRIED = 12
"""Parts of which one more is tried, those a linear programme thinks worth most."""


@dataclass(frozen=True, slots=True)
class MadePiece:
    """So many of a kind; kit, blank: parts."""

    pattern: str
    plating: str
    kit: str
    blank: str
    count: int


@dataclass(frozen=True, slots=True)
class OneMore:
    """What one more of a part would add: pieces, or minor units where those are asked for."""

    part: Part
    adds: int


@dataclass(frozen=True, slots=True)
class Makeable:
    """pieces: the set; total: how many; gain: minor units it earns, None where pieces are counted; minutes: of work.

    lacking: patterns that cannot be made at all, with the tool or blank they lack; unpriced: patterns left out
    because nobody said what such a piece sells for.
    """

    pieces: tuple[MadePiece, ...]
    total: int
    gain: int | None
    minutes: int
    proven: bool
    more: tuple[OneMore, ...]
    lacking: tuple[tuple[str, str], ...]
    unpriced: tuple[str, ...]


Prices = Mapping[str, int]
"""Minor units such a piece sold for last, by folded pattern."""


def makeable(
    shop: Shop,
    settings: Mapping[str, str],
    minutes: int | None,
    prices: Prices | None = None,
    *,
    one_more: bool = True,
    quickly: bool,
) -> Makeable:
    """The set of most pieces, nothing spoiled; with `prices` the one that earns most. minutes: the hours there are.

    one_more: whether it is tried what one more of a part would add. quickly: without a solver, proven where it can be.

    What is set aside, out of date or lacks a tool is left out. Raises BadInput for no time at all.
    """
    if minutes is not None and minutes <= 0:
        raise BadInput("There is no time to make anything in.", hint="Give --hours above 0, or leave it out.")
    kinds, lacking, unpriced = _kinds(shop, settings, prices)
    task = MixTask(
        [one.item for one in kinds],
        {fold(name): _free(shop, name) for one in kinds for name in (*one.item.needs, *one.item.once)},
        _blanks(shop, kinds),
        minutes,
    )
    mix = quick_mix(task) if quickly else best_mix(task)
    pieces = tuple(_named(kinds, mix))
    spent = sum(one.item.minutes * mix.pieces.get(one.item.key, 0) for one in kinds)
    total = sum(one.count for one in pieces)
    gain = None if prices is None else mix.gain
    more = _more(shop, task, mix, money=prices is not None) if one_more else ()
    return Makeable(pieces, total, gain, spent, mix.proven, more, lacking, unpriced)


@dataclass(frozen=True, slots=True)
class _Kind:
    """A pattern with a kit, as an item of the programme."""

    pattern: Pattern
    kit: Part
    item: MixItem


def _kinds(
    shop: Shop, settings: Mapping[str, str], prices: Prices | None
) -> tuple[list[_Kind], tuple[tuple[str, str], ...], tuple[str, ...]]:
    on_hand = {key: balance.on_hand for key, balance in shop.book.balances.items()}
    found, lacking, unpriced = list[_Kind](), list[tuple[str, str]](), list[str]()
    for pattern in shop.catalogue.patterns.values():
        if not any(fold(line.part) == "the kit" for line in bill_or_nothing(shop.catalogue, pattern)):
            continue  # a schedule that others take in makes nothing by itself
        family = shop.catalogue.family(pattern.family)
        tools = tools_needed(shop.catalogue, family, on_hand)
        missing = [one.what for one in tools if one.part is None or on_hand.get(fold(one.part), 0) <= 0]
        if missing and any(
            on_hand.get(key) for key, part in shop.catalogue.parts.items() if part.kind == "tool"
        ):
            lacking.append((pattern.name, missing[0]))
            continue
        if prices is not None and fold(pattern.name) not in prices:
            unpriced.append(pattern.name)
            continue
        time = piece_time(shop.catalogue, settings, pattern).minutes
        for kit in kits_of(shop.catalogue, family):
            if usable_free(shop, kit) >= 1000:
                found.append(_Kind(pattern, kit, _item(shop, pattern, kit, time, prices)))
    return found, tuple(lacking), tuple(unpriced)


def _item(shop: Shop, pattern: Pattern, kit: Part, minutes: int, prices: Prices | None) -> MixItem:
    """Needs in whole thousandths, rounded up a piece: never more is promised than there is."""
    blank = next((part.name for part in shop.catalogue.parts.values() if isinstance(part.detail, Blank)), "")
    needs, once, cuts = Counter[Hashable](), Counter[Hashable](), False
    for use in uses(shop.catalogue, pattern, RoleChoice(kit.name, blank)):
        if use.is_blank:
            cuts = True
            continue
        if use.role == "the tubes" and tubes_inside(kit):
            continue
        key = fold(use.part)
        needs[key] += ceil(use.per_piece)
        if use.per_session:
            once[key] += use.per_session
    gain = A_PIECE
    if prices is not None:
        gain = prices[fold(pattern.name)] - ceil(
            sum(_cost(shop, str(key), need) for key, need in needs.items())
        )
    size = fold(pattern.family) if cuts else None
    wanted = {key: need for key, need in needs.items() if need}
    return MixItem((pattern.name, kit.name), size, gain, minutes, wanted, once)


def _free(shop: Shop, name: Hashable) -> int:
    return usable_free(shop, shop.catalogue.part(str(name)))


def _cost(shop: Shop, key: str, quantity: int) -> Fraction:
    """What so much of a part cost, as the average of what is there; nothing where nobody knows."""
    lots = shop.book.lots_of(key)
    held = sum(lot.quantity for lot in lots)
    return Fraction(sum(lot.cost for lot in lots) * quantity, held) if held else Fraction(0)


def _blanks(shop: Shop, kinds: Iterable[_Kind]) -> list[BlankSupply]:
    families = {fold(one.pattern.family): shop.catalogue.family(one.pattern.family) for one in kinds}
    supplies = []
    for part in shop.catalogue.parts.values():
        blank = part.detail
        if not isinstance(blank, Blank) or (free := usable_free(shop, part) // 1000) <= 0:
            continue
        material = shop.catalogue.material(blank.material)
        sizes = {key: piece_size(shop.catalogue, family, material, None) for key, family in families.items()}
        lots = [lot for lot in usable_lots(shop, part) if lot.measured and lot.quantity - lot.claimed >= 1000]
        measured: list[dict[Hashable, int]] = [
            {
                key: pieces_from(stock_of(lot), size.wanted, shop.kerf) if size.wanted else 1
                for key, size in sizes.items()
            }
            for lot in lots
        ]
        each: dict[Hashable, int] = {key: pieces_each(blank, size, shop.kerf) for key, size in sizes.items()}
        cost = ceil(_cost(shop, part.name, 1000))
        supplies.append(BlankSupply(part.name, max(free - len(lots), 0), each, measured, free, cost))
    return supplies


def _named(kinds: Iterable[_Kind], mix: BestMix) -> Iterable[MadePiece]:
    """Each kind with the blanks its family's pieces come out of, handed out in turn."""
    left = dict(mix.cut)
    for one in kinds:
        many, size = mix.pieces.get(one.item.key, 0), one.item.size
        plating = one.kit.detail.plating if isinstance(one.kit.detail, Kit) else ""
        if size is None and many:
            yield MadePiece(one.pattern.name, plating, one.kit.name, "", many)
            continue
        for (of, blank), room in list(left.items()):
            taken = min(many, room) if of == size else 0
            if taken:
                left[of, blank] -= taken
                many -= taken
                yield MadePiece(one.pattern.name, plating, one.kit.name, str(blank), taken)


def _more(shop: Shop, task: MixTask, mix: BestMix, *, money: bool) -> tuple[OneMore, ...]:
    """Of the parts that are used up to less than a piece's need, what one more of each would add; most first."""
    used: Counter[Hashable] = Counter()
    for item in task.items:
        for part, need in item.needs.items():
            used[part] += need * mix.pieces.get(item.key, 0)
    least = {part: min(i.needs[part] for i in task.items if part in i.needs) for part in used}
    tight = [part for part in used if task.there[part] - used[part] < least[part]]
    found = []
    for part in tight[:TRIED]:
        of = shop.catalogue.part(str(part))
        one = 1000 if of.unit == "piece" else least[part]
        again = best_mix(replace(task, there={**task.there, part: task.there[part] + one}), 1.0)
        adds = (again.gain - mix.gain) if money else sum(again.pieces.values()) - sum(mix.pieces.values())
        if adds > 0:
            found.append(OneMore(of, adds))
    return tuple(sorted(found, key=lambda more: (-more.adds, more.part.name)))


def sold_for(shop: Shop) -> dict[str, int]:
    """What a piece of each pattern was agreed for last, by folded pattern."""
    newest: dict[str, tuple[date, int]] = {}
    for order in shop.book.orders.values():
        if order.price is None or order.state not in ("promised", "made", "handed over"):
            continue
        key = fold(order.pattern)
        newest[key] = max(newest.get(key, (date.min, 0)), (order.due, order.price))
    return {key: price for key, (_, price) in newest.items()}
