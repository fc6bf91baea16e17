"""A local network in this machine: the garden's machine and a telephone, each in a network namespace of its own.

They are joined by one cable, which can be pulled out: no signal. Nothing outside the machine is ever spoken to.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

MACHINE, TELEPHONE = "192.168.77.1", "192.168.77.2"
_HOLDS_S = "3600"
NEEDED = ("ip", "nsenter", "unshare")


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

    def __init__(self, machine: Place, telephone: Place) -> None:
        self.machine, self.telephone = machine, telephone

    def pull_out(self) -> None:
        """No signal any more."""
        self.telephone.ip("link", "set", "cable", "down")

    def plug_in(self) -> None:
        """Signal again; the way out is gone with the cable and is laid anew."""
        self.telephone.ip("link", "set", "cable", "up")
        self.telephone.ip("route", "replace", "default", "via", MACHINE)


@contextmanager
def network() -> Iterator[Network]:
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


def missing() -> list[str]:
    """Programs that this needs and that are not there."""
    return [name for name in NEEDED if shutil.which(name) is None]
