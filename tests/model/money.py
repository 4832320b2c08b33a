"""Money that comes and goes beside the shelf: what is paid for orders, what is spent."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, precondition, rule

from .plain import Model
from .tool import Tool


class Money(RuleBasedStateMachine):
    """The part of the random hand that pays and spends."""

    model: Model
    tool: Tool

    @abstractmethod
    def both(self, what: str, mine: Callable[[], None], tools: Callable[[], int]) -> None:
        """Do it on both sides."""

    @precondition(lambda self: self.model.wishes)
    @rule(data=st.data(), amount=st.integers(1, 99), back=st.booleans())
    def pay(self, data: st.DataObject, amount: int, back: bool) -> None:
        """Money for an order, or back."""
        order = data.draw(st.sampled_from(sorted(self.model.wishes)))
        self.both(
            "paid",
            lambda: self.model.pay(order, amount, back=back),
            lambda: self.tool.pay(order, amount, back=back),
        )

    @rule(
        what=st.sampled_from(("stall fee", "postage")),
        amount=st.integers(0, 99),
        at=st.sampled_from(("", "harbour market")),
        data=st.data(),
    )
    def spend(self, what: str, amount: int, at: str, data: st.DataObject) -> None:
        """Money for no part: of an order, one nobody knows now and then."""
        order = data.draw(st.sampled_from(["", *sorted(self.model.wishes), "S99"]))
        self.both(
            "spent",
            lambda: self.model.spend(what, amount, at, order),
            lambda: self.tool.spend(what, amount, at, order),
        )
