"""What a look at a part says of the sessions before it in which nobody looked."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from random import Random

import pytest

from inventory.catalogue import Part, Supply
from inventory.errors import Place
from inventory.jobs.learning.learned_figures import relearn
from inventory.jobs.learning.readings import looks, readings, unseen
from inventory.jobs.learning.use_by_session import session_uses
from inventory.jobs.sessions.reconciling.booking import book_session
from inventory.ledger.learned import LearnedFigures, LearnedRate, with_learned
from inventory.ledger.sessions import Happened, Observed, Outcome, Planned, RateWord, Session, Way
from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.priors import Prior
from inventory.reports.filled import FilledBottle
from jobs import goods
from jobs.sessions import SATURDAY, filled, piece
from jobs.shop import TODAY, order, plenty, shop

WHERE = Place("saturday", "bottles", 2, "gross g")
TARE, DENSITY = 62_000, Fraction(81, 100)
RESIN = Part(goods.EPOXY, Supply("adhesive", 1_000_000, TARE, None, None, (), DENSITY), "ml")
"""The bill says 2 ml a session of it."""
PEN = Outcome("Reed", "Turnstone gloss", "Turnstone kit chrome", goods.OLIVE, 5)


def seen(*ways: tuple[Way, int]) -> list[Happened]:
    """Sessions of five pencils each, one after another, and how each came to know what it used of the resin."""
    return [
        Happened(n, SATURDAY, (PEN,), (Observed(goods.EPOXY, used, 10, way),))
        for n, (way, used) in enumerate(ways, start=1)
    ]


def told(*ways: tuple[Way, int]) -> list[tuple[int, int, int]]:
    """Document, thousandths used and sessions of every reading; each session asks for 2 ml."""
    happened = seen(*ways)
    asked = {one.document: {"session": Fraction(2)} for one in happened}
    found = readings(looks(reversed(happened))[goods.EPOXY], asked)
    assert all(one.amounts == {"session": 2 * one.sessions} for one in found)
    return [(one.document, one.used, one.sessions) for one in found]


def test_a_look_is_of_every_session_since_the_last() -> None:
    """Weighed after the third: 2 ml drawn twice by the bill and 1.5 ml missing beside the book are of all three."""
    unlooked: tuple[Way, int] = ("by the bill", 2000)
    assert told(unlooked, unlooked, ("weighed", 1500), ("counted", 900)) == [(3, 5500, 3), (4, 900, 1)]
    assert unseen(looks(seen(unlooked, unlooked))[goods.EPOXY]) == 4000


def test_what_was_seen_whole_is_of_its_own_session() -> None:
    """Weighed before too, the air and the sessions before are out of it; written down, they stay to be looked at."""
    unlooked: tuple[Way, int] = ("by the bill", 2000)
    assert told(unlooked, ("weighed twice", 1500), ("weighed", 900)) == [(2, 1500, 1), (3, 900, 1)]
    assert told(unlooked, ("used", 1500), ("weighed", 900)) == [(2, 1500, 1), (3, 2900, 2)]


def test_what_is_not_learned_begins_anew() -> None:
    """Spilt, or counted in between: the book is what is there, and the next reading is of what comes after."""
    unlooked: tuple[Way, int] = ("by the bill", 2000)
    assert told(unlooked, ("not learned", 7000), ("weighed", 900)) == [(3, 900, 1)]
    assert unseen(looks(seen(unlooked, ("not learned", 0)))[goods.EPOXY]) == 0
    assert unseen(looks(seen(unlooked, ("used", 500)))[goods.EPOXY]) == 2000


def test_a_look_at_a_weekend_without_work_is_of_those_before() -> None:
    """Nobody made anything with it that day; what is missing went earlier."""
    happened = seen(("by the bill", 2000), ("weighed", 700))
    (one,) = readings(looks(happened)[goods.EPOXY], {1: {"session": Fraction(2)}})
    assert (one.used, one.sessions) == (2700, 1)
    assert one.amounts == {"session": 2}
    (bare,) = readings(
        looks(happened)[goods.EPOXY], {}
    )  # the bill was changed since: nothing can be said of it
    assert (bare.used, bare.sessions) == (700, 0)
    assert not bare.amounts


def test_forgotten_sessions_are_in_no_reading() -> None:
    """A reading that reaches back behind a reset is forgotten with it; the trace says so, and of how many it is."""
    known = goods.catalogue().with_parts(RESIN)
    happened = seen(("by the bill", 2000), ("weighed", 6000), ("weighed", 5000))
    rate = [one for one in relearn(known, happened).rates if one.part == goods.EPOXY]
    assert [one.sessions for one in rate] == [3]
    word = RateWord(goods.EPOXY, "session", "reset", document=1)
    (one,) = (one for one in relearn(known, happened, [word]).rates if one.part == goods.EPOXY)
    assert one.sessions == 1
    kept = LearnedFigures((LearnedRate(goods.EPOXY, "session", 2_000_000, 1, 9, 1),))
    uses = session_uses(known, happened, [word], kept, goods.EPOXY)
    figures = [[float(each) for each in (one.used, one.expected, one.now)] for one in uses]
    assert figures == [[8, 4, 8], [5, 2, 4]]
    assert [(one.sessions, one.standing) for one in uses] == [(2, "forgotten"), (1, "counts")]


def test_sessions_weighed_together_teach_the_hand_of_one() -> None:
    """Sixty sessions of a hand that differs by a quarter, as sums of three: the scatter is that of one session."""
    hand = Random(3)
    each = [hand.gauss(10, 2.5) for _ in range(60)]
    alone = [Observation(n, used, {"session": 5.0}, 0.1) for n, used in enumerate(each)]
    sums = [Observation(n, sum(each[n : n + 3]), {"session": 15.0}, 0.1, many=3) for n in range(0, 60, 3)]
    guess = {"session": Prior(1.0, 0.75)}
    one, three = learn(alone, guess), learn(sums, guess)
    assert three.rates["session"].estimate == pytest.approx(one.rates["session"].estimate, rel=0.01)
    assert (three.rates["session"].sessions, three.known.ordinary) == (60, one.known.ordinary)
    assert three.scatter == pytest.approx(2.5, rel=0.35)
    assert three.scatter == pytest.approx(one.scatter, rel=0.35)  # of the sums it would be 4.3


@pytest.mark.parametrize("times", [2.0, 0.6])
@pytest.mark.parametrize("every", [1, 3])
def test_it_does_not_matter_how_often_one_looks(times: float, every: int) -> None:
    """Truth made apart: each session uses `times` the bill. Weighed every time or every third, the rate comes to it.

    Put down to the third session alone it swung to 0.1 of the bill where 0.6 was true, and stayed as good as unknown.
    """
    hand, known, past = Random(1), goods.catalogue().with_parts(RESIN), list[Happened]()
    learned = relearn(known, past)
    real = book = 900.0
    for n in range(1, 13):
        real -= 2 * times * hand.gauss(1, 0.25)
        stock = plenty().without(goods.EPOXY)
        number = stock.lot(goods.EPOXY, round(1000 * book), 900, opened_on=TODAY - timedelta(days=5))
        bottle = FilledBottle(WHERE, goods.EPOXY, number, TARE + 100 * round(8.1 * real), 100)
        here = shop(stock, with_learned(known, learned), today=SATURDAY)
        here = replace(here, book=replace(here.book, orders={"reed": order("Reed", 5, state="promised")}))
        planned = Session("Saturday", SATURDAY, (Planned("Reed", "Turnstone kit chrome", 5),), number=1)
        earlier = {key: unseen(each) for key, each in looks(past).items()}
        bottles = (bottle,) if n % every == 0 else ()
        done = book_session(here, planned, filled([piece(1, 5)], bottles=bottles), unseen=earlier)
        said = f"{goods.EPOXY}: what was used is also of sessions in which nobody looked."
        assert (said in done.announced) == (every > 1 and n % every == 0)
        past.append(Happened(n, SATURDAY, done.proposal.outcomes, done.proposal.observed))
        learned = relearn(known, past)
        book = done.shop.book.balance(goods.EPOXY).on_hand / 1000
        if n == every:
            (first,) = (one.factor / 1e6 for one in learned.rates if one.part == goods.EPOXY)
            assert min(1, times) - 0.1 < first < max(1, times) + 0.5
    (rate,) = (one for one in learned.rates if one.part == goods.EPOXY)
    assert rate.sessions == 12
    assert rate.factor / 1e6 == pytest.approx(times, rel=0.1)
    assert rate.low / 1e6 < times < rate.high / 1e6 < 1.4 * times
