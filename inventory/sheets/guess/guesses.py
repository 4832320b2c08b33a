"""What was made of the cells: things, orders, what was kept as it is, and what has to be asked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from inventory.sheets.guess.cells import Cell

Grade = Literal["read", "guessed", "asked"]
"""read: it says so; guessed: most likely so, and marked; asked: only a best guess stands until somebody answers."""
YOUR_ANSWER = "your answer"
"""Why something is sure that no cell says."""
_WORSE: Mapping[str, int] = {"read": 0, "guessed": 1, "asked": 2}


def worst(grades: Iterable[Grade]) -> Grade:
    """The least sure of these."""
    return max(grades, key=lambda grade: _WORSE[grade], default="read")


@dataclass(frozen=True, slots=True)
class Said:
    """One thing said: its value as plain text, how sure that is, why, and the cells it is from."""

    value: str
    grade: Grade = "read"
    why: str = ""
    cells: tuple[Cell, ...] = ()


@dataclass(slots=True)
class Thing:
    """One row of stock. said: by field, such as kind, family, plating, name, quantity, unit, paid, per, supplier."""

    anchor: Cell
    said: dict[str, Said] = field(default_factory=dict)

    def value(self, what: str) -> str:
        """What is said under a field, or nothing."""
        found = self.said.get(what)
        return found.value if found else ""

    def put(self, what: str, value: str, grade: Grade = "read", why: str = "", *cells: Cell) -> None:
        """Say something, unless it is nothing."""
        if value:
            self.said[what] = Said(value, grade, why, cells)

    def add(self, what: str, value: str, *cells: Cell) -> None:
        """Say something more under a field that may hold several, such as notes."""
        before = self.said.get(what)
        if before and value not in before.value:
            self.said[what] = Said(
                f"{before.value}; {value}", before.grade, before.why, (*before.cells, *cells)
            )
        elif not before:
            self.put(what, value, "read", "", *cells)


@dataclass(slots=True)
class GuessedOrder(Thing):
    """One order, in the same form: count, pattern, blank, plating, due, customer, price, state."""


@dataclass(frozen=True, slots=True)
class Question:
    """What has to be asked. key: the same whenever the same sheet is read; choices: what may be answered, or any."""

    key: str
    about: str
    cell: str
    guess: str
    choices: tuple[str, ...] = ()
    accepts: str = ""
    rows: int = 1


@dataclass(frozen=True, slots=True)
class Kept:
    """A cell of which no stock was made: a heading, a total, a note, or what was not understood."""

    cell: Cell
    what: str
    why: str = ""


@dataclass(slots=True)
class Asking:
    """Collects questions, and knows what was answered already. Keys are folded texts.

    waiting: cells of which nothing is made until a question about their whole column is answered, by its key.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    questions: dict[str, Question] = field(default_factory=dict)
    asked_cells: dict[Cell, str] = field(default_factory=dict)
    answered: dict[str, Question] = field(default_factory=dict)
    waiting: dict[Cell, str] = field(default_factory=dict)

    def ask(
        self,
        key: str,
        about: str,
        guess: str,
        *cells: Cell,
        choices: tuple[str, ...] = (),
        accepts: str = "",
        rows: int = 1,
    ) -> Said:
        """The answer where there is one, else the best guess, marked as asked. rows: how many hang on it."""
        answer = self.answers.get(key, "")
        place = cells[0].ref if cells else ""
        if answer:
            self.answered[key] = Question(key, about, place, guess, choices, accepts)
            return Said(answer, "read", YOUR_ANSWER, cells)
        before = self.questions.get(key)
        rows = before.rows + rows if before else rows
        if before:
            about, guess, place = before.about, before.guess, before.cell
        self.questions[key] = Question(key, about, place, guess, choices, accepts, rows)
        for cell in cells:
            self.asked_cells[cell] = key
        return Said(guess, "asked", about, cells)


@dataclass(slots=True)
class Understanding:
    """The whole of it. coin: of the prices, as an ISO 4217 code, empty where nothing says."""

    things: list[Thing] = field(default_factory=list)
    orders: list[GuessedOrder] = field(default_factory=list)
    kept: list[Kept] = field(default_factory=list)
    asking: Asking = field(default_factory=Asking)
    notes: list[str] = field(default_factory=list)
    coin: str = ""
    cells: int = 0
    understood: int = 0
    today: date = date.min

    @property
    def questions(self) -> list[Question]:
        """What has to be asked, those first that many rows hang on."""
        return sorted(self.asking.questions.values(), key=lambda one: -one.rows)
