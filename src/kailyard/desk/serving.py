"""What serving the garden needs of the machine: a port, names under which it is reached, a certificate."""

from __future__ import annotations

import socket
from dataclasses import dataclass
from pathlib import Path

from kailyard.desk.certificates import authority, hosts_of, machine_certificate, names_here
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor, people_of
from kailyard.errors import NotFound, UsageError

HERE = "127.0.0.1"
_BACKLOG = 128
AT_THE_MACHINE = Visitor(True, keeper=True)
"""Whoever may run a command in the garden's folder may also give names."""


@dataclass(frozen=True, slots=True)
class Served:
    """How other machines reach a garden."""

    hosts: tuple[str, ...]
    """Names and addresses under which it answers, the likeliest first."""
    address: str
    """'https://192.168.1.20:8347/'."""
    certificate: Path
    key: Path
    trust_port: int = 0
    trust: str = ""
    """Address, without TLS, of the page that leads a telephone through trusting the garden's own authority; '' where
    the certificate is of the gardener's own."""
    fingerprint: str = ""
    """Of that authority."""


def listen(port: int, *, lan: bool) -> socket.socket:
    """A socket that takes connections from this machine, or with `lan` from any. UsageError where it cannot be had."""
    try:
        if not lan:
            return socket.create_server((HERE, port), backlog=_BACKLOG)
        if socket.has_dualstack_ipv6():
            return socket.create_server(("", port), family=socket.AF_INET6, dualstack_ipv6=True, backlog=_BACKLOG)
        return socket.create_server(("", port), backlog=_BACKLOG)
    except (OSError, OverflowError) as err:
        said = (getattr(err, "strerror", None) or str(err)).partition(" (")[0]
        raise UsageError(f"Port {port} cannot be had: {said}. Name another: --port 8350.") from None


def called(desk: Desk) -> str:
    """The garden's name; 'A new garden' where the folder holds none yet: the pages make it."""
    try:
        return desk.garden().name
    except NotFound:
        return "A new garden"


def anybody(desk: Desk) -> bool:
    """Whether anybody has a name."""
    return bool(people_of(desk).everybody())


def here(port: int, *, secure: bool = False) -> str:
    """The address on this machine itself."""
    return _address("https" if secure else "http", "localhost" if secure else HERE, port)


def reach(desk: Desk, port: int, *, trust_port: int | None = None, cert: str = "", key: str = "") -> Served:
    """How the local network reaches this garden; its authority and certificate are made where they are needed.

    `trust_port`: where telephones fetch the authority; None: the port after `port`.

    Raises UsageError where nobody has a name yet, or only one of `cert` and `key` is given.
    """
    if not anybody(desk):
        raise UsageError(
            "Nobody has a name yet, and --lan lets nobody in without. Run: kailyard serve --add-person NAME"
        )
    if bool(cert) != bool(key):
        raise UsageError("--cert and --key go together.")
    if cert:
        hosts = hosts_of(Path(cert))
        if not Path(key).is_file():
            raise NotFound(f"--key {key}: there is no such file.")
        return Served(hosts, _address("https", hosts[0], port), Path(cert), Path(key))
    made = machine_certificate(desk.folder, names_here(), desk.really_now())
    hosts = made.hosts
    trust = trust_port or port + 1
    print_ = authority(desk.folder).fingerprint
    return Served(
        hosts,
        _address("https", hosts[0], port),
        made.certificate,
        made.key,
        trust,
        _address("http", hosts[0], trust),
        print_,
    )


def add_person(desk: Desk, name: str, passphrase: str) -> str:
    """Give somebody a name from the garden's machine; a sentence that says so."""
    return f"{people_of(desk).add(name, passphrase, by=AT_THE_MACHINE).name} may come in."


def new_passphrase(desk: Desk, name: str, passphrase: str) -> str:
    """Another passphrase for somebody, from the garden's machine; a sentence that says so."""
    return f"{people_of(desk).reset(name, passphrase).name} has a new passphrase; all devices must come in anew."


def remove_person(desk: Desk, name: str) -> str:
    """Take a name away, the keeper's too, from the garden's machine; a sentence that says so."""
    return f"{people_of(desk).forget(name).name} may no longer come in. What was entered stays."


def _address(scheme: str, host: str, port: int) -> str:
    return f"{scheme}://[{host}]:{port}/" if ":" in host else f"{scheme}://{host}:{port}/"
