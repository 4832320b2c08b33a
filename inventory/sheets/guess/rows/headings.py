"""Which row holds the headings, and what each column is: by words of three languages, or by what stands in it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.amounts import amount_in
from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.prices import COINS, per_in, price_in
from inventory.sheets.guess.texts.sizes import drill_in
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens

_COIN = re.compile(r"€|£|\$|\b(?:eur|euros?|gbp|usd|chf)\b")
_MONEY = re.compile(r"[€£$]|\b(?:eur|gbp|usd|chf)\b|^[0-9]+[.,][0-9]{2}$", re.IGNORECASE)
SURELY = 3
"""Headings that are known without a doubt, with which a row is one of headings though most of it means nothing here."""
ASIDE = "orders beside the stock"
"""A column that is no part of the rows it stands in."""
NO_HEADING = "is no heading known here"
WORDY = frozenset(
    {"what", "plating", "supplier", "note", "where", "kind", "customer", "wood", "state", "code"}
)


@dataclass(frozen=True, slots=True)
class Role:
    """What a column is. per: what its prices are for; coin: theirs; sure: whether its heading says so."""

    what: str
    grade: Grade = "read"
    per: str = ""
    coin: str = ""
    why: str = ""


@dataclass(slots=True)
class Block:
    """Rows under one row of headings. head: its number, 0 where there is none; orders: whether a title says so."""

    head: int
    roles: dict[int, Role]
    rows: list[int] = field(default_factory=list)
    orders: bool | None = None

    def column(self, what: str) -> int | None:
        """The first column of this role."""
        return next((at for at, role in self.roles.items() if role.what == what), None)

    def columns(self, what: str) -> list[int]:
        """Every column of this role, from the left."""
        return sorted(at for at, role in self.roles.items() if role.what == what)


@lru_cache(maxsize=4096)
def role_of(text: str) -> Role | None:
    """What a heading says its column is, or None.

    >>> role_of("Paid (each) €")
    Role(what='paid', grade='read', per='each', coin='EUR', why='')
    """
    tidy = plainly(text)
    if len(tidy) > 60 or not tidy:
        return None
    coins = _COIN.findall(tidy)
    coin = COINS[coins[0]] if coins else ""
    bare = " ".join(_COIN.sub(" ", tidy).replace("*", " ").split()).strip(" :.")
    main, inside = re.sub(r"\(.*?\)", " ", bare), " ".join(re.findall(r"\((.*?)\)", bare))
    words = lexicon("headings", "role")
    found = words.whole(bare) or words.whole(main.strip(" :/-."))
    grade: Grade = "read"
    if not found:
        outer, rest = per_in(bare)
        if outer and words.whole(rest).startswith("paid"):
            return Role("paid", "read", outer, coin)
        found, grade = _like(main or bare), "guessed"
    if not found:
        return Role("paid", "guessed", "", coin, f"“{text}” taken as paid") if coins and not bare else None
    what, _, per = found.partition(" ")
    inner = per_in(inside)[0] if inside else ""
    if what == "paid":
        return Role("paid", grade, per or inner, coin)
    return Role(what, grade, "", coin, "" if grade == "read" else f"“{text}” taken as {what}")


_BETWEEN = frozenset({"it", "them", "i", "is", "are", "was", "my", "they", "es", "ich", "sie", "j'ai", "je"})
"""Words of a heading that say nothing of its column: got it from, where it is."""
_NOUNS = frozenset({"code", "paid", "quantity", "size"})


def _like(bare: str) -> str:
    words = lexicon("headings", "role")
    said = tuple(word for word in tokens(bare) if word not in _BETWEEN) or tokens(bare)
    if whole := words.phrases.get(said):
        return whole
    slips = [words.phrases.get((token,)) or words.slip(token) for token in said]
    if len(said) == 1:
        return slips[0]
    found = words.find(said)
    covered = max(found, key=lambda one: one.end - one.start, default=None)
    if covered and covered.meaning == "what" and found[-1].meaning in _NOUNS:  # item code, kit price
        covered = found[-1]
    if covered and 2 * (covered.end - covered.start) + (covered.start == 0) >= len(said):
        return covered.meaning
    joined = "".join(token for token in said if token.isalpha())
    return words.slip(joined) or ""


def heading_row(cells: Iterable[Cell]) -> dict[int, Role] | None:
    """The roles of a row that holds headings, or None where it holds none."""
    row = [cell for cell in cells if not cell.unworked]
    if len(row) < 2 or any(_number(cell) for cell in row):
        return None
    roles = {cell.column: role for cell in row if (role := role_of(cell.text)) is not None}
    sure = sum(role.grade == "read" for role in roles.values())
    if len(roles) < 2 or sure < 1 or (5 * len(roles) < 2 * len(row) and sure < SURELY):
        return None
    if not any(role.what in ("what", "quantity", "paid", "customer", "plating") for role in roles.values()):
        return None
    return roles


def _number(cell: Cell) -> bool:
    if isinstance(cell.raw, int | float | date) or re.fullmatch(r"[0-9.,/ ]+", cell.text):
        return True
    return cell.text[:1].isdecimal() and role_of(cell.text) is None  # 2x5, 2,40 €, 1 bottle


def by_content(grid: Grid, rows: list[int], taken: Mapping[int, Role]) -> dict[int, Role]:
    """Roles of columns no heading tells of, by what stands in them; unknown where nothing tells."""
    columns: dict[int, list[Cell]] = {}
    for number in rows:
        for column, cell in grid.rows.get(number, {}).items():
            if column not in taken:
                columns.setdefault(column, []).append(cell)
    found: dict[int, Role] = {}
    have = {role.what for role in taken.values()}
    for column in sorted(columns):
        what = _looks_like(columns[column], have)
        if what == "text":
            what = "what" if "what" not in have else "unknown"
        have.add(what)
        found[column] = Role(what, "guessed" if what != "unknown" else "asked", why="no heading says so")
    return found


def _looks_like(cells: list[Cell], have: set[str]) -> str:
    def share(test: Callable[[Cell], object]) -> float:
        return sum(bool(test(cell)) for cell in cells) / len(cells)

    tests: list[tuple[str, Callable[[Cell], object], float]] = [
        ("plating", lambda cell: lexicon("platings", "plating").whole(cell.text), 0.6),
        ("paid", lambda cell: _money(cell), 0.6),
        ("quantity", lambda cell: _countable(cell), 0.7),
        ("drill", lambda cell: bool(drill_in(cell.text)) and not _plain_number(cell), 0.7),
        ("kind", lambda cell: lexicon_of_kinds().whole(cell.text), 0.7),
    ]
    if "paid" in have and share(_money) >= 0.6:  # a second column of sums is no drill and no count
        return "unknown"
    for what, test, least in tests:
        if what not in have and share(test) >= least:
            return what
    if "quantity" not in have and share(_plain_number) >= 0.5 and share(_begins_with_number) == 1:
        return "quantity"  # 9, 3, "20 odd", "2 good 1 split"
    return "text" if share(lambda cell: bool(re.search(r"[^\W\d_]{2}", cell.text))) > 0.5 else "unknown"


def _money(cell: Cell) -> bool:
    if isinstance(cell.raw, float):
        return not cell.raw.is_integer()
    return bool(_MONEY.search(cell.text)) and price_in(cell.text) is not None


def _countable(cell: Cell) -> bool:
    if isinstance(cell.raw, bool | date):
        return False
    if isinstance(cell.raw, int | float):
        return float(cell.raw).is_integer() and 0 <= cell.raw < 5000
    amount = amount_in(cell.text)
    if amount is None or (amount.value is None and amount.grade != "asked"):
        return False
    return not amount.rest or bool(lexicon_of_kinds().whole(amount.rest))


def _begins_with_number(cell: Cell) -> bool:
    return _plain_number(cell) or cell.text[:1].isdecimal()


def _plain_number(cell: Cell) -> bool:
    return isinstance(cell.raw, int | float) or cell.text.isdecimal()


def settled(grid: Grid, block: Block) -> dict[int, Role]:
    """The roles once what stands under the headings is looked at: a column called Stock may hold names or counts."""
    roles = dict(block.roles)
    if block.column("what") is None and (wood := block.column("wood")) is not None:
        roles[wood] = Role("what")
    arrived = [
        at for at, role in roles.items() if role.what == "received" and _all_whole(grid, block.rows, at)
    ]
    for at in arrived[:1]:  # so many ordered, so many received: what came is there
        roles = {
            other: Role("note") if _asked_for(grid, block, other, role) else role
            for other, role in roles.items()
        }
        roles[at] = Role("quantity")
    for at, role in list(roles.items()):
        roles[at] = _settled(grid, block, at, role, named="what" in {one.what for one in roles.values()})
    return roles


def _settled(grid: Grid, block: Block, at: int, role: Role, *, named: bool) -> Role:
    """One column's role by what stands in it. named: whether another column holds the names."""
    numbers = _share_of_numbers(grid, block.rows, at)
    counted = any((_share_of_numbers(grid, block.rows, one) or 0) >= 0.3 for one in block.columns("quantity"))
    if role.what == "quantity" and not named and numbers is not None and numbers < 0.3:
        bare = _words_without_role(grid, block, at)
        return Role("note", "guessed", why="names stand to the left of it") if bare else Role("what")
    if role.what == "what" and numbers is not None and numbers > 0.8 and len(block.columns("what")) > 1:
        return Role("quantity")
    if role.what == "number" and not counted and not _running(grid, block.rows, at):
        return Role("quantity", "guessed", why="a column of numbers and no other count")
    if role.per == "all" and not counted and _all_whole(grid, block.rows, at):
        return Role("quantity", "guessed", why="whole numbers and no other count")
    return role


def _words_without_role(grid: Grid, block: Block, at: int) -> bool:
    """Whether a column of words whose heading tells nothing stands left of this one: the names are there."""
    left = {one for number in block.rows for one in grid.rows[number] if one < at and one not in block.roles}
    shares = [_share_of_numbers(grid, block.rows, one) for one in left]
    return any(share is not None and share < 0.3 for share in shares)


def _asked_for(grid: Grid, block: Block, at: int, role: Role) -> bool:
    """Whether a column only says how many were ordered."""
    return role.what in ("what", "quantity") and _all_whole(grid, block.rows, at)


def _share_of_numbers(grid: Grid, rows: list[int], column: int) -> float | None:
    cells = [cell for number in rows if (cell := grid.rows.get(number, {}).get(column))]
    if not cells:
        return None
    return sum(_says_how_many(cell) for cell in cells) / len(cells)


def _says_how_many(cell: Cell) -> bool:
    if re.match(r"[0-9½¼¾~]", cell.text) or cell.unworked:
        return True
    amount = amount_in(cell.text)
    return amount is not None and amount.value is not None and not amount.rest


def _running(grid: Grid, rows: list[int], column: int) -> bool:
    said = [cell.text for number in rows if (cell := grid.rows.get(number, {}).get(column))]
    whole = [int(text) for text in said if text.isdecimal()]
    return len(whole) < 2 or whole == list(range(whole[0], whole[0] + len(whole)))


def _all_whole(grid: Grid, rows: list[int], column: int) -> bool:
    said = [cell.text for number in rows if (cell := grid.rows.get(number, {}).get(column))]
    return bool(said) and all(text.isdecimal() and int(text) < 1000 for text in said)


def total_row(cells: list[Cell]) -> bool:
    """Whether a row only adds up those above it: it begins with a word such as Total and names nothing else."""
    words = [cell for cell in cells if re.search(r"[^\W\d_]{2}", cell.text) and not cell.unworked]
    if not words:
        return False
    said = tokens(plainly(words[0].text))
    found = signs("total").find(said)
    if len(cells) > 1 and len(said) == 1 and said[0] in ALL:
        return all(_adds_up(cell) for cell in cells if cell is not words[0])
    if found and len(cells) > 1 and found[-1].end == len(said) <= 3:  # kits total, valeur totale
        return True
    if not found or found[0].start or len(said) - found[0].end > 3:
        return False
    return len(cells) > 1 or bool(re.search("[0-9]", words[0].text))


ALL = frozenset({"all", "alle", "alles", "tous", "tout", "toutes"})
"""Words for a total where nothing but numbers stands beside them."""


def _adds_up(cell: Cell) -> bool:
    return cell.unworked or bool(re.fullmatch(r"[0-9.,€£$ ]+", cell.text))
