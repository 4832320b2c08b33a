"""`weekend book`: the filled sheet of a session goes into the book, all or nothing, and is learned from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, answered
from inventory.cli.drawing.draw import command
from inventory.cli.entering.asked import read_asking
from inventory.cli.entering.evening import BookedSession, looked_back
from inventory.cli.json.exact import Value
from inventory.cli.json.session import session_json
from inventory.cli.screens.making.session_report import session_in_full, session_reasons, session_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    WhyOption,
    YesOption,
    booked_as,
    existing,
    opened,
    say,
    shop_of,
)
from inventory.jobs.sessions.reconciling.booking import session_of

if TYPE_CHECKING:
    from inventory.reports.filled import FilledSession
    from inventory.store import Read


def weekend_book(
    file: Annotated[
        Path,
        typer.Argument(readable=False, help="The filled sheet: a workbook, a folder of CSV, or pieces.csv."),
    ],
    session: Annotated[
        str, typer.Option(help="Its session, where the sheet no longer says; the only planned one else.")
    ] = "",
    save: Annotated[
        Path | None,
        typer.Option(readable=False, metavar="FILE.xlsx", help="Write Sunday's report as a workbook."),
    ] = None,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Replace the report if it is there.")
    ] = False,
    every: AllOption = False,
    why: WhyOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """After the session: what it used leaves the shelf, bottles and counts are set right, rates are learned.

    For example:
    kitdrawer weekend book saturday.xlsx
    kitdrawer weekend book saturday.xlsx --save report.xlsx --yes
    """
    from inventory.sheets.sessions.reading import read_session

    if (
        save is not None
    ):  # asked before anything is booked: a report that cannot be written is no reason to doubt it
        from inventory.sheets.saving import check_free, check_workbook

        check_workbook(save)
        check_free(save, overwrite=overwrite)
    with opened(store) as found:
        with found.reading() as read:
            path, known = existing(file, "weekend sheet --save saturday.xlsx"), read.catalogue()
        filled = read_asking(lambda said: read_session(path, known, said), ask=not (yes or as_json))

        def work_out(read: Read) -> BookedSession:
            return _worked_out(read, filled, session)

        screen = session_reasons if why else session_in_full if every else session_screen

        def show(one: BookedSession) -> None:
            say(screen(one.booking, one.report))

        answer = Answer(work_out, lambda one: one.booking.proposal, show, "Book it so?", _tell, _json)
        number, made = answered(found, answer, yes=yes, as_json=as_json)
    if save is not None and number is not None:
        from inventory.sheets.reports.writing import write_report

        write_report(save, made.report, overwrite=True)
        if not as_json:
            say(command("Saved", str(save)))


def _json(number: int | None, made: BookedSession) -> dict[str, Value]:
    return {"document": number, **session_json(made.booking, made.report)}


def _tell(number: int | None, made: BookedSession) -> None:
    buying = [("Next", "kitdrawer shopping")] if made.report.short or made.report.to_buy else []
    booked_as(number, made, *buying)


def _worked_out(read: Read, filled: FilledSession, name: str) -> BookedSession:
    from inventory.jobs.sessions.sheet_contents import session_named

    sessions = read.sessions()
    if name and not filled.session:
        filled = replace(filled, session=session_named(sessions, name).number)
    return looked_back(read, shop_of(read), session_of(sessions, filled, read.mark()), filled)
