"""The command line for the tests of beginning from one's own sheet."""

from __future__ import annotations

import pytest
from commands.conftest import Answer, Kitdrawer, kitdrawer

__all__ = ["Answer", "Kitdrawer", "kitdrawer"]


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Sit at a terminal and type these lines, one a prompt; the list may be filled by the test."""
    lines: list[str] = []
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.prompt", lambda *_, **__: lines.pop(0))
    monkeypatch.setattr("typer.confirm", lambda *_, **__: bool(lines.pop(0)))
    return lines
