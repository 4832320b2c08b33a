"""A transaction that is there as a whole or not at all, on a file and on a server."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager

from sqlalchemy import Connection

from inventory.store import engine as engines
from inventory.store.engine import Whereabouts

Remember = Callable[[str], AbstractContextManager[object]]
"""Keeps in mind, by its ticket, a write whose end is under way: entered before it is sent, left once it is answered."""


def silent(_: str) -> None:
    """Nobody is told."""


@contextmanager
def whole(
    connection: Connection,
    where: Whereabouts,
    talk: Callable[[str], None] = silent,
    remember: Callable[[], Remember | None] = lambda: None,
) -> Iterator[None]:
    """A transaction that is there as a whole or not at all; on a server it is looked up where the answer is lost.

    remember: asked at the end of it whether it is to be kept in mind.
    """
    if where.url is None:
        with ExitStack() as until_answered, connection.begin():
            yield
            if (kept := remember()) is not None:
                from inventory.store.commit.marks import newest

                until_answered.enter_context(kept(newest(connection)))
        return
    from inventory.store.commit.outcomes import surely

    with surely(connection, lambda: engines.engine(where), where.shown, talk, remember):
        yield
