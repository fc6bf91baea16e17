"""Every file in a register has what its register asks for, whatever files there are."""

from __future__ import annotations

import argparse
import dataclasses
import inspect
import re
from types import ModuleType
from typing import Any

import pytest

from kailyard import discover
from kailyard.cli import main
from kailyard.weather.services._hosts import HOSTS

IN_REGISTERS = [
    pytest.param(register, name, id=f"{register.removeprefix('kailyard.')}.{name}")
    for register in (
        "kailyard.cli.commands",
        "kailyard.documents",
        "kailyard.garden.entries",
        "kailyard.handbook.tables",
        "kailyard.season.work",
        "kailyard.weather.readers",
        "kailyard.weather.services",
    )
    for name in discover.names(register)
]


def parameters(function: Any) -> list[str]:
    return list(inspect.signature(function).parameters)


def one_line(text: object) -> bool:
    """A sentence without its full stop, so that a list can set it in a line."""
    return isinstance(text, str) and bool(text) and not re.search(r"\n|[^.]\.$", text)


def check_commands(name: str, module: ModuleType) -> None:
    assert one_line(module.HELP)
    assert module.HELP[0].isupper()
    assert parameters(module.run) == ["desk", "args"]
    command = main.command_parser(name.replace("_", "-"), module)  # type: ignore[arg-type]
    assert command.format_help()
    for parser in parsers(command):
        for action in parser._actions:
            assert action.help, f"{parser.prog}: say what {action.dest} is"


def parsers(parser: argparse.ArgumentParser) -> list[argparse.ArgumentParser]:
    below = [a for a in parser._actions if isinstance(a, argparse._SubParsersAction)]
    return [parser, *(p for a in below for child in a.choices.values() for p in parsers(child))]


def check_documents(name: str, module: ModuleType) -> None:
    document = module.DOCUMENT
    assert dataclasses.is_dataclass(document)
    assert document.__dataclass_params__.frozen
    assert re.fullmatch(rf"kailyard\.{name.replace('_', '-')}/[1-9]\d*", document.schema)
    assert document.__doc__


def check_entries(name: str, module: ModuleType) -> None:
    assert name.replace("_", "-") == module.NAME
    assert one_line(module.HELP)
    assert module.VERSION >= 1
    assert module.VERSION == 1 or parameters(module.upgrade) == ["version", "payload"]
    assert dataclasses.is_dataclass(module.PAYLOAD)
    assert module.PAYLOAD.__dataclass_params__.frozen
    assert set(module.TARGET) <= {"planting", "bed", "garden"}
    assert hasattr(module, "QUANTITY")


def check_tables(name: str, module: ModuleType) -> None:
    assert name == module.NAME
    assert dataclasses.is_dataclass(module.ROW)
    assert module.COLUMNS
    assert module.FILES
    assert callable(module.parse)


def check_work(name: str, module: ModuleType) -> None:
    assert re.fullmatch(r"[a-z][a-z -]+", module.NAME)
    assert module.SCOPE in {"planting", "bed", "garden"}
    assert len(parameters(module.windows)) == 2


def check_readers(name: str, module: ModuleType) -> None:
    assert re.fullmatch(r"[a-z][a-z0-9-]+", module.NAME)
    assert one_line(module.HELP)
    assert isinstance(module.NEEDS_COLUMNS, bool)
    assert parameters(module.sniff) == ["name", "head"]
    assert parameters(module.read)[:2] == ["data", "options"]


def check_services(name: str, module: ModuleType) -> None:
    assert name.replace("_", "-") == module.NAME
    assert one_line(module.HELP)
    assert module.HOST in HOSTS
    assert module.GIVES in {"forecast", "days", "normals"}
    assert module.BY in {"place", "station"}
    assert module.CREDIT
    assert parameters(module.asking) == ["asked"]
    assert inspect.isgeneratorfunction(module.asking)


@pytest.mark.parametrize(("register", "name"), IN_REGISTERS)
def test_a_file_in_a_register_has_what_is_asked_of_it(register: str, name: str) -> None:
    module = discover.module(register, name)
    assert module.__doc__, "say in the first line what it is"
    {
        "commands": check_commands,
        "documents": check_documents,
        "entries": check_entries,
        "tables": check_tables,
        "work": check_work,
        "readers": check_readers,
        "services": check_services,
    }[register.rpartition(".")[2]](name, module)


@pytest.mark.parametrize("register", ["kailyard.season.work", "kailyard.weather.readers"])
def test_no_two_files_of_a_register_share_a_name(register: str) -> None:
    names = [module.NAME for module in discover.modules(register)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("form", ["text", "html"])
def test_every_document_can_be_rendered(form: str) -> None:
    register = f"kailyard.publish.{form}"
    assert set(discover.names("kailyard.documents")) <= set(discover.names(register))
    for module in discover.modules(register):
        assert parameters(module.render)[0] == "document"
