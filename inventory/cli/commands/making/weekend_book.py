"""`weekend book`: the filled sheet of a session goes into the book, all or nothing, and is learned from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, answered
from inventory.cli.json.exact import Value
from inventory.cli.screens.session_report import session_json, session_screen
from inventory.cli.session import JsonOption, StoreOption, YesOption, existing, opened, say, shop_of
from inventory.jobs.sessions.reconciling.booking import SessionBooking, book_session, session_of
from inventory.jobs.sessions.reconciling.outcome import SessionReport

if TYPE_CHECKING:
    from inventory.catalogue import Catalogue
    from inventory.jobs.differences.reasons import BookMemory
    from inventory.jobs.sessions.reconciling.measured import Checked
    from inventory.jobs.sessions.sheet_rows import FilledSession
    from inventory.ledger.sessions import LearnedFigures, Observed, Outcome
    from inventory.store import Read


@dataclass(frozen=True, slots=True)
class BookedSession:
    """What is about to be booked, and how it looks on Sunday night."""

    booking: SessionBooking
    report: SessionReport


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
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """After the session: what was made and lost is drawn, bottles and counts are set right, rates are learned.

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
            filled = read_session(existing(file), read.catalogue())

        def work_out(read: Read) -> BookedSession:
            return _worked_out(read, filled, session)

        answer = Answer(work_out, lambda one: one.booking.proposal, _show, "Book it so?", _tell, _json)
        number, made = answered(found, answer, yes=yes, as_json=as_json)
    if save is not None and number is not None:
        from inventory.sheets.reports.writing import write_report

        write_report(save, made.report, overwrite=True)
        if not as_json:
            say(f"Written: {save}")


def _show(made: BookedSession) -> None:
    say(session_screen(made.booking, made.report))


def _json(number: int | None, made: BookedSession) -> dict[str, Value]:
    return {"document": number, **session_json(made.booking, made.report)}


def _tell(number: int | None, made: BookedSession) -> None:
    if number is None:
        say("Nothing was booked.")
        return
    say(["", f"Booked as document {number}. `kitdrawer undo` takes it back."])
    if made.report.short or made.report.to_buy:
        say("Next: kitdrawer shopping")


def _worked_out(read: Read, filled: FilledSession, name: str) -> BookedSession:
    from inventory.cli.past import past_of, use_and_wear
    from inventory.jobs.learning.learned_figures import relearn
    from inventory.jobs.learning.readings import looks, unseen
    from inventory.jobs.purchasing.demand import demand
    from inventory.jobs.purchasing.shopping import HORIZON
    from inventory.jobs.sessions.reconciling.session_report import look_back
    from inventory.jobs.sessions.session_needs import rate_scatter
    from inventory.jobs.sessions.sheet_contents import session_named
    from inventory.ledger.learned import with_learned
    from inventory.ledger.sessions import Happened

    shop = shop_of(read)
    sessions = read.sessions()
    if name and not filled.session:
        filled = replace(filled, session=session_named(sessions, name).number)
    written, before = read.written(), read.learned()
    happened, words = read.happened(), read.rate_words()

    def figures(
        outcomes: Sequence[Outcome], observed: Sequence[Observed]
    ) -> tuple[LearnedFigures, Catalogue]:
        new = Happened(read.version + 1, shop.today, tuple(outcomes), tuple(observed))
        learned = relearn(written, [*happened, new], words)
        return learned, with_learned(written, learned)

    def past(checked: Sequence[Checked], asked: Mapping[str, int]) -> BookMemory:
        every = {key: asked.get(key, 0) + earlier.get(key, 0) for key in {**asked, **earlier}}
        return past_of(read, checked, rate_scatter(every, before))

    earlier = {key: unseen(seen) for key, seen in looks(happened).items()}
    booking = book_session(shop, session_of(sessions, filled, read.mark()), filled, figures, past, earlier)
    learned = booking.proposal.learned or before
    wanted = demand(booking.shop, use_and_wear(read, shop), shop.today + HORIZON)
    report = look_back(booking, booking.differences, written, before, learned, wanted)
    return BookedSession(booking, report)
