"""The plan of making sessions as JSON. Its fields are promises (see guide/reference.md)."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.json.exact import Exact, Value
from inventory.cli.json.order import safety_json
from inventory.jobs.orders.usual_values import UsualValue, usual_values
from inventory.jobs.sessions.bench import Bench
from inventory.jobs.sessions.cut_plan import Cutting
from inventory.jobs.sessions.planning import PlanReport
from inventory.jobs.sessions.session_needs import probability_of, probability_of_all
from inventory.jobs.sessions.sheet_contents import cautions, session_safety, setup_lines
from inventory.ledger.shop import Shop


def usual_of(report: PlanReport) -> tuple[UsualValue, ...]:
    """The usual values its orders rest on."""
    reports = [row.report for session in report.sessions for row in session.rows]
    return usual_values(report.shop, reports, evenings=True)


def plan_json(report: PlanReport, laid_out: Sequence[Bench]) -> dict[str, Value]:
    """Each session: pieces, parts, cuts, pots, what to lay out, cautions."""
    exact = Exact(report.shop.currency.exponent)
    return {
        "sessions": [_session_json(report.shop, bench, exact) for bench in laid_out],
        "notes": list(report.notes),
        "usual": [{"of": one.of, "what": list(one.what)} for one in usual_of(report)],
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
