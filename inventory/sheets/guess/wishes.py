"""Orders: rows with headings, or free text such as "neighbour – 2 slim pens walnut gold by Christmas – paid"."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date

from inventory.sheets.guess.amounts import NUMBER, Amount, amount_in, read_amount
from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.days import day_in, day_of
from inventory.sheets.guess.guesses import Kept, Thing, Understanding, Wish
from inventory.sheets.guess.headings import Block, total_row
from inventory.sheets.guess.naming import PENS, plating_of
from inventory.sheets.guess.prices import price_in, read_price
from inventory.sheets.guess.words import lexicon, likeness, plainly, signs, tokens

_PARTS = re.compile(r"\s+[-–—]+\s+|\s*[;|]\s*|\n|:\s+|,\s+")
_MONEY = re.compile(
    rf"(?:(?:at|à|a|zu|@|für|for|pour)\s+)?(?:[€£$]\s?(?:{NUMBER})|(?:{NUMBER})\s?(?:€|£|\$|eur\b|euros?\b|gbp\b|usd\b))(?:\s?(?:each|ea|je|pro stück|pièce|apiece|das stück))?",
    re.IGNORECASE,
)
_YES_OR_NO = {
    **dict.fromkeys(("yes", "y", "x", "ja", "oui", "ok", "✓", "✔"), "paid"),
    **dict.fromkeys(("no", "n", "nein", "non", "-", "open"), "unpaid"),
}
_BULLET = re.compile(r"^\s*(?:[-–—•*]|\(?[0-9]{1,2}[.)])\s+")
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

SPEAKS = frozenset(
    "i we ask call ring phone remind anrufen appeler remember need must should check order buy next do ich noch muss bitte wir nachbestellen acheter penser il "
    "je commander verifier demander".split()
)
"""Words a note begins with that speaks to oneself."""


def looks_like_wishes(grid: Grid, block: Block) -> bool:
    """Whether a block speaks of orders: its tab or headings say so, or most of its lines do."""
    if block.orders is not None:
        return block.orders
    roles = {role.what for role in block.roles.values()}
    if "due" in roles or ("customer" in roles and "what" in roles and "paid" not in roles):
        return True
    if _named_orders(grid.tab):
        return True
    if block.head and {"quantity", "paid", "plating"} & roles:
        return False
    lines = [number for number in block.rows if len(grid.rows[number]) <= 2]
    if len(lines) * 2 < len(block.rows) or not lines:
        return False
    return sum(
        is_wish(" ".join(cell.text for cell in grid.rows[number].values())) for number in lines
    ) * 2 > len(lines)


def _named_orders(name: str) -> bool:
    said = tokens(plainly(name))
    return bool(signs("orders").find(said)) and "supplier" not in said


def is_wish(text: str) -> bool:
    """A line of free text that asks for pieces: a piece's word, and a day, a state or several parts."""
    said = tokens(plainly(text))
    makes = bool(lexicon("makes", "makes").find(said))
    dated = day_in(text, date(2000, 1, 1)) is not None
    stated = bool(signs("paid").find(said) or signs("unpaid").find(said))
    return (makes and (dated or stated)) or (dated and stated)


@dataclass(slots=True)
class _Words:
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


def _split(text: str) -> list[str]:
    return re.findall(r"[^\s-]+|-", text)


def wishes_of_lines(grid: Grid, block: Block, found: Understanding, today: date) -> None:
    """Every line of free text: a wish, a title, or a note."""
    for number in block.rows:
        cells = list(grid.rows[number].values())
        text = " – ".join(cell.text for cell in cells)
        if total_row(cells):
            found.kept += [Kept(cell, "total") for cell in cells]
        elif _named_orders(text) and len(tokens(text)) <= 4:
            found.kept += [Kept(cell, "title") for cell in cells]
        elif not _about_pieces(text, found):
            words = len(text.split())
            found.kept += [Kept(cell, "note" if words > 2 else "not understood") for cell in cells]
        else:
            found.wishes.append(wish_of_line(cells, text, found, today))


def _about_pieces(text: str, found: Understanding) -> bool:
    said = tokens(plainly(text))
    if said and said[0] in SPEAKS and not re.search("[0-9]", text):
        return False
    return bool(lexicon("makes", "makes").find(said)) or any(
        _hits(list(said), one) for one in _families(found)
    )


def wish_of_line(cells: list[Cell], text: str, found: Understanding, today: date) -> Wish:
    """One order out of one line."""
    wish = Wish(cells[0])
    text = _BULLET.sub("", text)
    text = _due(wish, text, cells, today)
    if money := _MONEY.search(text):
        price = price_in(re.sub(r"^(?:at|à|a|zu|@|für|for|pour)\s+", "", money[0]))
        if price and price.value is not None:
            wish.put(
                "asked",
                price.text,
                "guessed" if price.per != "each" else "read",
                "a price in the line",
                *cells,
            )
            wish.put("coin", price.coin, "read", "", *cells)
            text = text[: money.start()] + " – " + text[money.end() :]
    _state(wish, text, cells)
    parts = [part for part in _PARTS.split(text) if part and part.strip(" -–—.,")]
    left: list[str] = []
    touched: list[bool] = []
    for part in parts:
        words = _Words(_split(part))
        touched.append(_pieces(wish, words, cells, found))
        left.append(words.left() if touched[-1] else part.strip(" -–—.,"))
    _customer(wish, left, touched, cells)
    finish_wish(wish, cells, found)
    return wish


def _due(wish: Wish, text: str, cells: list[Cell], today: date) -> str:
    found = day_in(text, today)
    if found is None:
        return text
    plain = plainly(text)
    before = plain[: found.start].rstrip()
    by = re.search(
        r"(?:^|\s)(?:(?:needed|wanted|ready|fertig|due) )?(?:by|before|until|till|due|for|bis|vor|zum|zu|avant|pour|d'ici|le|on|am)(?: (?:the|zum|le|au|end of))?$",
        before,
    )
    start = by.start() if by else found.start
    wish.put("due text", plain[start : found.end].strip(), "read", "", *cells)
    if found.day:
        wish.put("due", found.day.isoformat(), found.grade, found.why, *cells)
    if len(plain) != len(text):  # accents that fall into two signs: places differ, so the plain text goes on
        text = plain
    return text[:start] + " – " + text[found.end :]


def _state(wish: Wish, text: str, cells: list[Cell]) -> None:
    said = tokens(plainly(text))
    for state in ("unpaid", "paid", "done"):
        if signs(state).find(said):
            wish.put("state", state, "read", "", *cells)
            return


def _pieces(wish: Wish, words: _Words, cells: list[Cell], found: Understanding) -> bool:
    """What is wanted, as far as one part of a line tells; whether it tells anything."""
    before = len(words.taken)
    for state in ("unpaid", "paid", "done"):
        _take(words, signs(state).find(words.folded()))
    _family(wish, words, cells, found)
    makes = _take(words, lexicon("makes", "makes").find(words.folded()))
    if makes:
        wish.put("makes", makes, "read", "", *cells)
    _blank(wish, words, cells, found)
    plating = _take(words, lexicon("platings", "plating").find(words.folded()))
    if plating:
        wish.put("plating", plating, "read", "", *cells)
    elif short := lexicon("short_platings", "plating").whole(" ".join(words.words)):
        words.taken |= set(range(len(words.words)))
        plating = short
        wish.put("plating", short, "guessed", f"“{' '.join(words.words)}” read as {short}", *cells)
    elif words.folded()[-1:] == ["or"]:  # French gold; between two words it is the English one
        words.taken.add(len(words.words) - 1)
        plating = "gold"
        wish.put("plating", plating, "guessed", "“or” taken as gold", *cells)
    if makes or "family" in wish.said or plating:
        _count(wish, words, cells)
    return len(words.taken) > before


def _take(words: _Words, found: list) -> str:  # type: ignore[type-arg]
    if not found:
        return ""
    words.taken |= set(range(found[0].start, found[0].end))
    return str(found[0].meaning)


def _count(wish: Wish, words: _Words, cells: list[Cell]) -> None:
    if "count" in wish.said:
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
                wish.put("count", str(amount.value), amount.grade, amount.why, *cells)
                return


def _pieces_of(amount: Amount) -> bool:
    return (
        amount.value is not None
        and amount.value.denominator == 1
        and amount.value > 0
        and amount.grade != "asked"
    )


_ARTICLES = frozenset({"a", "an", "un", "une", "ein", "eine", "einen"})


def _family(wish: Wish, words: _Words, cells: list[Cell], found: Understanding) -> None:
    """The kit a line speaks of: the one whose name shares most words with it, if there is only one such."""
    if "family" in wish.said:
        return
    folded = words.folded()
    makes = [one.meaning for one in lexicon("makes", "makes").find(folded)]
    shared = {family: _hits(folded, family) for family in _families(found) if _may_make(found, family, makes)}
    most = max(map(len, shared.values()), default=0)
    best = [family for family, places in shared.items() if len(places) == most > 0]
    if len(best) == 1:
        words.taken |= set(shared[best[0]])
        whole = len([part for part in tokens(plainly(best[0])) if part.isalnum()]) <= most
        wish.put(
            "family",
            best[0],
            "read" if whole else "guessed",
            "" if whole else "the only kit called so",
            *cells,
        )
    elif not best:
        _mistyped(wish, words, cells, found)


def _hits(folded: list[str], family: str) -> list[int]:
    """Where a line names words of a family; the bare pen is none."""
    parts = {part.removesuffix("s") for part in tokens(plainly(family)) if part.isalpha()}
    own = parts - PENS or parts
    return [at for at, word in enumerate(folded) if word and word.removesuffix("s") in own]


def _may_make(found: Understanding, family: str, makes: list[str]) -> bool:
    if not makes:
        return True
    made = {_makes(thing) for thing in found.things if thing.value("family") == family and _makes(thing)}
    return makes[0] in made


def _mistyped(wish: Wish, words: _Words, cells: list[Cell], found: Understanding) -> None:
    own = {part: family for family in _families(found) for part in tokens(plainly(family)) if len(part) >= 5}
    for at, word in enumerate(words.folded()):
        near = max(own, key=lambda part: likeness(word, part), default="")
        if len(word) < 5 or likeness(word, near) < 0.84 or lexicon("materials", "sort").whole(word):
            continue
        words.taken.add(at)
        wish.put("family", own[near], "guessed", f"“{words.words[at]}” read as {near}", *cells)
        return


def _families(found: Understanding) -> list[str]:
    return list(
        dict.fromkeys(thing.value("family") for thing in found.things if thing.value("kind") == "kit")
    )


def _blank(wish: Wish, words: _Words, cells: list[Cell], found: Understanding) -> None:
    if "wood" in wish.said:
        return
    folded = words.folded()
    for name in sorted(_blanks(found), key=len, reverse=True):
        parts = [part for part in tokens(plainly(_bare(name))) if part.isalpha()]
        for at in range(len(folded) - len(parts) + 1):
            if parts and folded[at : at + len(parts)] == parts:
                words.taken |= set(range(at, at + len(parts)))
                wish.put("wood", name, "read", "", *cells)
                return
    sorts = lexicon("materials", "sort").find(folded)
    if sorts:
        word = " ".join(words.words[sorts[0].start : sorts[0].end]).strip(".,;:()")
        words.taken |= set(range(sorts[0].start, sorts[0].end))
        _nearest_blank(wish, word, cells, found)


def _nearest_blank(wish: Wish, word: str, cells: list[Cell], found: Understanding) -> None:
    """The blank on the shelf that a material's word means: the only one that has it in its name, else one of them."""
    said = plainly(word)
    having = [name for name in _blanks(found) if any(part.startswith(said) for part in tokens(plainly(name)))]
    if len(having) == 1:
        wish.put("wood", having[0], "guessed", f"the only blank of {word}", *cells)
    elif having:
        about = f"Which blank is “{word}”?"
        asked = found.asking.ask(
            f"blank|{wish.anchor.ref}", about, having[0], *cells[:1], choices=tuple(having)
        )
        wish.put("wood", asked.value, asked.grade, asked.why, *cells)
    else:
        wish.put("wood", word, "read", "", *cells)


def _blanks(found: Understanding) -> list[str]:
    return list(
        dict.fromkeys(thing.value("material") for thing in found.things if thing.value("kind") == "blank")
    )


def _bare(name: str) -> str:
    return re.sub(r"[0-9].*", "", name).strip() or name


def _customer(wish: Wish, left: list[str], touched: list[bool], cells: list[Cell]) -> None:
    """Whoever is named in a part of which nothing else was made, else what is left of the first part; the rest are notes."""
    left = [re.sub(r"^(?:for|für|fuer|pour)\s+", "", part, flags=re.IGNORECASE) for part in left]
    alone = [part for part, done in zip(left, touched, strict=True) if part and not done]
    others = [part for part, done in zip(left, touched, strict=True) if part and done]
    named = alone or others
    if named:
        wish.put(
            "customer",
            named[0],
            "read" if alone else "guessed",
            "" if alone else "what is left of the line",
            *cells,
        )
    for part in [*alone[1:], *(others if alone else others[1:])]:
        wish.add("note", part, *cells)


def wish_of_row(grid: Grid, block: Block, number: int, found: Understanding, today: date) -> None:
    """One order out of a row with headings."""
    row = grid.rows[number]
    cells = list(row.values())
    if total_row(cells):
        found.kept += [Kept(cell, "total") for cell in cells]
        return
    by_role: dict[str, list[Cell]] = {}
    for at, role in block.roles.items():
        cell = grid.cell(number, at)
        if cell:
            by_role.setdefault(role.what, []).append(cell)
    whats = by_role.get("what", [])
    if not whats:
        found.kept += [
            Kept(cell, "note" if len(cell.text.split()) > 2 else "not understood") for cell in cells
        ]
        return
    wish = Wish(whats[0])
    for cell in by_role.get("due", []):
        _due_cell(wish, cell, found, today)
    for cell in (*whats, *by_role.get("wood", [])):
        words = _Words(_split(cell.text))
        _pieces(wish, words, [cell], found)
        if (rest := words.left()) and cell in whats:
            wish.add("note", rest, cell)
        elif rest and "wood" not in wish.said:
            wish.put("wood", cell.text, "read", "", cell)
    _row_fields(wish, by_role)
    for at, cell in row.items():
        if at not in block.roles:
            wish.add("note", cell.text, cell)
    finish_wish(wish, cells, found)
    found.wishes.append(wish)


def _due_cell(wish: Wish, cell: Cell, found: Understanding, today: date) -> None:
    day = day_of(cell.raw, cell.text, today)
    wish.put("due text", cell.text, "read", "", cell)
    if day and day.day:
        wish.put("due", day.day.isoformat(), day.grade, day.why, cell)
    elif day is None:
        found.kept.append(Kept(cell, "not understood", "no day"))


def _row_fields(wish: Wish, by_role: dict[str, list[Cell]]) -> None:
    for cell in by_role.get("quantity", []):
        amount = read_amount(cell)
        if amount and amount.value is not None and amount.value.denominator == 1:
            wish.put("count", str(amount.value), amount.grade, amount.why, cell)
    for cell in by_role.get("plating", []):
        if plated := plating_of(cell.text):
            wish.put(
                "plating",
                plated.plating,
                "guessed" if plated.grade == "asked" else plated.grade,
                plated.why,
                cell,
            )
    for cell in by_role.get("customer", []):
        wish.put("customer", cell.text, "read", "", cell)
    for what in ("asked", "paid"):
        for cell in by_role.get(what, []):
            price = read_price(cell)
            if price and price.value is not None:
                wish.put("asked", price.text, "read" if what == "asked" else "guessed", "", cell)
                wish.put("coin", price.coin, "read", "", cell)
            else:
                _paid_or_not(wish, cell)
    for cell in by_role.get("state", []):
        _paid_or_not(wish, cell)
        wish.add("note", cell.text, cell)
    for what in (
        "note",
        "where",
        "supplier",
        "drill",
        "code",
        "kind",
        "size",
        "received",
        "level",
        "pack",
        "unit",
    ):
        for cell in by_role.get(what, []):
            wish.add("note", cell.text, cell)


def _paid_or_not(wish: Wish, cell: Cell) -> None:
    """Whether an order is paid: in words, or a yes or no under such a heading."""
    _state(wish, cell.text, [cell])
    answer = _YES_OR_NO.get(plainly(cell.text).strip(" ."), "")
    if answer and "state" not in wish.said:
        wish.put("state", answer, "guessed", f"“{cell.text}” taken as {answer}", cell)


def finish_wish(wish: Wish, cells: list[Cell], found: Understanding) -> None:
    """Ask what a wish needs and does not say: which kit, which blank, how many, by when."""
    who = wish.value("customer") or cells[0].text[:40]
    ref = wish.anchor.ref
    if "family" not in wish.said:
        _ask_family(wish, who, ref, cells, found)
    if "wood" not in wish.said:
        blanks = tuple(_blanks(found))
        said = found.asking.ask(
            f"blank|{ref}", f"Which blank for {who}?", blanks[0] if blanks else "", *cells[:1], choices=blanks
        )
        wish.put("wood", said.value, said.grade, said.why, *cells)
    if "count" not in wish.said:
        said = found.asking.ask(
            f"wanted|{ref}", f"How many for {who}?", "1", *cells[:1], accepts="a whole number"
        )
        wish.put("count", said.value, said.grade, said.why, *cells)
    due = wish.said.get("due")
    if due is None or due.grade == "asked":
        text = wish.value("due text")
        about = f"By when for {who}?" + (f" It says “{text}”." if text else "")
        said = found.asking.ask(
            f"due|{ref}", about, due.value if due else "", *cells[:1], accepts="a day, such as 2026-12-19"
        )
        wish.put("due", said.value, said.grade, said.why, *cells)
    if "plating" not in wish.said:
        _ask_plating(wish, who, ref, cells, found)
    else:
        _near_plating(wish, cells, found)


def _ask_family(wish: Wish, who: str, ref: str, cells: list[Cell], found: Understanding) -> None:
    makes = wish.value("makes")
    families = _families(found)
    of_makes = {thing.value("family") for thing in found.things if makes and _makes(thing) == makes}
    fitting = [family for family in families if family in of_makes] or families
    if makes and makes != "pen" and len(of_makes) == 1:
        wish.put("family", fitting[0], "guessed", f"the only kit that makes a {makes}", *cells)
        return
    said = found.asking.ask(
        f"family|{ref}",
        f"Which kit for {who}?",
        fitting[0] if fitting else "",
        *cells[:1],
        choices=tuple(fitting),
    )
    wish.put("family", said.value, said.grade, said.why, *cells)


def _makes(thing: Thing) -> str:
    return (thing.value("makes") or "pen") if thing.value("kind") == "kit" else ""


def _platings_of(wish: Wish, found: Understanding) -> tuple[str, ...]:
    family = plainly(wish.value("family"))
    kits = [
        thing
        for thing in found.things
        if thing.value("kind") == "kit" and plainly(thing.value("family")) == family
    ]
    return tuple(dict.fromkeys(thing.value("plating") for thing in kits if thing.value("plating")))


def _near_plating(wish: Wish, cells: list[Cell], found: Understanding) -> None:
    """Gold, where the only gold one of that kit is called 24k gold."""
    wanted, have = wish.value("plating"), _platings_of(wish, found)
    close = [one for one in have if set(wanted.split()) < set(one.split())]
    if wanted not in have and len(close) == 1:
        wish.put("plating", close[0], "guessed", f"the only {wanted} there is of it", *cells)


def _ask_plating(wish: Wish, who: str, ref: str, cells: list[Cell], found: Understanding) -> None:
    choices = _platings_of(wish, found)
    if len(choices) == 1:
        wish.put("plating", choices[0], "guessed", "the only plating there is of it", *cells)
    elif choices:
        said = found.asking.ask(
            f"wished|{ref}", f"Which plating for {who}?", choices[0], *cells[:1], choices=choices
        )
        wish.put("plating", said.value, said.grade, said.why, *cells)
