"""What an order needs and does not say: guessed where only one thing fits, else asked."""

from __future__ import annotations

from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Understanding, Wish
from inventory.sheets.guess.orders.pieces import blanks_of, families_of, makes_of
from inventory.sheets.guess.texts.words import plainly


def finish_wish(wish: Wish, cells: list[Cell], found: Understanding) -> None:
    """Ask what a wish needs and does not say: which kit, which blank, how many, by when."""
    who = wish.value("customer") or cells[0].text[:40]
    ref = wish.anchor.ref
    if "family" not in wish.said:
        _ask_family(wish, who, ref, cells, found)
    if "wood" not in wish.said:
        blanks = tuple(blanks_of(found))
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
    families = families_of(found)
    of_makes = {thing.value("family") for thing in found.things if makes and makes_of(thing) == makes}
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
