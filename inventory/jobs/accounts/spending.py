"""What is spent beside parts: a stall fee, a commission, fuel, postage to a customer, packaging bought as such."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from inventory.catalogue import Order
from inventory.errors import BadInput
from inventory.ledger import Proposal
from inventory.ledger.documents.proposal import Expense
from inventory.ledger.shop import Shop
from inventory.measures import read_fraction, read_money, show_date, show_money

COMMISSION = "commission"
"""What is spent as a share of a sale."""


def expense(
    shop: Shop, what: str, amount: int, on: date, at: str = "", order: Order | None = None
) -> Expense:
    """One that can be booked. Raises BadInput where nothing was spent, nobody said on what, or its day is to come."""
    if not what.strip():
        raise BadInput("What was it spent on?", hint='Say it: kitdrawer spent "stall fee" 45')
    if amount <= 0:
        raise BadInput(f"{show_money(amount, shop.currency)} is nothing spent.", hint="Give a sum above 0.")
    if on > shop.today:
        raise BadInput(f"{show_date(on)} is still to come.", hint=f"Give {shop.today} or a day before.")
    return Expense(what.strip(), amount, on, at, None if order is None else order.name)


def said(shop: Shop, one: Expense) -> str:
    """In a line."""
    at, order = f" at {one.at}" if one.at else "", f", for {one.order}" if one.order else ""
    return f"Spent {show_money(one.amount, shop.currency)}: {one.what}{at}{order}"


def spending(shop: Shop, one: Expense) -> Proposal:
    """The document of one."""
    return Proposal("spent", said(shop, one), one.on, expenses=(one,), expected_version=shop.book.version)


def commission_of(shop: Shop, text: str, taken: int) -> int:
    """`15 %` of what was taken, rounded half to even, or a sum. Raises BadInput, BadMeasure."""
    if "%" not in text:
        return read_money(text, shop.currency)
    share = read_fraction(text)
    if not 0 < share < 1:
        raise BadInput(
            f"A commission of {text} is none.", hint="Give a share below 100 %, such as 15 %, or a sum."
        )
    return round(Fraction(taken) * share)
