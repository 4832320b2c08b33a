"""Bookings of which nobody was told whether they are in the book: kept for the next command, which looks it up.

A note is written before the end of a booking is sent and deleted once it is answered. So it is there afterwards where
the program was killed in between, or the line to a server broke and nothing could be found out; in the latter case the
person was told, and the note gets another name. What belongs to a command that still runs is let be.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import asdict, dataclass
from pathlib import Path
from time import time
from typing import TYPE_CHECKING

from inventory.errors import AlreadyBooked, StoreUnsure
from inventory.leftovers import nobodys, unfinished

if TYPE_CHECKING:
    from inventory.store import Store

REQUEST: ContextVar[tuple[str, ...]] = ContextVar("REQUEST", default=())
"""The words of the command that runs."""
_NAME, _TOLD, _PRIVATE = "booking", ".json", 0o600  # customers may be named in it
_BROKE, _KILLED = "the line to the server broke", "its command was cut off"
ENDS_WITHIN = 10 * 60
"""Seconds after which no booking is still waiting for its end to be answered."""
_ASIDE = ("--yes", "--json")
"""Words that change nothing of what is booked."""


@dataclass(frozen=True, slots=True)
class Unsure:
    """A command whose booking was under way when the line broke, or it was killed.

    ticket: what it is found again by (`Store.outcome`); words: the command; title: what was to be booked.
    """

    store: str
    ticket: str
    words: tuple[str, ...]
    title: str

    @property
    def same(self) -> bool:
        """Whether the command that runs is this one once more."""
        return _meant(self.words) == _meant(REQUEST.get())


@contextmanager
def under_way(shown: str, ticket: str, title: str) -> Iterator[None]:
    """While a booking ends: a note of it, which stays where nobody learns what became of it."""
    note = _written(Unsure(shown, ticket, REQUEST.get(), title))
    try:
        yield
    except StoreUnsure:
        from secrets import token_hex  # half of what this module costs to load

        with suppress(OSError):  # the person is told all the same
            note.rename(note.with_name(f"{token_hex(8)}{_TOLD}"))
        raise
    except Exception:  # answered: it is not in the book. An interrupt may have come a moment after the answer
        _deleted(note)
        raise
    _deleted(note)


def _written(one: Unsure) -> Path:
    """Write it down, where that can be."""
    note = unfinished(_folder() / _NAME)
    with suppress(OSError):
        try:
            note.touch(_PRIVATE, exist_ok=False)
        except FileNotFoundError:
            note.parent.mkdir(parents=True, exist_ok=True)
            note.touch(_PRIVATE, exist_ok=False)
        note.write_text(json.dumps(asdict(one)), encoding="utf-8")
    return note


def _deleted(note: Path) -> None:
    with suppress(OSError):
        note.unlink(missing_ok=True)


def looked_up(store: Store) -> tuple[Unsure, ...]:
    """Say what became of everything not known of this book, and forget it; those that are booked.

    Of what was cut off and is not in the book nothing is said: nobody was told that it might be.
    """
    booked = []
    for path, one in _kept(store.shown):
        found, told = store.outcome(one.ticket), path.name.endswith(_TOLD)
        what = f"“{one.title}”, under way when {_BROKE if told else _KILLED},"
        match found:
            case "booked":
                store.talk(f"{what} is in the book.")
                booked.append(one)
            case "not booked":
                if told:
                    store.talk(f"{what} was not booked.")
            case "unknown":
                store.talk(f"{what} is too long ago for the server to know: look whether it is in the book.")
        _deleted(path)
    return tuple(booked)


def not_twice(booked: Sequence[Unsure]) -> None:
    """Raise AlreadyBooked where the command that runs is one of these once more."""
    for one in booked:
        if one.same:
            raise AlreadyBooked(
                f"“{one.title}” was booked when this command was given before, and its answer lost.",
                hint="Nothing was booked again. If it is to be done once more, give the command once more.",
            )


def _kept(shown: str) -> Iterator[tuple[Path, Unsure]]:
    folder = _folder()
    try:
        names = sorted(os.listdir(folder))
    except OSError:
        return
    for path in map(folder.joinpath, names):
        try:
            if not path.name.endswith(_TOLD) and not _cut_off(path):
                continue
            said = json.loads(path.read_text(encoding="utf-8"))
            one = Unsure(said["store"], said["ticket"], tuple(said["words"]), said["title"])
        except (OSError, ValueError, KeyError, TypeError):
            continue
        if one.store == shown:
            yield path, one


def _cut_off(note: Path) -> bool:
    """Whether nobody waits for the answer any more: the process is gone, or another has its number by now."""
    return nobodys(note) or time() - note.stat().st_mtime > ENDS_WITHIN


def _folder() -> Path:
    from inventory.store.engine import own_folder

    return own_folder() / "unsure"


def _meant(words: Sequence[str]) -> tuple[str, ...]:
    left, done = iter(words), []
    for word in left:
        if word == "--store":
            next(left, None)
        elif word not in _ASIDE and not word.startswith("--store="):
            done.append(word)
    return tuple(done)
