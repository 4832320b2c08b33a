"""The command line as a stranger uses it; the shop is the one of tests/commands."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from commands.conftest import Answer, Kitdrawer, kitdrawer, loaded, store
from forked import answered

__all__ = ["Answer", "Kitdrawer", "Process", "ask", "interpreter", "kitdrawer", "loaded", "process", "store"]

Process = Callable[..., Answer]


@pytest.fixture
def process(interpreter: Process) -> Process:
    """Run a command as a process of its own, without a terminal: a fork of this one, where processes can be forked."""

    def call(*words: str, env: Mapping[str, str] | None = None, cwd: Path | None = None) -> Answer:
        if not hasattr(os, "fork"):
            return interpreter(*words, env=env, cwd=cwd)
        return Answer(*answered(words, env, cwd))

    return call


@pytest.fixture
def interpreter() -> Process:
    """The same by an interpreter of its own, which takes half a second."""

    def call(*words: str, env: Mapping[str, str] | None = None, cwd: Path | None = None) -> Answer:
        done = subprocess.run(
            [sys.executable, "-m", "inventory.cli", *words],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
            env=env,
            cwd=cwd,
            timeout=120,
        )
        return Answer(done.returncode, done.stdout, done.stderr)

    return call


@pytest.fixture
def ask(monkeypatch: pytest.MonkeyPatch) -> Callable[[bool], list[str]]:
    """Sit at a terminal and answer every question alike; gives the questions that were asked."""

    def sit(answer: bool) -> list[str]:
        asked: list[str] = []

        def confirm(question: str, **_: object) -> bool:
            asked.append(question)
            return answer

        monkeypatch.setattr("sys.stdin.isatty", lambda: True)
        monkeypatch.setattr("typer.confirm", confirm)
        return asked

    return sit
