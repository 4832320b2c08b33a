"""The best set of pieces: published product-mix programmes, enumeration, and never more than there is."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.making.product_mix import BlankSupply, MixItem, MixTask, best_mix
from inventory.making.quick_mix import most_pieces, quick_mix


@pytest.mark.outside
def test_the_glass_company_of_the_textbook() -> None:
    """Two doors and windows a week in three plants: 2 and 6, for 36.

    Hillier & Lieberman, Introduction to Operations Research, ch. 3, the prototype example (from memory).
    """
    doors = MixItem("doors", None, 3, needs={"plant 1": 1, "plant 3": 3})
    windows = MixItem("windows", None, 5, needs={"plant 2": 2, "plant 3": 2})
    mix = best_mix(MixTask([doors, windows], {"plant 1": 4, "plant 2": 12, "plant 3": 18}))
    assert (mix.pieces, mix.gain, mix.proven) == ({"doors": 2, "windows": 6}, 36, True)


@pytest.mark.outside
def test_rounding_the_linear_programme_is_not_enough() -> None:
    """max 5x + 8y, x + y ≤ 6, 5x + 9y ≤ 45: the whole-number optimum is (0, 5) for 40, rounded it would be less.

    Bradley, Hax & Magnanti, Applied Mathematical Programming, ch. 9 (from memory).
    """
    x, y = MixItem("x", None, 5, needs={"a": 1, "b": 5}), MixItem("y", None, 8, needs={"a": 1, "b": 9})
    mix = best_mix(MixTask([x, y], {"a": 6, "b": 45}))
    assert (mix.pieces, mix.gain) == ({"y": 5}, 40)


@pytest.mark.outside
def test_hours_go_to_what_earns_most_in_one_as_far_as_it_sells() -> None:
    """Of 120 hours: X takes one and earns 300, Y takes three and earns 600; at most 60 of X sell, and 100 of Y.

    60 and 20, for 30,000; without a bound on sales 120 of X (a managerial accounting text on scarce resources, read in
    a copy that does not name the book).
    """
    x = MixItem("X", None, 300, 1, {"sold X": 1})
    y = MixItem("Y", None, 600, 3, {"sold Y": 1})
    mix = best_mix(MixTask([x, y], {"sold X": 60, "sold Y": 100}, minutes=120))
    assert (mix.pieces, mix.gain, mix.proven) == ({"X": 60, "Y": 20}, 30_000, True)
    free = best_mix(MixTask([x, y], {"sold X": 1000, "sold Y": 1000}, minutes=120))
    assert (free.pieces, free.gain) == ({"X": 120}, 36_000)


SMALL = st.integers(0, 3)
Gives = Mapping[Hashable, int]


def _gives(long: int, short: int) -> Gives:
    return {"long": long, "short": short}


def _needs(glue: int) -> Gives:
    return {"kit": 1, "glue": glue} if glue else {"kit": 1}


@st.composite
def tasks(draw: st.DrawFn) -> MixTask:
    """Two or three items of two sizes, two shared parts, two blank parts of which one has measured ones."""
    items = [
        MixItem(
            f"i{at}",
            draw(st.sampled_from(("long", "short"))),
            draw(st.integers(1, 9)),
            draw(st.integers(1, 4)),
            _needs(draw(SMALL)),
            {"glue": once} if (once := draw(SMALL)) else {},
        )
        for at in range(draw(st.integers(2, 3)))
    ]
    each: st.SearchStrategy[Gives] = st.builds(_gives, st.integers(0, 2), st.integers(0, 3))
    blanks = [
        BlankSupply("ash", draw(SMALL), draw(each), (), None, draw(SMALL)),
        BlankSupply("burl", 0, {}, draw(st.lists(each, max_size=2)), draw(st.integers(0, 2)), draw(SMALL)),
    ]
    there: Gives = {"kit": draw(st.integers(0, 4)), "glue": draw(st.integers(0, 8))}
    return MixTask(items, there, blanks, draw(st.none() | st.integers(1, 9)))


def by_trying(task: MixTask) -> int:
    """The best gain of all sets and all ways to cut, tried one by one."""
    best = 0
    for counts in product(range(5), repeat=len(task.items)):
        pairs = list(zip(task.items, counts, strict=True))
        if sum(counts) > task.there["kit"]:
            continue
        glue = sum(one.needs.get("glue", 0) * many for one, many in pairs)
        glue += max((one.once.get("glue", 0) for one, many in pairs if many), default=0)
        # what is taken once is the most any item that could be made asks for
        if any(many and one.once.get("glue") for one, many in pairs):
            glue += max(one.once.get("glue", 0) for one in task.items) - max(
                one.once.get("glue", 0) for one, many in pairs if many
            )
        if glue > task.there["glue"]:
            continue
        if task.minutes is not None and sum(one.minutes * many for one, many in pairs) > task.minutes:
            continue
        wanted = {size: sum(many for one, many in pairs if one.size == size) for size in ("long", "short")}
        cost = _cheapest_cut(task, wanted)
        if cost is not None:
            best = max(best, sum(one.gain * many for one, many in pairs) - cost)
    return best


def _cheapest_cut(task: MixTask, wanted: dict[str, int]) -> int | None:
    ash, burl = task.blanks
    costs = []
    for long, short in product(range(ash.plain + 1), repeat=2):
        if long + short > ash.plain:
            continue
        for use in product(("", "long", "short"), repeat=len(burl.measured)):
            if sum(map(bool, use)) > (burl.free or 0):
                continue
            gives = {"long": long * ash.each["long"], "short": short * ash.each["short"]}
            for size, one in zip(use, burl.measured, strict=True):
                if size:
                    gives[size] += one[size]
            if all(gives[size] >= wanted[size] for size in wanted):
                costs.append((long + short) * ash.cost + sum(map(bool, use)) * burl.cost)
    return min(costs, default=None)


@pytest.mark.cross_check
@examples(60)
@given(tasks())
def test_no_other_set_adds_more(task: MixTask) -> None:
    """Every set and every way to cut the blanks tried: the same gain, proven."""
    mix = best_mix(task)
    assert mix.proven
    assert mix.gain == by_trying(task)


def test_what_takes_nothing_is_no_piece() -> None:
    """Without parts, without blanks, without items: nothing, proven."""
    assert best_mix(MixTask([], {})).proven
    assert best_mix(MixTask([MixItem("air", None)], {})).pieces == {}
    pen = MixItem("pen", None, needs={"kit": 1})
    assert best_mix(MixTask([MixItem("air", None, 9), pen], {"kit": 2})).pieces == {"pen": 2}
    assert best_mix(MixTask([pen], {"kit": 2})).gain == 2  # where nobody said more, a piece is a piece


def test_a_blank_gives_nothing_of_a_size_it_does_not_name() -> None:
    """Nor does a measured one; of what it names it gives what it says."""
    items = [MixItem(size, size, needs={"kit": 1}) for size in ("long", "short")]
    blanks = [BlankSupply("ash", 1, {"long": 1}, [{"short": 2}, {}])]
    mix = best_mix(MixTask(items, {"kit": 9}, blanks))
    assert (mix.pieces, mix.gain) == ({"long": 1, "short": 2}, 3)
    assert mix.cut == {("long", "ash"): 1, ("short", "ash"): 2}
    assert most_pieces(MixTask(items, {"kit": 9}, blanks)) == 3


def test_an_evening_bounds_all_items_together() -> None:
    """Half an hour each, an hour and forty minutes: three pieces, as it would be of each alone."""
    items = [MixItem(key, None, minutes=30, needs={key: 1}) for key in ("pen", "ripper")]
    assert most_pieces(MixTask(items, {"pen": 9, "ripper": 9}, minutes=100)) == 3
    assert most_pieces(MixTask(items, {"pen": 9, "ripper": 9})) == 18


def counted(task: MixTask) -> MixTask:
    """The same where a piece counts for one and blanks for nothing."""
    items = [replace(one, gain=1) for one in task.items]
    return replace(task, items=items, blanks=[replace(one, cost=0) for one in task.blanks])


@pytest.mark.cross_check
@examples(60)
@given(tasks())
def test_without_a_solver_no_more_than_there_is(task: MixTask) -> None:
    """The quick set can be made, has no more pieces than the largest, and as many where it says so."""
    quick, best = quick_mix(task), sum(best_mix(counted(task)).pieces.values())
    made = sum(quick.pieces.values())
    assert made <= best <= most_pieces(task)
    assert not quick.proven or made == best
    exactly = {key: quick.pieces.get(key, 0) for key in (one.key for one in task.items)}
    fixed = [replace(one, needs={**one.needs, ("as many", one.key): 1}) for one in counted(task).items]
    there: dict[Hashable, int] = {**task.there}
    there.update((("as many", key), many) for key, many in exactly.items())
    again = best_mix(replace(counted(task), items=fixed, there=there))
    assert sum(again.pieces.values()) == made  # the very set can be made


def test_what_the_quick_set_adds() -> None:
    """What its pieces add, less their blanks; an item of which none can be made adds nothing."""
    pen = MixItem("pen", "long", gain=500, needs={"kit": 1})
    ripper = MixItem("ripper", "long", gain=300, needs={"other kit": 1})
    blanks = [BlankSupply("ash", plain=5, each={"long": 1}, cost=40)]
    quick = quick_mix(MixTask([pen, ripper], {"kit": 2, "other kit": 0}, blanks))
    assert ({key: many for key, many in quick.pieces.items() if many}, quick.gain) == ({"pen": 2}, 920)
