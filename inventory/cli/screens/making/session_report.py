"""A session looked back on, on Sunday night: made, spoiled, what is missing, what was learned, what to buy."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import fold, whom
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen, Sentence
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.screens.learned import figure, percent, with_unit
from inventory.cli.screens.listing_words import counted_of, doing
from inventory.jobs.orders.finished import made_for
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.measures import listed, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in
from inventory.reports.session_report import (
    LossChanged,
    MadePieces,
    RateChanged,
    SessionDifference,
    SessionReport,
)

FEW, MANY = 3, 6
"""Remarks shown without being asked for; rows of pieces from which on those that are odd come first."""
RESERVED = 3
"""Lines below it: the question, that it is booked, the next command."""
EVAPORATION, SCATTER = "evaporation", "ordinary scatter"
"""What the reasons of a difference begin with where few words tell it."""


def session_screen(booking: SessionBooking, report: SessionReport) -> list[str]:
    """What came of it in a page; only what is missing, spoiled or odd has a row."""
    return draw(
        Screen(
            _headline(booking, report),
            (),
            [
                [_made(booking, report)],
                [
                    *_missing(report.differences),
                    *_orders(booking, report),
                    Fact("Salvaged", _salvaged(booking)),
                    Fact("Learned", _learned(report)),
                    Fact("Buy", _buying(report)),
                    *_checks(booking, report),
                    *_safety(report),
                ],
            ],
            doors=[("Every figure", "--all"), ("Reasons", "--why")],
            reserved=RESERVED,
        )
    )


def session_in_full(booking: SessionBooking, report: SessionReport) -> list[str]:
    """Every figure: what was used against what was expected, every rate and loss that moved, all there is to buy."""
    year = booking.session.on.year
    groups: list[Group] = [
        [_made(booking, report)],
        [_used(report)],
        [_differing(report.differences)],
        [*_orders(booking, report), Fact("Salvaged", _salvaged(booking))],
        [_rates(report)],
        [_losses(report)],
        [_to_buy(report, year)],
        [*_checks(booking, report, every=True), *_safety(report)],
    ]
    return draw(Screen(_headline(booking, report), (), groups), everything=True)


def session_reasons(booking: SessionBooking, report: SessionReport) -> list[str]:
    """Of each difference every likely reason, and why nothing was learned where nothing was."""
    year = booking.session.on.year
    groups: list[Group] = [_because(one, year) for one in report.differences]
    groups = groups or [[Sentence("Everything is there that the book expects.")]]
    why = "Rates and losses are learned from what was weighed, counted and spoiled: kitdrawer guide decides."
    return draw(Screen(_headline(booking, report), (), [*groups, [Sentence(why)]]), everything=True)


def _headline(booking: SessionBooking, report: SessionReport) -> str:
    coin = report.currency
    good, lost = sum(one.good for one in report.made), sum(one.lost for one in report.made)
    cost, gone = sum(one.cost for one in report.made), sum(one.cost for one in report.lost)
    known = "known materials" if report.unpriced else "materials"
    spoiled = f", {lost} spoiled" if lost else ""
    wasted = f", spoiled {show_money(gone, coin)}" if lost else ""
    made = f"{good} good{spoiled}; {known} {show_money(cost, coin)}{wasted}" if report.made else "no pieces"
    return f"{show_day(booking.session.on)}: {made}."


def _made(booking: SessionBooking, report: SessionReport) -> Listing:
    """A row for each kind of piece; those with something spoiled or still to make are never left out."""
    columns = (
        Cells("For"),
        Cells("Made"),
        Cells("Good", right=True),
        Cells("Spoiled", folds=1),
        Cells("Materials", right=True, folds=3),
        Cells("To make", right=True, folds=2),
    )
    rows: list[tuple[bool, list[str]]] = []
    open_orders: set[str] = set()
    for one, made in zip(report.made, booking.made, strict=True):
        to_make = 0 if one.order in open_orders else _to_make(booking, one.order)
        open_orders.add(one.order)
        spoiled = ", ".join(f"{many} {doing(stage)}" for stage, many in made.outcome.lost.items() if many)
        rows.append((bool(spoiled or to_make), _piece_row(one, spoiled, to_make, report)))
    odd = sum(1 for strange, _ in rows if strange)
    rows.sort(key=lambda row: len(rows) > MANY and not row[0])
    return Listing(columns, [row for _, row in rows], least=odd)


def _piece_row(one: MadePieces, spoiled: str, to_make: int, report: SessionReport) -> list[str]:
    cost = show_money(one.cost, report.currency) if one.priced else "unknown"
    return [
        whom(one.order),
        one.pattern,
        str(one.good),
        look(spoiled) if spoiled else "",
        cost if one.good else "",
        str(to_make) if to_make else "",
    ]


def _to_make(booking: SessionBooking, name: str) -> int:
    """Pieces of a promised order that are not finished once this is booked."""
    order = booking.shop.book.orders.get(fold(name))
    if order is None or order.state != "promised":
        return 0
    return max(order.count - made_for(booking.shop, order.name), 0)


def _missing(differences: Sequence[SessionDifference]) -> list[Block]:
    """What is not there as expected: a line where it is odd, one for all that is only scatter."""
    odd = [one for one in differences if not _is_scatter(one)]
    said: list[Block] = []
    for less, label in ((True, "Missing"), (False, "Too much")):
        some = [one for one in odd if (one.difference < 0) == less]
        for at, one in enumerate(some):
            amount = counted_of(one.part, one.unit, abs(one.difference))
            said.append(Fact("" if at else label, f"{amount}: {_likely(one)}"))
    plain = [f"{one.part} {_how_much(one)}" for one in differences if _is_scatter(one)]
    return [*said, Fact("Scatter", f"{listed(plain, most=FEW)}: ordinary" if plain else "", folds=1)]


def _is_scatter(one: SessionDifference) -> bool:
    return one.likely[:1] != () and one.likely[0].startswith(SCATTER)


def _differing(differences: Sequence[SessionDifference]) -> Listing:
    columns = (Cells("Not as expected"), Cells("How much", right=True), Cells("Most likely", folds=1))
    return Listing(columns, [[one.part, _how_much(one, exact=True), _likely(one)] for one in differences])


def _how_much(one: SessionDifference, *, exact: bool = False) -> str:
    show = show_amount if exact else show_measurable
    return f"{show(abs(one.difference), one.unit)} {'more' if one.difference > 0 else 'less'}"


def _likely(one: SessionDifference) -> str:
    """The likeliest reason in few words, and whether it teaches anything."""
    if one.unexplained:
        return f"{stop('UNEXPLAINED')}: count it again"
    reason, when = one.likely[0], " before the session" if one.before else ""
    if reason.startswith((EVAPORATION, SCATTER)):
        reason = "evaporated" if reason.startswith(EVAPORATION) else SCATTER
    return f"{reason}{when}" if one.learned else f"{reason}{when}; not learned"


def _orders(booking: SessionBooking, report: SessionReport) -> list[Block]:
    """Each order that is not finished, with what it lacks; then those that are."""
    year = booking.session.on.year
    lacking: dict[str, list[str]] = {}
    for short in report.short:
        amount = counted_of(short.part, short.unit, short.quantity)
        lacking.setdefault(short.order, []).append(amount)
    orders = booking.shop.book.orders
    names = dict.fromkeys([*(one.order for one in report.made), *lacking])
    said = []
    for name in names:
        order, to_make = orders.get(fold(name)), _to_make(booking, name)
        if order is None or not (to_make or name in lacking):
            continue
        needs = f"needs {to_make} more " if to_make else "is due "
        missing = f"; missing {listed(lacking[name], most=FEW)}" if name in lacking else ""
        said.append(f"{name} {needs}by {show_day(order.due, year)}{missing}")
    done = [name for name in names if _is_finished(booking, name)]
    finished = (
        f"{listed(done)} {'is' if len(done) == 1 else 'are'} finished: kitdrawer handed-over" if done else ""
    )
    return [Fact("Orders", ". ".join([*said, *([finished] if finished else [])]))]


def _is_finished(booking: SessionBooking, name: str) -> bool:
    order = booking.shop.book.orders.get(fold(name))
    return order is not None and order.state == "promised" and not _to_make(booking, name)


def _salvaged(booking: SessionBooking) -> str:
    return listed([f"{show_amount(many, 'piece')} × {name}" for name, many in booking.tally.saved])


def _learned(report: SessionReport) -> str:
    """The rate and the loss that moved most, and how many more did."""
    rates = sorted(report.rates, key=lambda one: -abs(one.after - one.before) / max(one.before, one.after))
    losses = sorted(_worse(report), key=lambda one: one.before - one.after)
    said = [_rate(one) for one in rates[:1]] + [_loss(one) for one in losses[:1]]
    more = len(rates) + len(losses) - len(said)
    rest = [f"{more} more: --all"] if more else []
    return "; ".join([*said, *rest])


def _worse(report: SessionReport) -> list[LossChanged]:
    """What went well fills the workbook, not the screen."""
    return [one for one in report.losses if one.after > one.before]


def _rate(one: RateChanged) -> str:
    return f"{one.part} {figure(one.before)} → {with_unit(one.after, one.unit)} per {one.per}"


def _loss(one: LossChanged) -> str:
    return f"{one.material} {doing(one.stage)} {percent(one.before)} → {percent(one.after)} spoiled"


def _buying(report: SessionReport) -> str:
    if not report.to_buy:
        return ""
    first, many = report.to_buy[0], len(report.to_buy)
    amount = f"{counted_of(first.part, first.unit, first.quantity)} ({first.reason})"
    return f"{many} parts, first {amount}" if many > 1 else amount


def _checks(booking: SessionBooking, report: SessionReport, *, every: bool = False) -> list[Block]:
    """What the book held too little of, whose cost nobody knows, and how what was written was taken."""
    year, most = booking.session.on.year, len(booking.announced) if every else FEW
    found = list(dict.fromkeys(booking.tally.found))
    said = [f"{name}: the book held too little; booked as found. {look('Count it')}." for name in found]
    if report.unpriced:
        said.append(f"Nobody knows what {listed(report.unpriced)} cost; the sums leave it out.")
    said += [days_in(one, year) for one in booking.announced[:most]]
    if len(booking.announced) > most:
        said.append(f"{len(booking.announced) - most} more: --all.")
    return [Fact("Check", " ".join(said))]


def _safety(report: SessionReport) -> list[Block]:
    return [Fact("Safety" if at == 0 else "", one) for at, one in enumerate(report.cautions)]


def _used(report: SessionReport) -> Listing:
    columns = (Cells("Used"), Cells("Expected", right=True), Cells("Really", right=True))
    rows = [
        [one.part, show_amount(one.expected, one.unit), _signed(one.used, one.unit)] for one in report.used
    ]
    return Listing(columns, rows)


def _signed(quantity: int, unit: str) -> str:
    return f"{'−' * (quantity < 0)}{show_amount(abs(quantity), unit)}"


def _rates(report: SessionReport) -> Listing:
    columns = (Cells("Rate"), Cells("Per"), Cells("Before", right=True), Cells("Now", right=True))
    rows = [[one.part, one.per, figure(one.before), with_unit(one.after, one.unit)] for one in report.rates]
    return Listing(columns, rows)


def _losses(report: SessionReport) -> Listing:
    columns = (Cells("Spoiled"), Cells("Stage"), Cells("Before", right=True), Cells("Now", right=True))
    rows = [[one.material, one.stage, percent(one.before), percent(one.after)] for one in report.losses]
    return Listing(columns, rows)


def _to_buy(report: SessionReport, year: int) -> Listing:
    columns = (Cells("Buy"), Cells("Amount", right=True), Cells("Why", folds=1))
    rows = [
        [one.part, show_measurable(one.quantity, one.unit), days_in(one.reason, year)]
        for one in report.to_buy
    ]
    return Listing(columns, rows)


def _because(one: SessionDifference, year: int) -> list[Block]:
    """What was there, what was expected, and why the two may differ."""
    there = f"{_signed(one.counted, one.unit)} there, {_signed(one.expected, one.unit)} expected"
    said = [*one.likely, *([one.unlearned] if one.unlearned else [])]
    when = ", before the session" if one.before else ""
    head = Sentence(f"{one.part}{when}: {there}, {_how_much(one, exact=True)}.")
    return [head, *(Sentence(days_in(text, year), "· ") for text in said)]
