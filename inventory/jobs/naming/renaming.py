"""Another name for a thing, or another code for what a supplier offers: the past keeps, the old name is understood."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from inventory.catalogue import ROLES, Known, Offer, Piece, fold
from inventory.errors import BadInput, Refused, UnknownName
from inventory.jobs.naming.names import pieces_of, thing_called, things
from inventory.jobs.orders.finished import piece_called
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import Change, Recoded, Renamed, Thing
from inventory.ledger.shop import Shop

CODE = "code"
"""What somebody says who means a supplier's code."""


@dataclass(frozen=True, slots=True)
class Renaming:
    """The proposed document. what: the kind of thing, or `code`; follow: pieces named after it, old and new."""

    proposal: Proposal
    what: str
    old: str
    new: str
    follow: tuple[tuple[str, str], ...] = ()


def rename(shop: Shop, old: str, new: str, what: str, offers: Callable[[], Iterable[Offer]]) -> Renaming:
    """The thing, or where nothing has the name the code, gets another. what: its kind, empty where nobody said.

    Raises UnknownName, BadInput and Refused where the new name is taken.
    """
    if what != CODE:
        try:
            return _renamed(shop, *thing_called(shop, old, what), new)
        except UnknownName:
            if what:
                raise
            codes = _coded(offers(), old)
            if not codes:
                raise
    else:
        codes = _coded(offers(), old)
    if not codes:
        raise UnknownName(CODE, old, {one.code for one in offers() if one.code})
    return _recoded(shop, codes, new)


def _renamed(shop: Shop, what: Thing, old: str, new: str) -> Renaming:
    if old == new:
        raise BadInput(f"It is called “{new}” already.", hint="Write another name than the one it has.")
    if fold(old) != fold(new):
        _refuse_taken(shop, what, old, new)
    part = shop.catalogue.parts.get(fold(old)) if what == "part" else None
    if part is not None and isinstance(part.detail, Piece):
        raise Refused(
            f"“{old}” is called after what it was made from.",
            hint="Rename its pattern, kit, blank or refill; its name follows.",
        )
    follow = [
        (piece_called(made), piece_called(renamed_piece(made, old, new)))
        for made in pieces_of(shop, what, old)
    ]
    changes: list[Change] = [Renamed(what, old, new)]
    changes += [
        Renamed("part", before, after) for before, after in follow if fold(before) in shop.catalogue.parts
    ]
    return Renaming(_proposal(shop, f"Rename {what} {old}: {new}", changes), what, old, new, tuple(follow))


def renamed_piece(made: Piece, old: str, new: str) -> Piece:
    """What a finished piece is made of, once one of those is called otherwise."""

    def now(name: str) -> str:
        return new if fold(name) == fold(old) else name

    refill = made.refill and now(made.refill)
    return replace(made, pattern=now(made.pattern), kit=now(made.kit), blank=now(made.blank), refill=refill)


def _refuse_taken(shop: Shop, what: Thing, old: str, new: str) -> None:
    every = things(shop)
    # a line of a bill names a part, a pattern or a role
    same: tuple[Thing, ...] = ("part", "pattern") if what in ("part", "pattern") else (what,)
    if what in ("part", "pattern") and fold(new) in ROLES:
        raise BadInput(f"“{new}” has a meaning of its own in bills.", hint="Give it another name.")
    for kind in same:
        other = every[kind].get(fold(new))
        there = every[kind]
        if isinstance(there, Known) and fold(new) in there.merged:
            other = there[fold(new)]
            hint = "Give it another name, or undo that merge first: kitdrawer entries"
            raise Refused(f"“{new}” was merged into “{other.name}”.", hint=hint)
        if other is not None and (kind, fold(other.name)) != (what, fold(old)):
            was = "" if fold(other.name) == fold(new) else f", which is “{other.name}” now"
            hint = (
                "Give another name. Where both are one thing: `kitdrawer guide jobs`."
                if kind == what == "part"
                else ""
            )
            raise Refused(
                f"There is a {kind} called “{new}” already{was}.", hint=hint or "Give it another name."
            )


def _coded(offers: Iterable[Offer], code: str) -> list[Offer]:
    return [one for one in offers if one.code and fold(one.code) == fold(code)]


def _recoded(shop: Shop, offers: list[Offer], new: str) -> Renaming:
    sellers = list(dict.fromkeys(one.supplier for one in offers))
    if len(sellers) > 1:
        raise BadInput(
            f"“{offers[0].code}” is a code of {' and '.join(sellers)}.",
            hint="Load the offers of the one that changes.",
        )
    old = offers[0].code
    title = f"Rename code {old} of {sellers[0]}: {new}"
    return Renaming(_proposal(shop, title, [Recoded(sellers[0], old, new)]), CODE, old, new)


def _proposal(shop: Shop, title: str, changes: Iterable[Change]) -> Proposal:
    return Proposal("rename", title, shop.today, expected_version=shop.book.version, changes=tuple(changes))
