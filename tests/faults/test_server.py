"""A server that loses its power: stopped at once while commands are booking, started again, and the book looked at.

Its `fsync` is on here, as it is everywhere but in the other tests.
"""

from __future__ import annotations

import subprocess
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import postgres
import pytest
from sqlalchemy import make_url

from inventory.store import open_store
from inventory.store.copies.transfer import carry

from .crowd import PENCIL
from .referee import booked_by, untold
from .shop import SALT, Shop
from .test_disk_full import fill_up, small_disk
from .warm import Child, Warm, heard
from .worlds import asked, picture

STOPS = 10
ROOMY = 400 << 20
"""Bytes of a disk a server can be made on."""
SAFE = "fsync = on\nsynchronous_commit = on\nfull_page_writes = on\n"
BROUGHT = "SELECT count(*) FROM movement m JOIN part p ON p.id = m.part_id WHERE p.name = '{}' AND m.account = 'shelf'"


class Server:
    """A server of one's own, which can be stopped as if the power went."""

    def __init__(self, folder: Path) -> None:
        stop = postgres.started(folder)
        if not (folder / "ready").exists():
            raise RuntimeError((folder / "failed").read_text(encoding="utf-8"))
        self.folder, self.control, self.data = folder, stop[0], Path(stop[3])
        self.url = (folder / "ready").read_text(encoding="utf-8")
        with (self.data / "postgresql.conf").open("a", encoding="utf-8") as settings:
            settings.write(SAFE)
        self.do("restart", "-m", "fast")

    def database(self) -> str:
        """The URL of an empty database; it goes with the server."""
        import psycopg

        with psycopg.connect(self.url, autocommit=True) as keeper:
            keeper.execute("CREATE DATABASE shop")
        return make_url(self.url).set(database="shop").render_as_string(hide_password=False)

    def do(self, *words: str) -> None:
        """What pg_ctl does: `start`, `stop -m immediate`."""
        more = ["-l", str(self.folder / "log")] if words[0] != "stop" else []
        command = [str(self.control), words[0], "-w", "-D", str(self.data), *words[1:], *more]
        subprocess.run(
            command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **postgres.somebody()
        )


@pytest.fixture
def own_server() -> Iterator[Server]:
    """One for this test."""
    if reason := postgres.missing() or ("" if postgres.programs() else "no server of our own can be started"):
        pytest.skip(reason)
    with TemporaryDirectory(prefix="kd") as name:
        server = Server(Path(name))
        try:
            yield server
        finally:
            server.do("stop", "-m", "immediate")


def arrivals(first: int, many: int) -> list[tuple[str, ...]]:
    """Deliveries to be booked one after another."""
    return [
        (
            "arrived",
            PENCIL,
            "--supplier",
            SALT,
            "--quantity",
            "1",
            "--unasked",
            "--note",
            f"n{number}",
            "--yes",
        )
        for number in range(first, first + many)
    ]


@pytest.mark.soak
def test_stopped_at_once(warm: Warm, shop: Shop, own_server: Server, tmp_path: Path) -> None:
    """Ten stops while two are booking: all that was told is there, at most what was under way beside it."""
    dice, told, unsure = Random(5), 0, 0
    url = own_server.database()
    with open_store(shop.book) as store:
        carry(store, url)
    assert asked(url, "SHOW fsync") == [("on",)]
    ((first,),) = asked(url, BROUGHT.format(PENCIL))
    env = {"KITDRAWER_STORE": url, "PGPASSWORD": str(make_url(url).password)}
    for number in range(STOPS):
        logs = [tmp_path / f".heard-{number}-{worker}" for worker in range(2)]
        children = [
            Child(arrivals(1000 * number + 100 * worker, 8), str(log), env) for worker, log in enumerate(logs)
        ]
        ends = threading.Timer(dice.uniform(0.3, 2), own_server.do, ("stop", "-m", "immediate"))
        ends.start()
        warm.run(*children)
        ends.join()
        own_server.do("start")
        _up(url)
        said = [one for log in logs for one in heard(log)]
        assert [wrong for one in said for wrong in untold(one)] == []
        told += len(booked_by(said))
        ((there,),) = asked(url, BROUGHT.format(PENCIL))
        assert told + unsure <= there - first <= told + unsure + len(logs)
        unsure = there - first - told
        assert warm.call(url, "verify", folder=tmp_path).code == 0
    assert told > 0


@pytest.mark.soak
def test_on_a_full_disk(warm: Warm, shop: Shop, tmp_path: Path) -> None:
    """A server without room refuses a load in a sentence, keeps the book as it was, and takes it once there is room."""
    if reason := postgres.missing() or ("" if postgres.programs() else "no server of our own can be started"):
        pytest.skip(reason)
    with TemporaryDirectory(prefix="kd") as name, small_disk(Path(name) / "disk", ROOMY) as disk:
        Path(name).chmod(0o755)  # the server runs as somebody else
        server = Server(disk)
        try:
            url = server.database()
            with open_store(shop.book) as store:
                carry(store, url)
            before, load = picture(url), ("load", str(shop.sheets / "counts.csv"), "--yes")
            ballast = fill_up(disk, 0)
            said = warm.call(url, *load, folder=tmp_path)
            assert (said.code, list(untold(said))) == (1, []), said
            assert "no room left" in said.err or "does not answer" in said.err
            ballast.unlink()
            _up(url)
            assert picture(url) == before
            for words in (("verify",), load, ("verify",)):
                said = warm.call(url, *words, folder=tmp_path)
                assert said.code == 0, said
        finally:
            server.do("stop", "-m", "immediate")


def _up(url: str) -> None:
    """Wait until the server has read its log again."""
    import psycopg

    until = time.monotonic() + 60
    while True:
        try:
            asked(url, "SELECT 1")
        except psycopg.OperationalError:
            assert time.monotonic() < until
            time.sleep(0.05)
        else:
            return
