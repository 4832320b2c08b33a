"""What a session's printed pages say of what can hurt, a paragraph for moments that belong together."""

from __future__ import annotations

from inventory.catalogue.safety import GOVERNS, MOMENTS, Safety
from inventory.sheets.forms.pages import Paragraph

_TOGETHER = (("cut", "turn"), ("finish",), ("glue",), ("flammables", "after"))
"""Moments whose statements stand in one paragraph."""


def safety_paragraphs(safety: Safety) -> list[Paragraph]:
    """What can hurt in this session, each statement once, by moment; selling is not of the session."""
    said = []
    for moments in _TOGETHER:
        some = [(MOMENTS[moment], safety.at(moment)) for moment in moments]
        texts = [f"{title}: {' '.join(one.says for one in every)}" for title, every in some if every]
        said += [Paragraph(" ".join(texts))] if texts else []
    return [*said, *([Paragraph(GOVERNS)] if said else [])]
