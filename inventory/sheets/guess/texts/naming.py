"""A name taken apart: what it is, its plating, its family (the name less the plating's and the kind's words), sizes."""

from __future__ import annotations

import re
from functools import lru_cache

from inventory.sheets.guess.texts.amounts import NUMBER
from inventory.sheets.guess.texts.counted import ASIDE, count_in_name
from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.named import Named
from inventory.sheets.guess.texts.sizes import take_sizes
from inventory.sheets.guess.texts.words import Found, lexicon, plainly, tokens

_JOINTS = frozenset(
    {
        "-",
        ",",
        ";",
        ":",
        ".",
        "(",
        ")",
        "[",
        "]",
        "/",
        "|",
        "in",
        "mit",
        "en",
        "with",
        "avec",
        "of",
        "de",
        "du",
        "&",
        "+",
        "–",
        "for",
        "für",
        "pour",
        "the",
        "a",
    }
)


PENS = frozenset({"pen", "pens", "stylo", "stylos", "stift", "stifte", "kugelschreiber", "kuli", "kulis"})
"""What most kits make: the bare word tells no family from another."""


_HEADS = frozenset({"for", "fur", "pour", "zu", "(", ",", "with", "mit", "avec", "-"})


FRENCH_FIRST = frozenset(
    {
        "tube",
        "recharge",
        "recharges",
        "colle",
        "papier",
        "foret",
        "bague",
        "bagues",
        "kit",
        "kits",
        "boite",
        "etui",
        "mine",
        "mines",
        "ebauche",
        "ebauches",
        "carrelet",
        "carrelets",
        "meche",
        "bausatz",
    }
)


@lru_cache(maxsize=65536)
def taken_apart(text: str, *, counted: bool = False, kind: str = "") -> Named:
    """What a name says. counted: it may hold its count, "3 x Dunlin kit"; kind: what it is, where no word tells."""
    named, rest = Named(), " ".join(text.lstrip(" •*–—-").split()) or text
    if counted:
        aside = ASIDE.search(rest)
        if aside and not re.fullmatch(rf"(?:{NUMBER}).*", aside[1]):
            named.aside, rest = aside[1], rest[: aside.start()]
        named.amount, rest = count_in_name(rest)
    rest = re.sub(r"^(?:box|bag|tin|packet|drawer) of (?=\D)", "", rest, flags=re.IGNORECASE)
    rest = take_sizes(named, rest)
    rest = rest.strip(" ,;:-–—.")
    words = re.findall(r"\S+", re.sub(r"([(),;/])", r" \1 ", rest))
    folded = [plainly(word).strip(".:") or word for word in words]
    flat = [(token, at) for at, word in enumerate(folded) for token in tokens(word)]
    said = [token for token, _ in flat]
    places = [at for _, at in flat]
    kinds = lexicon_of_kinds().find(said, slips=False)
    makes = lexicon("makes", "makes").find(said)
    named.makes = makes[0].meaning if makes else ""
    sorts = lexicon("materials", "sort").find(said)
    named.sort = sorts[0].meaning if sorts else ""
    longer = (*sorts, *makes, *lexicon("platings", "plating").find(said))
    kinds = [one for one in kinds if not any(is_inside(one, other) for other in longer)]
    if kind.startswith("kit"):
        kinds = [one for one in kinds if not one.meaning.startswith("spare")]
    _kind(named, kinds, said, sorts, makes, kind)
    drop: set[int] = set()
    if named.kind in ("kit", ""):
        drop |= _plating(named, said, places, kinds)
        drop |= {
            places[at] for one in kinds if one.meaning.startswith("kit|") for at in range(one.start, one.end)
        }
        bare = [at for at, word in enumerate(folded) if word in PENS and at not in drop]
        if len(drop) + len(bare) < len([word for word in words if plainly(word) not in _JOINTS]):
            drop |= set(bare)
    kept = [word for at, word in enumerate(words) if at not in drop]
    named.family = _joined(kept)
    named.name = _joined(words) or rest
    if not named.family and named.kind == "kit":
        named.family = named.makes or ""
    return named


def is_inside(one: Found, other: Found) -> bool:
    """Whether a phrase is only a part of a longer one: the box of box elder, the bois of bois de cerf."""
    return other.start <= one.start and one.end <= other.end and other.end - other.start > one.end - one.start


def _kind(
    named: Named, kinds: list[Found], said: list[str], sorts: list[Found], makes: list[Found], expected: str
) -> None:
    head = next((at for at, word in enumerate(said) if at and word in _HEADS), len(said))
    before = [one for one in kinds if one.start < head] or kinds
    if before:
        first = before[0].start == 0 and said[0] in FRENCH_FIRST
        chosen = before[0] if first else before[-1]
        if chosen.meaning.startswith("supply") and any(one.meaning.startswith("blank") for one in before):
            chosen = next(one for one in before if one.meaning.startswith("blank"))
        named.kind, named.type = chosen.meaning.split("|")
        if named.kind == "tube" and len(before) > 1 and before[0].meaning.startswith("supply"):
            named.kind, named.type = before[0].meaning.split("|")
        return
    if sorts:
        named.kind = "blank"
        said_all = sum(one.end - one.start for one in sorts) == len(said)
        sure = expected == "blank" or said_all
        named.grades["kind"] = (
            "read" if sure else "guessed",
            "" if sure else "its material makes it a blank",
        )
    elif not expected and any(word.endswith("holz") and len(word) > 6 for word in said):
        named.kind = "blank"
        named.grades["kind"] = ("guessed", "its name ends in holz")
    elif expected:
        named.kind, _, named.type = expected.partition("|")
        named.by_context = True
    elif makes:
        named.kind = "kit"
        named.grades["kind"] = ("guessed", f"“{makes[0].meaning}” taken as its kit")
    if sorts and expected and not expected.startswith("blank"):
        named.kind, _, named.type = expected.partition("|")
        named.grades["kind"] = ("guessed", "by the rows around it")


def _plating(named: Named, said: list[str], places: list[int], kinds: list[Found]) -> set[int]:
    taken = {at for one in kinds for at in range(one.start, one.end)}
    found = [
        one for one in lexicon("platings", "plating").find(said) if not taken & set(range(one.start, one.end))
    ]
    if not found:
        return _short_plating(named, said, places, taken)
    one = found[-1]
    named.plating = one.meaning
    if len(found) > 1:
        named.grades["plating"] = ("guessed", "two platings in one name; the last one taken")
    drop = {places[at] for at in range(one.start, one.end)}
    for other in found[:-1]:
        drop |= {places[at] for at in range(other.start, other.end)}
    return drop


def _short_plating(named: Named, said: list[str], places: list[int], taken: set[int]) -> set[int]:
    """The plating's short form as the last word of a name or alone in brackets: "Dunlin chr", "avocet (bt)"."""
    last = max((at for at, word in enumerate(said) if word.isalpha() and at not in taken), default=-1)
    if last < 1 or any(word.isalnum() and at not in taken for at, word in enumerate(said) if at > last):
        return set()
    for start in (last - 1, last):
        if meaning := lexicon("short_platings", "plating").phrases.get(tuple(said[start : last + 1]), ""):
            text = " ".join(said[start : last + 1])
            named.plating = meaning
            named.grades["plating"] = ("guessed", f"“{text}” taken as short for {meaning}")
            return {places[at] for at in range(start, last + 1)}
    return set()


def _joined(words: list[str]) -> str:
    kept = list(words)
    while kept and plainly(kept[0]).strip(".") in _JOINTS:
        kept.pop(0)
    while kept and plainly(kept[-1]).strip(".") in _JOINTS and not (kept[-1] == ")" and "(" in kept):
        kept.pop()
    text = " ".join(kept)
    text = re.sub(r"\(\s*\)", " ", re.sub(r"\s+([),;])", r"\1", text.replace("( ", "(")))
    return " ".join(text.replace(" / ", "/").split()).strip(" ,;:-–—")
