"""A kitchen whose files are none that a cook would write: problems, and never a crash or a wait without end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

from cookbook.errors import FileError, StorageError
from cookbook.files import hand_out
from cookbook.kitchen import store
from cookbook.kitchen.checking import check
from tests.conftest import COOK, PASTE

pipes = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with a name")

ENTRY = 'date: "2026-11-21"\ntitle: A loin\nreadings: log.csv\n'


def run(root: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command line in its own process, stopped where it waits."""
    command = [sys.executable, "-m", "cookbook", *words, "--kitchen", str(root)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


@pipes
def test_a_pipe_among_the_files_is_a_problem_and_keeps_nobody_waiting(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "journal" / "2026").mkdir(parents=True)
    (tmp_path / "recipes" / "walnut-paste.yaml").write_text(PASTE)
    os.mkfifo(tmp_path / "recipes" / "pipe.yaml")
    os.mkfifo(tmp_path / "journal" / "2026" / "2026-11-22-pipe.yaml")
    (tmp_path / "journal" / "2026" / "2026-11-21-a-loin.yaml").write_text(ENTRY)
    os.mkfifo(tmp_path / "journal" / "2026" / "log.csv")
    checked = run(tmp_path, "check", "--json")
    assert checked.returncode == 1
    said = [one["message"] for one in json.loads(checked.stdout)["problems"]]
    assert "log.csv could not be read: it is no plain file" in said
    assert "recipes/pipe.yaml is not read: it is no plain file" in said
    assert "journal/2026/2026-11-22-pipe.yaml is not read: it is no plain file" in said
    listed = run(tmp_path, "list", "--json")
    assert [one["name"] for one in json.loads(listed.stdout)["recipes"]] == ["walnut-paste"]
    assert run(tmp_path, "log", "note", "dry").returncode == 0


def test_what_is_called_like_a_file_of_the_kitchen_and_is_not_read_is_named(tmp_path: Path) -> None:
    from cookbook.kitchen import Kitchen

    for folder in ("recipes/rubs", "recipes/plum.yaml", "journal", "shared"):
        (tmp_path / folder).mkdir(parents=True)
    (tmp_path / "recipes" / "rubs" / "walnut-paste.yaml").write_text(PASTE)
    (tmp_path / "recipes" / "walnut-paste.yaml").write_text(PASTE)
    (tmp_path / "recipes" / "lost.yaml").symlink_to("nowhere.yaml")
    (tmp_path / "recipes" / ".lock.yaml").symlink_to("an-editor-has-it-open")
    (tmp_path / "recipes" / "._walnut-paste.yaml").write_bytes(b"\x00\x05\x16\x07 a system's own")
    (tmp_path / "shared" / "kitchen.yml").write_text("measures: us\n")
    kitchen = Kitchen.open(tmp_path)
    named = {one.message: one.mend for one in check(kitchen).problems if one.severity != "note"}
    assert named == {
        "recipes/plum.yaml is not read: it is a folder": "take it away, or put a file in its place",
        "recipes/lost.yaml is not read: it is a link that leads nowhere": "take it away, or put a file in its place",
        "shared/kitchen.yml is not read: its name ends in .yml, and only .yaml is read": "call it kitchen.yaml",
        "recipes/rubs/walnut-paste.yaml is not read: recipes lie right in recipes/, not in a folder inside it":
            "move it up",
    }
    assert kitchen.recipe_names() == ["walnut-paste"]


def test_a_ring_of_links_is_a_problem_of_that_file_alone(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "walnut-paste.yaml").write_text(PASTE)
    (tmp_path / "recipes" / "loin.yaml").write_text(COOK)
    (tmp_path / "recipes" / "ring.yaml").symlink_to("ring.yaml")
    from cookbook.kitchen import Kitchen

    kitchen = Kitchen.open(tmp_path)
    assert [one.place and one.place.file for one in check(kitchen).problems if one.code == "unreadable"] == [
        "recipes/ring.yaml"
    ]
    assert kitchen.recipe("loin").uses == ("walnut-paste",)
    assert run(tmp_path, "show", "loin").returncode == 0


def test_an_answer_that_cannot_be_written_is_an_error_in_json_too(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    (tmp_path / "recipes" / "walnut-paste.yaml").write_text(PASTE)
    (tmp_path / "journal").symlink_to("journal")
    found = run(tmp_path, "list", "--json")
    assert found.returncode == 2
    assert json.loads(found.stdout)["error"]["code"] == "storage"


def test_a_version_that_was_altered_is_kept_again_and_what_lay_there_is_named_by_check(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    text = PASTE.encode()
    version = f"1-5f0c1e9a77b2.{sha256(text).hexdigest()[:8]}"
    path = store.put(tmp_path, "walnut-paste", version, text)
    path.write_bytes(b"something else")
    kept = store.Stored("walnut-paste", version, path)
    with pytest.raises(FileError):
        store.read(kept, "it")
    store.put(tmp_path, "walnut-paste", version, text)
    assert store.read(kept, "it") == text
    aside = store.strangers(tmp_path)
    assert [one.read_bytes() for one in aside] == [b"something else"]


def test_a_file_for_outside_is_whole_or_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = tmp_path / "page.html"
    page.write_bytes(b"the old page")

    def full(*_: object) -> int:
        raise OSError(28, os.strerror(28))

    with monkeypatch.context() as patched:
        patched.setattr(os, "write", full)
        with pytest.raises(StorageError):
            hand_out(page, b"the new page")
    assert page.read_bytes() == b"the old page"
    assert [one.name for one in tmp_path.iterdir()] == ["page.html"]
    hand_out(page, b"the new page")
    assert page.read_bytes() == b"the new page"


@pytest.mark.skipif(not Path("/dev/stdout").exists(), reason="this system has no such device")
def test_a_device_is_written_to() -> None:
    command = [sys.executable, "-c", "from cookbook.files import hand_out; hand_out('/dev/stdout', b'a page')"]
    found = subprocess.run(command, capture_output=True, timeout=60, check=True)
    assert found.stdout == b"a page"
