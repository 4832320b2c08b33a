"""What pieces take off the shelf, against piece by piece."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.catalogue import STAGES, Kit, Part, Tube
from inventory.making.bom import Use
from inventory.making.consumption import bill_for, blank_stage, need_of, tubes_lying_in
from inventory.measures import read_drill, read_length

WITH = Part("Godwit kit", Kit("Godwit", "chrome", tubes_inside=True))
WITHOUT = Part("Dunlin kit", Kit("Dunlin", "chrome"))
TUBE = Use("tube", "glue", Fraction(2000), 0, "the tubes")
KIT = Use("kit", "assemble", Fraction(1000), 0, "the kit")
GLUE = Use("glue", "glue", Fraction(1, 3), 500)
BLANK = Use("blank", "cut", Fraction(1000), 0, "the blank")
BILL = (BLANK, TUBE, GLUE, KIT)


def one_by_one(lost: dict[str, int], good: int, *, inside: bool) -> dict[str, Fraction]:
    """Each piece goes through the stages until it is lost; one that gets its kit has its tubes from there."""
    ends = [stage for stage, many in lost.items() for _ in range(many)] + [""] * good
    took = {use.part: Fraction(use.per_session) for use in BILL if use is not BLANK}
    for end in ends:
        last = STAGES.index(end) if end else len(STAGES) - 1
        for use in (TUBE, GLUE, KIT):
            at_kit = STAGES.index(KIT.stage) <= last
            if STAGES.index(use.stage) <= last and not (inside and use is TUBE and at_kit):
                took[use.part] += use.per_piece
    return took


@pytest.mark.cross_check
@given(st.dictionaries(st.sampled_from(STAGES), st.integers(0, 9)), st.integers(0, 9), st.booleans())
def test_the_bill_of_pieces_is_what_each_took(lost: dict[str, int], good: int, inside: bool) -> None:
    """Good and lost pieces, with tubes on the shelf or lying in the kits; the cut plan says the blanks."""
    reached = [
        good + sum(many for stage, many in lost.items() if STAGES.index(stage) >= at)
        for at in range(len(STAGES))
    ]
    found = bill_for(BILL, WITH if inside else WITHOUT, reached, 4000)
    assert found.pop("blank") == 4000
    assert found == {part: ceil(amount) for part, amount in one_by_one(lost, good, inside=inside).items()}


def test_expected_pieces_are_rounded_up_once() -> None:
    """2.5 expected pieces of a third of a thousandth, and what is taken once: 501; tubes: 5."""
    reached = [Fraction(5, 2)] * len(STAGES)
    assert need_of(GLUE, reached, WITHOUT, BILL) == 501
    assert need_of(TUBE, reached, WITHOUT, BILL) == 5000
    assert need_of(TUBE, reached, WITH, BILL) == 0
    assert need_of(TUBE, reached, WITH, (TUBE,)) == 5000  # a bill without a kit brings no tubes in one


def test_tubes_lie_in_kits_as_many_as_a_piece_takes() -> None:
    """Three kits hold six tubes, where they hold any; nothing else lies in them."""
    assert tubes_lying_in(3000, TUBE, WITH) == 6000
    assert tubes_lying_in(3000, TUBE, WITHOUT) == tubes_lying_in(3000, GLUE, WITH) == 0
    odd = Part("not a kit", Tube(read_length("7 mm"), read_length("53 mm"), read_drill("7.1 mm")))
    assert tubes_lying_in(3000, TUBE, odd) == 0


def test_the_blank_is_taken_at_its_line_or_at_the_start() -> None:
    """The number of the stage."""
    assert STAGES[blank_stage(BILL)] == "cut"
    assert blank_stage([Use("blank", "turn", Fraction(1000), 0, "the blank")]) == STAGES.index("turn")
    assert blank_stage([GLUE]) == 0
