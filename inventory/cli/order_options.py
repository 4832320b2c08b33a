"""An order said in options: what `can-take`, `promise` and `change` ask, and what becomes of the answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

import typer

from inventory.catalogue import Order
from inventory.errors import BadInput
from inventory.jobs.orders.requests import OrderRequest
from inventory.measures import Currency, read_date, read_fraction, read_length, read_money

PlatingOption = Annotated[str, typer.Option("--plating", "-p", help="The plating wanted.")]
OrPlatingOption = Annotated[
    list[str] | None,
    typer.Option("--or-plating", help="A plating the customer accepts instead; may be repeated."),
]
BlankOption = Annotated[
    str,
    typer.Option(
        "--blank", "-b", help="The blank, or all that would do: “walnut or ash”, “any wood”, “any”."
    ),
]
CountOption = Annotated[int | None, typer.Option(help="Good pieces wanted; 1 if not said.")]
ByOption = Annotated[str, typer.Option("--by", metavar="DATE", help="The day it is wanted.")]
RefillOption = Annotated[str, typer.Option(help="Another refill than the family's own.")]
ExtraOption = Annotated[
    str, typer.Option("--extra-diameter", metavar="LENGTH", help="How much thicker than the fittings.")
]
ConfidenceOption = Annotated[str, typer.Option(help="How sure the parts suffice, in %.")]


@dataclass(frozen=True, slots=True)
class OrderOptions:
    """What the options said, as text; true where any of them was said.

    typer takes a command's options from its signature, which each command therefore writes out.
    """

    pattern: str = ""
    plating: str = ""
    blank: str = ""
    count: int | None = None
    by: str = ""
    or_plating: Sequence[str] | None = None
    refill: str = ""
    extra_diameter: str = ""
    customer: str = ""
    price: str = ""

    def __bool__(self) -> bool:
        """Whether any of them was said."""
        return self != OrderOptions()

    def request(self, confidence: float) -> OrderRequest:
        """The request they say. Raises BadInput where one that is needed is missing, BadMeasure."""
        return OrderRequest(**self._whole(), confidence=confidence)

    def order(self, name: str, coin: Currency) -> Order:
        """The order of this name they say. Raises as `request` does."""
        return Order(name, **self._whole(), customer=self.customer, price=self._price(coin))

    def laid_over(self, order: Order, coin: Currency) -> Order:
        """The order with what was said in its place. Raises BadMeasure."""
        said = self._read()
        if self.blank:
            said["blanks"] = ""  # those that would have done before
        if self.customer:
            said["customer"] = self.customer
        if self.price:
            said["price"] = self._price(coin)
        return replace(order, **said)

    def _whole(self) -> dict[str, Any]:
        needed = ("PATTERN", self.pattern), ("--blank", self.blank), ("--by", self.by)
        missing = [name for name, said in needed if not said]
        if missing:
            raise BadInput(
                f"{' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing.",
                hint="A new one: PATTERN, --plating, --blank, --count and --by DATE. One in the book goes by its name.",
            )
        return {"platings": (), "count": 1} | self._read()

    def _read(self) -> dict[str, Any]:
        """The fields of a request that were said."""
        platings = (self.plating, *(self.or_plating or ()))
        fields = {
            "pattern": self.pattern,
            "platings": tuple(dict.fromkeys(name for name in platings if name)),
            "blank": self.blank,
            "count": self.count,
            "due": read_date(self.by) if self.by else None,
            "refill": self.refill,
            "extra_diameter": read_length(self.extra_diameter) if self.extra_diameter else None,
        }
        return {name: said for name, said in fields.items() if said not in (None, "", ())}

    def _price(self, coin: Currency) -> int | None:
        return read_money(self.price, coin) if self.price else None


def read_confidence(text: str) -> float:
    """`90`, `90 %` or `0.9` as a share."""
    shown = text.strip()
    share = read_fraction(shown if "%" in shown or shown.startswith(("0", ".")) else f"{shown} %")
    if not 0 < share < 1:
        raise BadInput(f"A confidence of {text} is none.", hint="Give a figure between 1 and 99, such as 90.")
    return float(share)


def read_lost(text: str) -> tuple[str, int]:
    """`turn=1` as a stage and how many were lost there."""
    stage, _, pieces = text.partition("=")
    if not pieces.strip().isdecimal():
        raise BadInput(f"“{text}” is not a loss.", hint="Write STAGE=N, such as turn=1.")
    return stage.strip().casefold(), int(pieces)
