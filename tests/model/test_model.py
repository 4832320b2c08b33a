"""The tool and the plain model hold the same book whatever is done to them, to the last coin."""

from __future__ import annotations

import ast
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import postgres
import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test
from sqlalchemy import make_url

from .days import Days, Step
from .everyday import Counted
from .goods import COUNTED, WEEKS
from .machine import FIRED, TODAY, Places, bench
from .parcels import Came
from .plain import Made, Model
from .things import Refusal, Wish
from .tool import FINE, SHORT, Tool, state_of

Steps = list[tuple[Callable[[], object], Callable[[], int]]]
"""What the model does, and the same with the tool."""
HERE = Path(__file__).resolve().parent
ON_A_SERVER = pytest.param("databases", marks=pytest.mark.soak)
"""What is paid is tried on a server with all tests, these in the soak; tests/store tries all it does on both."""
FEW = settings(
    max_examples=3,
    stateful_step_count=10,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a book with the little shop's names in it, and nothing on the shelf."""
    folder = tmp_path_factory.mktemp("fresh")
    with pytest.MonkeyPatch.context() as patch:
        Tool(str(folder / "fresh.kitdrawer"), folder, patch, TODAY).begin()
    return folder / "fresh.kitdrawer"


@pytest.fixture
def files(fresh: Path, tmp_path: Path) -> Places:
    """Books in files: a copy of the fresh one, always in the same place."""

    @contextmanager
    def copied() -> Iterator[str]:
        path = tmp_path / "book.kitdrawer"
        for old in tmp_path.glob("book.kitdrawer*"):
            old.unlink()
        shutil.copy(fresh, path)
        yield str(path)

    return copied


@pytest.fixture
def databases(server: str, tmp_path: Path) -> Iterator[Places]:
    """Books on a server, each a copy of one database."""
    with postgres.database(server) as url, pytest.MonkeyPatch.context() as patch:
        Tool(url, tmp_path, patch, TODAY).begin()
        name = str(make_url(url).database)

        yield lambda: postgres.database(server, name)


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


def held(places: Callable[[], AbstractContextManager[str]], how: settings) -> None:
    """Run the machine."""
    run_state_machine_as_test(bench(places), settings=how)


def test_random_commands_leave_the_book_as_the_model_says(files: Places) -> None:
    """A few short runs of random commands: shelf, costs, claims, what is due and every refusal are the model's."""
    held(files, FEW)


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


@pytest.mark.soak
def test_long_runs_of_random_commands_leave_the_book_as_the_model_says(files: Places) -> None:
    """Three hundred runs of fifty commands each, in a file; every job is booked, and refused, at least once."""
    FIRED.clear()
    held(files, settings(FEW, max_examples=300, stateful_step_count=50))
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
        "paid",
        "place",
        "plan",
        "promise",
        "release",
        "repair",
        "retire",
        "rob",
        "sold",
        "took",
        "undo",
        "weekend",
    }
    assert {name.removesuffix(" refused") for name in FIRED if name.endswith(" refused")} >= refusable
    assert set(FIRED) >= {*refusable, "add", "found", "load", "rename"}


@pytest.mark.soak
def test_random_commands_leave_the_book_on_a_server_as_the_model_says(databases: Places) -> None:
    """Forty runs of thirty commands each, on PostgreSQL."""
    held(databases, settings(FEW, max_examples=40, stateful_step_count=30))


def test_the_model_is_its_own() -> None:
    """The model imports nothing of the program, so that both cannot be wrong alike."""
    for name in ("cells.py", "everyday.py", "goods.py", "parcels.py", "plain.py", "things.py"):
        tree = ast.parse((HERE / name).read_text(encoding="utf-8"))
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
