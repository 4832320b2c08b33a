"""The command line as a stranger uses it; the shop is the one of tests/commands."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from commands.conftest import Answer, Kitdrawer, kitdrawer, loaded, store

__all__ = ["Answer", "Kitdrawer", "Process", "ask", "kitdrawer", "loaded", "process", "store"]

Process = Callable[..., Answer]


@pytest.fixture
def process() -> Process:
    """Run a command as a process of its own, without a terminal."""

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
