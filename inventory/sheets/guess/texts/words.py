"""The word lists of this room, and how words meet: whatever their case, accents and dots."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache, lru_cache
from pathlib import Path

_TOKEN = re.compile(r"[0-9]+(?:[.,/][0-9]+)*|[^\W\d_]+(?:['’][^\W\d_]+)*|[^\w\s]|_")
_DASHES = str.maketrans(
    dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-") | {"’": "'", "´": "'", "`": "'"}
)
_WORDS_FOLDER = Path(__file__).with_name("lists")
LIKE = 0.84
"""How like a word of the lists a word of five letters or more must be to be taken for a slip of it."""


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of lists/`name`.csv by column."""
    with (_WORDS_FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(line for line in file if not line.startswith("# ")))


@lru_cache(maxsize=65536)
def plainly(text: str) -> str:
    """The form under which words meet: no case, accents, line breaks or doubled spaces; one kind of dash.

    >>> plainly("Stück  à"), plainly("Weiß")
    ('stuck a', 'weiss')
    """
    if text.isascii():
        return " ".join(text.casefold().split())
    parted = unicodedata.normalize("NFKD", text.translate(_DASHES).casefold().replace("œ", "oe"))
    return " ".join("".join(sign for sign in parted if not unicodedata.combining(sign)).split())


@lru_cache(maxsize=65536)
def tokens(text: str) -> tuple[str, ...]:
    """The words, numbers and signs of a text that was made plain."""
    return tuple(_TOKEN.findall(text))


@dataclass(frozen=True, slots=True)
class Found:
    """A phrase of a list in a text: what it stands for, its place among the tokens, whether it was only like it."""

    meaning: str
    start: int
    end: int
    slip: bool = False


class Lexicon:
    """Phrases and what each stands for; the longest phrase at a place wins."""

    def __init__(self, pairs: Iterable[tuple[str, str]]) -> None:
        self.phrases: dict[tuple[str, ...], str] = {}
        for phrase, meaning in pairs:
            said = tokens(plainly(phrase))
            self.phrases.setdefault(said, meaning)
            self.phrases.setdefault(_trimmed(said) or said, meaning)
        self.longest = max(map(len, self.phrases), default=0)
        self._single = tuple(key[0] for key in self.phrases if len(key) == 1 and len(key[0]) >= 5)
        self._slips: dict[str, str] = {}

    def whole(self, text: str) -> str:
        """What the whole text stands for, or nothing; signs at its ends do not count."""
        said = tokens(plainly(text))
        return self.phrases.get(said) or self.phrases.get(_trimmed(said), "")

    def find(self, said: Sequence[str], *, slips: bool = False) -> list[Found]:
        """Every phrase in these tokens, longest first at each place, none over another."""
        found, at = [], 0
        while at < len(said):
            one = self._at(said, at, slips)
            if one is not None:
                found.append(one)
                at = one.end
            else:
                at += 1
        return found

    def _at(self, said: Sequence[str], at: int, slips: bool) -> Found | None:
        for length in range(min(self.longest, len(said) - at), 0, -1):
            meaning = self.phrases.get(tuple(said[at : at + length]))
            if meaning is not None:
                return Found(meaning, at, at + length)
        slip = self.slip(said[at]) if slips else ""
        return Found(slip, at, at + 1, slip=True) if slip else None

    def slip(self, word: str) -> str:
        """What a mistyped word most likely stands for, or nothing."""
        if len(word) < 5 or not word.isalpha():
            return ""
        if word not in self._slips:
            near = max(self._single, key=lambda other: likeness(word, other), default="")
            meant = self.phrases[(near,)] if near and likeness(word, near) >= LIKE else ""
            self._slips[word] = meant
        return self._slips[word]


def _trimmed(said: tuple[str, ...]) -> tuple[str, ...]:
    kept = list(said)
    while kept and not any(map(str.isalnum, kept[-1])):
        kept.pop()
    while kept and not any(map(str.isalnum, kept[0])):
        kept.pop(0)
    return tuple(kept)


@lru_cache(maxsize=65536)
def likeness(one: str, other: str) -> float:
    """How like two words are, from 0 to 1: 2 · letters in common, in order / letters of both.

    Letters that changed places count once as missing, as `difflib` counts them.
    """
    if abs(len(one) - len(other)) > 3 or one[:1] != other[:1]:
        return 0.0
    if sorted(one) == sorted(other):
        return 0.95  # the same letters in another order: the commonest slip of all
    return SequenceMatcher(None, one, other).ratio()


@cache
def lexicon(name: str, column: str, where: tuple[str, str] = ("", "")) -> Lexicon:
    """The list `name`, its phrases standing for `column`; where: only rows that hold this value in this column."""
    return Lexicon(
        (phrase, row[column])
        for row in table(name)
        if not where[0] or row[where[0]] == where[1]
        for phrase in row["words"].split("|")
    )


@cache
def signs(sign: str) -> Lexicon:
    """The phrases that mean one thing, such as `total` or `by`."""
    return lexicon("signs", "sign", ("sign", sign))


@cache
def meanings(name: str, column: str) -> Mapping[str, dict[str, str]]:
    """The first row of a list by what stands in one of its columns."""
    found: dict[str, dict[str, str]] = {}
    for row in table(name):
        found.setdefault(row[column], row)
    return found
