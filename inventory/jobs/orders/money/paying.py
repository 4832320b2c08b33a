"""What customers have paid: an entry of its own, or one with the hand-over; and who owes what."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from inventory.catalogue import STALL, Order, fold
from inventory.errors import BadInput, Refused
from inventory.ledger import Proposal
from inventory.ledger.documents.proposal import Payment
from inventory.ledger.shop import Shop
from inventory.measures import Currency, show_money

Paid = Mapping[str, int]
"""Minor units paid so far, by folded order; an order somebody settled for nothing is there with 0."""


@dataclass(frozen=True, slots=True)
class Account:
    """How an order stands with its money, minor units. agreed: for all of it, None where no price is; paid: so far.

    owed: for the pieces its customer has, as far as it is not paid (below 0: paid ahead); None without a price.
    """

    order: Order
    agreed: int | None
    paid: int
    owed: int | None

    @property
    def open(self) -> int | None:
        """What is still to come, for pieces that are still to be handed over too; None without a price."""
        return None if self.agreed is None else self.agreed - self.paid


@dataclass(frozen=True, slots=True)
class PaymentReport:
    """The proposed document, the sum (below 0: given back), and the account afterwards."""

    proposal: Proposal
    amount: int
    account: Account


def account(order: Order, paid: Paid, handing: int = 0) -> Account:
    """An order's account. handing: pieces that go to its customer just now."""
    said = paid.get(fold(order.name), 0)
    if order.price is None:
        return Account(order, None, said, None)
    with_customer = order.whole if order.state == "handed over" else order.handed + handing
    return Account(order, order.price * order.whole, said, order.price * with_customer - said)


def unpaid(shop: Shop, paid: Paid) -> tuple[Account, ...]:
    """Promised and handed-over orders that are not paid in full, those that owe for what they have first.

    One that was handed over without a price and never paid is among them: nobody knows what it owes.
    """
    found = [
        account(one, paid)
        for one in shop.book.orders.values()
        if one.state in ("promised", "handed over") and one.customer != STALL
    ]
    waiting = [one for one in found if _waits(one, paid)]
    return tuple(sorted(waiting, key=lambda one: (not one.owed, one.order.due, fold(one.order.name))))


def _waits(one: Account, paid: Paid) -> bool:
    if one.open is None:
        return one.order.state == "handed over" and fold(one.order.name) not in paid
    return one.open > 0


def pay(
    shop: Shop, order: Order, paid: Paid, amount: int | None = None, *, back: bool = False
) -> PaymentReport:
    """The document of a payment. amount: minor units, None for all that is open; back: it is given back.

    Raises Refused where nothing is open or less was paid than is given back, BadInput where the sum has to be said.
    """
    before = account(order, paid)
    coin = shop.currency
    if order.state == "released" and not back:
        raise Refused(f"“{order.name}” was given up.", hint="Money that is given back: --back.")
    if amount is None:
        amount = _all(before, back=back)
    if amount <= 0:
        raise BadInput(
            f"{show_money(amount, coin)} is no payment.", hint="Give a sum above 0; --back gives it back."
        )
    if back and amount > before.paid:
        raise Refused(
            f"Only {show_money(before.paid, coin)} was paid for “{order.name}”.",
            hint="No more can be given back.",
        )
    signed = -amount if back else amount
    what = f"Gave back {show_money(amount, coin)} of" if back else f"Paid {show_money(amount, coin)} for"
    proposal = Proposal(
        "paid",
        f"{what} {order.name}",
        shop.today,
        payments=(Payment(order.name, signed),),
        expected_version=shop.book.version,
    )
    return PaymentReport(proposal, signed, account(order, {**paid, fold(order.name): before.paid + signed}))


def _all(before: Account, *, back: bool) -> int:
    name = before.order.name
    if back:
        return before.paid
    if before.open is None:
        raise BadInput(f"“{name}” has no price.", hint=f'Say the sum: kitdrawer paid "{name}" 24.00')
    if before.open <= 0:
        raise Refused(f"“{name}” is paid.", hint="More than was agreed: say the sum.")
    return before.open


def with_hand_over(order: Order, paid: Paid, pieces: int) -> tuple[Payment, ...]:
    """The payment of what is owed once so many more pieces are handed over; none where all of it was paid before.

    Raises BadInput where no price is agreed.
    """
    then = account(order, paid, pieces)
    if then.owed is None:
        hint = f'Hand it over, then say the sum: kitdrawer paid "{order.name}" 24.00'
        raise BadInput(f"“{order.name}” has no price.", hint=hint)
    return (Payment(order.name, then.owed),) if then.owed > 0 else ()


def owed_in_words(after: Account, coin: Currency) -> str:
    """What is owed once pieces were handed over, and what for: the agreed price of what the customer has, less paid."""
    paid, order = show_money(after.paid, coin), after.order
    if after.owed is None or order.price is None:
        return f"No price is agreed; {paid} paid so far." if after.paid else "No price is agreed."
    pieces = (after.owed + after.paid) // order.price if order.price else order.whole
    more = (after.open or 0) - after.owed
    rest = f" {show_money(more, coin)} more is for the pieces still to come." if more else ""
    if after.owed > 0:
        each = show_money(order.price, coin)
        return f"Still owed: {show_money(after.owed, coin)} ({pieces} × {each}, less {paid} paid).{rest}"
    if after.owed < 0:
        return f"Paid ahead: {show_money(-after.owed, coin)}.{rest}"
    return f"It is paid.{rest}"


def together(accounts: Iterable[Account]) -> tuple[int, int]:
    """Minor units owed for what customers have, and what is still to come with what is promised."""
    every = list(accounts)
    owed = sum(max(one.owed or 0, 0) for one in every)
    return owed, sum(one.open or 0 for one in every) - owed
