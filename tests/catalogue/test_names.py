"""Things by their names: what one had before finds it as well, and is not listed."""

from __future__ import annotations

import pytest

from inventory.catalogue.names import Known, natural, over


@pytest.fixture
def known() -> Known[str]:
    """A kit that was called otherwise once."""
    return Known({"dunlin kit": "the kit"}, {"old dunlin kit": "dunlin kit"})


def test_an_old_name_finds_the_thing_however_it_is_asked(known: Known[str]) -> None:
    """By key, by get, by in; also with another put over it; and what never was is none of them."""
    assert (known["old dunlin kit"], known.get("old dunlin kit"), "old dunlin kit" in known) == (
        "the kit",
        "the kit",
        True,
    )
    assert list(known) == ["dunlin kit"]
    assert over(known, {"dunlin kit": "a better one"}).get("old dunlin kit") == "a better one"
    assert (known.get("godwit kit"), known.get("godwit kit", "none"), "godwit kit" in known) == (
        None,
        "none",
        False,
    )
    with pytest.raises(KeyError):
        known["godwit kit"]


def test_sizes_stand_before_words_and_by_what_they_are() -> None:
    """As people sort drawers: 3/8 before 10.5 before what begins with a word."""
    assert sorted(["tube 7", "10.5 mm drill", "3/8 drill", "tube 10"], key=natural) == [
        *("3/8 drill", "10.5 mm drill"),
        *("tube 7", "tube 10"),
    ]
