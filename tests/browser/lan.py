"""A local network in this machine: the garden's machine and a telephone, each in a network namespace of its own.

They are joined by one cable, which can be pulled out: no signal. Nothing outside the machine is ever spoken to. Where
no namespace may be made a relay stands for the cable; KAILYARD_CABLE=relay asks for it, to try that.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol

from relay import Relay

MACHINE, TELEPHONE = "192.168.77.1", "192.168.77.2"
_HOLDS_S = "3600"
NEEDED = ("ip", "nsenter", "ss", "unshare")
PORT = 8347


class Lan(Protocol):
    """What joins the telephone to the garden's machine."""

    machine: tuple[str, ...]
    """What a command on the garden's machine begins with."""
    telephone: tuple[str, ...]
    port: int
    """Where the garden's machine listens."""
    trust_port: int
    host: str
    """What the telephone calls it, with the port."""

    def pull_out(self) -> None: ...

    def plug_in(self) -> None: ...


class Place:
    """One network namespace, held open by a process that sleeps."""

    def __init__(self, within: Sequence[str], unshare: Sequence[str], enter: Sequence[str]) -> None:
        held = os.readlink("/proc/self/ns/net")
        self.process = subprocess.Popen(
            [*within, "unshare", *unshare, "--net", "sleep", _HOLDS_S],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
        )
        self.prefix = ("nsenter", "--target", str(self.process.pid), *enter, "--net", "--")
        for _ in range(200):
            if self.process.poll() is not None:
                raise OSError(self.process.stderr.read().decode())
            command = Path(f"/proc/{self.process.pid}/comm").read_text().strip()
            if command == "sleep" and os.readlink(f"/proc/{self.process.pid}/ns/net") != held:
                return
            time.sleep(0.01)
        raise OSError("a network namespace could not be made")

    def ip(self, *words: str) -> None:
        subprocess.run([*self.prefix, "ip", *words], check=True, capture_output=True)

    def close(self) -> None:
        self.process.kill()
        self.process.communicate()


class Network:
    """The two places and the cable."""

    port, trust_port, host = PORT, PORT + 1, f"{MACHINE}:{PORT}"

    def __init__(self, machine: Place, telephone: Place) -> None:
        self.machine, self.telephone = machine.prefix, telephone.prefix
        self._ip = telephone.ip
        self._out = False

    def pull_out(self) -> None:
        """No signal any more; what is under way ends at once, as where a telephone lets go of a network."""
        self._out = True
        self._ip("link", "set", "cable", "down")
        subprocess.run([*self.telephone, "ss", "--kill", "--tcp", "dst", MACHINE], check=True, capture_output=True)

    def plug_in(self) -> None:
        """Signal again; the way out is gone with the cable and is laid anew."""
        if self._out:
            self._ip("link", "set", "cable", "up")
            self._ip("route", "replace", "default", "via", MACHINE)
        self._out = False


@contextmanager
def lan() -> Iterator[Lan]:
    """A network, gone at the end."""
    with contextlib.ExitStack() as stack:
        made: Lan | None = None
        if os.environ.get("KAILYARD_CABLE") != "relay" and all(shutil.which(name) for name in NEEDED):
            with contextlib.suppress(OSError):
                made = stack.enter_context(_network())
        made = made or Relay()
        yield made
        made.pull_out()


@contextmanager
def _network() -> Iterator[Network]:
    """A network, gone at the end. OSError where this machine does not let us make one."""
    root = os.geteuid() == 0
    user = () if root else ("--user", "--map-root-user")
    enter = () if root else ("--user", "--preserve-credentials")
    machine = Place((), user, enter)
    try:
        telephone = Place(() if root else machine.prefix, (), enter)
        try:
            pid = str(telephone.process.pid)
            machine.ip("link", "add", "cable", "type", "veth", "peer", "name", "cable", "netns", pid)
            for place, own, other in ((machine, MACHINE, TELEPHONE), (telephone, TELEPHONE, MACHINE)):
                place.ip("link", "set", "lo", "up")
                # No address of the network's sixth version: it comes some time after the cable is in, and browsers
                # give up what they are asking for when addresses change.
                place.ip("link", "set", "cable", "addrgenmode", "none")
                place.ip("addr", "add", f"{own}/24", "dev", "cable")
                place.ip("link", "set", "cable", "up")
                place.ip("route", "add", "default", "via", other)
            yield Network(machine, telephone)
        except subprocess.CalledProcessError as err:
            raise OSError(err.stderr.decode()) from err
        finally:
            telephone.close()
    finally:
        machine.close()
