"""A lot of containers after a session: how many are full, what the open one weighs, and so what was used.

What is in a container is (gross − tare) / density. A lot held q before the session by the book, or, where the open one
was weighed then too, full · net + its content; afterwards full · net + what the open one holds. What the session used
is the difference; what was gone before the session began is kept apart. A scale that shows steps of `step` grams is
off by step / √12 (one standard deviation, uniform in the step), two weighings by √2 of that.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

from inventory.catalogue import Part, fold
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called, full_and_open, opened_first
from inventory.ledger.bottles.scales import Impossible, Scale, scale_of
from inventory.measures import show_amount
from inventory.reports.filled import FilledBottle


@dataclass(frozen=True, slots=True)
class Weighed:
    """One row worked out, thousandths of the part's unit.

    used: by the session, negative where there is more than the book says; gone: missing before it began, negative
    where there was more; lots: those it left, with how much each could give; sound: whether anything can be learned.
    """

    lot: Lot
    used: int
    gone: int
    error: int
    lots: tuple[tuple[int, int], ...]
    sound: bool
    said: tuple[str, ...]


def weigh(
    part: Part,
    lots: Sequence[Lot],
    bottle: FilledBottle,
    rows: Collection[int],
    expected: int,
    unseen: int = 0,
) -> Weighed | None:
    """What one row says; None where it says nothing.

    lots: of the part; rows: those with a row of their own; expected: what the bills ask of the part; unseen: what they
    drew of it since anybody looked, which may have been too much. Raises Impossible.
    """
    lot = _meant(lots, bottle, rows)
    if lot is None:
        raise Impossible(f"The book has no such bottle of {part.name}: {_bottles(lots)}.")
    scale = scale_of(part)
    family = _family(lots, lot, rows)
    booked = sum(one.quantity for one in family)
    counts = [full_and_open(part, one) for one in family]
    full, inside = sum(one for one, _ in counts), sum(one for _, one in counts)
    if bottle.full is not None:
        _check_full(scale, lots, lot, bottle.full)
    start = booked
    if bottle.before is not None:
        full = full if inside else max(full - 1, 0)
        inside = scale.inside(bottle.before, "before g")
        start = full * (scale.net or 0) + inside
    row = _Row(scale, bottle, full, inside, start, expected)
    left = row.left()
    if left is None:
        return None
    used = start - left
    sound = used >= -(row.slack + (unseen if bottle.before is None else 0))
    if not sound and bottle.before is not None:
        raise Impossible("It is heavier than before the session. Weigh it again.")
    said = [f"{part.name}, {called(lot)}: {text}" for text in row.said]
    if used < -2 * scale.error(bottle.step):
        text = "there is more in it than the book says"
        said.append(f"{part.name}, {called(lot)}: {text}{'' if sound else '; nothing is learned of it'}.")
    draws = tuple((one.id, one.quantity) for one in opened_first(family))
    return Weighed(lot, used, booked - start, scale.error(bottle.step), draws, sound, tuple(said))


@dataclass
class _Row:
    """A lot with `full` full ones and `inside` in the open one, `start` in all, before the session."""

    scale: Scale
    bottle: FilledBottle
    full: int
    inside: int
    start: int
    expected: int
    said: list[str] = field(default_factory=list)

    @property
    def slack(self) -> int:
        """By how much a reading may be too high: twice the scale's error, a tenth of a container if that is more."""
        return max(2 * self.scale.error(self.bottle.step), (self.scale.net or 0) // 10)

    def left(self) -> int | None:
        """What is in the lot afterwards; None where it was not looked at."""
        if self.bottle.gross is None:
            return self._unweighed()
        inside = self.scale.inside(self.bottle.gross, "gross g")
        net = self.scale.net
        if net is None or (self.bottle.full is None and self.full + bool(self.inside) <= 1):
            return inside
        full = self._full_ones(net, inside) if self.bottle.full is None else self.bottle.full
        return full * net + inside

    def _unweighed(self) -> int | None:
        full, net = self.bottle.full, self.scale.net or 0
        if self.bottle.before is not None:
            raise Impossible(
                "It was weighed before, but not after. Weigh it again, or take the first weight out."
            )
        if full is None or full == self.full:
            return None
        if full < self.full:
            opened = show_amount(1000 * (self.full - full), "piece")
            empty = f"{self.scale.tare / 1000:g} g"
            raise Impossible(
                f"{opened} of the {self.full} full ones is opened, but the open one has no weight. Weigh it; where it "
                f"is used up write {empty}, an empty one."
            )
        return full * net + self.inside

    def _full_ones(self, net: int, inside: int) -> int:
        """As many as there can be. Raises Impossible where one less would fit what the bills expect better."""
        can = [n for n in range(self.full, -1, -1) if n * net + inside <= self.start + self.slack]
        full = can[0] if can else 0
        used = self.start - full * net - inside
        if full and self.expected > used + net // 2:
            unit = self.scale.part.unit
            more, less = show_amount(used + net, unit), show_amount(max(used, 0), unit)
            raise Impossible(
                f"How many full ones are left? With {full} of them {less} was used, with {full - 1} {more}. Write it "
                "under “full ones”.",
                "full ones",
            )
        self.said.append(f"taken as {full} full ones and the one on the scale.")
        return full


def _check_full(scale: Scale, lots: Sequence[Lot], lot: Lot, full: int) -> None:
    if scale.net is None:
        raise Impossible(
            f"What a full container of {scale.part.name} holds is not known: give its net in the supplies tab.",
            "full ones",
        )
    if full and lot.opened_on and lot.quantity <= scale.net and len(lots) > 1:
        raise Impossible(
            "This is the row of the open one. Full ones are counted in the row of the sealed lot.",
            "full ones",
        )


def _meant(lots: Sequence[Lot], bottle: FilledBottle, rows: Collection[int]) -> Lot | None:
    """The lot of that number; else of that name; else the only one there is, or that is open."""
    lot = next((one for one in lots if one.id == bottle.lot), None)
    if lot is not None:
        return lot
    others = [one for one in lots if one.id not in rows]
    said = fold(bottle.name)
    named = [one for one in others if said and said in (fold(one.name), fold(called(one)))]
    opened = [one for one in others if one.opened_on]
    if len(named) == 1:
        return named[0]
    if not bottle.lot and len(lots) == 1:
        return lots[0]
    return opened[0] if len(opened) == 1 else None


def _family(lots: Sequence[Lot], lot: Lot, rows: Collection[int]) -> list[Lot]:
    """The lot, and what was opened out of it since the sheet was made and has no row there."""
    if lot.opened_on:
        return [lot]
    look = (fold(lot.name), lot.received_on)
    alike = [one for one in lots if (fold(one.name), one.received_on) == look]
    if any(one.id < lot.id and not one.opened_on and one.id in rows for one in alike):
        return [lot]  # the row before has taken them
    return [lot, *(one for one in alike if one.opened_on and one.id not in rows)]


def _bottles(lots: Sequence[Lot]) -> str:
    names = [called(lot) for lot in lots]
    return f"it has {', '.join(names)}" if names else "it has none"
