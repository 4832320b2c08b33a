"""What an order needs and does not say: guessed where only one thing fits, else asked."""

from __future__ import annotations

from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import GuessedOrder, Understanding
from inventory.sheets.guess.orders.pieces import blanks_of, families_of, makes_of
from inventory.sheets.guess.texts.words import plainly


def finish_order(order: GuessedOrder, cells: list[Cell], found: Understanding) -> None:
    """Ask what an order needs and does not say: which kit, which blank, how many, by when."""
    who = order.value("customer") or cells[0].text[:40]
    ref = order.anchor.ref
    if "family" not in order.said:
        _ask_family(order, who, ref, cells, found)
    if "wood" not in order.said:
        blanks = tuple(blanks_of(found))
        said = found.asking.ask(
            f"blank|{ref}", f"Which blank for {who}?", blanks[0] if blanks else "", *cells[:1], choices=blanks
        )
        order.put("wood", said.value, said.grade, said.why, *cells)
    if "count" not in order.said:
        said = found.asking.ask(
            f"wanted|{ref}", f"How many for {who}?", "1", *cells[:1], accepts="a whole number"
        )
        order.put("count", said.value, said.grade, said.why, *cells)
    due = order.said.get("due")
    if due is None or due.grade == "asked":
        text = order.value("due text")
        about = f"By when for {who}?" + (f" It says “{text}”." if text else "")
        said = found.asking.ask(
            f"due|{ref}", about, due.value if due else "", *cells[:1], accepts="a day, such as 2026-12-19"
        )
        order.put("due", said.value, said.grade, said.why, *cells)
    if "plating" not in order.said:
        _ask_plating(order, who, ref, cells, found)
    else:
        _near_plating(order, cells, found)


def _ask_family(order: GuessedOrder, who: str, ref: str, cells: list[Cell], found: Understanding) -> None:
    makes = order.value("makes")
    families = families_of(found)
    of_makes = {thing.value("family") for thing in found.things if makes and makes_of(thing) == makes}
    fitting = [family for family in families if family in of_makes] or families
    if makes and makes != "pen" and len(of_makes) == 1:
        order.put("family", fitting[0], "guessed", f"the only kit that makes a {makes}", *cells)
        return
    said = found.asking.ask(
        f"family|{ref}",
        f"Which kit for {who}?",
        fitting[0] if fitting else "",
        *cells[:1],
        choices=tuple(fitting),
    )
    order.put("family", said.value, said.grade, said.why, *cells)


def _platings_of(order: GuessedOrder, found: Understanding) -> tuple[str, ...]:
    family = plainly(order.value("family"))
    kits = [
        thing
        for thing in found.things
        if thing.value("kind") == "kit" and plainly(thing.value("family")) == family
    ]
    return tuple(dict.fromkeys(thing.value("plating") for thing in kits if thing.value("plating")))


def _near_plating(order: GuessedOrder, cells: list[Cell], found: Understanding) -> None:
    """Gold, where the only gold one of that kit is called 24k gold."""
    wanted, have = order.value("plating"), _platings_of(order, found)
    close = [one for one in have if set(wanted.split()) < set(one.split())]
    if wanted not in have and len(close) == 1:
        order.put("plating", close[0], "guessed", f"the only {wanted} there is of it", *cells)


def _ask_plating(order: GuessedOrder, who: str, ref: str, cells: list[Cell], found: Understanding) -> None:
    choices = _platings_of(order, found)
    if len(choices) == 1:
        order.put("plating", choices[0], "guessed", "the only plating there is of it", *cells)
    elif choices:
        said = found.asking.ask(
            f"wished|{ref}", f"Which plating for {who}?", choices[0], *cells[:1], choices=choices
        )
        order.put("plating", said.value, said.grade, said.why, *cells)
