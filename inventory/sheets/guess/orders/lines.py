"""Orders: rows with headings, or free text such as "neighbour – 2 slim pens walnut gold by Christmas – paid"."""

from __future__ import annotations

import re
from datetime import date

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import GuessedOrder, Kept, Understanding
from inventory.sheets.guess.orders.looks import named_orders
from inventory.sheets.guess.orders.needs import finish_order
from inventory.sheets.guess.orders.pieces import Words, families_of, hits, split_words, take_pieces
from inventory.sheets.guess.rows.headings import Block, total_row
from inventory.sheets.guess.rows.telling import SPEAKS, of_goods
from inventory.sheets.guess.texts.amounts import NUMBER
from inventory.sheets.guess.texts.days import day_in
from inventory.sheets.guess.texts.prices import price_in
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens

_PARTS = re.compile(r"\s+[-–—]+\s+|\s*[;|]\s*|\n|:\s+|,\s+")


_BEFORE_SUM = r"(?:at|à|a|zu|@|für|for|pour)"
_EACH = r"(?:each|ea|je|pro stück|pièce|apiece|das stück)"
_MONEY = re.compile(
    rf"(?:{_BEFORE_SUM}\s+)?(?:[€£$]\s?(?:{NUMBER})|(?:{NUMBER})\s?(?:€|£|\$|eur\b|euros?\b|gbp\b|usd\b))(?:\s?{_EACH})?",
    re.IGNORECASE,
)
_DEADLINE = re.compile(
    r"(?:^|\s)(?:(?:needed|wanted|ready|fertig|due) )?"
    r"(?:by|before|until|till|due|for|bis|vor|zum|zu|avant|pour|d'ici|le|on|am)(?: (?:the|zum|le|au|end of))?$"
)


_BULLET = re.compile(r"^\s*(?:[-–—•*]|\(?[0-9]{1,2}[.)])\s+")


def orders_of_lines(grid: Grid, block: Block, found: Understanding, today: date) -> None:
    """Every line of free text: an order, a title, or a note."""
    for number in block.rows:
        cells = list(grid.rows[number].values())
        text = " – ".join(cell.text for cell in cells)
        if total_row(cells):
            found.kept += [Kept(cell, "total") for cell in cells]
        elif named_orders(text) and len(tokens(text)) <= 4:
            found.kept += [Kept(cell, "title") for cell in cells]
        elif not _about_pieces(text, found):
            note = len(text.split()) > 2 and not _asks(text, today)
            found.kept += [Kept(cell, "note" if note else "not understood") for cell in cells]
        elif over := next((part for part in _PARTS.split(text) if signs("done").whole(part)), ""):
            found.kept += [Kept(cell, "note", f"it says “{over}”: an order that is over") for cell in cells]
        else:
            found.orders.append(order_of_line(cells, text, found, today))


def _asks(text: str, today: date) -> bool:
    """Whether a line may be an order though it names no kit known here: goods, a day, or whether it is paid."""
    said = tokens(plainly(text))
    stated = bool(signs("paid").find(said) or signs("unpaid").find(said))
    return of_goods(text) or stated or day_in(text, today) is not None


def _about_pieces(text: str, found: Understanding) -> bool:
    said = tokens(plainly(text))
    if said and said[0] in SPEAKS and not re.search("[0-9]", text):
        return False
    return bool(lexicon("makes", "makes").find(said)) or any(
        hits(list(said), one) for one in families_of(found)
    )


def order_of_line(cells: list[Cell], text: str, found: Understanding, today: date) -> GuessedOrder:
    """One order out of one line."""
    order = GuessedOrder(cells[0])
    text = _BULLET.sub("", text)
    text = _due(order, text, cells, today)
    if money := _MONEY.search(text):
        price = price_in(re.sub(rf"^{_BEFORE_SUM}\s+", "", money[0]))
        if price and price.value is not None:
            order.put(
                "asked",
                price.text,
                "guessed" if price.per != "each" else "read",
                "a price in the line",
                *cells,
            )
            order.put("coin", price.coin, "read", "", *cells)
            text = text[: money.start()] + " – " + text[money.end() :]
    put_state(order, text, cells)
    parts = [part for part in _PARTS.split(text) if part and part.strip(" -–—.,")]
    parts = [part for part in parts if not signs("orders").whole(part)] or parts
    left: list[str] = []
    touched: list[bool] = []
    for part in parts:
        words = Words(split_words(part))
        touched.append(take_pieces(order, words, cells, found))
        left.append(words.left() if touched[-1] else part.strip(" -–—.,"))
    _customer(order, left, touched, cells)
    finish_order(order, cells, found)
    return order


def _due(order: GuessedOrder, text: str, cells: list[Cell], today: date) -> str:
    found = day_in(text, today)
    if found is None:
        return text
    plain = plainly(text)
    before = plain[: found.start].rstrip()
    by = _DEADLINE.search(before)
    start = by.start() if by else found.start
    order.put("due text", plain[start : found.end].strip(), "read", "", *cells)
    if found.day:
        order.put("due", found.day.isoformat(), found.grade, found.why, *cells)
    if len(plain) != len(text):  # accents that fall into two signs: places differ, so the plain text goes on
        text = plain
    return text[:start] + " – " + text[found.end :]


def put_state(order: GuessedOrder, text: str, cells: list[Cell]) -> None:
    said = tokens(plainly(text))
    if signs("part paid").find(said):
        order.put("state", "unpaid", "guessed", "a part of it is paid", *cells)
        order.add("note", text.strip(" –"), *cells)
        return
    for state in ("unpaid", "paid", "done"):
        if signs(state).find(said):
            order.put("state", state, "read", "", *cells)
            return


def _customer(order: GuessedOrder, left: list[str], touched: list[bool], cells: list[Cell]) -> None:
    """Whoever is named in a part of which nothing else was made, else what is left of the first; the rest are notes."""
    left = [re.sub(r"^(?:for|für|fuer|pour)\s+", "", part, flags=re.IGNORECASE) for part in left]
    alone = [part for part, done in zip(left, touched, strict=True) if part and not done]
    others = [part for part, done in zip(left, touched, strict=True) if part and done]
    named = alone or others
    if named:
        order.put(
            "customer",
            named[0],
            "read" if alone else "guessed",
            "" if alone else "what is left of the line",
            *cells,
        )
    for part in [*alone[1:], *(others if alone else others[1:])]:
        order.add("note", part, *cells)
