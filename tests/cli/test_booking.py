"""Booking while others book: who is overtaken gets in all the same, and nothing is booked that was not agreed to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import pytest

from inventory.cli import booking
from inventory.cli.booking import FREE_TRIES, LOCKED_TRIES, UNASKED_TRIES, book
from inventory.errors import BookMoved, NotEnough, StoreBusy
from inventory.ledger import Proposal
from inventory.store import Read, Store, begin, engine, open_store

from .conftest import Kitdrawer

DAY = date(2026, 11, 28)


@dataclass
class Rush:
    """Somebody who books whenever a look is taken, as long as the book lets them in."""

    mine: Store
    theirs: Store
    says: Callable[[int], str] = "Nothing to see {}".format
    """What the document worked out at a version of the book says."""
    most: int = 1_000
    booked: int = 0
    kept_out: int = 0
    looks: int = 0
    shown: list[str] = field(default_factory=list)

    def go(self) -> bool:
        """Book something, unless it was often enough; whether it could be booked."""
        if self.booked == self.most:
            return False
        try:
            self.theirs.commit(Proposal("count", "Quicker", DAY))
        except StoreBusy:
            self.kept_out += 1
            return False
        self.booked += 1
        return True

    def make(self, read: Read) -> Proposal:
        """Work a document out, and be overtaken."""
        self.looks += 1
        self.go()
        return Proposal("count", self.says(read.version), DAY, expected_version=read.version)

    def book(self, *, yes: bool) -> int | None:
        """The command."""

        def show(made: Proposal) -> None:
            self.shown.append(made.title)

        return book(self.mine, self.make, lambda made: made, show, "Book it?", yes=yes)[0]

    def titles(self) -> list[str]:
        """What the command has booked."""
        with self.mine.reading() as read:
            return [one.title for one in read.documents() if one.title != "Quicker"]


@pytest.fixture(params=["sqlite", "postgresql"])
def rush(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Rush]:
    """Two of them at one new book, who wait only a moment for each other."""
    where, server = str(tmp_path / "book.kitdrawer"), request.param == "postgresql"
    if server:
        where = request.getfixturevalue("database")
    # to connect to a server takes whole seconds
    monkeypatch.setattr(engine, "BUSY_SECONDS", 1 if server else 0.1)
    with begin(where, "EUR") as mine, open_store(where) as theirs:
        monkeypatch.setattr(engine, "BUSY_SECONDS", 0.1)
        yield Rush(mine, theirs)


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch, rush: Rush) -> list[bool]:
    """What the person at the screen says, question by question; while they think, somebody else books."""
    left: list[bool] = []

    def asked(question: str, yes: bool) -> bool:
        assert not yes
        assert question == "Book it?"
        assert rush.booked == rush.most or rush.go(), "somebody had to wait for a person"
        return left.pop(0)

    monkeypatch.setattr(booking, "agreed", asked)
    return left


def same(_: int) -> str:
    """The document says the same on every state of the book."""
    return "The same"


@pytest.mark.parametrize("changing", [False, True])
def test_overtaken_on_every_look_it_gets_in(rush: Rush, changing: bool) -> None:
    """After so many tries it looks with the lock held: the one who overtook it has to wait, and it is booked."""
    rush.says = rush.says if changing else same
    assert rush.book(yes=True) == UNASKED_TRIES + 1
    assert (rush.looks, rush.booked, rush.kept_out) == (UNASKED_TRIES + 1, UNASKED_TRIES, 1)
    assert rush.titles() == rush.shown[-1:]
    assert len(rush.shown) == (UNASKED_TRIES + 1 if changing else 1)
    assert rush.go()  # the lock is free again


def test_agreed_to_once_it_is_booked_without_asking_again(rush: Rush, answers: list[bool]) -> None:
    """What was agreed to and has not changed is not asked again, however often it is overtaken."""
    rush.says = same
    answers.append(True)
    assert rush.book(yes=False) is not None
    assert (rush.looks, rush.kept_out, answers, rush.shown) == (FREE_TRIES + 1, 1, [], ["The same"])
    assert rush.titles() == rush.shown


@pytest.mark.parametrize("last", [True, False])
def test_what_changed_under_the_lock_is_asked_first(rush: Rush, answers: list[bool], last: bool) -> None:
    """The lock is let go and the new document shown; it is booked only once it, and no other, was agreed to."""
    rush.says = lambda version: (
        f"Of {version // (2 * FREE_TRIES - 2)}"
    )  # changes where the lock is taken first
    rush.most = 2 * FREE_TRIES
    answers += [True, last]
    number = rush.book(yes=False)
    assert answers == []
    assert rush.shown == ["Of 0", "Of 1"]
    assert rush.titles() == (["Of 1"] if last else [])
    assert (number is not None) == last


def test_a_document_that_never_stays_the_same_is_never_booked_unseen(rush: Rush, answers: list[bool]) -> None:
    """Where each answer comes too late the command gives up in a sentence, and nothing of it is in the book."""
    answers += [True] * (FREE_TRIES + LOCKED_TRIES)
    with pytest.raises(StoreBusy, match="Others keep booking in this store"):
        rush.book(yes=False)
    assert answers == []
    assert len(set(rush.shown)) == FREE_TRIES + LOCKED_TRIES
    assert rush.titles() == []


def test_a_refusal_under_the_lock_leaves_nothing(rush: Rush) -> None:
    """What is refused with the lock held is refused as ever, and the lock is free afterwards."""

    def says(version: int) -> str:
        if rush.looks > UNASKED_TRIES:
            raise NotEnough("The last one is gone.", hint="Buy another.")
        return str(version)

    rush.says = says
    with pytest.raises(NotEnough):
        rush.book(yes=True)
    assert (rush.titles(), rush.kept_out, rush.go()) == ([], 1, True)


def test_who_waits_too_long_tries_again_and_says_so(rush: Rush) -> None:
    """Another's long write is waited for beyond one wait for the lock; the person is told once."""
    told: list[str] = []
    rush.most = 0
    with ExitStack() as others:
        others.enter_context(rush.theirs.writing())

        def talk(text: str) -> None:
            told.append(text)
            others.close()

        rush.mine.talk = talk
        assert rush.book(yes=True) == 1
    assert told == ["Another program is writing to this store; waiting for it."]
    assert (rush.looks, rush.shown) == (2, rush.titles())  # before the lock was waited for, and with it


def test_who_waits_for_nothing_is_told(rush: Rush) -> None:
    """A writer that never ends is not waited for without end."""
    told: list[str] = []
    rush.mine.talk = told.append
    rush.most = 0
    with rush.theirs.writing(), pytest.raises(StoreBusy, match="Another program is writing to"):
        rush.book(yes=True)
    assert len(told) == 1
    assert (rush.looks, rush.titles()) == (1, [])


def test_an_overtaken_undo_gets_in(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Like every write: with the lock held it is worked out from what is there."""

    def moved(*_: object, **__: object) -> int:
        raise BookMoved("Somebody was quicker.")

    monkeypatch.setattr("inventory.store.store.Store.commit", moved)
    answer = kitdrawer("undo", "1", "--yes")
    assert (answer.code, "Undone (entry" in answer.out) == (0, True)
    assert store.exists()
