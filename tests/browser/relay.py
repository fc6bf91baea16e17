"""The cable where no network namespace may be made: a relay before the garden's machine, which can be cut.

The browser asks for this machine's own address on the local network. While the relay is cut nothing takes its
connections; no link goes down, so the browser is not told that it is without signal and finds out by asking.
"""

from __future__ import annotations

import contextlib
import socket
import threading

from kailyard.desk.certificates import names_here


def free_port() -> int:
    """A port that nothing listens at."""
    with socket.create_server(("", 0)) as taken:
        return int(taken.getsockname()[1])


class Relay:
    """Passes connections on to one port of this machine, until it is cut."""

    machine: tuple[str, ...] = ()
    telephone: tuple[str, ...] = ()

    def __init__(self) -> None:
        self.port, self.trust_port, self._at = free_port(), free_port(), free_port()
        self.host = f"{next(iter(names_here()), 'localhost')}:{self._at}"
        self._lock = threading.Lock()
        self._open: set[socket.socket] = set()
        self._listens: socket.socket | None = None
        self.plug_in()

    def plug_in(self) -> None:
        """Signal again."""
        if self._listens is None:
            self._listens = socket.create_server(("", self._at))
            threading.Thread(target=self._take, args=(self._listens,), daemon=True).start()

    def pull_out(self) -> None:
        """No signal any more: what is open ends, and nothing new is taken."""
        listens, self._listens = self._listens, None
        if listens is not None:
            self._close(listens)
        with self._lock:
            still = tuple(self._open)
        for each in still:
            self._close(each)

    def _take(self, listens: socket.socket) -> None:
        while True:
            try:
                near, _ = listens.accept()
            except OSError:
                return
            try:
                far = socket.create_connection(("127.0.0.1", self.port))
            except OSError:  # the garden's machine is off
                near.close()
                continue
            with self._lock:
                self._open |= {near, far}
            if self._listens is not listens:  # cut meanwhile
                self._close(near)
                self._close(far)
            for ends in ((near, far), (far, near)):
                threading.Thread(target=self._pass_on, args=ends, daemon=True).start()

    def _pass_on(self, source: socket.socket, sink: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while some := source.recv(65536):
                sink.sendall(some)
        for each in (source, sink):
            self._close(each)

    def _close(self, one: socket.socket) -> None:
        with self._lock:
            self._open.discard(one)
        with contextlib.suppress(OSError):
            one.shutdown(socket.SHUT_RDWR)
        one.close()
