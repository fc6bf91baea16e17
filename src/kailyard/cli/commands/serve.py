"""The garden's pages in a browser."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from kailyard.cli.words import day, examples
from kailyard.errors import UsageError

HELP = "Serve the garden's pages to a browser on this machine, or with --lan to telephones"
PORT = 8347


def arguments(parser: argparse.ArgumentParser) -> None:
    """Where, to whom, and who may come in."""
    parser.add_argument("--port", type=int, default=PORT, metavar="N", help=f"where it listens; else {PORT}")
    parser.add_argument("--lan", action="store_true", help="to the local network too, with TLS, names and passphrases")
    parser.add_argument("--trust-port", type=int, metavar="N", help="where telephones fetch the certificate; else 8348")
    parser.add_argument("--cert", metavar="FILE", default="", help="with --lan: a certificate of your own, PEM")
    parser.add_argument("--key", metavar="FILE", default="", help="with --cert: its key, PEM, without a passphrase")
    parser.add_argument("--open", action="store_true", help="open the browser on this machine")
    parser.add_argument("--today", type=day, metavar="DAY", help="pretend that it is this day, to try a garden out")
    who = parser.add_mutually_exclusive_group()
    who.add_argument("--add-person", metavar="NAME", help="let somebody in, and end; the passphrase is asked for")
    who.add_argument("--new-passphrase", metavar="NAME", help="give somebody another passphrase, and end")
    who.add_argument("--remove-person", metavar="NAME", help="let somebody in no longer, and end")
    examples(parser, "kailyard serve --open", "kailyard serve --add-person Idony", "kailyard serve --lan")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """Serve until Ctrl-C, or change who may come in."""
    from kailyard.desk import serving
    from kailyard.documents.table import Table

    if args.add_person:
        return Table(serving.add_person(desk, args.add_person, passphrase()))
    if args.new_passphrase:
        return Table(serving.new_passphrase(desk, args.new_passphrase, passphrase()))
    if args.remove_person:
        return Table(serving.remove_person(desk, args.remove_person))
    if not args.lan and (args.cert or args.key or args.trust_port):
        raise UsageError("--cert, --key and --trust-port go with --lan.")
    return _serve(desk, args)


def _serve(desk: Any, args: argparse.Namespace) -> Any:
    from kailyard.desk import serving
    from kailyard.desk.clock import pretend
    from kailyard.documents.table import Table
    from kailyard.web.serve import serve
    from kailyard.web.trust import terminal_qr

    name = serving.called(desk)
    clock = pretend(desk, args.today) if args.today else None
    if args.lan and not serving.anybody(desk) and sys.stdin.isatty():
        say("Nobody has a name yet, and over the network nobody is let in without. Your name:")
        say(serving.add_person(desk, sys.stdin.readline(), passphrase()))
    lan = serving.reach(desk, args.port, trust_port=args.trust_port, cert=args.cert, key=args.key) if args.lan else None
    address = lan.address if lan else serving.here(args.port)

    def ready() -> None:
        say(f"{name}: {address}")
        if lan and lan.trust:
            say(f"A telephone begins at {lan.trust} or with this picture:", terminal_qr(lan.trust))
            say(f"The certificate's SHA-256 fingerprint: {lan.fingerprint}")
        say("Ctrl-C stops.")
        if args.open:
            import webbrowser

            webbrowser.open(serving.here(args.port, secure=lan is not None))

    serve(desk.folder, port=args.port, lan=lan, clock=clock, ready=ready)
    return Table("Stopped", notes=("What was entered is kept.",))


def passphrase() -> str:
    """A passphrase from the terminal, twice and unseen, or one line of standard input.

    Raises
    ------
    UsageError
        If the two differ.
    """
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    import getpass

    first = getpass.getpass("Passphrase (12 characters or more): ")
    if getpass.getpass("Once more: ") != first:
        raise UsageError("The two differ. Nothing was changed.")
    return first


def say(*lines: str) -> None:
    """Tell the one who sits there, while the program goes on; standard output is for what the command answers."""
    print(*lines, sep="\n", file=sys.stderr, flush=True)
