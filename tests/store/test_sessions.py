"""Sessions: planned, booked, taken back; what was made and learned comes back as it was written."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from inventory.errors import StillNeeded
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Happened, Planned, RateWord, Session
from inventory.store import Store, verify

from .shop import DAY, FIRST, GLUE, KIT, LEARNED, OBSERVED, OUTCOME, PIECE, made, planned, receipt


@pytest.fixture
def booked(store: Store) -> Store:
    """A store with one session planned (entry 2) and booked (entry 3)."""
    store.commit(planned(FIRST))
    store.commit(made(FIRST, 1))
    return store


def test_round_trip(booked: Store) -> None:
    """Plan, outcome, weighing, words, figures and the finished piece are read as they were written."""
    with booked.reading() as read:
        assert read.sessions() == (Session("2026-03-07", DAY, (Planned(FIRST, KIT, 4),), "booked", 1, 2),)
        assert read.happened() == (Happened(3, DAY, (replace(OUTCOME, order=FIRST),), (OBSERVED,)),)
        assert read.rate_words() == (RateWord(GLUE, "tube glue volume", "pin", 1_250_000, 3),)
        assert read.learned() == LEARNED
        assert read.catalogue().part(PIECE.name) == PIECE
        told = read.document(3)
    assert told.session_states == ((1, "booked"),)
    assert told.teaches
    assert verify(booked) == ()


def test_learned_figures_are_in_the_catalogue(booked: Store) -> None:
    """Who looks gets the learned share and factor; the written catalogue stays as the sheets wrote it."""
    with booked.reading() as read:
        now, written = read.catalogue(), read.written()
    assert now.material("Oak").losses == {"drill": Fraction(3, 100), "turn": Fraction(3, 200)}
    assert written.material("Oak").losses["drill"] == Fraction(1, 50)
    assert now.factor(GLUE.upper(), "tube glue volume") == Fraction(5, 4)
    assert now.factor(GLUE, "piece") == written.factor(GLUE, "tube glue volume") == 1


def test_undo_and_back(booked: Store) -> None:
    """Taking the booking back leaves the session planned, and nothing to learn from; undoing that brings it back."""
    back = booked.undo(3, on=DAY)
    assert back.session_states == ((1, "planned"),)
    booked.commit(replace(back, learned=LearnedFigures()))
    with booked.reading() as read:
        assert read.sessions()[0].state == "planned"
        assert (read.happened(), read.rate_words(), read.learned()) == ((), (), LearnedFigures())
    assert verify(booked) == ()
    again = booked.undo(4, on=DAY)
    assert again.session_states == ((1, "booked"),)
    booked.commit(replace(again, learned=LEARNED))
    with booked.reading() as read:
        assert [one.document for one in read.happened()] == [3]
        assert [one.document for one in read.rate_words()] == [3]
    assert verify(booked) == ()


def test_a_plan_that_is_booked_stays(booked: Store) -> None:
    """A plan cannot be taken back under its booking; alone it can, and its session is dropped."""
    with pytest.raises(StillNeeded, match="entry 3"):
        booked.undo(2, on=DAY)
    booked.commit(booked.undo(3, on=DAY))
    back = booked.undo(2, on=DAY)
    assert back.session_states == ((1, "dropped"),)
    booked.commit(back)
    with booked.reading() as read:
        assert read.sessions()[0].state == "dropped"
    assert verify(booked) == ()


def test_other_documents_teach_nothing(store: Store) -> None:
    """A receipt says nothing of sessions."""
    store.commit(receipt(KIT, 1_000, 400))
    with store.reading() as read:
        told = read.document(2)
    assert (told.session_states, told.teaches) == ((), False)
