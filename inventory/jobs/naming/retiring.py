"""What is no longer had: not bought, offered or listed any more, nor a new order taken for it; the past stays.

What is still there of it may be used up, and orders that were promised go on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from inventory.catalogue import Named, Part, fold
from inventory.errors import Refused
from inventory.jobs.days.by_hand import so_much
from inventory.jobs.naming.names import thing_called
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import Retired
from inventory.ledger.shop import Shop
from inventory.measures import listed, plural, show_date

RETIRING: tuple[Named, ...] = ("part", "pattern", "family", "plating", "material", "supplier")


@dataclass(frozen=True, slots=True)
class Unserved:
    """So much of a part that a promised order still has to buy, thousandths."""

    order: str
    part: Part
    quantity: int


@dataclass(frozen=True, slots=True)
class Retiring:
    """The proposed document. things: kind and name; notes: what is still there, due and open of it.

    short: what promised orders still have to buy of it, and now cannot.
    """

    proposal: Proposal
    things: tuple[tuple[Named, str], ...]
    notes: tuple[str, ...]
    short: tuple[Unserved, ...] = ()


def retire(shop: Shop, names: Iterable[str], what: str, *, back: bool) -> Retiring:
    """Retire these, or take them up again. what: their kind, empty where nobody said.

    Raises UnknownName, BadInput where a name is several things', Refused where one is retired already (or is not).
    """
    things = tuple(dict.fromkeys(_named(shop, name, what) for name in names))
    for kind, name in things:
        if shop.catalogue.is_retired(kind, name) != back:
            state = "not retired" if back else "retired already"
            rest = [f'"{other}"' for _, other in things if other != name]
            hint = f"Name the others alone: {' '.join(rest)}." if rest else "There is nothing to do."
            raise Refused(f"The {kind} “{name}” is {state}.", hint=hint)
    changes = tuple(Retired(kind, name, back) for kind, name in things)
    verb = "Take up again" if back else "Retire"
    title = f"{verb} {listed([name for _, name in things])}"
    proposal = Proposal("retire", title, shop.today, expected_version=shop.book.version, changes=changes)
    if back:
        return Retiring(proposal, things, ())
    parts = _no_longer_bought(shop, things)
    short = tuple(
        Unserved(claim.order, part, claim.quantity)
        for part in parts
        for claim in shop.book.claims_on(part.name)
        if claim.account == "to buy"
    )
    return Retiring(proposal, things, tuple(_told(shop, parts, things)), short)


def _named(shop: Shop, name: str, what: str) -> tuple[Named, str]:
    kind, spelled = thing_called(shop, name, what, RETIRING)
    assert kind != "order"  # noqa: S101 - it is not among them
    return kind, spelled


def _no_longer_bought(shop: Shop, things: Iterable[tuple[Named, str]]) -> list[Part]:
    """The parts nobody will buy any more by this."""
    known = shop.catalogue
    then = replace(known, retired=known.retired | {(kind, fold(name)) for kind, name in things})
    return [
        part
        for part in known.parts.values()
        if then.no_longer_bought(part) and not known.no_longer_bought(part)
    ]


def _told(shop: Shop, parts: Iterable[Part], things: Iterable[tuple[Named, str]]) -> Iterator[str]:
    there = [part for part in parts if shop.book.balance(part.name).on_hand]
    if there:
        held = [so_much(part, shop.book.balance(part.name).on_hand) for part in there]
        yield f"Still there, and to be used up: {listed(held)}."
    for part in parts:
        for row in shop.book.due:
            if row.part == part.name:
                day = f", expected {show_date(row.expected_on)}" if row.expected_on else ""
                yield f"Due in from {row.supplier}{day}: {so_much(part, row.quantity)}."
    for kind, name in things:
        if kind == "supplier" and (coming := [row for row in shop.book.due if row.supplier == name]):
            yield f"{plural(len(coming), 'line')} ordered from {name} may still arrive."
