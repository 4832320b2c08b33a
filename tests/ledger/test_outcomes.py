"""What came of a row of a session, by stage."""

from __future__ import annotations

from inventory.ledger.sessions import Outcome


def test_pieces_begun_are_the_good_and_the_lost() -> None:
    """Seven good, one lost at drilling and two at turning: ten were begun, nine reached turning, seven assembly."""
    row = Outcome("A", "Turnstone gloss", "Turnstone", "walnut", 7, {"drill": 1, "turn": 2})
    assert row.started == 10
    assert [row.reached(stage) for stage in ("drill", "turn", "assemble")] == [10, 9, 7]
    assert Outcome("A", "Turnstone gloss", "Turnstone", "walnut", 7).started == 7
