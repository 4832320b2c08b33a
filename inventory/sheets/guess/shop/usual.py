"""What everybody has and no sheet says: geometry, losses, contents, plain bills. Common practice, no source.

The least that the first answer needs, each figure marked as usual where it is written down. The seam is narrow on
purpose: whatever knows more of this may stand behind these five functions.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from inventory.errors import BadMeasure
from inventory.measures import read_drill
from inventory.measures.numbers import show_number

WHY = "usual, not from your sheet"
LEAD_DAYS = 5
BLANK_WIDTH, BLANK_LENGTH = "19 mm", "127 mm"
_LOST = {"cut": 7, "drill": 15, "glue": 8, "trim": 5, "turn": 20, "finish": 8, "assemble": 37}
"""How a material's losses fall on the stages, in parts of a hundred."""
_SORTS = {
    "wood": (4, "3.2 mm"), "burl": (12, "6.4 mm"), "stabilised": (4, "3.2 mm"), "acrylic": (6, "6.4 mm"),
    "antler": (12, "6.4 mm"), "horn": (12, "6.4 mm"),
}  # fmt: skip
"""Percent lost over all stages, and what is cut beyond the tube's length."""
_CONTENTS = {
    "accelerator": ("ml", "200 ml"), "activator": ("ml", "200 ml"), "aktivator": ("ml", "200 ml"),
    "adhesive": ("ml", "50 ml"), "finish": ("ml", "100 ml"), "solvent": ("ml", "1000 ml"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class UsualBarrel:
    """One barrel: its name, the length of its tube (or its own where it has none) and its finished diameters."""

    name: str
    length: str
    finished: str
    tube: bool = True


def tube_outside(drill: str) -> str:
    """The outside diameter of a tube named by its drill: 0.15 mm less up to 9 mm, 0.35 mm less from there on."""
    size = _mm(drill)
    less = Fraction(15, 100) if size < 9 else Fraction(35, 100)
    return f"{show_number(Fraction(round((size - less) * 100), 100))} mm"


def drill_of(makes: str) -> str:
    """The drill of a kit that nothing is said of."""
    return {"stopper": "3/8", "key ring": "7 mm", "seam ripper": "8 mm"}.get(makes, "7 mm")


def barrels_of(makes: str, drill: str) -> tuple[UsualBarrel, ...]:
    """The barrels of a kit by what it makes: two on a slim pen or pencil of 7 mm, else one."""
    slim = _mm(drill) <= Fraction(72, 10)
    finished = (
        "8.4 mm" if slim else f"{show_number(Fraction(round((_mm(drill) + Fraction(17, 10)) * 10), 10))} mm"
    )
    if makes == "stopper":
        return (UsualBarrel("body", "45 mm", "30 mm", tube=False),)
    if makes == "pencil" and slim:
        return (UsualBarrel("upper", "46 mm", finished), UsualBarrel("lower", "46 mm", finished))
    if makes == "pen" and slim:
        return (UsualBarrel("upper", "53 mm", finished), UsualBarrel("lower", "53 mm", finished))
    return (
        UsualBarrel("barrel", {"seam ripper": "57 mm", "key ring": "42 mm"}.get(makes, "55.8 mm"), finished),
    )


def material_of(sort: str) -> tuple[str, dict[str, str]]:
    """The cutting allowance of a sort of material, and what is lost at each stage."""
    percent, allowance = _SORTS.get(sort, _SORTS["wood"])
    shares = {stage: Fraction(percent * part, 100) for stage, part in _LOST.items()}
    return allowance, {f"lost at {stage}": f"{show_number(share)} %" for stage, share in shares.items()}


def contents_of(name: str, type_: str) -> tuple[str, str]:
    """The unit a supply is counted in and what one container holds; pieces and nothing where it is counted."""
    words = name.casefold()
    found = next((unit for word, unit in _CONTENTS.items() if word in words), None)
    if found is None and ("wax" in words or "wachs" in words or "cire" in words):
        return "g", "100 g"
    return found or _CONTENTS.get(type_, ("piece", ""))


@dataclass(frozen=True, slots=True)
class UsualLine:
    """A line of a plain bill; part: a role, or a word that a supply of the shop has in its name."""

    stage: str
    part: str
    quantity: str
    per: str


BILL = (
    UsualLine("cut", "the blank", "1", "piece"),
    UsualLine("glue", "the tubes", "1", "barrel"),
    UsualLine("assemble", "the kit", "1", "piece"),
    UsualLine("assemble", "the refill", "1", "piece"),
)
FINISHING = (
    UsualLine("glue", "epoxy", "1.4", "tube glue volume"),
    UsualLine("glue", "epoxy", "1", "session"),
    UsualLine("finish", "thin", "0.02", "barrel area"),
    UsualLine("finish", "medium", "0.07", "barrel area"),
)
"""Use rates of what is counted in millilitres, where the shop has it."""


def _mm(drill: str) -> Fraction:
    try:
        return Fraction(read_drill(drill).mm)
    except BadMeasure:
        return Fraction(7)
