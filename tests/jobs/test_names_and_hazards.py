"""Names meet whatever their spelling; hazard codes are put in words."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.catalogue import find, fold
from inventory.catalogue.hazards import FLAMMABLE, hazard_sentence, in_a_sentence, statements, tidy_code
from inventory.errors import UnknownName
from inventory.measures.tables import rows
from jobs import goods


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
    known = goods.catalogue()
    assert known.part(" TUBE 27/64").name == goods.TUBE
    assert known.plating("Chrome").substitutes == ("rhodium",)
    assert known.material("OLIVE wood").name == "olive wood"
    assert known.family("avocet").name == "Avocet"
    assert known.pattern("avocet  gloss").family == "Avocet"
    assert known.supplier("saltmarsh turning").lead_days == 5


def test_an_unknown_name_offers_the_nearest() -> None:
    """A slip of the finger is answered with what it may have meant; keys serve where things have no name."""
    with pytest.raises(UnknownName) as caught:
        goods.catalogue().part("tube 27/46")
    assert goods.TUBE in caught.value.nearest
    with pytest.raises(UnknownName) as other:
        find({"eur": 1}, "coin", "eud")
    assert other.value.nearest == ("eur",)


ANNEX_III = {
    "H224": "Extremely flammable liquid and vapour.",
    "H225": "Highly flammable liquid and vapour.",
    "H226": "Flammable liquid and vapour.",
    "H302": "Harmful if swallowed.",
    "H304": "May be fatal if swallowed and enters airways.",
    "H314": "Causes severe skin burns and eye damage.",
    "H315": "Causes skin irritation.",
    "H317": "May cause an allergic skin reaction.",
    "H318": "Causes serious eye damage.",
    "H319": "Causes serious eye irritation.",
    "H332": "Harmful if inhaled.",
    "H334": "May cause allergy or asthma symptoms or breathing difficulties if inhaled.",
    "H335": "May cause respiratory irritation.",
    "H336": "May cause drowsiness or dizziness.",
    "H351": "Suspected of causing cancer.",
    "H373": "May cause damage to organs through prolonged or repeated exposure.",
    "H411": "Toxic to aquatic life with long lasting effects.",
    "EUH066": "Repeated exposure may cause skin dryness or cracking.",
    "EUH202": "Cyanoacrylate. Danger. Bonds skin and eyes in seconds. Keep out of the reach of children.",
    "EUH204": "Contains isocyanates. May produce an allergic reaction.",
    "EUH205": "Contains epoxy constituents. May produce an allergic reaction.",
}
"""Regulation (EC) No 1272/2008, annex III, as the customs laboratories of the European Commission print the H
statements up to H336 (read), and public lists of the codes the others (read)."""


@pytest.mark.outside
@pytest.mark.parametrize("code", ANNEX_III)
def test_statements_are_those_of_the_regulation(code: str) -> None:
    """Full official wording, capital and full stop: see `ANNEX_III`."""
    assert statements()[code] == ANNEX_III[code]
    assert hazard_sentence("thin CA", (code,)) == f"thin CA: {code} {ANNEX_III[code]}"


def test_every_code_of_the_sample_is_checked_against_the_regulation() -> None:
    """No supply of the sample has a code whose wording was not held against the published one."""
    with (Path(__file__).parents[2] / "sample_stock" / "supplies.csv").open(encoding="utf-8") as sheet:
        used = {code for row in csv.DictReader(sheet) for code in row["hazards"].split("; ") if code}
    assert used <= set(ANNEX_III)
    assert set(ANNEX_III) >= FLAMMABLE


def test_the_table_is_whole_sentences() -> None:
    """Each code once, of a form that exists; wording with a capital and a full stop; where it is from is said."""
    table = rows("hazards")
    assert len({row["code"] for row in table}) == len(table) > 120
    for row in table:
        assert re.fullmatch(r"H[234]\d\d[FDfdi]{0,2}|EUH[0-4]\d\dA?", row["code"])
        assert row["statement"][0].isupper()
        assert row["statement"].endswith(".")
        assert row["basis"] in ("read", "from memory", "read; UN GHS only")


def test_codes_as_data_sheets_write_them() -> None:
    """Small letters that mean something stay, joined codes are said each, an unknown one points to the data sheet."""
    assert [tidy_code(one) for one in ("h315", "H361fd", "H360FD", "euh202")] == [
        "H315",
        "H361fd",
        "H360FD",
        "EUH202",
    ]
    assert hazard_sentence("resin", ("H301+H331", "H999")) == (
        "resin: H301 Toxic if swallowed. H331 Toxic if inhaled. "
        "H999 (what it means is in the safety data sheet)."
    )
    assert in_a_sentence("H225", "flammable") == "highly flammable liquid and vapour"
    assert in_a_sentence("H999", "flammable") == "flammable"
