"""A name taken apart: what it is, its plating, its family (the name less the plating's and the kind's words), sizes."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import cache, lru_cache
from unicodedata import normalize

from inventory.sheets.guess.amounts import NUMBER, Amount, amount_in, unit_of
from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.words import Found, Lexicon, lexicon, likeness, plainly, signs, table, tokens

_DRILL = re.compile(
    r"(?<![0-9x×/,.])(?:([0-9]{1,2}(?:[.,][0-9]{1,2})?) ?mm\b|([0-9]{1,2}/(?:8|16|32|64|128))(?: ?(?:\"|''|in\b|inch\b|zoll\b|pouce\b))?"
    r"|(?<!\w)#([0-9]{1,2})\b|\bletter ([a-z])\b|\b(?:buchstabe|lettre) ([a-z])\b)",
    re.IGNORECASE,
)
_DIMENSIONS = re.compile(
    rf"({NUMBER}) ?(?:mm|\"|in|cm)? ?[x×] ?({NUMBER})(?: ?[x×] ?({NUMBER}))? ?(mm|cm|\"|in\b|inch\b|zoll\b)?",
    re.IGNORECASE,
)
_NET = re.compile(r"(?<![0-9.,])([0-9]+(?:[.,][0-9]+)?) ?(ml|cl|l|kg|g|fl\.? ?oz|oz)\b\.?", re.IGNORECASE)
_PACK = re.compile(
    r"\(?\b(?:(?:pack|packs|bag|box|packet|pk|lot|paquet|sachet|boîte) (?:of|de|à) ([0-9]+)|([0-9]+) ?er[ -]?(?:pack|packung|pkg|beutel)"
    r"|packung (?:à|mit|zu) ([0-9]+)|([0-9]+) ?(?:per|/|pro|par) ?(?:pack|pk|packung|paquet)|([0-9]+) ?-?pack)\b\)?",
    re.IGNORECASE,
)
_FRACTIONS = re.compile("[\u00bc-\u00be\u2150-\u215e]")
_LEADING = re.compile(rf"^({NUMBER}) ?(?:[x×*]\s*)(?=\D)")
_PIECES = r"(?:x|×|stk\.?|stück|st\.|pcs\.?|pc\.?|pieces?|pièces?|off|ea\.?|no\.)"
_LEADING_UNIT = re.compile(rf"^({NUMBER}) ?{_PIECES}[ :]+(?=\w)", re.IGNORECASE)
_TRAILING = re.compile(
    rf"(?:\s*\(({NUMBER})(?: ?{_PIECES})?\)|\s*[:=]\s*({NUMBER})(?: ?{_PIECES})?|\s+[-–—]\s*({NUMBER})(?: ?{_PIECES})?"
    rf"|[,;]?\s*[x×]\s?([0-9]+)|[,:;]?\s+({NUMBER}) ?{_PIECES})\s*$",
    re.IGNORECASE,
)
_LAST = re.compile(r"^(.*[^\W\d_]{2,}),?\s+([0-9]{1,3})$")
"""A bare number at the end, after a word: most likely a count."""
_WITHIN = re.compile(
    r"^(.*[^\W\d_]{2,}) ([0-9]{1,3}|½|1/2) ((?:(?:new|full|open|neue?|volle?|neufs?) )?[^\W\d_]+)$",
    re.IGNORECASE,
)
"""A number before the last word: walnut 11 blanks, CA medium 1 new bottle."""
_UNSURE = re.compile(r",? (?:maybe|perhaps|about|ca\.?|etwa|vielleicht|peut-être|environ)$", re.IGNORECASE)
_ASIDE = re.compile(r"\s*\(([^()]*[^\W\d_]{3}[^()]*)\)\s*$")
_LEVELS_LAST = re.compile(
    r"^(.*?),? ((?:nearly|almost|half|fast|halb|presque) ?(?:empty|full|leer|voll|vide|plein)|none(?: left)?|all gone|keine?|leer|empty|vide)$",
    re.IGNORECASE,
)
_GRADED = frozenset(
    {
        "grit",
        "kornung",
        "grain",
        "nr",
        "no",
        "type",
        "typ",
        "size",
        "letter",
        "drill",
        "bohrer",
        "foret",
        "bit",
    }
)
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


@dataclass(slots=True)
class Named:
    """A name's parts. family: what is left of it; name: of anything but a kit; kind empty: no word tells."""

    kind: str = ""
    type: str = ""
    family: str = ""
    name: str = ""
    plating: str = ""
    makes: str = ""
    sort: str = ""
    drill: str = ""
    net: str = ""
    width: str = ""
    length: str = ""
    pack: int = 0
    aside: str = ""
    amount: Amount | None = None
    grades: dict[str, tuple[Grade, str]] = field(default_factory=dict)


@lru_cache(maxsize=65536)
def taken_apart(text: str, *, counted: bool = False, kind: str = "") -> Named:
    """What a name says. counted: it may hold its count, "3 x Dunlin kit"; kind: what it most likely is, where no word tells."""
    named, rest = Named(), " ".join(text.split())
    if counted:
        aside = _ASIDE.search(rest)
        if aside and not re.fullmatch(rf"(?:{NUMBER}).*", aside[1]):
            named.aside, rest = aside[1], rest[: aside.start()]
        named.amount, rest = _count(rest)
    rest = _sizes(named, rest)
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
    kinds = [one for one in kinds if not any(_inside(one, other) for other in (*sorts, *makes))]
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


def _inside(one: Found, other: Found) -> bool:
    """Whether a phrase is only a part of a longer one: the box of box elder, the bois of bois de cerf."""
    return other.start <= one.start and one.end <= other.end and other.end - other.start > one.end - one.start


@cache
def lexicon_of_kinds() -> Lexicon:
    """The words for kinds, each standing for "kind|type"."""
    pairs = ((f"{row['kind']}|{row['type']}", row["words"].split("|")) for row in table("kinds"))
    return Lexicon((phrase, meaning) for meaning, phrases in pairs for phrase in phrases)


def _count(text: str) -> tuple[Amount | None, str]:
    """The count at a name's begin or end, and the name without it."""
    text = _FRACTIONS.sub(
        lambda sign: " " + normalize("NFKC", sign[0]).replace("\u2044", "/") + " ", text
    ).strip()
    for pattern in (_LEADING, _LEADING_UNIT):
        found = pattern.match(text)
        if found:
            return amount_in(found[1]), text[found.end() :]
    found = _TRAILING.search(text)
    if found and found.start() > 2:
        number = next(one for one in found.groups() if one)
        return amount_in(number), text[: found.start()]
    last = _LAST.match(text)
    if last and not re.search("[0-9]", last[1]) and plainly(last[1].split()[-1]) not in _GRADED:
        amount = amount_in(last[2])
        unsure = _UNSURE.search(last[1])
        grade: Grade = "asked" if unsure else "guessed"
        return amount and replace(amount, grade=grade, why=f"“{last[2]}” taken as the count"), _UNSURE.sub(
            "", last[1]
        )
    return _count_within(text) or _worded(text)


def _count_within(text: str) -> tuple[Amount | None, str] | None:
    """A count before the last word, or how full it is at the end."""
    if level := _LEVELS_LAST.match(text):
        amount = amount_in(level[2].removesuffix(" left"))
        return (amount, level[1]) if amount and level[1] else None
    found = _WITHIN.match(text)
    if not found or re.search("[0-9]", found[1]) or plainly(found[1].split()[-1]) in _GRADED:
        return None
    word = found[3].split()[-1]
    unit = unit_of(plainly(word))[0]
    kinds = lexicon_of_kinds().whole(word)
    if not unit and not kinds:
        return None
    amount = amount_in(f"{found[2]} {unit}" if not kinds else found[2])
    name = f"{found[1]} {word}" if kinds else found[1]
    return amount and replace(amount, grade="guessed", why=f"“{found[2]}” taken as the count"), name


def _worded(text: str) -> tuple[Amount | None, str]:
    """A count in words or with a unit of its own before the name: "two bottles CA thin", "4 Dunlin kits"."""
    head = re.match(rf"(ca\.? |about |etwa |env\.? |~ ?)?({NUMBER})(?= [^\W\d_]{{3}})", text, re.IGNORECASE)
    if head:
        rest = text[head.end() :].strip()
        if re.match(r"(?:mm|inch|zoll|karat|carat|minute)\b", rest, re.IGNORECASE):
            return None, text
        unit, left = unit_of(plainly(rest))
        if unit and left:
            amount = amount_in(f"{head[0]} {unit}")
            return amount, re.sub(r"^(?:of|de|d'|von) ?", "", " ".join(rest.split()[1:]))
        return amount_in(head[0]), rest
    words = text.split()
    for length in (3, 2, 1):
        amount = amount_in(" ".join(words[:length])) if len(words) > length and words[0].isalpha() else None
        if amount and amount.value is not None and not amount.rest:
            return amount, re.sub(r"^(?:of|de|d'|von|more|left|mehr|plus de) ?", "", " ".join(words[length:]))
    return None, text


def _sizes(named: Named, text: str) -> str:
    """Take packs, contents, dimensions and drills out; the dimensions and the drill stay in the name."""
    if found := _PACK.search(text):
        named.pack = int(next(one for one in found.groups() if one))
        text = text[: found.start()] + " " + text[found.end() :]
    if found := _NET.search(text):
        named.net = f"{found[1].replace(',', '.')} {plainly(found[2]).replace('.', '')}"
        text = text[: found.start()] + " " + text[found.end() :]
    if found := _DIMENSIONS.search(text):
        unit = (found[4] or "").replace('"', "in").replace("inch", "in").casefold() or (
            "" if "/" in found[0] else "mm"
        )
        unit = "in" if not unit or unit == "zoll" else unit
        named.width = f"{found[1].replace(',', '.')} {unit}"
        named.length = f"{(found[3] or found[2]).replace(',', '.')} {unit}"
    elif found := _DRILL.search(text):
        named.drill = drill_of(found)
    return " ".join(text.split())


def drill_of(found: re.Match[str]) -> str:
    """The designation of a drill: 7 mm, 27/64, #7, letter O."""
    metric, inch, number, *letter = found.groups()
    if metric:
        return f"{metric.replace(',', '.')} mm"
    if inch:
        return str(inch)
    return f"#{number}" if number else f"letter {next(one for one in letter if one).upper()}"


def drill_in(text: str) -> str:
    """The drill a cell of its own speaks of: "7", "7mm", "27/64"", "O"; nothing where it speaks of none."""
    tidy = " ".join(text.replace("″", '"').replace("”", '"').split())
    if found := _DRILL.fullmatch(tidy.strip(" .")):
        return drill_of(found)
    if found := re.fullmatch(r"([0-9]{1,2}(?:[.,][0-9]{1,2})?)(?: ?Ø)?", tidy.strip("Øø ")):
        return f"{found[1].replace(',', '.')} mm"
    if re.fullmatch(r"[A-Z]", tidy):
        return f"letter {tidy}"
    found_inside = _DRILL.search(tidy)
    return drill_of(found_inside) if found_inside else ""


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
        named.grades["kind"] = ("guessed" if expected != "blank" else "read", "its material makes it a blank")
    elif expected:
        named.kind, _, named.type = expected.partition("|")
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
        return set()
    one = found[-1]
    named.plating = one.meaning
    if len(found) > 1:
        named.grades["plating"] = ("guessed", "two platings in one name; the last one taken")
    drop = {places[at] for at in range(one.start, one.end)}
    for other in found[:-1]:
        drop |= {places[at] for at in range(other.start, other.end)}
    return drop


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
    return Plated(tidy, "guessed", f"“{text}” is no plating known here; taken as one of its own")


def _mended(tidy: str) -> str:
    """The phrase of the list that is meant where single letters are wrong: "gun metl", "satin chrom"."""
    phrases = {" ".join(key): meaning for key, meaning in lexicon("platings", "plating").phrases.items()}
    near = max(phrases, key=lambda phrase: likeness(tidy, phrase), default="")
    return phrases[near] if len(tidy) >= 5 and likeness(tidy, near) >= 0.86 else ""


def _joined(words: list[str]) -> str:
    kept = list(words)
    while kept and plainly(kept[0]).strip(".") in _JOINTS:
        kept.pop(0)
    while kept and plainly(kept[-1]).strip(".") in _JOINTS and not (kept[-1] == ")" and "(" in kept):
        kept.pop()
    text = " ".join(kept)
    text = re.sub(r"\(\s*\)", " ", re.sub(r"\s+([),;])", r"\1", text.replace("( ", "(")))
    return " ".join(text.replace(" / ", "/").split()).strip(" ,;:-–—")
