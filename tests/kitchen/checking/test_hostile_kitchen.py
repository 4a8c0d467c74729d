"""Every verb and every page over a kitchen full of what no cook would write: answers, problems, never a crash."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from urllib.parse import quote

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from tests.conftest import COOK, PASTE
from tests.kitchen.hostile import ENTRY, hostile

VERBS = (
    ("list",), ("find", "loin"), ("last", "loin"), ("last", "pork loin, boneless"), ("show", "loin"),
    ("show", "bells"),
    ("scale", "loin", "--weight", "3kg"), ("log", "start", "loin", "--weight", "2kg"), ("log", "note", "dry"),
    ("log", "core 50 C"), ("log", "next", "lit earlier"), ("versions", "loin"), ("safety", "loin"), ("releases",),
    ("rename", "walnut-paste", "nuts"), ("log", "finish", "--score", "crust=7"),
    ("piece", "rib roast, bone in", "--ribs", "4", "--scan", "{root}/recipes/gigabyte.yaml"),
    ("import", "{root}/recipes/ring.yaml"), ("log", "import", "{root}/journal/2026/huge.csv"),
)  # fmt: skip
HEAVY = (
    ("check",), ("compare", "loin"), ("forecast", "loin", "--weight", "2kg"), ("site", "{root}/../site"),
    ("plan", "loin", "--eat", "18:00", "--eaters", "4 adults"), ("card", "loin", "--as", "text"),
    ("card", "loin", "--as", "page"),
)  # fmt: skip
MOST_MB = 900
"""More memory than any verb may take over the kitchen with its files of a gigabyte; numpy alone reserves half."""


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile")
    hostile(folder / "kitchen", folder / "outside")
    return folder / "kitchen"


def asked(root: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """One verb: an exit code of ours, and an answer that is one document."""
    said = [word.format(root=root) for word in words]
    code = main([*said, "--kitchen", str(root), "--json"])
    answer = json.loads(capsys.readouterr().out)
    assert code in (0, 1, 2)
    assert ("error" in answer) == (code == 2)


@pytest.mark.parametrize("words", VERBS, ids=" ".join)
def test_a_verb_answers_or_names_the_problem(
    filled: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    asked(filled, words, capsys)


@pytest.mark.long
@pytest.mark.parametrize("words", [*VERBS, *HEAVY], ids=" ".join)
def test_a_heavy_verb_answers_or_names_the_problem(
    filled: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    asked(filled, words, capsys)
    assert main([*(word.format(root=filled) for word in words), "--kitchen", str(filled)]) in (0, 1, 2)


def test_check_names_each_of_them_and_shows_no_page_of_any(filled: Path) -> None:
    report = check(Kitchen.open(filled))
    found = {(one.place.file, one.code) for one in report.problems if one.place is not None}
    for wanted in (
        ("recipes/gigabyte.yaml", "too-big"), ("recipes/ring.yaml", "unreadable"),
        ("recipes/new\\nline.yaml", "file-name"), ("recipes/tab\\there.yaml", "file-name"),
        ("journal/2026/2026-11-16-big-log.yaml", "readings"), ("recipes/utf-16-le.yaml", "not-utf8"),
        ("recipes/nul.yaml", "nul"), ("recipes/bells.yaml", "character"), ("recipes/laughs.yaml", "anchor"),
    ):  # fmt: skip
        assert wanted in found, (wanted, sorted(found))
    printed = [one.printed() for one in report.problems]
    assert max(map(len, printed)) < 2_000
    assert not [one for one in printed if "\x1b" in one or "\u202e" in one.partition("\n")[2]]


def test_a_ring_of_links_and_its_neighbours_are_checked_by_path(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "ring.yaml").symlink_to("ring.yaml")
    (tmp_path / "recipes" / "loin.yaml").write_text(COOK.replace("walnut-paste", "nowhere"), encoding="utf-8")
    report = check(Kitchen.open(tmp_path), [tmp_path / "recipes" / "ring.yaml"])
    assert [one.code for one in report.problems] == ["unreadable"]


def test_the_page_answers_every_address_of_it(filled: Path) -> None:
    from tests.page.visiting import Visitor

    visitor = Visitor(filled)
    recipes = ["loin", "ring", "gigabyte", "bells", "utf-16-le", "folder", "pipe", "new\nline", "right-\u202eleft"]
    asked = [f"/recipe/{quote(name, safe='')}{page}" for name in recipes for page in ("", "/text")]
    cooks = ["2026-11-17-gigabyte", "2026-11-20-laughs", "2026-11-19-nul", "2026-11-16-big-log", "2026-13-45-loin"]
    asked += [f"/cook/{name}{page}" for name in cooks for page in ("", "/after", "/photo/0")]
    for address in ["/", "/?words=loin", *asked]:
        assert visitor.browser.get(address).status_code < 500, address
    assert "larger than 1 MiB" in visitor.see("/recipe/gigabyte", 422)


@pytest.mark.long
def test_the_memory_that_a_check_takes_does_not_grow_with_a_files_size(filled: Path) -> None:
    done = run_within(filled, MOST_MB, "check", "--json")
    assert done.returncode == 1, done.stderr[-2000:]
    assert json.loads(done.stdout)["problems"]


def run_within(root: Path, most_mb: int, *words: str) -> subprocess.CompletedProcess[str]:
    """One command with so much memory at the most."""
    resource = pytest.importorskip("resource", reason="this system sets no limit to a program's memory")

    def little() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (most_mb << 20, most_mb << 20))

    command = [sys.executable, "-m", "cookbook", *words, "--kitchen", str(root)]
    return subprocess.run(command, capture_output=True, text=True, timeout=600, check=False, preexec_fn=little,
                          env={**os.environ, "OPENBLAS_NUM_THREADS": "1"})


@pytest.mark.long
def test_a_hundred_thousand_entries_of_which_most_are_broken(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "walnut-paste.yaml").write_text(PASTE, encoding="utf-8")
    (tmp_path / "recipes" / "loin.yaml").write_text(COOK, encoding="utf-8")
    broken = (b"", b"\0", b"- [", b"date: x\n", ENTRY.encode()[:60], b"\xff")
    for number in range(100_000):
        folder = tmp_path / "journal" / f"{1926 + number // 1000}"
        if number % 1000 == 0:
            folder.mkdir(parents=True)
        text = ENTRY.encode() if number % 10 == 0 else broken[number % len(broken)]
        (folder / f"{folder.name}-11-21-loin-{number}.yaml").write_bytes(text)
    assert main(["list", "--kitchen", str(tmp_path)]) == 0
    assert main(["find", "loin", "--kitchen", str(tmp_path)]) == 0
    assert main(["log", "start", "loin", "--weight", "2kg", "--kitchen", str(tmp_path)]) == 0
    assert main(["log", "note", "dry", "--kitchen", str(tmp_path)]) == 0
    assert main(["check", "--kitchen", str(tmp_path)]) == 1
