"""What a difference teaches: as the maker says, else by the likeliest reason that is shown and accepted with the sheet.

What evaporated, was spilt or thrown away, was counted wrong before or cannot be at all was not used in the work, and
no rate learns it. Use that was seen from its beginning to its end (weighed before and after, or written down) is
learned whatever else might be the reason.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from inventory.catalogue import fold
from inventory.jobs.sessions.reconciling.measured import NOT_USED, Checked, Measures
from inventory.reports.filled import REASONS
from inventory.reports.session_report import SessionDifference

USED: Final = REASONS[0]
_BEGINNINGS: Final = {
    "us": USED,
    "evap": "evaporated",
    "spil": "spilt",
    "thr": "thrown away",
    "count": "counted wrong before",
}


def word_of(reason: str) -> str:
    """Our word for what the maker wrote; empty for a reason of his own."""
    said = fold(reason)
    return next((word for start, word in _BEGINNINGS.items() if said.startswith(start)), "")


@dataclass(frozen=True, slots=True)
class Verdict:
    """differences: as they are shown; words: by folded part, of what was not used in the work and is not learned.

    gone: the same of what was missing before the session began.
    """

    differences: tuple[SessionDifference, ...]
    words: Mapping[str, str]
    gone: Mapping[str, str]

    def taught(self, part: str) -> bool:
        """Whether what was measured of a part (folded) says how much the work takes."""
        return part not in self.words

    def word(self, part: str, *, before: bool = False) -> str:
        """By which word what the bills did not expect leaves the shelf."""
        return self.gone.get(part, NOT_USED) if before else self.words.get(part, "weighed")


def verdict_of(
    measures: Measures, checked: Sequence[Checked], explained: Sequence[SessionDifference]
) -> Verdict:
    """What is learned of every part. explained: one for each checked row that differs, in their order."""
    words, gone = dict.fromkeys(measures.unsound, NOT_USED), dict[str, str]()
    rows = [row for row in checked if row.counted != row.expected]
    missing_before = {
        fold(row.part) for row in rows if row.before and row.expected - row.counted > 2 * row.error
    }
    for key, reasons in measures.reasons.items():
        other = [reason for reason in reasons if word_of(reason) != USED]
        if other:  # of a bottle that was weighed before and after, it is of what was missing before
            (gone if key in missing_before else words)[key] = word_of(other[0]) or NOT_USED
    shown = []
    for row, one in zip(rows, explained, strict=True):
        key = fold(row.part)
        ours = "evaporated" if one.likely[0].startswith("evaporation") else NOT_USED
        if row.before:
            gone.setdefault(key, ours)
        elif not one.learned and key not in measures.sure and key not in measures.reasons:
            words.setdefault(key, ours)
        mine = measures.reasons.get(key, ()) if row.before == (key in missing_before) else ()
        learned = not row.before and key not in words
        shown.append(
            replace(_as_said(one, mine), learned=learned, before=row.before, word=words.get(key, ""))
        )
    return Verdict(tuple(shown), words, gone)


def _as_said(one: SessionDifference, reasons: Sequence[str]) -> SessionDifference:
    """The maker's own reason stands first."""
    if not reasons:
        return one
    said = tuple(f"as you say: {reason}" for reason in dict.fromkeys(reasons))
    likely = (*said, *one.likely)[: max(len(one.likely), len(said))]
    return replace(one, likely=likely, unexplained=False)
