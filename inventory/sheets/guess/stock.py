"""One row of stock made into a thing: its name taken apart, how many, what was paid, where from, where it lies."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction

from inventory.measures.numbers import show_number
from inventory.sheets.guess.amounts import Amount, amount_in, counted_unit, read_amount, unit_of
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.days import day_of
from inventory.sheets.guess.guesses import Asking, Grade, Said, Thing, worst
from inventory.sheets.guess.headings import Role
from inventory.sheets.guess.naming import Named, drill_in, lexicon_of_kinds, plating_of, taken_apart
from inventory.sheets.guess.prices import Price, read_price
from inventory.sheets.guess.words import lexicon, plainly, signs, tokens

KINDS = ("kit", "tube", "blank", "supply", "refill", "packaging", "tool", "spare")
WHOLE = frozenset({"kit", "tube", "blank", "refill", "packaging", "spare"})
DRILLED = frozenset({"kit", "tube", "tool"})
POURED = frozenset({"adhesive", "finish", "solvent"})
A_COUNT = "a number, such as 4, 1 1/2 or 0"


@dataclass(slots=True)
class Context:
    """What rows above say of those below: a kind, a plating, a drawer, a supplier."""

    said: dict[str, Said] = field(default_factory=dict)

    def value(self, what: str) -> str:
        """What is said, or nothing."""
        found = self.said.get(what)
        return found.value if found else ""


@dataclass(slots=True)
class Row:
    """One row of stock. by_role: its cells; spread: the columns filled from a merged cell above."""

    anchor: Cell
    by_role: Mapping[str, list[Cell]]
    roles: Mapping[int, Role]
    context: Context
    asking: Asking
    today: date
    spread: frozenset[int] = frozenset()
    unread: list[tuple[Cell, str]] = field(default_factory=list)

    def cell(self, what: str) -> Cell | None:
        """The first cell of a role."""
        return next(iter(self.by_role.get(what, ())), None)


def thing_of(row: Row, *, name: str = "", name_cells: tuple[Cell, ...] = ()) -> Thing:
    """The thing a row of stock speaks of. name: where it stands elsewhere than in the row."""
    whats = name_cells or tuple(row.by_role.get("what", ()))
    text = name or " ".join(cell.text for cell in whats)
    counted = not (row.by_role.get("quantity") or row.by_role.get("packs"))
    named = taken_apart(text, counted=counted, kind=_expected(row))
    thing = Thing(row.anchor)
    plated = row.cell("plating")
    _kind(row, thing, named, whats, plated)
    _plating(row, thing, named, whats, plated)
    _names(thing, named, whats, row)
    _sizes(row, thing, named, whats)
    _quantity(row, thing, named, whats)
    _paid(row, thing)
    _texts(row, thing)
    return thing


def _expected(row: Row) -> str:
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


def _kind(row: Row, thing: Thing, named: Named, whats: tuple[Cell, ...], plated: Cell | None) -> None:
    grade, why = named.grades.get("kind", ("read", ""))
    kind, type_ = named.kind, named.type
    if not kind and (named.plating or (plated and lexicon("platings", "plating").whole(plated.text))):
        kind, grade, why = "kit", "guessed", "its plating makes it a kit"
    elif not kind and plated and not plating_is_odd(plated.text):
        kind, grade, why = "kit", "guessed", "its colour makes it a kit"
    if not kind:
        key = f"kind|{plainly(named.name)}"
        said = row.asking.ask(key, f"What is “{named.name}”?", _likely_kind(row), *whats[:1], choices=KINDS)
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


def plating_is_odd(text: str) -> bool:
    """Whether a colour is none that metal has, as far as the lists know."""
    found = plating_of(text)
    return found is None or "no plating known" in found.why


def _likely_kind(row: Row) -> str:
    drilled, plated = row.cell("drill"), row.cell("plating")
    return "kit" if drilled or plated else "supply"


def _plating(row: Row, thing: Thing, named: Named, whats: tuple[Cell, ...], plated: Cell | None) -> None:
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


def _names(thing: Thing, named: Named, whats: tuple[Cell, ...], row: Row) -> None:
    grade: Grade = "read" if thing.said["kind"].grade == "read" else "guessed"
    thing.put("makes", named.makes or row.context.value("makes"), "read", "", *whats)
    if thing.value("kind") == "kit":
        family = named.family or row.context.value("family")
        if _wordy(family):
            key = f"called|{plainly(family)}"
            said = row.asking.ask(
                key, f"What do you call this kit, “{whats[0].text if whats else family}”?", family, *whats[:1]
            )
            thing.put("family", said.value, said.grade, said.why, *whats)
            return
        thing.put("family", family or named.name, grade, thing.said["kind"].why, *whats)
        return
    name = named.name
    plated = row.cell("plating")
    if plated is not None and not signs("unknown").whole(plated.text) and len(plated.text) > 1:
        if plainly(plated.text) not in plainly(name):
            name, whats = f"{name} {plated.text}", (*whats, plated)
    thing.put("name", name, "read", "", *whats)
    if thing.value("kind") == "blank":
        thing.put("material", _material(name), "read", "", *whats)
        thing.put("sort", named.sort, "read", "", *whats)


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
    words = re.sub(r"[0-9][0-9.,/x× ]*(?:mm|cm|in|inch|zoll|\")?", " ", name).split()
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
    kept = [
        word for word in words if plainly(word).strip(".,()-") not in drop and re.search(r"[^\W\d_]", word)
    ]
    while len(kept) > 1 and plainly(kept[0]) in ("de", "en", "of", "von"):
        kept.pop(0)
    while len(kept) > 1 and plainly(kept[-1]) in ("de", "en", "of", "von"):
        kept.pop()
    return " ".join(kept).strip(" ,;()-") or name


def _sizes(row: Row, thing: Thing, named: Named, whats: tuple[Cell, ...]) -> None:
    for what in ("drill", "net", "width", "length"):
        if what != "drill" or thing.value("kind") in DRILLED:
            thing.put(what, getattr(named, what), "read", "", *whats)
    if named.pack:
        thing.put("pack", str(named.pack), "read", "", *whats)
    for cell in row.by_role.get("drill", ()):
        drill = drill_in(cell.text)
        if drill:
            sure = re.fullmatch(
                r"[\d.,/ ]+(?:mm|\"|″|in|inch|Zoll)?|[A-Z#]\d*|(?:letter )?[A-Z]",
                cell.text.strip(),
                re.IGNORECASE,
            )
            thing.put(
                "drill", drill, "read" if sure else "guessed", "" if sure else f"out of “{cell.text}”", cell
            )
        if not drill or not sure:
            _keep(row, thing, cell, f"drill: {cell.text}", understood=bool(drill))
    for cell in row.by_role.get("size", ()):
        inner = taken_apart(cell.text)
        if inner.net or inner.width or inner.drill:
            for what in ("net", "width", "length"):
                thing.put(what, getattr(inner, what), "read", "", cell)
            if inner.drill and thing.value("kind") in ("tube", "kit", "tool"):
                thing.put("drill", inner.drill, "guessed", "a size taken as its drill", cell)
        else:
            _keep(row, thing, cell, f"size {cell.text}", understood=True)
    for cell in row.by_role.get("pack", ()):
        amount = read_amount(cell)
        if amount and amount.value and amount.value.denominator == 1:
            thing.put("pack", str(amount.value), "read", "", cell)
        else:
            _keep(row, thing, cell, f"pack {cell.text}", understood=False)


def _quantity(row: Row, thing: Thing, named: Named, whats: tuple[Cell, ...]) -> None:
    cells = row.by_role.get("quantity") or row.by_role.get("packs", [])
    cell = cells[0] if cells else None
    amount = read_amount(cell) if cell else named.amount
    source = (cell,) if cell else whats
    for more in cells[1:]:
        _keep(row, thing, more, more.text, understood=True)
    if cell is not None and cell.column in row.spread:
        amount = Amount(None, "", "asked", "one count for several rows")
    if amount is None and cell is not None:
        amount = Amount(None, "", "asked", f"“{cell.text}” is no number")
    thing.add("note", named.aside, *whats) if named.aside else None
    if amount is None:
        return _uncounted(row, thing, whats)
    unit = amount.unit or ("pack" if cell is not None and row.roles[cell.column].what == "packs" else "")
    if unit_cell := row.cell("unit"):
        unit = unit or unit_of(plainly(unit_cell.text))[0]
    _put_quantity(row, thing, amount, unit, source)
    if amount.rest:
        thing.add("note", _words_of(cell.text if cell else amount.rest, amount.rest), *source)
    return None


def _words_of(text: str, rest: str) -> str:
    at = plainly(text).find(rest)
    return text.strip() if at < 0 else rest.strip("() ;,")


def _put_quantity(row: Row, thing: Thing, amount: Amount, unit: str, source: tuple[Cell, ...]) -> None:
    value, grade, why = amount.value, amount.grade, amount.why
    kind, name = thing.value("kind"), thing.value("name") or thing.value("family")
    fraction = value is not None and value.denominator != 1
    if fraction and kind in WHOLE and unit not in ("pack", "box"):
        grade, why = "asked", f"{name} come whole"
    if unit in ("pack", "box", "pair") and value is not None and kind in WHOLE | {"tool"}:
        value, grade, why, unit = _packs(row, thing, amount, unit, source, grade, why)
        thing.put("quantity", show_number(value), grade, why, *source)
        return
    elif kind in WHOLE and not counted_unit(unit) and unit not in ("tube", "sheet", "strip"):
        grade, why = worst((grade, "guessed")), why or f"counted in {unit}"
    if grade == "asked":
        guess = (
            ""
            if value is None
            else show_number(Fraction(int(value)) if fraction and kind in WHOLE else value)
        )
        said = row.asking.ask(
            f"count|{source[0].ref}", f"How many {name} {thing.value('plating')}".strip() + f"? {why.capitalize()}.",
            guess, *source, accepts=A_COUNT,
        )  # fmt: skip
        answered = amount_in(said.value)
        value, grade, why = answered.value if answered else None, said.grade, said.why
        unit = answered.unit or unit if answered else unit
    if value is None:
        return
    if not unit and kind == "supply" and thing.value("type") in POURED:
        unit, grade, why = "bottle", worst((grade, "guessed")), why or "counted in bottles"
    thing.put("quantity", show_number(value), grade, why, *source)
    thing.put("unit", "" if kind in WHOLE or counted_unit(unit) else unit, grade, why, *source)


def _packs(
    row: Row, thing: Thing, amount: Amount, unit: str, source: tuple[Cell, ...], grade: Grade, why: str
) -> tuple[Fraction, Grade, str, str]:
    """Packs of things that are counted one by one: how many are in one, as the name says or as it is asked."""
    each = 2 if unit == "pair" else int(thing.value("pack") or amount.pack or 0)
    value = amount.value or Fraction(0)
    if each:
        return value * each, worst((grade, "guessed")), f"{show_number(value)} × {each}", ""
    name = thing.value("name") or thing.value("family")
    said = row.asking.ask(
        f"pack|{plainly(name)}", f"How many are in one {unit} of {name}?", "10", *source, accepts="a number"
    )
    each = int(said.value) if said.value.isdecimal() else 10
    thing.put("pack", str(each), said.grade, said.why, *source)
    return value * each, worst((grade, said.grade)), said.why, ""


def _uncounted(row: Row, thing: Thing, whats: tuple[Cell, ...]) -> None:
    """No count is said: what all such rows get is asked once."""
    about = "Some rows have no count. Leave their count open, or are there none?"
    said = row.asking.ask("no count", about, "leave open", row.anchor, choices=("leave open", "none"))
    if said.value == "none":
        thing.put("quantity", "0", said.grade, said.why, *whats)


def _paid(row: Row, thing: Thing) -> None:
    for cell in row.by_role.get("paid", ()):
        role = row.roles[cell.column]
        price = read_price(cell)
        if cell.column in row.spread and price is not None:
            if (price.per or role.per) in ("each", "pack"):
                price = replace(
                    price,
                    grade=worst((price.grade, "guessed")),
                    why=price.why or "one price for several rows",
                )
            else:
                price = Price(price.value, price.coin, "several", "asked", "one sum for several rows")
        if price is None:
            row.unread.append((cell, "no sum of money"))
            thing.add("note", f"paid: {cell.text}", cell)
        elif price.value is not None or price.grade == "asked":
            _put_price(row, thing, cell, price, role)
        elif price.why:
            thing.add("note", "price not known", cell)


def _put_price(row: Row, thing: Thing, cell: Cell, price: Price, role: Role) -> None:
    per = price.per or role.per
    prefix = "paid" if not thing.value("paid") else "also paid"
    if prefix == "also paid":  # each and in all stand side by side: the finer one counts
        if per != "each" and thing.value("per") in ("each", "pack"):
            thing.put("in all", price.text, price.grade, price.why, cell)
            return
        prefix = "paid"
    value, grade, why = price.text, price.grade, price.why
    if grade == "asked":
        name = thing.value("name") or f"{thing.value('family')} {thing.value('plating')}".strip()
        guess = "" if per == "several" else value
        said = row.asking.ask(
            f"paid|{cell.ref}", f"What was paid for {name}? {why.capitalize()}.", guess, cell, accepts="a sum"
        )
        value, grade, why = said.value, said.grade, said.why
        per = "" if per == "several" else per
    if price.rest:
        thing.add("note", price.rest, cell)
    thing.put("paid", value, grade, why, cell)
    thing.put("coin", price.coin or role.coin, "read", "", cell)
    if per:
        thing.put("per", per, "read" if price.per or role.grade == "read" else role.grade, "", cell)
    else:
        thing.said.pop("per", None)


def _texts(row: Row, thing: Thing) -> None:
    for cell in row.by_role.get("supplier", ()):
        if not signs("unknown").whole(cell.text) and re.search(r"[^\W\d_]", cell.text):
            thing.put("supplier", cell.text.strip(" .,;"), "read", "", cell)
    if "supplier" not in thing.said and "supplier" in row.context.said:
        thing.said["supplier"] = row.context.said["supplier"]
    for cell in row.by_role.get("where", ()):
        thing.put("where", cell.text, "read", "", cell)
    if "where" not in thing.said and "where" in row.context.said:
        thing.said["where"] = row.context.said["where"]
    for what in ("note", "state", "customer", "due", "wood", "asked"):
        for cell in row.by_role.get(what, ()):
            thing.add("note", cell.text, cell)
    for cell in row.by_role.get("code", ()):
        thing.put("code", cell.text, "read", "", cell)
    for cell in row.by_role.get("received", ()):
        day = day_of(cell.raw, cell.text, row.today)
        if day and day.day and day.grade == "read" and day.day <= row.today:
            thing.put("received", day.day.isoformat(), day.grade, day.why, cell)
        else:
            thing.add("note", f"date {cell.text}", cell)
    for cell in row.by_role.get("level", ()):
        amount = read_amount(cell)
        if amount and amount.value is not None and amount.grade == "read":
            thing.put("level", show_number(amount.value), "read", "", cell)
        else:
            thing.add("note", f"minimum {cell.text}", cell)


def _keep(row: Row, thing: Thing, cell: Cell, note: str, *, understood: bool) -> None:
    thing.add("note", note, cell)
    if not understood:
        row.unread.append((cell, "kept as a note"))


def only_words(text: str) -> bool:
    """Whether a text holds no number at all."""
    return not any(token[0].isdigit() for token in tokens(plainly(text)))
