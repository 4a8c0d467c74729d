"""The whole kitchen as one file: everything that belongs to it, nothing that a link brings in."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.packing import pack, packed_name


def test_every_file_comes_back_byte_for_byte(make_kitchen: Callable[..., Kitchen], tmp_path: Path) -> None:
    root = make_kitchen().root
    (root / "journal/2026").mkdir(parents=True, exist_ok=True)
    (root / "journal/2026/a.jpg").write_bytes(b"\xff\xd8\xff" + bytes(2000))
    (root / "journal/.half").write_text("half")
    (root / "elsewhere.txt").write_text("no part of it")
    secret = tmp_path / "secret"
    secret.mkdir()
    (secret / "key.yaml").write_text("not yours")
    (root / "recipes/linked.yaml").symlink_to(secret / "key.yaml")
    (root / "recipes/folder").symlink_to(secret)
    file = io.BytesIO()
    pack(root, file)
    back = tmp_path / "back"
    with zipfile.ZipFile(file) as packed:
        assert packed.testzip() is None
        packed.extractall(back)
    there = {path.relative_to(root): path.read_bytes() for path in root.rglob("*") if path.is_file()}
    came = {path.relative_to(back / root.name): path.read_bytes() for path in back.rglob("*") if path.is_file()}
    left = {"recipes/linked.yaml", "recipes/folder/key.yaml", "journal/.half", "elsewhere.txt"}
    assert came == {path: data for path, data in there.items() if path.as_posix() not in left}
    assert Kitchen.open(back / root.name).recipe_names() == [
        name for name in Kitchen.open(root).recipe_names() if name != "linked"
    ]


def test_a_kitchen_too_large_is_refused_before_it_fills_a_disk(make_kitchen: Callable[..., Kitchen]) -> None:
    with pytest.raises(RequestError, match="holds more than"):
        pack(make_kitchen().root, io.BytesIO(), most_bytes=10)


def test_a_linked_part_is_no_part(make_kitchen: Callable[..., Kitchen], tmp_path: Path) -> None:
    root = make_kitchen().root
    (root / "recipes").rename(tmp_path / "away")
    (root / "recipes").symlink_to(tmp_path / "away")
    file = io.BytesIO()
    pack(root, file)
    with zipfile.ZipFile(file) as packed:
        assert not [name for name in packed.namelist() if "/recipes/" in name]


def test_its_name_is_one_that_every_disk_takes() -> None:
    assert packed_name(Path("/a/my kitchen"), "2026-11-28") == "my-kitchen-2026-11-28.zip"
    assert packed_name(Path("/"), "2026-11-28") == "kitchen-2026-11-28.zip"
