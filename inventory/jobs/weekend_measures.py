"""What the scale, the count and the pencil say a session used, and what the bills expected.

A bottle's content is (gross − tare) / density. The deviation of a weighing is that of a scale which shows steps of
`step` grams, uniform in each step: step / √12; two weighings make √2 of it. A count of strips is a count of whole
ones: 1 / √12 of one, likewise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import sqrt

from inventory.catalogue import Supply, fold
from inventory.errors import BadSheet, Place
from inventory.jobs.session_sheet import FilledBottle, FilledCount, FilledSession
from inventory.jobs.shop import Shop
from inventory.ledger import Count, Line, Lot
from inventory.ledger.costs import share_like
from inventory.ledger.drafting import Draft
from inventory.ledger.sessions import Observed

TWELFTH = 1 / sqrt(12)


@dataclass(frozen=True, slots=True)
class Checked:
    """One part that was weighed, written down or counted: thousandths expected and found on the shelf afterwards."""

    part: str
    expected: int
    counted: int
    error: int
    way: str


@dataclass(slots=True)
class Measures:
    """used: known use by folded part; named: lots it came from; counts: parts counted afterwards."""

    used: dict[str, int] = field(default_factory=dict)
    error: dict[str, int] = field(default_factory=dict)
    way: dict[str, str] = field(default_factory=dict)
    named: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    fuller: list[tuple[Lot, int]] = field(default_factory=list)
    counts: list[FilledCount] = field(default_factory=list)
    announced: list[str] = field(default_factory=list)
    bad: list[Place] = field(default_factory=list)


def measures_of(shop: Shop, filled: FilledSession) -> Measures:
    """Everything measured, checked. Raises BadSheet naming every bad cell at once."""
    done = Measures()
    for bottle in filled.bottles:
        _weigh(shop, bottle, done)
    for use in filled.uses:
        key = fold(shop.catalogue.part(use.part).name)
        if key in done.used:
            done.bad.append(
                replace(use.where, said=use.part, problem=f"{use.part} was weighed too. Keep one of the two.")
            )
            continue
        done.used[key], done.error[key], done.way[key] = use.used, round(1000 * TWELFTH), "used"
    for count in filled.counts:
        _count(shop, count, done)
    if done.bad:
        raise BadSheet(
            f"{len(done.bad)} measurements cannot be right."
            if len(done.bad) > 1
            else "One measurement cannot be right.",
            hint="Weigh or count again and mend the sheet; nothing was booked.",
            where=tuple(done.bad),
        )
    return done


def content(gross: int, tare: int, density: Fraction) -> int:
    """Thousandths of a unit in a bottle: (gross − tare) / density, all weights in thousandths of a gram."""
    return round(Fraction(gross - tare) / density)


def _weigh(shop: Shop, bottle: FilledBottle, done: Measures) -> None:
    part = shop.catalogue.part(bottle.part)
    detail = part.detail
    lots = shop.book.lots_of(part.name)
    lot = next((one for one in lots if one.id == bottle.lot), None)
    if bottle.lot == 0 and len(lots) == 1:
        lot = lots[0]
    problem = ""
    if not isinstance(detail, Supply) or detail.tare is None:
        problem = (
            f"The empty weight of {part.name} is not known: give its tare in the supplies tab, or count it."
        )
    elif bottle.gross < detail.tare:
        problem = f"That is less than the empty bottle, {detail.tare / 1000:g} g. Weigh it again."
    elif lot is None:
        problem = f"The book has no such bottle of {part.name}: {_bottles(lots)}."
    elif part.unit != "g" and detail.density is None:
        problem = f"The density of {part.name} is not known: give it in the supplies tab."
    if problem or lot is None or not isinstance(detail, Supply) or detail.tare is None:
        shown = f"{bottle.gross / 1000:g} g"
        done.bad.append(replace(bottle.where, said=shown, problem=problem))
        return
    density = detail.density if part.unit != "g" and detail.density else Fraction(1)
    left = content(bottle.gross, detail.tare, density)
    if detail.net is not None and left > detail.net * 11 // 10:
        full = f"{left / 1000:g} {part.unit}; a full one holds {detail.net / 1000:g}"
        done.bad.append(
            replace(
                bottle.where,
                said=f"{bottle.gross / 1000:g} g",
                problem=f"That would be {full}. Weigh it again.",
            )
        )
        return
    key = fold(part.name)
    used = lot.quantity - left
    done.used[key] = done.used.get(key, 0) + used
    each = float(bottle.step / density) * TWELFTH * sqrt(2)
    done.error[key] = round(sqrt(done.error.get(key, 0) ** 2 + each**2))
    done.way[key] = "weighed"
    if used > 0:
        done.named.setdefault(key, []).append((lot.id, used))
    elif used < 0:
        done.fuller.append((lot, -used))
        done.announced.append(
            f"{part.name}, {lot.name or f'lot {lot.id}'}: there is more in it than the book says."
        )


def _bottles(lots: Sequence[Lot]) -> str:
    names = [lot.name or f"lot {lot.id}" for lot in lots]
    return f"it has {', '.join(names)}" if names else "it has none"


def _count(shop: Shop, count: FilledCount, done: Measures) -> None:
    part = shop.catalogue.part(count.part)
    if fold(part.name) in done.used:
        problem = f"{part.name} was weighed or its use written down too. Keep one of the two."
        done.bad.append(replace(count.where, said=part.name, problem=problem))
    elif count.second is not None and count.second != count.counted:
        problem = "The second count differs from the first. Count a third time and write down what is right."
        done.bad.append(replace(count.where, said=f"{count.counted / 1000:g}", problem=problem))
    else:
        done.counts.append(count)


def observed(shop: Shop, done: Measures, before: Mapping[str, int]) -> tuple[Observed, ...]:
    """What can be learned from: weighed and written uses, and counted supplies (before less after)."""
    seen = [
        Observed(shop.catalogue.part(key).name, used, done.error[key], done.way[key])  # type: ignore[arg-type]  # one of the ways
        for key, used in done.used.items()
    ]
    for count in done.counts:
        part = shop.catalogue.part(count.part)
        if isinstance(part.detail, Supply):
            used = before.get(fold(part.name), 0) - count.counted
            seen.append(Observed(part.name, used, round(1000 * TWELFTH * sqrt(2)), "counted"))
    return tuple(seen)


def beside_the_bills(draft: Draft, shop: Shop, done: Measures, drawn: Mapping[str, int]) -> None:
    """Lines that bring weighed and written-down parts to what is really left: more used than the bills expect."""
    from inventory.jobs.drawing import Purpose, take
    from inventory.jobs.weekend_draw import less

    for key, used in done.used.items():
        fuller = sum(more for lot, more in done.fuller if fold(lot.part) == key)  # comes on top, below
        more = used + fuller - drawn.get(key, 0)
        if more > 0:
            lots = less(done.named.get(key, ()), drawn.get(key, 0))
            take(draft, shop.catalogue.part(key), more, Purpose(None, "weighed", shop.today), lots)
    for lot, more in done.fuller:
        cost = share_like(lot, more).amount if lot.quantity else 0
        draft.add([Line("shelf", lot.part, more, cost, lot=lot.id, reason="weighed")])


def counts_of(done: Measures) -> tuple[Count, ...]:
    """The counted parts as the book's counts."""
    return tuple(Count(one.part, one.counted, place=one.where) for one in done.counts)
