"""Classes of parts by value and by demand."""

from __future__ import annotations

import random

import pytest

from inventory.planning.classes import by_demand, by_value


@pytest.mark.outside
@pytest.mark.parametrize(
    ("periods", "expected"),
    [
        ([4, 4, 4, 4], "smooth"),
        ([2, 6, 4, 2, 6], "smooth"),
        ([4, 0, 4, 0, 4, 0], "intermittent"),
        ([1, 9, 1, 9], "erratic"),
        ([1, 0, 0, 12, 0, 1], "lumpy"),
        ([4] * 100 + [0] * 32, "intermittent"),
        ([4] * 100 + [0] * 31, "smooth"),
        ([3, 17], "erratic"),
        ([3.01, 17], "smooth"),
    ],
)
def test_the_four_kinds_of_demand(periods: list[float], expected: str) -> None:
    """Parted at p = 1.32 and CV² = 0.49 (Syntetos, Boylan and Croston 2005, from memory): CV² of 3 and 17 is 0.49."""
    assert by_demand(periods) == expected


def test_too_little_has_no_kind() -> None:
    """One order tells nothing of how orders vary."""
    assert by_demand([0, 3, 0]) is None
    assert by_demand([]) is None


@pytest.mark.cross_check
def test_value_classes_by_going_through_all() -> None:
    """A is the smallest number of parts that makes up four fifths, A and B that makes up 95 %; shares add up to 1."""
    dice = random.Random(3)
    for _ in range(200):
        values = {f"part {n}": round(dice.paretovariate(1.1), 2) for n in range(dice.randint(1, 40))}
        done, whole = by_value(values), sum(values.values())
        falling = sorted(values.values(), reverse=True)
        for classes, bound in (("A", 0.8), ("AB", 0.95)):
            least = next(n for n in range(1, len(falling) + 1) if sum(falling[:n]) >= bound * whole - 1e-9)
            assert sum(one[0] in classes for one in done.values()) == least
        assert list(done.values())[-1][1] == pytest.approx(1)
        assert [values[one] for one in done] == falling
    assert by_value({"a": 0, "b": 0}) == {"a": ("C", 1.0), "b": ("C", 1.0)}


def test_what_begins_at_just_a_share_is_of_the_next_class() -> None:
    """Four fifths are A, 95 % with what follows A and B, though 0.1 and its like are no exact floats."""
    values = {"kit": 80.0, "tube": 15.0, "glue": 5.0}
    for unit in (1.0, 0.1, 0.7, 1e-3):
        found = by_value({name: value * unit for name, value in values.items()})
        assert [one for one, _ in found.values()] == ["A", "B", "C"]
