"""Unit mix-ups: packs for pieces, ounces for grams, grams for millilitres, the bottle weighed with what is in it.

Exact factors: NIST SP 811 (2008), appendix B.8, and NIST Handbook 44, appendix C, both from memory: 1 in = 25.4 mm, 1
oz avoirdupois = 28.349523125 g, 1 US fluid ounce = 29.5735295625 ml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from inventory.catalogue import Part, Supply, fold
from inventory.jobs.differences.case import Case, Reason
from inventory.ledger.shop import Shop
from inventory.measures import read_unit, show_amount, show_number

OUNCE: Final = Fraction("28.349523125")
FLUID_OUNCE: Final = Fraction("29.5735295625")
INCH: Final = Fraction("25.4")
CLOSE: Final = (Fraction(1, 100), Fraction(5, 100))
"""A factor fits well within the first share of what it should give, and still fits within the second."""
SHIFT: Final = Fraction(1, 10)
"""A density moves a figure by little: this share of the move is near enough."""
SMALLEST_PACK: Final = 5000
"""Of smaller packs, some number taken for pieces would make any difference."""
MOST_PACKS: Final = 3
"""More packs than this nobody takes for pieces."""
_MEASURED: Final = {
    "weight": (("ounces of 28.349523125 g", OUNCE), ("kilograms", Fraction(1000))),
    "volume": (
        ("US fluid ounces of 29.5735295625 ml", FLUID_OUNCE),
        ("centilitres", Fraction(10)),
        ("litres", Fraction(1000)),
    ),
    "length": (("inches of 25.4 mm", INCH), ("centimetres", Fraction(10)), ("metres", Fraction(1000))),
    "count": (),
}


@dataclass(frozen=True, slots=True)
class Factor:
    """Another way to count a part: one of these is so many of its unit."""

    word: str
    times: Fraction
    weight: float = 0.9


def unit_reasons(shop: Shop, case: Case) -> Iterator[Reason]:
    """What was counted is what was expected in another unit, or the other way round."""
    if case.counted > 0 and case.expected > 0:
        for factor in factors(shop, case.part):
            yield from _by(case, factor)
        yield from _packs_among_pieces(shop, case)
    yield from _by_density(case)
    yield from _with_the_bottle(shop, case)


def factors(shop: Shop, part: Part) -> Iterator[Factor]:
    """The other ways to count this part: by the packs it is sold in, its containers, other units, one nought off."""
    for pack, supplier in packs(shop, part):
        yield Factor(f"packs of {show_amount(pack, part.unit)} ({supplier})", Fraction(pack, 1000))
    if isinstance(part.detail, Supply) and part.detail.net and part.detail.net > 1000:
        yield Factor(
            f"containers of {show_amount(part.detail.net, part.unit)}", Fraction(part.detail.net, 1000)
        )
    for word, times in _MEASURED[read_unit(part.unit).kind]:
        yield Factor(word, times)
    yield Factor("tens: one nought too few or too many", Fraction(10), 0.6)


def packs(shop: Shop, part: Part) -> tuple[tuple[int, str], ...]:
    """Pack sizes of more than one unit, each with the supplier who sells it so."""
    found: dict[int, str] = {}
    for offer in shop.offers.get(fold(part.name), ()):
        if offer.pack > 1000:
            found.setdefault(offer.pack, offer.supplier)
    return tuple(found.items())


def _by(case: Case, factor: Factor) -> Iterator[Reason]:
    times = show_number(factor.times)
    for many, whole, text in (
        (
            case.counted,
            case.expected,
            "counted in {word}? {many} × {times} = {all}, and {whole} was expected",
        ),
        (case.expected, case.counted, "booked in {word}? {many} × {times} = {all}, and {whole} was counted"),
    ):
        weight = _fit(many * factor.times, whole, 2 * case.error * factor.times)
        if weight:
            said = text.format(
                word=factor.word,
                many=show_number(Fraction(many, 1000)),
                times=times,
                all=show_number(Fraction(round(many * factor.times), 1000)),
                whole=case.amount(whole),
            )
            yield Reason(weight * factor.weight, f"unit mix-up: {said}")


def _fit(given: Fraction, wanted: int, error: Fraction) -> float:
    """1 where it is the same within 1 % or the error of measuring, 2/3 within 5 %, else 0."""
    off = abs(given - wanted)
    if off <= max(CLOSE[0] * wanted, error):
        return 1.0
    return 2 / 3 if off <= CLOSE[1] * wanted else 0.0


def _packs_among_pieces(shop: Shop, case: Case) -> Iterator[Reason]:
    """n full packs written down as n pieces beside loose ones: difference = −n · (pack − 1)."""
    for pack, _ in packs(shop, case.part):
        full, rest = divmod(-case.difference, pack - 1000)
        loose = case.counted - 1000 * full
        if pack >= SMALLEST_PACK and 0 < full <= MOST_PACKS and rest == 0 and loose > 0:
            each, there = case.amount(pack), case.amount(loose)
            yield Reason(
                0.65,
                f"packs taken for pieces: {full} packs of {each} and {there} loose are {case.amount(case.expected)}, "
                f"written down as {case.amount(case.counted)}",
            )


def _by_density(case: Case) -> Iterator[Reason]:
    detail, unit = case.part.detail, case.part.unit
    density = detail.density if isinstance(detail, Supply) else None
    if density is None or density == 1 or unit not in ("ml", "g") or case.expected <= 0:
        return
    other, names = (
        (density, "grams for millilitres") if unit == "ml" else (1 / density, "millilitres for grams")
    )
    would = round(case.expected * other)
    if abs(would - case.counted) <= max(Fraction(2 * case.error), SHIFT * abs(would - case.expected)):
        said = show_number(Fraction(would, 1000))
        yield Reason(
            0.65,
            f"unit mix-up: {names}? {case.amount(case.expected)} is {said} {'g' if unit == 'ml' else 'ml'} at "
            f"{show_number(density)} g/ml",
        )


def _with_the_bottle(shop: Shop, case: Case) -> Iterator[Reason]:
    """The weight was written down with the empty container's: difference = n · tare / density."""
    detail = case.part.detail
    if not isinstance(detail, Supply) or not detail.tare or case.part.unit not in ("ml", "g"):
        return
    density = detail.density if case.part.unit == "ml" and detail.density else Fraction(1)
    for bottles in range(1, max(len(shop.book.lots_of(case.part.name)), 1) + 1):
        extra = round(bottles * detail.tare / density)
        if abs(case.difference - extra) <= max(Fraction(2 * case.error), CLOSE[1] * extra):
            empty = f"{show_amount(detail.tare, 'g')}"
            many = (
                f"{bottles} empty containers of {empty} each"
                if bottles > 1
                else f"the empty container, {empty},"
            )
            yield Reason(0.8, f"{many} weighed with it: that is {case.amount(extra)} too much")
