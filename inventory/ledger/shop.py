"""The shop as a job sees it: one consistent picture, the day, and the maker's own figures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from inventory.catalogue import Catalogue, Offer, Tool, fold
from inventory.ledger import Book
from inventory.ledger.costs import Prices
from inventory.ledger.learned import LearnedFigures
from inventory.measures import Currency, read_fraction, read_length, read_money, read_number
from inventory.measures import currency as read_currency

KERF_MM = Fraction(2)
"""Saw kerf where no saw is among the tools: between a band saw's 1 mm and a table saw's 3.2 (common practice)."""


@dataclass(frozen=True, slots=True)
class Shop:
    """offers: by folded part name. settings: what `begin` was told, as text. learned: what sessions taught.

    The catalogue's losses and factors are the learned ones already; `learned` says how well they are known.
    """

    catalogue: Catalogue
    book: Book
    currency: Currency
    today: date
    settings: Mapping[str, str] = field(default_factory=dict)
    offers: Mapping[str, tuple[Offer, ...]] = field(default_factory=dict)
    learned: LearnedFigures = field(default_factory=LearnedFigures)

    @property
    def labour_rate(self) -> int:
        """Minor units an hour; 15 of the shop's coin where nothing was said."""
        text = self.settings.get("labour rate")
        return read_money(text, self.currency) if text else 15 * 10**self.currency.exponent

    @property
    def margin(self) -> Fraction:
        """The share of the price that is to be left over: 30 % where nothing was said."""
        text = self.settings.get("margin")
        return read_fraction(text) if text else Fraction(30, 100)

    def rate(self, currency: str) -> Fraction | None:
        """The shop's minor units for one minor unit of another currency; None where nobody has said.

        The setting `rate USD` holds how much of the shop's coin one US dollar is.
        """
        if not currency or currency == self.currency.code:
            return Fraction(1)
        text = self.settings.get(f"rate {currency}")
        if not text:
            return None
        other = read_currency(currency)
        return read_number(text) * Fraction(10**self.currency.exponent, 10**other.exponent)

    @property
    def prices(self) -> Prices:
        """What the latest fitting offers say things cost."""
        return Prices(self.offers, self.catalogue.suppliers, self.rate)

    @property
    def kerf(self) -> Fraction:
        """Millimetres the saw turns to dust: the narrowest saw on hand, else the narrowest known, else 2 mm."""
        saws = [
            (self.book.balance(part.name).on_hand <= 0, read_length(part.detail.size).mm)
            for part in self.catalogue.parts.values()
            if isinstance(part.detail, Tool) and fold(part.detail.type) == "saw" and part.detail.size
        ]
        return min(saws)[1] if saws else KERF_MM
