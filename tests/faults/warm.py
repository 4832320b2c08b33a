"""A process that has read the whole program and forks a child for each command: what is killed is that child.

    python -m faults.warm     answers one JSON line of children with one JSON line of how they ended

Only where processes can be forked. A child is a command line like any other: its own process, its own connections.
"""

from __future__ import annotations

import codecs
import contextlib
import io
import json
import os
import pkgutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from urllib.parse import unquote, urlsplit

TESTS = Path(__file__).resolve().parents[1]
TODAY = "2026-11-28"
NEEDED = ("alembic.command", "alembic.config", "psycopg")
HEAVY = ("numpy", "openpyxl", "scipy.optimize", "scipy.stats")
ENCODINGS = ("ascii", "cp437", "cp1252", "idna", "latin-1", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be")
"""What is read in time for children who may not read Python's own folder."""
FILE_STEPS = ("os.rename", "os.link", "os.remove", "sqlite3.connect", "tempfile.mkstemp")
"""What counts as a step of a process beside opening a file to write."""
LOOKS_EVERY = 0.0005
"""Seconds between two looks of the parent at its children."""


@dataclass(frozen=True)
class Child:
    """Commands run one after another in one child, and what befalls it.

    said: where its answers go, `said.out` and `said.err` for one command, else one JSON line a command in `said`.
    after: seconds until it is killed; step: dies by itself at that step (a statement, a commit, a file, an answer), 0
    counts them; most: bytes a file may have; nobody: runs as the user who may do little.
    """

    calls: Sequence[Sequence[str]]
    said: str
    env: Mapping[str, str] = field(default_factory=dict)
    after: float | None = None
    step: int | None = None
    most: int | None = None
    nobody: bool = False


@dataclass(frozen=True)
class Ended:
    """How a child ended: its exit code (minus the signal that killed it), and its seconds from start to end."""

    code: int
    seconds: float


@dataclass(frozen=True)
class Said:
    """What one command answered, and how long that took."""

    words: tuple[str, ...]
    code: int
    out: str
    err: str
    seconds: float


class Warm:
    """The forking process, from the side of the tests. light: libraries for numbers are read by who needs them."""

    def __init__(self, *, light: bool = False) -> None:
        env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "KITDRAWER_TODAY": TODAY, "COLUMNS": "80"}
        env.pop("KITDRAWER_STORE", None)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "faults.warm", *(["light"] if light else [])],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=TESTS,
            env=env,
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.close()
        self.process.stdout.close()
        self.process.wait(timeout=60)

    def run(self, *children: Child) -> list[Ended]:
        """Start these children at the same moment and wait for all of them."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps([asdict(one) for one in children]) + "\n")
        self.process.stdin.flush()
        return [Ended(*one) for one in json.loads(self.process.stdout.readline())]

    def call(self, store: str, *words: str, folder: Path, **more: Any) -> Said:
        """One command on a store, its answers kept in this folder."""
        said = folder / ".said"
        for ending in (".out", ".err"):
            said.with_suffix(ending).write_text("", encoding="utf-8")
        env = {"KITDRAWER_STORE": store, "XDG_DATA_HOME": str(folder)}
        if "://" in store:
            env["PGPASSWORD"] = unquote(urlsplit(store).password or "")
        (ended,) = self.run(Child([words], str(said), env, **more))
        out, err = (said.with_suffix(ending).read_text(encoding="utf-8") for ending in (".out", ".err"))
        return Said(words, ended.code, out, err, ended.seconds)


def heard(path: Path) -> list[Said]:
    """What a child of several commands was told, up to where it was killed."""
    lines = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    return [Said(tuple(words), *rest) for words, *rest in map(json.loads, lines)]


# --- the other side -------------------------------------------------------------------------------------------------


def serve(*, light: bool) -> None:
    """Read children, fork them, tell how they ended; until standard input ends."""
    _read_everything(light=light)
    for line in sys.stdin:
        children = [Child(**one) for one in json.loads(line)]
        sys.stdout.write(json.dumps(_run(children)) + "\n")
        sys.stdout.flush()


def _read_everything(*, light: bool) -> None:
    import inventory

    for found in pkgutil.walk_packages(inventory.__path__, "inventory."):
        if ".migrations" not in found.name and not found.name.endswith("__main__"):
            import_module(found.name)
    for name in (*NEEDED, *(() if light else HEAVY)):
        import_module(name)
    for name in ENCODINGS:
        codecs.lookup(name)


def _run(children: Sequence[Child]) -> list[tuple[int, float]]:
    gate, opener = os.pipe()
    pids = [_forked(one, gate, opener) for one in children]
    begun = time.monotonic()
    os.close(gate)
    os.close(opener)  # all of them were waiting for this
    due = {pid: begun + one.after for pid, one in zip(pids, children, strict=True) if one.after is not None}
    ended: dict[int, tuple[int, float]] = {}
    while len(ended) < len(pids):
        for pid in [pid for pid in pids if pid not in ended]:
            if pid in due and time.monotonic() >= due[pid]:
                os.kill(pid, signal.SIGKILL)
                del due[pid]
            found, status = os.waitpid(pid, os.WNOHANG)
            if found:
                ended[pid] = (os.waitstatus_to_exitcode(status), time.monotonic() - begun)
        time.sleep(LOOKS_EVERY)
    return [ended[pid] for pid in pids]


def _forked(child: Child, gate: int, opener: int) -> int:
    pid = os.fork()
    if pid:
        return pid
    code = 70
    try:
        os.close(opener)
        os.read(gate, 1)
        os.close(gate)
        os.environ.update(child.env)
        code = _one(child) if len(child.calls) == 1 else _several(child)
    finally:
        os._exit(code)


def _one(child: Child) -> int:
    said = Path(child.said)
    for ending, number in ((".out", 1), (".err", 2)):
        handle = os.open(said.with_suffix(ending), os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
        os.dup2(handle, number)
        os.close(handle)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.stdin, sys.stdout, sys.stderr = os.fdopen(0), os.fdopen(1, "w"), os.fdopen(2, "w")
    _limits(child)
    steps = _counting(child.step) if child.step is not None else []
    code = _called(child.calls[0])
    sys.stdout.flush()
    sys.stderr.flush()
    if child.step == 0:
        said.with_suffix(".steps").write_text(str(len(steps)), encoding="utf-8")
    return code


def _several(child: Child) -> int:
    with Path(child.said).open("a", encoding="utf-8") as log:
        for words in child.calls:
            out, err, begun = io.StringIO(), io.StringIO(), time.monotonic()
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                code = _called(words)
            told = [list(words), code, out.getvalue(), err.getvalue(), time.monotonic() - begun]
            log.write(json.dumps(told) + "\n")
            log.flush()
    return 0


def _called(words: Sequence[str]) -> int:
    from inventory.cli import main

    try:
        main(words)
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else 0
    except BaseException:  # noqa: BLE001 - a bug's traceback is what the tests look for
        sys.excepthook(*sys.exc_info())
    return 99


def _limits(child: Child) -> None:
    if child.most is not None:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (child.most, child.most))
    if child.nobody:
        import pwd

        who = pwd.getpwnam("nobody")
        os.setgroups([])
        os.setgid(who.pw_gid)
        os.setuid(who.pw_uid)
        os.chdir("/")


def _counting(deadly: int | None) -> list[str]:
    """Count the steps of this process from now on, and die at the one that is meant."""
    from sqlalchemy import Engine, event

    steps: list[str] = []

    def step(what: str) -> None:
        steps.append(what)
        if len(steps) == deadly:
            os.kill(os.getpid(), signal.SIGKILL)

    def audited(what: str, details: tuple[Any, ...]) -> None:
        writes = what == "open" and isinstance(details[2], int) and details[2] & (os.O_WRONLY | os.O_RDWR)
        if writes or what in FILE_STEPS:
            step(what)

    def before(_: Any, __: Any, statement: str, *___: Any) -> None:
        step(statement)

    event.listen(Engine, "before_cursor_execute", before)
    event.listen(Engine, "commit", lambda _: step("commit"))
    sys.addaudithook(audited)
    _step_before(sys.stdout, step)
    return steps


def _step_before(stream: Any, step: Callable[[str], None]) -> None:
    """An answer is a step twice: before it is written, and once it is."""
    write, flush = stream.write, stream.flush

    def written(text: str) -> int:
        step("before an answer")
        return int(write(text))

    def flushed() -> None:
        flush()
        step("after an answer")

    stream.write, stream.flush = written, flushed


if __name__ == "__main__":
    serve(light="light" in sys.argv)
