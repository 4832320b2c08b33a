"""Sizes inside a name: packs, contents, dimensions, drills."""

from __future__ import annotations

import re

from inventory.errors import BadMeasure
from inventory.measures import read_drill, read_length
from inventory.sheets.guess.texts.amounts import NUMBER
from inventory.sheets.guess.texts.named import Named
from inventory.sheets.guess.texts.words import plainly

_DRILL = re.compile(
    r"(?<![0-9x×/,.])(?:([0-9]{1,2}(?:[.,][0-9]{1,2})?) ?mm\b"
    r"|([0-9]{1,2}/(?:8|16|32|64|128))(?: ?(?:\"|''|in\b|inch\b|zoll\b|pouce\b))?"
    r"|(?<!\w)#([0-9]{1,2})\b|\bletter ([a-z])\b|\b(?:buchstabe|lettre) ([a-z])\b)",
    re.IGNORECASE,
)


_DIMENSIONS = re.compile(
    rf"({NUMBER}) ?(?:mm|\"|in|cm)? ?[x×] ?({NUMBER})(?: ?[x×] ?({NUMBER}))? ?(mm|cm|\"|in\b|inch\b|zoll\b)?",
    re.IGNORECASE,
)


_NET = re.compile(r"(?<![0-9.,])([0-9]+(?:[.,][0-9]+)?) ?(ml|cl|l|kg|g|fl\.? ?oz|oz)\b\.?", re.IGNORECASE)


_PACK = re.compile(
    r"\(?\b(?:(?:pack|packs|bag|box|packet|pk|lot|paquet|sachet|boîte) (?:of|de|à) ([0-9]+)"
    r"|([0-9]+) ?er[ -]?(?:pack|packung|pkg|beutel)"
    r"|packung (?:à|mit|zu) ([0-9]+)|([0-9]+) ?(?:per|/|pro|par) ?(?:pack|pk|packung|paquet)|([0-9]+) ?-?pack)\b\)?",
    re.IGNORECASE,
)


def take_sizes(named: Named, text: str) -> str:
    """Take packs, contents, dimensions and drills out; the dimensions and the drill stay in the name."""
    if found := _PACK.search(text):
        named.pack = int(next(one for one in found.groups() if one))
        text = text[: found.start()] + " " + text[found.end() :]
    if found := _NET.search(text):
        amount = found[1].replace(",", ".")
        named.net = f"{amount} {plainly(found[2]).replace('.', '')}" if 0 < float(amount) < 100_000 else ""
        text = text[: found.start()] + " " + text[found.end() :]
    if found := _DIMENSIONS.search(text):
        _dimensions(named, found)
        drilled = _DRILL.match(text, found.start())
        inch = drilled is not None and drilled[2] and not found[3]
        if drilled and (
            inch or re.fullmatch(r"[0-9]+(?:[.,]5)?", drilled[1] or "")
        ):  # a tube of 7 mm × 53 is named by it
            named.drill = known_drill(drill_of(drilled))
    elif found := _DRILL.search(text):
        named.drill = known_drill(drill_of(found))
    return " ".join(text.split())


def _dimensions(named: Named, found: re.Match[str]) -> None:
    """Width and length of a tube or blank, where both are lengths."""
    unit = (found[4] or "").replace('"', "in").replace("inch", "in").replace("zoll", "in").casefold()
    unit = unit or ("in" if "/" in found[0] else "mm")
    width, length = (
        f"{found[1].replace(',', '.')} {unit}",
        f"{(found[3] or found[2]).replace(',', '.')} {unit}",
    )
    if _fits(width, 90) and _fits(length, 900):
        named.width, named.length = width, length


def _fits(text: str, most: int) -> bool:
    try:
        return 0 < read_length(text).mm <= most
    except BadMeasure:
        return False


def known_drill(drill: str) -> str:
    """The designation where there is such a drill, else nothing."""
    try:
        return drill if drill and 1 <= read_drill(drill).mm <= 60 else ""
    except BadMeasure:
        return ""


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
    return known_drill(_drill_in(text))


def _drill_in(text: str) -> str:
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
