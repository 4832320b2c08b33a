"""Which parts of a bill speak for pieces that were made and not booked, and which against; how it is said."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import pytest

from inventory.catalogue import Kit, Part, fold
from inventory.jobs.differences.case import Case
from inventory.jobs.differences.unbooked_pieces import Eaten, forgotten_pieces, piece_reasons
from jobs import goods


def short(part: str, less: int, error: int = 0) -> Case:
    """So many thousandths fewer than expected."""
    return Case(goods.catalogue().part(part), 90_000, 90_000 - less, error, "counted")


@pytest.mark.parametrize(
    ("cases", "agree", "against"),
    [
        ([short(goods.TUBE, 1000)], {goods.TUBE}, set()),
        ([short(goods.TUBE, 1000), short(goods.STRIP, 0)], {goods.TUBE}, {goods.STRIP}),
        ([short(goods.TUBE, 1000), short(goods.STRIP, 0, 249)], {goods.TUBE}, {goods.STRIP}),
        ([short(goods.TUBE, 1000), short(goods.STRIP, 0, 250)], {goods.TUBE}, set()),
        ([short(goods.TUBE, 1000), short(goods.REFILL, 0)], {goods.TUBE}, {goods.REFILL}),
        ([short(goods.TUBE, 1000), short(goods.SLIM, 0)], {goods.TUBE}, set()),
        ([short(goods.TUBE, 1000), short(goods.REFILL, 1000)], {goods.TUBE, goods.REFILL}, set()),
        (
            [short(goods.TUBE, 1000), short(goods.REFILL, 0), short(goods.SLIM, 1000)],
            {goods.TUBE, goods.SLIM},
            set(),
        ),
    ],
)
def test_parts_of_a_bill_speak_for_a_piece_or_against_it(
    cases: list[Case], agree: Collection[str], against: Collection[str]
) -> None:
    """Half a strip is told from none where the error is below a quarter; another refill may have been taken."""
    found = forgotten_pieces(goods.catalogue(), cases)[fold(goods.TUBE)]
    assert (found.pattern, found.pieces) == ("Turnstone gloss", 1)
    assert set(found.agree) == {fold(one) for one in agree}
    assert set(found.against) == {fold(one) for one in against}


def test_a_family_no_kit_is_known_of_was_not_made() -> None:
    """Its blanks are missing, but nobody can have made a stopper without a kit; of what has one, one may be."""
    known = goods.catalogue()
    without = replace(known, parts={key: one for key, one in known.parts.items() if "godwit" not in key})
    only = replace(without, patterns={"godwit plain": known.pattern("Godwit plain")})
    assert forgotten_pieces(only, [short(goods.OLIVE, 1000)]) == {}
    assert forgotten_pieces(without, [short(goods.OLIVE, 1000)]).keys() == {fold(goods.OLIVE)}


@pytest.mark.parametrize(("inside", "agree"), [(False, {"kit", "tubes"}), (True, {"kit"})])
def test_tubes_that_lie_in_the_kits_are_missing_with_them(inside: bool, agree: Collection[str]) -> None:
    """They are no part of their own, and say nothing of a piece where some are missing."""
    known = goods.catalogue()
    known = known.with_parts(Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=inside)))
    cases = [replace(short(one, 1000), part=known.part(one)) for one in (goods.CHROME_KIT, goods.TUBE)]
    named = {"kit": fold(goods.CHROME_KIT), "tubes": fold(goods.TUBE)}
    assert set(forgotten_pieces(known, cases)[named["kit"]].agree) == {named[one] for one in agree}


ALIKE = "not booked: two Turnstone gloss made would take 2"


@pytest.mark.parametrize(
    ("others", "against", "told"),
    [
        ("", "", ""),
        ("", "b", ", but nothing else of its bill is missing so"),
        ("c", "b", "; missing alike is C"),
        ("cd", "", "; missing alike are C, D"),
        ("cde", "", "; missing alike are C, D, E"),
        ("cdef", "", "; missing alike are C, D, E and 1 more"),
        ("cdefg", "", "; missing alike are C, D, E and 2 more"),
    ],
)
def test_three_that_are_missing_alike_are_named(others: str, against: str, told: str) -> None:
    """And how many more; the part itself is not among them."""
    eaten = Eaten("Turnstone gloss", 2, (fold(goods.TUBE), *others), tuple(against))
    (reason,) = piece_reasons(short(goods.TUBE, 2000), eaten, {one: one.upper() for one in "cdefg"})
    assert reason.text == f"{ALIKE}{told}"


@pytest.mark.parametrize(("whole", "use"), [((), True), (("kit",), False), (("other",), True)])
def test_pieces_of_which_a_whole_part_is_missing_were_made(whole: Collection[str], use: bool) -> None:
    """Where only supplies are missing alike, the booked pieces may have taken more of them."""
    eaten = Eaten("Turnstone gloss", 1, (fold(goods.GLUE), "kit"), ())
    (reason,) = piece_reasons(short(goods.GLUE, 1500), eaten, {"kit": "Kit"}, whole)
    assert reason.use is use
    assert list(piece_reasons(short(goods.GLUE, 1500), None, {}, whole)) == []


def test_what_a_part_of_the_other_family_says_is_not_asked() -> None:
    """A kit, a blank and a refill stand for one each: each that is missing alike has its turn with the first."""
    cases = [short(one, 1000) for one in (goods.CHROME_KIT, goods.RHODIUM_KIT, goods.OLIVE, goods.AVOCET_KIT)]
    found = forgotten_pieces(goods.catalogue(), cases)
    assert set(found[fold(goods.CHROME_KIT)].agree) == {fold(goods.CHROME_KIT), fold(goods.OLIVE)}
    assert set(found[fold(goods.RHODIUM_KIT)].agree) == {fold(goods.RHODIUM_KIT), fold(goods.OLIVE)}
    assert found[fold(goods.AVOCET_KIT)].pattern == "Avocet gloss"
