"""A request: what somebody would like to have made, checked against the catalogue before anything is computed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.catalogue import (
    Blank,
    Catalogue,
    Family,
    Kit,
    Material,
    Named,
    Order,
    Part,
    Pattern,
    Supply,
    fold,
)
from inventory.catalogue.blanks_wished import BlankWish, KnownBlanks
from inventory.errors import BadInput, Refused
from inventory.measures import Length, plural

MOST_PIECES = 10_000
"""More than a part-time shop makes in years; a larger count is a slip of the finger."""


@dataclass(frozen=True, slots=True)
class OrderRequest:
    """platings: accepted ones, the wished first. confidence: the wished probability of getting by, 0 < c < 1.

    blank: a blank's name, or the words of several that would do (see `catalogue.blanks_wished`).
    """

    pattern: str
    platings: tuple[str, ...]
    blank: str
    count: int
    due: date
    refill: str | None = None
    extra_diameter: Length | None = None
    confidence: float = 0.9
    price: int | None = None
    order: str = ""


@dataclass(frozen=True, slots=True)
class ResolvedRequest:
    """A request with its names resolved. kits: for each accepted plating, in order, the kit parts in it.

    blank: the one it is to be made of, the first of those that would do until one is chosen; wish: all of them.
    """

    request: OrderRequest
    pattern: Pattern
    family: Family
    material: Material
    blank: Part
    kits: tuple[tuple[str, tuple[Part, ...]], ...]
    wish: BlankWish


def request_of(order: Order, confidence: float = 0.9) -> OrderRequest:
    """The request an order in the book stands for."""
    return OrderRequest(
        order.pattern,
        order.platings,
        order.wished_blank,
        order.count,
        order.due,
        order.refill,
        order.extra_diameter,
        confidence,
        order.price,
        order.name,
    )


def resolve(catalogue: Catalogue, request: OrderRequest, today: date) -> ResolvedRequest:
    """The things a request names. Raises UnknownName or BadInput with the remedy."""
    _check_numbers(request, today)
    pattern = catalogue.pattern(request.pattern)
    family = catalogue.family(pattern.family)
    wish = blanks_wished(catalogue, request.blank)
    blank = wish.blanks[0]
    if request.refill is not None:
        _refill(catalogue, request.refill)
    kits = tuple(
        (plating, kits_in(catalogue, family, plating)) for plating in _platings(catalogue, family, request)
    )
    return ResolvedRequest(request, pattern, family, material_of(catalogue, blank), blank, kits, wish)


def kits_of(catalogue: Catalogue, family: Family) -> tuple[Part, ...]:
    """Every kit of a family."""
    key = fold(family.name)
    return tuple(
        part
        for part in catalogue.parts.values()
        if isinstance(part.detail, Kit) and fold(part.detail.family) == key
    )


def kits_in(catalogue: Catalogue, family: Family, plating: str) -> tuple[Part, ...]:
    """The kits of a family in one plating. Raises BadInput where there is none, naming the platings there are."""
    kits = kits_of(catalogue, family)
    found = tuple(k for k in kits if isinstance(k.detail, Kit) and fold(k.detail.plating) == fold(plating))
    if not found:
        known = sorted({kit.detail.plating for kit in kits if isinstance(kit.detail, Kit)})
        hint = f"It comes in {', '.join(known)}." if known else "Give its kits in the kits tab."
        raise BadInput(f"There is no {family.name} kit in {plating}.", hint=hint)
    return found


def _check_numbers(request: OrderRequest, today: date) -> None:
    if not 1 <= request.count <= MOST_PIECES:
        raise BadInput(
            f"{plural(request.count, 'piece')} cannot be taken.",
            hint=f"Give a count from 1 to {MOST_PIECES:,}.",
        )
    if request.due < today:
        raise BadInput(
            f"{request.due} is past; today is {today}.", hint="Give a day from today on, as 2026-12-24."
        )
    if not 0.0 < request.confidence < 1.0:
        raise BadInput(
            f"A confidence of {request.confidence * 100:g} % is none.",
            hint="Give a figure between 1 and 99, such as 90.",
        )


def _platings(catalogue: Catalogue, family: Family, request: OrderRequest) -> Sequence[str]:
    if request.platings:
        return [catalogue.plating(name).name for name in request.platings]
    kits = [kit for kit in kits_of(catalogue, family) if not catalogue.no_longer_bought(kit)]
    known = sorted({kit.detail.plating for kit in kits if isinstance(kit.detail, Kit)})
    if len(known) == 1:
        return known
    raise BadInput(
        f"Which plating? {family.name} comes in {', '.join(known) or 'none yet'}.",
        hint="Say --plating, or fill the plating column of the orders tab.",
    )


def refuse_retired(catalogue: Catalogue, request: OrderRequest) -> None:
    """Raises Refused where a new order asks for what is no longer made; what was promised before goes on."""
    pattern = catalogue.pattern(request.pattern)
    made: tuple[tuple[Named, str], ...] = (("pattern", pattern.name), ("family", pattern.family))
    for what, name in made:
        if catalogue.is_retired(what, name):
            raise Refused(
                f"{pattern.name} is no longer made: the {what} “{name}” is retired.",
                hint=f'Make it again: kitdrawer retire "{name}" --what {what} --back',
            )


def blanks_wished(catalogue: Catalogue, text: str) -> BlankWish:
    """The blanks a request allows. Raises UnknownName or BadInput where a word of it is none."""
    return KnownBlanks(catalogue.parts, catalogue.materials, catalogue.no_longer_bought).wished(text)


def material_of(catalogue: Catalogue, blank: Part) -> Material:
    """What a blank is made of."""
    assert isinstance(blank.detail, Blank)  # noqa: S101 - only blanks are wished for
    return catalogue.material(blank.detail.material)


def made_of(catalogue: Catalogue, resolved: ResolvedRequest, blank: Part) -> ResolvedRequest:
    """The same request with one of the blanks that would do chosen."""
    return replace(resolved, blank=blank, material=material_of(catalogue, blank))


def _refill(catalogue: Catalogue, name: str) -> None:
    part = catalogue.part(name)
    if not (isinstance(part.detail, Supply) and fold(part.detail.type) == "refill"):
        refills = [
            p.name
            for p in catalogue.parts.values()
            if isinstance(p.detail, Supply) and fold(p.detail.type) == "refill"
        ]
        raise BadInput(
            f"“{part.name}” is not a refill.", hint=f"Refills are {', '.join(refills) or 'none yet'}."
        )
