"""Bills of materials: roles become parts, geometry becomes quantities.

A bill line says how much of a part one `per` takes: a piece, a barrel, a millilitre of glue volume around the
tubes, a square centimetre of barrel area, or one making session.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.catalogue import ROLES, STAGES, Barrel, BillLine, Catalogue, Family, Pattern, Tube, fold
from inventory.errors import BadInput
from inventory.making.geometry import barrel_area_cm2, glue_volume_ml
from inventory.measures import Drill, Length


@dataclass(frozen=True, slots=True)
class RoleChoice:
    """What the maker chose for the roles of a bill: the kit and blank parts, the refill, a fatter barrel."""

    kit: str
    blank: str
    refill: str | None = None
    extra_diameter: Length | None = None


@dataclass(frozen=True, slots=True)
class Use:
    """So much of one part: thousandths of its unit for each piece that reaches `stage`, and once a session.

    written: what the bills write of it for a piece, by `per`, and once for "session": thousandths, before any learned
    factor.
    """

    part: str
    stage: str
    per_piece: Fraction
    per_session: int = 0
    role: str = ""
    written: tuple[tuple[str, Fraction], ...] = ()

    @property
    def is_blank(self) -> bool:
        """Whether it is the blank a piece is turned from, whichever that is."""
        return self.role == "the blank"


def whole_bill(catalogue: Catalogue, pattern: Pattern) -> tuple[BillLine, ...]:
    """The pattern's own lines and those of patterns it takes in, each as often as its line says.

    Raises BadInput where the bill is empty or goes round in a circle.
    """
    lines = _lines(catalogue, pattern, (pattern.name,))
    if not lines:
        raise BadInput(
            f"The pattern “{pattern.name}” has no bill of materials.",
            hint="Give its lines in the bills tab: at least the kit, the blank and, with tubes, the tubes.",
        )
    return lines


def _lines(catalogue: Catalogue, pattern: Pattern, path: tuple[str, ...]) -> tuple[BillLine, ...]:
    done: list[BillLine] = []
    for line in pattern.bill:
        inner = catalogue.patterns.get(fold(line.part))
        if inner is None or fold(line.part) in catalogue.parts:
            done.append(line)
            continue
        if fold(inner.name) in map(fold, path):
            raise BadInput(
                f"The bill of “{path[0]}” goes round in a circle: {' → '.join([*path, inner.name])}.",
                hint="Take one of these lines out of the bills tab.",
            )
        for below in _lines(catalogue, inner, (*path, inner.name)):
            times = line.quantity * below.quantity
            done.append(BillLine(below.stage, below.part, times // 1000, below.per))
    return tuple(done)


def bill_or_nothing(catalogue: Catalogue, pattern: Pattern) -> tuple[BillLine, ...]:
    """The whole bill; none where a pattern has no bill or one that goes round in a circle."""
    try:
        return whole_bill(catalogue, pattern)
    except BadInput:
        return ()


def stages_of(catalogue: Catalogue, pattern: Pattern) -> tuple[str, ...]:
    """The stages a pattern's pieces go through, in working order; at no other can one be lost.

    Those its bill names and, where it takes a blank, cutting and turning, drilling where a barrel is bored, drilling,
    gluing and trimming where one has a tube. What is turned without a tube is neither glued nor trimmed, whatever its
    material loses there.
    """
    barrels = catalogue.family(pattern.family).barrels
    lines = bill_or_nothing(catalogue, pattern)
    through = {line.stage for line in lines}
    if not lines or any(fold(line.part) == "the blank" for line in lines):
        through |= {"cut", "turn"}
        through |= {"drill", "glue", "trim"} if any(barrel.tube for barrel in barrels) else set()
        through |= {"drill"} if any(barrel.drill for barrel in barrels) else set()
    return tuple(stage for stage in STAGES if stage in through)


def uses(catalogue: Catalogue, pattern: Pattern, choice: RoleChoice) -> tuple[Use, ...]:
    """What every piece takes of each part at each stage, roles resolved, one Use a part and stage."""
    family = catalogue.family(pattern.family)
    merged: dict[tuple[str, str], Use] = {}
    for line in whole_bill(catalogue, pattern):
        for use in _resolve(catalogue, family, line, choice):
            key = (fold(use.part), use.stage)
            old = merged.get(key)
            if old:
                use = Use(
                    old.part,
                    use.stage,
                    old.per_piece + use.per_piece,
                    old.per_session + use.per_session,
                    old.role or use.role,
                    _added(old.written, use.written),
                )
            merged[key] = use
    return tuple(merged.values())


def _resolve(catalogue: Catalogue, family: Family, line: BillLine, choice: RoleChoice) -> list[Use]:
    role = fold(line.part)
    if role == "the tubes":
        return _tubes(catalogue, family, line)
    named = {"the kit": choice.kit, "the blank": choice.blank, "the refill": choice.refill or family.refill}
    if role in named:
        part = named[role]
        if part is None:
            raise BadInput(
                f"The bill asks for the refill, and the family “{family.name}” names none.",
                hint="Name the refill in the families tab, or choose one with --refill PART.",
            )
        return [_use(catalogue, family, line, part, choice, role)]
    if role.startswith("the ") and role not in catalogue.parts:
        raise BadInput(f"A bill asks for “{line.part}”.", hint=f"The roles are {', '.join(ROLES)}.")
    return [_use(catalogue, family, line, line.part, choice, "")]


def _use(
    catalogue: Catalogue, family: Family, line: BillLine, part: str, choice: RoleChoice, role: str
) -> Use:
    name = catalogue.part(part).name
    quantity = line.quantity * catalogue.factor(name, line.per)
    if line.per == "session":
        once = ((line.per, Fraction(line.quantity)),)
        return Use(name, line.stage, Fraction(0), ceil(quantity), role, once)
    each = times(catalogue, family, line.per, choice.extra_diameter)
    return Use(name, line.stage, quantity * each, 0, role, ((line.per, line.quantity * each),))


def _added(
    one: Iterable[tuple[str, Fraction]], other: Iterable[tuple[str, Fraction]]
) -> tuple[tuple[str, Fraction], ...]:
    """What two lines write for one part, by `per`."""
    sums: dict[str, Fraction] = {}
    for per, quantity in (*one, *other):
        sums[per] = sums.get(per, Fraction(0)) + quantity
    return tuple(sums.items())


def _tubes(catalogue: Catalogue, family: Family, line: BillLine) -> list[Use]:
    tubes = [catalogue.part(barrel.tube).name for barrel in family.barrels if barrel.tube]
    each = Fraction(line.quantity)
    if line.per == "piece" and tubes and line.quantity == 1000 * len(tubes):
        each = Fraction(1000)  # "2 a piece" on a family of two tubes means one of each
    return [Use(tube, line.stage, each, 0, "the tubes") for tube in tubes]


def times(catalogue: Catalogue, family: Family, per: str, extra: Length | None) -> Fraction:
    """How many of `per` one piece has: 1, its barrels, its glue volume (ml) or its barrel area (cm²)."""
    if per == "barrel":
        return Fraction(len(family.barrels))
    if per == "tube glue volume":
        return sum((_glue(catalogue, barrel) for barrel in family.barrels), Fraction(0))
    if per == "barrel area":
        return sum((_area(catalogue, barrel, extra) for barrel in family.barrels), Fraction(0))
    return Fraction(1)


def tube_of(catalogue: Catalogue, barrel: Barrel) -> Tube | None:
    """The tube of a barrel, or None for a barrel without one."""
    if barrel.tube is None:
        return None
    detail = catalogue.part(barrel.tube).detail
    return detail if isinstance(detail, Tube) else None


def drill_of(catalogue: Catalogue, barrel: Barrel) -> Drill | None:
    """The barrel's own drill, else its tube's."""
    tube = tube_of(catalogue, barrel)
    return barrel.drill or (tube.drill if tube else None)


def length_of(catalogue: Catalogue, barrel: Barrel) -> Fraction:
    """Millimetres of finished barrel: its tube's length, or its own; 0 where neither is known."""
    tube = tube_of(catalogue, barrel)
    length = tube.length if tube else barrel.length
    return length.mm if length else Fraction(0)


def finished_diameter(barrel: Barrel, extra: Length | None) -> Fraction | None:
    """Millimetres at the thickest place: the larger finished end, grown by the extra diameter."""
    ends = [end.mm for end in (barrel.finished_a, barrel.finished_b) if end is not None]
    return max(ends) + (extra.mm if extra else 0) if ends else None


def _glue(catalogue: Catalogue, barrel: Barrel) -> Fraction:
    tube, drill = tube_of(catalogue, barrel), drill_of(catalogue, barrel)
    if tube is None or drill is None:
        return Fraction(0)
    return glue_volume_ml(drill.mm, tube.outside.mm, tube.length.mm)


def _area(catalogue: Catalogue, barrel: Barrel, extra: Length | None) -> Fraction:
    diameter = mean_diameter(barrel, extra)
    return barrel_area_cm2(diameter, length_of(catalogue, barrel)) if diameter else Fraction(0)


def mean_diameter(barrel: Barrel, extra: Length | None) -> Fraction | None:
    """Millimetres halfway along. A fatter barrel tapers back at both ends, so half the extra counts."""
    ends: Sequence[Fraction] = [e.mm for e in (barrel.finished_a, barrel.finished_b) if e is not None]
    return sum(ends, Fraction(0)) / len(ends) + (extra.mm / 2 if extra else 0) if ends else None
