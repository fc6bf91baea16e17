"""The command line: reads the words, asks the desk through one command, prints what it answers.

A command is a file in `kailyard.cli.commands`; see `Command` for what it holds. It is imported only when it is called,
or to be listed by `--help`.
"""

from __future__ import annotations

import argparse
import io
import os
import re
import sys
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import Any, NoReturn, Protocol, cast

from kailyard import __version__, discover
from kailyard.errors import KailyardError, UsageError

COMMANDS = "kailyard.cli.commands"
_TAKES_A_VALUE = ("--garden", "--html")


class Command(Protocol):
    """What a file of `kailyard.cli.commands` holds. Its name is the command's, with `_` written `-`."""

    HELP: str
    """One line, a sentence without a full stop: what it does for the gardener."""

    def arguments(self, parser: argparse.ArgumentParser) -> None:
        """Add the command's own arguments to `parser`."""

    def run(self, desk: Any, args: argparse.Namespace) -> Any:
        """Call one function of the desk and return the document that it answers.

        Several, as a tuple, are all printed as text; `--json` and `--html` take the first.
        """


class Parser(argparse.ArgumentParser):
    """Raises UsageError where argparse would print and exit, so that one handler speaks for all."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        # As argparse has it, -3 is a value and -3C an unknown option; here whatever begins like a number is a value.
        self._negative_number_matcher = re.compile(r"-\.?[0-9]")

    def read(self, words: Sequence[str], into: argparse.Namespace) -> argparse.Namespace:
        """`words` read, options standing before, between or after the others."""
        if any(isinstance(action, argparse._SubParsersAction) for action in self._actions):
            return self.parse_args(words, into)  # argparse cannot do both
        return self.parse_intermixed_args(words, into)

    def error(self, message: str) -> NoReturn:
        """Turn argparse's complaint into one line that names what is near and where help is."""
        unknown = message.removeprefix("unrecognized arguments: ").split()[0]
        hint = near(unknown, self._option_string_actions) if unknown.startswith("-") else ""
        raise UsageError(f"{message}.{hint} `{self.prog} --help` tells what it takes.")


def command_names() -> tuple[str, ...]:
    """Every command as it is typed, sorted."""
    return tuple(name.replace("_", "-") for name in discover.names(COMMANDS))


def load(name: str) -> Command:
    """The command typed as `name`, imported now.

    Raises
    ------
    UsageError
        If there is none; the message names the nearest.
    """
    if name not in command_names():
        raise UsageError(f"There is no command '{name}'.{near(name, command_names())} `kailyard --help` lists them.")
    return cast(Command, discover.module(COMMANDS, name.replace("-", "_")))


def near(word: str, known: Sequence[str] | dict[str, Any]) -> str:
    """' Did you mean ...?' where one of `known` is spelt much like `word`, else ''."""
    import difflib  # only on the way to an error

    found = difflib.get_close_matches(word, list(known), n=1)
    return f" Did you mean '{found[0]}'?" if found else ""


def shared_options(*, keep: bool) -> argparse.ArgumentParser:
    """The options that stand before or after any command; with `keep`, one left out does not undo an earlier one."""
    parser = argparse.ArgumentParser(add_help=False, argument_default=argparse.SUPPRESS if keep else None)
    group = parser.add_argument_group("for every command")
    group.add_argument("--garden", metavar="DIR", help="the garden's folder; else $KAILYARD_GARDEN, else this folder")
    group.add_argument("--json", action="store_true", help="print the document as JSON")
    group.add_argument("--html", metavar="FILE", help="also write it as a page to FILE")
    return parser


def front_parser() -> Parser:
    """The words before the command."""
    parser = Parser(
        prog="kailyard",
        usage="kailyard [--garden DIR] [--json] [--html FILE] COMMAND ...",
        description="A garden's record and the weather, turned into dated windows with odds.",
        parents=[shared_options(keep=False)],
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"kailyard {__version__}")
    return parser


def command_parser(name: str, command: Command) -> Parser:
    """The words after the command."""
    parser = Parser(
        prog=f"kailyard {name}",
        description=f"{command.HELP}.",
        parents=[shared_options(keep=True)],
        allow_abbrev=False,
    )
    command.arguments(parser)
    return parser


def list_of_commands() -> str:
    """One line a command: its name and what it does."""
    names = command_names()
    width = max((len(name) for name in names), default=0)
    lines = [f"  {name.ljust(width)}  {load(name).HELP}" for name in names]
    return "\n".join(["commands:", *lines, "", "`kailyard COMMAND --help` tells what a command takes."])


def split(argv: Sequence[str]) -> tuple[list[str], str | None, list[str]]:
    """`argv` cut at the command: the words before it, the command or None, the words after it."""
    words = iter(enumerate(argv))
    for at, word in words:
        if word in _TAKES_A_VALUE:
            next(words, None)
        elif not word.startswith("-"):
            return list(argv[:at]), word, list(argv[at:][1:])
    return list(argv), None, []


def answer(argv: Sequence[str]) -> str:
    """Run what `argv` asks for and return the text to print."""
    before, name, after = split(argv)
    front = front_parser()
    if name is None:
        if "-h" in before or "--help" in before or not before:
            front.epilog = list_of_commands()
            return front.format_help()
        front.parse_args(before)
        raise UsageError("Which command? `kailyard --help` lists them.")
    shared = front.parse_args(before)
    command = load(name)
    args = command_parser(name, command).read(after, shared)
    folder = Path(args.garden or os.environ.get("KAILYARD_GARDEN") or ".")

    from kailyard.desk.desk import Desk  # heavy: not on the way to --help
    from kailyard.publish import render

    with closing(Desk(folder)) as desk:
        document = command.run(desk, args)
    first, *others = document if isinstance(document, tuple) else (document,)
    if args.html:
        write_page(args.html, render(first, "html"))
    if args.json:
        return render(first, "json")
    return "\n".join(render(each, "text") for each in (first, *others))


def write_page(file: str, page: str) -> None:
    """Write `page` to `file`, over an older one.

    Raises
    ------
    UsageError
        If the file cannot be written.
    """
    try:
        Path(file).write_text(page, encoding="utf-8")
    except OSError as err:
        raise UsageError(f"--html {file}: {err.strerror}. Name a file in a folder that can be written to.") from err


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; return the exit code: 0, or that of the error that stopped it."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        text = answer(sys.argv[1:] if argv is None else argv)
    except KailyardError as err:
        print(f"kailyard: {err}", file=sys.stderr)
        return err.exit_code
    try:
        print(text.removesuffix("\n"), flush=True)
    except BrokenPipeError:
        # The reader has seen enough (`| head`). Python would complain once more when it closes the stream.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0
