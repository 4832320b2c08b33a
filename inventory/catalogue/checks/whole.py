"""Whether a catalogue agrees with itself: names leading nowhere, impossible barrels, bills that run in circles."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache

from inventory.catalogue.catalogue import Catalogue
from inventory.catalogue.names import fold
from inventory.catalogue.suppliers import Offer
from inventory.errors import UnknownName
from inventory.quick import dataclass


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that cannot be: where its row is, what it says, and why not.

    key: folded names that find the row in its tab: (part,), (family,), (family, barrel), (pattern,), and
    (pattern, number of the line in its bill as text). said: what the cell says. absence: the trouble is that
    something is missing, so a row that could not be read may be its cause.
    """

    tab: str
    key: tuple[str, ...]
    column: str
    said: str
    problem: str
    absence: bool = False


Check = Callable[[Catalogue], Iterable[Trouble]]


def troubles(catalogue: Catalogue) -> tuple[Trouble, ...]:
    """Everything in which the catalogue disagrees with itself; empty where it is sound."""
    from inventory.catalogue.checks.bills import bills
    from inventory.catalogue.checks.goods import barrels, families, parts, platings

    checks: tuple[Check, ...] = (platings, materials, parts, families, barrels, bills)
    return tuple(trouble for check in checks for trouble in check(catalogue))


def materials(catalogue: Catalogue) -> Iterator[Trouble]:
    """Losses that leave nothing."""
    for key, material in catalogue.materials.items():
        for stage, lost in material.losses.items():
            if not 0 <= lost < 1:
                problem = "A share lost is from 0 % up to, not including, 100 %."
                yield Trouble("materials", (key,), f"lost at {stage}", str(lost), problem)


def unknown(what: str, name: str, known: Iterable[str]) -> str:
    """The sentence for a name that leads nowhere, with the nearest ones."""
    return _unknown(what, name, tuple(known))


@lru_cache(maxsize=1024)
def _unknown(what: str, name: str, known: tuple[str, ...]) -> str:
    error = UnknownName(what, name, known)  # a search among thousands of names: not twice for one slip
    return f"{error.message} {error.hint}"


def names_of(things: Mapping[str, object]) -> list[str]:
    """The names as their owners spell them."""
    return [str(getattr(thing, "name", key)) for key, thing in things.items()]


def merged(known: Catalogue, new: Catalogue) -> Catalogue:
    """`known` with everything `new` names added or put in its place; offers are replaced one by one."""
    offers = dict(known.offers)
    for part, fresh in new.offers.items():
        offers[part] = merged_offers(offers.get(part, ()), fresh)
    return Catalogue(
        parts={**known.parts, **new.parts},
        platings={**known.platings, **new.platings},
        materials={**known.materials, **new.materials},
        families={**known.families, **new.families},
        patterns={**known.patterns, **new.patterns},
        suppliers={**known.suppliers, **new.suppliers},
        offers=offers,
    )


def offer_key(offer: Offer) -> tuple[str, str, int, str]:
    """What makes an offer the same one: supplier, part, pack and the supplier's code."""
    return fold(offer.supplier), fold(offer.part), offer.pack, fold(offer.code)


def merged_offers(known: Iterable[Offer], fresh: Iterable[Offer]) -> tuple[Offer, ...]:
    """The known offers with the fresh ones added, or put in the place of the same one."""
    by_key = {offer_key(offer): offer for offer in (*known, *fresh)}
    return tuple(by_key.values())
