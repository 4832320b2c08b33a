"""One cache of compiled SQL for all stores of a test process.

A command makes its engine anew, and with it an empty cache: a process that runs one command compiles each statement
once, but a process of tests compiled the same forty thousands of times, which was a third of all the time they took.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Engine
from sqlalchemy.engine.default import DefaultDialect
from sqlalchemy.util import LRUCache


def share() -> None:
    """From now on dialects of one class are one key in one cache."""
    cache: LRUCache[Any, Any] = LRUCache(3_000)
    made = Engine.__init__

    def init(self: Engine, *arguments: Any, **named: Any) -> None:
        made(self, *arguments, **named)
        self._compiled_cache = cache

    Engine.__init__ = init  # type: ignore[method-assign]  # there is no hook for it
    DefaultDialect.__eq__ = lambda self, other: type(self) is type(other)  # type: ignore[method-assign]  # likewise
    DefaultDialect.__hash__ = lambda self: hash(type(self))  # type: ignore[method-assign]  # likewise
