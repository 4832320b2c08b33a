"""What a colour says: a plating, its short form, a slip of it, or a word of its own."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.words import lexicon, likeness, plainly, signs, tokens


@dataclass(frozen=True, slots=True)
class Plated:
    """What a colour says: the plating, how sure, why; other: the words that are none."""

    plating: str
    grade: Grade = "read"
    why: str = ""


@lru_cache(maxsize=4096)
def plating_of(text: str) -> Plated | None:
    """The plating a cell of its own speaks of; its own words where no list has them; None where it says nothing."""
    tidy = plainly(text).strip(" .,-–?*")
    if not tidy or signs("unknown").whole(text):
        return None
    doubtful: Grade = "asked" if "?" in text else "read"
    platings = lexicon("platings", "plating")
    if found := platings.whole(tidy):
        return Plated(found, doubtful, f"“{text}” is not sure" if doubtful == "asked" else "")
    if short := lexicon("short_platings", "plating").whole(tidy):
        return Plated(short, "asked", f"“{text}” is short for what?")
    said = tokens(tidy)
    inside = platings.find(said)
    if len(inside) == 1 and all(
        token in ("finish", "plated", "plating", "(", ")", "color", "colour", "farbe", "-")
        for at, token in enumerate(said)
        if not inside[0].start <= at < inside[0].end
    ):
        return Plated(inside[0].meaning, doubtful)
    slips = platings.find(said, slips=True)
    if len(slips) == 1 and slips[0].end - slips[0].start == len(said):
        return Plated(slips[0].meaning, "guessed", f"“{text}” read as {slips[0].meaning}")
    if mended := _mended(tidy):
        return Plated(mended, "guessed", f"“{text}” read as {mended}")
    if len(inside) > 1:
        return Plated(inside[0].meaning, "asked", f"“{text}” names more than one")
    return Plated(tidy[:60].strip(), "guessed", f"“{text}” is no plating known here; taken as one of its own")


def _mended(tidy: str) -> str:
    """The phrase of the list that is meant where single letters are wrong: "gun metl", "satin chrom"."""
    phrases = {" ".join(key): meaning for key, meaning in lexicon("platings", "plating").phrases.items()}
    near = max(phrases, key=lambda phrase: likeness(tidy, phrase), default="")
    return phrases[near] if len(tidy) >= 5 and likeness(tidy, near) >= 0.86 else ""
