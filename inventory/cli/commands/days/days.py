"""`days`: many lines of ordinary days at once, out of a sheet."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import pasted
from inventory.cli.entering.asked import read_asking
from inventory.cli.json.exact import Value
from inventory.cli.screens.by_hand import by_hand_json
from inventory.cli.screens.days.many import days_screen
from inventory.cli.screens.doubtful import SureOption, check_sure, doubtful_json
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    YesOption,
    booked_as,
    existing,
    opened,
    packs_offered,
    say,
    shop_of,
    today,
)
from inventory.errors import BadInput, KitdrawerError
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.evening import parts_touched
from inventory.jobs.days.many import Days, day_of, many
from inventory.jobs.days.said_lines import SaidSoFar, Told, changing, made_tonight
from inventory.measures import Currency, currency
from inventory.reports.days_sheet import DayLine, SaidLine

if TYPE_CHECKING:
    from inventory.catalogue import Offer
    from inventory.jobs.sessions.reconciling.booking import SessionBooking
    from inventory.jobs.sessions.replanning import PlanOfChanged
    from inventory.ledger.sessions import Session
    from inventory.ledger.shop import Shop
    from inventory.reports.days_sheet import FilledDays
    from inventory.reports.filled import FilledSession
    from inventory.sheets.days.reading import DaysKnown
    from inventory.store import Read, Store


def days(
    sheet: Annotated[
        Path | None,
        typer.Argument(readable=False, metavar="[FILE]", help="A workbook, a CSV file or a folder."),
    ] = None,
    save: Annotated[
        Path | None,
        typer.Option(readable=False, metavar="FILE.xlsx", help="Write an empty sheet to fill (or FILE.csv)."),
    ] = None,
    everything: AllOption = False,
    sure: SureOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What was added, taken, lent, sold, made, paid, changed or renamed, many lines at once: one entry, or none.

    For example:
    kitdrawer days --save market.xlsx
    kitdrawer days market.xlsx
    """
    if (sheet is None) == (save is None):
        raise BadInput(
            "Give the filled sheet, or --save FILE for an empty one.",
            hint="kitdrawer days market.xlsx books it; kitdrawer days --save market.xlsx writes an empty one.",
        )
    if save is not None:
        from inventory.sheets.days.writing import write_days

        write_days(save)
        say([f"Saved: {save}", *command("When it is filled", f"kitdrawer days {pasted(str(save))}")])
    elif sheet is not None:
        path = existing(sheet, "days --save days.xlsx")
        _book(path, sure=sure, everything=everything, yes=yes, store=store, as_json=as_json)


def _book(path: Path, *, sure: bool, everything: bool, yes: bool, store: str | None, as_json: bool) -> None:
    from inventory.sheets.days.reading import read_days

    with opened(store) as found:
        with found.reading() as read:
            known, coin = _known(read, found), currency(read.currency)
        filled = read_asking(lambda answers: read_days(path, known, answers), ask=not (yes or as_json))

        def work_out(read: Read) -> Days:
            shop = shop_of(read, lambda bare: _touched(bare, filled))
            newest = max((one.document.on for one in read.entries(last=1)), default=shop.today)
            shop = replace(shop, today=day_of(filled, newest, shop.today))
            said = SaidSoFar(read.paid(), lambda: _every_offer(read), read.sessions)
            made = many(shop, filled, read.lent(), said, lambda *at: _at_the_bench(read, *at))
            check_sure(made.doubts, sure=sure, yes=yes)
            return made

        write(
            found,
            Answer(
                work_out,
                lambda made: made.proposal,
                lambda made: say(days_screen(made, coin, everything=everything)),
                "Book all of it?",
                booked_as,
                lambda _, made: _json(made, coin),
                short=lambda made: bool(made.short),
            ),
            yes=yes,
            as_json=as_json,
        )


def _every_offer(read: Read) -> list[Offer]:
    return [one for some in read.offers().values() for one in some]


def _line_json(line: DayLine | SaidLine, one: ByHand | Told, coin: Currency) -> Mapping[str, Value]:
    if isinstance(one, Told) or isinstance(line, SaidLine):
        plan: PlanOfChanged | None = getattr(one, "plan", None)
        fits: Mapping[str, Value] = (
            {} if plan is None else {"plan": {"session": plan.session.name, "fits": plan.fits}}
        )
        return {"of": getattr(line, "of", None), "says": getattr(one, "says", None), **fits}
    return {"on": line.on, **by_hand_json(one, coin)}


def _known(read: Read, found: Store) -> DaysKnown:
    """What a sheet is read by. Packs are looked up whenever a line asks: a question at the keyboard may take long."""
    from inventory.sheets.days.reading import DaysKnown

    def packs(part: str) -> Collection[int]:
        with found.reading() as moment:
            return packs_offered(moment)(part)

    return DaysKnown(read.catalogue(), currency(read.currency), today(), packs)


def _touched(bare: Shop, filled: FilledDays) -> set[str]:
    """The parts whose lots and offers the lines may look at; what cannot be read is said with its line, later."""
    found = {line.part.name for line in filled.lines if isinstance(line, DayLine)}
    for line in filled.lines:
        if isinstance(line, DayLine) or line.what not in ("made", "change"):
            continue
        with suppress(KitdrawerError):
            found |= (
                parts_touched(bare, made_tonight(bare, line)) if line.what == "made" else changing(bare, line)
            )
    return found


def _at_the_bench(read: Read, shop: Shop, session: Session, filled: FilledSession) -> SessionBooking:
    from inventory.cli.entering.evening import looked_back  # few sheets say that anything was made

    return looked_back(read, shop, session, filled, buying=False).booking


def _json(made: Days, coin: Currency) -> Mapping[str, Value]:
    return {
        "title": made.proposal.title,
        "on": made.proposal.on,
        "lines": [
            {"row": line.place.row, "what": line.what, **_line_json(line, one, coin)}
            for line, one in made.made
        ],
        "doubtful": doubtful_json(made.doubts),
        "notes": list(made.notes),
    }
