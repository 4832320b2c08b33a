"""Bounds of counting, learning and laying out, by hand: the last figure within each, and the first beyond it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from typing import NoReturn

import pytest

from inventory.catalogue import fold
from inventory.errors import Place
from inventory.jobs.counting.cost_corrections import _same, _told
from inventory.jobs.counting.count_rows import _agree
from inventory.jobs.counting.doubts import cost_doubt, quantity_doubts
from inventory.jobs.counting.what_to_count import Worth, rated
from inventory.jobs.days.many import day_of, many
from inventory.jobs.days.said_lines import SaidSoFar
from inventory.jobs.days.taking import Going, taken
from inventory.jobs.differences.case import Case
from inventory.jobs.differences.unbooked_pieces import _alike
from inventory.jobs.learning.proof import disagreements
from inventory.jobs.learning.report import pinned_factor
from inventory.jobs.sessions.session_needs import Together, rate_scatter
from inventory.ledger import Count
from inventory.ledger.costs import Saying
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate
from inventory.making.rates.priors import NINE_IN_TEN
from inventory.reports.days_sheet import DayLine, FilledDays, SaidLine
from inventory.reports.filled import FilledCount
from jobs import goods
from jobs.learning_case import shop as learning_shop
from jobs.shop import EUR, TODAY, Stock, order, plenty, shop

HERE = Place("counts.csv", "counts", 2)


@pytest.mark.parametrize(("cost", "same"), [(98, False), (99, True), (100, True), (101, False)])
def test_a_cost_said_again_may_have_lost_less_than_a_coin(cost: int, same: bool) -> None:
    """Three at 33.2 are 99.6: 99 and 100 are what a share of a lot came to; of 33 just 99 is."""
    said = Saying("opening", 3000, cost, 3000, cost)
    assert _same(Count(goods.TUBE, 3000, Fraction(332, 10)), said) is same
    assert _same(Count(goods.TUBE, 3000, Fraction(33)), said) is (cost == 99)


@pytest.mark.parametrize(
    ("many", "told"),
    [(1, "row 2: “use by”"), (3, "rows 2, 3, 4: “use by”"), (4, "rows 2, 3, 4 and 1 more: “use by”")],
)
def test_three_rows_are_named(many: int, told: str) -> None:
    """Where they stand, and how many more."""
    rows = [Count(goods.TUBE, 0, place=replace(HERE, row=n)) for n in range(2, 2 + many)]
    assert f"{told} is not used: so it is." in _told("use by", rows, "so it is")


@pytest.mark.parametrize(
    ("second", "error", "inside", "agree"),
    [
        (None, 0, None, True),
        (50_001, 0, None, False),
        (51_000, 400, 0, True),
        (49_000, 400, 0, True),
        (51_001, 400, 0, False),
        (51_200, 600, 0, True),
        (51_201, 600, 0, False),
        (50_001, 600, None, False),
    ],
)
def test_a_second_count_agrees_as_far_as_the_scale_can_tell(
    second: int | None, error: int, inside: int | None, agree: bool
) -> None:
    """Twice the error of weighing, at least a unit; what was counted in pieces agrees exactly."""
    assert _agree(FilledCount(HERE, goods.GLUE, 50_000, second, inside=inside, error=error)) is agree


@pytest.mark.parametrize(
    ("cost", "asked", "bottle"),
    [
        (31, True, False),
        (32, False, False),
        (1600, False, False),
        (1601, True, False),
        (1791, True, False),
        (1792, True, True),
        (89_600, True, True),
        (89_601, True, False),
    ],
)
def test_what_a_bottle_cost_is_known_again(cost: int, asked: bool, bottle: bool) -> None:
    """From 1.28 to 4.00 a millilitre, a quarter to four times: 0.32 to 16.00; of 56 ml 17.92 to 896.00."""
    known = Fraction(128), Fraction(400)
    said = cost_doubt(goods.catalogue().part(goods.GLUE), Fraction(cost), known, EUR)
    assert (bool(said), "Was it paid for a bottle of 56 ml" in said) == (asked, bottle)


@pytest.mark.parametrize(
    ("counts", "there", "most", "told"),
    [
        ((8000, 92_000), 1000, 0, True),
        ((8000, 91_999), 1000, 0, False),
        ((8000, 92_000), 1000, 1001, False),
        ((8000, 92_000), 0, 1000, True),
        ((8000, 92_000), 0, 0, False),
        ((40, 60), 0, 1, True),
    ],
)
def test_a_hundred_times_the_usual(counts: tuple[int, int], there: int, most: int, told: bool) -> None:
    """Of what is there, or of the most that ever came; the larger row of both is asked about."""
    asked: list[Collection[str]] = []

    def usual(parts: Collection[str]) -> Mapping[str, int]:
        asked.append(parts)
        return dict.fromkeys(parts, most)

    known = goods.catalogue()
    rows = [Count(goods.TUBE, many, place=replace(HERE, row=n)) for n, many in enumerate(counts, 2)]
    book = plenty().with_only(goods.TUBE, there).book
    found = list(quantity_doubts(rows, known.parts, book, usual))
    assert [one.row for one in found] == ([3] if told else [])
    assert bool(asked) is (sum(counts) >= 100 * there)


@pytest.mark.parametrize(
    ("days", "group", "doubtful", "score", "why"),
    [
        (30, "A", False, Fraction(1), "dear"),
        (31, "A", False, Fraction(31, 30), "dear; not counted for 31 days"),
        (90, "B", False, Fraction(1), ""),
        (269, "B", False, Fraction(269, 90), "not counted for 269 days"),
        (180, "C", True, Fraction(4), "the book's figure is doubtful"),
        (9999, "C", True, Fraction(6), "the book's figure is doubtful; not counted for 9999 days"),
        (None, "C", False, Fraction(3), "never counted"),
        (0, "A", True, Fraction(3), "the book's figure is doubtful; dear"),
    ],
)
def test_what_is_worth_counting(
    days: int | None, group: str, doubtful: bool, score: Fraction, why: str
) -> None:
    """Days over those of its class, at most 3, and 3 for doubt; late only after the last day."""
    one = Worth(goods.catalogue().part(goods.TUBE), 1, group, days, doubtful)  # type: ignore[arg-type]  # one of three
    assert (one.score, one.why) == (score, why)


def test_a_part_counted_tomorrow_was_counted_today() -> None:
    """Somebody's calendar is wrong; a part without any value is C and worth nothing."""
    known = goods.catalogue()
    later = {fold(goods.GUN_KIT): TODAY + timedelta(days=1)}
    (one,) = rated(shop(), later, [known.part(goods.GUN_KIT)])
    assert (one.days, one.group, one.value, one.doubtful) == (0, "C", 0, False)


RATE = LearnedRate(
    goods.FINISH,
    "barrel area",
    1_300_000,
    1_200_000,
    1_400_000,
    8,
    points=(1_000_000,),
    hands=(-500,),
    ordinary=40,
)


@pytest.mark.parametrize(
    ("changes", "agree"),
    [
        ({"factor": 1_301_301}, True),
        ({"factor": 1_301_302}, False),
        ({"factor": 1_298_700}, True),
        ({"factor": 1_298_699}, False),
        ({"points": (1_001_001,)}, True),
        ({"points": (1_001_002,)}, False),
        ({"hands": (502,)}, True),
        ({"hands": (-503,)}, False),
        ({"ordinary": 42}, True),
        ({"ordinary": 43}, False),
        ({"points": (1_000_000, 1_000_000), "hands": (-500, -500)}, False),
        ({"points": (), "hands": (), "ordinary": 0}, True),
    ],
)
def test_kept_figures_agree_to_a_thousandth(changes: Mapping[str, object], agree: bool) -> None:
    """Of the larger, rounded down, and by two of the last digits in any case."""
    kept, anew = LearnedFigures((replace(RATE, **changes),)), LearnedFigures((RATE,))  # type: ignore[arg-type]  # by name
    assert (disagreements(kept, anew) == ()) is agree


@pytest.mark.parametrize(("share", "agree"), [(102, True), (98, True), (103, False), (97, False)])
def test_small_losses_agree_to_two_millionths(share: int, agree: bool) -> None:
    """A thousandth of them is nothing."""
    kept, anew = (LearnedFigures((), (LearnedLoss("olive wood", "turn", one, 9, 0),)) for one in (share, 100))
    assert (disagreements(kept, anew) == ()) is agree


def test_a_thousand_times_the_bill_is_still_taken() -> None:
    """1.5 ml in the bill: a pin of 1.5 l is a thousand times that."""
    known = learning_shop()
    for value, as_factor in ((Fraction(1000), True), (Fraction(1500), False)):
        assert pinned_factor(known, goods.GLUE, "tube glue volume", value, as_factor=as_factor) == 10**9


@pytest.mark.parametrize(
    ("mean", "session", "there", "pieces", "lasts"),
    [
        (10_000.0, 2000, 6000, 8, 4),
        (10_000.0, 2000, 5999, 8, 3),
        (10_000.0, 2000, 1000, 8, 0),
        (10_000.0, 0, 5000, 8, 4),
        (2000.0, 2000, 500, 8, 8),
        (10_000.0, 2000, 6000, 0, 0),
    ],
)
def test_what_it_lasts_for(mean: float, session: int, there: int, pieces: int, lasts: int) -> None:
    """What is taken once goes first; a part that goes by the session alone lasts for all."""
    part = goods.catalogue().part(goods.EPOXY)
    assert Together(part, {"glue": 1}, mean, 1.0, there, pieces, session).runs_out_after == lasts


def test_the_widest_rate_of_a_part_says_how_far_it_may_be_off() -> None:
    """Half of its interval over its factor, of which no less than a hundredth is taken: ± 0.2, ± 0.1, ± 0.3 of 0.01."""
    rates = (
        LearnedRate(goods.EPOXY, "session", 2_000_000, 1_600_000, 2_400_000, 5, scatter=30),
        LearnedRate(goods.EPOXY, "barrel", 1_000_000, 900_000, 1_100_000, 5, scatter=40),
        LearnedRate(goods.GLUE, "piece", 5000, 2000, 8000, 5),
    )
    off = rate_scatter(
        {fold(goods.EPOXY): 10_000, fold(goods.GLUE): 10_000}, LearnedFigures(rates[:1] + rates[2:])
    )
    assert off[fold(goods.GLUE)] == round(3000 / NINE_IN_TEN)
    assert off[fold(goods.EPOXY)] == round(((2000 / NINE_IN_TEN) ** 2 + 30**2) ** 0.5)
    both = rate_scatter({fold(goods.EPOXY): 10_000}, LearnedFigures(rates))
    assert both[fold(goods.EPOXY)] >= round(2000 / NINE_IN_TEN)


@pytest.mark.parametrize(
    ("role", "each", "short", "error", "alike"),
    [
        ("", 1000, 2000, 0, True),
        ("", 1000, 2001, 0, False),
        ("", 1000, 2200, 100, True),
        ("", 1000, 2201, 100, False),
        ("the blank", 1000, 1000, 0, True),
        ("the blank", 1000, 2000, 0, True),
        ("the blank", 1000, 3000, 0, False),
        ("the blank", 1000, 1500, 0, False),
        ("the kit", 1500, 3000, 0, True),
        ("the kit", 1500, 3001, 0, False),
        ("", 4500, 11_250, 100, True),
        ("", 4500, 11_251, 100, False),
        ("", 4500, 6750, 100, True),
        ("", 4500, 6749, 100, False),
        ("", 500, 1500, 0, True),
        ("", 500, 1501, 0, False),
        ("", 500, 1700, 350, True),
        ("", 500, 1701, 350, False),
        ("", 500, 700, 350, False),
        ("", 500, 701, 350, True),
        ("", 500, 0, 0, False),
    ],
)
def test_what_two_forgotten_pieces_take(role: str, each: int, short: int, error: int, alike: bool) -> None:
    """Whole ones exactly, of blanks one at least; of supplies a quarter about it, half a strip, or the error."""
    one = Case(goods.catalogue().part(goods.STRIP), 60_000, 60_000 - short, error, "counted")
    assert _alike(one, Fraction(each), 2, role) is alike


def test_the_day_of_an_entry_is_no_earlier_than_the_book() -> None:
    """The last day a line says, not before the newest entry and not after today; today where none says one."""
    part = goods.catalogue().part(goods.TUBE)

    def day(newest: int, *days: int) -> int:
        lines = tuple(DayLine(HERE, "took", part, TODAY + timedelta(days=on)) for on in days)
        filled = FilledDays("days.csv", lines, "as filled")
        return (day_of(filled, TODAY + timedelta(days=newest), TODAY) - TODAY).days

    assert [day(-9, -5, -3), day(-2, -5, -3), day(-9, 1), day(1, -3), day(-9)] == [-3, -2, 0, 0, 0]


@pytest.mark.parametrize(("paid", "rest"), [({}, 2500), ({fold("Reed"): 200}, 2300)])
def test_a_payment_that_says_no_sum_is_all_that_those_before_left(paid: Mapping[str, int], rest: int) -> None:
    """4 at 10.00, of which nothing or 2.00 was paid: a sheet that says 15.00 and then the rest."""
    stock = plenty()
    stock.orders = [order("Reed", 4, price=1000, state="promised")]
    lines = tuple(SaidLine(HERE, "paid", "reed", money=money) for money in (1500, None))

    def nobody(*_: object) -> NoReturn:
        raise AssertionError

    filled = FilledDays("days.csv", lines, "as filled")
    days = many(shop(stock), filled, (), SaidSoFar(paid, tuple), nobody)
    assert [(one.order, one.amount) for one in days.proposal.payments] == [("Reed", 1500 + rest)]
    assert [one.proposal.payments[0].amount for _, one in days.made] == [1500, rest]


@pytest.mark.parametrize(("quantity", "left"), [(1000, {"b": 1000}), (2000, {"b": 1000, "a": 1000})])
def test_what_is_chosen_for_an_order_goes_last(quantity: int, left: Mapping[str, int]) -> None:
    """Two measured blanks, the first chosen for Reed: it stays while the other will do."""
    stock = Stock()
    numbers = {stock.measured(name, "30 mm", "100 mm"): name for name in "ab"}
    stock.orders = [order("Reed", 1, state="promised")]
    stock.claim("Reed", goods.ANTLER, 1000, lot=min(numbers))
    here = shop(stock)
    gone = taken(here, here.catalogue.part(goods.ANTLER), Going(quantity, "broke"))
    lines = [one for one in gone.proposal.lines if one.account == "shelf"]
    assert {numbers[int(str(one.lot))]: -one.quantity for one in lines} == left
    assert (gone.quantity, gone.on_hand) == (-quantity, 2000 - quantity)
    assert any("was chosen for “Reed”" in note for note in gone.notes) is (quantity == 2000)
