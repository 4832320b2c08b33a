"""What a sheet says without a row for it: a kit implies its family, its barrels, a plain pattern with its bill.

Only where a tab has no row at all: who writes families himself is told of the one he forgot.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from inventory.catalogue import (
    Barrel,
    BillLine,
    Blank,
    Family,
    Kit,
    Material,
    Part,
    Pattern,
    Plating,
    Tube,
    fold,
)
from inventory.catalogue.usual.geometry import (
    UsualBarrel,
    makes_of,
    tube_outside,
    usual_barrels,
    usual_drill,
)
from inventory.catalogue.usual.marks import WARNS, shortened
from inventory.catalogue.usual.materials import usual_material
from inventory.catalogue.usual.words import words_of
from inventory.errors import SLIP, nearest
from inventory.measures import read_drill, read_fraction, read_length
from inventory.sheets.stock.load_context import LoadContext, Named
from inventory.sheets.stock.schedules import usual_bill
from inventory.sheets.stock.tabs import lost_at

NAMED = 4
"""Things of which it is told by name that usual values stand for them."""


def imply(context: LoadContext, rows: Mapping[str, int]) -> None:
    """Put into the context what its rows imply; rows: how many each tab had."""
    if context.torn:
        return
    done = _Implied(context, {tab for tab, many in rows.items() if many})
    done.names()
    done.families()
    done.patterns()
    done.bills()


def told(context: LoadContext) -> Iterator[str]:
    """One sentence on what is usual in this load."""
    counted = {name: [one for one in what if one not in WARNS] for name, what in context.stood_in.items()}
    things = [
        f"{name} ({', '.join(shortened(counted[name]))})" if what else name
        for name, what in context.stood_in.items()
        if counted[name] or not what
    ]
    if things:
        more = f" and {len(things) - NAMED} more" if len(things) > NAMED else ""
        yield (
            f"Usual values, not your own, stand for {', '.join(things[:NAMED])}{more}. "
            "Your own word in a sheet replaces each."
        )


@dataclass(slots=True)
class _Implied:
    context: LoadContext
    said: Collection[str]

    def _new(self, tab: str, what: Named, name: str) -> bool:
        """Whether a name that nobody gave may be taken as given: its tab is not there, and no slip of the pen."""
        known = self.context.names[what]
        meant = tab in self.said or fold(name) in known or nearest(name, known.values(), 1, alike=SLIP)
        return not meant

    def _given(self, what: Named, name: str) -> None:
        self.context.names[what][fold(name)] = name
        self.context.stood_in.setdefault(name, [])

    def names(self) -> None:
        """Platings that kits name, materials that blanks do."""
        context = self.context
        platings = [one.detail.plating for one in context.parts.values() if isinstance(one.detail, Kit)]
        for name in _each(name for name in platings if self._new("platings", "plating", name)):
            context.platings[fold(name)] = Plating(name)
            context.names["plating"][fold(name)] = name
        materials = [one.detail.material for one in context.parts.values() if isinstance(one.detail, Blank)]
        for name in _each(name for name in materials if self._new("materials", "material", name)):
            context.materials[fold(name)] = _material(name)
            self._given("material", name)

    def families(self) -> None:
        """Families that kits name, and the barrels of such as have none."""
        context = self.context
        kits = [one for one in context.parts.values() if isinstance(one.detail, Kit)]
        wanted = [one.detail.family for one in kits if isinstance(one.detail, Kit)]
        for name in _each(name for name in wanted if self._new("families", "family", name)):
            makes = context.makes.get(fold(name)) or makes_of(
                name, *(kit.name for kit in kits if isinstance(kit.detail, Kit) and kit.detail.family == name)
            )
            context.families[fold(name)] = Family(name, makes, refill=self._refill(name))
            self._given("family", name)
        if "barrels" in self.said:
            return
        for key in dict.fromkeys((*context.families, *map(fold, wanted))):
            family = context.families.get(key) or context.known.families.get(key)
            known = context.known.families.get(key)
            if family is not None and not (known and known.barrels):
                context.barrels[key] = self._barrels(family)
                context.stood_in.setdefault(family.name, ["barrels"])

    def _refill(self, family: str) -> str | None:
        """A refill whose name shares a word with the family's."""
        words = words_of(family)
        for part in (*self.context.parts.values(), *self.context.known.parts.values()):
            if getattr(part.detail, "type", "") == "refill" and words & words_of(part.name):
                return part.name
        return None

    def _barrels(self, family: Family) -> list[Barrel]:
        tubes = self._tubes(family)
        drill = tubes[0].detail.drill.designation if tubes and isinstance(tubes[0].detail, Tube) else ""
        usual = usual_barrels(family.makes, drill or usual_drill(family.makes))
        if len(tubes) > len(usual):  # one of each: a capped pen
            usual = tuple(replace(usual[0], name=tube.name) for tube in tubes)
        return [
            self._barrel(family, one, tubes[at % len(tubes)] if tubes else None)
            for at, one in enumerate(usual)
        ]

    def _barrel(self, family: Family, usual: UsualBarrel, tube: Part | None) -> Barrel:
        drill = read_drill(usual_drill(family.makes))
        if tube is not None and isinstance(tube.detail, Tube):
            drill = tube.detail.drill
            usual = replace(usual, finished=usual_barrels(family.makes, drill.designation)[0].finished)
        finished = read_length(usual.finished)
        if not usual.tube:
            marks = ("length", "finished a", "finished b", "drill")
            return Barrel(usual.name, None, drill, finished, finished, read_length(usual.length), marks)
        part = tube or self._tube(family, drill.designation, usual.length)
        return Barrel(
            usual.name, part.name, None, finished, finished, None, ("tube", "finished a", "finished b")
        )

    def _tubes(self, family: Family) -> list[Part]:
        """The tubes that are the family's: of its name, else the only one this load brings, else of its usual drill."""
        here = [one for one in self.context.parts.values() if isinstance(one.detail, Tube)]
        known = [one for one in self.context.known.parts.values() if isinstance(one.detail, Tube)]
        own = [one for one in (*here, *known) if words_of(family.name) & words_of(one.name)]
        if own or len(here) == 1:
            return own or here
        barrel = usual_barrels(family.makes, usual_drill(family.makes))[0]
        size, length = read_drill(usual_drill(family.makes)).mm, read_length(barrel.length).mm
        return [
            one for one in (*here, *known)
            if isinstance(one.detail, Tube) and (one.detail.drill.mm, one.detail.length.mm) == (size, length)
        ][:1]  # fmt: skip

    def _tube(self, family: Family, drill: str, length: str) -> Part:
        """A tube nobody has a row for; it is taken to lie in the kit, where nobody says otherwise."""
        context = self.context
        name = f"tube {drill.removesuffix(' mm')} x {length.removesuffix(' mm')}"
        part = context.part(name)
        if part is None:
            marks = ("outside diameter", "length", "drill")
            tube = Tube(read_length(tube_outside(drill)), read_length(length), read_drill(drill), marks)
            part = context.parts[fold(name)] = Part(name, tube)
            self._given("part", name)
        for key, kit in list(context.parts.items()):
            detail = kit.detail
            if (
                isinstance(detail, Kit)
                and fold(detail.family) == fold(family.name)
                and key not in context.inside_said
            ):
                inside = replace(detail, tubes_inside=True, usual=("tubes inside",))
                context.parts[key] = replace(kit, detail=inside)
        return part

    def patterns(self) -> None:
        """A plain pattern for each family of a kit that has none."""
        context = self.context
        if "patterns" in self.said:
            return
        made = {fold(one.family) for one in (*context.known.patterns.values(), *context.patterns.values())}
        for kit in list(context.parts.values()):
            if not isinstance(kit.detail, Kit) or fold(kit.detail.family) in made:
                continue
            key = fold(kit.detail.family)
            family = context.families.get(key) or context.known.families.get(key)
            if family is not None:
                made.add(key)
                name = plain_name(family)
                context.patterns[fold(name)] = Pattern(name, family.name)
                self._given("pattern", name)

    def bills(self) -> None:
        """The usual bill of patterns that have none, and of those whose bill was usual and may now be known better."""
        context = self.context
        for key, pattern in {**context.known.patterns, **context.patterns}.items():
            if key in context.bills or key in context.broken:
                continue
            had = context.known.patterns[key].bill if key in context.known.patterns else ()
            if any(not line.usual for line in had):
                continue
            family = context.families.get(fold(pattern.family)) or context.known.families.get(
                fold(pattern.family)
            )
            if family is None or (key not in context.patterns and not had):
                continue
            barrels = tuple(context.barrels.get(fold(family.name), family.barrels))
            parts = {**context.known.parts, **context.parts}
            lines, lacks = usual_bill(pattern, replace(family, barrels=barrels), parts.values())
            if tuple(lines) == had:
                continue
            context.patterns.setdefault(key, pattern)
            context.bills[key] = list[BillLine](lines)
            context.stood_in.setdefault(pattern.name, ["bill"])
            if lacks:
                context.notes.append(
                    f"“{pattern.name}”: the finish {pattern.finish} also takes {', '.join(lacks)}, which nothing here"
                    " is called; not counted."
                )


def plain_name(family: Family) -> str:
    """What a piece of a family is called: `Dunlin pen`, unless the name says so already."""
    return family.name if words_of(family.makes) <= words_of(family.name) else f"{family.name} {family.makes}"


def _material(name: str) -> Material:
    usual = usual_material(name)
    cautions = [
        heading
        for heading, text in (("caution", usual.caution), ("listed species", usual.listed_species))
        if text
    ]
    return Material(
        name,
        read_length(usual.allowance),
        {stage: read_fraction(share) for stage, share in usual.losses.items()},
        usual.caution,
        usual.listed_species,
        ("allowance", *map(lost_at, usual.losses), *cautions),
    )


def _each(names: Iterator[str]) -> dict[str, None]:
    return dict.fromkeys(names)
