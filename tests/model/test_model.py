"""The tool and the plain model hold the same book whatever is done to them, to the last coin."""

from __future__ import annotations

import ast
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from .days import Days, Step
from .everyday import Counted
from .goods import COUNTED, WEEKS
from .machine import TODAY, Places
from .parcels import Came
from .plain import Made, Model
from .things import Refusal, Wish
from .tool import FINE, SHORT, Tool, state_of

Steps = list[tuple[Callable[[], object], Callable[[], int]]]
"""What the model does, and the same with the tool."""
HERE = Path(__file__).resolve().parent
ON_A_SERVER = pytest.param("databases", marks=pytest.mark.soak)
"""What is paid is tried on a server with all tests, these in the soak; tests/store tries all it does on both."""


def walked(
    tool: Tool,
    model: Model,
    steps: Steps,
    agree: Callable[[], bool] = lambda: True,
    codes: tuple[int, ...] = (1,),
) -> int:
    """Take each step with the model and the tool, which must come to the same; how many both refuse.

    agree: what must hold beside the books; codes: how the tool may end where it refuses.
    """
    refused = 0
    for mine, tools in steps:
        try:
            mine()
            fine: tuple[int, ...] = (FINE, SHORT)
        except Refusal:
            fine, refused = codes, refused + 1
        assert tools() in fine, tool.said
        assert tool.state() == state_of(model), tool.said
        assert agree(), tool.said
    return refused


def test_what_goes_by_a_rate_is_set_aside_as_the_tool_says_and_drawn_by_the_bill(files: Places) -> None:
    """Promised, partly short, made with losses, handed over, undone: lacquer is claimed, drawn and waited for."""
    with files() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool = Tool(place, Path(folder), patch, TODAY)
        due = TODAY + timedelta(days=30)
        first, second = (Wish("Dunlin pen", "Dunlin kit chrome", "ash blank", many, due) for many in (2, 3))
        aside = {one.count: tool.set_aside_by_rate(one) for one in (replace(first, count=1), first, second)}
        assert all(aside[many] > 400 * many for many in aside)  # more than the bill, which may be off
        model = Model(TODAY, aside)
        there = [Counted(part, 20_000, 100, TODAY) for part in COUNTED]
        there += [Counted("glue", 9000, 10, TODAY), Counted("lacquer", aside[2] + aside[3] - 700, 10, TODAY)]
        steps: Steps = [
            (lambda: model.count(there, "all"), lambda: tool.load(there)),
            (lambda: model.promise("S1", first), lambda: tool.promise("S1", first)),
            (lambda: model.promise("S2", second), lambda: tool.promise("S2", second)),
            (
                lambda: model.hand_over("S1", {"assemble": 1}, 1, made_now=True),
                lambda: tool.hand_over("S1", {"assemble": 1}, 1, made_now=True),
            ),
            (lambda: model.plan(anew=False), lambda: tool("plan", "--on", TODAY.isoformat(), "--yes")),
            (lambda: model.weekend(1, [Made(2, 2)]), lambda: tool.weekend(1, [Made(2, 2)], {})),
            (lambda: model.undo(None), lambda: tool("undo", "--yes")),
            (lambda: model.release("S1"), lambda: tool("release", "S1", "--yes")),
        ]
        assert walked(tool, model, steps) == 0
        assert model.claims("lacquer", "set aside") == {"S2": aside[3]}


@pytest.mark.parametrize("kept", ["files", ON_A_SERVER])
def test_two_names_of_one_thing_are_as_the_model_says(kept: str, request: pytest.FixtureRequest) -> None:
    """A part and a supplier under two names: lots of odd cost, parcels promised from; undone, brought back, refused."""
    places: Places = request.getfixturevalue(kept)
    with places() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool, due = Tool(place, Path(folder), patch, TODAY), TODAY + timedelta(days=30)
        wish = Wish("Dunlin pen", "Dunlin kit chrome", "ash blank", 3, due)
        model = Model(TODAY, {3: tool.set_aside_by_rate(wish)})
        both = Days(model, tool)
        twin, other = ("other refill", "refill"), ("Marsh", "Marsh Supplies")
        there = [Counted("other refill", 3000, 101, TODAY), Counted("refill", 1000, 7, TODAY)]
        bought = [
            ("Marsh", "other refill", 2, 33),
            ("Marsh", "tube", 2, 10),
            ("Tideline", "other refill", 1, 5),
        ]
        came = [Came("refill", 1000)]
        steps: Steps = [
            (lambda: model.count(there, "all"), lambda: tool.load(there)),
            (lambda: model.promise("S1", wish), lambda: tool.promise("S1", wish)),
            (lambda: model.place(bought), lambda: tool.place_(bought)),
            both.merge(*twin),
            both.merge(*twin),
            both.merge(*other),
            (lambda: model.place(bought), lambda: tool.place_(bought)),
            (
                lambda: model.arrive("Marsh Supplies", came, 50, "N1"),
                lambda: tool.arrive("Marsh", came, 50, "N1"),
            ),
            both.undo(4),
            both.undo(None),
            both.undo(None),
            both.undo(None),
            both.found("other refill", 2000),
            both.undo(9),
            both.undo(None),
            both.undo(9),
            both.found("other refill", 1000),
        ]
        assert walked(tool, model, steps) >= 3
        assert model.on_hand("refill") == 5000


def test_two_names_of_a_pattern_and_of_a_plating_are_as_the_model_says(files: Places) -> None:
    """Pieces take the other name or go over to those of it; undone out of turn, brought back, refused where taken."""
    with files() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool, due, kit = (
            Tool(place, Path(folder), patch, TODAY),
            TODAY + timedelta(days=30),
            "Dunlin kit chrome",
        )
        wish = Wish("Dunlin biro", kit, "ash blank", 2, due)
        rhod = Wish("Avocet pen", "Avocet kit rhod", "ash blank", 1, due)
        model = Model(TODAY, {many: tool.set_aside_by_rate(replace(wish, count=many)) for many in (1, 2)})
        both = Days(model, tool)
        there = [Counted(part, 9000, 100, TODAY) for part in COUNTED]
        there += [Counted("glue", 9000, 10, TODAY), Counted("lacquer", 40_000, 10, TODAY)]
        alike = ("Dunlin biro", "Dunlin pen")
        steps: list[Callable[[], Step]] = [
            lambda: (lambda: model.count(there, "all"), lambda: tool.load(there)),
            lambda: both.promise("S1", wish),
            lambda: both.make("Dunlin biro", kit),
            lambda: both.merge(*alike),  # 4: its pieces are called after the other
            lambda: both.make("Dunlin biro", kit, 1),
            lambda: both.sell(1, "Dunlin pen", kit),
            lambda: both.change(1, due),
            lambda: both.undo(4),  # refused: S1 was changed since
            lambda: both.undo(None),
            lambda: both.undo(4),  # 9: they are two again
            lambda: both.make("Dunlin pen", kit, 1),
            lambda: both.undo(9),  # refused: the other has pieces of its own
            lambda: both.merge(*alike),  # its pieces go over
            lambda: both.sell(2, "Dunlin pen", kit),
            lambda: both.merge("rhod", "rhodium"),  # 13
            lambda: both.promise("S2", rhod),
            lambda: both.undo(13),
            lambda: both.promise("S3", rhod),
            lambda: both.undo(15),  # refused: S3 is in the old one
        ]
        refused = 0
        for step in steps:
            refused += walked(tool, model, [step()])
        assert refused == 3


@pytest.mark.parametrize("kept", ["files", ON_A_SERVER])
def test_what_is_lent_found_and_broken_is_as_the_model_says(
    kept: str, request: pytest.FixtureRequest
) -> None:
    """Two lots of odd cost lent together come back in two parts, promised meanwhile; undo is refused where they did."""
    part, glue = "Dunlin kit chrome", "glue"
    places: Places = request.getfixturevalue(kept)
    with places() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool = Tool(place, Path(folder), patch, TODAY)
        there = [Counted(part, 3000, 101, TODAY), Counted(glue, 70_000, 7, TODAY)]
        wish = Wish("Dunlin pen", part, "ash blank", 2, TODAY + timedelta(days=30))
        model = Model(TODAY, {2: tool.set_aside_by_rate(wish)})
        steps: Steps = [
            (lambda: model.count(there, "all"), lambda: tool.load(there)),
            (lambda: model.found(part, 2000), tool.by_hand("found", part, 2000)),
            (lambda: model.promise("S1", wish), lambda: tool.promise("S1", wish)),
            (lambda: model.took(part, 4000, lent=True), tool.by_hand("took", part, 4000, "--reason", "lent")),
            (lambda: model.come_back(part, 3000), tool.by_hand("found", part, 3000, "--back")),
            (lambda: model.undo(4), lambda: tool("undo", "5", "--yes")),
            (lambda: model.come_back(part, 2000), tool.by_hand("found", part, 2000, "--back")),
            (
                lambda: model.took(glue, 30_000, lent=False),
                tool.by_hand("took", glue, 30_000, "--reason", "broke"),
            ),
            (lambda: model.found(glue, 5000), tool.by_hand("found", glue, 5000)),
            (
                lambda: model.added(part, 3000, 107),
                tool.by_hand("add", part, 3000, "--paid", "1.07"),
            ),
            (lambda: model.took(part, 9000, lent=True), tool.by_hand("took", part, 9000, "--reason", "lent")),
            (lambda: model.come_back(part, 1000), tool.by_hand("found", part, 1000, "--back")),
            (
                lambda: model.took(part, 4000, lent=False),
                tool.by_hand("took", part, 4000, "--reason", "used up"),
            ),
            (lambda: model.undo(5), lambda: tool("undo", "6", "--yes")),
            (lambda: model.undo(None), lambda: tool("undo", "--yes")),
            (lambda: model.undo(None), lambda: tool("undo", "--yes")),
        ]
        assert walked(tool, model, steps, lambda: tool.lent() == model.all_with_others()) >= 4
        assert tool("entries", part, "--since", TODAY.isoformat()) == tool("entries", "S1") == FINE, tool.said


@pytest.mark.parametrize("kept", ["files", ON_A_SERVER])
def test_what_is_made_of_an_evening_is_as_the_model_says(kept: str, request: pytest.FixtureRequest) -> None:
    """For the shelf with a spoiled one, for an order, more than it wants, nothing at all; taken back and again."""
    places: Places = request.getfixturevalue(kept)
    with places() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool = Tool(place, Path(folder), patch, TODAY)
        there = [Counted(part, 7000, 100, TODAY) for part in COUNTED]
        there += [Counted("glue", 9000, 10, TODAY), Counted("lacquer", 20_000, 10, TODAY)]
        wish = Wish("Dunlin pen", "Dunlin kit chrome", "ash blank", 3, TODAY + timedelta(days=30))
        aside = {many: tool.set_aside_by_rate(replace(wish, count=many)) for many in (1, 2, 3)}
        model = Model(TODAY, aside)
        shelf = ("Avocet pen", "--plating", "chrome", "--blank", "holly")
        stall = Made(0, 2, {"turn": 1}, "Avocet pen", "Avocet kit chrome", "holly blank")
        steps: Steps = [
            (lambda: model.count(there, "all"), lambda: tool.load(there)),
            (lambda: model.promise("S1", wish), lambda: tool.promise("S1", wish)),
            (lambda: model.made(stall, ""), lambda: tool.made(2, {"turn": 1}, shelf)),
            (lambda: model.made(Made(1, 2), "S1"), lambda: tool.made(2, {}, ("--order", "S1"))),
            (lambda: model.made(Made(1, 2), "S1"), lambda: tool.made(2, {}, ("--order", "S1"))),
            (lambda: model.made(Made(1, 0), "S1"), lambda: tool.made(0, {}, ("--order", "S1"))),
            (
                lambda: model.hand_over("S1", {}, 1, made_now=False),
                lambda: tool.hand_over("S1", {}, 1, made_now=False),
            ),
            (lambda: model.undo(4), lambda: tool("undo", "5", "--yes")),
            (lambda: model.undo(None), lambda: tool("undo", "--yes")),
            (lambda: model.undo(4), lambda: tool("undo", "5", "--yes")),
            (lambda: model.made(Made(1, 3), "S1"), lambda: tool.made(3, {}, ("--order", "S1"))),
            (lambda: model.undo(3), lambda: tool("undo", "4", "--yes")),
        ]
        assert walked(tool, model, steps, codes=(1, 2)) == 4


@pytest.mark.parametrize("kept", ["files", "databases"])
def test_what_is_paid_is_as_the_model_says(kept: str, request: pytest.FixtureRequest) -> None:
    """A part, more than that back, all back; a payment cannot be undone under what was given back of it."""
    places: Places = request.getfixturevalue(kept)
    with places() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool = Tool(place, Path(folder), patch, TODAY)
        wish = Wish("Dunlin pen", "Dunlin kit chrome", "ash blank", 1, TODAY + timedelta(days=30))
        model = Model(TODAY, {1: tool.set_aside_by_rate(wish)})
        there = [Counted("tube", 1000, 100, TODAY)]
        steps: Steps = [
            (lambda: model.count(there, "all"), lambda: tool.load(there)),
            (lambda: model.promise("S1", wish), lambda: tool.promise("S1", wish)),
            *(
                (
                    lambda amount=amount, back=back: model.pay("S1", amount, back=back),
                    lambda amount=amount, back=back: tool.pay("S1", amount, back=back),
                )
                for amount, back in ((5000, False), (6000, True), (2000, True), (700, False))
            ),
            (lambda: model.undo(3), lambda: tool("undo", "4", "--yes")),
            (lambda: model.undo(4), lambda: tool("undo", "5", "--yes")),
            (lambda: model.undo(3), lambda: tool("undo", "4", "--yes")),
            (lambda: model.undo(4), lambda: tool("undo", "5", "--yes")),
            (lambda: model.release("S1"), lambda: tool("release", "S1", "--yes")),
            (lambda: model.pay("S1", 100, back=False), lambda: tool.pay("S1", 100, back=False)),
            (lambda: model.pay("S1", 700, back=True), lambda: tool.pay("S1", 700, back=True)),
        ]
        assert walked(tool, model, steps) == 4


def test_the_model_is_its_own() -> None:
    """The model imports nothing of the program, so that both cannot be wrong alike."""
    for name in ("cells", "everyday", "goods", "naming", "parcels", "plain", "there", "things"):
        tree = ast.parse((HERE / f"{name}.py").read_text(encoding="utf-8"))
        froms = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
        plain = [
            alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names
        ]
        assert not [one for one in froms + plain if one.split(".")[0] in ("inventory", "tool", "machine")]


@pytest.mark.parametrize("kept", ["files", ON_A_SERVER])
def test_ordinary_days_are_as_the_model_says(kept: str, request: pytest.FixtureRequest) -> None:
    """Changed, sold, repaired, robbed, renamed, from a sheet; undone in and out of turn; refusals alike."""
    places: Places = request.getfixturevalue(kept)
    with places() as place, pytest.MonkeyPatch.context() as patch, tempfile.TemporaryDirectory() as folder:
        tool = Tool(place, Path(folder), patch, TODAY)
        kit, due = "Dunlin kit chrome", TODAY + timedelta(days=30)
        wish = Wish("Dunlin pen", kit, "ash blank", 3, due)
        aside = {many: tool.set_aside_by_rate(replace(wish, count=many)) for many in (1, 2, 3)}
        model = Model(TODAY, aside)
        there = [Counted(part, 7000, 101, TODAY) for part in COUNTED]
        there += [Counted("glue", 9000, 11, TODAY), Counted("lacquer", 20_000, 10, TODAY)]
        later = TODAY + timedelta(days=40)
        lines = [("found", "tube", 3000), ("took", "tube", 9000), ("found", kit, 1000)]
        short = [("took", "refill", 2000), ("took", "refill", 90_000)]

        stall = Wish("Avocet pen", "Avocet kit chrome", "ash blank", 1, due)
        both = Days(model, tool)
        steps: list[Callable[[], Step]] = [
            lambda: (lambda: model.count(there, "all"), lambda: tool.load(there)),
            lambda: (lambda: model.promise("S1", wish), lambda: tool.promise("S1", wish)),
            *(lambda day=day: both.change(2, day) for day in (later, later)),
            *(lambda number=number: both.undo(number) for number in (2, 3, 3)),
            lambda: both.repair("refill", 1000),
            lambda: both.hand_over(1),
            lambda: both.change(1, later),
            lambda: both.change(3, later),
            lambda: both.repair("refill", 6000),
            lambda: both.rob(kit, 7),
            lambda: both.rob(kit, 4),
            lambda: both.undo(None),
            lambda: both.rename("tube"),
            *(lambda week=week: both.hours(week) for week in (WEEKS[0], WEEKS[1], "mon 25", WEEKS[1])),
            *(lambda back=back: both.retire(back=back) for back in (True, False, False)),
            lambda: (lambda: model.promise("S2", stall), lambda: tool.promise("S2", stall)),
            lambda: both.retire(back=True),
            lambda: both.undo(None),
            lambda: both.undo(None),
            lambda: both.undo(None),
            lambda: both.undo(None),
            lambda: both.sheet(lines),
            lambda: both.sheet(lines),
            lambda: both.sheet(short),
            both.make,
            lambda: both.sell(1),
            lambda: both.sell(2),
            lambda: both.undo(None),
            lambda: both.undo(None),
            lambda: both.sell(1),
        ]
        refused = 0
        for step in steps:
            mine, tools = step()
            try:
                mine()
                fine: tuple[int, ...] = (FINE, SHORT)
            except Refusal:
                fine, refused = (1,), refused + 1
            assert tools() in fine, tool.said
            assert tool.state() == state_of(model), tool.said
        assert refused >= 12
