"""Abrasive grades: never a number without its scale, and what may stand in for what."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import Grit, micron, read_grit, show_grit, substitute
from inventory.measures.grits import COARSEST_MICRON, FARTHEST, GritSystem
from inventory.measures.tables import rows

ALL = [
    *(read_grit(f"{row['system'].removeprefix('FEPA ')} {row['grade']}") for row in rows("grits")),
    *(Grit("micron", size) for size in range(1, COARSEST_MICRON + 1)),
]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("P400", "P400"),
        ("p 400", "P400"),
        ("FEPA P400", "P400"),
        ("P-400", "P400"),
        ("CAMI 400", "CAMI 400"),
        ("400 CAMI", "CAMI 400"),
        ("cami400", "CAMI 400"),
        ("400 grit CAMI", "CAMI 400"),
        ("mesh 320", "mesh 320"),
        ("320 mesh", "mesh 320"),
        ("micron 9", "micron 9"),
        ("9 micron", "micron 9"),
        ("12 microns", "micron 12"),
    ],
)
def test_a_grade_is_read_with_its_scale(text: str, shown: str) -> None:
    """Scale before or after the number, one spelling out."""
    assert shown == show_grit(read_grit(text)) == str(read_grit(text))


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("400", "does not say which scale", "P400 or CAMI 400 or mesh 400"),
        ("400 grit", "does not say which scale", "P400 or CAMI 400 or mesh 400"),
        ("4000", "not an abrasive grade", "micron 9"),
        ("9", "does not say which scale", "micron 9"),
        ("pad 4000", "not an abrasive grade", "micron 9"),
        ("333", "not an abrasive grade", "P400"),
        ("P333", "no abrasive grade P333", "P320 and P360"),
        ("fine", "not an abrasive grade", "P400"),
        ("FEPA 400", "not an abrasive grade", "P400"),
        ("emery 400", "not an abrasive grade", "P400"),
        ("", "empty", "Write the grit"),
    ],
)
def test_an_unclear_grade_is_refused(text: str, message: str, hint: str) -> None:
    """The scales it could be on are named."""
    with pytest.raises(BadMeasure) as refusal:
        read_grit(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


P_GRADES = [
    *(("60", "269"), ("80", "201"), ("100", "162"), ("120", "125"), ("150", "100"), ("180", "82")),
    *(("220", "68"), ("240", "58.5"), ("280", "52.2"), ("320", "46.2"), ("360", "40.5"), ("400", "35.0")),
    *(
        ("500", "30.2"),
        ("600", "25.8"),
        ("800", "21.8"),
        ("1000", "18.3"),
        ("1200", "15.3"),
        ("1500", "12.6"),
    ),
    *(("2000", "10.3"), ("2500", "8.4")),
]


@pytest.mark.outside
@pytest.mark.parametrize(("grade", "size"), P_GRADES)
def test_p_grades_have_their_standard_size(grade: str, size: str) -> None:
    """FEPA P grades of ISO 6344, as two secondary tables give them, in micrometres (read)."""
    assert Fraction(size) == micron(read_grit(f"P{grade}"))


EXACT = (("400", "23.6"), ("600", "16"), ("1000", "10.3"))
CHART = [
    *(("40", "430"), ("50", "350"), ("60", "270"), ("80", "192"), ("100", "140"), ("120", "116")),
    *(("150", "93"), ("180", "82"), ("220", "68"), ("240", "52"), ("280", "42"), ("320", "35")),
    *(("360", "28"), ("400", "22"), ("500", "18"), ("600", "15")),
    *EXACT,
]


@pytest.mark.outside
@pytest.mark.parametrize(("grade", "size"), CHART)
def test_cami_grades_lie_beside_a_published_chart(grade: str, size: str) -> None:
    """A finisher's published chart, rounded to steps both scales share, hence 2 µm of room (read).

    Those in `EXACT`: two published descriptions of the scales, exactly (read).
    """
    own = micron(read_grit(f"CAMI {grade}"))
    assert own is not None
    assert own == Fraction(size) if (grade, size) in EXACT else abs(own - Fraction(size)) <= 2


@pytest.mark.outside
@pytest.mark.parametrize(
    ("grit", "system", "expected"),
    [
        (Grit("CAMI", 400), "FEPA P", Grit("FEPA P", 800)),
        (Grit("FEPA P", 800), "CAMI", Grit("CAMI", 400)),
        (Grit("CAMI", 600), "FEPA P", Grit("FEPA P", 1200)),
        (Grit("FEPA P", 1200), "CAMI", Grit("CAMI", 600)),
        (Grit("CAMI", 320), "FEPA P", Grit("FEPA P", 400)),
        (Grit("CAMI", 800), "FEPA P", Grit("FEPA P", 1500)),
        (Grit("CAMI", 1000), "FEPA P", Grit("FEPA P", 2000)),
        (Grit("CAMI", 180), "FEPA P", Grit("FEPA P", 180)),
        (Grit("CAMI", 220), "FEPA P", Grit("FEPA P", 220)),
    ],
    ids=str,
)
def test_substitutes_across_the_scales_agree_with_published_comparisons(
    grit: Grit, system: GritSystem, expected: Grit
) -> None:
    """“How does the sandpaper numbering system work?”, and a published comparison chart (both read)."""
    assert expected == substitute(grit, system)


def test_a_substitute_far_off_is_none() -> None:
    """A polishing film has no P grade near it."""
    with pytest.raises(BadMeasure, match="No FEPA P grade is near micron 2"):
        substitute(Grit("micron", 2), "FEPA P")


def test_a_grade_outside_the_tables_has_no_size() -> None:
    """Asking its size is no error, asking for a substitute is."""
    assert micron(Grit("mesh", 333)) is None
    with pytest.raises(BadMeasure, match="no abrasive grade mesh 333"):
        substitute(Grit("mesh", 333), "CAMI")


def test_higher_grades_are_finer() -> None:
    """Within each scale; a grade in micrometres is its own size."""
    for system in ("FEPA P", "CAMI", "mesh"):
        grades = sorted(grit.grade for grit in ALL if grit.system == system)
        sizes = [micron(Grit(system, grade)) for grade in grades]
        assert sizes == sorted(sizes, key=lambda size: -(size or 0))
        assert len(set(sizes)) == len(sizes)
    assert {grit.grade: micron(grit) for grit in ALL if grit.system == "micron"} == {
        size: size for size in range(1, 101)
    }


@given(st.sampled_from(ALL), st.sampled_from(["FEPA P", "CAMI", "mesh", "micron"]))
def test_no_grade_is_nearer_than_the_substitute(grit: Grit, system: GritSystem) -> None:
    """Nearest by ratio of particle size, against trying every grade; a grade stands in for itself."""
    own = micron(grit)
    assert own is not None
    ratios = {
        other: max(own / size, size / own)
        for other in ALL
        if other.system == system and (size := micron(other))
    }
    if min(ratios.values()) > FARTHEST:
        with pytest.raises(BadMeasure):
            substitute(grit, system)
    else:
        assert min(ratios.values()) == ratios[substitute(grit, system)]
    assert grit == read_grit(show_grit(grit)) == substitute(grit, grit.system)
