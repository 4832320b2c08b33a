"""What the written bills ask of a supply: by pattern, and of a session by the stages its pieces reached."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from inventory.catalogue import BillLine, Catalogue, Pattern, fold
from inventory.ledger.sessions import Outcome
from inventory.making.bom import bill_or_nothing, times
from inventory.measures import Length

Amounts = dict[str, dict[str, Fraction]]
"""Units of each part, by folded name and `per`."""


def bill_lines(written: Catalogue, pattern: Pattern) -> tuple[BillLine, ...]:
    """The lines for named parts: a role (the kit, the tubes) is counted pieces, of which nothing is learned."""
    # An empty bill stops whoever wants to make the pattern, not what others teach.
    return tuple(one for one in bill_or_nothing(written, pattern) if fold(one.part) in written.parts)


def quantities(written: Catalogue) -> dict[str, dict[str, tuple[Fraction, ...]]]:
    """What patterns write for one `per` of each part, in its unit: by folded name and `per`, smallest first."""
    found: dict[str, dict[str, set[Fraction]]] = {}
    for pattern in written.patterns.values():
        for line in bill_lines(written, pattern):
            by_per = found.setdefault(fold(line.part), {})
            by_per.setdefault(line.per, set()).add(Fraction(line.quantity, 1000))
    return {
        key: {per: tuple(sorted(several)) for per, several in by_per.items()} for key, by_per in found.items()
    }


def pers_of(written: Catalogue, part: str) -> tuple[str, ...]:
    """The `per`s by which any pattern's bill takes a part."""
    return tuple(quantities(written).get(fold(part), ()))


class BilledUse:
    """What the written bills ask of sessions: years of them make the same patterns, each worked out once."""

    def __init__(self, written: Catalogue) -> None:
        self.written = written
        self.lines: dict[str, tuple[BillLine, ...]] = {}
        self.each: dict[tuple[str, Length | None, BillLine], Fraction] = {}

    def of(self, outcomes: Iterable[Outcome]) -> Amounts:
        """What a session's outcomes ask for.

        What a session takes once counts once: at each stage the most that any of its patterns asks.
        """
        sums: Amounts = {}
        most: Counter[tuple[str, str]] = Counter()
        for outcome in outcomes:
            made = fold(outcome.pattern)
            if made not in self.lines:
                self.lines[made] = bill_lines(self.written, self.written.pattern(outcome.pattern))
            reached = {stage: outcome.reached(stage) for stage in {one.stage for one in self.lines[made]}}
            for at, quantity in _once(one for one in self.lines[made] if reached[one.stage]).items():
                most[at] = max(most[at], quantity)
            for line in self.lines[made]:
                if line.per != "session" and reached[line.stage]:
                    each = self._a_piece(made, outcome.extra_diameter, line)
                    _add(sums, line.part, line.per, each * reached[line.stage])
        for (part, _), quantity in most.items():
            _add(sums, part, "session", Fraction(quantity, 1000))
        return sums

    def _a_piece(self, pattern: str, extra: Length | None, line: BillLine) -> Fraction:
        """The units one piece takes by a line."""
        key = pattern, extra, line
        if key not in self.each:
            family = self.written.family(self.written.pattern(pattern).family)
            self.each[key] = line.quantity * times(self.written, family, line.per, extra) / 1000
        return self.each[key]


def _once(lines: Iterable[BillLine]) -> dict[tuple[str, str], int]:
    """What one pattern takes once a session, by folded part and stage."""
    sums: Counter[tuple[str, str]] = Counter()
    for line in lines:
        if line.per == "session":
            key = (fold(line.part), line.stage)
            sums[key] += line.quantity
    return sums


def _add(sums: Amounts, part: str, per: str, amount: Fraction) -> None:
    by_per = sums.setdefault(fold(part), {})
    by_per[per] = by_per.get(per, Fraction(0)) + amount
