"""A plugin of pytest: what functions of the project remember is forgotten before each test.

A test whose answer another test, or the reading of the tests, asked for before walks none of the lines it hangs on,
and a fault in them changes nothing: neither would be told without this.
"""

from __future__ import annotations

import sys
from functools import _lru_cache_wrapper


def pytest_runtest_setup() -> None:
    """Before a test's own things are made."""
    forget()


def forget() -> None:
    """Empty every `cache` and `lru_cache` of a module of the project."""
    for name, module in list(sys.modules.items()):
        if name.partition(".")[0] == "inventory":
            for one in list(vars(module).values()):
                if isinstance(one, _lru_cache_wrapper):
                    one.cache_clear()
