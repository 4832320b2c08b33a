"""What pieces take off the shelf: the one rule for what is needed, expected to be used, drawn and lost.

A piece that reached a stage took there what its bill writes for one, whatever became of it afterwards. Tubes that lie
in the kits come with them: as many pieces as reached the stage of the kit take none from the shelf. Blanks are cut by
a plan instead (`making.blanks`), so their quantity is given.

Pieces by stage stand in the order of `STAGES`, whole ones or expected ones; quantities are thousandths of the part's
unit, rounded up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from inventory.catalogue import STAGES, Kit, Part
from inventory.making.bom import Use

Pieces = int | Fraction
"""Whole pieces, or expected ones."""


def tubes_inside(kit: Part) -> bool:
    """Whether the tubes are counted with the kit."""
    return isinstance(kit.detail, Kit) and kit.detail.tubes_inside


def tubes_lying_in(kits: int, use: Use, kit: Part) -> int:
    """Thousandths of the part of a use that lie in so many thousandths of kits; nothing of any but their tubes."""
    return ceil(use.per_piece) * kits // 1000 if use.role == "the tubes" and tubes_inside(kit) else 0


def blank_stage(lines: Iterable[Use]) -> int:
    """The number of the stage at which the bill takes the blank (the first where it takes none)."""
    return next((STAGES.index(use.stage) for use in lines if use.role == "the blank"), 0)


def supplied_by_kits(use: Use, reached: Sequence[Pieces], kit: Part, lines: Iterable[Use]) -> Pieces:
    """How many pieces have what a use asks for from their kit: for tubes those that reached the stage of the kit."""
    if use.role != "the tubes" or not tubes_inside(kit):
        return 0
    return next((reached[STAGES.index(line.stage)] for line in lines if line.role == "the kit"), 0)


def by_piece(use: Use, pieces: Pieces, supplied: Pieces = 0) -> int:
    """Thousandths that so many pieces take, of which the kits supply some."""
    each = use.per_piece
    return -(
        -each.numerator * max(pieces - supplied, 0) // each.denominator
    )  # as ceil(each * …), in whole numbers


def need_of(use: Use, reached: Sequence[Pieces], kit: Part, lines: Iterable[Use]) -> int:
    """Thousandths of one use for the pieces that reached its stage, with what is taken once a session."""
    supplied = supplied_by_kits(use, reached, kit, lines)
    return by_piece(use, reached[STAGES.index(use.stage)], supplied) + use.per_session


def bill_for(lines: Sequence[Use], kit: Part, reached: Sequence[Pieces], blanks: int) -> dict[str, int]:
    """Thousandths of each part for the pieces that reached each stage, by name. blanks: thousandths that are cut."""
    sums: dict[str, int] = {}
    for use in lines:
        taken = blanks if use.role == "the blank" else need_of(use, reached, kit, lines)
        sums[use.part] = sums.get(use.part, 0) + taken
    return sums
