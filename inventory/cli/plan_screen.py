"""The plan of a making session for a person, and for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from inventory.catalogue import STAGES
from inventory.cli.exact_json import Exact, Value
from inventory.cli.tables import Column, table, wrapped
from inventory.jobs.planning import PlannedSession, PlanReport
from inventory.jobs.session_cutting import Cutting, cut_together
from inventory.jobs.session_needs import Together, mixes, together
from inventory.jobs.session_sheets import cautions, lay_out_lines
from inventory.ledger.sessions import LearnedFigures
from inventory.measures import show_amount, show_date, show_mm

DOUBTFUL = 0.95
"""Parts less likely to last than this are named."""


def shortages(report: PlanReport, learned: LearnedFigures) -> Iterator[tuple[str, int]]:
    """Counted parts a session asks more of than is there: name, thousandths."""
    for session in report.sessions:
        for one in together(report.shop, session.rows, learned):
            if missing := _missing(one):
                yield one.part.name, missing


def _missing(one: Together) -> int:
    return max(one.total - one.there, 0) if one.part.unit == "piece" else 0


def plan_screen(report: PlanReport, learned: LearnedFigures) -> list[str]:
    """Each session: pieces, what may run out, cuts, pots, what to lay out, cautions."""
    lines: list[str] = []
    for session in report.sessions:
        lines += [*_session(report, session, learned), ""]
    for note in report.notes:
        lines += wrapped(note, "· ")
    return lines


def _session(report: PlanReport, session: PlannedSession, learned: LearnedFigures) -> list[str]:
    needs = together(report.shop, session.rows, learned)
    pieces = sum(row.wanted for row in session.rows)
    hours = f"{session.minutes // 60} h {session.minutes % 60} min"
    head = f"Session of {show_date(session.on)}: {pieces} good pieces wanted, about {hours} of work."
    lines = [*wrapped(head), "", *_pieces(session), ""]
    lines += _running_out(needs)
    lines += _cutting(report, session)
    for mix in mixes(report.shop, session.rows, needs):
        pots = f"{mix.mixes} pot{'s' * (mix.mixes > 1)} of {mix.part.name}"
        lines += wrapped(
            f"{pots}: up to {mix.tubes} tubes each, {show_amount(mix.each, mix.part.unit)} each, "
            f"to be used within {mix.minutes} minutes.",
            "Mix      ",
        )
    lines += ["", *_lay_out(session, needs), "", "Mind:"]
    for sentence in cautions(session.rows):
        lines += wrapped(sentence, "· ")
    return lines


def _pieces(session: PlannedSession) -> list[str]:
    columns = (
        Column("For", gives=True),
        Column("Pattern", gives=True),
        Column("Plating"),
        Column("Blank", gives=True),
        Column("Start", right=True),
        Column("Want", right=True),
    )
    rows = [
        [
            row.order.name,
            row.report.meant.pattern.name,
            row.report.plan.plating,
            row.report.meant.blank.name,
            str(row.starts),
            str(row.wanted),
        ]
        for row in session.rows
    ]
    return table(columns, rows)


def _running_out(needs: Iterable[Together]) -> list[str]:
    lines = []
    for one in needs:
        unit = one.part.unit
        if missing := _missing(one):
            short = show_amount(missing, unit)
            lines += wrapped(f"{one.part.name}: {short} short of the plan; buy it first.", "Short    ")
        elif one.enough < DOUBTFUL:
            lines += wrapped(
                f"{one.part.name}: {show_amount(one.there, unit)} there, about "
                f"{show_amount(round(one.mean), unit)} wanted; runs out with odds of "
                f"{100 * (1 - one.enough):.0f} %, after about {one.runs_out_after} pieces.",
                "May run out  ",
            )
    return lines


def _cutting(report: PlanReport, session: PlannedSession) -> list[str]:
    found = cut_together(report.shop, session.rows)
    lines = []
    for cut in found.cuts:
        lines += wrapped(f"{_blanks(cut)}: {_from(cut)}", "Cut      ")
    for order, many in found.short:
        lines += wrapped(f"{order}: no blank for {many} piece{'s' * (many > 1)}.", "Cut      ")
    if not found.proven:
        lines += wrapped("A better way to cut may exist; the search was stopped.", "Cut      ")
    return lines


def _blanks(cut: Cutting) -> str:
    return f"{cut.part.name} “{cut.name}”" if cut.name else f"{cut.blanks} × {cut.part.name}"


def _from(cut: Cutting) -> str:
    pieces = " and ".join(f"{many} for {order}" for order, many in cut.pieces)
    return f"{pieces}{f', {show_mm(cut.offcut)} left over' if cut.offcut is not None else ''}"


def _lay_out(session: PlannedSession, needs: Iterable[Together]) -> list[str]:
    lines = ["Lay out, in working order:"]
    by_stage: dict[str, list[str]] = {}
    for stage, thing in lay_out_lines(session.rows, needs):
        by_stage.setdefault(stage, []).append(thing)
    for stage in STAGES:
        if stage in by_stage:
            lines += wrapped("; ".join(by_stage[stage]) + ".", f"{stage:<9}")
    return lines


def plan_json(report: PlanReport, learned: LearnedFigures) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(report.shop.currency.exponent)
    return {
        "sessions": [_session_json(report, one, learned, exact) for one in report.sessions],
        "notes": list(report.notes),
    }


def _session_json(
    report: PlanReport, session: PlannedSession, learned: LearnedFigures, exact: Exact
) -> dict[str, Value]:
    needs = together(report.shop, session.rows, learned)
    cuts = cut_together(report.shop, session.rows)
    return {
        "session": session.name,
        "on": session.on,
        "minutes": session.minutes,
        "pieces": [
            {
                "order": row.order.name,
                "pattern": row.report.meant.pattern.name,
                "plating": row.report.plan.plating,
                "kit": row.report.plan.kit.name,
                "blank": row.report.meant.blank.name,
                "starts": row.starts,
                "wanted": row.wanted,
                "due": row.order.due,
            }
            for row in session.rows
        ],
        "parts": [
            {
                "part": one.part.name,
                "unit": one.part.unit,
                "need": exact.amount(one.total),
                "there": exact.amount(one.there),
                "odds": round(one.enough, 4),
            }
            for one in needs
        ],
        "cuts": [
            {
                "blank": cut.part.name,
                "lot": cut.name or None,
                "blanks": cut.blanks,
                "pieces": [{"order": order, "pieces": many} for order, many in cut.pieces],
            }
            for cut in cuts.cuts
        ],
        "mixes": [
            {
                "part": mix.part.name,
                "mixes": mix.mixes,
                "tubes": mix.tubes,
                "each": exact.amount(mix.each),
                "minutes": mix.minutes,
            }
            for mix in mixes(report.shop, session.rows, needs)
        ],
        "lay_out": [{"stage": stage, "what": what} for stage, what in lay_out_lines(session.rows, needs)],
        "cautions": list(cautions(session.rows)),
    }
