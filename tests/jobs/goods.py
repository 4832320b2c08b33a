"""What an invented shop knows, in code: three families, three platings, three kinds of blank, two suppliers.

Turnstone has one barrel, Avocet two with different tubes and drills, Godwit is a stopper without a tube. A test takes
all of it by one name, `from jobs import goods`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Self

from inventory.catalogue import (
    Barrel,
    BillLine,
    Blank,
    Catalogue,
    Family,
    Kit,
    Material,
    Offer,
    Part,
    Pattern,
    Plating,
    PriceStep,
    Supplier,
    Supply,
    Tool,
    Tube,
    fold,
)
from inventory.measures import read_drill, read_length

CHROME_KIT, RHODIUM_KIT, GUN_KIT = "Turnstone kit chrome", "Turnstone kit rhodium", "Turnstone kit gunmetal"
AVOCET_KIT, GODWIT_KIT = "Avocet kit gunmetal", "Godwit kit chrome"
TUBE, CAP_TUBE, BODY_TUBE = "tube 27/64", "tube 12.25", "tube 10.15"
OLIVE, ACRYLIC, ANTLER, THICK = "olive square", "acrylic round", "antler", "olive thick"
GLUE, FINISH, EPOXY, STRIP = "thin CA", "gloss CA", "epoxy", "strip P400"
REFILL, SLIM = "refill G2", "refill slim"  # G2: the shape of ISO 12757-1
DRILL, DRILL_CAP, DRILL_BODY, SAW = "bit 27/64", "bit 12.5", "bit 10.5", "band saw"
BUSHINGS, PILOT = "Turnstone bushings", "pilot 27/64"


def mm(text: str) -> Fraction:
    """Millimetres of a length as written."""
    return read_length(text).mm


def _parts() -> Iterable[Part]:
    for name, family, plating in (
        (CHROME_KIT, "Turnstone", "chrome"),
        (RHODIUM_KIT, "Turnstone", "rhodium"),
        (GUN_KIT, "Turnstone", "gunmetal"),
        (AVOCET_KIT, "Avocet", "gunmetal"),
        (GODWIT_KIT, "Godwit", "chrome"),
    ):
        yield Part(name, Kit(family, plating))
    for name, outside, length, drill in (
        (TUBE, "10.3 mm", "55.8 mm", "27/64"),
        (CAP_TUBE, "12.25 mm", "48 mm", "12.5 mm"),
        (BODY_TUBE, "10.15 mm", "53 mm", "10.5 mm"),
    ):
        yield Part(name, Tube(read_length(outside), read_length(length), read_drill(drill)))
    yield Part(OLIVE, Blank("olive wood", "square", read_length("19 mm"), read_length("127 mm")))
    yield Part(THICK, Blank("olive wood", "square", read_length("45 mm"), read_length("70 mm")))
    yield Part(ACRYLIC, Blank("acrylic", "round", read_length("20 mm"), read_length("130 mm")))
    yield Part(ANTLER, Blank("antler", "natural"))
    yield Part(GLUE, Supply("adhesive", 56_000, None, 365, 90, ("H315", "H319", "EUH202")), "ml")
    yield Part(FINISH, Supply("finish", hazards=("H225", "H319")), "ml")
    yield Part(EPOXY, Supply("adhesive", hazards=("H317",)), "ml", level=10_000)
    yield Part(STRIP, Supply("abrasive"), "strip")
    yield Part(REFILL, Supply("refill"))
    yield Part(SLIM, Supply("refill"), note="the spring sits lower.")
    for name, kind, size in (
        (DRILL, "drill", "27/64"),
        (DRILL_CAP, "drill", "12.5 mm"),
        (DRILL_BODY, "drill", "10.5 mm"),
        (SAW, "saw", "1.2 mm"),
        (BUSHINGS, "bushings", ""),
        (PILOT, "trimmer pilot", ""),
    ):
        yield Part(name, Tool(kind, size))


def _line(stage: str, part: str, quantity: int, per: str = "piece") -> BillLine:
    return BillLine(stage, part, quantity, per)  # type: ignore[arg-type]  # tests spell `per` as text


def _families() -> Iterable[Family]:
    turned = read_length("12 mm"), read_length("12.4 mm")
    one = Barrel("barrel", TUBE, None, *turned)
    yield Family("Turnstone", "pen", REFILL, (BUSHINGS,), (PILOT,), "", (one,))
    cap = Barrel("cap", CAP_TUBE, None, read_length("14 mm"), read_length("15 mm"))
    body = Barrel("body", BODY_TUBE, None, read_length("12 mm"), read_length("13 mm"))
    yield Family("Avocet", "capped pen", REFILL, (), (), "", (cap, body))
    stop = Barrel("stopper", None, read_drill("3/8"), read_length("30 mm"), None, read_length("60 mm"))
    yield Family("Godwit", "bottle stopper", None, (), (), "", (stop,))


def _patterns() -> Iterable[Pattern]:
    yield Pattern(
        "Turnstone gloss",
        "Turnstone",
        minutes=45,
        bill=(
            _line("cut", "the blank", 1000),
            _line("glue", "the tubes", 1000, "barrel"),
            _line("glue", GLUE, 1500, "tube glue volume"),
            _line("glue", EPOXY, 2000, "session"),
            _line("finish", FINISH, 40, "barrel area"),
            _line("finish", STRIP, 500),
            _line("assemble", "the kit", 1000),
            _line("assemble", "the refill", 1000),
        ),
    )
    yield Pattern(
        "Avocet gloss",
        "Avocet",
        bill=(
            _line("cut", "the blank", 1000),
            _line("glue", "the tubes", 2000),
            _line("assemble", "the kit", 1000),
        ),
    )
    yield Pattern(
        "Godwit plain", "Godwit", bill=(_line("cut", "the blank", 1000), _line("assemble", "the kit", 1000))
    )


def _materials() -> Iterable[Material]:
    losses = {"drill": Fraction(2, 100), "turn": Fraction(3, 100), "assemble": Fraction(1, 100)}
    yield Material("olive wood", read_length("3.2 mm"), losses)
    yield Material("acrylic", read_length("9.5 mm"), {"turn": Fraction(6, 100)}, "chips; take light cuts.")
    yield Material("antler", read_length("6.4 mm"), {}, "", "Cervus listed here")


def _offers() -> Iterable[Offer]:
    for name, pack, price in (
        (CHROME_KIT, 1000, 450),
        (RHODIUM_KIT, 1000, 900),
        (TUBE, 10_000, 400),
        (OLIVE, 1000, 300),
        (REFILL, 5000, 500),
        (GLUE, 56_000, 700),
        (DRILL, 1000, 1200),
    ):
        yield Offer("Saltmarsh Turning", name, pack, (PriceStep(1, price), PriceStep(10, price * 8 // 10)))
    yield Offer("Far Shore Fittings", CHROME_KIT, 5000, (PriceStep(1, 1500),), "FS-7")
    yield Offer("Far Shore Fittings", GUN_KIT, 1000, (PriceStep(1, 250),))


SUPPLIERS = (
    Supplier("Saltmarsh Turning", 5, 490, 6000, None, "EUR", "orders@saltmarsh.example.com"),
    Supplier("Far Shore Fittings", 30, 1500, None, None, "USD", "hello@farshore.example.com"),
)


def by_part(offers: Iterable[Offer]) -> dict[str, tuple[Offer, ...]]:
    """Offers by the folded name of their part."""
    done: dict[str, tuple[Offer, ...]] = {}
    for offer in offers:
        done[fold(offer.part)] = (*done.get(fold(offer.part), ()), offer)
    return done


class Goods(Catalogue):
    """What the shop knows, with changes one upon the other: `goods.catalogue().with_parts(…).with_losses(…)`."""

    __slots__ = ()

    def with_parts(self, *parts: Part) -> Self:
        """Some parts added or replaced."""
        return replace(self, parts={**self.parts, **{fold(one.name): one for one in parts}})

    def with_family(self, name: str, **changes: object) -> Self:
        """One family changed."""
        family = replace(self.family(name), **changes)  # type: ignore[arg-type]  # fields by name
        return replace(self, families={**self.families, fold(name): family})

    def with_pattern(self, pattern: Pattern) -> Self:
        """One pattern added or replaced."""
        return replace(self, patterns={**self.patterns, fold(pattern.name): pattern})

    def with_losses(self, material: str, **losses: str) -> Self:
        """One material's losses by stage, as decimal fractions."""
        changed = replace(self.material(material), losses={k: Fraction(v) for k, v in losses.items()})
        return replace(self, materials={**self.materials, fold(material): changed})


def catalogue() -> Goods:
    """Everything the shop knows by name."""
    platings = (Plating("chrome", ("rhodium",)), Plating("rhodium", ("chrome",)), Plating("gunmetal"))
    return Goods(
        {fold(one.name): one for one in _parts()},
        {fold(one.name): one for one in platings},
        {fold(one.name): one for one in _materials()},
        {fold(one.name): one for one in _families()},
        {fold(one.name): one for one in _patterns()},
        {fold(one.name): one for one in SUPPLIERS},
        by_part(_offers()),
    )


def line(stage: str, part: str, quantity: int, per: str = "piece") -> BillLine:
    """One line of a bill."""
    return _line(stage, part, quantity, per)
