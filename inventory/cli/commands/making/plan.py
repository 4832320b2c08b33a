"""`plan`: which promised orders and stall pieces are made when, and what to lay out for them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Value
from inventory.cli.json.plan import plan_json
from inventory.cli.order_options import read_confidence
from inventory.cli.screens.making.plan import plan_in_full, plan_reasons, plan_screen
from inventory.cli.screens.safety import safety_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    SafetyOption,
    StoreOption,
    WhyOption,
    YesOption,
    opened,
    say,
    shop_of,
    today,
)
from inventory.errors import BadInput
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.sessions.bench import Bench, benches
from inventory.jobs.sessions.planning import Ask, PlanReport
from inventory.jobs.sessions.planning import plan as propose
from inventory.jobs.sessions.sheet_contents import session_safety
from inventory.measures import listed, read_date, show_day

if TYPE_CHECKING:
    from inventory.store import Read

Made = tuple[PlanReport, tuple[Bench, ...]]
"""The plan, and how each of its sessions is laid out."""


def plan(
    orders: Annotated[
        list[str] | None, typer.Argument(metavar="ORDER", help="Promised orders; all where none is named.")
    ] = None,
    on: Annotated[
        list[str] | None, typer.Option("--on", metavar="DATE", help="The session's day; may be repeated.")
    ] = None,
    until: Annotated[
        str, typer.Option(metavar="DATE", help="The usual evenings until then (see hours).")
    ] = "",
    hours: Annotated[
        float | None, typer.Option(help="Hours a session has, in place of the usual ones.", min=0.1)
    ] = None,
    stall: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WHAT", help='For the stall: "PATTERN, PLATING, BLANK, COUNT"; may be repeated.'
        ),
    ] = None,
    anew: Annotated[
        bool, typer.Option("--again", "--anew", help="Give up what is planned, and plan again.")
    ] = False,
    confidence: Annotated[str, typer.Option(help="How sure to be of each order, in %.")] = "90",
    every: AllOption = False,
    why: WhyOption = False,
    safety: SafetyOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Plan a making session: pieces, parts to lay out in working order, cuts, glue pots, what may run out.

    With hours known (`hours`) it takes what fits, and says when the rest does; without --on it plans all the evenings
    it takes.

    For example:
    kitdrawer plan --on 2026-11-28
    kitdrawer plan --until 2026-12-12
    kitdrawer plan S41 --safety
    kitdrawer plan --stall "Dunlin pen, chrome, walnut blank, 3"
    """
    sure = read_confidence(confidence)
    requests = tuple(_stall(text, sure) for text in stall or [])
    ask = Ask((), tuple(orders or ()), requests, hours, anew, sure)
    with opened(store) as found:
        answer = _answer(
            _on_days(ask, on or [], until), _safety if safety else partial(_show, every=every, why=why)
        )
        write(found, answer, yes=yes, as_json=as_json)


def _on_days(ask: Ask, on: list[str], until: str) -> Ask:
    """The same for the days named, or until one."""
    if on and until:
        raise BadInput("--on and --until do not go together.", hint="Name the days, or the last of them.")
    return replace(ask, days=tuple(read_date(day) for day in on), until=read_date(until) if until else None)


def _answer(ask: Ask, show: Callable[[Made], None]) -> Answer[Made]:
    def work_out(read: Read) -> Made:
        report = propose(shop_of(read), read.sessions(), ask)
        return report, benches(report, read.learned())

    def short(made: Made) -> bool:
        return any(any(bench.shortages()) for bench in made[1])

    return Answer(work_out, lambda made: made[0].proposal, show, "Plan it so?", _tell, _json, short)


def _show(made: Made, *, every: bool, why: bool) -> None:
    say((plan_reasons if why else plan_in_full if every else plan_screen)(*made))


def _safety(made: Made) -> None:
    report, laid_out = made
    rows = [row for bench in laid_out for row in bench.session.rows]
    days = listed([show_day(one.on) for one in report.sessions])
    say([*safety_screen(session_safety(report.shop, rows), days), ""])


def _json(_: int | None, made: Made) -> dict[str, Value]:
    return plan_json(*made)


def _tell(number: int | None, made: Made) -> None:
    if number is None:
        say("Nothing was planned.")
        return
    lines = [f"Planned (entry {number})."]
    for one in made[0].sessions:
        lines += command(
            "Next", f"kitdrawer weekend sheet {pasted(one.name)} --save {one.name.replace(' ', '-')}.xlsx"
        )
    say(lines)


def _stall(text: str, sure: float) -> OrderRequest:
    bits = [bit.strip() for bit in text.split(",")]
    if len(bits) != 4 or not bits[3].isdecimal() or not all(bits):
        raise BadInput(
            f"“{text}” does not say what the stall is to get.",
            hint='Write "PATTERN, PLATING, BLANK, COUNT": --stall "Dunlin pen, chrome, walnut blank, 3".',
        )
    return OrderRequest(bits[0], (bits[1],), bits[2], int(bits[3]), today(), confidence=sure)
