"""One list by the search and by the whole-number model."""

from __future__ import annotations

import time
from dataclasses import dataclass
from fractions import Fraction

from inventory.buying import best_basket
from inventory.errors import Refused

from .basket_cases import TODAY, Shop
from .nasty_lists import nasty
from .whole_model import cheapest, price_of, served

PATIENT = 200.0
"""Seconds by the clock a list may take, so that a machine with other work makes none unproven."""


@dataclass(frozen=True)
class Compared:
    """`fault` says how the two differ; empty where they do not. total: of both, None where no list can be sent.

    seconds: of the processor, for the search.
    """

    fault: str
    total: Fraction | None
    proven: bool
    seconds: float


def compared(state: int) -> Compared:
    """A nasty list by its number."""
    return compare(nasty(state))


def compare(shop: Shop) -> Compared:
    """Any list."""
    started = time.process_time()
    try:
        basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY, time_limit=PATIENT)
    except Refused:
        basket = None
    except ArithmeticError as error:
        return Compared(f"stops with {error!r}", None, False, time.process_time() - started)
    seconds = time.process_time() - started
    kept = served(shop)
    answer = cheapest(kept)
    if not answer.certain:
        return Compared("HiGHS is not certain", answer.total, True, seconds)
    if basket is None:
        fault = "" if answer.total is None else f"refused, but {answer.packs} costs {answer.total}"
        return Compared(fault, answer.total, True, seconds)
    mine = price_of(kept, basket.packs())
    if mine is not None and answer.total is not None and mine < answer.total:
        # A list that keeps every term refutes the optimum HiGHS claims: asked again, by another way.
        answer = cheapest(kept, presolve=False)
    fault = ""
    if mine != basket.total:
        fault = f"{basket.packs()} costs {mine}, not {basket.total}"
    elif answer.total is None or basket.total != answer.total:
        fault = f"{basket.total}, HiGHS {answer.total} with {answer.packs}"
    if basket.bound > (answer.total if answer.total is not None else basket.bound):
        fault += f" bound {basket.bound} too high"
    return Compared(fault, answer.total, basket.proven, seconds)
