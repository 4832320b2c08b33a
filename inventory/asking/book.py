"""A book opened to be asked. The database itself refuses whatever would be written."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from inventory.asking import frames
from inventory.errors import StoreReadOnly, UnknownName
from inventory.store import Store, open_to_look
from inventory.store.db_errors import translated
from inventory.store.engine import usual

if TYPE_CHECKING:
    import pandas as pd
    from sqlmodel import Session


class AskedBook:
    """An open book that can only be read; use it in a `with`. today: the day `free` and `late` are told for."""

    def __init__(self, store: Store, today: date) -> None:
        self.store, self.today = store, today

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file or server; safe to call twice."""
        self.store.close()

    def frame(self, name: str, *, everything: bool = False) -> pd.DataFrame:
        """What the book holds under a name of `frames.FRAMES`, as of one moment, with the columns of `--json`.

        Quantities and money are `decimal.Decimal`, exactly as they are booked; days are `datetime.date`; both lie in
        columns of objects, as texts do, and what is not known is None. everything: of movements and entries, those too
        that were taken back, and what took them back. Raises UnknownName.
        """
        import pandas as pd

        if name not in frames.FRAMES:
            raise UnknownName("frame", name, frames.FRAMES)
        columns, make = frames.FRAMES[name]
        with self.store.reading() as read:
            rows = list(make(frames.Moment(read, self.today, everything=everything)))
        found = pd.DataFrame(rows, columns=list(columns), dtype=object)
        for column in columns:
            kinds = set(map(type, found[column]))
            if kinds in ({bool}, {int}):
                found[column] = found[column].astype(kinds.pop())
        return found

    @contextmanager
    def session(self) -> Iterator[Session]:
        """A SQLModel session over the tables of `inventory.models`, as of one moment. Raises StoreReadOnly on a write.

        Quantities are thousandths of a part's unit, money minor units of its currency.
        """
        from sqlmodel import Session

        engine = self.store.engine
        if engine.dialect.name == "postgresql":
            engine = engine.execution_options(isolation_level="REPEATABLE READ")
        try:
            with translated(self.store.shown), Session(engine) as session:
                yield session
        except StoreReadOnly as error:
            raise StoreReadOnly(
                f"{self.store.shown} was opened to be asked: nothing is written through it.",
                hint="Nothing was changed. What is to be booked is booked by a command of kitdrawer.",
            ) from error


def open_book(where: str | Path | None = None, *, today: date | None = None) -> AskedBook:
    """Open a book to ask it one's own questions: see `inventory.open_book`."""
    day = today or date.today()  # noqa: DTZ011 - the maker's own wall calendar
    return AskedBook(open_to_look(usual() if where is None else where), day)
