"""What can hurt in an order, a session or its aftermath; the statements come from `catalogue.safety`."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.catalogue import Part
from inventory.catalogue.safety import Doing, Safety, safety_of
from inventory.jobs.orders.needs import Requirements
from inventory.jobs.orders.requests import ResolvedRequest
from inventory.ledger.shop import Shop
from inventory.making.bom import stages_of


def making_safety(
    shop: Shop, made: Iterable[tuple[ResolvedRequest, Requirements]], *, selling: bool = False
) -> Safety:
    """Of pieces that are to be made, each with what it needs; selling: a price is spoken of beside them."""
    supplies: dict[str, Part] = {}
    materials, stages, makes = {}, set[str](), set[str]()
    for resolved, plan in made:
        materials[resolved.material.name] = resolved.material
        makes.add(resolved.family.makes)
        if plan.uses:  # finished pieces need nothing any more
            stages.update(stages_of(shop.catalogue, resolved.pattern))
            supplies |= {use.part: shop.catalogue.part(use.part) for use in plan.uses}
    return safety_of(
        Doing(
            tuple(supplies.values()), tuple(materials.values()), frozenset(stages), frozenset(makes), selling
        )
    )


def after_finishing(used: Iterable[Part]) -> tuple[str, ...]:
    """What is to be done at once with what was in the hand, after a session that used these."""
    return tuple(one.says for one in safety_of(Doing(tuple(used))).at("after"))
