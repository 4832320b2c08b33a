"""Faults made in a process that has read all tests: a fork of it changes one function's code and runs some of them.

Reading the tests and the program costs more than running most tests, so it is done once a room. What is not in a
function (a constant of a module, a default) is worked out while a module is read: such a fault is left to others.
"""

from __future__ import annotations

import gc
import os
import resource
import signal
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from pathlib import Path
from types import CodeType, FunctionType
from typing import TYPE_CHECKING

from forgetting import forget

if TYPE_CHECKING:
    import pytest

ENDLESS = 180
"""Processor seconds after which tests no longer end."""
BYTES = 4 << 30
"""Of memory, likewise."""
PASS, BROKEN = "all pass", "not run"
Codes = dict[tuple[str, int], list[CodeType]]
"""By name and line; several where a line has several."""


class Swapping:
    """A plugin that takes the place of pytest's loop. trial: is given this, and asks `noticed` of it.

    modules: in which faults are made; some are read by no test before it runs.
    """

    def __init__(self, trial: Callable[[Swapping], None], modules: Sequence[str]) -> None:
        self.trial, self.modules = trial, modules
        self._sound: set[str] = set()
        self._functions: dict[str, dict[tuple[str, int], list[FunctionType]]] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """In place of running the tests."""
        self.session = session
        self.items = {item.nodeid: item for item in session.items}
        session.config._tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]  # one for all forks
        for module in self.modules:
            import_module(module)
        gc.unfreeze()
        for one in gc.get_objects():
            if isinstance(one, FunctionType):
                key = one.__code__.co_qualname, one.__code__.co_firstlineno
                self._functions.setdefault(one.__code__.co_filename, {}).setdefault(key, []).append(one)
        gc.freeze()
        self.trial(self)
        return True

    def noticed(self, file: Path, text: str, tests: Sequence[str]) -> bool | None:
        """Whether a test fails with this text of the file that passes without; None where it cannot be swapped."""
        found = self._changed(file, text)
        if found is None:
            return None
        left = [test for test in tests if test in self.items]
        while left:
            failed = self._run(left, found)
            if failed is None:
                return False
            if not failed or self._is_sound(failed):
                return True
            left.remove(failed)
        return False

    def must_pass(self, tests: Sequence[str]) -> None:
        """Raise RuntimeError where not even these pass without any fault: then nothing can be told."""
        if failed := self._run([test for test in tests if test in self.items], []):
            raise RuntimeError(f"{failed} fails without any fault")

    def _is_sound(self, test: str) -> bool:
        if test not in self._sound and self._run([test], []) is None:
            self._sound.add(test)
        return test in self._sound

    def _changed(self, file: Path, text: str) -> list[tuple[FunctionType, CodeType]] | None:
        """Functions with their new code."""
        old, new = (
            _codes(compile(one, str(file), "exec", dont_inherit=True))
            for one in (file.read_text(encoding="utf-8"), text)
        )
        live, found = self._functions.get(str(file), {}), []
        for key, codes in new.items():
            if codes != old.get(key):
                functions = live.get(key, [])
                if len(codes) > 1 and len(functions) != len(codes):
                    return None
                found += [(one, codes[at if len(codes) > 1 else 0]) for at, one in enumerate(functions)]
        return found or None

    def _run(self, tests: Sequence[str], changed: Sequence[tuple[FunctionType, CodeType]]) -> str | None:
        """The first test that fails; empty where they do not end; None where all pass."""
        out, into = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(out)
            said = BROKEN
            try:
                said = self._tested(tests, changed) or PASS
            finally:
                os.write(into, said.encode())
                os._exit(0)
        os.close(into)
        with os.fdopen(out, "rb") as file:
            said = file.read().decode()
        os.waitpid(child, 0)
        if said == BROKEN:
            raise RuntimeError(f"{tests} cannot be run")
        return None if said == PASS else said

    def _tested(self, tests: Sequence[str], changed: Sequence[tuple[FunctionType, CodeType]]) -> str | None:
        limited()
        signal.alarm(10 * ENDLESS)  # for what waits for ever
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        for function, code in changed:
            function.__code__ = code
        forget()
        items = [self.items[test] for test in tests]
        for item, after in zip(items, [*items[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            if self.session.testsfailed:
                return item.nodeid
        return None


def _codes(code: CodeType) -> Codes:
    found: Codes = {}
    for one in _inside(code):
        found.setdefault((one.co_qualname, one.co_firstlineno), []).append(one)
    return found


def _inside(code: CodeType) -> Iterator[CodeType]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield one
            yield from _inside(one)


def limited() -> None:
    """An end to this process: a fault may make a search endless, or one that keeps all it meets."""
    resource.setrlimit(resource.RLIMIT_CPU, (ENDLESS, ENDLESS + 5))
    resource.setrlimit(resource.RLIMIT_DATA, (BYTES, BYTES))
