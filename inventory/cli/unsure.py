"""What could not be found out when a line to a server broke: kept for the next command, which looks it up."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextvars import ContextVar
from dataclasses import asdict, dataclass
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING

from inventory.errors import AlreadyBooked

if TYPE_CHECKING:
    from inventory.store import Store

REQUEST: ContextVar[tuple[str, ...]] = ContextVar("REQUEST", default=())
"""The words of the command that runs."""
_ASIDE = ("--yes", "--json")
"""Words that change nothing of what is booked."""


@dataclass(frozen=True, slots=True)
class Unsure:
    """A command whose booking was under way when the line broke.

    ticket: the server's number for it; words: the command; title: what was to be booked.
    """

    store: str
    ticket: str
    words: tuple[str, ...]
    title: str

    @property
    def same(self) -> bool:
        """Whether the command that runs is this one once more."""
        return _meant(self.words) == _meant(REQUEST.get())


def keep(store: Store, ticket: str, title: str) -> None:
    """Remember it. Where that cannot be written down the person has been told all the same."""
    one = Unsure(store.shown, ticket, REQUEST.get(), title)
    try:
        _folder().mkdir(parents=True, exist_ok=True)
        path = _folder() / f"{token_hex(8)}.json"
        path.touch(0o600, exist_ok=False)  # customers may be named in it
        path.write_text(json.dumps(asdict(one)), encoding="utf-8")
    except OSError:
        return


def looked_up(store: Store) -> tuple[Unsure, ...]:
    """Say what became of everything not known of this book, and forget it; those that are booked."""
    booked = []
    for path, one in _kept(store.shown):
        found = store.outcome(one.ticket)
        what = f"“{one.title}”, under way when the line to the server broke,"
        match found:
            case "booked":
                store.talk(f"{what} is in the book.")
                booked.append(one)
            case "not booked":
                store.talk(f"{what} was not booked.")
            case "unknown":
                store.talk(f"{what} is too long ago for the server to know: look whether it is in the book.")
        path.unlink(missing_ok=True)
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
    for path in sorted(_folder().glob("*.json")):
        try:
            said = json.loads(path.read_text(encoding="utf-8"))
            one = Unsure(said["store"], said["ticket"], tuple(said["words"]), said["title"])
        except (OSError, ValueError, KeyError, TypeError):
            continue
        if one.store == shown:
            yield path, one


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
