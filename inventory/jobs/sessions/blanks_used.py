"""The blanks a session really cut, and what of them each of its rows took.

The cut plan of what was started says how many; where the sheet says how many were cut, that holds. What blanks cost is
shared by the length of the pieces cut from all of their kind (from a measured one: of its own pieces), and what is left
over with it: a remainder is noted, and is no stock.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.catalogue import STAGES, Part, fold
from inventory.errors import BadSheet, Place
from inventory.jobs.orders.needs import Requirements
from inventory.jobs.sessions.cut_plan import CutReport, Cutting, ToCut, cut_pieces
from inventory.jobs.sessions.reconciling.bills_drawn import shared
from inventory.jobs.sessions.reconciling.piece_rows import Made
from inventory.ledger.shop import Shop
from inventory.making.blanks.model import as_integers, length_needed
from inventory.making.consumption import blank_stage
from inventory.measures import show_mm
from inventory.reports.filled import FilledBlank

Key = tuple[str, int | None]
"""A kind of blank by its folded name, and the very lot where it is a measured one."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What one row took of its blanks, thousandths; lots: of which measured ones how much."""

    total: int = 0
    lots: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Blanks:
    """All rows' blanks, in the rows' order, and what the person should know of how they were reckoned."""

    rows: tuple[Taken, ...]
    announced: tuple[str, ...]


def blanks_taken(
    shop: Shop,
    made: Sequence[tuple[Made, Requirements]],
    orders: Sequence[str],
    filled: Sequence[FilledBlank] = (),
) -> Blanks:
    """What every row took. orders: whose set-asides the session may cut. Raises BadSheet naming every bad cell."""
    pieces = [_to_cut(number, one, plan) for number, (one, plan) in enumerate(made)]
    report = cut_pieces(shop, pieces, orders)
    planned = _planned(report)
    real = _real(shop, filled, orders, pieces, planned)
    rows: list[Counter[int | None]] = [Counter() for _ in made]
    for key, blanks in {**planned, **real}.items():
        for row, share in zip(rows, shared(1000 * blanks, _weights(report, pieces, key)), strict=True):
            row[key[1]] += share
    taken = [
        Taken(sum(row.values()), tuple((lot, many) for lot, many in row.items() if lot and many))
        for row in rows
    ]
    said = (*_otherwise(shop, planned, real), *_left_over(report, pieces, shop.kerf, real))
    return Blanks(tuple(taken), said)


def _to_cut(number: int, one: Made, plan: Requirements) -> ToCut:
    takes = plan.takes_blank
    count = one.outcome.reached(STAGES[blank_stage(plan.uses)]) if takes else 0
    return ToCut(str(number), one.resolved.blank, plan.size, plan.blanks.each, count)


def _planned(report: CutReport) -> dict[Key, int]:
    done: Counter[Key] = Counter()
    for cut in report.every:
        key = fold(cut.part.name), cut.lot
        done[key] += cut.blanks
    return done


def _weights(report: CutReport, pieces: Sequence[ToCut], key: Key) -> list[int]:
    """The length each row's pieces take of the blanks of this key; of one the plan left whole, all of its kind."""
    many = [0] * len(pieces)
    for cut in report.every:
        if (fold(cut.part.name), cut.lot) == key:
            for name, each in cut.pieces:
                many[int(name)] += cut.blanks * each
    if not any(many):
        many = [one.count if fold(one.blank.name) == key[0] else 0 for one in pieces]
    known = [one.size.wanted.length if one.size.wanted else None for one in pieces]
    usual = max((length for length in known if length is not None), default=Fraction(1))
    lengths = as_integers([usual if length is None else length for length in known])
    return [number * length for number, length in zip(many, lengths, strict=True)]


def _real(
    shop: Shop,
    filled: Sequence[FilledBlank],
    orders: Sequence[str],
    pieces: Sequence[ToCut],
    planned: Mapping[Key, int],
) -> dict[Key, int]:
    """How many were cut, where the sheet says it."""
    names = {fold(name) for name in orders}
    begun = {fold(one.blank.name) for one in pieces if one.count}
    real: dict[Key, int] = {}
    bad: list[Place] = []
    for one in filled:
        part = shop.catalogue.part(one.part)
        one = _found(shop, part, one)
        key = fold(part.name), one.lot or None
        problem = _problem(shop, part, one, names) if key[0] in begun else _none_begun(one)
        problem = "This blank stands there twice. Keep one row." if key in real else problem
        if problem:
            bad.append(replace(one.where, said=str(one.cut), problem=problem))
        real[key] = one.cut
    for one in filled:
        every = sum(many for key, many in {**planned, **real}.items() if key[0] == fold(one.part))
        if fold(one.part) in begun and not bad and not every:
            problem = "Pieces were started from it, so at least one was cut. How many?"
            bad.append(replace(one.where, said=str(one.cut), problem=problem))
    if bad:
        raise BadSheet(
            "The blanks of the session sheet cannot be right.",
            hint="Correct these cells and book the sheet again; nothing was booked.",
            where=tuple(bad),
        )
    return real


def _found(shop: Shop, part: Part, one: FilledBlank) -> FilledBlank:
    """The row with the number of the measured blank its name stands for; −1 where the book has none of that name."""
    if one.lot or not one.name:
        return one
    named = [lot.id for lot in shop.book.lots_of(part.name) if fold(lot.name) == fold(one.name)]
    return replace(one, lot=named[0] if len(named) == 1 else -1)


def _none_begun(one: FilledBlank) -> str:
    if not one.cut:
        return ""
    return "No piece of the sheet was started from it. Write what was spoiled under “spoiled at cut”."


def _problem(shop: Shop, part: Part, one: FilledBlank, orders: set[str]) -> str:
    if not one.lot:
        return ""
    lot = next((lot for lot in shop.book.lots_of(part.name) if lot.id == one.lot), None)
    if lot is None:
        return f"The book has no such {part.name}. Leave the cell empty and count it."
    if 1000 * one.cut > lot.quantity:
        return f"There is only {lot.quantity // 1000} of it in the book."
    others = [
        claim.order
        for claim in shop.book.claims_on(part.name)
        if claim.lot == lot.id and fold(claim.order) not in orders
    ]
    return f"It is set aside for {others[0]}. Release that order first." if others and one.cut else ""


def _otherwise(shop: Shop, planned: Mapping[Key, int], real: Mapping[Key, int]) -> Iterable[str]:
    for key, blanks in real.items():
        if blanks != planned.get(key, 0):
            name = shop.catalogue.part(key[0]).name
            yield f"{name}: {blanks} cut, {planned.get(key, 0)} reckoned for what was started."


def _left_over(
    report: CutReport, pieces: Sequence[ToCut], kerf: Fraction, real: Mapping[Key, int]
) -> Iterable[str]:
    """Remainders that would still give a piece; none where other blanks were cut than reckoned: nobody knows those."""
    said: dict[str, None] = {}
    for cut in report.cuts:
        if cut.offcut is None or (fold(cut.part.name), cut.lot) in real:
            continue
        if cut.offcut >= _shortest(cut, pieces, kerf):
            which = f"of “{cut.name}” " if cut.name else ""
            text = f"{cut.part.name}: {show_mm(cut.offcut)} {which}are left over, and are not in the book"
            said[f"{text}: count them as a blank of their own if you keep them."] = None
    return said


def _shortest(cut: Cutting, pieces: Sequence[ToCut], kerf: Fraction) -> Fraction:
    """What the smallest piece that was cut from such blanks needs, mm."""
    return min(
        length_needed(one.size.wanted, kerf)
        for one in pieces
        if one.size.wanted is not None and fold(one.blank.name) == fold(cut.part.name)
    )
