"""What a column of prices was paid for, where no word says: each, the pack or bottle, or all of the row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from statistics import median

from inventory.sheets.files import letters
from inventory.sheets.guess.guesses import Said, Thing, Understanding
from inventory.sheets.guess.texts.words import plainly

CHOICES = ("each", "pack", "all")


def settle_basis(found: Understanding) -> None:
    """Give every price without a basis the one of its column; asked once a column."""
    columns: dict[tuple[str, int], list[Thing]] = {}
    for thing in found.things:
        paid = thing.said.get("paid")
        if paid and "per" not in thing.said and paid.cells:
            columns.setdefault((paid.cells[0].tab, paid.cells[0].column), []).append(thing)
    for (tab, column), things in columns.items():
        _settle(found, tab, column, things)


def _settle(found: Understanding, tab: str, column: int, things: list[Thing]) -> None:
    open_ones = [thing for thing in things if thing.value("quantity") not in ("", "0", "1")]
    told = set(map(id, open_ones))
    for thing in things:
        if (
            id(thing) not in told
        ):  # of one there is nothing to tell apart; of none only a price each can be said
            thing.said["per"] = Said(
                "each", "guessed", "there is one or none of it", thing.said["paid"].cells
            )
    if not open_ones:
        return
    guess = likely_basis(open_ones)
    shown = ", ".join(
        f"{_money(thing)} for {thing.value('quantity')} {thing.value('unit')}".strip()
        for thing in open_ones[:2]
    )
    cells = open_ones[0].said["paid"].cells
    about = f"What is the price in column {letters(column)} for ({shown} …)?"
    said = found.asking.ask(
        f"basis|{tab}|{column}", about, guess, *cells[:1], choices=CHOICES, rows=len(open_ones)
    )
    for thing in open_ones:
        thing.said["per"] = replace(said, cells=thing.said["paid"].cells)


def _money(thing: Thing) -> str:
    return f"{float(Fraction(thing.value('paid'))):.2f}"


def likely_basis(things: Sequence[Thing]) -> str:
    """The likelier basis of these prices: that under which prices of one family lie closer together.

    Spread is the mean absolute deviation from the median, as a share of it: sum |p - m| / (n m).
    """
    groups: dict[str, list[tuple[Fraction, Fraction]]] = {}
    for thing in things:
        if thing.value("kind") == "kit":
            pair = (Fraction(thing.value("paid")), Fraction(thing.value("quantity")))
            groups.setdefault(plainly(thing.value("family")), []).append(pair)
    several = [pairs for pairs in groups.values() if len({quantity for _, quantity in pairs}) > 1]
    pairs = [pair for group in (several or groups.values()) for pair in group]
    if len(pairs) < 2:
        return "each"
    each = sum(_spread([paid for paid, _ in group]) for group in several or [pairs])
    all_ = sum(_spread([paid / quantity for paid, quantity in group]) for group in several or [pairs])
    return "all" if all_ < each else "each"


def _spread(values: list[Fraction]) -> Fraction:
    middle = Fraction(median(values))
    return sum((abs(value - middle) for value in values), Fraction(0)) / (len(values) * middle or 1)


def settle_coin(found: Understanding, asked_coin: str) -> None:
    """The coin of the prices: the one said, else the one most signs show, else asked where there are prices."""
    if asked_coin:
        found.coin = asked_coin
        return
    signs = [thing.value("coin") for thing in [*found.things, *found.orders] if thing.value("coin")]
    if signs:
        found.coin = max(sorted(set(signs)), key=signs.count)
        return
    priced = next((thing for thing in found.things if thing.value("paid")), None)
    if priced is None:
        found.coin = "EUR"
        return
    cells = priced.said["paid"].cells
    said = found.asking.ask(
        "coin", "In which currency are the prices?", "EUR", *cells[:1], choices=("EUR", "GBP", "USD", "CHF")
    )
    found.coin = said.value.upper()
