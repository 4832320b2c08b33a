"""What a price that somebody paid was for: a pack, a bottle, all of it, or an amount; never guessed."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import Part, Supply, fold
from inventory.errors import BadInput, BadMeasure
from inventory.measures import Currency, read_amount, read_money, show_amount

ALL = frozenset({"all", "everything", "all of it", "all together", "together"})
_BEFORE = ("for ", "per ", "each ", "every ", "one ", "the ", "an ", "a ")
ACCEPTED = "Write pack, bottle, all, or an amount such as 50 ml."


def paid_for(text: str, part: Part, quantity: int, packs: Iterable[int]) -> int:
    """Thousandths of the part's unit that a price was for. quantity: how much came or is there; packs: as bought.

    Raises BadMeasure where it cannot be told: several packs, a bottle of unknown content, nothing there.
    """
    word = _bare(text)
    if word in ALL:
        if quantity <= 0:
            raise BadMeasure(
                "Nothing is there, so a price for “all” says nothing.",
                hint="Leave what was paid empty, or write what it was for: pack, bottle or 50 ml.",
            )
        return quantity
    if word in ("pack", "packs") and (known := sorted(set(packs))):
        return _the_pack(known, part)
    detail = part.detail
    net, density = (detail.net, detail.density) if isinstance(detail, Supply) else (None, None)
    if not any(sign.isdigit() for sign in word):
        if word in ("pack", "packs") and net is None:
            raise BadMeasure(
                f"How much a pack of {part.name} holds is not known.",
                hint=f"Write it, such as {_example(part)}.",
            )
        word = f"1 {word}"
    try:
        found = read_amount(word, part.unit, net=net, density=density)
    except BadMeasure as error:
        raise BadMeasure(f"“{text}”: {error.message}", hint=f"{error.hint} {ACCEPTED}") from None
    if found <= 0:
        raise BadMeasure(f"“{text}” is nothing, and a price is for something.", hint=ACCEPTED)
    return found


def unit_cost(paid: int, amount: int) -> Fraction:
    """Minor units for one unit, exactly, where `paid` was for so many thousandths."""
    return Fraction(1000 * paid, amount)


def _bare(text: str) -> str:
    word = fold(text)
    while begun := next((before for before in _BEFORE if word.startswith(before)), ""):
        word = word.removeprefix(begun).strip()
    return word


def _the_pack(packs: list[int], part: Part) -> int:
    if len(packs) > 1:
        shown = " or ".join(show_amount(pack, part.unit) for pack in packs)
        raise BadMeasure(f"{part.name} comes in packs of {shown}: of which?", hint=f"Write {shown}.")
    return packs[0]


def _example(part: Part) -> str:
    return show_amount(10_000, part.unit)


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
