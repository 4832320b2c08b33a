"""Why was counted what was not expected: likely reasons, worked out from the book, the likeliest first.

The weights put reasons in order; they are an assumption of the trade, not probabilities. From the top: no more than the
measuring (1, and then nothing else is said); a unit that fits to 1 % (0.9); a neighbour's difference that is just the
opposite (0.9); two like documents (0.88); all of what is due in (0.85); a lot gone off that held just that, the
bottle's own weight (0.8); one document of just that size (0.75); a forgotten piece from 0.1 to 0.9 by how many parts
of its bill are missing alike; evaporation (0.6); fittings saved from a kit (0.4 to 0.55).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from inventory.catalogue import Part, Supply, fold
from inventory.jobs.differences.case import BookMemory, Case, Reason
from inventory.jobs.differences.in_the_book import book_reasons, ordinary
from inventory.jobs.differences.neighbours import cannibalised_reasons, neighbour_reasons
from inventory.jobs.differences.unbooked_pieces import forgotten_pieces, piece_reasons
from inventory.jobs.differences.units import unit_reasons
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger.shop import Shop
from inventory.reports.session_report import SessionDifference

__all__ = ["MOST", "BookMemory", "differing", "explain"]

LIKELY: Final = 0.5
"""A reason of less weight does not keep a difference from being taken for use."""
MOST: Final = 3
"""Reasons said of one part."""
NOTHING_FOUND: Final = "no reason found: count it once more"


def differing(rows: Iterable[Checked]) -> tuple[str, ...]:
    """Names of the parts whose count is not what was expected: those `explain` wants the recent lines of."""
    return tuple(dict.fromkeys(row.part for row in rows if row.counted != row.expected))


def explain(
    shop: Shop, rows: Sequence[Checked], context: BookMemory | None = None
) -> tuple[SessionDifference, ...]:
    """Each difference with at most three reasons, the likeliest first. rows: every part checked, right ones too.

    `learned` says whether by the likeliest the work took what is missing.

    Offers and lots of these parts should be in the shop. Rows of different lots of one part may stand side by side.
    """
    said = context or BookMemory()
    cases = [Case(shop.catalogue.part(r.part), r.expected, r.counted, r.error, r.way) for r in rows]
    pieces = forgotten_pieces(shop.catalogue, cases)
    names = {fold(case.part.name): case.part.name for case in cases}
    whole = {fold(case.part.name) for case in cases if _is_whole(case.part)}
    wrong = [case for case in cases if case.difference]
    on_hand = {key: balance.on_hand for key, balance in shop.book.balances.items()}
    done = []
    for case in wrong:
        plain = ordinary(case, said)
        reasons = [plain] if plain else []
        if not plain or plain.weight < 1:
            others = [other for other in wrong if other is not case]
            reasons += unit_reasons(shop, case)
            reasons += book_reasons(shop, case, said)
            reasons += neighbour_reasons(shop.catalogue, case, others)
            reasons += cannibalised_reasons(shop.catalogue, case, on_hand)
            reasons += piece_reasons(case, pieces.get(fold(case.part.name)), names, whole)
        ranked = sorted(reasons, key=lambda one: -one.weight)  # of equals, the first said stays first
        likely = tuple(dict.fromkeys(one.text for one in ranked))[:MOST] or (NOTHING_FOUND,)
        done.append(
            SessionDifference(
                case.part.name,
                case.part.unit,
                case.expected,
                case.counted,
                likely,
                _is_use(ranked),
                unexplained=not ranked or ranked[0].weight < LIKELY,
            )
        )
    return tuple(done)


def _is_use(ranked: Sequence[Reason]) -> bool:
    """Whether the work took what is missing: no reason is likely by which it did not."""
    return not ranked or ranked[0].use or ranked[0].weight < LIKELY


def _is_whole(part: Part) -> bool:
    """Whether a part is counted in whole ones, so that pieces nobody booked would show in it."""
    return not isinstance(part.detail, Supply) or fold(part.detail.type) == "refill"
