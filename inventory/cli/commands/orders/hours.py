"""`hours`: the hours a week has for making, by weekday, and days off."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value, dumps
from inventory.cli.screens.tables import wrapped
from inventory.cli.session import JsonOption, StoreOption, YesOption, opened, say, shop_of
from inventory.errors import BadInput, Refused
from inventory.jobs.hours.time_left import hours as shown
from inventory.jobs.hours.time_left import promised_work
from inventory.jobs.hours.week import DAYS, KEY, Week, read_week, week_of
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import SettingChanged
from inventory.ledger.shop import Shop
from inventory.measures import show_date

if TYPE_CHECKING:
    from inventory.store import Read


def hours(
    week: Annotated[str, typer.Argument(metavar='["tue 2, sat 5"]', help="Hours by weekday.")] = "",
    off: Annotated[
        list[str] | None,
        typer.Option(metavar="DAY", help='A day off, or "2026-12-24 to 2026-12-27"; may be repeated.'),
    ] = None,
    until: Annotated[str, typer.Option(metavar="DATE", help="The last day it holds for.")] = "",
    clear: Annotated[bool, typer.Option("--clear", help="Count no hours any more.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Hours for making: can-take counts what is promised against them, and says when the time lacks.

    For example:
    kitdrawer hours
    kitdrawer hours "tue 2, thu 2, sat 5" --until 2026-12-24
    kitdrawer hours --off 2026-12-08
    kitdrawer hours --clear
    """
    if clear and (week or off or until):
        raise BadInput("--clear goes alone.", hint="Say what hours there are, or --clear.")
    if not (week or off or until or clear):
        _look(store, as_json=as_json)
        return

    def work_out(read: Read) -> tuple[Shop, Week | None, Proposal]:
        shop = shop_of(read, lambda _: (), offers=False)
        return _said(shop, week, off or [], until, clear=clear)

    def show(made: tuple[Shop, Week | None, Proposal]) -> None:
        say(wrapped(f"{made[2].title}."))
        if made[1] is not None:
            say(_screen(made[0], made[1]))

    with opened(store) as found:
        write(
            found,
            Answer(
                work_out,
                lambda made: made[2],
                show,
                "Book it?",
                lambda number, _: say(_told(number)),
                lambda _, made: _json(made[0], made[1]),
            ),
            yes=yes,
            as_json=as_json,
        )


def _said(
    shop: Shop, text: str, off: list[str], until: str, *, clear: bool
) -> tuple[Shop, Week | None, Proposal]:
    """What was said, over what was known: days off alone are added to the week there is."""
    before = week_of(shop.settings)
    if not text and before is None:
        raise Refused("No hours are known yet.", hint='Say them: kitdrawer hours "tue 2, thu 2, sat 5"')
    week = None if clear else read_week(text or (before.written if before else ""), off, until)
    if week is not None and week.until is not None and week.until < shop.today:
        raise BadInput(f"{show_date(week.until)} is past.", hint="Give a day from today on.")
    title = "No hours are counted any more" if week is None else f"Hours: {week.written}"
    proposal = Proposal(
        "hours",
        title,
        shop.today,
        changes=(SettingChanged(KEY, None if week is None else week.written),),
        expected_version=shop.book.version,
    )
    return shop, week, proposal


def _told(number: int | None) -> str:
    return (
        "Nothing was booked."
        if number is None
        else f"Booked (document {number}). Take it back: kitdrawer undo"
    )


def _look(store: str | None, *, as_json: bool) -> None:
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read, lambda _: (), offers=False)
    week = week_of(shop.settings)
    if as_json:
        say(dumps(_json(shop, week)))
    elif week is None:
        say(['No hours are known. Say them: kitdrawer hours "tue 2, thu 2, sat 5"'])
    else:
        say(_screen(shop, week))


def _screen(shop: Shop, week: Week) -> list[str]:
    lines = wrapped(f"{shown(sum(week.minutes))} a week: {week.written}.")
    end = week.until + timedelta(days=1) if week.until else shop.today + timedelta(weeks=4)
    there, promised = week.between(shop.today, end), sum(one.minutes for one in promised_work(shop))
    when = f"until {show_date(end - timedelta(days=1))}"
    return [*lines, *wrapped(f"{shown(there)} {when}, of which {shown(promised)} are promised.")]


def _json(shop: Shop, week: Week | None) -> dict[str, Value]:
    return {
        "week": None if week is None else dict(zip(DAYS, week.minutes, strict=True)),
        "off": [] if week is None else sorted(week.off),
        "until": None if week is None else week.until,
        "promised": [
            {"order": one.name, "minutes": one.minutes, "begins": one.begins, "due": one.due}
            for one in sorted(promised_work(shop), key=lambda one: (one.due, one.name))
        ],
    }
