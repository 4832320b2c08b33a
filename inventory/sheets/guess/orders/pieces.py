"""What an order is of: the kit, the blank, the plating, the count, as far as words tell."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Grade, GuessedOrder, Thing, Understanding, worst
from inventory.sheets.guess.texts.amounts import Amount, amount_in
from inventory.sheets.guess.texts.naming import PENS
from inventory.sheets.guess.texts.words import Found, lexicon, likeness, plainly, signs, tokens

_FILLERS = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "in",
        "with",
        "and",
        "for",
        "to",
        "from",
        "would",
        "like",
        "wants",
        "want",
        "please",
        "needs",
        "one's",
        "ein",
        "eine",
        "einen",
        "mit",
        "und",
        "fur",
        "von",
        "aus",
        "in",
        "mochte",
        "will",
        "der",
        "die",
        "das",
        "dem",
        "den",
        "un",
        "une",
        "le",
        "la",
        "les",
        "en",
        "avec",
        "et",
        "pour",
        "de",
        "du",
        "des",
        "veut",
        "au",
        "aux",
        "blank",
        "kit",
        "plating",
        "plated",
        "rohling",
        "holz",
        "bois",
        "wood",
        "finish",
        "customer",
        "order",
        "set",
        "pcs",
        "x",
        "stk",
        "by",
        "before",
        "bis",
        "vor",
        "avant",
        "until",
        "due",
        "is",
        "needed",
    ]
)


@dataclass(slots=True)
class Words:
    """The words of one line that are still to be understood, as written, each with its form in the lists."""

    words: list[str]
    taken: set[int] = field(default_factory=set)

    def folded(self) -> list[str]:
        """Each word as the lists have it; taken ones are nothing."""
        return [
            "" if at in self.taken else plainly(word).strip(".,;:()!") for at, word in enumerate(self.words)
        ]

    def left(self) -> str:
        """What nobody took, without filling words."""
        kept = [word for at, word in enumerate(self.words) if at not in self.taken]
        while kept and plainly(kept[0]).strip(".,:") in _FILLERS:
            kept.pop(0)
        while kept and plainly(kept[-1]).strip(".,:") in _FILLERS:
            kept.pop()
        return " ".join(kept).replace(" - ", "-").strip(" ,;:-–—.")


def split_words(text: str) -> list[str]:
    return re.findall(r"[^\s-]+|-", text)


def take_pieces(order: GuessedOrder, words: Words, cells: list[Cell], found: Understanding) -> bool:
    """What is wanted, as far as one part of a line tells; whether it tells anything."""
    before = len(words.taken)
    for state in ("unpaid", "paid", "done"):
        _take(words, signs(state).find(words.folded()))
    _family(order, words, cells, found)
    makes = _take(words, lexicon("makes", "makes").find(words.folded()))
    if makes:
        order.put("makes", makes, "read", "", *cells)
    _blank(order, words, cells, found)
    plating = _take(words, lexicon("platings", "plating").find(words.folded()))
    if plating:
        order.put("plating", plating, "read", "", *cells)
    elif short := lexicon("short_platings", "plating").whole(" ".join(words.words)):
        words.taken |= set(range(len(words.words)))
        plating = short
        order.put("plating", short, "guessed", f"“{' '.join(words.words)}” read as {short}", *cells)
    elif words.folded()[-1:] == ["or"]:  # French gold; between two words it is the English one
        words.taken.add(len(words.words) - 1)
        plating = "gold"
        order.put("plating", plating, "guessed", "“or” taken as gold", *cells)
    if makes or "family" in order.said or plating:
        _count(order, words, cells)
    return len(words.taken) > before


def _take(words: Words, found: list[Found]) -> str:
    if not found:
        return ""
    words.taken |= set(range(found[0].start, found[0].end))
    return found[0].meaning


def _count(order: GuessedOrder, words: Words, cells: list[Cell]) -> None:
    if "count" in order.said:
        return
    folded = words.folded()
    articles = any(other[:1].isdigit() for other in folded)
    for at in range(len(folded)):
        for length in (3, 2, 1):
            said = " ".join(folded[at : at + length]).rstrip("x×")
            if not said.strip() or said in ("-", "x", "y") or (said in _ARTICLES and articles):
                continue
            amount = amount_in(said)
            if amount and _pieces_of(amount) and not amount.unit and not amount.rest:
                words.taken |= set(range(at, min(at + length, len(folded))))
                order.put("count", str(amount.value), amount.grade, amount.why, *cells)
                return


def _pieces_of(amount: Amount) -> bool:
    return (
        amount.value is not None
        and amount.value.denominator == 1
        and amount.value > 0
        and amount.grade != "asked"
    )


_ARTICLES = frozenset({"a", "an", "un", "une", "ein", "eine", "einen"})


def _family(order: GuessedOrder, words: Words, cells: list[Cell], found: Understanding) -> None:
    """The kit a line speaks of: the one whose name shares most words with it, if there is only one such."""
    if "family" in order.said:
        return
    folded = words.folded()
    makes = [one.meaning for one in lexicon("makes", "makes").find(folded)]
    shared = {
        family: hits(folded, family) for family in families_of(found) if _may_make(found, family, makes)
    }
    most = max(map(len, shared.values()), default=0)
    best = [family for family, places in shared.items() if len(places) == most > 0]
    if len(best) == 1:
        words.taken |= set(shared[best[0]])
        whole = len([part for part in tokens(plainly(best[0])) if part.isalnum()]) <= most
        order.put(
            "family",
            best[0],
            worst(("read" if whole else "guessed", as_sure(found, "family", best[0]))),
            "the name of its kit is not sure" if whole else "the only kit called so",
            *cells,
        )
    elif not best:
        _mistyped(order, words, cells, found)


def hits(folded: list[str], family: str) -> list[int]:
    """Where a line names words of a family; the bare pen is none."""
    parts = {part.removesuffix("s") for part in tokens(plainly(family)) if part.isalpha()}
    own = parts - PENS or parts
    return [at for at, word in enumerate(folded) if word and word.removesuffix("s") in own]


def _may_make(found: Understanding, family: str, makes: list[str]) -> bool:
    if not makes:
        return True
    made = {makes_of(thing) for thing in found.things if thing.value("family") == family and makes_of(thing)}
    return makes[0] in made


def _mistyped(order: GuessedOrder, words: Words, cells: list[Cell], found: Understanding) -> None:
    own = {
        part: family for family in families_of(found) for part in tokens(plainly(family)) if len(part) >= 5
    }
    for at, word in enumerate(words.folded()):
        near = max(own, key=lambda part: likeness(word, part), default="")
        if len(word) < 5 or likeness(word, near) < 0.84 or lexicon("materials", "sort").whole(word):
            continue
        words.taken.add(at)
        order.put("family", own[near], "guessed", f"“{words.words[at]}” read as {near}", *cells)
        return


def families_of(found: Understanding) -> list[str]:
    return list(
        dict.fromkeys(thing.value("family") for thing in found.things if thing.value("kind") == "kit")
    )


def _blank(order: GuessedOrder, words: Words, cells: list[Cell], found: Understanding) -> None:
    if "wood" in order.said:
        return
    folded = words.folded()
    for name in sorted(blanks_of(found), key=len, reverse=True):
        parts = [part for part in tokens(plainly(_bare(name))) if part.isalpha()]
        for at in range(len(folded) - len(parts) + 1):
            if parts and folded[at : at + len(parts)] == parts:
                words.taken |= set(range(at, at + len(parts)))
                grade = as_sure(found, "material", name)
                order.put("wood", name, grade, "what it is called is not sure" * (grade != "read"), *cells)
                return
    sorts = lexicon("materials", "sort").find(folded)
    if sorts:
        word = " ".join(words.words[sorts[0].start : sorts[0].end]).strip(".,;:()")
        words.taken |= set(range(sorts[0].start, sorts[0].end))
        _nearest_blank(order, word, cells, found)


def _nearest_blank(order: GuessedOrder, word: str, cells: list[Cell], found: Understanding) -> None:
    """The blank on the shelf that a material's word means: the only one that has it in its name, else one of them."""
    said = plainly(word)
    having = [
        name for name in blanks_of(found) if any(part.startswith(said) for part in tokens(plainly(name)))
    ]
    if len(having) == 1:
        order.put("wood", having[0], "guessed", f"the only blank of {word}", *cells)
    elif having:
        about = f"Which blank is “{word}”?"
        asked = found.asking.ask(
            f"blank|{order.anchor.ref}", about, having[0], *cells[:1], choices=tuple(having)
        )
        order.put("wood", asked.value, asked.grade, asked.why, *cells)
    else:
        order.put("wood", word, "read", "", *cells)


def blanks_of(found: Understanding) -> list[str]:
    return list(
        dict.fromkeys(thing.value("material") for thing in found.things if thing.value("kind") == "blank")
    )


def _bare(name: str) -> str:
    return re.sub(r"[0-9].*", "", name).strip() or name


def as_sure(found: Understanding, what: str, value: str) -> Grade:
    """How sure a name of the stock is: an order that takes it is no surer."""
    grades = {thing.said[what].grade for thing in found.things if thing.value(what) == value}
    return "read" if "read" in grades or not grades else "guessed"


def makes_of(thing: Thing) -> str:
    return (thing.value("makes") or "pen") if thing.value("kind") == "kit" else ""
