"""A little network of our own on this machine: a proxy before the server that can go silent, or swallow an answer."""

from __future__ import annotations

import selectors
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

from sqlalchemy import make_url

Hook = Callable[[bytes], bool]
"""Asked of every piece a client sends, before it is passed on; True: from here on the line is dead."""


class Proxy:
    """Passes everything on until a line goes dead: then it takes what comes, and not a byte leaves it either way.

    dead: whether a piece from the client kills its line. passes: whether that piece itself still reaches the server.
    """

    def __init__(self, host: str, port: int) -> None:
        self.target = (host, port)
        self.dead: Hook = lambda _: False
        self.passes = True
        self.cuts = False
        """Whether a dead line is closed towards the client, as a router does that was restarted."""
        self.closed = False
        """Whether new lines are refused."""
        self.deaths = 0
        self.listening = socket.create_server(("127.0.0.1", 0))
        self.port = int(self.listening.getsockname()[1])
        self.open: list[socket.socket] = []
        threading.Thread(target=self._accept, daemon=True).start()

    def _accept(self) -> None:
        while True:
            try:
                client, _ = self.listening.accept()
            except OSError:
                return
            if self.closed:
                client.close()
                continue
            server = socket.create_connection(self.target)
            self.open += [client, server]
            threading.Thread(target=self._pass, args=(client, server), daemon=True).start()

    def _pass(self, client: socket.socket, server: socket.socket) -> None:
        dead = False
        with selectors.DefaultSelector() as ready, suppress(OSError):
            ready.register(client, selectors.EVENT_READ, server)
            ready.register(server, selectors.EVENT_READ, client)
            while True:
                for key, _ in ready.select():
                    here, there = key.fileobj, key.data
                    assert isinstance(here, socket.socket)
                    piece = here.recv(1 << 16)
                    if dead:
                        if not piece:
                            ready.unregister(here)
                        continue
                    if not piece:
                        client.close()
                        server.close()
                        return
                    if here is client and self.dead(piece):
                        dead = True
                        self.deaths += 1
                        if self.passes:
                            there.sendall(piece)
                        if self.cuts:
                            client.shutdown(socket.SHUT_RDWR)
                        continue
                    there.sendall(piece)

    def close(self) -> None:
        """No line is left."""
        for one in (self.listening, *self.open):
            with suppress(OSError):
                one.close()


@contextmanager
def proxied(url: str) -> Iterator[tuple[Proxy, str]]:
    """A proxy before a server, and the URL that leads through it."""
    to = make_url(url)
    proxy = Proxy(to.host or "127.0.0.1", to.port or 5432)
    try:
        yield proxy, to.set(host="127.0.0.1", port=proxy.port).render_as_string(hide_password=False)
    finally:
        proxy.close()
