"""docs/reference/commands.md, made from the commands themselves."""

from __future__ import annotations

import argparse

from kailyard.cli import main

PAGE = "docs/reference/commands.md"
HEAD = """# Commands

Made from the program by `make docs`; do not edit it here. `kailyard COMMAND --help` says the same at the keyboard.
"""


def page() -> str:
    """The whole page."""
    parts = [HEAD, "## For every command\n", _table(main.shared_options(keep=False))]
    for name in main.command_names():
        command = main.load(name)
        parts += [f"## kailyard {name}\n", f"{command.HELP}.\n"]
        parser = argparse.ArgumentParser(prog=f"kailyard {name}", add_help=False, allow_abbrev=False)
        command.arguments(parser)
        parts += _parser(parser)
        if parser.epilog:
            parts.append(_examples(parser.epilog))
    return "\n".join(part for part in parts if part)


def _parser(parser: argparse.ArgumentParser, words: tuple[str, ...] = ()) -> list[str]:
    below = next((a for a in parser._actions if isinstance(a, argparse._SubParsersAction)), None)
    parts = [_table(parser)]
    if below:
        helps = {choice.dest: choice.help or "" for choice in below._choices_actions}
        for name, child in below.choices.items():
            title = " ".join(("kailyard", *parser.prog.split()[1:], *words, name))
            parts += [f"### {title}\n", f"{helps.get(name, '').rstrip('.')}.\n" if helps.get(name) else ""]
            parts += _parser(child, (*words, name))
    return parts


def _examples(epilog: str) -> str:
    """The lines under a command's help as they are typed."""
    lines = [line.strip() for line in epilog.splitlines()[1:]]
    return "\n".join(["```sh", *lines, "```", ""])


def _table(parser: argparse.ArgumentParser) -> str:
    rows = [
        f"| `{_spelling(action)}` | {_meaning(action)} |"
        for action in parser._actions
        if not isinstance(action, argparse._SubParsersAction | argparse._HelpAction)
    ]
    return "\n".join(["| | |", "| --- | --- |", *rows, ""]) if rows else ""


def _spelling(action: argparse.Action) -> str:
    choices = "{" + ",".join(map(str, action.choices)) + "}" if action.choices else ""
    metavar = action.metavar[0] if isinstance(action.metavar, tuple) else action.metavar
    value = metavar or choices or action.dest.upper()
    if not action.option_strings:
        return {"?": f"[{value}]", "*": f"[{value} ...]", "+": f"{value} ..."}.get(str(action.nargs), value)
    if action.nargs == 0:
        return ", ".join(action.option_strings)
    return f"{', '.join(action.option_strings)} {value}{' ...' if action.nargs in ('*', '+') else ''}"


def _meaning(action: argparse.Action) -> str:
    said = (action.help or "") % {"default": action.default, "prog": "kailyard", "dest": action.dest}
    needed = "needed" if action.required and action.option_strings else ""
    return "; ".join(part for part in (said.replace("|", "\\|"), needed) if part)
