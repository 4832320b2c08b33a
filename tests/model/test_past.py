"""A day gone by is told as the plain model stood on its evening, and a year's way adds up to the last coin."""

from __future__ import annotations

import json
import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, settings
from hypothesis.stateful import invariant, run_state_machine_as_test

from inventory.jobs.accounts.worth import worth
from inventory.reports.accounts.worth import StockWorth
from inventory.store import open_to_look

from .looking_back import last_moved, same
from .machine import TODAY, Bench, Places
from .plain import Model
from .test_random import FEW
from .tool import Tool

Evening = Counter[tuple[date | None, int, int]]
"""How many lots hold so much at such a cost, by the day they came."""
ASKED: list[date] = []
"""Evenings that were asked for, of all histories."""
BEFORE = TODAY - timedelta(days=1)


def evening(model: Model) -> Evening:
    """The shelf as the model has it now."""
    numbers = [n for part in {lot.part for lot in model.lots.values()} for n in model.lots_of(part)]
    return Counter((model.lots[n].received, model.left(n), model.cost(n)) for n in numbers)


class Past(Bench):
    """Random commands over some days; what each evening was is kept, and asked for at the end."""

    def __init__(self) -> None:
        super().__init__()
        self.evenings: dict[date, Evening] = {}

    def both(self, what: str, mine: Callable[[], None], tools: Callable[[], int]) -> None:
        """What is taken back was never there: no evening before is as it was."""
        if what == "undo":
            self.evenings.clear()
        super().both(what, mine, tools)

    @invariant()
    def agree(self) -> None:
        """Kept until the day ends, when the last of it stays; it does where the entries are an odd number."""
        if self.tool.sheets:
            self.evenings[self.model.today] = evening(self.model)
            if len(self.model.documents) % 2:
                self.model.today += timedelta(days=1)
                self.tool.day(self.model.today)

    def teardown(self) -> None:
        """Every evening that is known is what the book tells of that day."""
        try:
            for day, kept in self.evenings.items():
                told = self._told(BEFORE, day)
                lots = [lot for part in told.parts for lot in part.lots if lot.quantity]
                assert Counter((one.received_on, one.quantity, one.cost) for one in lots) == kept
                assert told.total == sum(cost * many for (*_, cost), many in kept.items())
                ASKED.append(day)
            self._one_way()
            self._each_coin_once()
            self._looked_back()
        finally:
            super().teardown()

    def _one_way(self) -> None:
        """From any evening to a later one: what was there and what moved come to what is there, part by part."""
        days = sorted(self.evenings)
        for first, last in pairwise(days):
            told = self._told(first + timedelta(days=1), last)
            # the opening is worked out backwards: that evening's own lots, which the model knows, are what it must be
            there = {part.part.name: (part.quantity, part.cost) for part in self._told(BEFORE, first).parts}
            ways = {told.named[key].name: flow.opening for key, flow in told.flow.items()}
            assert there == {name: way for name, way in ways.items() if way != (0, 0)}
            before, sums, now = told.summed()
            assert now == told.total
            assert before == sum(cost * many for (*_, cost), many in self.evenings[first].items())
            down = ("used", "lost", "sold", "given", "lent")
            assert before + sum(-cost if kind in down else cost for kind, cost in sums.items()) == now

    def _each_coin_once(self) -> None:
        """What left the shelf is in one sum of what was earned, or in the finished pieces that are there."""
        said = []
        for command in ("earned", "worth"):
            assert self.tool(command, "--since", BEFORE.isoformat(), "--json") == 0, self.tool.said
            said.append(json.loads(self.tool.said.partition(": ")[2], parse_float=Fraction))
        total, way = said[0]["total"], said[1]
        went = way["used"] + way["lost"] + way["sold"] + way["given"] - way["made"]
        assert went == sum(total[one] for one in ("materials", "supplies", "spoiled", "other")), said
        assert total["tools"] == 0  # the little shop's last for ever

    def _looked_back(self) -> None:
        """What was made, spoiled, sold, spent and ordered, all of it and from a day on; what sleeps months later."""
        for since in dict.fromkeys((BEFORE, *sorted(self.evenings)[1:2])):
            same(self.model, self._history("--since", since.isoformat()), since)
        for months, days in ((6, 200), (12, 380)):
            self.tool.day(self.model.today + timedelta(days=days))
            told = {one["part"]: one for one in self._history()["asleep"]}
            there = last_moved(self.model)
            assert {part: one["since"] for part, one in told.items()} == {
                self.model.called(part): day.isoformat() for part, day in there.items()
            }
            assert {one["months"] for one in told.values()} <= {months}
            worth = {
                self.model.called(part): sum(map(self.model.cost, self.model.lots_of(part))) for part in there
            }
            assert {part: one["worth"] * 100 for part, one in told.items()} == worth

    def _history(self, *words: str) -> dict[str, Any]:
        assert self.tool("history", *words, "--json") == 0, self.tool.said
        said: dict[str, Any] = json.loads(self.tool.said.partition(": ")[2], parse_float=Fraction)
        return said

    def _told(self, since: date, on: date) -> StockWorth:
        with open_to_look(self.tool.place) as book, book.reading() as read:
            return worth(read.past_shelf(since, on), read.every_part(), since, on)


def held(places: Places, how: settings) -> None:
    """Run the machine."""

    class There(Past):
        pass

    There.places = staticmethod(places)
    run_state_machine_as_test(There, settings=how)


@pytest.fixture
def books(tmp_path: Path) -> Places:
    """Books in files, always in the same place, each with the little shop's names in it."""
    with pytest.MonkeyPatch.context() as patch:
        Tool(str(tmp_path / "fresh.kitdrawer"), tmp_path, patch, TODAY).begin()

    @contextmanager
    def copied() -> Iterator[str]:
        path = tmp_path / "book.kitdrawer"
        for old in tmp_path.glob("book.kitdrawer*"):
            old.unlink()
        shutil.copy(tmp_path / "fresh.kitdrawer", path)
        yield str(path)

    return copied


def test_past_evenings_are_told_as_they_were(books: Places) -> None:
    """A few short histories of every kind of entry."""
    held(books, settings(FEW, max_examples=3, phases=(Phase.generate,)))  # to shrink takes minutes
    assert len(set(ASKED)) > 3


@pytest.mark.soak
def test_past_evenings_of_many_histories(books: Places) -> None:
    """Five hundred of them."""
    held(books, settings(FEW, max_examples=500, stateful_step_count=15))
