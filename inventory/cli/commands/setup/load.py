"""`load`: sheets in, all or nothing."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Part, fold
from inventory.cli.answers import Answer, answered, worked
from inventory.cli.drawing.texts import wrapped
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.costs_said import corrections_json
from inventory.cli.screens.doubtful import SureOption, check_sure, doubtful_json
from inventory.cli.screens.progress import progress
from inventory.cli.screens.setup.load import load_screen
from inventory.cli.screens.sheet_changes import changes_json, new_json, unused_json
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
    talk,
    today,
)
from inventory.errors import BadSheet
from inventory.jobs.ahead.markets import markets_of
from inventory.jobs.stock import loading
from inventory.jobs.stock.loading import Load
from inventory.ledger.costs import Prices
from inventory.measures import Currency, currency, listed

if TYPE_CHECKING:
    from inventory.cli.guess.beginning import BookedWith
    from inventory.ledger import Intake
    from inventory.store import Read, Store


def load(
    sheets: Annotated[
        list[Path],
        typer.Argument(readable=False, metavar="FILE-OR-FOLDER…", help="Workbooks, CSV files, folders."),
    ],
    yes: YesOption = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Read and show, book nothing.")] = False,
    anew: Annotated[
        bool,
        typer.Option("--again", "--anew", help="Book what was booked before: counted again, the same found."),
    ] = False,
    sure: SureOption = False,
    everything: AllOption = False,
    guess: Annotated[
        bool,
        typer.Option(
            "--guess", help="A list of somebody else's: kits, an order that was confirmed; - to paste."
        ),
    ] = False,
    save: Annotated[
        Path | None,
        typer.Option(readable=False, help="With --guess: where our tabs go; beside the list if not said."),
    ] = None,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Load sheets: what the shop has, makes, buys and is asked for. All of it or nothing.

    For example:
    kitdrawer load shop.xlsx
    kitdrawer load sample_stock/ --dry-run
    kitdrawer load --guess confirmed.csv
    """
    if guess:
        _guessed(sheets, save, store, yes=yes and not dry_run, as_json=as_json, sure=sure)
        return
    paths = [existing(path) for path in sheets]
    with opened(store) as found:
        one = _Loading(
            found, *_read(found, paths), anew=anew, sure=sure, yes=yes, as_json=as_json, everything=everything
        )
        if dry_run:
            one.look()
        else:
            one.book()


def _guessed(
    sheets: list[Path], save: Path | None, store: str | None, *, yes: bool, as_json: bool, sure: bool
) -> None:
    from inventory.cli.guess.running import Adding

    Adding(
        sheets,
        save,
        store,
        "",
        lambda _: None,
        load_begun,
        yes=yes,
        as_json=as_json,
        sure=sure,
        again="load --guess",
    ).run()


def _read(found: Store, paths: Sequence[Path]) -> tuple[Intake, str, Mapping[str, Part], Currency]:
    """What the sheets say, what the load is called, the parts there are, and the shop's coin."""
    from inventory.sheets.sources import shown
    from inventory.sheets.stock.reader import read_sheets

    names = [shown(path.name or path.resolve().name or str(path)) for path in paths]
    with found.reading() as read, progress("Reading") as step:
        catalogue, orders = read.catalogue(), read.orders()
        coin = currency(read.currency)
        intake = read_sheets(
            paths, catalogue, orders, coin, today=today(), progress=step, packs_of=packs_offered(read)
        )
    if not any(rows for _, rows in intake.rows):
        raise BadSheet(
            f"Nothing is filled in {listed(names)}: no tab has a row under its headings.",
            hint="Nothing was booked. Fill what you have; `kitdrawer columns` tells what the tabs are for.",
        )
    parts = {**catalogue.parts, **intake.catalogue.parts}
    return intake, f"Load {', '.join(names)}", parts, coin


@dataclass(frozen=True, slots=True)
class _Loading:
    """One set of sheets on its way into the book, and how it was asked for."""

    found: Store
    intake: Intake
    title: str
    parts: Mapping[str, Part]
    coin: Currency
    anew: bool
    sure: bool
    yes: bool
    as_json: bool
    everything: bool = False
    beside: BookedWith | None = None

    def work_out(self, read: Read) -> Load:
        """The load as the book stands."""
        done = _worked_out(read, self.intake, self.title, self.anew)
        if self.beside is not None:
            done = replace(done, proposal=self.beside.with_it(read, self.intake, done.proposal))
        check_sure(done.doubts, sure=self.sure, yes=self.yes)
        return done

    def show(self, done: Load) -> None:
        """What it would book, on standard error where the answer is JSON."""
        lines = load_screen(done, self.intake.unused, self.parts, self.coin, everything=self.everything)
        (talk if self.as_json else say)("\n".join(lines))
        if self.beside is not None:
            self.beside.show()

    def body(self, number: int | None, done: Load) -> dict[str, Value]:
        """The answer as JSON."""
        return {
            **_json(number, done, self.coin),
            "new": new_json(done.changes),
            "changes": changes_json(done.changes),
            "unused": unused_json(self.intake.unused),
        }

    def look(self) -> None:
        """Show it and book nothing."""
        with self.found.reading() as read:
            done = self.work_out(read)
        self.show(done)
        talk("Nothing was booked (--dry-run).")
        if self.as_json:
            say(dumps({"entry": None, **self.body(None, done)}))

    def answer(self) -> Answer[Load]:
        """How it is booked and told: with it, by a document of its own, what it says of the costs of what is there."""
        return Answer(
            self.work_out,
            lambda done: done.proposal,
            self.show,
            "Book this?",
            _told,
            self.body,
            intake=lambda done: replace(self.intake, stood=done.sheets),
            talks=True,
        )

    def book(self) -> None:
        """Book it and tell of it."""
        answered(self.found, self.answer(), yes=self.yes, as_json=self.as_json)


def load_begun(
    found: Store, path: Path, *, yes: bool, as_json: bool, sure: bool, beside: BookedWith | None = None
) -> int | None:
    """Load what `begin --from` wrote; the entry's number. Where the answer is JSON it is its caller's to give."""
    one = _Loading(
        found, *_read(found, [path]), anew=False, sure=sure, yes=yes, as_json=as_json, beside=beside
    )
    number, done = worked(found, one.answer(), yes=yes, as_json=as_json)
    if not as_json:
        _told(number, done)
    return number


def _costs_number(number: int | None, done: Load) -> int | None:
    """The number of the document of the costs: it is booked right after the load's, in one go with it."""
    return None if number is None or not done.corrected else number + 1


def _told(number: int | None, done: Load) -> None:
    costs = _costs_number(number, done)
    if costs is None:
        booked_as(number)
        return
    text = (
        f"Booked (entry {number}), and the costs (entry {costs}). The costs taken back: kitdrawer undo; once more, "
        "the load too."
    )
    say(wrapped(text))


def _worked_out(read: Read, intake: Intake, title: str, anew: bool) -> Load:
    counted = {count.part for count in intake.counts}
    parts = {**read.written().parts, **intake.catalogue.parts}
    known = loading.KnownShop(
        *(parts, _prices(read, intake, counted), currency(read.currency), read.most_at_once, read.sayings),
        markets_of(read.settings()),
    )
    done = loading.load(intake, read.book(counted), today(), title, known)
    if anew:
        done = replace(done, proposal=replace(done.proposal, fingerprint=""))
    elif done.differences:
        done = loading.with_doubt(done, read.counted_by(), read.moved_since)
    return _relearned(read, intake, loading.with_changes(done, intake, _before(read, intake)))


def _before(read: Read, intake: Intake) -> loading.Before:
    """What the book says of all the sheets may name."""
    stood = read.stood({one.tab for one in intake.stood})
    written = read.written()
    if intake.catalogue.offers or any(one.tab == "offers" for one in stood):
        written = replace(written, offers=read.offers())
    return loading.Before(written, read.orders(), stood, currency(read.currency), markets_of(read.settings()))


def _prices(read: Read, intake: Intake, parts: Collection[str]) -> Prices:
    """What offers say of these parts, those that come with the sheets included."""
    wanted = set(map(fold, parts))
    new = {key: several for key, several in intake.catalogue.offers.items() if key in wanted}
    shop = shop_of(read, lambda _: parts)
    suppliers = {**shop.catalogue.suppliers, **intake.catalogue.suppliers}
    return replace(shop.prices, offers=loading.offers_with(shop.offers, new), suppliers=suppliers)


def _relearned(read: Read, intake: Intake, done: Load) -> Load:
    """The load with rates and losses worked out anew where sessions taught any: they are measured by the sheets."""
    happened, words = read.happened(), read.rate_words()
    if not happened and not words:
        return done
    from inventory.catalogue.merging import merged
    from inventory.jobs.learning.learned_figures import relearn

    learned = relearn(merged(read.written(), intake.catalogue), happened, words)
    kept = read.learned()
    if set(learned.rates) == set(kept.rates) and set(learned.losses) == set(kept.losses):
        return done
    told = "Rates and losses are worked out again by these sheets."
    return replace(done, proposal=replace(done.proposal, learned=learned), notes=(*done.notes, told))


def _json(number: int | None, done: Load, coin: Currency) -> dict[str, Value]:
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
        "doubtful": doubtful_json(done.doubts),
        "costs_said": corrections_json(done.corrected, _costs_number(number, done), coin),
        "short": [
            {"order": one.order, "part": one.part, "short": exact.amount(one.quantity), "due": one.due}
            for one in done.short
        ],
    }
