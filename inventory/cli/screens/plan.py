"""The plan of a making session for a person, and for programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from inventory.catalogue import STAGES
from inventory.cli.json.exact import Exact, Value
from inventory.cli.json.order import safety_json
from inventory.cli.screens.safety import safety_line
from inventory.cli.screens.shares import percent
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.orders.usual_values import UsualValue, said_usual, usual_values
from inventory.jobs.sessions.bench import Bench
from inventory.jobs.sessions.cut_plan import Cutting
from inventory.jobs.sessions.plan_rows import PlannedSession
from inventory.jobs.sessions.planning import PlanReport
from inventory.jobs.sessions.session_needs import Together, probability_of, probability_of_all
from inventory.jobs.sessions.sheet_contents import cautions, session_safety, setup_lines
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_amount, show_date, show_mm

DOUBTFUL = 0.95
"""Parts less likely to last than this are named."""


def plan_screen(report: PlanReport, laid_out: Sequence[Bench]) -> list[str]:
    """What was left or shared out; each session: pieces, what may run out, cuts, pots, what to lay out, cautions."""
    lines = [line for note in report.notes for line in wrapped(note, "· ")]
    lines += [""] if lines else []
    for bench in laid_out:
        lines += [*_session(report.shop, bench), ""]
    said = said_usual(_usual(report))
    return [*lines, *wrapped(said)] if said else lines


def _usual(report: PlanReport) -> tuple[UsualValue, ...]:
    reports = [row.report for session in report.sessions for row in session.rows]
    return usual_values(report.shop, reports, evenings=True)


def _session(shop: Shop, bench: Bench) -> list[str]:
    session, needs = bench.session, bench.needs
    pieces = sum(row.wanted for row in session.rows)
    set_up = f", {session.setting_up} min of it setting up" if session.setting_up else ""
    head = (
        f"Session of {show_date(session.on)}: {plural(pieces, 'good piece')} wanted, "
        f"about {session.minutes // 60} h {session.minutes % 60} min of work{set_up}."
    )
    lines = [*wrapped(head), "", *_pieces(session), ""]
    if len(session.rows) > 1:
        every = percent(probability_of_all(session.rows))
        said = f"The chance is each order's own; that all of them come out: {every}."
        lines += [*wrapped(said), ""]
    lines += _running_out(bench)
    lines += _cutting(bench)
    for mix in bench.mixes:
        pots = f"{plural(mix.mixes, 'pot')} of {mix.part.name}"
        lines += wrapped(
            f"{pots}: up to {mix.tubes} tubes each, {show_amount(mix.each, mix.part.unit)} each, "
            f"to be used within {mix.minutes} minutes.",
            "Mix      ",
        )
    lines += ["", *_setup_list(session, needs), ""]
    for at, sentence in enumerate(cautions(session.rows)):
        lines += [*([] if at else ["Mind:"]), *wrapped(sentence, "· ")]
    return [*lines, *safety_line(session_safety(shop, session.rows))]


def _pieces(session: PlannedSession) -> list[str]:
    columns = (
        Column("For", gives=True),
        Column("Pattern", gives=True),
        Column("Plating"),
        Column("Blank", gives=True),
        Column("Start", right=True),
        Column("Want", right=True),
        Column("Chance", right=True),
    )
    rows = [
        [
            row.order.name,
            row.report.resolved.pattern.name,
            row.report.plan.plating,
            row.report.resolved.blank.name,
            str(row.starts),
            str(row.wanted),
            percent(probability_of(row)),
        ]
        for row in session.rows
    ]
    return table(columns, rows)


def _running_out(bench: Bench) -> list[str]:
    lines = []
    short = {part.name: missing for part, missing in bench.shortages()}
    for one in bench.needs:
        unit = one.part.unit
        if missing := short.get(one.part.name):
            lines += wrapped(
                f"{one.part.name}: {show_amount(missing, unit)} short of the plan; buy it first.", "Short    "
            )
        elif one.enough < DOUBTFUL:
            lines += wrapped(
                f"{one.part.name}: {show_amount(one.there, unit)} there, about "
                f"{show_amount(round(one.mean), unit)} wanted; runs out with a chance of "
                f"{100 * (1 - one.enough):.0f} %, after about {one.runs_out_after} pieces.",
                "May run out  ",
            )
    return lines


def _cutting(bench: Bench) -> list[str]:
    found = bench.cuts
    lines = []
    for cut in found.cuts:
        lines += wrapped(f"{_blanks(cut)}: {_from(cut)}", "Cut      ")
    for order, many in found.short:
        lines += wrapped(f"{order}: no blank for {plural(many, 'piece')}.", "Cut      ")
    for part, many in bench.spare:
        lines += wrapped(
            f"{part.name}: {many} more set aside than will be cut; free again once the session is booked.",
            "Cut      ",
        )
    if not found.proven:
        lines += wrapped("A better way to cut may exist; the search was stopped.", "Cut      ")
    return lines


def _blanks(cut: Cutting) -> str:
    return f"{cut.part.name} “{cut.name}”" if cut.name else f"{cut.blanks} × {cut.part.name}"


def _from(cut: Cutting) -> str:
    pieces = " and ".join(f"{many} for {order}" for order, many in cut.pieces)
    return f"{pieces}{f', {show_mm(cut.offcut)} left over' if cut.offcut is not None else ''}"


def _setup_list(session: PlannedSession, needs: Iterable[Together]) -> list[str]:
    lines = ["Lay out, in working order:"]
    by_stage: dict[str, list[str]] = {}
    for stage, thing in setup_lines(session.rows, needs):
        by_stage.setdefault(stage, []).append(thing)
    for stage in STAGES:
        if stage in by_stage:
            lines += wrapped("; ".join(by_stage[stage]) + ".", f"{stage:<9}")
    return lines


def plan_json(report: PlanReport, laid_out: Sequence[Bench]) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(report.shop.currency.exponent)
    return {
        "sessions": [_session_json(report.shop, bench, exact) for bench in laid_out],
        "notes": list(report.notes),
        "usual": [{"of": one.of, "what": list(one.what)} for one in _usual(report)],
    }


def _session_json(shop: Shop, bench: Bench, exact: Exact) -> dict[str, Value]:
    session, needs, cuts = bench.session, bench.needs, bench.cuts
    safety = session_safety(shop, session.rows)
    all_of_them = round(probability_of_all(session.rows), 4)  # thousands of runs for each row
    chances = [round(probability_of(row), 4) for row in session.rows]
    return {
        "session": session.name,
        "on": session.on,
        "minutes": session.minutes,
        "setting_up": session.setting_up,
        "chance_of_all": all_of_them,
        "odds_of_all": all_of_them,
        "pieces": [
            {
                "order": row.order.name,
                "pattern": row.report.resolved.pattern.name,
                "plating": row.report.plan.plating,
                "kit": row.report.plan.kit.name,
                "blank": row.report.resolved.blank.name,
                "starts": row.starts,
                "wanted": row.wanted,
                "chance": chance,
                "odds": chance,
                "due": row.order.due,
            }
            for row, chance in zip(session.rows, chances, strict=True)
        ],
        "parts": [
            {
                "part": one.part.name,
                "unit": one.part.unit,
                "need": exact.amount(one.total),
                "there": exact.amount(one.there),
                "chance": round(one.enough, 4),
                "odds": round(one.enough, 4),
            }
            for one in needs
        ],
        "cuts": [_cut_json(cut) for cut in cuts.cuts],
        "mixes": [
            {
                "part": mix.part.name,
                "mixes": mix.mixes,
                "tubes": mix.tubes,
                "each": exact.amount(mix.each),
                "minutes": mix.minutes,
            }
            for mix in bench.mixes
        ],
        "lay_out": [{"stage": stage, "what": what} for stage, what in setup_lines(session.rows, needs)],
        "cautions": [*cautions(session.rows), *safety.sentences],
        "safety": safety_json(safety),
    }


def _cut_json(cut: Cutting) -> dict[str, Value]:
    return {
        "blank": cut.part.name,
        "lot": cut.name or None,
        "blanks": cut.blanks,
        "pieces": [{"order": order, "pieces": many} for order, many in cut.pieces],
    }
