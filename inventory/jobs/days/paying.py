"""What something cost that came by hand, as it was said."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import Part
from inventory.errors import BadInput
from inventory.ledger.paid import ACCEPTED, paid_for, unit_cost
from inventory.measures import Currency, read_money

SINGLE = 1000
"""Thousandths: one piece."""


@dataclass(frozen=True, slots=True)
class Paid:
    """What was paid, and for what, as it was written."""

    paid: str
    what_for: str


def cost_said(
    part: Part, quantity: int, said: Paid, packs: Collection[int], coin: Currency
) -> Fraction | None:
    """Minor units a unit; None where nothing was said of it. packs: those it is offered in, thousandths.

    Raises BadInput where nobody can tell for what was paid.
    """
    if not said.paid and not said.what_for:
        return None
    if not said.paid:
        raise BadInput(f"What was paid for “{said.what_for}”?", hint="Write what was paid: the sum.")
    paid = read_money(said.paid, coin)
    singly = part.unit == "piece" and (not packs or SINGLE in packs)
    if not said.what_for and not singly:
        raise BadInput(f"For what was {said.paid} paid?", hint=f"Say for what. {ACCEPTED}")
    if part.unit == "piece" and said.what_for.strip().casefold() in ("", "each", "one"):
        return unit_cost(paid, SINGLE)
    return unit_cost(paid, paid_for(said.what_for, part, quantity, packs))
