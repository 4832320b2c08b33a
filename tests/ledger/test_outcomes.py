"""What came of a row of a session, by stage."""

from __future__ import annotations

from jobs.shop import TODAY

from inventory.ledger import DueIn, Line
from inventory.ledger.sessions import Outcome, Session


def test_pieces_begun_are_the_good_and_the_lost() -> None:
    """Seven good, one lost at drilling and two at turning: ten were begun, nine reached turning, seven assembly."""
    row = Outcome("A", "Turnstone gloss", "Turnstone", "walnut", 7, {"drill": 1, "turn": 2})
    assert row.started == 10
    assert [row.reached(stage) for stage in ("drill", "turn", "assemble")] == [10, 9, 7]
    assert Outcome("A", "Turnstone gloss", "Turnstone", "walnut", 7).started == 7


def test_what_nobody_says_is_nothing() -> None:
    """A session that is not booked has no number, nothing is saved of a lost piece, a pack is one."""
    session = Session("Saturday", TODAY, ())
    assert (session.state, session.number, session.document) == ("planned", 0, 0)
    outcome = Outcome("S41", "Dunlin pen", "Dunlin kit chrome", "walnut blank", 3)
    assert (outcome.tubes_saved, outcome.kits_saved, outcome.in_part) == (0, 0, 0)
    assert (outcome.lost, outcome.refill, outcome.extra_diameter) == ({}, None, None)
    due = DueIn(1, "walnut blank", "Harbour Pen Kits", 3000, 450, None)
    assert (due.claimed, due.pack, due.code) == (0, 1000, "")
    line = Line("shelf", "walnut blank", 1000)
    assert (line.cost, line.cost_from, line.lot, line.order, line.stage) == (0, 0, None, None, "")
