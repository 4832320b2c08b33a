"""Two names for one supplier, plating or pattern: what is due, offered and wanted of the one becomes the other's.

No amount changes: a supplier's open lines go over as they are, kits and orders speak of the other from then on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from inventory.catalogue import Kit, Offer, Pattern, Plating, Supplier, fold
from inventory.errors import BadInput, UnknownName
from inventory.jobs.naming.merging import Merging, Moving, piece_changes, proposal_of, refuse
from inventory.jobs.naming.names import things
from inventory.ledger.documents.changes import Merged, MergedKind
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.measures import listed

MERGING: tuple[MergedKind, ...] = ("part", "supplier", "plating", "pattern")
_NEVER = ("family", "material", "order")


def kind_of_both(shop: Shop, old: str, new: str, what: str) -> MergedKind:
    """The kind of thing that both names are names of. what: the kind that is meant, empty where nobody said.

    Raises UnknownName, BadInput where several kinds are meant or where they are of none that can be merged.
    """
    if what and what not in MERGING:
        raise BadInput(f"“{what}” cannot be merged.", hint=f"Write one of {listed(MERGING, most=9)}.")
    every = things(shop)
    of_old = [kind for kind in MERGING if what in ("", kind) and fold(old) in every[kind]]
    of_both = [kind for kind in of_old if fold(new) in every[kind]]
    if len(of_both) > 1:
        hint = f"Say which: --what {of_both[0]}."
        raise BadInput(f"Both are names of a {listed(of_both, most=9)}.", hint=hint)
    if of_both:
        return of_both[0]
    if not of_old:
        kept = next((kind for kind in _NEVER if not what and fold(old) in every[kind]), "")  # type: ignore[index]  # kinds
        if kept:
            raise BadInput(f"“{old}” is a {kept}.", hint=f"Only a {listed(MERGING, most=9)} can be merged.")
        raise UnknownName(what or "part", old, _named(shop, what or "part"))
    raise UnknownName(of_old[0], new, _named(shop, of_old[0]))


def _named(shop: Shop, what: str) -> list[str]:
    return [one.name for one in things(shop)[what].values()]  # type: ignore[index]  # a kind


def merge_names(shop: Shop, what: MergedKind, old: str, new: str, offers: Iterable[Offer] = ()) -> Merging:
    """The old supplier, plating or pattern is the new one. offers: all there are, where suppliers are merged.

    Raises BadInput where they are one already, Refused with every reason why they cannot be one.
    """
    known = things(shop)[what]
    one, other = known[fold(old)], known[fold(new)]
    if one is other:
        raise BadInput(f"“{old}” and “{new}” are one {what}.", hint="Name the two that are to be one.")
    how: Mapping[str, Callable[[], Merging]] = {
        "supplier": lambda: _suppliers(shop, one, other, offers),
        "plating": lambda: _platings(shop, one, other),
        "pattern": lambda: _patterns(shop, one, other),
    }
    return how[what]()


def _suppliers(shop: Shop, old: Supplier, new: Supplier, offers: Iterable[Offer]) -> Merging:
    coins = [one.currency or shop.currency.code for one in (old, new)]
    if coins[0] != coins[1]:
        refuse(old.name, new.name, [f"the prices of one are in {coins[0]}, of the other in {coins[1]}"])
    entry = Moving(shop, Draft(shop.book, shop.prices), [], [])
    due = [row for row in shop.book.due if fold(row.supplier) == fold(old.name)]
    for row in due:
        entry.buy_from(row, new.name)
    mine = [one for one in offers if fold(one.supplier) == fold(old.name)]
    waiting = [one.order for one in entry.claims_on_purchases({row.purchase for row in due})]
    proposal = proposal_of(shop, entry, old.name, new.name, [Merged(old.name, new.name, "supplier")])
    counts = 0, len(due), tuple(dict.fromkeys(waiting)), len(mine)
    return Merging(proposal, "supplier", old.name, new.name, *counts, notes=tuple(_terms(old, new)))


def _terms(old: Supplier, new: Supplier) -> Iterator[str]:
    """What the two tell otherwise of themselves: what the one that stays says counts."""
    fields = ("lead_days", "postage", "free_from", "minimum_order", "email")
    unlike = [one.replace("_", " ") for one in fields if getattr(old, one) != getattr(new, one)]
    if unlike:
        yield f"They differ in {listed(unlike, most=9)}: what “{new.name}” says counts."


def _platings(shop: Shop, old: Plating, new: Plating) -> Merging:
    entry = Moving(shop, Draft(shop.book, shop.prices), [], [])
    wanted = tuple(
        order.name
        for order in shop.book.orders.values()
        if order.state in ("wish", "promised") and fold(old.name) in map(fold, order.platings)
    )
    kits = {part.name: part.detail for part in shop.catalogue.parts.values() if isinstance(part.detail, Kit)}
    mine = [name for name, kit in kits.items() if fold(kit.plating) == fold(old.name)]
    twins = [
        f'“{name}” and “{other}” are one kit then, if you say so: kitdrawer merge "{name}" into "{other}"'
        for name in mine
        for other, kit in kits.items()
        if fold(kit.plating) == fold(new.name) and fold(kit.family) == fold(kits[name].family)
    ]
    proposal = proposal_of(shop, entry, old.name, new.name, [Merged(old.name, new.name, "plating")])
    counts = 0, 0, wanted, 0
    return Merging(proposal, "plating", old.name, new.name, *counts, follow=tuple(mine), notes=tuple(twins))


def _patterns(shop: Shop, old: Pattern, new: Pattern) -> Merging:
    reasons = list(_unlike(old, new))
    if reasons:
        refuse(old.name, new.name, reasons)
    entry = Moving(shop, Draft(shop.book, shop.prices), [], [])
    follow: list[str] = []
    changes = [
        Merged(old.name, new.name, "pattern"),
        *piece_changes(shop, entry, "pattern", old.name, new.name, follow),
    ]
    wanted = tuple(
        order.name
        for order in shop.book.orders.values()
        if order.state in ("wish", "promised") and fold(order.pattern) == fold(old.name)
    )
    notes: tuple[str, ...] = ()
    if old.minutes != new.minutes:
        said = [f"{one.minutes} min" if one.minutes is not None else "no time" for one in (old, new)]
        notes = (f"One takes {said[0]}, the other {said[1]}: what “{new.name}” takes counts.",)
    proposal = proposal_of(shop, entry, old.name, new.name, changes)
    return Merging(
        proposal, "pattern", old.name, new.name, 0, 0, wanted, 0, follow=tuple(follow), notes=notes
    )


def _unlike(old: Pattern, new: Pattern) -> Iterator[str]:
    """What tells two patterns apart: their family, or what they are made of."""
    if fold(old.family) != fold(new.family):
        yield f"the family of one is {old.family}, of the other {new.family}"
        return
    mine, other = ({(line.stage, fold(line.part), line.per): line for line in one.bill} for one in (old, new))
    for key in sorted(mine.keys() | other.keys()):
        one, two = mine.get(key), other.get(key)
        if one is None or two is None:
            yield f"only one of their bills has {(one or two).part} at {key[0]}"  # type: ignore[union-attr]  # one is there
        elif one.quantity != two.quantity:
            yield f"one takes {one.quantity} of {one.part} at {key[0]}, the other {two.quantity}"
