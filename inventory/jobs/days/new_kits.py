"""A part by its name, or a kit nobody knew yet, told by its family and plating."""

from __future__ import annotations

from inventory.catalogue import Kit, Part, fold
from inventory.errors import BadInput, UnknownName
from inventory.ledger.shop import Shop


def known_or_new(shop: Shop, name: str, family: str, plating: str) -> tuple[Part, bool]:
    """The part, and whether it is new. Raises UnknownName, BadInput where family and plating say something else."""
    known = shop.catalogue.parts.get(fold(name))
    if not family and not plating:
        return _known(shop, name), False
    if not (family and plating):
        raise BadInput(
            "A new kit needs both its family and its plating.", hint="Write --family and --plating."
        )
    told = Kit(shop.catalogue.family(family).name, _plating(shop, plating))
    if known is not None:
        if not _same(known, told):
            raise BadInput(
                f"“{known.name}” is known already, and not as a {told.family} kit in {told.plating}.",
                hint="Leave --family and --plating out, or give the new kit another name.",
            )
        return known, False
    other = next((part for part in shop.catalogue.parts.values() if _same(part, told)), None)
    if other is not None:
        raise BadInput(
            f"The {told.family} kit in {told.plating} is “{other.name}”.",
            hint=f'Add to that one: kitdrawer add "{other.name}". Two kinds of it need their own rows in the kits tab.',
        )
    return Part(" ".join(name.split()), told), True


def _plating(shop: Shop, name: str) -> str:
    """The plating of that name. Raises UnknownName with how a new one comes in."""
    try:
        return shop.catalogue.plating(name).name
    except UnknownName as error:
        error.hint += " A new one: load a sheet with it in its platings tab."
        raise


def _known(shop: Shop, name: str) -> Part:
    try:
        return shop.catalogue.part(name)
    except UnknownName as error:
        error.hint += " A new kit: say its --family and --plating. Other new parts: load a sheet."
        raise


def _same(part: Part, told: Kit) -> bool:
    one = part.detail
    return (
        isinstance(one, Kit)
        and (fold(one.family), fold(one.plating)) == (fold(told.family), fold(told.plating))
        and not one.tubes_inside
    )
