"""The garden's own authority: OpenSSL and Python's TLS take it for what it may vouch for, and for nothing else."""

from __future__ import annotations

import socket
import ssl
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest
from browsing import LAN, PASSPHRASE, SetClock
from cryptography import x509
from markup_check import Checked
from starlette.testclient import TestClient

from kailyard.desk.certificates import authority, hosts_of, machine_certificate, names_here
from kailyard.desk.desk import Desk
from kailyard.desk.serving import Served, add_person, reach
from kailyard.errors import DataError, NotFound, UsageError
from kailyard.web.serve import server_of
from kailyard.web.trust import qr, trust_app

NOW = datetime.now(UTC).replace(microsecond=0)
NAMES = (LAN, "localhost", "shed.local")


def test_keys_are_their_owners_and_the_authority_is_made_once(tmp_path: Path) -> None:
    first = machine_certificate(tmp_path, NAMES, NOW)
    print_ = authority(tmp_path).fingerprint
    before = first.certificate.read_bytes()
    again = machine_certificate(tmp_path, NAMES, NOW + timedelta(days=100))
    assert again.certificate.read_bytes() == before
    assert authority(tmp_path).fingerprint == print_
    assert (tmp_path / "tls").stat().st_mode & 0o077 == 0
    for key in (tmp_path / "tls").glob("*.key"):
        assert key.stat().st_mode & 0o777 == 0o600
    assert {LAN, "localhost", "shed.local", "127.0.0.1", "::1"} == set(first.hosts)
    assert len(print_.split(":")) == 32


@pytest.mark.parametrize("why", ["other addresses", "nearly over", "another authority"])
def test_the_machines_certificate_is_made_anew(tmp_path: Path, why: str) -> None:
    before = machine_certificate(tmp_path, NAMES, NOW).certificate.read_bytes()
    if why == "other addresses":
        made = machine_certificate(tmp_path, ("192.168.7.8",), NOW)
        assert "192.168.7.8" in hosts_of(made.certificate)
    elif why == "nearly over":
        made = machine_certificate(tmp_path, NAMES, NOW + timedelta(days=340))
    else:
        (tmp_path / "tls" / "authority.crt").unlink()
        made = machine_certificate(tmp_path, NAMES, NOW)
    assert made.certificate.read_bytes() != before
    verified(tmp_path, NOW if why != "nearly over" else NOW + timedelta(days=340))


def test_what_it_says_of_itself(tmp_path: Path) -> None:
    made = machine_certificate(tmp_path, NAMES, NOW)
    ca = x509.load_pem_x509_certificate((tmp_path / "tls" / "authority.crt").read_bytes())
    own = x509.load_pem_x509_certificate(made.certificate.read_bytes())
    # Apple, "Requirements for trusted certificates": at most 825 days, subject alternative names, serverAuth, SHA-2.
    assert own.not_valid_after_utc - own.not_valid_before_utc <= timedelta(days=825)
    assert own.signature_hash_algorithm is not None
    assert own.signature_hash_algorithm.name == "sha256"
    uses = own.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert x509.oid.ExtendedKeyUsageOID.SERVER_AUTH in uses
    constraints = ca.extensions.get_extension_for_class(x509.NameConstraints)
    assert constraints.critical
    basic = ca.extensions.get_extension_for_class(x509.BasicConstraints).value
    assert (basic.ca, basic.path_length) == (True, 0)
    assert not own.extensions.get_extension_for_class(x509.BasicConstraints).value.ca


def test_it_vouches_for_local_names_and_addresses_only(tmp_path: Path) -> None:
    made = machine_certificate(tmp_path, (*NAMES, "198.51.100.7", "garden.example", "2001:db8::7"), NOW)
    assert not {"198.51.100.7", "garden.example", "2001:db8::7"} & set(made.hosts)


def test_openssl_verifies_it(tmp_path: Path) -> None:
    machine_certificate(tmp_path, NAMES, NOW)
    assert verified(tmp_path, NOW).returncode == 0


def test_a_stolen_authority_is_of_no_use_for_other_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("kailyard.desk.certificates._may_vouch", lambda ca, name: True)
    machine_certificate(tmp_path, ("bank.example",), NOW)
    refused = verified(tmp_path, NOW)
    assert refused.returncode != 0
    assert "permitted subtree violation" in refused.stdout + refused.stderr


def test_a_browser_that_trusts_it_is_let_through_and_one_that_does_not_is_not(tmp_path: Path) -> None:
    made = machine_certificate(tmp_path, NAMES, NOW)
    with tls_server(made.certificate, made.key) as port:
        trusting = ssl.create_default_context(cadata=authority(tmp_path).certificate)
        for name in ("localhost", LAN):
            with (
                socket.create_connection(("127.0.0.1", port)) as plain,
                trusting.wrap_socket(plain, server_hostname=name),
            ):
                pass
        for context, name in ((trusting, "192.168.7.8"), (ssl.create_default_context(), LAN)):
            with (
                socket.create_connection(("127.0.0.1", port)) as plain,
                pytest.raises(ssl.SSLCertVerificationError),
            ):
                context.wrap_socket(plain, server_hostname=name)


def test_only_tls_1_2_and_1_3_are_spoken(tmp_path: Path) -> None:
    made = machine_certificate(tmp_path, NAMES, NOW)
    config = server_of(lambda *_: None, ssl_certfile=made.certificate, ssl_keyfile=made.key).config
    config.load()
    assert config.ssl is not None
    assert config.ssl.minimum_version >= ssl.TLSVersion.TLSv1_2


def test_the_machine_names_its_local_addresses() -> None:
    for name in names_here():
        assert name
        assert not name.startswith("127.")


def test_over_the_network_only_with_a_name(gardens, tmp_path: Path, clock: SetClock) -> None:
    desk = Desk(tmp_path, clock=clock)
    with pytest.raises(UsageError, match="serve --add-person NAME"):
        reach(desk, 8347)
    add_person(desk, "Idony", PASSPHRASE)
    served = reach(desk, 8347)
    assert served.address.startswith("https://")
    assert served.trust.startswith("http://")
    assert served.trust_port == 8348
    with pytest.raises(UsageError, match="go together"):
        reach(desk, 8347, cert="x.pem")


def test_a_certificate_of_ones_own(tmp_path: Path, clock: SetClock) -> None:
    desk = Desk(tmp_path, clock=clock)
    add_person(desk, "Idony", PASSPHRASE)
    made = machine_certificate(tmp_path / "..", NAMES, NOW)
    served = reach(desk, 8347, cert=str(made.certificate), key=str(made.key))
    assert set(NAMES) <= set(served.hosts)
    assert served.trust == ""
    (tmp_path / "no.pem").write_text("nothing")
    with pytest.raises(DataError, match=r"no\.pem"):
        reach(desk, 8347, cert=str(tmp_path / "no.pem"), key=str(made.key))
    with pytest.raises(NotFound):
        reach(desk, 8347, cert=str(made.certificate), key="missing.key")


def test_the_door_without_tls_knows_the_certificate_and_nothing_else(tmp_path: Path) -> None:
    made = machine_certificate(tmp_path, NAMES, NOW)
    served = Served(
        made.hosts, f"https://{LAN}:8347/", made.certificate, made.key, 8348, f"http://{LAN}:8348/", "AB:CD"
    )
    with TestClient(trust_app(tmp_path, served), base_url=f"http://{LAN}:8348") as client:
        page = client.get("/")
        checked = Checked(page.text)
        assert checked.problems == []
        assert "AB:CD" in checked.text
        assert f"https://{LAN}:8347/" in checked.links
        for link in checked.links:
            if link.startswith("/"):
                assert client.get(link).status_code == 200, link
        fetched = client.get("/kailyard-authority.crt")
        assert fetched.headers["content-type"] == "application/x-x509-ca-cert"
        assert x509.load_der_x509_certificate(fetched.content) == x509.load_pem_x509_certificate(
            (tmp_path / "tls" / "authority.crt").read_bytes()
        )
        assert b"PRIVATE" not in fetched.content
        for path in ("/login", "/daybook", "/entries", "/tls/authority.key", "/static/../tls/authority.key"):
            for method in ("GET", "POST"):
                answer = client.request(method, path, follow_redirects=False)
                assert answer.status_code == 303
                assert answer.headers["location"] == "/"
        assert client.get("/", headers={"Host": "else.example"}).status_code == 421


def test_the_picture_has_its_address_in_words() -> None:
    drawn = qr(f"http://{LAN}:8348/")
    assert f'aria-label="http://{LAN}:8348/"' in drawn
    assert "style=" not in drawn


def verified(folder: Path, at: datetime) -> subprocess.CompletedProcess[str]:
    tls = folder / "tls"
    command = ["openssl", "verify", "-attime", f"{at.timestamp():.0f}", "-x509_strict", "-purpose", "sslserver"]
    return subprocess.run(
        [*command, "-CAfile", str(tls / "authority.crt"), str(tls / "machine.crt")],
        capture_output=True,
        text=True,
        check=False,
    )


@contextmanager
def tls_server(certificate: Path, key: Path) -> Iterator[int]:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate, key)
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def serve() -> None:
            while True:
                try:
                    plain, _ = listening.accept()
                except OSError:
                    return
                try:
                    with context.wrap_socket(plain, server_side=True):
                        pass
                except OSError:
                    plain.close()

        Thread(target=serve, daemon=True).start()
        yield listening.getsockname()[1]
        listening.shutdown(socket.SHUT_RDWR)
