"""Exchange rates said on a command line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Annotated

import typer

from inventory.errors import BadInput
from inventory.ledger.shop import Shop
from inventory.measures import currency, read_number

RateOption = Annotated[
    list[str] | None,
    typer.Option(help="A rate, as USD=0.92; may be repeated."),
]


def rate_setting(text: str, own: str) -> tuple[str, str]:
    """`USD=0.92` as a setting's key and value. Raises BadInput or BadMeasure."""
    code, _, worth = text.partition("=")
    coin = currency(code.strip())
    if not worth.strip() or read_number(worth) <= 0 or coin.code == own:
        raise BadInput(
            f"The rate “{text}” cannot be used.", hint=f"Write USD=0.92: one US dollar is 0.92 {own}."
        )
    return f"rate {coin.code}", worth.strip()


def with_rates(shop: Shop, rates: Iterable[str]) -> Shop:
    """The shop with rates said for this once."""
    said = dict(rate_setting(text, shop.currency.code) for text in rates)
    return replace(shop, settings={**shop.settings, **said}) if said else shop
