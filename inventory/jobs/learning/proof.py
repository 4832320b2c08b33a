"""Proof of the learned figures: kept ones against those that the booked sessions give."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from inventory.ledger.learned import MILLION, LearnedFigures, LearnedLoss, LearnedRate
from inventory.measures import plural

LEAST: Final = 2
THOUSANDTH: Final = 1_000
"""Figures closer than a thousandth agree: libraries of another machine may round the last digits otherwise."""


def disagreements(kept: LearnedFigures, anew: LearnedFigures) -> tuple[str, ...]:
    """Where kept figures are not those worked out anew, one sentence each."""
    rates = _of_rates(_rates(kept), _rates(anew))
    losses = _of_losses(_losses(kept), _losses(anew))
    return (*rates, *losses)


def _rates(figures: LearnedFigures) -> Mapping[tuple[str, str], LearnedRate]:
    return {(one.part, one.per): one for one in figures.rates}


def _losses(figures: LearnedFigures) -> Mapping[tuple[str, str], LearnedLoss]:
    return {(one.material, one.stage): one for one in figures.losses}


def _of_rates(
    kept: Mapping[tuple[str, str], LearnedRate], anew: Mapping[tuple[str, str], LearnedRate]
) -> Iterator[str]:
    for key in dict.fromkeys([*kept, *anew]):
        old, new = kept.get(key), anew.get(key)
        same = (
            old is not None
            and new is not None
            and (old.sessions, old.outliers, old.pinned) == (new.sessions, new.outliers, new.pinned)
            and _close((old.factor, old.low, old.high), (new.factor, new.low, new.high))
            and _same_points(old, new)
        )
        if not same:
            yield f"The rate of {key[0]} per {key[1]} is kept {_rate(old)}, by the sessions {_rate(new)}."


def _same_points(old: LearnedRate, new: LearnedRate) -> bool:
    """Whether they foretell the same of sessions to come; a book of an earlier version has none until it learns."""
    if not old.points:
        return True
    many = len(old.points), len(old.hands)
    return many == (len(new.points), len(new.hands)) and _close(
        (*old.points, *map(abs, old.hands), old.ordinary), (*new.points, *map(abs, new.hands), new.ordinary)
    )


def _rate(one: LearnedRate | None) -> str:
    if one is None:
        return "as in the sheet"
    many = "pinned" if one.pinned else plural(one.sessions, "session")
    factor, low, high = (f"{figure / MILLION:.3f}" for figure in (one.factor, one.low, one.high))
    return f"as {factor} times the sheet ({low} to {high}, {many})"


def _of_losses(
    kept: Mapping[tuple[str, str], LearnedLoss], anew: Mapping[tuple[str, str], LearnedLoss]
) -> Iterator[str]:
    for key in dict.fromkeys([*kept, *anew]):
        old, new = kept.get(key), anew.get(key)
        same = (
            old is not None
            and new is not None
            and (old.reached, old.lost) == (new.reached, new.lost)
            and _close((old.share,), (new.share,))
        )
        if not same:
            yield f"The loss of {key[0]} at {key[1]} is kept {_loss(old)}, by the sessions {_loss(new)}."


def _loss(one: LearnedLoss | None) -> str:
    if one is None:
        return "as in the sheet"
    return f"as {100 * one.share / MILLION:.3g} % ({one.lost} spoiled of {one.reached})"


def _close(old: tuple[int, ...], new: tuple[int, ...]) -> bool:
    return all(abs(a - b) <= max(LEAST, max(a, b) // THOUSANDTH) for a, b in zip(old, new, strict=True))
