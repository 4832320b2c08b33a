"""What a wish for one of several blanks means: names, materials, kinds of material, any; and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.catalogue import Blank, Catalogue, Material, Part, fold
from inventory.catalogue.blanks_wished import ACCEPTED, KnownBlanks
from inventory.errors import BadInput, UnknownName
from inventory.measures import read_length

BLANKS = {
    "walnut blank": "walnut",
    "walnut stopper block": "walnut",
    "ash blank": "ash",
    "elm burl offcut": "elm burl",
    "stabilised maple red": "stabilised maple",
    "storm rod": "acrylic",
    "stag tip": "red deer antler",
    "black or white, striped": "polyester resin",
}
WOOD = {"walnut blank", "walnut stopper block", "ash blank", "elm burl offcut", "stabilised maple red"}


@pytest.fixture
def known() -> Catalogue:
    """Eight blanks of seven materials, and a material nothing is there of."""
    parts = [Part(name, Blank(of, "square", read_length("19 mm"))) for name, of in BLANKS.items()]
    materials = [Material(name, read_length("3 mm")) for name in (*dict.fromkeys(BLANKS.values()), "yew")]
    return Catalogue({fold(one.name): one for one in parts}, materials={one.name: one for one in materials})


def blanks_of(known: Catalogue) -> KnownBlanks:
    return KnownBlanks(known.parts, known.materials, known.no_longer_bought)


@pytest.mark.parametrize(
    ("text", "words", "blanks"),
    [
        ("Ash  Blank", "", {"ash blank"}),
        ("ash", "", {"ash blank"}),
        ("storm rod", "", {"storm rod"}),
        ("walnut", "walnut", {"walnut blank", "walnut stopper block"}),
        ("any walnut", "any walnut", {"walnut blank", "walnut stopper block"}),
        ("walnut blank or ASH", "walnut blank or ash", {"walnut blank", "ash blank"}),
        ("ash; storm rod, stag tip", "ash or storm rod or stag tip", {"ash blank", "storm rod", "stag tip"}),
        (
            "ash, storm rod, or stag tip",
            "ash or storm rod or stag tip",
            {"ash blank", "storm rod", "stag tip"},
        ),
        ("any wood", "any wood", WOOD),
        ("wood", "any wood", WOOD),
        ("any kind of wood or antler", "any wood or any antler", {*WOOD, "stag tip"}),
        ("any resin", "any resin", {"storm rod", "black or white, striped"}),
        ("burl", "", {"elm burl offcut"}),
        ("any", "any blank", set(BLANKS)),
        ("Any blank", "any blank", set(BLANKS)),
        ("black or white, striped", "", {"black or white, striped"}),
        (
            "black or white, striped; ash",
            "black or white, striped or ash",
            {"black or white, striped", "ash blank"},
        ),
    ],
)
def test_what_a_wish_means(known: Catalogue, text: str, words: str, blanks: set[str]) -> None:
    """The blanks it allows, and how it is written down; what it says again means the same."""
    wish = blanks_of(known).wished(text)
    assert (wish.words.casefold(), {part.name for part in wish.blanks}) == (words, blanks)
    if "black" not in text:
        assert blanks_of(known).wished(wish.words or wish.blanks[0].name) == wish


def test_an_open_wish_with_one_blank_stays_open(known: Catalogue) -> None:
    """Antler is all there is of antler today; the next one will do as well."""
    wish = blanks_of(known).wished("any antler")
    assert (wish.words, [part.name for part in wish.blanks]) == ("any antler", ["stag tip"])


def test_the_order_they_are_named_in_is_kept(known: Catalogue) -> None:
    """The first named is the first."""
    assert [one.name for one in blanks_of(known).wished("storm rod or ash").blanks] == [
        "storm rod",
        "ash blank",
    ]


def test_what_is_retired_is_meant_by_its_own_name_alone(known: Catalogue) -> None:
    """Nobody gets by “any wood” what is no longer bought."""
    without = replace(known, retired=frozenset({("part", "ash blank")}))
    assert "ash blank" not in {part.name for part in blanks_of(without).wished("any wood").blanks}
    assert [part.name for part in blanks_of(without).wished("ash blank").blanks] == ["ash blank"]


@pytest.mark.parametrize(
    ("text", "error", "said"),
    [
        ("walnt blank", UnknownName, "walnut blank"),
        ("ash or wallnut", UnknownName, "“wallnut”"),
        ("any light wood", UnknownName, "“any light wood”"),
        ("yew", BadInput, "no blank of yew"),
        ("plum", UnknownName, "Known: acrylic"),
    ],
)
def test_what_it_cannot_mean(known: Catalogue, text: str, error: type[BadInput], said: str) -> None:
    """The word that is not known is named, with the nearest, or with what is accepted."""
    with pytest.raises(error) as refused:
        blanks_of(known).wished(text)
    assert said in f"{refused.value.message} {refused.value.hint}"


@pytest.mark.parametrize(
    ("text", "told"),
    [("walnt blank", False), ("ash or wallnut", True), ("plum", True), ("ash or plum", True)],
)
def test_what_is_accepted_is_told_where_no_single_name_was_nearly_right(
    known: Catalogue, text: str, told: bool
) -> None:
    """A slip of one letter in one name needs no lesson; a wish of several, or a word like none, does."""
    with pytest.raises(UnknownName) as refused:
        blanks_of(known).wished(text)
    assert (ACCEPTED in refused.value.hint) is told
