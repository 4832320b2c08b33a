"""The plan of a making session: what is made, what is short, then stage by stage what to lay out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.catalogue import STAGES, STALL, Part, Tube, whom
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen, Sentence
from inventory.cli.drawing.colour import good, look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.json.plan import usual_of
from inventory.cli.screens.listing_words import amounts, counted, together
from inventory.cli.screens.safety import kinds_said
from inventory.cli.screens.shares import percent
from inventory.jobs.hours.time_left import hours
from inventory.jobs.orders.usual_values import said_usual
from inventory.jobs.sessions.bench import Bench
from inventory.jobs.sessions.cut_plan import Cutting
from inventory.jobs.sessions.plan_rows import PlannedSession
from inventory.jobs.sessions.planning import PlanReport
from inventory.jobs.sessions.session_needs import Together, probability_of, probability_of_all
from inventory.jobs.sessions.sheet_contents import at_the_bench, cautions, session_safety, setup_lines
from inventory.measures import listed, plural, show_amount, show_day, show_mm
from inventory.measures.dates import days_in

DOUBTFUL = 0.95
"""Parts less likely to last than this are named."""
CHECKED = 2
"""Cautions said before the rest is left to `--why`."""
RESERVED = 3
"""Lines below it: the question, that it is planned, the next command."""


def plan_screen(report: PlanReport, laid_out: Sequence[Bench]) -> list[str]:
    """Each session in a page; what was left out and why."""
    pages = [_session(report, bench, last=bench is laid_out[-1]) for bench in laid_out]
    return [line for at, page in enumerate(pages) for line in ([""] if at else []) + page]


def _session(report: PlanReport, bench: Bench, *, last: bool) -> list[str]:
    shop, session = report.shop, bench.session
    notes = [Sentence(note, "· ") for note in report.notes] if bench.session is report.sessions[0] else []
    usual = said_usual(usual_of(report)).partition(": ")[2] if last else ""
    safety = kinds_said(session_safety(shop, session.rows))
    groups: list[Sequence[Block]] = [
        notes,
        [_pieces(session)],
        [
            *_lacking(bench),
            *_stages(bench),
            _check(session),
            Fact("Chance", _chance(session), 6),
            Fact("Safety", safety),
            Fact("Usual", usual and f"not your own: {usual}", folds=2),
        ],
    ]
    doors = [("Amounts", "--all"), ("Why", "--why")] if last else []
    return draw(Screen(_headline(bench), (), groups, doors=doors, reserved=RESERVED))


def plan_in_full(_: PlanReport, laid_out: Sequence[Bench]) -> list[str]:
    """Each session with every cut, pot and amount to the thousandth."""
    lines: list[str] = []
    for bench in laid_out:
        session = bench.session
        groups: list[Sequence[Block]] = [
            _lacking(bench),
            [_pieces(session, chances=True)],
            [*_cuts(bench), *_pots(bench)],
            _laid_out(bench),
            [Sentence(one, "· ") for one in _cautions(session)],
        ]
        lines += [*draw(Screen(_headline(bench), (), groups), everything=True), ""]
    return lines


def plan_reasons(report: PlanReport, laid_out: Sequence[Bench]) -> list[str]:
    """How likely each order comes out, what was left out, what to check, which figures are nobody's own."""
    lines: list[str] = []
    for bench in laid_out:
        session = bench.session
        groups: list[Sequence[Block]] = [
            [_pieces(session, chances=True)],
            [Fact("Chance", _chance(session)), Fact("Time", _time(session))],
            [Sentence(one, "· ") for one in _cautions(session)],
        ]
        lines += [*draw(Screen(_headline(bench), (), groups), everything=True), ""]
    notes: list[Block] = [Sentence(note, "· ") for note in report.notes]
    said = said_usual(usual_of(report))
    more = Screen("Left out, and usual values:", (), [notes, [Sentence(said)]])
    return [*lines, *draw(more, everything=True), ""] if notes or said else lines


def _headline(bench: Bench) -> str:
    session = bench.session
    starts, wanted = sum(row.starts for row in session.rows), sum(row.wanted for row in session.rows)
    text = f"{show_day(session.on)}: start {starts} to get {wanted} good, about {hours(session.minutes)}."
    short = [counted(part, many) for part, many in bench.shortages()]
    short += [f"a blank for {plural(many, 'piece')} of {order}" for order, many in bench.cuts.short]
    missing = _missing_tools(session)
    tools = plural(len(missing), "tool is", "tools are")
    lacking = f"{stop(f'{tools} missing')}: {listed(missing, most=2)}." if missing else ""
    if short:
        return f"{stop('SHORT')}: {listed(short, most=2)}; buy first. {text} {lacking}".rstrip()
    return f"{text} {lacking or good('Nothing is short') + '.'}"


def _missing_tools(session: PlannedSession) -> list[str]:
    """Tools of the work that the book has none of, each once; nothing where it keeps no tools."""
    plans = [row.report.plan for row in session.rows]
    tools = [tool for plan in plans if plan.tools_in_book for tool in plan.tools if not tool.there]
    return list(dict.fromkeys(tool.part or tool.what for tool in tools))


def _lacking(bench: Bench) -> list[Block]:
    """What may run out before the pieces are made: how likely, and after about how many pieces."""
    short = {part.name for part, _ in bench.shortages()}
    rows = [one for one in bench.needs if one.enough < DOUBTFUL and one.part.name not in short]
    said = [f"{one.part.name} ({percent(1 - one.enough)}, after {one.runs_out_after})" for one in rows]
    return [Fact("May lack", look("; ".join(said)))] if said else []


def _pieces(session: PlannedSession, *, chances: bool = False) -> Listing:
    columns = (
        Cells("Start", right=True),
        Cells("Want", right=True),
        Cells("Make"),
        Cells("For", folds=1),
        Cells("Due", folds=1),
        Cells("Chance", right=True, folds=2),
    )
    rows = [
        [
            str(row.starts),
            str(row.wanted),
            f"{row.report.resolved.pattern.name}, {row.report.plan.plating}, {row.report.resolved.blank.name}",
            STALL if row.order.customer == STALL else row.order.name,
            "" if row.order.customer == STALL else show_day(row.order.due, session.on.year),
            percent(probability_of(row)) if chances else "",
        ]
        for row in session.rows
    ]
    return Listing(columns, rows)


def _stages(bench: Bench) -> Iterator[Block]:
    """In working order, what to take in hand, as a hand measures it."""
    rest = {stage: _supplies(bench, stage) for stage in STAGES}
    cuts = [_cut_in_short(cut) for cut in bench.cuts.cuts]
    tools = {stage: together(_tools(bench, stage)) for stage in ("trim", "turn")}
    drills = ", ".join(_tools(bench, "drill"))
    tubes = together([f"{show_amount(one.total, 'piece')} {one.part.name}" for one in _tubes(bench)])
    kits = {stage: "; ".join(counted(part, many) for part, many in rest[stage]) for stage in STAGES}
    yield Fact("Cut", "; ".join(cuts))
    yield Fact("Drill", _joined(drills, amounts(rest["drill"])))
    yield Fact("Glue", _joined(tubes, *_pots_in_short(bench), amounts(rest["glue"])))
    yield Fact("Trim", tools["trim"], folds=3)
    yield Fact("Turn", _joined(tools["turn"], amounts(rest["turn"])), folds=1)
    yield Fact("Finish", amounts(rest["finish"]))
    yield Fact("Assemble", kits["assemble"], folds=4)
    yield Fact("Pack", kits["pack"], folds=5)


def _joined(*said: str) -> str:
    return "; ".join(one for one in said if one)


def _supplies(bench: Bench, stage: str) -> list[tuple[Part, int]]:
    """What a stage takes but for blanks, tubes and what is mixed."""
    mixed = {mix.part.name for mix in bench.mixes}
    return [
        (one.part, one.need[stage])
        for one in bench.needs
        if one.need.get(stage)
        and one.part.kind != "blank"
        and not isinstance(one.part.detail, Tube)
        and not (stage == "glue" and one.part.name in mixed)
    ]


def _tubes(bench: Bench) -> list[Together]:
    return [one for one in bench.needs if isinstance(one.part.detail, Tube) and one.total]


def _tools(bench: Bench, stage: str) -> list[str]:
    """The tools of a stage, each once; what is missing, and what is not to be taken for it."""
    said: dict[str, None] = {}
    for row in bench.session.rows:
        plan = row.report.plan
        for tool in plan.tools:
            if tool.stage == stage:
                missing = [stop("missing")] if plan.tools_in_book and not tool.there else []
                other = [one.split(" (")[0].removeprefix("drill ") for one in tool.instead]
                marks = ", ".join([*missing, *([f"not {' or '.join(other)}"] if other else [])])
                name = (tool.part or tool.what).removeprefix("drill ")
                said[f"{name} ({marks})" if marks else name] = None
    return list(said)


def _cut_in_short(cut: Cutting) -> str:
    pieces = sum(many for _, many in cut.pieces)
    name = cut.part.name.removesuffix(" blank")
    return f"{cut.name} in {pieces}" if cut.name else f"{cut.blanks} {name} in {pieces}"


def _pots_in_short(bench: Bench) -> list[str]:
    return [
        f"{mix.part.name}: {plural(mix.mixes, 'pot')} of {-(-mix.each // 1000)} {mix.part.unit}, "
        f"up to {plural(mix.tubes, 'tube')} each, within {mix.minutes} min"
        for mix in bench.mixes
    ]


def _check(session: PlannedSession) -> Fact:
    said = [one for one in at_the_bench(_cautions(session)) if "in place of" not in one]
    more = [f"{len(said) - CHECKED} more: --why"] if len(said) > CHECKED else []
    return Fact("Check", "; ".join([*(one.rstrip(".") for one in said[:CHECKED]), *more]), folds=7)


def _cautions(session: PlannedSession) -> list[str]:
    return [days_in(one, session.on.year) for one in cautions(session.rows)]


def _chance(session: PlannedSession) -> str:
    """The least of the orders' own, and that of all."""
    if len(session.rows) < 2:
        return f"{percent(probability_of(session.rows[0]))} that it comes out so" if session.rows else ""
    least = min(probability_of(row) for row in session.rows)
    return f"{percent(least)} or more for each order; {percent(probability_of_all(session.rows))} for all of them"


def _time(session: PlannedSession) -> str:
    by_order = "; ".join(f"{row.order.name} {hours(row.minutes)}" for row in session.rows)
    return f"{by_order}; {session.setting_up} min of setting up" if session.setting_up else by_order


def _cuts(bench: Bench) -> list[Block]:
    said = [f"{_blanks(cut)}: {_from(cut)}" for cut in bench.cuts.cuts]
    said += [f"{order}: no blank for {plural(many, 'piece')}" for order, many in bench.cuts.short]
    said += [
        f"{part.name}: {many} more set aside than will be cut; free again once the session is booked"
        for part, many in bench.spare
    ]
    if not bench.cuts.proven:
        said.append("a better way to cut may exist; the search was stopped")
    return [Fact("Cut" if at == 0 else "", one) for at, one in enumerate(said)]


def _blanks(cut: Cutting) -> str:
    return f"{cut.part.name} “{cut.name}”" if cut.name else f"{cut.blanks} × {cut.part.name}"


def _from(cut: Cutting) -> str:
    pieces = " and ".join(f"{many} for {whom(order)}" for order, many in cut.pieces)
    return f"{pieces}{f', {show_mm(cut.offcut)} left over' if cut.offcut is not None else ''}"


def _pots(bench: Bench) -> list[Block]:
    return [
        Fact(
            "Mix",
            f"{plural(mix.mixes, 'pot')} of {mix.part.name}: up to {mix.tubes} tubes each, "
            f"{show_amount(mix.each, mix.part.unit)} each, to be used within {mix.minutes} minutes",
        )
        for mix in bench.mixes
    ]


def _laid_out(bench: Bench) -> list[Block]:
    by_stage: dict[str, list[str]] = {}
    for stage, thing in setup_lines(bench.session.rows, bench.needs):
        by_stage.setdefault(stage, []).append(thing)
    return [Fact(stage.capitalize(), "; ".join(by_stage[stage])) for stage in STAGES if stage in by_stage]
