"""Every example under a command's help runs as it stands, and answers a document that keeps its JSON Schema."""

from __future__ import annotations

import argparse
import io
import json
import shlex
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import jsonschema
import pytest
import service_answers
from keyboard import Keyboard, station_file

from kailyard.cli import main as door
from kailyard.publish import render
from kailyard.publish.codec import document_types, from_json, json_schema
from kailyard.weather.services._answers import Answered


def examples(name: str) -> list[str]:
    parser = argparse.ArgumentParser()
    door.load(name).arguments(parser)
    lines = (parser.epilog or "").splitlines()
    assert lines[:1] == ["examples:"], f"kailyard {name} --help shows no example"
    return [line.strip() for line in lines[1:]]


class AtHand:
    """Answers as the services do, from `tests/desk/service_answers.py`, without a network."""

    def __init__(self, folder: Path, **how: object) -> None:
        pass

    def get(self, host: str, path: str) -> Answered:
        status, _, content = service_answers.Services.reply(SimpleNamespace(replies=[], headers={}), path, {})
        assert status == 200
        return Answered(content, service_answers.NOW)


@pytest.fixture
def beside(at_demo: Keyboard, tmp_path: Path) -> Keyboard:
    """The demo garden with the files beside it that the examples speak of."""
    station_file(tmp_path / "station.csv", date(2026, 1, 1), date(2026, 6, 11))
    (tmp_path / "hours.csv").write_text("when,temp,w\n2026-06-11 00:00,9.5,12\n2026-06-11 01:00,9.1,10\n")
    (tmp_path / "forecast.csv").write_text("day,tmin,tmax,rain\n2026-06-13,2,21,0\n2026-06-14,7,25,1.5\n")
    return at_demo


@pytest.mark.parametrize("name", door.command_names())
def test_examples_run_one_after_the_other_and_answers_keep_their_schema(
    name: str, beside: Keyboard, monkeypatch: pytest.MonkeyPatch
) -> None:
    if name == "restore":
        beside("backup", "copy-of-june")
    if name == "import":
        beside("export", "exported.json")
    if name == "injury":
        beside("enter", "injury", "tomato-1", "kinds=tomatoes, bindweed", "first-seen=2026-06-10")
    if name == "serve":  # it ends when it is stopped; tests/web serves in earnest
        monkeypatch.setattr("kailyard.web.serve.serve", lambda folder, **how: None)
        monkeypatch.setattr("sys.stdin", io.StringIO("four words quite apart\n"))
    if name == "fetch":  # the services answer from this machine
        monkeypatch.setattr("kailyard.desk.fetch.Fetcher", AtHand)
    for line in examples(name):
        words = shlex.split(line)
        assert words[0] == "kailyard"
        assert name in words
        answered = beside("--json", *words[1:]).encode()
        document = json.loads(answered)
        jsonschema.validate(document, json_schema(document_types()[document["schema"]]))
        assert render(from_json(answered), "text").strip()


@pytest.mark.parametrize("name", door.command_names())
def test_help_shows_the_examples_as_they_are_typed(name: str, beside: Keyboard) -> None:
    with pytest.raises(SystemExit) as left:
        beside.type(name, "--help")
    assert left.value.code == 0
    shown = beside._capsys.readouterr().out
    for line in examples(name):
        assert f"  {line}\n" in shown
