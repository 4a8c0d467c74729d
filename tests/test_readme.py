"""README's commands run as they stand there, in a new folder, in order."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check

README = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README, re.DOTALL)


def test_the_two_commands_stand_alone_on_their_lines() -> None:
    lines = [text.strip() for kind, text in BLOCKS if kind == "sh"]
    assert lines[0] == "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/cookbook demo"
    assert lines[1] == "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest"


def test_it_begins_with_the_title_and_a_paragraph_that_states_the_job() -> None:
    title, _, rest = README.partition("\n\n")
    assert title == "# Carryover Cookbook"
    paragraph = rest.split("\n\n")[0].casefold()
    for word in ("paste", "scale", "surface", "journal", "revision", "version", "card"):
        assert word in paragraph


def test_the_tour_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(tmp_path)
    ran = []
    for kind, text in BLOCKS[2:]:
        if kind == "yaml":
            Path("recipes/walnut-thyme-paste.yaml").write_text(text, encoding="utf-8")
        for line in text.splitlines() if kind == "sh" else []:
            words = shlex.split(line)
            if words[0] == "cd":
                monkeypatch.chdir(words[1])
            elif words[0].endswith("cookbook"):
                ran.append(words[1])
                code = main(words[1:])
                out = capsys.readouterr()
                assert (code, out.err) == (0, ""), line + out.out + out.err
    assert {"new", "scale", "log", "adopt", "versions", "compare", "card"} <= set(ran)
    assert "<html" in Path("walnut-thyme-paste.html").read_text(encoding="utf-8")
    assert check(Kitchen.open(tmp_path / "my-kitchen")).problems == ()
    written = (tmp_path / "my-kitchen/recipes/hazelnut-and-orange-paste.yaml").read_text(encoding="utf-8")
    assert "amount: 80 g   # " in written
