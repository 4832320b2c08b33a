"""A stranger's list held against a book that is there: names the book knows stay its own, counts are asked about."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import replace

from inventory.catalogue import Catalogue, Kit, fold
from inventory.errors import BadMeasure, nearest
from inventory.sheets.guess.guesses import Said, Thing, Understanding
from inventory.sheets.guess.shop.lines import OnItsWay, ShopTabs, TabLine
from inventory.sheets.guess.shop.parts import part_name

COUNTS = "what the counts are"
LEFT_OUT, ADDED, COUNTED = "not here yet: leave them out", "just come: add them", "on the shelf now: counted"
DUE = "ordered, on their way: due in"
"""What the counts of a list may be; an order that was confirmed is not on the shelf."""
ALIKE = 0.86
_OF_PARTS = ("tubes", "kits", "blanks", "supplies", "tools")
_BY_NAME = {
    "materials": "materials",
    "platings": "platings",
    "families": "families",
    "suppliers": "suppliers",
}


def against_book(found: Understanding, known: Catalogue) -> None:
    """Give things the names they have in the book, asking where one is nearly like another; ask what the counts are."""
    for what, names in (
        ("family", [one.name for one in known.families.values()]),
        ("plating", [one.name for one in known.platings.values()]),
        ("supplier", [one.name for one in known.suppliers.values()]),
        ("name", [one.name for one in known.parts.values()]),
    ):
        _own_names(found, what, {fold(name): name for name in names})
    _whose_list(found, known)
    counted = [one for one in found.things if one.value("quantity")]
    if counted:
        ordered = any(one.value("code") or one.value("paid") for one in counted)
        guess = LEFT_OUT if ordered else COUNTED if not _moves(counted, known) else LEFT_OUT
        about = f"{len(counted)} rows have a count. Are these things here?"
        found.asking.ask(
            COUNTS,
            about,
            guess,
            counted[0].anchor,
            choices=(LEFT_OUT, ADDED, COUNTED, DUE),
            rows=len(counted),
        )


def _whose_list(found: Understanding, known: Catalogue) -> None:
    """Prices of which nobody says who asks them: one supplier for the whole list, most likely one it names."""
    priced = [one for one in found.things if one.value("paid")]
    if not priced or any(one.value("supplier") for one in found.things):
        return
    names = tuple(one.name for one in known.suppliers.values())
    texts = " ".join(fold(kept.cell.text) for kept in found.kept)
    guess = next((name for name in names if fold(name) in texts), "")
    said = found.asking.ask(
        "whose list", "Whose prices are these?", guess, priced[0].anchor, choices=names,
        accepts="a supplier's name", rows=len(priced),
    )  # fmt: skip
    for thing in priced:
        thing.put("supplier", said.value, said.grade, said.why, thing.anchor)


def _moves(things: Iterable[Thing], known: Catalogue) -> bool:
    return any(fold(part_name(one).value) in known.parts for one in things if one.value("kind"))


def _own_names(found: Understanding, what: str, known: Mapping[str, str]) -> None:
    for thing in [*found.things, *found.orders]:
        said = thing.said.get(what)
        if said is None or not said.value:
            continue
        if (own := known.get(fold(said.value))) is not None:
            thing.said[what] = replace(said, value=own)
        elif what != "plating" and (near := nearest(said.value, known.values(), 1, alike=ALIKE)):
            about = f"Is “{said.value}” your “{near[0]}”?"
            cells = said.cells[:1] or (thing.anchor,)
            answer = found.asking.ask(
                f"own|{what}|{fold(said.value)}", about, "yes", *cells, choices=("yes", "no")
            )
            value = near[0] if answer.value == "yes" else said.value
            thing.said[what] = replace(
                said, value=value, grade="asked" if answer.grade == "asked" else "read", why=about
            )


def only_new(shop: ShopTabs, found: Understanding, known: Catalogue, on_hand: Mapping[str, int]) -> None:
    """Leave out of our tabs what the book has words for already, and counts that are not to be booked.

    on_hand: thousandths by folded part name. What just came is added to it, so that a count of now says both.
    """
    for line in shop.lines.get("kits", []):
        _as_its_like(line, known)
    for tab in _OF_PARTS:
        _keep(shop, tab, lambda line: fold(line.cells["part"].value) not in known.parts)
    for tab, attribute in _BY_NAME.items():
        _keep(shop, tab, _not_among(getattr(known, attribute)))
    _keep(shop, "barrels", lambda line: fold(line.cells["family"].value) not in known.families)
    made = {fold(one.family) for one in known.patterns.values()}
    kept = {
        line.cells["pattern"].value
        for line in shop.lines.get("patterns", [])
        if fold(line.cells["family"].value) not in made
    }
    for tab in ("patterns", "bills"):
        _keep(shop, tab, lambda line: line.cells["pattern"].value in kept)
    answer = found.asking.answers.get(COUNTS) or next(
        (one.guess for one in found.questions if one.key == COUNTS), COUNTED
    )
    if answer == DUE:
        shop.coming = _coming(shop, found)
    if answer in (LEFT_OUT, DUE):
        shop.lines["counts"] = []
    elif answer == ADDED:
        for line in shop.lines.get("counts", []):
            _add(line, known, on_hand)


def _coming(shop: ShopTabs, found: Understanding) -> list[OnItsWay]:
    """What would have been counted, with who sends it."""
    sends = {
        fold(part_name(one).value): one.value("supplier") for one in found.things if one.value("supplier")
    }
    return [
        OnItsWay(
            line.cells["part"].value,
            line.cells["quantity"].value,
            sends.get(fold(line.cells["part"].value), ""),
        )
        for line in shop.lines.get("counts", [])
    ]


def _as_its_like(line: TabLine, known: Catalogue) -> None:
    """Tubes lie in a new kit where they lie in the family's others."""
    family = fold(line.cells["family"].value)
    for part in known.parts.values():
        if isinstance(part.detail, Kit) and fold(part.detail.family) == family:
            inside = "yes" if part.detail.tubes_inside else "no"
            line.cells["tubes inside"] = Said(inside, "guessed", f"as of {part.name}")
            return


def _not_among(names: Container[str]) -> Callable[[TabLine], bool]:
    return lambda line: fold(next(iter(line.cells.values())).value) not in names


def _add(line: TabLine, known: Catalogue, on_hand: Mapping[str, int]) -> None:
    part = known.parts.get(fold(line.cells["part"].value))
    there = on_hand.get(fold(part.name), 0) if part else 0
    if part is None or not there:
        return
    said = line.cells["quantity"]
    try:
        came = part.read_amount(said.value)
    except BadMeasure:
        return  # told when it is loaded
    total = f"{(there + came) / 1000:g} {part.unit if part.unit != 'piece' else ''}".strip()
    line.cells["quantity"] = Said(total, "guessed", f"{said.value} came to {there / 1000:g}", said.cells)


def _keep(shop: ShopTabs, tab: str, wanted: Callable[[TabLine], bool]) -> None:
    shop.lines[tab] = [line for line in shop.lines.get(tab, []) if wanted(line)]
