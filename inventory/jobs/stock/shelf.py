"""What is there: every part with what is on hand, claimed, free and due in, filtered as a maker asks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import (
    KINDS,
    Barrel,
    Blank,
    Catalogue,
    Family,
    Kit,
    Material,
    Part,
    Plating,
    Supply,
    Tool,
    Tube,
    find,
    fold,
)
from inventory.errors import BadInput, UnknownName
from inventory.ledger import Balance, Book, Lot
from inventory.ledger.availability import free, out_of_date
from inventory.measures import Drill, read_drill, read_length

Test = Callable[[Part], bool]


@dataclass(frozen=True, slots=True)
class Filters:
    """What to show; all given ones must hold. Empty text means: do not ask."""

    family: str = ""
    plating: str = ""
    tube: str = ""
    drill: str = ""
    material: str = ""
    kind: str = ""
    low: bool = False
    text: str = ""
    part: str = ""


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One part and its totals, thousandths of its unit; the rest where it applies.

    free: on hand, not out of date, not set aside; off: what is out of date of it, in the lots `gone`.
    """

    part: Part
    balance: Balance
    free: int
    off: int
    low: bool
    to_count: bool
    family: str = ""
    plating: str = ""
    tube: str = ""
    drill: str = ""
    lent: int = 0
    gone: tuple[Lot, ...] = ()

    @property
    def below(self) -> bool:
        """Whether free plus due in is under its reorder level."""
        return below_level(self.part, self.balance, self.free)


NOTHING = Balance()


def shelf(
    catalogue: Catalogue, book: Book, filters: Filters, today: date, lent: Mapping[str, int] | None = None
) -> tuple[ShelfRow, ...]:
    """The rows that pass every filter, by kind and name. Unknown names in filters raise UnknownName.

    What is retired has no level any more, and a row only while something of it is there or comes.

    lent: what somebody has of a part, thousandths by folded name.
    Of lots only those that can go out of date are looked at: the rest need not be in the book.
    """
    tests = tuple(_tests(catalogue, filters))
    doubtful = frozenset(map(fold, book.to_count))
    rows, away = [], lent or {}
    for key, part in catalogue.parts.items():
        if not all(test(part) for test in tests):
            continue
        if catalogue.no_longer_bought(part):
            if book.balance(part.name) == NOTHING and key not in away:
                continue
            part = replace(part, level=None)
        row = replace(_row(part, book, today, key in doubtful), lent=away.get(key, 0))
        if not filters.low or row.low:
            rows.append(row)
    return tuple(sorted(rows, key=lambda row: (KINDS.index(row.part.kind), fold(row.part.name))))


def nearest_drills(
    catalogue: Catalogue, book: Book, text: str, count: int = 3
) -> tuple[tuple[Part, Drill], ...]:
    """The drills on hand nearest in size to the one called so, nearest first; where none is on hand, those known."""
    from inventory.making.fit import drill_tools  # most looks ask for no drill

    wanted = read_drill(text).mm
    known = drill_tools(catalogue)
    there = [one for one in known if (book.balances.get(fold(one[0].name)) or Balance()).on_hand > 0]
    return tuple(sorted(there or known, key=lambda one: (abs(one[1].mm - wanted), one[1].mm))[:count])


def is_low(part: Part, balance: Balance, free: int) -> bool:
    """Under its reorder level, or promised without being there."""
    return balance.to_buy > 0 or below_level(part, balance, free)


def below_level(part: Part, balance: Balance, free: int) -> bool:
    """Under its reorder level (free plus due in counts)."""
    unclaimed = free + balance.due_in - balance.due_claimed
    return part.level is not None and unclaimed < part.level


def _row(part: Part, book: Book, today: date, doubtful: bool) -> ShelfRow:
    detail, balance = part.detail, book.balance(part.name)
    there = free(book, part, today)
    gone = out_of_date(book, part, today)
    off = sum(lot.quantity for lot in gone)
    family = plating = tube = drill = ""
    if isinstance(detail, Kit):
        family, plating = detail.family, detail.plating
    elif isinstance(detail, Tube):
        tube, drill = f"{detail.outside.written} × {detail.length.written}", detail.drill.designation
    elif isinstance(detail, Tool) and fold(detail.type) == "drill":
        drill = detail.size
    low = is_low(part, balance, there)
    return ShelfRow(part, balance, there, off, low, doubtful, family, plating, tube, drill, gone=gone)


def _tests(catalogue: Catalogue, filters: Filters) -> Iterable[Test]:
    if filters.part:
        wanted = catalogue.part(filters.part)
        yield lambda part: part is wanted
    if filters.kind:
        yield _kind(catalogue, filters.kind)
    if filters.text:
        words = fold(filters.text).split()
        yield lambda part: all(word in fold(f"{part.name} {part.drawer} {part.note}") for word in words)
    if filters.plating:
        plating: Plating = find(catalogue.platings, "plating", filters.plating)
        yield lambda part: isinstance(part.detail, Kit) and fold(part.detail.plating) == fold(plating.name)
    if filters.material:
        material: Material = find(catalogue.materials, "material", filters.material)
        yield (
            lambda part: isinstance(part.detail, Blank) and fold(part.detail.material) == fold(material.name)
        )
    if filters.family:
        yield _of_family(catalogue.family(filters.family))
    if filters.tube:
        yield _with_tube(catalogue, filters.tube)
    if filters.drill:
        yield _with_drill(catalogue, filters.drill)


MOST_KINDS = 60
"""Kinds and types that are all said where none is like the word."""
FINISHED = frozenset({"finished", "finished piece", "finished pieces"})
"""Other words for pieces, which the shelf counts as finished ones."""


def _kind(catalogue: Catalogue, word: str) -> Test:
    """A kind (kit, tubes, finished pieces …) or the type of a supply or tool (adhesive, drill …)."""
    wanted = fold(word)
    if wanted in FINISHED:
        return lambda part: part.kind == "piece"
    singular = wanted.removesuffix("s")
    for kind in KINDS:
        if wanted in (kind, f"{kind}s") or (kind == "supply" and wanted == "supplies"):
            return lambda part: part.kind == kind
    types = {fold(p.detail.type) for p in catalogue.parts.values() if isinstance(p.detail, Supply | Tool)}
    for name in (wanted, singular):
        if name in types:
            return lambda part: isinstance(part.detail, Supply | Tool) and fold(part.detail.type) == name
    raise UnknownName("kind", word, {*KINDS, *types}, few=MOST_KINDS)


def _of_family(family: Family) -> Test:
    """Its kits, and what else is peculiar to it: tubes, refill, bushings, trimmer pilots."""
    own = {fold(barrel.tube) for barrel in family.barrels if barrel.tube}
    own |= {fold(name) for name in (*family.bushings, *family.trimmer_pilots, family.refill or "")}
    return lambda part: (
        fold(part.name) in own
        or (isinstance(part.detail, Kit) and fold(part.detail.family) == fold(family.name))
    )


def _families(catalogue: Catalogue, test: Callable[[Family], bool]) -> frozenset[str]:
    return frozenset(key for key, family in catalogue.families.items() if test(family))


def _with_tube(catalogue: Catalogue, text: str) -> Test:
    """Tubes of that name or size (outside diameter or the class its drill names), and kits that take them."""
    tubes = {fold(p.name): p.detail for p in catalogue.parts.values() if isinstance(p.detail, Tube)}
    if fold(text) in tubes:
        wanted = {fold(text)}
    else:
        try:
            size = read_length(text).mm
        except BadInput:
            names = [p.name for p in catalogue.parts.values() if isinstance(p.detail, Tube)]
            raise UnknownName("tube", text, names) from None
        wanted = {key for key, tube in tubes.items() if size in (tube.outside.mm, tube.drill.mm)}
    families = _families(catalogue, lambda f: any(b.tube and fold(b.tube) in wanted for b in f.barrels))
    return lambda part: (
        fold(part.name) in wanted or (isinstance(part.detail, Kit) and fold(part.detail.family) in families)
    )


def _with_drill(catalogue: Catalogue, text: str) -> Test:
    """Tubes and kits that want this drill, and the drill itself."""
    drill = read_drill(text)
    families = _families(catalogue, lambda f: any(_size(catalogue, b) == drill.mm for b in f.barrels))

    def test(part: Part) -> bool:
        detail = part.detail
        if isinstance(detail, Tube):
            return detail.drill.mm == drill.mm
        if isinstance(detail, Kit):
            return fold(detail.family) in families
        if isinstance(detail, Tool) and fold(detail.type) == "drill" and detail.size:
            return read_drill(detail.size).mm == drill.mm
        return False

    return test


def _size(catalogue: Catalogue, barrel: Barrel) -> Fraction | None:
    from inventory.making.bom import drill_of

    drill = drill_of(catalogue, barrel)
    return drill.mm if drill else None
