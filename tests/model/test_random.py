"""Whatever random commands are given, the tool and the plain model hold the same book."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import AbstractContextManager

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from .machine import FIRED, Places, bench

FEW = settings(
    max_examples=3,
    stateful_step_count=10,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)


def held(places: Callable[[], AbstractContextManager[str]], how: settings) -> None:
    """Run the machine."""
    run_state_machine_as_test(bench(places), settings=how)


def test_random_commands_leave_the_book_as_the_model_says(files: Places) -> None:
    """A few short runs of random commands: shelf, costs, claims, what is due and every refusal are the model's."""
    held(files, FEW)


def test_random_commands_on_a_server_leave_the_book_as_the_model_says(databases: Places) -> None:
    """The same where the book is in a database on a server."""
    held(databases, settings(FEW, max_examples=2, stateful_step_count=4))


@pytest.mark.soak
@pytest.mark.parametrize(("kept", "runs"), [("files", 300), ("databases", 100)])
def test_long_runs_of_random_commands_leave_the_book_as_the_model_says(
    kept: str, runs: int, request: pytest.FixtureRequest
) -> None:
    """Hundreds of runs of fifty commands each, on both engines; every job is booked, and refused, at least once."""
    FIRED.clear()
    held(request.getfixturevalue(kept), settings(FEW, max_examples=runs, stateful_step_count=50))
    table = "".join(f"{name:24}{many:7}\n" for name, many in sorted(FIRED.items()))
    sys.stdout.write(f"\n{table}")  # shown with -s
    refusable = {
        "arrive",
        "change",
        "come back",
        "count",
        "days",
        "hand over",
        "hours",
        "made",
        "merge",
        "paid",
        "place",
        "plan",
        "promise",
        "release",
        "repair",
        "retire",
        "rob",
        "sold",
        "spent",
        "took",
        "undo",
        "weekend",
    }
    assert {name.removesuffix(" refused") for name in FIRED if name.endswith(" refused")} >= refusable
    assert set(FIRED) >= {*refusable, "add", "found", "load", "rename"}
