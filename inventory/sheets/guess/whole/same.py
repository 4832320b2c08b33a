"""One thing under two spellings: what differs only in case is one; what is nearly alike is asked about."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from inventory.sheets.guess.guesses import Grade, Thing, Understanding
from inventory.sheets.guess.rows.kinds import WORDS_LEFT
from inventory.sheets.guess.texts.words import lexicon, likeness, plainly, tokens

NEAR = 0.86
MOST_NAMES = 400
"""Names of which every pair is looked at; of more only neighbours in the alphabet."""
_VAGUE = frozenset(
    {
        "slim",
        "slimline",
        "standard",
        "style",
        "twist",
        "click",
        "set",
        "new",
        "the",
        "no",
        "co",
        "ltd",
        "shop",
        "gmbh",
        "supplies",
        "tools",
    }
)


_PLAIN = frozenset(
    {
        "blank",
        "blanks",
        "wood",
        "woods",
        "kantel",
        "kanteln",
        "holz",
        "carrelet",
        "carrelets",
        "bois",
        "kit",
        "kits",
    }
)
"""Words that say what kind of thing a name is, which its row says too."""


def settle_names(found: Understanding) -> None:
    """Give every family, supplier and other part one spelling, asking where two may be one."""
    for what, noun in (("family", "kit"), ("supplier", "supplier"), ("name", "part")):
        _settle(found, what, noun)


def _settle(found: Understanding, what: str, noun: str) -> None:
    having: dict[str, list[Thing]] = {}
    for thing in [*found.things, *found.orders]:
        value = thing.value(what)
        if value:
            having.setdefault(_key(value), []).append(thing)
    spelled = {key: _commonest(things, what) for key, things in having.items()}
    renamed: dict[str, str] = {}
    for one, other in _pairs(sorted(having), what, having):
        first, second = (one, other) if len(having[one]) >= len(having[other]) else (other, one)
        if first in renamed or second in renamed:
            continue
        likely = "no" if _vaguely(first, second) == "no" else "yes"
        about = f"Is “{spelled[second]}” the same {noun} as “{spelled[first]}”?"
        cells = having[second][0].said[what].cells[:1] or (having[second][0].anchor,)
        said = found.asking.ask(f"same|{what}|{second}|{first}", about, likely, *cells, choices=("yes", "no"))
        if said.value == "yes":
            renamed[second] = first
        for thing in having[second]:
            grade: Grade = "read" if said.grade == "read" else "asked"
            thing.said[what] = replace(thing.said[what], grade=grade, why=about)
    for key, things in having.items():
        confirmed = len({thing.anchor for thing in things}) > 1
        for thing in things:
            said = replace(thing.said[what], value=spelled[renamed.get(key, key)])
            if confirmed and said.why == WORDS_LEFT:  # two rows that call it so
                said = replace(said, grade="read", why="")
            thing.said[what] = said


def _key(value: str) -> str:
    """The form in which spellings meet without a question: case, accents, signs."""
    return " ".join(
        token for token in tokens(plainly(value)) if token.isalnum() or any(sign.isdigit() for sign in token)
    )


def _commonest(things: list[Thing], what: str) -> str:
    counts = Counter(thing.value(what) for thing in things)
    most = max(counts.values())
    return next(thing.value(what) for thing in things if counts[thing.value(what)] == most)


def _pairs(keys: list[str], what: str, having: dict[str, list[Thing]]) -> Iterator[tuple[str, str]]:
    """Pairs that may be one, each once."""
    few = len(keys) <= MOST_NAMES
    for at, one in enumerate(keys):
        for other in keys[at + 1 :] if few else keys[at + 1 : at + 4]:
            if one[:1] != other[:1]:
                break
            if _near(one, other, what) and _one_kind(having[one][0], having[other][0]):
                yield one, other
    turned: dict[tuple[str, ...], list[str]] = {}
    for key in keys:
        turned.setdefault(_in_any_order(key), []).append(key)
    for first, *others in turned.values():
        for other in others:
            if not (few and first[:1] == other[:1] and _near(first, other, what)) and _one_kind(
                having[first][0], having[other][0]
            ):
                yield first, other


def _in_any_order(key: str) -> tuple[str, ...]:
    """The words of a name whichever comes first, without those of its kind: Slim twist (Dunlin), Dunlin slim twist."""
    said = [word.rstrip("s") for word in key.split() if word not in _PLAIN]
    return tuple(sorted(said)) or (key,)


def _one_kind(one: Thing, other: Thing) -> bool:
    kinds = {thing.value("kind") for thing in (one, other)} - {""}
    return len(kinds) < 2


def _near(one: str, other: str, what: str) -> bool:
    if re.findall("[0-9]+", one) != re.findall("[0-9]+", other):
        return False
    if what != "name" and _vaguely(one, other):
        return True
    first, second = one.split(), other.split()
    if len(first) == len(second) and len(first) > 1:
        unlike = [(a, b) for a, b in zip(first, second, strict=True) if a != b]
        return len(unlike) == 1 and _slip(*unlike[0])
    return _slip(one, other)


def _slip(one: str, other: str) -> bool:
    """Whether one word may be the other mistyped; two words that the lists know are two things."""
    if min(len(one), len(other)) < 4:
        return one.rstrip("s") == other.rstrip("s") and len(one) > 2
    if _known(one) and _known(other):
        return one.rstrip("sne") == other.rstrip("sne")
    if one.replace(" ", "") == other.replace(" ", "") or likeness(one, other) >= NEAR:
        return True
    return min(len(one), len(other)) >= 5 and _one_letter_off(one, other)


def _one_letter_off(one: str, other: str) -> bool:
    """Whether one letter more, less or other makes one word of the other."""
    if abs(len(one) - len(other)) > 1:
        return False
    start = next(
        (at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )
    rest, other_rest = one[start:], other[start:]
    return rest[1:] == other_rest[1:] or rest[1:] == other_rest or rest == other_rest[1:]


def _known(word: str) -> bool:
    return any(
        lexicon(name, column).whole(word)
        for name, column in (
            ("materials", "sort"),
            ("platings", "plating"),
            ("kinds", "kind"),
            ("makes", "makes"),
        )
    )


def _vaguely(one: str, other: str) -> str:
    """Whether one name is the other with only vague words more: "yes", "no" (but asked), or nothing."""
    first, second = set(one.split()), set(other.split())
    more = (first ^ second) if first <= second or second <= first else set()
    if not more or not first & second:
        return ""
    if more <= _VAGUE:
        return "yes"
    return ""
