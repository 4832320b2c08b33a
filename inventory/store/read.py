"""Looking: one consistent moment of a store, as the frozen shapes of the pure rooms."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import date
from functools import wraps
from typing import TYPE_CHECKING, Any, TypeVar

from sqlalchemy import Connection, select

from inventory.errors import StoreTrouble
from inventory.ledger import Book
from inventory.store import queries
from inventory.store.db_errors import KEEP
from inventory.store.schema.core import table

if TYPE_CHECKING:
    from inventory.catalogue import Catalogue, Named, Offer, Order, Part
    from inventory.ledger import Balance, Lot, Proposal
    from inventory.ledger.costs import Saying
    from inventory.ledger.documents.booked import Booked, Bought, Document, Entry, Happening
    from inventory.ledger.documents.intake import SheetTab
    from inventory.ledger.documents.proposal import Expense
    from inventory.ledger.learned import LearnedFigures
    from inventory.ledger.lending import Lending
    from inventory.ledger.past.asleep import Held
    from inventory.ledger.past.made import PiecesMade
    from inventory.ledger.past.rows import PastRows
    from inventory.ledger.past.sales import PastSales
    from inventory.ledger.past.shelf import MovedSum, PastShelf
    from inventory.ledger.sessions import Happened, Outcome, RateWord, Session

_SHOP, _SETTING = table("shop"), table("setting")
Asked = TypeVar("Asked", bound=Callable[..., Any])


def once(ask: Asked) -> Asked:
    """A question whose answer is kept while the moment lasts: who asks it again is given the same, not read anew."""

    @wraps(ask)
    def answer(read: Read, *of: Iterable[str] | int | None) -> object:
        said = tuple(one if one is None or isinstance(one, int) else tuple(one) for one in of)
        question = (ask.__name__, said)
        if question not in read._kept:
            read._kept[question] = ask(read, *said)
        return read._kept[question]

    return answer  # type: ignore[return-value]  # the same question


class Read:
    """One moment of the store, and all that can be asked of it; valid inside its `with store.reading()`.

    Nothing changes in a moment, so what several steps of a command ask is read once (`once`).
    """

    def __init__(self, connection: Connection) -> None:
        self.connection = connection
        self._kept: dict[tuple[str, tuple[object, ...]], object] = {}
        shop = connection.execute(select(_SHOP.c.version, _SHOP.c.currency)).one_or_none()
        if shop is None:
            raise StoreTrouble("The book is damaged: what it says of the shop is gone.", hint=KEEP)
        self.version, self.currency = shop

    version: int
    """How many documents are booked."""
    currency: str
    """The shop's ISO 4217 code."""

    @once
    def settings(self) -> Mapping[str, str]:
        """What the shop settled for itself, text by key."""
        found = self.connection.execute(select(_SETTING.c.key, _SETTING.c.value))
        return dict(tuple(row) for row in found)

    @once
    def catalogue(self) -> Catalogue:
        """What things are, with what was learned of rates and losses; its `offers` stay empty (see `offers`)."""
        from inventory.ledger.learned import with_learned

        return with_learned(self.written(), self.learned())

    @once
    def written(self) -> Catalogue:
        """The catalogue as the sheets wrote it, without anything learned."""
        return queries.catalogue.catalogue(self.connection)

    def written_once(self, turned: int) -> Catalogue:
        """The same as it will be once that document is reversed, which may have merged parts."""
        every = queries.catalogue.parts(self.connection, merged=True)
        return queries.turned.with_turned(self.connection, self.written(), every, turned)

    def parts(self) -> Mapping[str, Part]:
        """Every part by folded name: of the catalogue what a look at the whole shelf needs."""
        return queries.catalogue.parts(self.connection)

    def retired(self) -> frozenset[tuple[Named, str]]:
        """What is no longer bought, offered or listed, by kind and folded name."""
        return queries.old_names.retired(self.connection)

    def mark(self) -> str:
        """What tells this book from others, the same for its copies."""
        return str(self.connection.execute(select(_SHOP.c.mark)).scalar_one())

    @once
    def sessions(self) -> tuple[Session, ...]:
        """Every session ever planned, oldest first."""
        return queries.sessions.sessions(self.connection)

    @once
    def happened(self, turned: int | None = None) -> tuple[Happened, ...]:
        """Every booked session that stands, oldest first; turned: as it will be once that document is reversed."""
        return queries.sessions.happened(self.connection, turned)

    def seen(self) -> tuple[Happened, ...]:
        """The same as far as supplies were looked at, with nothing of what was made."""
        return queries.sessions.seen(self.connection)

    def came_of(self, sessions: Collection[int]) -> Mapping[int, tuple[Outcome, ...]]:
        """What came of these sessions, by the number of its entry; the rows of one pattern and size are added up."""
        return queries.sessions.came_of(self.connection, sessions)

    @once
    def rate_words(self, turned: int | None = None) -> tuple[RateWord, ...]:
        """What the maker said of rates, oldest first; turned: as it will be once that document is reversed."""
        return queries.sessions.rate_words(self.connection, turned)

    def teaches(self, number: int) -> bool:
        """Whether taking a document back changes what is learned from."""
        return queries.sessions.teaches(self.connection, number)

    @once
    def learned(self) -> LearnedFigures:
        """Rates and losses as they stand."""
        return queries.learned.learned(self.connection)

    @once
    def offers(self, parts: Iterable[str] | None = None) -> Mapping[str, tuple[Offer, ...]]:
        """Offers by folded part name, for these parts or for all."""
        return queries.catalogue.offers(self.connection, parts)

    @once
    def balances(self) -> Mapping[str, Balance]:
        """Totals by folded part name; parts without any are left out."""
        return queries.book.balances(self.connection)

    @once
    def book(self, parts: Iterable[str] | None = None) -> Book:
        """The book as it stands; lots only of the named parts (None: all open lots), everything else in full."""
        return Book(
            version=self.version,
            balances=self.balances(),
            lots=self.lots(parts),
            claims=queries.book.claims(self.connection),
            due=queries.book.due(self.connection),
            orders=self.orders(),
            to_count=queries.book.to_count(self.connection),
        )

    def totals(self) -> Book:
        """The book as far as a look at the shelf needs it: balances, doubts, and lots that can go out of date."""
        return Book(
            version=self.version,
            balances=self.balances(),
            lots=queries.book.lots(self.connection, None, perishable=True),
            to_count=queries.book.to_count(self.connection),
        )

    @once
    def orders(self) -> Mapping[str, Order]:
        """Every order by folded name, in whatever state."""
        return queries.book.orders(self.connection)

    @once
    def lots(self, parts: Iterable[str] | None = None) -> Mapping[str, tuple[Lot, ...]]:
        """Open lots by folded part name, first in first out, of these parts or of all."""
        return queries.book.lots(self.connection, parts)

    def document(self, number: int) -> Booked:
        """One document with all it said. Raises UnknownName."""
        return queries.documents.booked(self.connection, number)

    def documents(self, *, last: int | None = None, kind: str | None = None) -> tuple[Document, ...]:
        """The documents, newest first; only the `last` so many, only of one kind."""
        return queries.documents.documents(self.connection, last=last, kind=kind)

    def entries(
        self, *, last: int | None = None, since: date | None = None, about: str = ""
    ) -> tuple[Entry, ...]:
        """What was booked, newest first, with its parts and orders; about: only of this part or order.

        Raises UnknownName.
        """
        return queries.entries.entries(self.connection, last=last, since=since, about=about)

    def stands_on(self, number: int) -> tuple[Document, ...]:
        """The later documents to be undone before this one, oldest first."""
        from inventory.store.commit.undo import stands_on  # most commands never ask

        return stands_on(self.connection, number)

    def lent(self) -> tuple[Lending, ...]:
        """What is lent and not back yet, the oldest first."""
        from inventory.ledger.lending import still_lent  # most commands never ask

        return still_lent(queries.lending.lendings(self.connection))

    def lent_by_part(self) -> Mapping[str, int]:
        """Thousandths of each part that somebody has, by folded name."""
        return queries.book.lent(self.connection)

    def history(self, part: str, *, everything: bool = False) -> tuple[Happening, ...]:
        """Lines of one part as they came into force; everything: those taken back and undos too. Raises UnknownName."""
        return queries.documents.history(self.connection, part, everything=everything)

    def lines(self, *, everything: bool = False) -> tuple[Happening, ...]:
        """Lines of all parts as they came into force; everything: those taken back and undos too."""
        return queries.documents.all_lines(self.connection, everything=everything)

    def used_since(self, day: date) -> Mapping[str, int]:
        """Thousandths used up of each part from that day on, by folded name."""
        return queries.use.used_since(self.connection, day)

    def used_by_stretch(self, days: Sequence[date]) -> Mapping[str, tuple[int, ...]]:
        """Thousandths used up of each part, by folded name, in each stretch from one of the days to the next."""
        return queries.use.used_by_stretch(self.connection, days)

    def first_use(self, since: date) -> date | None:
        """The day anything was first used, or `since` where that was before; None where nothing was yet."""
        return queries.use.first_use(self.connection, since)

    def handed_over(self) -> tuple[tuple[str, date], ...]:
        """Orders that are handed over, with the day, oldest first."""
        return queries.use.handed_over(self.connection)

    def first_taken(self) -> Mapping[str, date]:
        """By folded order the first day it stood promised or was sold."""
        return queries.use.first_taken(self.connection)

    def given_away(self) -> tuple[tuple[str, date, int], ...]:
        """Finished pieces that were given away: folded part, day, how many."""
        return queries.use.given_away(self.connection)

    def past_shelf(self, since: date, on: date) -> PastShelf:
        """The shelf at the end of a day, and what moved in the stretch of days up to it."""
        from inventory.ledger.past.shelf import PastShelf  # only who looks back asks
        from inventory.store.queries.past import shelf_at

        of, moved = self.connection, self.moved(since, on)
        return PastShelf(shelf_at.lots_at(of, on), moved, shelf_at.lent_at(of, on), shelf_at.due_at(of, on))

    def moved(self, since: date, until: date) -> tuple[MovedSum, ...]:
        """What moved the shelf from one day to another, by part and word."""
        from inventory.store.queries.past import shelf_at  # only who looks back asks

        return shelf_at.moved_between(self.connection, since, until)

    def past_sales(self, first: date, last: date) -> PastSales:
        """What was handed over, sold, given and lost from the first day to the last."""
        from inventory.store.queries.past import sold  # only who looks back asks

        return sold.past_sales(self.connection, first, last)

    def held_still(self, today: date) -> tuple[Held, ...]:
        """Parts of which something is there and nothing came or went for half a year (`ledger.past.asleep`)."""
        from inventory.store.queries.past import still  # only who looks back asks

        return still.held_still(self.connection, today)

    def past_rows(self, first: date, last: date, *, by_month: bool) -> PastRows:
        """What was made, spoiled, handed over, bought and ordered in a stretch, added up by month or by year."""
        from inventory.store.queries.past import rows

        return rows.past_rows(self.connection, first, last, by_month=by_month)

    def first_day(self) -> date | None:
        """The day of the first entry that stands; None in an empty book."""
        return queries.documents.first_day(self.connection)

    def expenses(self, first: date, last: date) -> tuple[Expense, ...]:
        """What was spent beside parts from the first day to the last, in the order of days."""
        from inventory.store.queries import expenses  # only who looks back asks

        return expenses.expenses(self.connection, first, last)

    def went_out(self) -> Mapping[str, date]:
        """By folded order the last day any of its pieces went to its customer, what was sold off the shelf too."""
        from inventory.store.queries.past import sold  # only who looks back asks

        return sold.went_out(self.connection)

    def pieces_made(self, *, part: str = "", order: str = "") -> PiecesMade:
        """What pieces took that were made of this part, or that went out for this order."""
        from inventory.store.queries.past import made  # only who looks back asks

        return made.of_piece(self.connection, part) if part else made.of_order(self.connection, order)

    def every_part(self) -> Mapping[str, Part]:
        """Every part there ever was, by folded name: merged ones too, as they were called."""
        return queries.catalogue.parts(self.connection, merged=True)

    def bought(self) -> tuple[Bought, ...]:
        """Every line that was ordered and stands, oldest first."""
        return queries.use.bought(self.connection)

    def shopping_days(self) -> tuple[date, ...]:
        """The days something was ordered on, oldest first."""
        return queries.use.shopping_days(self.connection)

    def lateness(self) -> Mapping[str, tuple[int, ...]]:
        """By folded supplier: days after the expected day on which each of its newest parcels came, newest first."""
        return queries.use.lateness(self.connection)

    def last_counted(self) -> Mapping[str, date]:
        """The day each part was last counted, by folded name; never counted ones are left out."""
        return {key: day for key, (_, day) in queries.use.counted(self.connection).items()}

    def counted_by(self) -> Mapping[str, int]:
        """The newest document that counted each part and stands, by folded name."""
        return {key: number for key, (number, _) in queries.use.counted(self.connection).items()}

    def stood(self, tabs: Collection[str]) -> tuple[SheetTab, ...]:
        """The rows of these tabs of every sheet, as it was loaded last."""
        return queries.sheet_rows.stood(self.connection, tabs)

    def paid(self) -> Mapping[str, int]:
        """Minor units paid for each order somebody paid for, by folded name."""
        return queries.payments.paid(self.connection)

    def sayings(self, lots: Collection[int]) -> Mapping[int, Saying]:
        """By what word each lot came, and what it held and cost when its cost was last said, by number."""
        return queries.costs.sayings(self.connection, lots)

    def most_at_once(self, parts: Collection[str]) -> Mapping[str, int]:
        """The most that ever came in at once of each of these parts and stands, thousandths, by folded name."""
        return queries.use.most_at_once(self.connection, parts)

    def moved_since(
        self, version: int, parts: Collection[str] | None = None
    ) -> Mapping[str, tuple[int, tuple[int, ...]]]:
        """Thousandths by which each part's shelf changed after that version, and the documents, by folded name."""
        return queries.use.moved_since(self.connection, version, parts)

    def undo(self, document: int | None = None, *, on: date) -> Proposal:
        """The proposal that takes a document back (None: the newest first-hand one that stands).

        Undoing an undo brings its document back. What a load put into the catalogue stays. Raises UnknownName,
        Refused where there is nothing to undo, StillNeeded where later documents stand on this one.
        """
        from inventory.store.commit.undo import undo_proposal  # most commands never ask

        return undo_proposal(self.connection, self.version, document, on)
