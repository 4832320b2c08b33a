"""A changed order in a session that is planned and not booked: whether its row still fits, and the row made anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from inventory.catalogue import Order, fold
from inventory.errors import Refused
from inventory.jobs.orders.changing import ChangedOrder
from inventory.jobs.sessions.planning import row_of, session_name
from inventory.ledger.sessions import Planned, Session
from inventory.measures import plural


@dataclass(frozen=True, slots=True)
class PlanOfChanged:
    """An order's row in an open plan. was: as it was planned; now: as it would be, None where nothing is to be made.

    fits: nothing of it is otherwise; others: more sessions it is shared over, whose starts `was` counts too; again: the
    plan that takes the place of this one in the same entry, where asked.
    """

    session: Session
    was: Planned
    now: Planned | None
    fits: bool
    others: tuple[Session, ...] = ()
    again: Session | None = None


def plan_of(sessions: Sequence[Session], made: ChangedOrder) -> PlanOfChanged | None:
    """How the open plan the order stands in fits what is wanted now; None where it stands in none."""
    name = fold(made.order.name)
    open_ones = [session for session in sessions if session.state == "planned"]
    rows = [(one, row) for one in open_ones for row in one.rows if fold(row.order) == name]
    if not rows:
        return None
    (session, first), *others = rows
    was = replace(first, starts=sum(row.starts for _, row in rows))
    then = row_of(made.order, made.report)
    now = Planned(first.order, made.report.plan.kit.name, then.starts) if then.starts else None
    same = _bench(made.before) == _bench(made.order)
    # where nothing that matters at the bench changed, what found no room before finds none now either
    fits = same and (now is None or now.kit == was.kit)
    return PlanOfChanged(session, was, now, fits, tuple(one for one, _ in others))


def _bench(order: Order) -> tuple[object, ...]:
    """What the bench has to know of an order."""
    made = order.pattern, order.blank, order.refill, order.extra_diameter
    return *made, order.count, order.platings


def planned_again(sessions: Sequence[Session], made: ChangedOrder) -> tuple[ChangedOrder, PlanOfChanged]:
    """The change with its plan made anew in the same entry: its own row, the others stay.

    A plan that fits stays. Raises Refused where the order is in no open plan, or nothing changes and its plan fits.
    """
    held = plan_of(sessions, made)
    if held is None:
        raise Refused(
            f"“{made.order.name}” is in no open plan.", hint="Leave --again out, or plan it: kitdrawer plan."
        )
    if made.order == made.before and held.now == held.was:
        raise Refused(f"The plan of {held.session.name} fits “{made.order.name}” as it is.")
    if held.fits and made.order != made.before:
        return made, held
    if held.others:
        raise Refused(
            f"“{made.order.name}” is shared over {plural(1 + len(held.others), 'session')}.",
            hint="Leave --again out: the order is changed, and the answer says how its sessions are planned.",
        )
    rows = tuple(held.now if row == held.was else row for row in held.session.rows)
    kept = tuple(row for row in rows if row is not None)
    name = session_name(held.session.on, {one.name for one in sessions})
    again = Session(name, held.session.on, kept)
    proposal = replace(
        made.proposal,
        sessions=(again,) if kept else (),
        session_states=((held.session.number, "dropped"),),
    )
    return replace(made, proposal=proposal), replace(held, again=again, fits=False)
