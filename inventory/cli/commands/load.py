"""`load`: sheets in, all or nothing."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Part, fold
from inventory.cli.answers import Answer, write
from inventory.cli.exact_json import Exact, Value, dumps
from inventory.cli.memory import no_collecting
from inventory.cli.progress import progress
from inventory.cli.session import (
    JsonOption,
    StoreOption,
    YesOption,
    existing,
    opened,
    say,
    shop_of,
    talk,
    today,
)
from inventory.cli.tables import wrapped
from inventory.jobs import loading
from inventory.jobs.loading import Load
from inventory.ledger.costs import Prices
from inventory.measures import currency, listed, show_amount

if TYPE_CHECKING:
    from inventory.ledger import Intake
    from inventory.store import Read


def load(
    sheets: Annotated[
        list[Path],
        typer.Argument(readable=False, metavar="FILE-OR-FOLDER…", help="Workbooks, CSV files, folders."),
    ],
    yes: YesOption = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Read and show, book nothing.")] = False,
    anew: Annotated[
        bool, typer.Option("--anew", help="Book what was booked before: counted again, the same found.")
    ] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Load sheets: what the shop has, makes, buys and is asked for. All of it or nothing.

    For example:
    kitdrawer load shop.xlsx
    kitdrawer load sample_stock/ --dry-run
    """
    from inventory.sheets.reading import read_sheets
    from inventory.sheets.sources import shown

    paths = [existing(path) for path in sheets]
    with opened(store) as found, no_collecting():
        with found.reading() as read, progress("Reading") as step:
            catalogue, orders = read.catalogue(), read.book(()).orders
            coin = currency(read.currency)
            intake = read_sheets(paths, catalogue, orders, coin, today=today(), progress=step)
        title = f"Load {', '.join(shown(path.name) for path in paths)}"

        def work_out(read: Read) -> Load:
            return _worked_out(read, intake, title, anew)

        def show(done: Load) -> None:
            lines = _screen(done, {**catalogue.parts, **intake.catalogue.parts})
            (talk if as_json else say)("\n".join(lines))

        if dry_run:
            with found.reading() as read:
                done = work_out(read)
            show(done)
            talk("Nothing was booked (--dry-run).")
            if as_json:
                say(dumps({"entry": None, **_json(None, done)}))
            return
        answer = Answer(
            work_out, lambda done: done.proposal, show, "Book this?", _told, _json, intake=intake, talks=True
        )
        write(found, answer, yes=yes, as_json=as_json)


def _told(number: int | None, _: Load) -> None:
    if number is None:
        say("Nothing was booked.")
    else:
        say(f"Booked as document {number}. `kitdrawer undo` takes it back.")


def _worked_out(read: Read, intake: Intake, title: str, anew: bool) -> Load:
    counted = {count.part for count in intake.counts}
    done = loading.load(intake, read.book(counted), today(), title, _prices(read, intake, counted))
    if anew:
        done = replace(done, proposal=replace(done.proposal, fingerprint=""))
    elif done.differences:
        done = loading.with_doubt(done, read.counted_by(), read.moved_since)
    return _relearned(read, intake, done)


def _prices(read: Read, intake: Intake, parts: Collection[str]) -> Prices:
    """What offers say of these parts, those that come with the sheets included."""
    new = {key: several for key, several in intake.catalogue.offers.items() if key in set(map(fold, parts))}
    shop = shop_of(read, lambda _: parts)
    suppliers = {**shop.catalogue.suppliers, **intake.catalogue.suppliers}
    return replace(shop.prices, offers=loading.offers_with(shop.offers, new), suppliers=suppliers)


def _relearned(read: Read, intake: Intake, done: Load) -> Load:
    """The load with rates and losses worked out anew where sessions taught any: they are measured by the sheets."""
    happened, words = read.happened(), read.rate_words()
    if not happened and not words:
        return done
    from inventory.catalogue.checks import merged
    from inventory.jobs.learning import relearn

    learned = relearn(merged(read.written(), intake.catalogue), happened, words)
    kept = read.learned()
    if set(learned.rates) == set(kept.rates) and set(learned.losses) == set(kept.losses):
        return done
    told = "Rates and losses are worked out anew by these sheets."
    return replace(done, proposal=replace(done.proposal, learned=learned), notes=(*done.notes, told))


def _json(number: int | None, done: Load) -> dict[str, Value]:
    exact = Exact(2)
    return {
        "document": number,
        "rows": dict(done.rows),
        "differences": [
            {"part": one.part, "found": exact.amount(one.found), "booked": exact.amount(one.booked)}
            for one in done.differences
        ],
        "notes": list(done.notes),
        "by_offer": list(done.by_offer),
        "unknown": list(done.unknown),
    }


MOST_DIFFERENCES = 20


def _screen(done: Load, parts: Mapping[str, Part]) -> list[str]:
    lines = wrapped(
        "Read " + (", ".join(f"{rows} {tab}" for tab, rows in done.rows if rows) or "nothing") + "."
    )
    for note in done.notes:
        lines += wrapped(note, "· ")
    if done.by_offer:
        lines += wrapped(
            f"Counted without a cost, which is as the latest offer says: {listed(done.by_offer)}.", "· "
        )
    if done.unknown:
        told = f"Nobody says what it cost, and no offer does: {listed(done.unknown)}."
        lines += wrapped(
            f"{told} Until a count gives a unit cost, no price is given of what is made of it.", "· "
        )
    if done.differences:
        lines.append("Counted otherwise than booked:")
    for one in done.differences[:MOST_DIFFERENCES]:
        unit = parts[fold(one.part)].unit
        lines += wrapped(
            f"{one.part}: {show_amount(one.found, unit)} found, {show_amount(one.booked, unit)} booked", "  "
        )
    if len(done.differences) > MOST_DIFFERENCES:
        lines.append(f"  … and {len(done.differences) - MOST_DIFFERENCES} more")
    return lines
