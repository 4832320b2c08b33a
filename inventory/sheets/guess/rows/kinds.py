"""What a row of stock is: its kind, its plating, its names."""

from __future__ import annotations

import re

from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Grade, Thing, worst
from inventory.sheets.guess.rows.row import KINDS, NOTHING, ReadRow
from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.named import Named
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.platings import plating_of
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens


def expected_kind(row: ReadRow) -> str:
    kind = row.cell("kind")
    if kind:
        found = lexicon_of_kinds().whole(kind.text) or (
            "kit|" if lexicon("makes", "makes").whole(kind.text) else ""
        )
        if found:
            return found
        if lexicon("materials", "sort").whole(kind.text):
            return "blank|"
        row.unread.append((kind, "kept as a note"))
    return row.context.value("kind")


def put_kind(row: ReadRow, thing: Thing, named: Named, whats: tuple[Cell, ...], plated: Cell | None) -> None:
    grade, why = named.grades.get("kind", ("read", ""))
    kind, type_ = named.kind, named.type
    above = row.context.said.get("kind")
    if named.by_context and above and above.grade != "read":
        grade, why = above.grade, above.why
        if kind == "kit" and plated and lexicon("platings", "plating").whole(plated.text):
            grade, why = "read", ""  # the heading says kits, and its colour is one of kits
    if doubt := _another_kind(row, named, plated):
        said = row.asking.ask(
            f"kind|{plainly(named.name)}", f"What is “{named.name}”?", doubt, *whats[:1], choices=KINDS
        )
        kind, grade, why = said.value, said.grade, said.why
        type_ = type_ if kind == named.kind else ""
        if kind == "kit" and not named.family:
            named.family = named.name
    if not kind and (named.plating or (plated and lexicon("platings", "plating").whole(plated.text))):
        kind, grade, why = "kit", "guessed", "its plating makes it a kit"
    elif not kind and plated and not plating_is_odd(plated.text):
        kind, grade, why = "kit", "guessed", "its colour makes it a kit"
    if not kind:
        key = f"kind|{plainly(named.name)}"
        likely = NOTHING if _TALK & set(tokens(plainly(named.name))) else _likely_kind(row)
        said = row.asking.ask(key, f"What is “{named.name}”?", likely, *whats[:1], choices=KINDS)
        kind, grade, why = said.value, said.grade, said.why
    thing.put("kind", kind, grade, why, *whats, *row.by_role.get("kind", ())[:1])
    thing.put(
        "type",
        type_ or {"refill": "refill", "packaging": "packaging", "spare": "spare fitting"}.get(kind, ""),
        grade,
        why,
        *whats,
    )
    if kind in ("supply", "tool") and not type_:
        thing.put("type", "sundry", "guessed", "no word tells its type", *whats)


def _another_kind(row: ReadRow, named: Named, plated: Cell | None) -> str:
    """The kind a row rather is than that of a word in its name, or nothing.

    A plume with a plating and a name of its own may be a fountain pen's kit; a plane among the woods is a tree.
    """
    if named.kind not in ("spare", "tool") or _known_words(named.name) >= len(_words_of(named.name)):
        return ""
    if named.kind == "spare" and plated and lexicon("platings", "plating").whole(plated.text):
        return "kit"
    above = row.context.value("kind").partition("|")[0]
    return above if above in ("kit", "blank") and above != named.kind else ""


def _words_of(name: str) -> list[str]:
    return [token for token in tokens(plainly(name)) if token.isalpha()]


def _known_words(name: str) -> int:
    said = _words_of(name)
    found = [*lexicon_of_kinds().find(said), *lexicon("platings", "plating").find(said)]
    return len({at for one in found for at in range(one.start, one.end)})


def plating_is_odd(text: str) -> bool:
    """Whether a colour is none that metal has, as far as the lists know."""
    found = plating_of(text)
    return found is None or "no plating known" in found.why


def _likely_kind(row: ReadRow) -> str:
    drilled, plated = row.cell("drill"), row.cell("plating")
    return "kit" if drilled or plated else row.near if row.near in ("blank", "packaging") else "supply"


def put_plating(
    row: ReadRow, thing: Thing, named: Named, whats: tuple[Cell, ...], plated: Cell | None
) -> None:
    if thing.value("kind") != "kit":
        return
    grade, why = named.grades.get("plating", ("read", ""))
    if named.plating:
        thing.put("plating", named.plating, grade, why, *whats)
    if plated is not None and (found := plating_of(plated.text)) is not None:
        value, grade, why = found.plating, found.grade, found.why
        if named.plating and named.plating != value and grade != "asked":
            value, grade, why = _between(named.plating, value)
        if grade == "asked":
            about = f"Which plating is “{plated.text}”?"
            said = row.asking.ask(
                f"plating|{plainly(plated.text)}", about, value, plated, choices=_platings()
            )
            value, grade, why = said.value, said.grade, said.why
        thing.put("plating", value, grade, why, plated)
    if not thing.value("plating"):
        inherited = row.context.said.get("plating")
        if inherited:
            thing.said["plating"] = inherited


def _between(one: str, other: str) -> tuple[str, Grade, str]:
    """Two platings said of one kit, in its name and in its colour: one may be the other said more closely."""
    if set(one.split()) <= set(other.split()):
        return other, "read", ""
    if set(other.split()) <= set(one.split()):
        return one, "read", ""
    return other, "guessed", f"its name says {one}"


def _platings() -> tuple[str, ...]:
    return tuple(dict.fromkeys(lexicon("platings", "plating").phrases.values()))


def put_names(thing: Thing, named: Named, whats: tuple[Cell, ...], row: ReadRow) -> None:
    grade: Grade = "read" if thing.said["kind"].grade == "read" else "guessed"
    why = ""
    thing.put("makes", named.makes or row.context.value("makes"), "read", "", *whats)
    if thing.value("kind") == "kit":
        family = named.family or row.context.value("family")
        if not family and named.plating and lexicon("platings", "plating").whole(named.name):
            said = row.asking.ask(
                f"called|{whats[0].tab}|{whats[0].column}",
                f"Which kits are these, “{named.name}” …?",
                named.name,
                *whats[:1],
            )
            thing.put("family", _short(said.value, 80), said.grade, said.why, *whats)
            return
        if _wordy(family):
            key = f"called|{plainly(family)}"
            said = row.asking.ask(
                key, f"What do you call this kit, “{whats[0].text if whats else family}”?", family, *whats[:1]
            )
            thing.put("family", _short(said.value, 80), said.grade, said.why, *whats)
            return
        odd = (
            len(whats) > 1
            or _ODD.search(family)
            or re.search(r"[0-9()/]", family)
            or _unaccounted(family, named.makes)
        )
        why = "all of the text taken as its name" if odd else thing.said["kind"].why
        named_with_plating = bool(named.plating) and len(_words_of(family)) > 1 + (named.makes != "")
        if named_with_plating and grade == "read" and not odd:
            why, odd = WORDS_LEFT, True
        called = _short(family or named.name or thing.anchor.text or thing.anchor.ref, 80)
        thing.put("family", called, "guessed" if odd else grade, why, *whats)
        return
    name = named.name
    plated = row.cell("plating")
    option = taken_apart(plated.text) if plated else None
    if option and option.pack and plated:
        thing.put("pack", str(option.pack), "read", "", plated)
        thing.add("note", plated.text, plated)
        plated = None
    coloured = plated is not None and not signs("unknown").whole(plated.text) and len(plated.text) > 1
    if plated is not None and coloured and plainly(plated.text) not in plainly(name):
        name, whats = f"{name} {plated.text}", (*whats, plated)
    odd = _ODD.search(name) or (thing.value("kind") == "blank" and _many_words(_material(name)))
    grade, why = ("guessed", "all of the text taken as its name") if odd else ("read", "")
    name = _short(name or thing.anchor.text or thing.anchor.ref, 100)
    thing.put("name", name, grade, why, *whats)
    if thing.value("kind") == "blank":
        thing.put(
            "material", _short(_material(name), 80), worst((grade, thing.said["kind"].grade)), why, *whats
        )
        thing.put("sort", named.sort, "read", "", *whats)


def _short(name: str, most: int) -> str:
    """A name no longer than our tabs take; the whole text stays in the tab of one's own cells."""
    return " ".join(name.split())[:most].strip()


WORDS_LEFT = "the words left beside its plating taken as its name"
_ODD = re.compile(r"[@€$£;|=]|\s[-–—]\s")
"""Signs that no name has: more stands in the text than a name."""


def _unaccounted(family: str, makes: str) -> bool:
    """Whether a kit's name has more words than one name and what it makes: some may be a colour, a place, a remark."""
    said = [token for token in tokens(plainly(family)) if token.isalpha()]
    known = {at for one in lexicon("makes", "makes").find(said) for at in range(one.start, one.end)}
    return len(said) - len(known) > 1 + (not makes)


def _many_words(material: str) -> bool:
    """Whether a material's name may hold more than it: three words no list has, a stroke or a bracket."""
    said = [token for token in tokens(plainly(material)) if token.isalpha()]
    known = {at for one in lexicon("materials", "sort").find(said) for at in range(one.start, one.end)}
    return bool(re.search(r"[/()]", material)) or len(said) - len(known) > 2


def _wordy(family: str) -> bool:
    """Whether a kit's name is rather a description: too long, or with words that no name has."""
    said = tokens(plainly(family))
    return len([word for word in said if word.isalpha()]) > 5 or bool(_TALK & set(said))


_TALK = frozenset(
    {
        "i",
        "think",
        "ones",
        "the",
        "maybe",
        "which",
        "that",
        "those",
        "these",
        "die",
        "fur",
        "welche",
        "pour",
        "ceux",
        "celles",
    }
)


def _material(name: str) -> str:
    """What a blank is of: its name without the words for blanks and its sizes."""
    name = re.sub(
        r"^(?:bits?|pieces?|some|stücke|reste|morceaux|chutes) (?:of|de|von|d')? ?",
        "",
        name,
        flags=re.IGNORECASE,
    )
    sizes = r"[0-9][0-9.,/x× ]*(?:mm|cm|in|inch|zoll|\")|[0-9][0-9.,/]* ?[x×][0-9.,/x× ]*|(?<!\S)[0-9.,/]+$"
    words = re.sub(sizes, " ", name).split()
    drop = {
        "blank",
        "blanks",
        "rohling",
        "rohlinge",
        "kantel",
        "kanteln",
        "ebauche",
        "ebauches",
        "carrelet",
        "carrelets",
        "pen",
        "holz",
        "stylo",
        "plaquette",
        "plaquettes",
        "block",
        "square",
        "offcut",
        "offcuts",
    }
    parts = [(word, [plainly(part) for part in word.split("-")]) for word in words]
    words = [
        part
        for word, plain in parts
        for part in (word.split("-") if len(plain) > 1 and drop & set(plain) else [word])
    ]
    kept = [
        word
        for word in words
        if plainly(word).strip(".,()-") not in drop and (re.search(r"[^\W\d_]", word) or word.isdecimal())
    ]
    while len(kept) > 1 and plainly(kept[0]) in ("de", "en", "of", "von"):
        kept.pop(0)
    while len(kept) > 1 and plainly(kept[-1]) in ("de", "en", "of", "von"):
        kept.pop()
    said = " ".join(kept).strip(" ,;-")
    if said.startswith("(") and said.find(")") in (-1, len(said) - 1):
        said = said.strip("()")
    return said or name
