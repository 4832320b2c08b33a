"""What the written bills ask of a session, by the stages its pieces reached."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Pattern
from inventory.jobs.learning.billed import BilledUse, pers_of, quantities
from inventory.making.bom import times
from inventory.measures import read_length
from jobs import goods
from jobs.learning_case import AVOCET, OILED, TURNSTONE, outcome, shop

KNOWN = shop()
TUBES = "tube glue volume"
AREA = "barrel area"


def test_a_piece_counts_for_the_stages_it_reached() -> None:
    """Lost at drill: cut and drilled, never glued; lost at turn: glued, never finished; good: everything."""
    one = outcome(TURNSTONE, 5, drill=2, turn=3)
    assert [one.reached(stage) for stage in ("cut", "drill", "glue", "turn", "finish", "pack")] == [
        10, 10, 8, 8, 5, 5,
    ]  # fmt: skip
    amounts = BilledUse(KNOWN).of([one])
    family = KNOWN.family("Turnstone")
    assert amounts["thin ca"] == {TUBES: 8 * times(KNOWN, family, TUBES, None) * Fraction(3, 2)}
    assert amounts["gloss ca"] == {AREA: 5 * times(KNOWN, family, AREA, None) * Fraction(1, 25)}
    assert amounts["strip p400"] == {"piece": Fraction(5, 2)}
    assert set(amounts) == {"thin ca", "gloss ca", "strip p400", "epoxy"}  # no kits, tubes or blanks


def test_a_session_takes_its_pot_once() -> None:
    """Of what a session takes once the largest of its patterns counts, not their sum; rows do not add to it."""
    two = [outcome(TURNSTONE, 3), outcome(AVOCET, 2, goods.ACRYLIC)]
    assert BilledUse(KNOWN).of([two[0]])["epoxy"] == {"session": 2}
    assert BilledUse(KNOWN).of(two)["epoxy"] == {"session": 3, "barrel": Fraction(8, 10)}
    assert BilledUse(KNOWN).of([*two, outcome(OILED, 1), two[0]])["epoxy"]["session"] == 3


def test_a_pot_at_another_stage_is_another_pot() -> None:
    """What is taken once at two stages is taken twice, each as the most that a pattern asks there."""
    late = Pattern("Turnstone late", "Turnstone", bill=(goods.line("finish", goods.EPOXY, 700, "session"),))
    known = KNOWN.with_pattern(late)
    assert BilledUse(known).of([outcome("Turnstone late", 1), outcome(TURNSTONE, 1)])["epoxy"] == {
        "session": Fraction(27, 10)
    }


def test_no_pot_is_mixed_for_pieces_that_never_came_so_far() -> None:
    """All lost at the drill: no glue was mixed."""
    assert BilledUse(KNOWN).of([outcome(TURNSTONE, 0, drill=4)]) == {}
    assert "epoxy" in BilledUse(KNOWN).of([outcome(TURNSTONE, 0, turn=4)])


def test_a_pattern_that_takes_another_in_asks_for_both() -> None:
    """The oiled one finishes like the glossy one and takes half a strip more."""
    assert BilledUse(KNOWN).of([outcome(OILED, 4)])["strip p400"] == {"piece": 4}


def test_fatter_pieces_ask_for_more_finish() -> None:
    """Extra diameter is area; glue stays."""
    plain = outcome(TURNSTONE, 4)
    fat = replace(plain, extra_diameter=read_length("2 mm"))
    slim, wide = BilledUse(KNOWN).of([plain]), BilledUse(KNOWN).of([fat])
    assert wide["gloss ca"][AREA] > slim["gloss ca"][AREA]
    assert wide["thin ca"] == slim["thin ca"]


def test_pers_and_written_quantities() -> None:
    """By which measures a part is taken, whatever its spelling, and what the patterns write."""
    assert pers_of(KNOWN, "EPOXY") == ("session", "barrel")
    assert pers_of(KNOWN, goods.CHROME_KIT) == pers_of(KNOWN, "nothing") == ()
    assert quantities(KNOWN)["epoxy"] == {"session": (2, 3), "barrel": (Fraction(1, 5),)}


@examples(25)
@given(
    st.lists(
        st.tuples(st.sampled_from([TURNSTONE, AVOCET, OILED]), st.integers(0, 20), st.integers(0, 5)),
        max_size=5,
    )
)
def test_pieces_add_up(rows: list[tuple[str, int, int]]) -> None:
    """All but the once a session is a sum over rows; that is the largest of them."""
    made = [outcome(pattern, good, turn=lost) for pattern, good, lost in rows]
    whole, alone = BilledUse(KNOWN).of(made), [BilledUse(KNOWN).of([one]) for one in made]
    for key, by_per in whole.items():
        for per, amount in by_per.items():
            each = [one.get(key, {}).get(per, Fraction(0)) for one in alone]
            assert amount == (max(each) if per == "session" else sum(each))
    assert set(whole) == {key for one in alone for key in one}
