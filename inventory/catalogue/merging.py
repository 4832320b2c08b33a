"""Two catalogues as one: what a sheet says put over what the book knows."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.catalogue.catalogue import Catalogue
from inventory.catalogue.names import fold, over
from inventory.catalogue.suppliers import Offer


def merged(known: Catalogue, new: Catalogue) -> Catalogue:
    """`known` with everything `new` names added or put in its place; offers are replaced one by one."""
    offers = dict(known.offers)
    for part, fresh in new.offers.items():
        offers[part] = merged_offers(offers.get(part, ()), fresh)
    return Catalogue(
        parts=over(known.parts, new.parts),
        platings=over(known.platings, new.platings),
        materials=over(known.materials, new.materials),
        families=over(known.families, new.families),
        patterns=over(known.patterns, new.patterns),
        suppliers=over(known.suppliers, new.suppliers),
        offers=offers,
        retired=known.retired,
        codes=known.codes,
    )


def offer_key(offer: Offer) -> tuple[str, str, int, str]:
    """What makes an offer the same one: supplier, part, pack and the supplier's code."""
    return fold(offer.supplier), fold(offer.part), offer.pack, fold(offer.code)


def merged_offers(known: Iterable[Offer], fresh: Iterable[Offer]) -> tuple[Offer, ...]:
    """The known offers with the fresh ones added, or put in the place of the same one."""
    by_key = {offer_key(offer): offer for offer in (*known, *fresh)}
    return tuple(by_key.values())
