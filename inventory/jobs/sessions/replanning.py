"""A changed order in a session that is planned and not booked: whether its row still fits, and the row made anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from inventory.catalogue import fold
from inventory.errors import Refused
from inventory.jobs.orders.changing import ChangedOrder
from inventory.jobs.sessions.planning import row_of, session_name
from inventory.ledger.sessions import Planned, Session


@dataclass(frozen=True, slots=True)
class PlanOfChanged:
    """An order's row in an open plan. was: as it was planned; now: as it would be, None where nothing is to be made.

    fits: nothing of it is otherwise; again: the plan that takes the place of this one in the same entry, where asked.
    """

    session: Session
    was: Planned
    now: Planned | None
    fits: bool
    again: Session | None = None


def plan_of(sessions: Sequence[Session], made: ChangedOrder) -> PlanOfChanged | None:
    """How the open plan the order stands in fits what is wanted now; None where it stands in none."""
    name = fold(made.order.name)
    for session in sessions:
        for row in session.rows if session.state == "planned" else ():
            if fold(row.order) == name:
                return _held(session, row, made)
    return None


def _held(session: Session, row: Planned, made: ChangedOrder) -> PlanOfChanged:
    then = row_of(made.order, made.report)
    now = Planned(row.order, made.report.plan.kit.name, then.starts) if then.starts else None
    made_of = (made.before.pattern, made.before.blank) == (made.order.pattern, made.order.blank)
    return PlanOfChanged(session, row, now, now == row and made_of)


def planned_again(sessions: Sequence[Session], made: ChangedOrder) -> tuple[ChangedOrder, PlanOfChanged]:
    """The change with its plan made anew in the same entry: its own row, the others stay.

    A plan that fits stays. Raises Refused where the order is in no open plan, or nothing changes and its plan fits.
    """
    held = plan_of(sessions, made)
    if held is None:
        raise Refused(
            f"“{made.order.name}” is in no open plan.", hint="Leave --again out, or plan it: kitdrawer plan."
        )
    if held.fits:
        if made.order == made.before:
            raise Refused(f"The plan of {held.session.name} fits “{made.order.name}” as it is.")
        return made, held
    rows = tuple(held.now if row == held.was else row for row in held.session.rows)
    kept = tuple(row for row in rows if row is not None)
    name = session_name(held.session.on, {one.name for one in sessions})
    again = Session(name, held.session.on, kept)
    proposal = replace(
        made.proposal,
        sessions=(again,) if kept else (),
        session_states=((held.session.number, "dropped"),),
    )
    return replace(made, proposal=proposal), replace(held, again=again)
