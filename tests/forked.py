"""A command as a process of its own, forked from the tests' own: an interpreter of its own takes half a second.

Only where processes can be forked. Leave no store open: its file's locks would be taken for the child's.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import tempfile
import traceback
import warnings
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")


def forked(prepared: Callable[[], object], *words: str) -> int:
    """A child that runs one command on descriptors 0 to 2, after something was prepared in it; its process id."""
    pid = quietly(os.fork)
    if not pid:  # pragma: no cover - the child
        become(prepared, words)
    return pid


def answered(words: Sequence[str], env: Mapping[str, str] | None, cwd: Path | None) -> tuple[int, str, str]:
    """Exit code, standard output and error of a command without a terminal, in another environment or folder."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err, open(os.devnull) as nothing:

        def prepared() -> None:
            signal.alarm(120)
            if env is not None:
                os.environ.clear()
                os.environ.update(env)
            if cwd is not None:
                os.chdir(cwd)

        pid = quietly(os.fork)
        if not pid:  # pragma: no cover - the child
            for at, file in enumerate((nothing, out, err)):
                os.dup2(file.fileno(), at)
            become(prepared, words)
        _, status = os.waitpid(pid, 0)
        said = []
        for file in (out, err):
            file.seek(0)
            said.append(file.read().decode("utf-8"))
        return os.waitstatus_to_exitcode(status), said[0], said[1]


def on_a_terminal(prepared: Callable[[], object], *words: str) -> tuple[int, int]:
    """The same on a terminal of its own; its process id and the terminal's other end."""
    import pty  # which is not everywhere

    pid, terminal = quietly(pty.fork)
    if not pid:  # pragma: no cover - the child
        become(prepared, words)
    return pid, terminal


def quietly(fork: Callable[[], T]) -> T:
    """Python warns where threads do not come along; those of the test run are of no use to a command."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        return fork()


def become(prepared: Callable[[], object], words: Sequence[str]) -> None:  # pragma: no cover - the child
    """Run the command as a fresh process would, and end."""
    from inventory.cli import main

    code = 70
    try:
        gc.freeze()  # nothing of the tests' is to be closed here
        warnings.resetwarnings()
        sys.stdin = os.fdopen(0, encoding="utf-8", closefd=False)
        sys.stdout, sys.stderr = (os.fdopen(at, "w", encoding="utf-8", closefd=False) for at in (1, 2))
        prepared()
        main(words)
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else 0
    except BaseException:  # noqa: BLE001 - a bug's traceback is what a test would look for
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
