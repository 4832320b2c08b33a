"""What a person reads on Sunday night: made, lost, used, missing, learned, to buy.

Quantities are thousandths of the part's unit, money minor units of the shop's currency. Shares and rates are exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.measures import Currency
from inventory.reports.shortfalls import Shortfall


@dataclass(frozen=True, slots=True)
class MadePieces:
    """Pieces of one pattern for one order: good and lost ones, and what all the good ones cost.

    priced: whether that is all of the cost; else it leaves out what nobody knows.
    """

    pattern: str
    order: str
    good: int
    lost: int
    cost: int
    priced: bool = True


@dataclass(frozen=True, slots=True)
class Lost:
    """Pieces lost at one stage, and what they had eaten by then, less what was saved of them; priced as in `Made`."""

    stage: str
    pieces: int
    cost: int
    priced: bool = True


@dataclass(frozen=True, slots=True)
class Used:
    """What one part was expected to be used, and what was."""

    part: str
    unit: str
    expected: int
    used: int


@dataclass(frozen=True, slots=True)
class SessionDifference:
    """What was counted of a part against what the book expected; likely: reasons, the likeliest first.

    learned: whether the rates take it for use; before: it was there before the session began; word: by what it left
    where they do not; unexplained: none of the reasons is a likely one.
    """

    part: str
    unit: str
    expected: int
    counted: int
    likely: tuple[str, ...] = ()
    learned: bool = True
    before: bool = False
    word: str = ""
    unexplained: bool = False

    @property
    def difference(self) -> int:
        """More (or, negative, less) than expected."""
        return self.counted - self.expected

    @property
    def unlearned(self) -> str:
        """What is not learned, and what would let it be; empty where it is use."""
        if self.learned:
            return ""
        if self.before:
            return "not learned as use"
        nothing = f"nothing learned of {self.part}"
        if self.difference > 0:
            return nothing
        if self.word == "evaporated":
            return (
                f"{nothing}: what the air took and what the work took cannot be told apart. Weigh it before the "
                "session too; if it was all used, write “used” under “reason”"
            )
        return f"{nothing}: by that it was not the work's. If it was, write “used” under “reason”"


@dataclass(frozen=True, slots=True)
class RateChanged:
    """How much of a part one `per` takes, in its unit: before and after this session."""

    part: str
    per: str
    before: Fraction
    after: Fraction
    unit: str


@dataclass(frozen=True, slots=True)
class LossChanged:
    """The share of pieces of a material lost at a stage: before and after this session."""

    material: str
    stage: str
    before: Fraction
    after: Fraction


@dataclass(frozen=True, slots=True)
class ToBuy:
    """A part to buy, and why."""

    part: str
    quantity: int
    unit: str
    reason: str


@dataclass(frozen=True, slots=True)
class SessionReport:
    """One session looked back on. unpriced: parts that went in and whose cost is not all known; notes: as written."""

    title: str
    on: date
    currency: Currency
    made: tuple[MadePieces, ...] = ()
    lost: tuple[Lost, ...] = ()
    used: tuple[Used, ...] = ()
    differences: tuple[SessionDifference, ...] = ()
    short: tuple[Shortfall, ...] = ()
    rates: tuple[RateChanged, ...] = ()
    losses: tuple[LossChanged, ...] = ()
    to_buy: tuple[ToBuy, ...] = ()
    cautions: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
