"""Names meet whatever their spelling; hazard codes are put in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.catalogue import find, fold
from inventory.catalogue.hazards import FLAMMABLE, STATEMENTS, hazard_sentence
from inventory.errors import UnknownName
from jobs.goods import TUBE, catalogue


@given(st.text(max_size=30))
def test_folding_twice_is_folding_once(name: str) -> None:
    """A folded name is its own folded form, whatever the case and spaces around it."""
    assert fold(fold(name)) == fold(name)
    assert fold(f"  {name}\t") == fold(name)


def test_case_and_spaces_do_not_make_two_things() -> None:
    """Upper case, doubled and trailing spaces are overlooked; other letters are not."""
    assert fold("Thin  CA ") == fold("thin ca")
    assert fold("thin ca") != fold("thick ca")


def test_found_under_any_spelling() -> None:
    """Each kind of thing in the catalogue answers to its name."""
    known = catalogue()
    assert known.part(" TUBE 27/64").name == TUBE
    assert known.plating("Chrome").stand_ins == ("rhodium",)
    assert known.material("OLIVE wood").name == "olive wood"
    assert known.family("avocet").name == "Avocet"
    assert known.pattern("avocet  gloss").family == "Avocet"
    assert known.supplier("saltmarsh turning").lead_days == 5


def test_an_unknown_name_offers_the_nearest() -> None:
    """A slip of the finger is answered with what it may have meant; keys serve where things have no name."""
    with pytest.raises(UnknownName) as caught:
        catalogue().part("tube 27/46")
    assert TUBE in caught.value.nearest
    with pytest.raises(UnknownName) as other:
        find({"eur": 1}, "coin", "eud")
    assert other.value.nearest == ("eur",)


@pytest.mark.outside
def test_statements_are_those_of_the_regulation() -> None:
    """Codes and wording as in Regulation (EC) No 1272/2008, annex III (from memory)."""
    assert STATEMENTS["H225"] == "highly flammable liquid and vapour"
    assert STATEMENTS["H319"] == "causes serious eye irritation"
    assert STATEMENTS["H336"] == "may cause drowsiness or dizziness"
    assert STATEMENTS["EUH202"].startswith("cyanoacrylate")
    assert frozenset({"H224", "H225", "H226"}) == FLAMMABLE


def test_one_line_a_product() -> None:
    """Known codes in words with the code, unknown ones as they are."""
    assert hazard_sentence("thin CA", ("H315", "H999")) == "thin CA: causes skin irritation (H315); H999."
