"""The two pages of Sunday night: tables with their sums beside their labels, only what there is to say."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from inventory.catalogue import whom
from inventory.measures import STEPS, listed, plural, read_unit, show_date
from inventory.measures.units import plural as several
from inventory.reports.session_report import SessionDifference, SessionReport
from inventory.sheets.drawing import Cell
from inventory.sheets.forms.pages import Band, Field, Item, Paragraph, PrintedTable, page_points
from inventory.sheets.paper import PLAIN, TITLE, room
from inventory.sheets.values import coins, money_format, show_day

MADE, USED = "made", "used and learned"
"""The tabs, a page each."""
PAGE_MM = 180.0
ROW = 15.0
"""Points of a row that is only read."""
NUMBER, SIGNED, RATE = "#,##0.#", "+#,##0.#;-#,##0.#;0", "0.0##"
LEAST = 8
"""Of what was learned so much is shown, whatever the page has room for."""
_TENTH = Fraction(1, 1000)
Rows = Sequence[Mapping[str, Cell]]


def one_page(items: Sequence[Item]) -> bool:
    """Whether it is one page, on A4 and on Letter."""
    return page_points(items, PAGE_MM) <= room(landscape=False)[1] / 25.4 * 72


def made_page(report: SessionReport) -> list[Item]:
    """Page 1: made, spoiled, orders that wait for parts, what to buy, what to mind."""
    form, coin = money_format(report.currency), _coin(report)
    unknown = [f"Cost unknown, left out of the sums: {listed(report.unpriced)}."] if report.unpriced else []
    return [
        *_head(report, "page 1 of 2"),
        *_table("Made", _made_fields(form), _made(report, coin), _made_total(report, coin)),
        *_table("Spoiled", _lost_fields(form), _lost(report, coin), _lost_total(report, coin)),
        *(Paragraph(one) for one in unknown),
        *_table("Orders that wait for parts", _SHORT, _short(report)),
        *_table("To buy", _BUY, _buy(report)),
        *([Paragraph("Check, and stay safe", PLAIN, bold=True, least=20)] if report.cautions else []),
        *(Paragraph(one) for one in report.cautions),
        *([Paragraph("Notes", PLAIN, bold=True, least=20)] if report.notes else []),
        *(Paragraph(one) for one in report.notes),
    ]


def used_page(report: SessionReport) -> list[Item]:
    """Page 2: differences with their likeliest reasons, what was used, what was learned, the largest changes first."""
    learned = _learned(report)
    for many in range(len(learned), LEAST, -1):
        if one_page(page := _used_page(report, learned, many)):
            return page
    return _used_page(report, learned, min(LEAST, len(learned)))


def _used_page(report: SessionReport, learned: Rows, many: int) -> list[Item]:
    tables = (PrintedTable(_USED, _used(report)), PrintedTable(_LEARNED, learned[:many]))
    beside = tuple(one for one in tables if one.rows)
    more = len(learned) - many
    said = f"{plural(more, 'smaller change')} more: kitdrawer rates, kitdrawer losses."
    return [
        *_head(report, "page 2 of 2"),
        *_table("Differences", _DIFFERENCES, _differences(report)),
        Paragraph("Used, and learned from it", PLAIN, bold=True, least=20),
        Band(beside, least=ROW) if beside else Paragraph("none"),
        *([Paragraph(said)] if more else []),
    ]


def _head(report: SessionReport, page: str) -> list[Item]:
    day = show_day(report.on)
    said = report.title.replace(show_date(report.on), day)
    title = said if day in said else f"{said}, {day}"
    return [Paragraph(f"{title} ({page})", TITLE, bold=True)]


def _table(
    title: str, fields: tuple[Field, ...], rows: Rows, total: Mapping[str, Cell] | None = None
) -> list[Item]:
    """A table under its title; an empty one says so in a word."""
    head = Paragraph(title, PLAIN, bold=True, least=20)
    if not rows:
        return [head, Paragraph("none")]
    return [head, Band((PrintedTable(fields, rows, total=total),), least=ROW)]


def _made_fields(form: str) -> tuple[Field, ...]:
    return (
        Field("pattern", 53, bold=True),
        Field("order", 49),
        Field("good", 31, side="right"),
        Field("spoiled", 16, side="right"),
        Field("materials", 31, "cost", side="right", form=form),
    )


def _made(report: SessionReport, coin: Callable[[int], Decimal]) -> Rows:
    return [
        {
            "pattern": one.pattern,
            "order": whom(one.order),
            "good": one.good,
            "spoiled": one.lost,
            "cost": coin(one.cost) if one.priced else "unknown",
        }
        for one in report.made
    ]


def _made_total(report: SessionReport, coin: Callable[[int], Decimal]) -> Mapping[str, Cell]:
    return {
        "order": "together",
        "good": sum(one.good for one in report.made),
        "spoiled": sum(one.lost for one in report.made),
        "cost": coin(sum(one.cost for one in report.made if one.priced)),
    }


def _lost_fields(form: str) -> tuple[Field, ...]:
    return (
        Field("spoiled at", 53, "stage", bold=True),
        Field("", 49, "gap"),
        Field("pieces", 47, side="right"),
        Field("materials", 31, "cost", side="right", form=form),
    )


def _lost(report: SessionReport, coin: Callable[[int], Decimal]) -> Rows:
    return [
        {"stage": one.stage, "pieces": one.pieces, "cost": coin(one.cost) if one.priced else "unknown"}
        for one in report.lost
    ]


def _lost_total(report: SessionReport, coin: Callable[[int], Decimal]) -> Mapping[str, Cell]:
    return {
        "gap": "together",
        "pieces": sum(one.pieces for one in report.lost),
        "cost": coin(sum(one.cost for one in report.lost if one.priced)),
    }


_SHORT = (
    Field("order", 53, bold=True),
    Field("part", 49),
    Field("short", 31, side="right", form=NUMBER),
    Field("", 16, "unit"),
    Field("due", 31),
)


def _short(report: SessionReport) -> Rows:
    return [
        {
            "order": whom(one.order),
            "part": one.part,
            "short": amount(one.quantity),
            "unit": _unit(one.quantity, one.unit),
            "due": show_day(one.due) if one.due else "",
        }
        for one in report.short
    ]


_BUY = (
    Field("part", 53, bold=True),
    Field("quantity", 19, side="right", form=NUMBER),
    Field("", 18, "unit"),
    Field("why", 90),
)


def _buy(report: SessionReport) -> Rows:
    return [
        {
            "part": one.part,
            "quantity": amount(one.quantity),
            "unit": _unit(one.quantity, one.unit),
            "why": one.reason,
        }
        for one in report.to_buy
    ]


_DIFFERENCES = (
    Field("part", 34, bold=True),
    Field("expected", 19, side="right", form=NUMBER),
    Field("counted", 19, side="right", form=NUMBER),
    Field("difference", 18, side="right", form=SIGNED),
    Field("", 12, "unit"),
    Field("likely", 78),
)


def _differences(report: SessionReport) -> Rows:
    return [
        {
            "part": one.part,
            "expected": amount(one.expected),
            "counted": amount(one.counted),
            "difference": amount(one.difference),
            "unit": _unit(one.difference, one.unit),
            "likely": "\n".join(_reasons(one)),
        }
        for one in report.differences
    ]


def _reasons(one: SessionDifference) -> list[str]:
    """The likeliest reason, and whether the rates learn of it; the other reasons are on the screen."""
    why = one.likely[0] if one.likely else "no reason was found"
    when = ["when weighed before the session"] if one.before else []
    return [*when, why, *([one.unlearned] if one.unlearned else [])]


_USED = (
    Field("of", 34, "part", bold=True),
    Field("expected", 19, side="right", form=NUMBER),
    Field("used", 19, side="right", form=NUMBER),
    Field("", 18, "unit"),
)


def _used(report: SessionReport) -> Rows:
    return [
        {
            "part": one.part,
            "expected": amount(one.expected),
            "used": amount(one.used),
            "unit": _unit(one.used, one.unit),
        }
        for one in report.used
    ]


_LEARNED = (
    Field("learned", 39, "what"),
    Field("before", 16, side="right", form=RATE),
    Field("after", 16, side="right", form=RATE),
    Field("change", 19, side="right"),
)


def _learned(report: SessionReport) -> Rows:
    """Rates and shares that changed by what can be shown, the largest first; of shares in points of a hundred."""
    rates = [
        (
            f"{one.part} a {one.per}, {one.unit}",
            one.before,
            one.after,
            one.after / (one.before or 1) - 1,
            _percent,
        )
        for one in report.rates
    ]
    losses = [
        (
            f"{one.material} spoiled at {one.stage}, %",
            100 * one.before,
            100 * one.after,
            one.after - one.before,
            _points,
        )
        for one in report.losses
    ]
    return [
        {"what": what, "before": before, "after": after, "change": said(change) if before else ""}
        for what, before, after, change, said in sorted((*rates, *losses), key=lambda one: -abs(one[3]))
        if tenth(change) or not before
    ]


def _unit(steps: int, unit: str) -> str:
    """The unit behind an amount: of what is counted one piece, several pieces."""
    return unit if abs(steps) == STEPS or read_unit(unit).kind != "count" else several(unit)


def amount(steps: int) -> Fraction:
    """Thousandths as the number of units people read."""
    return Fraction(steps, STEPS)


def tenth(share: Fraction) -> Fraction:
    """A change rounded to a tenth of a per cent, so that a smaller one is 0 and not less than nothing."""
    return round(share / _TENTH) * _TENTH


def _percent(change: Fraction) -> str:
    """How much more or less a rate is, of what it was."""
    return f"{100 * float(tenth(change)):+.1f} %".replace("-", "−")


def _points(change: Fraction) -> str:
    """By how much a share in per cent moved: in points, for it is not a part of what it was."""
    return f"{100 * float(tenth(change)):+.1f} points".replace("-", "−")


def _coin(report: SessionReport) -> Callable[[int], Decimal]:
    return lambda minor: coins(minor, report.currency)
