"""`hours`: the hours a week has for making, by weekday, and days off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import STAGES
from inventory.catalogue.usual.times import usual_time
from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Fact, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Value, dumps
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.errors import BadInput, Refused
from inventory.jobs.hours.piece_time import SET_UP_KEY, STAGE_KEY, of_setting, read_stages, written
from inventory.jobs.hours.time_left import hours as shown
from inventory.jobs.hours.time_left import promised_work
from inventory.jobs.hours.week import DAYS, KEY, Week, read_week, week_of
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import SettingChanged
from inventory.ledger.shop import Shop
from inventory.measures import show_date, show_day
from inventory.measures.dates import days_in

if TYPE_CHECKING:
    from inventory.store import Read


def hours(
    week: Annotated[str, typer.Argument(metavar='["tue 2, sat 5"]', help="Hours by weekday.")] = "",
    off: Annotated[
        list[str] | None,
        typer.Option(metavar="DAY", help='A day off, or "2026-12-24 to 2026-12-27"; may be repeated.'),
    ] = None,
    until: Annotated[str, typer.Option(metavar="DATE", help="The last day it holds for.")] = "",
    stages: Annotated[
        str,
        typer.Option(metavar='"turn 20"', help="Minutes of a piece by stage, where its pattern says none."),
    ] = "",
    set_up: Annotated[
        str, typer.Option(metavar='"drill 10"', help="Minutes of setting up a stage, once an evening.")
    ] = "",
    clear: Annotated[bool, typer.Option("--clear", help="Count no hours any more.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Hours for making: can-take and plan count what is promised against them, and say when the time lacks.

    For example:
    kitdrawer hours
    kitdrawer hours "tue 2, thu 2, sat 5" --until 2026-12-24
    kitdrawer hours --off 2026-12-08
    kitdrawer hours --stages "turn 20, finish 25" --set-up "drill 10"
    kitdrawer hours --clear
    """
    said = HoursSaid(week, tuple(off or ()), until, read_stages(stages), read_stages(set_up), clear)
    if clear and any((week, off, until, stages, set_up)):
        raise BadInput("--clear goes alone.", hint="Say what hours there are, or --clear.")
    if not any((week, off, until, stages, set_up, clear)):
        _look(store, as_json=as_json)
        return

    def work_out(read: Read) -> tuple[Shop, Week | None, Proposal]:
        shop = shop_of(read, lambda _: (), offers=False)
        return _said(shop, said)

    def show(made: tuple[Shop, Week | None, Proposal]) -> None:
        say(_screen(made[0], made[1], "" if week else made[2].title))

    with opened(store) as found:
        answer = Answer(
            work_out,
            lambda made: made[2],
            show,
            "Book it?",
            booked_as,
            lambda _, made: _json(made[0], made[1]),
        )
        write(found, answer, yes=yes, as_json=as_json)


@dataclass(frozen=True, slots=True)
class HoursSaid:
    """What was said on the line; stages, set_up: minutes by stage, over those that were known."""

    week: str
    off: tuple[str, ...]
    until: str
    stages: Mapping[str, int]
    set_up: Mapping[str, int]
    clear: bool


def _said(shop: Shop, said: HoursSaid) -> tuple[Shop, Week | None, Proposal]:
    """What was said, over what was known: days off alone are added to the week there is."""
    week, told, changes = week_of(shop.settings), [], []
    if said.week or said.off or said.until or said.clear:
        week = _week(shop, week, said)
        told.append("No hours are counted any more" if week is None else f"Hours: {week.written}")
        changes.append(SettingChanged(KEY, None if week is None else week.written))
    for what, key, minutes in (
        ("Minutes of a piece", STAGE_KEY, said.stages),
        ("Setting up", SET_UP_KEY, said.set_up),
    ):
        if minutes:
            text = written({**of_setting(shop.settings, key), **minutes})
            told.append(f"{what}: {text}")
            changes.append(SettingChanged(key, text))
    title = ". ".join(told)
    proposal = Proposal(
        "hours", title, shop.today, changes=tuple(changes), expected_version=shop.book.version
    )
    return replace(shop, settings=_settings(shop, changes)), week, proposal


def _settings(shop: Shop, changes: Iterable[SettingChanged]) -> dict[str, str]:
    """As they are once these are booked."""
    after = dict(shop.settings)
    for one in changes:
        after[one.key] = one.value or ""
    return after


def _week(shop: Shop, before: Week | None, said: HoursSaid) -> Week | None:
    if said.clear:
        return None
    if not said.week and before is None:
        raise Refused("No hours are known yet.", hint='Say them: kitdrawer hours "tue 2, thu 2, sat 5"')
    week = read_week(said.week or (before.written if before else ""), said.off, said.until)
    if week.until is not None and week.until < shop.today:
        raise BadInput(f"{show_date(week.until)} is past.", hint="Give a day from today on.")
    return week


def _look(store: str | None, *, as_json: bool) -> None:
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read, lambda _: (), offers=False)
    week = week_of(shop.settings)
    if as_json:
        say(dumps(_json(shop, week)))
    elif week is None:
        following = ("Say them", 'kitdrawer hours "tue 2, thu 2, sat 5"')
        say(draw(Screen(f"No hours are known, {show_day(shop.today)}.", following=following)))
    else:
        say(_screen(shop, week, "", _pieces(shop)))


def _pieces(shop: Shop) -> list[Fact]:
    """Minutes a piece takes by stage and minutes of setting up, those of one's own marked."""
    rows = list(_by_stage(shop))
    piece = [f"{stage} {minutes}{'' if usual else '*'}" for stage, minutes, usual, _, _ in rows]
    set_up = [f"{stage} {minutes}{'' if usual else '*'}" for stage, _, _, minutes, usual in rows if minutes]
    own = any(not (usual and usual_set_up) for _, _, usual, _, usual_set_up in rows)
    marks = "* yours; the others are usual, not your own" if own else "all usual, none of them your own"
    return [
        Fact("Piece", f"{', '.join(piece)} min, where its pattern says none"),
        Fact("Set up", f"{', '.join(set_up)} min, once an evening"),
        Fact("", marks),
    ]


def _by_stage(shop: Shop) -> Iterator[tuple[str, int, bool, int, bool]]:
    """Stage, minutes of a piece, whether they are usual, minutes of setting up, whether they are usual."""
    said, set_up = of_setting(shop.settings, STAGE_KEY), of_setting(shop.settings, SET_UP_KEY)
    for stage in STAGES:
        usual = usual_time(stage)
        yield (
            stage,
            said.get(stage, usual.minutes),
            stage not in said,
            set_up.get(stage, usual.setting_up),
            stage not in set_up,
        )


def _screen(shop: Shop, week: Week | None, title: str = "", pieces: Sequence[Fact] = ()) -> list[str]:
    """The hours of a week and what of them is promised. title: of what is booked; pieces: what one takes."""
    year = shop.today.year
    facts = [Fact("Change", f"{days_in(title, year)}." if title else "")]
    if week is None:
        return draw(Screen(f"No hours are counted, {show_day(shop.today)}.", (), [facts], reserved=3))
    end = week.until + timedelta(days=1) if week.until else shop.today + timedelta(weeks=4)
    there, promised = week.between(shop.today, end), sum(one.minutes for one in promised_work(shop))
    taken = f"of which {shown(promised)} are promised" if promised else "none of it promised"
    head = f"{shown(there)} until {show_day(end - timedelta(days=1))}, {taken}."
    facts += [
        Fact("Week", f"{shown(sum(week.minutes))}: {days_in(week.written, year)}"),
        *pieces,
    ]
    return draw(Screen(head, (), [facts], reserved=3))


def _json(shop: Shop, week: Week | None) -> dict[str, Value]:
    return {
        "week": None if week is None else dict(zip(DAYS, week.minutes, strict=True)),
        "off": [] if week is None else sorted(week.off),
        "until": None if week is None else week.until,
        "stages": [
            {
                "stage": stage,
                "minutes": minutes,
                "minutes_usual": usual,
                "setting_up": setting_up,
                "setting_up_usual": usual_set_up,
            }
            for stage, minutes, usual, setting_up, usual_set_up in _by_stage(shop)
        ],
        "promised": [
            {"order": one.name, "minutes": one.minutes, "begins": one.begins, "due": one.due}
            for one in sorted(promised_work(shop), key=lambda one: (one.due, one.name))
        ],
    }
