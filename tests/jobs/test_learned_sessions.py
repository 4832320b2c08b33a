"""Where a rate comes from, session by session."""

from __future__ import annotations

from fractions import Fraction
from statistics import median

import pytest

from inventory.jobs.learning.learned_figures import _losses, loss_estimates, relearn
from inventory.jobs.learning.use_by_session import session_uses
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Happened, Outcome, RateWord
from jobs import goods
from jobs.learning_case import AVOCET, TURNSTONE, happened, off_by, outcome, shop
from jobs.shop import TODAY

KNOWN = shop()
TUBES = "tube glue volume"
MADE = (outcome(TURNSTONE, 12), outcome(AVOCET, 5))


def sessions(many: int, times: float) -> list[Happened]:
    """Sessions that used so many times the glue that is written."""
    return [
        happened(n, *MADE, glue=(times * off_by(KNOWN, MADE, goods.GLUE), 0.05), strip=(11.0, 0.3))
        for n in range(1, many + 1)
    ]


def test_expected_now_and_really() -> None:
    """By the sheet, by the rates of now, and what the scale said, with its error and day."""
    seen = sessions(6, 1.3)
    use = session_uses(KNOWN, seen, [], relearn(KNOWN, seen), goods.GLUE.upper())[2]
    assert (use.document, use.on, use.way, use.standing) == (3, seen[2].on, "weighed", "counts")
    assert float(use.expected) == pytest.approx(off_by(KNOWN, MADE, goods.GLUE))
    assert float(use.used) == pytest.approx(1.3 * off_by(KNOWN, MADE, goods.GLUE), abs=5e-4)
    assert float(use.now) == pytest.approx(float(use.used), rel=0.02)
    assert use.error == Fraction(1, 20)


def test_without_anything_learned_now_is_the_sheet() -> None:
    """Only sessions that measured the part are listed."""
    (use,) = session_uses(KNOWN, sessions(1, 1.0), [], LearnedFigures(), goods.STRIP)
    assert use.now == use.expected
    assert session_uses(KNOWN, [happened(1, *MADE)], [], LearnedFigures(), goods.STRIP) == ()


def test_left_out_forgotten_or_idle() -> None:
    """Why a session does not count: unlike the others, before a reset, or nothing was made with the part."""
    seen = sessions(8, 1.1)
    seen[4] = happened(5, *MADE, glue=(-20.0, 0.05))
    seen.append(happened(9, outcome(TURNSTONE, 0, drill=2), glue=(0.5, 0.05)))
    told = [one.standing for one in session_uses(KNOWN, seen, [], relearn(KNOWN, seen), goods.GLUE)]
    assert told == [*["counts"] * 4, "left out", *["counts"] * 3, "nothing made"]
    words = [RateWord(goods.GLUE, TUBES, "reset", document=6)]
    uses = session_uses(KNOWN, seen, words, relearn(KNOWN, seen, words), goods.GLUE)
    assert [one.standing for one in uses] == [*["forgotten"] * 6, "counts", "counts", "nothing made"]


def test_how_far_sessions_differ_is_kept() -> None:
    """Every other session uses 15 % more, the others 15 % less: about that is kept of the hand, in millionths."""
    seen = [sessions(8, 1.15 if n % 2 else 0.85)[n] for n in range(8)]
    (rate,) = (one for one in relearn(KNOWN, seen).rates if one.part == goods.GLUE)
    assert 100_000 < median(abs(hand) for hand in rate.hands) < 350_000


def test_a_loss_is_kept_with_the_pieces_it_is_worth() -> None:
    """In thousandths, of every stage that pieces of the material reached: what later orders are reckoned with."""
    written = goods.catalogue()
    one = Outcome("Reed", "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, 17, {"drill": 1, "turn": 2})
    found = {(loss.material, loss.stage): loss for loss in _losses(written, [Happened(1, TODAY, (one,), ())])}
    counts = {key: (loss.reached, loss.lost) for key, loss in found.items()}
    assert counts["olive wood", "drill"] == (20, 1)
    assert counts["olive wood", "turn"] == (19, 2)
    for key, loss in loss_estimates(written, counts).items():
        assert loss.worth > 1
        assert found[key].worth / 1000 == pytest.approx(loss.worth, abs=0.001)
        assert found[key].share / 1_000_000 == pytest.approx(loss.mean, abs=0.000001)
