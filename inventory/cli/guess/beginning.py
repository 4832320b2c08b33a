"""`begin --from`: one's own sheet read, its open questions asked, `shop.xlsx` written, then loaded."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import typer

from inventory.cli.json.exact import Value, dumps
from inventory.cli.screens.guessed import after_questions, first_question, summary, the_question
from inventory.cli.screens.progress import progress
from inventory.cli.session import existing, opened, say, somebody, talk, today
from inventory.errors import BadMeasure, NoStore, Refused
from inventory.sheets.guess.answers import read_answer, usable
from inventory.sheets.guess.cells import Grid, read_grids
from inventory.sheets.guess.guesses import Question, Understanding
from inventory.sheets.guess.shop.book import Written, write_shop
from inventory.sheets.guess.shop.lines import ShopTabs
from inventory.sheets.guess.shop.resume import Begun, begun_in, keep_changes
from inventory.sheets.guess.shop.shop import shop_of
from inventory.sheets.guess.understanding import Step, understand
from inventory.sheets.saving import check_free

if TYPE_CHECKING:
    from inventory.ledger import Intake, Proposal
    from inventory.store import Read, Store

LATER = frozenset({"later", "l", "q", "quit", "später", "plus tard"})


class BookedWith(Protocol):
    """What is booked with a load in one go, by a document of its own."""

    def with_it(self, read: Read, intake: Intake, proposal: Proposal) -> Proposal:
        """The load with it."""
        ...

    def show(self) -> None:
        """What it would book."""
        ...


class Loader(Protocol):
    """Loads a workbook of our tabs into a book, showing and asking; the entry's number, if it was booked."""

    def __call__(
        self,
        found: Store,
        path: Path,
        *,
        yes: bool,
        as_json: bool,
        sure: bool,
        beside: BookedWith | None = None,
    ) -> int | None: ...


@dataclass(slots=True)
class Beginning:
    """One `begin --from`. make: makes the empty book in the currency it is given, where there is none."""

    paths: Sequence[Path]
    save: Path | None
    store: str | None
    coin: str
    make: Callable[[str], None]
    load: Loader
    yes: bool = False
    as_json: bool = False
    sure: bool = False
    begun: Begun | None = None
    grids: Sequence[Grid] = ()
    answers: dict[str, str] = field(default_factory=dict)
    unreadable: list[str] = field(default_factory=list)
    again: str = "begin --from"

    def run(self) -> None:
        """From the sheet to the book."""
        there = self.book_is_there()
        self.read()
        target = self._target()
        found = self._understood()
        left = False
        if somebody() and not self.yes and not self.as_json:
            self._tell(found)
            found, left = self._asked(found)
        shop = self._shop(found)
        written = target is not None and self._write(target, shop, found)
        if not self.as_json:
            say("\n".join(after_questions(found, shop, target, self.unreadable)))
        number = self._end(found, target if written else None, there=there, left=left)
        if number is not None and not self.as_json and (following := first_question(shop, today())):
            say(f"Next: {following}")

    def book_is_there(self) -> bool:
        """Whether there is an empty book already. Raises Refused where it has anything in it."""
        try:
            with opened(self.store) as found, found.reading() as read:
                filled = bool(read.catalogue().parts)
        except NoStore:
            return False
        if filled:
            raise Refused(
                "There is a book with stock in it already, and one's own sheet begins a new one.",
                hint="Nothing was read. Name another place with --store, or `kitdrawer load` our own tabs.",
            )
        return True

    def read(self) -> None:
        if self.grids:
            return
        paths = [existing(path) for path in self.paths]
        self.begun = begun_in(paths)
        if self.begun is not None:
            self.grids, self.answers = self.begun.grids, dict(self.begun.answers)
            return
        with progress("Reading") as step:
            self.grids = read_grids(paths, step)

    def _target(self) -> Path | None:
        """Where shop.xlsx goes: beside the sheet, or over the one that is gone on with."""
        if self.as_json and not self.yes and self.save is None and self.begun is None:
            return None
        if self.save is None and self.begun is not None:
            return self.paths[0]
        target = self.save or self.beside()
        if target.suffix.casefold() != ".xlsx":
            raise Refused(f"{target.name} is no name for a workbook.", hint="Let --save end in .xlsx.")
        if self.save is None and target.exists():
            hint = f"Go on with it: kitdrawer {self.again} {target}. Or name another place with --save."
            raise Refused(f"{target} is there already.", hint=hint)
        check_free(target, overwrite=self.begun is not None)
        return target

    def beside(self) -> Path:
        """Where our tabs go if nobody says where."""
        return self.paths[0].resolve().parent / "shop.xlsx"

    def _understood(self) -> Understanding:
        with progress("Understanding") as step:
            found = self.made_of(self.answers, step)
        questions = {**found.asking.answered, **found.asking.questions}
        good, self.unreadable = usable(questions, self.answers, today())
        if good != self.answers:
            self.answers = good
            found = self.made_of(self.answers)
        return found

    def made_of(self, answers: Mapping[str, str], step: Step | None = None) -> Understanding:
        """What the sheet says, given these answers."""
        return understand(self.grids, answers, today(), self.coin, step)

    def tabs_of(self, found: Understanding) -> ShopTabs:
        """Our tabs, filled from it."""
        return shop_of(found)

    def _tell(self, found: Understanding) -> None:
        say("\n".join(summary(found, [grid.file for grid in self.grids])))

    def _asked(self, found: Understanding) -> tuple[Understanding, bool]:
        """Ask what is open, until nothing is or the rest is left for later."""
        while open_ones := [one for one in found.questions if one.key not in self.answers]:
            for number, question in enumerate(open_ones, start=1):
                answer = self._ask(question, number, len(open_ones))
                if answer is None:
                    return self.made_of(self.answers), True
                self.answers[question.key] = answer
            found = self.made_of(self.answers)
        return found, False

    def _ask(self, question: Question, number: int, of: int) -> str | None:
        say("\n".join(["", *the_question(question, number, of)]))
        while True:
            text = typer.prompt(">", default="", show_default=False, prompt_suffix=" ", err=True).strip()
            if text.casefold() in LATER:
                return None
            if not text and question.guess:
                return question.guess
            if text == "?":
                say("\n".join(the_question(question, number, of, whole=True)))
                continue
            try:
                return read_answer(question, text, today())
            except BadMeasure as error:
                talk(f"{error.message} {error.hint}")

    def _shop(self, found: Understanding) -> ShopTabs:
        shop = self.tabs_of(found)
        if self.begun is not None:
            before = self.tabs_of(self.made_of(self.begun.taken))
            changed = keep_changes(shop, before, self.begun.tabs)
            if changed:
                talk(f"Changes of your own in it were kept: {changed}.")
        return shop

    def _write(self, target: Path, shop: ShopTabs, found: Understanding) -> bool:
        with progress("Writing") as step:
            step(0, 0)
            written = Written(shop, found, self.grids, self.answers)
            write_shop(target, written, overwrite=self.begun is not None)
        return True

    def _end(self, found: Understanding, target: Path | None, *, there: bool, left: bool) -> int | None:
        number = None
        if target is not None and not left and (self.yes or (somebody() and not self.as_json)):
            number = self._load(found, target, there=there)
        elif not self.as_json:
            say(f"Nothing was booked. Go on: kitdrawer {self.again} {target}")
        if self.as_json:
            say(dumps(_json(found, target, number)))
        return number

    def _load(self, found: Understanding, target: Path, *, there: bool) -> int | None:
        if not there:
            self.make(found.coin)
        with opened(self.store) as book:
            return self.load(book, target, yes=self.yes, as_json=self.as_json, sure=self.sure)


def _json(found: Understanding, target: Path | None, number: int | None) -> Mapping[str, Value]:
    questions = found.questions
    return {
        "entry": number,
        "cells": found.cells,
        "understood": found.understood,
        "asked": len(questions),
        "questions": [{"about": one.about, "cell": one.cell, "guess": one.guess} for one in questions],
        "not_understood": [
            {"cell": one.cell.ref, "says": one.cell.text, "why": one.why}
            for one in found.kept
            if one.what in ("not understood", "heading not known")
        ],
        "saved": str(target) if target else None,
    }
