"""What every command shares: the store, the day and the screen.

The store: `--store FILE-or-URL`, else KITDRAWER_STORE, else a file in the user's data folder. The day is today, or
KITDRAWER_TODAY where a script wants another one.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.drawing.colour import unmarked, written
from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import wrapped
from inventory.errors import Refused
from inventory.measures import currency, read_date

if TYPE_CHECKING:
    from inventory.ledger import Book
    from inventory.ledger.shop import Shop
    from inventory.store import Read, Store


def without_password(where: str) -> None:
    """Refuse a URL from a command line with a password in it: everybody on the machine could read it there."""
    if "://" in where:
        from inventory.store.engine import find

        if find(where).has_password:
            raise Refused(
                "A password does not belong on a command line, where others can read it.",
                hint="Leave it out of the URL and keep it in ~/.pgpass, PGPASSWORD, PGPASSFILE or a service file, "
                "or give the whole URL in KITDRAWER_STORE.",
            )


def _said_openly(context: typer.Context, value: str | None) -> str | None:
    source = context.get_parameter_source("store")
    if value and source is not None and source.name == "COMMANDLINE":
        without_password(value)
    return value


ChartsOption = Annotated[
    Path | None,
    typer.Option("--save", metavar="FILE.xlsx", readable=False, help="As a workbook with charts."),
]
OverOption = Annotated[bool, typer.Option("--overwrite", help="Write over a workbook of that name.")]
StoreOption = Annotated[
    str | None,
    typer.Option(
        "--store",
        metavar="FILE-or-URL",
        help="Where the book is kept.",
        envvar="KITDRAWER_STORE",
        callback=_said_openly,
    ),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Answer as JSON.")]
SafetyOption = Annotated[bool, typer.Option("--safety", help="What can hurt in this job, and when.")]
AllOption = Annotated[bool, typer.Option("--all", help="Every row, to the thousandth.")]
WhyOption = Annotated[bool, typer.Option("--why", help="Where the answer comes from.")]
YesOption = Annotated[bool, typer.Option("--yes", help="Book it without asking.")]


SHORT = 3
"""Exit code where the job ran and something is short or disagrees."""


def today() -> date:
    """The day this command works on."""
    said = os.environ.get("KITDRAWER_TODAY")
    return read_date(said) if said else date.today()  # noqa: DTZ011 - the maker's own wall calendar


def whereabouts(store: str | None) -> str:
    """The store meant: the option, else the user's own data folder."""
    if store:
        return store
    from inventory.store.engine import usual

    return usual()


@contextmanager
def opened(store: str | None) -> Iterator[Store]:
    """The store, open."""
    from inventory.store import open_store

    with open_store(whereabouts(store), talk=talk) as found:
        if found.kept is not None:
            talk(f"The book was brought up to date. As it was, it is kept at {found.kept}.")
            _learn_anew(found)
        from inventory.cli.unsure import looked_up, not_twice

        not_twice(looked_up(found))
        yield found


def _learn_anew(store: Store) -> None:
    """Rates and losses of an older book as this program works them out from the same sessions."""
    with store.reading() as read:
        if not (read.happened() or read.rate_words()):
            return
    from inventory.jobs.learning.learned_figures import relearn

    store.learn(lambda read: relearn(read.written(), read.happened(), read.rate_words()))


def with_lateness(read: Read, book: Book) -> Book:
    """The book with how late its suppliers usually are, where anything is overdue: else nobody asks."""
    from dataclasses import replace

    overdue = any(row.expected_on is not None and row.expected_on < today() for row in book.due)
    return replace(book, late=read.lateness()) if overdue else book


def shop_of(
    read: Read,
    wanted: Callable[[Shop], Iterable[str]] | None = None,
    *,
    offers: bool = True,
    before: Shop | None = None,
) -> Shop:
    """The shop for one job. wanted: names the parts whose lots and offers the job looks at (None: all).

    before: as this command saw it before; where nobody has booked since, only lots and offers are read.
    """
    bare = before if before is not None and before.book.version == read.version else _bare(read)
    names = None if wanted is None else list(wanted(bare))
    from dataclasses import replace

    full = replace(bare.book, lots=read.lots(names))
    sold = bare.catalogue.still_sold(read.offers(names)) if offers else {}
    return replace(bare, book=full, offers=sold)


def _bare(read: Read) -> Shop:
    """The shop without lots and offers."""
    from inventory.ledger.learned import with_learned
    from inventory.ledger.shop import Shop  # most commands that look need less

    learned = read.learned()
    known, book = with_learned(read.written(), learned), with_lateness(read, read.book(()))
    return Shop(known, book, currency(read.currency), today(), read.settings(), learned=learned)


def packs_offered(read: Read) -> Callable[[str], Collection[int]]:
    """The packs a part is offered in, thousandths; looked up where somebody asks."""
    return lambda part: {offer.pack for several in read.offers([part]).values() for offer in several}


def say(lines: Iterable[str] | str = "") -> None:
    """An answer, to standard output. Raises Refused where it cannot be written there, such as to a full disk."""
    text = lines if isinstance(lines, str) else "\n".join(lines)
    try:
        sys.stdout.write(written(text) + "\n")
        sys.stdout.flush()  # else a full disk or a closed pipe shows only at exit, as a traceback
    except BrokenPipeError:
        raise  # whoever reads has seen enough; typer ends the command quietly
    except OSError as error:
        raise Refused(
            f"The answer cannot be written: {error.strerror}.",
            hint="What was booked stays booked; write to another place.",
        ) from error


def booked_as(number: int | None, _: object = None, *following: tuple[str, str]) -> None:
    """What is said after the question. following: what is done next where it was booked, and by which command."""
    if number is None:
        say("Nothing was booked.")
        return
    lines = [*wrapped(f"Booked (entry {number}). Take it back: kitdrawer undo")]
    say([*lines, *(line for what, pasted in following for line in command(what, pasted))])


def ended(*, short: bool) -> None:
    """Leave with the code that tells of what is short or disagrees: the same however the answer is given."""
    if short:
        raise typer.Exit(SHORT)


def talk(text: str) -> None:
    """Talk about the work, to standard error."""
    sys.stderr.write(unmarked(text) + "\n")


def somebody() -> bool:
    """Whether somebody is there to be asked."""
    return bool(sys.stdin and sys.stdin.isatty())


def agreed(question: str, yes: bool) -> bool:
    """Whether to go on: --yes, else the answer at the terminal; without a terminal it is refused."""
    if yes:
        return True
    if not somebody():
        raise Refused("Nothing was booked: there is no keyboard to ask.", hint="Add --yes to book it.")
    return typer.confirm(question, default=False, err=True)  # data alone goes to standard output


def existing(path: Path, made_by: str = "columns --save shop.xlsx") -> Path:
    """A path that is there, or a sentence. made_by: the command that writes such a file, to be filled."""
    try:
        there = path.exists()
    except OSError as error:  # a name too long, a folder that is closed
        raise Refused(
            f"{path} cannot be read: {error.strerror}.", hint="Check its name, and that you may open it."
        ) from None
    if not there:
        raise Refused(
            f"There is no {path}.",
            hint=f"Check the name and the folder; `kitdrawer {made_by}` writes such a file.",
        )
    return path
