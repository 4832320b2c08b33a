"""Lines of a sheet of days that say something of an order, a name or the week, each as its command does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from inventory.catalogue import Offer, Order, find, fold
from inventory.errors import KitdrawerError
from inventory.jobs.accounts.spending import expense, spending
from inventory.jobs.days.evening import MadeTonight
from inventory.jobs.hours.week import KEY, read_week
from inventory.jobs.naming.renaming import rename
from inventory.jobs.orders.changing import change, wanted_request
from inventory.jobs.orders.money.paying import pay
from inventory.jobs.orders.order_check import parts_involved
from inventory.jobs.sessions.replanning import PlanOfChanged, plan_of
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import SettingChanged
from inventory.ledger.sessions import Session
from inventory.ledger.shop import Shop
from inventory.reports.days_sheet import SaidLine


@dataclass(frozen=True, slots=True)
class SaidSoFar:
    """What lines before it left. paid: by folded order, minor units; offers: all there are, asked for by codes.

    sessions: all that were ever planned, asked for by changed orders.
    """

    paid: Mapping[str, int]
    offers: Callable[[], Iterable[Offer]]
    sessions: Callable[[], Sequence[Session]] = tuple


@dataclass(frozen=True, slots=True)
class Told:
    """The document one line would be alone, and in a sentence what it does; plan: of a change, how its plan fits."""

    proposal: Proposal
    says: str
    plan: PlanOfChanged | None = None


def told(shop: Shop, line: SaidLine, before: SaidSoFar) -> Told:
    """One line. Raises KitdrawerError as its command does."""
    match line.what:
        case "paid":
            order = find(shop.book.orders, "order", line.of)
            return _titled(pay(shop, order, before.paid, line.money).proposal)
        case "spent":
            on = line.on or shop.today
            return _titled(spending(shop, expense(shop, line.of, line.money or 0, on, line.at)))
        case "change":
            return _changed(shop, line, before.sessions())
        case "rename":
            return _titled(rename(shop, line.of, line.new, "", before.offers).proposal)
        case "hours":
            week = read_week(line.of)
            said = (SettingChanged(KEY, week.written),)
            title = f"Hours: {week.written}"
            return _titled(
                Proposal("hours", title, shop.today, changes=said, expected_version=shop.book.version)
            )
        case "made":
            raise ValueError("what was made is booked as one evening")


def made_tonight(shop: Shop, line: SaidLine) -> MadeTonight:
    """What a line says was made: for an order where it names one, else of a pattern for the shelf."""
    ordered = fold(line.of) in shop.book.orders
    good = 1 if line.count is None else line.count
    pattern, order = ("", line.of) if ordered else (line.of, "")
    return MadeTonight(pattern, line.plating, line.blank, good, line.spoiled, order)


def _titled(proposal: Proposal) -> Told:
    return Told(proposal, f"{proposal.title}.")


def _changed(shop: Shop, line: SaidLine, sessions: Sequence[Session]) -> Told:
    before, now = _wanted(shop, line)
    made = change(shop, before, now)
    return Told(made.proposal, f"{made.proposal.title}: {made.report.verdict}.", plan_of(sessions, made))


def changing(shop: Shop, line: SaidLine) -> set[str]:
    """The folded names of the parts a change may look at; all that is set aside, where it cannot be read."""
    found = {claim.part for claim in shop.book.claims}
    with suppress(KitdrawerError):
        for one in _wanted(shop, line):
            request = wanted_request(shop, one)
            found |= parts_involved(shop.catalogue, request, min(one.due, shop.today))
    return found


def _wanted(shop: Shop, line: SaidLine) -> tuple[Order, Order]:
    """The order as it is and as it is wanted; the count is of all of it."""
    before = find(shop.book.orders, "order", line.of)
    said = {"count": line.count, "due": line.due, "price": line.money, "blank": line.blank or None}
    whole = replace(before, count=before.whole, handed=0)
    now = replace(whole, **{field: value for field, value in said.items() if value is not None})  # type: ignore[arg-type]  # fields by name
    return before, replace(now, blanks="") if line.blank else now
