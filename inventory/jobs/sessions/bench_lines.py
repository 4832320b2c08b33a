"""What lies on the bench of a session: lengths to cut, drills, tubes, pilots, bushings, glue, parts by order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil

from inventory.catalogue import STALL, Kit, Part, Supply, Tube, fold
from inventory.jobs.sessions.plan_rows import PlanRow
from inventory.jobs.sessions.session_needs import Mix, Together, mixes
from inventory.ledger.shop import Shop
from inventory.measures import STEPS, plural, show_amount, show_number

_TENTHS = 10
_TOOLS = (("Drills", "drill"), ("Pilots", "trim"), ("Bushings", "turn"))
_WITH_AN_ORDER = frozenset({"refill", "packaging", "spare fitting"})
"""Supplies that lie with the pieces of an order; the others serve all of them."""


def lengths(row: PlanRow) -> str:
    """What one piece is cut to, mm, rounded up to what a rule shows: `57.5 + 52`; empty where nobody knows."""
    wanted = row.report.plan.size.wanted
    return "" if wanted is None else " + ".join(tenths(one.length) for one in wanted.segments)


def tenths(mm: Fraction) -> str:
    """Millimetres rounded up to tenths."""
    return show_number(Fraction(ceil(mm * _TENTHS), _TENTHS))


def bench_lines(shop: Shop, rows: Sequence[PlanRow], needs: Sequence[Together]) -> Iterable[tuple[str, str]]:
    """Tools, tubes and glue in working order: what, and which ones."""
    tools = dict(_TOOLS)
    tubes = [f"{_pieces(one.total)} of {one.part.name}" for one in needs if isinstance(one.part.detail, Tube)]
    pots = [_pots(mix) for mix in mixes(shop, rows, needs)]
    lines = {what: _tools(rows, stage) for what, stage in tools.items()} | {"Tubes": tubes, "Mixes": pots}
    for what in ("Drills", "Tubes", "Mixes", "Pilots", "Bushings"):
        if lines[what]:
            yield what, "; ".join(lines[what])


def _tools(rows: Sequence[PlanRow], stage: str) -> list[str]:
    """The tools of a stage, each once; what is missing, and what is not to be taken for it."""
    said: dict[str, None] = {}
    for row in rows:
        for tool in row.report.plan.tools:
            if tool.stage != stage:
                continue
            missing = "" if tool.there or not row.report.plan.tools_in_book else " (MISSING)"
            other = f", not {' or '.join(one.split(' (')[0] for one in tool.instead)}" if tool.instead else ""
            said[f"{tool.part or tool.what}{missing}{other}"] = None
    return list(said)


def _pots(mix: Mix) -> str:
    amount = show_amount(ceil(mix.each / STEPS) * STEPS, mix.part.unit)
    return (
        f"{mix.part.name}: {plural(mix.mixes, 'pot')} of {amount}, "
        f"up to {plural(mix.tubes, 'tube')} each, use within {mix.minutes} min"
    )


def parts_by_order(rows: Sequence[PlanRow]) -> Iterable[tuple[str, str]]:
    """What lies with the pieces of each order: kits, refills, packaging, whole ones."""
    for row in rows:
        said: Counter[str] = Counter()
        for need in row.report.plan.parts:
            if _with_an_order(need.part):
                said[need.part.name] += need.need
        if said:
            yield (
                row.order.customer if row.order.customer == STALL else row.order.name,
                ", ".join(f"{_pieces(many)} × {name}" for name, many in said.items()),
            )


def _with_an_order(part: Part) -> bool:
    detail = part.detail
    return isinstance(detail, Kit) or (isinstance(detail, Supply) and fold(detail.type) in _WITH_AN_ORDER)


def _pieces(steps: int) -> int:
    return ceil(steps / STEPS)
