"""What can hurt: every code has a kind, every caution its moment, and what nobody knows is never called harmless."""

from __future__ import annotations

import pytest

from inventory.catalogue import Material, Part, Supply
from inventory.catalogue.hazards import hazard_sentence, statements
from inventory.catalogue.safety import MOMENTS, NOT_ON_FILE, Doing, Safety, safety_of, standing
from inventory.catalogue.safety.kinds import DOES, WEAK, dust_of, kinds_of
from inventory.measures import read_length
from inventory.measures.tables import rows

STAGES = frozenset({"cut", "drill", "glue", "turn", "finish"})


def supply(name: str, type_: str, *codes: str, unit: str = "ml") -> Part:
    return Part(name, Supply(type_, hazards=codes), unit)


def material(name: str, caution: str = "", species: str = "") -> Material:
    return Material(name, read_length("3 mm"), {}, caution, species)


def making(*things: Part | Material, selling: bool = False) -> Safety:
    """What is said where these are worked with at every stage."""
    supplies = tuple(one for one in things if isinstance(one, Part))
    materials = tuple(one for one in things if isinstance(one, Material))
    return safety_of(Doing(supplies, materials, STAGES, frozenset({"stopper"}), selling))


CA = supply("thin CA", "adhesive", "H315", "H319", "H335", "EUH202")
EPOXY = supply("epoxy", "adhesive", "H315", "H317", "H319", "H411", "EUH205")
PU = supply("PU glue", "adhesive", "H317", "H334", "H351", "EUH204")
SPIRIT = supply("spirit", "solvent", "H225", "H319")
OIL = supply("oil", "finish", "EUH066")
EVERYTHING = making(
    *(CA, EPOXY, PU, SPIRIT, OIL),
    *(material("rosewood", species="Dalbergia"), material("red deer antler"), material("elm burl")),
    selling=True,
)


def test_every_code_has_one_kind() -> None:
    """No statement of the table is about nothing, and none is about two things."""
    codes = [code for row in rows("hazard_kinds") for code in row["codes"].split()]
    assert sorted(codes) == sorted(statements())


@pytest.mark.parametrize(
    ("codes", "kinds"),
    [
        (("H315", "H319", "H335", "EUH202"), ("CA",)),
        (("H315", "H317", "H319", "H411", "EUH205"), ("epoxy",)),
        (("H225", "H319", "H336"), ("flammables",)),
        (("H317", "H334", "H351", "EUH204"), ("isocyanates", "cancer, genes or the unborn child")),
        (("H317",), ("sensitisers",)),
        (("H315",), ("irritants",)),
        (("H301+H331",), ("poison",)),
        (("H999",), ("what its data sheet says",)),
        ((), ()),
    ],
)
def test_a_product_is_called_by_what_is_worst_of_it(codes: tuple[str, ...], kinds: tuple[str, ...]) -> None:
    assert kinds_of(codes) == kinds


@pytest.mark.parametrize("code", statements())
def test_no_statement_is_passed_over(code: str) -> None:
    """A product with any one statement is named in the line, and its statement said in full, once."""
    found = making(supply("stuff", "finish", code))
    assert kinds_of((code,))
    assert set(kinds_of((code,))) <= set(found.kinds)
    said = [one.says for one in found.statements if one.of == ("stuff",)]
    assert said == [f"stuff: {code} {statements()[code]}"]


@pytest.mark.parametrize("row", rows("cautions"), ids=lambda row: str(row["says"])[:40])
def test_each_caution_is_said_once_in_a_job_that_has_everything(row: dict[str, str]) -> None:
    """At its moment; those of a protected species with the material's name before them."""
    said = [one for one in EVERYTHING.statements if one.says.endswith(row["says"])]
    assert [one.moment for one in said] == [row["moment"]]
    assert row["moment"] in MOMENTS
    assert row["source"]


def test_statements_stand_in_the_order_of_the_work() -> None:
    moments = list(dict.fromkeys(one.moment for one in EVERYTHING.statements))
    assert moments == list(MOMENTS)
    assert len({one.says for one in EVERYTHING.statements}) == len(EVERYTHING.statements)


def test_cyanoacrylate_is_said_in_full() -> None:
    """EUH202 to the letter, and what no code says: it burns on cotton."""
    said = " ".join(one.says for one in making(CA).at("glue"))
    assert (
        "EUH202 Cyanoacrylate. Danger. Bonds skin and eyes in seconds. Keep out of the reach of children."
        in said
    )
    assert "hot on cotton" in said


@pytest.mark.parametrize(
    ("part", "asked"),
    [
        (supply("mystery glue", "adhesive"), True),
        (supply("glue sticks", "adhesive", unit="piece"), True),
        (supply("tube paint", "finish"), True),
        (supply("plug wax", "sundry", unit="g"), True),
        (supply("burnishing cream", "abrasive"), True),
        (supply("a thing of its own", "gilding", unit="sheet"), True),
        (supply("P120 strip", "abrasive", unit="strip"), False),
        (supply("felt sleeve", "packaging", unit="piece"), False),
        (supply("beeswax", "finish", "none", unit="g"), False),
        (supply("beeswax", "finish", "None", unit="g"), False),
    ],
    ids=lambda value: value.name if isinstance(value, Part) else "",
)
def test_missing_data_is_said_and_never_taken_as_harmless(part: Part, asked: bool) -> None:
    """Of whatever is poured, weighed or no counted thing, unless somebody wrote that its data sheet has none."""
    found = making(part)
    assert found.unknown == ((part.name,) if asked else ())
    said = f"{part.name}: {NOT_ON_FILE}."
    assert (said in [one.says for one in found.statements]) == asked
    assert any(part.name in kind for kind in found.kinds) == asked


@pytest.mark.parametrize(
    ("name", "kinds", "timber", "does"),
    [
        ("walnut", ("wood",), "walnut", "sensitises"),
        ("ash", ("wood",), "", ""),
        ("Rosewood, old stock", ("wood",), "rosewoods", "sensitises"),
        ("spalted maple", ("wood",), "spalted maple", "sensitises"),
        ("stabilised maple", ("wood", "resin"), "", ""),
        ("red deer antler", ("antler",), "", ""),
        ("buffalo horn", ("horn",), "", ""),
        ("clear resin with shell", ("shell", "resin"), "", ""),
        ("Eibe", ("wood",), "yew", "is poisonous"),
        ("olive resin", ("resin",), "", ""),  # a colour
    ],
)
def test_dusts_by_the_words_of_a_name(name: str, kinds: tuple[str, ...], timber: str, does: str) -> None:
    found = dust_of(name)
    assert (found.kinds, found.timber, found.does) == (kinds, timber, does)


def test_of_two_materials_in_one_blank_the_worse_counts() -> None:
    """Acrylic round a burl: it heats up as the one does, and may fly apart as the other."""
    both, plain = dust_of("acrylic and burl hybrid"), dust_of("ash")
    assert (both.heats, both.fragile, plain.heats, plain.fragile) == (True, True, False, False)


READ = {
    "iroko": "sensitises",
    "mahogany": "sensitises",
    "olivewood": "sensitises",
    "teak": "sensitises",
    "wenge": "sensitises",
    "western red cedar": "sensitises",
    "yew": "is poisonous",
    "elm": "irritates",
    "satinwood": "irritates",
}
"""The chart of wood toxicity in a turners' association's journal of June 1990 (a copy was read), which names as its
sources Woods and Calnan, Toxic Woods, British Journal of Dermatology 1976, and the ILO's Encyclopaedia of 1983."""


@pytest.mark.outside
@pytest.mark.parametrize("name", READ)
def test_timbers_do_what_the_chart_reports(name: str) -> None:
    """S: sensitiser, I: irritant, DT: direct toxin, as the chart's columns have them: see `READ`."""
    assert dust_of(name).does == READ[name]
    assert any(name in one.says and DOES[READ[name]] in one.says for one in making(material(name)).statements)


@pytest.mark.outside
def test_wood_dust_is_what_the_iarc_says() -> None:
    """“Wood dust is carcinogenic to humans (Group 1)”: IARC Monographs 62, 1995, overall evaluation (read)."""
    said = next(one for one in making(material("ash")).statements if one.says.startswith("Wood dust"))
    assert "can cause cancer (IARC group 1" in said.says
    assert "Monographs 62" in said.source


def test_the_shops_own_word_goes_before_the_tables() -> None:
    """A caution about dust is said in its place; one about working the wood is none, and the table's stays."""
    own = making(material("iroko", "the dust makes me sneeze"), material("olivewood", "oily: wipe the bore"))
    said = [one.says for one in own.at("finish")]
    assert "iroko: the dust makes me sneeze." in said
    assert not any(one.startswith("iroko: the dust may") for one in said)
    assert any(one.startswith("olivewood: the dust may make allergic") for one in said)


def test_what_is_only_usual_says_so() -> None:
    """Codes nobody took from the data sheet point to it; a usual caution gives way to the table with its source."""
    part = Part("thin CA", Supply("adhesive", hazards=("EUH202",), usual=("hazards",)), "ml")
    assert making(part).at("glue")[0].says.endswith("Usual codes of such a product: read its own data sheet.")
    usual = Material("iroko", read_length("3 mm"), {}, dust_of("iroko").caution, usual=("caution",))
    horn = Material("horn", read_length("3 mm"), {}, "dust and smell: a respirator", usual=("caution",))
    found = {one.of: one for one in making(usual, horn).at("finish")}
    assert found["iroko",].source == "measures/tables/timbers.csv: chart"
    assert (found["horn",].says, found["horn",].source) == (
        "horn: dust and smell: a respirator.",
        "usual, common practice",
    )


def test_nothing_to_make_is_nothing_to_mind() -> None:
    """Finished pieces ask only what selling asks; without a price not even that."""
    assert safety_of(Doing(materials=(material("rosewood", species="Dalbergia"),))) == Safety()
    sold = safety_of(Doing(materials=(material("rosewood", species="Dalbergia"),), selling=True))
    assert sold.kinds == ()
    assert sold.selling.startswith("Rosewood: protected species, keep its papers;")
    assert "Dalbergia" in sold.at("selling")[0].says
    assert Safety().selling == ""


def test_the_line_names_dangers_once() -> None:
    """Products by kind, dusts together, and what nobody knows; the weak only where nothing is worse."""
    found = making(
        *(CA, EPOXY, SPIRIT, OIL, supply("plug wax", "sundry", unit="g")), material("ash"), material("antler")
    )
    assert found.kinds == (
        *("flammables", "CA", "epoxy", "irritants"),
        *("wood and antler dust", "no hazards on file for plug wax"),
    )
    assert set(WEAK) & set(making(EPOXY).kinds) == set()
    assert making(material("antler"), material("iroko")).kinds == ("sensitising antler and wood dust",)


def test_facts_hold_together() -> None:
    """All facts of one alternative, or none of them."""
    assert standing(["stopper"]) == ()
    assert any("chuck" in one.says for one in standing(["stopper", "turn"]))


def test_one_unknown_of_several_hazards_sends_to_the_data_sheet() -> None:
    """Joined codes are said one after the other only where each is known."""
    assert hazard_sentence("CA thin", ("H301+H311",)).startswith("CA thin: H301 ")
    assert hazard_sentence("CA thin", ("H301+H999",)) == (
        "CA thin: H301+H999 (what it means is in the safety data sheet)."
    )


def test_a_caution_is_said_where_any_of_its_cases_is() -> None:
    """Each way in which a row of the table can hold, alone."""
    for row in rows("cautions"):
        for case in row["when"].split("|"):
            assert row["says"] in {one.says for one in standing(case.split("+"))}, (row["says"], case)
        assert row["says"] not in {one.says for one in standing(())} or not row["when"]
