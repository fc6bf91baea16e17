"""A certificate authority of the garden's own, so that telephones on the local network can trust its pages.

Made once, in the garden's folder `tls`, with keys that only their owner may read. It can vouch for nothing but names
and addresses of local networks: its certificate says so (RFC 5280, section 4.2.1.10), so that a telephone that trusts
it takes on little. Its own certificate for this machine lasts a year and is made anew when addresses change.
"""

from __future__ import annotations

import os
import socket
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from kailyard.errors import DataError, NotFound

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey

FOLDER = "tls"
_CA, _CA_KEY, _OWN, _OWN_KEY = "authority.crt", "authority.key", "machine.crt", "machine.key"
_CA_LASTS = timedelta(days=5 * 365)
_OWN_LASTS = timedelta(days=365)
"""Telephones refuse longer than 825 days for authorities added by hand (Apple, support page HT210176)."""
_RENEW_BEFORE = timedelta(days=30)
_LOCAL_NETWORKS = tuple(
    ip_network(n)
    for n in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "100.64.0.0/10")
) + tuple(ip_network(n) for n in ("fc00::/7", "fe80::/10", "::1/128"))
"""RFC 1918, 3927, 1122, 6598; 4193, 4291."""
_LOCAL_NAMES = ("localhost", "local", "lan", "home.arpa", "internal")
"""RFC 6761, 6762, 8375; 'lan' and 'internal': common practice of home routers."""
_Address = IPv4Address | IPv6Address


@dataclass(frozen=True, slots=True)
class Authority:
    """What a telephone is asked to trust."""

    certificate: bytes
    """DER, as telephones take it."""
    fingerprint: str
    """SHA-256, in pairs: what the telephone shows and the terminal prints."""
    ends: datetime


@dataclass(frozen=True, slots=True)
class Machine:
    """What this machine shows to a browser."""

    certificate: Path
    key: Path
    hosts: tuple[str, ...]
    """Names and addresses that it holds for."""


def names_here() -> tuple[str, ...]:
    """Names and addresses of this machine on its local networks, the likeliest address first."""
    name = socket.gethostname().lower()
    found: list[str] = [
        a for a in (_way_out("192.0.2.1", socket.AF_INET), _way_out("2001:db8::1", socket.AF_INET6)) if a
    ]
    with suppress(OSError):
        found += [str(a[4][0]).partition("%")[0] for a in socket.getaddrinfo(name, None)]
    addresses = [a for a in dict.fromkeys(found) if _is_local(ip_address(a)) and not ip_address(a).is_loopback]
    short = name.partition(".")[0]
    return tuple(dict.fromkeys([*addresses, *([short, f"{short}.local"] if short.isascii() else [])]))


def authority(folder: Path) -> Authority:
    """The garden's authority; NotFound where none was made."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.serialization import Encoding

    path = folder / FOLDER / _CA
    if not path.is_file():
        raise NotFound("This garden has no certificate authority. `kailyard serve --lan` makes one.")
    made = x509.load_pem_x509_certificate(path.read_bytes())
    print_ = made.fingerprint(hashes.SHA256()).hex().upper()
    pairs = ":".join(print_[i : i + 2] for i in range(0, len(print_), 2))
    return Authority(made.public_bytes(Encoding.DER), pairs, made.not_valid_after_utc)


def machine_certificate(folder: Path, names: Iterable[str], now: datetime) -> Machine:
    """A certificate for `names`, signed by the garden's authority; both made now where they are not there or not fit.

    Names that the authority may not vouch for are left out.
    """
    place = folder / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    place.mkdir(mode=0o700, exist_ok=True)
    ca, ca_key = _authority(place, now)
    hosts = tuple(dict.fromkeys(n for n in (*names, "localhost", "127.0.0.1", "::1") if _may_vouch(ca, n)))
    if not _fit(place, ca, hosts, now):
        _write_machine(place, ca, ca_key, hosts, now)
    return Machine(place / _OWN, place / _OWN_KEY, hosts)


def hosts_of(certificate: Path) -> tuple[str, ...]:
    """Names and addresses that a certificate of the gardener's own holds for. DataError where it is none."""
    from cryptography import x509

    try:
        made = x509.load_pem_x509_certificate(certificate.read_bytes())
        found = made.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (OSError, ValueError, x509.ExtensionNotFound) as err:
        raise DataError(f"{certificate}: no certificate in PEM form that names its hosts ({err}).") from None
    return (*found.get_values_for_type(x509.DNSName), *map(str, found.get_values_for_type(x509.IPAddress)))


def _authority(place: Path, now: datetime) -> tuple[x509.Certificate, EllipticCurvePrivateKey]:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    if (place / _CA).is_file() and (place / _CA_KEY).is_file():
        made = x509.load_pem_x509_certificate((place / _CA).read_bytes())
        key = load_pem_private_key((place / _CA_KEY).read_bytes(), None)
        if isinstance(key, ec.EllipticCurvePrivateKey) and made.not_valid_after_utc > now + _OWN_LASTS:
            return made, key
    return _make_authority(place, now)


def _make_authority(place: Path, now: datetime) -> tuple[x509.Certificate, EllipticCurvePrivateKey]:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import NameOID

    key = ec.generate_private_key(ec.SECP256R1())
    host = socket.gethostname().lower().partition(".")[0]
    own = (host,) if host.isascii() and host else ()
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Kailyard garden {uuid4().hex[:6]}")])
    permitted: list[x509.GeneralName] = [x509.DNSName(n) for n in (*_LOCAL_NAMES, *own)]
    permitted += [x509.IPAddress(n) for n in _LOCAL_NETWORKS]
    usage = _usage(sign_certificates=True)
    made = (
        _begun(name, name, key, now, _CA_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(place / _CA_KEY, key)
    _write(place / _CA, _pem(made), 0o644)
    return made, key


def _write_machine(
    place: Path, ca: x509.Certificate, ca_key: EllipticCurvePrivateKey, hosts: tuple[str, ...], now: datetime
) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Kailyard")])
    ca_key_id = ca.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    made = (
        _begun(name, ca.subject, key, now, _OWN_LASTS)
        .add_extension(x509.SubjectAlternativeName([_general(n) for n in hosts]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(sign_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(ca_key_id), critical=False)
        .sign(ca_key, hashes.SHA256())
    )
    _write_key(place / _OWN_KEY, key)
    _write(place / _OWN, _pem(made), 0o644)


def _fit(place: Path, ca: x509.Certificate, hosts: tuple[str, ...], now: datetime) -> bool:
    """Whether the machine's certificate holds for just these hosts, is by this authority and lasts a while."""
    from cryptography import x509
    from cryptography.exceptions import InvalidSignature

    if not ((place / _OWN).is_file() and (place / _OWN_KEY).is_file()):
        return False
    made = x509.load_pem_x509_certificate((place / _OWN).read_bytes())
    try:
        made.verify_directly_issued_by(ca)
    except (ValueError, TypeError, InvalidSignature):
        return False
    lasts = made.not_valid_before_utc <= now and made.not_valid_after_utc > now + _RENEW_BEFORE
    return lasts and set(hosts_of(place / _OWN)) == set(hosts)


def _begun(
    subject: x509.Name, issuer: x509.Name, key: EllipticCurvePrivateKey, now: datetime, lasts: timedelta
) -> x509.CertificateBuilder:
    from cryptography import x509

    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + lasts)
    )


def _usage(*, sign_certificates: bool) -> x509.KeyUsage:
    from cryptography import x509

    return x509.KeyUsage(
        digital_signature=not sign_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=sign_certificates,
        crl_sign=sign_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _may_vouch(ca: x509.Certificate, name: str) -> bool:
    from cryptography import x509

    permitted = ca.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    address = _address(name)
    if address is not None:
        return _is_local(address)
    allowed = [n.value for n in permitted if isinstance(n, x509.DNSName)]
    return any(name == n or name.endswith(f".{n}") for n in allowed)


def _general(name: str) -> x509.GeneralName:
    from cryptography import x509

    address = _address(name)
    return x509.DNSName(name) if address is None else x509.IPAddress(address)


def _address(name: str) -> _Address | None:
    try:
        return ip_address(name)
    except ValueError:
        return None


def _is_local(address: _Address) -> bool:
    return any(address in network for network in _LOCAL_NETWORKS)


def _way_out(far: str, family: socket.AddressFamily) -> str:
    """The address from which this machine would speak to `far`; nothing is sent. '' where there is no way."""
    with socket.socket(family, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((far, 9))
            return str(probe.getsockname()[0])
        except OSError:
            return ""


def _pem(made: x509.Certificate) -> bytes:
    from cryptography.hazmat.primitives.serialization import Encoding

    return made.public_bytes(Encoding.PEM)


def _write_key(path: Path, key: EllipticCurvePrivateKey) -> None:
    from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

    _write(path, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()), 0o600)


def _write(path: Path, content: bytes, mode: int) -> None:
    """Put a file in its place whole; it never exists with wider rights than `mode`."""
    part = path.with_name(f".{path.name}.{uuid4().hex}")
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as out:
        out.write(content)
    os.replace(part, path)
