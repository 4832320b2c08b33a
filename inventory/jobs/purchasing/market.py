"""Who sells what at which terms, as the list that costs least wants it told."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from inventory.buying import PackOffer, SupplierTerms
from inventory.buying import PriceBreak as PricedStep
from inventory.catalogue import Offer, Supplier, fold
from inventory.ledger.shop import Shop

OVERSEAS = 10
"""Lead days from which a parcel is taken to come by air."""


def sellers_of(
    shop: Shop, chosen: Iterable[Supplier], notes: list[str]
) -> tuple[Mapping[str, SupplierTerms], Mapping[str, Fraction]]:
    """The terms of these suppliers, and the rates of their coins; who is left out is noted."""
    sellers, rates = {}, {}
    for one in chosen:
        code = one.currency or shop.currency.code
        rate = shop.rate(code)
        if rate is None:
            notes.append(f"{one.name} is left out: no rate for {code} is known. Say --rate {code}=0.92.")
            continue
        if one.lead_days is None:
            notes.append(f"{one.name} has no lead time: it serves only what has no day.")
        rates[code] = rate
        by_air = code != shop.currency.code or (one.lead_days or 0) >= OVERSEAS
        sellers[one.name] = SupplierTerms(
            one.name, one.lead_days, code, one.postage, one.free_from, one.minimum_order, by_air
        )
    return sellers, rates


def offers_of(
    shop: Shop, parts: Iterable[str], sellers: Mapping[str, SupplierTerms], notes: list[str]
) -> list[PackOffer]:
    """The offers of these parts (folded names) from these suppliers, once each."""
    names = {fold(name): name for name in sellers}
    found = []
    for part in dict.fromkeys(parts):
        for number, offer in enumerate(shop.offers.get(part, ())):
            seller = names.get(fold(offer.supplier))
            if seller is not None and offer.has_left(1):
                found.append(_priced(shop, offer, seller, f"{part}/{fold(offer.supplier)}/{number}", notes))
    return found


def _priced(shop: Shop, offer: Offer, seller: str, key: str, notes: list[str]) -> PackOffer:
    steps = [PricedStep(offer.steps[0].from_packs, offer.steps[0].price)]
    for step in offer.steps[1:]:
        if step.price <= steps[-1].price:
            steps.append(PricedStep(step.from_packs, step.price))
        else:
            name = shop.catalogue.part(offer.part).name
            notes.append(
                f"{name} at {seller}: the step from {step.from_packs} is dearer than the one before; not used."
            )
    return PackOffer(
        key,
        seller,
        shop.catalogue.part(offer.part).name,
        offer.pack,
        tuple(steps),
        offer.price_group or None,
        offer.code,
        offer.seen_on,
        offer.at_most,
    )
