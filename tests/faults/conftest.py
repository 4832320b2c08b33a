"""The shop of the trials and the process that forks their commands, made once for all of them."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

from .shop import Shop, made, on_server
from .warm import Warm


@pytest.fixture(scope="session")
def light() -> Iterator[Warm]:
    """A forking process that is soon ready."""
    with _forking(light=True) as warm:
        yield warm


@pytest.fixture(scope="session")
def warm() -> Iterator[Warm]:
    """A forking process that has read everything."""
    with _forking(light=False) as warm:
        yield warm


def _forking(*, light: bool) -> Warm:
    if not hasattr(os, "fork"):
        pytest.skip("processes cannot be forked here")
    return Warm(light=light)


@pytest.fixture(scope="session")
def small_shop(light: Warm, server: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """The sample stock and one promise, in a file and on a server."""
    with on_server(made(light, tmp_path_factory.mktemp("small"), small=True), server) as shop:
        yield shop


@pytest.fixture(scope="session")
def shop(warm: Warm, server: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """The shop with all its sheets, in a file and on a server."""
    with on_server(made(warm, tmp_path_factory.mktemp("shop")), server) as shop:
        yield shop
