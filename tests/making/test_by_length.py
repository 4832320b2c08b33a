"""The cutting-stock solver: published problems, complete search, and plans that can really be sawn."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from math import ceil, inf
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog
from searching import examples

from inventory.making.blanks import flows, solver
from inventory.making.blanks.arc_flow import build
from inventory.making.blanks.by_length import task_of
from inventory.making.blanks.first_fit import Task, first_fit, simple_bound
from inventory.making.blanks.model import BlankStock, Segment, Wanted
from inventory.making.blanks.planning import cutting_plan
from inventory.making.blanks.solver import Constraint, minimise

from .sawing import check_sawn, length_of, missing, used

F = Fraction

# J. E. Beasley, OR-Library, 1990, file binpack1 (read), problem u120_00 of Falkenauer 1996, in the file's order.
U120_00 = """
42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23 57 72 74 69 33 42 28 46 30 64
29 74 41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50 55 27 30 36 20 78 47 26 45 41 58 98 91 96 73 84 37 93 91 43
73 85 81 79 71 80 76 83 41 78 70 23 42 87 43 84 60 55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66 83 24
98 60 42 43 43 39
"""


def item(key: object, length: F, count: int) -> Wanted:
    """So many pieces of one length."""
    return Wanted(str(key), (Segment(length),), count)


def relaxed_length(length: F, items: Sequence[Wanted]) -> float:
    """Gilmore & Gomory's bound: the least length of stock were fractions of blanks allowed.

    By scipy's linprog over the patterns themselves, none of the program's own. No kerf; every item fits.
    """
    lengths = [one.length for one in items]

    def patterns(at: int, left: F) -> list[tuple[int, ...]]:
        if at == len(lengths):
            return [()]
        return [
            (n, *rest)
            for n in range(min(int(left // lengths[at]), items[at].count) + 1)
            for rest in patterns(at + 1, left - n * lengths[at])
        ]

    every = [one for one in patterns(0, length) if any(one)]
    if not every:
        return 0.0
    rows = [[-one[at] for one in every] for at in range(len(items))]
    found = linprog([1.0] * len(every), A_ub=rows, b_ub=[-one.count for one in items])
    assert found.fun is not None
    return float(found.fun) * float(length)


@pytest.mark.outside
def test_paper_rolls() -> None:
    """Chvátal, Linear Programming, ch. 13: 452.25 rolls relaxed, 453 in whole rolls (from memory, reproduced)."""
    stock = [BlankStock("roll", F(100))]
    items = [item("a", F(45), 97), item("b", F(36), 610), item("c", F(31), 395), item("d", F(14), 211)]
    assert relaxed_length(F(100), items) == pytest.approx(45_225)
    plan = cutting_plan(stock, items, F(0))
    assert (used(plan), plan.proven) == ({"roll": 453}, True)
    check_sawn(plan, stock, items, F(0))


@pytest.mark.outside
def test_bin_packing_benchmark() -> None:
    """Beasley 1990 and Falkenauer 1996 (read), u120_00: 120 items in 48 bins, the best known, here proven."""
    counts = Counter(int(size) for size in U120_00.split())
    assert counts.total() == 120
    stock, items = [BlankStock("bin", F(150))], [item(size, F(size), n) for size, n in counts.items()]
    plan = cutting_plan(stock, items, F(0), time_limit=60)
    assert (used(plan), plan.proven) == ({"bin": 48}, True)
    check_sawn(plan, stock, items, F(0))


def complete_search(stock: Sequence[BlankStock], items: Sequence[Wanted], kerf: F) -> tuple[int, F]:
    """Fewest items missing, then least length, over all patterns and all orders of opening blanks."""

    @cache
    def patterns(kind: int) -> list[tuple[int, ...]]:
        every = itertools.product(*(range(one.count + 1) for one in items))
        room = stock[kind].length + kerf
        return [
            counts
            for counts in every
            if any(counts)
            and sum(n * (one.length + kerf) for n, one in zip(counts, items, strict=True)) <= room
        ]

    @cache
    def best(left: tuple[int, ...], counts: tuple[int, ...]) -> tuple[int, F]:
        found = (sum(left), F(0))
        for kind, count in enumerate(counts):
            for pattern in patterns(kind) if count else []:
                if all(take <= have for take, have in zip(pattern, left, strict=True)):
                    rest = tuple(have - take for take, have in zip(pattern, left, strict=True))
                    fewer = tuple(c - (k == kind) for k, c in enumerate(counts))
                    missing, length = best(rest, fewer)
                    found = min(found, (missing, length + stock[kind].length))
        return found

    enough = sum(one.count for one in items)
    counts = tuple(enough if s.count is None else min(s.count, enough) for s in stock)
    return best(tuple(one.count for one in items), counts)


ITEMS = st.lists(
    st.tuples(st.fractions(min_value=20, max_value=110, max_denominator=4), st.integers(0, 3)),
    min_size=1,
    max_size=3,
)
STOCK = st.lists(
    st.tuples(
        st.fractions(min_value=60, max_value=200, max_denominator=4), st.sampled_from([0, 1, 2, 3, None])
    ),
    min_size=1,
    max_size=2,
)


@given(ITEMS, STOCK, st.sampled_from([F(0), F(2), F(16, 5)]))
@examples(35)
def test_plan_by_complete_search(
    wanted: list[tuple[F, int]], kinds: list[tuple[F, int | None]], kerf: F
) -> None:
    """No plan makes more items, or as many from less length; and the plan can be sawn."""
    items = [item(f"item {i}", length, demand) for i, (length, demand) in enumerate(wanted)]
    stock = [BlankStock(f"kind {i}", length, count) for i, (length, count) in enumerate(kinds)]
    plan = cutting_plan(stock, items, kerf)
    check_sawn(plan, stock, items, kerf)
    assert plan.proven
    assert (missing(plan), length_of(plan, stock)) == complete_search(stock, items, kerf)


@pytest.mark.cross_check
@given(ITEMS, st.fractions(min_value=112, max_value=300, max_denominator=4))
@examples(20)
def test_bounds_are_below_the_plan(wanted: list[tuple[F, int]], length: F) -> None:
    """No plan takes less than the relaxed length."""
    items = [item(i, size, demand) for i, (size, demand) in enumerate(wanted)]
    stock = [BlankStock("bar", length)]
    relaxed, found = relaxed_length(length, items), float(length_of(cutting_plan(stock, items, F(0)), stock))
    assert relaxed - 1e-6 <= found


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(0, 12)), min_size=1, max_size=5), st.integers(30, 70)
)
@examples(150)
def test_the_simple_bound_is_below_the_relaxed_length(wanted: list[tuple[int, int]], room: int) -> None:
    """However shares of a blank are rounded: no more than Gilmore & Gomory's bound, rounded up to whole blanks."""
    items = [item(i, F(width), demand) for i, (width, demand) in enumerate(wanted)]
    widths, demands = zip(*wanted, strict=True)
    bound = simple_bound(Task(widths, demands, [room], [1], [inf]))
    assert bound <= ceil(relaxed_length(F(room), items) / room - 1e-6)


@pytest.mark.parametrize(
    ("room", "wanted", "blanks"),
    [
        (62, {59: 9, 31: 4}, 13),
        (62, {56: 12, 23: 10}, 17),
        (73, {57: 12, 22: 10}, 16),
        (54, {53: 18, 28: 5}, 23),
        (75, {50: 3, 25: 5}, 6),
    ],
)
def test_an_evening_needs_no_solver(
    room: int, wanted: dict[int, int], blanks: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pieces of more than half a blank, and of a half or a third: that fewer will not do is known without it."""
    monkeypatch.setattr(flows, "minimise", None)
    items = [item(width, F(width), many) for width, many in wanted.items()]
    plan = cutting_plan([BlankStock("blank", F(room))], items, F(2))
    assert (used(plan), plan.proven) == ({"blank": blanks}, True)


def test_a_session_of_mixed_pieces() -> None:
    """Twenty lengths in eighths of an inch over three kinds of blank: planned, proven and sawn."""
    items = [item(i, F(127, 40) * (13 + 2 * i), 3 + i * 7 % 11) for i in range(20)]
    stock = [BlankStock("square", F(127), 40), BlankStock("long", F(762, 5)), BlankStock("bar", F(305), 14)]
    plan = cutting_plan(stock, items, F(16, 5), time_limit=30)
    check_sawn(plan, stock, items, F(16, 5))
    assert plan.proven
    assert not plan.short


def test_too_long_for_every_blank() -> None:
    """What fits no blank is short, the rest is cut."""
    stock, items = [BlankStock("square", F(127))], [item("rod", F(200), 2), item("pen", F(60), 2)]
    plan = cutting_plan(stock, items, F(2))
    assert (plan.short, used(plan), plan.proven) == ({"rod": 2}, {"square": 1}, True)


def test_nothing_to_cut_or_to_cut_from() -> None:
    """No items need no blanks; no blanks leave everything short."""
    nothing = cutting_plan([BlankStock("square", F(127))], [], F(2))
    assert not nothing.patterns
    assert nothing.proven
    empty = cutting_plan([], [item("pen", F(60), 2)], F(2))
    assert empty.short == {"pen": 2}
    assert (empty.patterns, empty.proven) == ((), True)


HARD = (
    [BlankStock("bar", F(100))],
    [item("a", F(51), 6), item("b", F(27), 6), item("c", F(26), 6), item("d", F(23), 12)],
)


def test_without_the_solver_the_plan_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """Too large a task, or a solver out of time, leaves the first-fit plan."""
    monkeypatch.setattr(flows, "MOST_ARCS", 3)
    large = cutting_plan(*HARD, F(0))
    assert not large.proven
    check_sawn(large, *HARD, F(0))
    monkeypatch.undo()
    assert cutting_plan(*HARD, F(0)).proven
    monkeypatch.setattr(flows, "minimise", lambda *_: solver.Solved(None, False, -inf))
    late = cutting_plan(*HARD, F(0))
    assert (late.proven, used(late)) == (False, used(large))


@pytest.mark.parametrize(
    ("stock", "items", "length"),
    [
        pytest.param([], [item("a", F(50), 2)], 0, id="no blanks"),
        pytest.param([BlankStock("bar", F(90), 0)], [item("a", F(50), 2)], 0, id="used up"),
        pytest.param(
            [BlankStock("bar", F(90))], [item("a", F(95), 2), item("b", F(50), 1)], 90, id="one too long"
        ),
        pytest.param([BlankStock("bar", F(100))], [item("a", F(40), 5)], 300, id="two to a bar"),
        pytest.param(
            [BlankStock("long", F(100)), BlankStock("short", F(60))],
            [item("a", F(50), 1)],
            60,
            id="one from a short one",
        ),
    ],
)
def test_what_is_plain_needs_no_solver(
    stock: list[BlankStock], items: list[Wanted], length: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Loading it takes longer than everything else a small plan does."""
    expected = complete_search(stock, items, F(2))
    monkeypatch.delattr(flows, "minimise")
    plan = cutting_plan(stock, items, F(2))
    check_sawn(plan, stock, items, F(2))
    assert (plan.proven, length_of(plan, stock)) == (True, F(length))
    assert (missing(plan), length_of(plan, stock)) == expected


@pytest.mark.outside
def test_first_fit_is_improved_on() -> None:
    """Johnson's worst case for first-fit-decreasing, 11 bins where 9 are enough (1973; from memory)."""
    assert first_fit(task_of(*HARD, F(0))).total() == 11
    plan = cutting_plan(*HARD, F(0))
    check_sawn(plan, *HARD, F(0))
    assert used(plan) == {"bar": 9}


def test_time_that_runs_out_before_the_fewest_missing_are_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too few blanks and no answer from the solver, the first-fit plan stands and is not called proven."""
    monkeypatch.setattr(flows, "minimise", lambda *_: solver.Solved(None, False, 5.0))
    stock = [BlankStock("bar", F(100), 9)]
    plan = cutting_plan(stock, HARD[1], F(0))
    check_sawn(plan, stock, HARD[1], F(0))
    assert (plan.proven, bool(plan.short)) == (False, True)


def test_what_just_fits_is_cut() -> None:
    """Two pieces of 5 fill a blank of 10 to its end; a third opens another."""
    assert first_fit(Task([5], [2], [10], [10], [9])).total() == 1
    assert first_fit(Task([5], [3], [10], [10], [9])).total() == 2


def test_as_many_blanks_as_there_are_are_opened() -> None:
    """Two long blanks are there and two pieces need one each: both are cut, and a third piece has none."""
    assert first_fit(Task([7], [3], [10], [10], [2])) == {(0, (0,)): 2}


def test_the_programme_s_bound_is_below_its_plan() -> None:
    """Nine bins of the worst case of first fit: a bound above what a plan costs would be none."""
    task = task_of(*HARD, F(0))
    bins, bound = flows.best_flow(task, first_fit(task), 0, 10.0)
    assert bound == task.cost(bins) == 9 * task.costs[0]


def test_the_graph_lays_pieces_end_to_end() -> None:
    """Three of 3 and one of 4 in a blank of 7: the 4 first, a 3 behind it or alone; no end beyond the blank."""
    graph = build([3, 4], [3, 1], [7], inf)
    assert graph is not None
    assert {(one.start, one.end, one.item) for one in graph.arcs} == {
        *((0, 4, 1), (0, 3, 0), (3, 6, 0), (4, 7, 0)),
    }
    assert {one.position for one in graph.finishes} == {3, 4, 6, 7}
    assert build([3, 4], [3, 1], [7], 2) is None


@pytest.mark.parametrize(("dual", "bound"), [(8.0, 8.0), (None, 10.0)])
def test_a_search_that_was_cut_short_proves_no_more_than_its_bound(
    monkeypatch: pytest.MonkeyPatch, dual: float | None, bound: float
) -> None:
    """The best found costs 10 and nothing costs less than 8: 8 is the bound; what found is only where none is told."""
    told = SimpleNamespace(x=[2.0], fun=10.0, mip_dual_bound=dual, status=1)
    monkeypatch.setattr("scipy.optimize.milp", lambda *_, **__: told)
    found = minimise([5.0], [Constraint({0: 1}, 1.0, 9.0)], [9.0], 1.0)
    assert (found.bound, found.proven, found.whole()) == (bound, False, (2,))


def test_costs_are_lengths_over_their_common_divisor() -> None:
    """Blanks of 150 and 100 mm cost 3 and 2, however fine the widths are measured."""
    stock = [BlankStock("long", F(150)), BlankStock("short", F(100))]
    assert list(task_of(stock, [item("pen", F(101, 8), 3)], F(1, 3)).costs) == [3, 2]


def test_an_item_fits_where_the_longest_blank_that_is_there_has_room() -> None:
    """Of blanks of 6, 10 and 20 the last are used up: what is 10 wide fits, what is 11 wide does not."""
    task = Task((6, 10, 11), (2, 3, 4), (6, 10, 20), (6, 10, 20), (1, 1, 0))
    assert task.fitting().demands == [2, 3, 0]
    assert Task((1,), (2,), (20,), (20,), (0,)).fitting().demands == [0]
