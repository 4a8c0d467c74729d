"""A new kitchen: whole or not there."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cookbook.errors import RequestError, StorageError
from cookbook.kitchen.starter import LEFT_OVER, new


@pytest.mark.parametrize("there", [False, True])
def test_a_new_kitchen_that_is_cut_off_leaves_no_half_of_one(
    tmp_path: Path, there: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "mine"
    if there:
        target.mkdir()
    copied: list[Path] = []

    def copy(source: Path, copy: Path) -> None:
        copied.append(copy)
        if len(copied) == 5:
            raise KeyboardInterrupt
        copy.write_bytes(source.read_bytes())

    with monkeypatch.context() as patched:
        patched.setattr(shutil, "copyfile", copy)
        with pytest.raises(KeyboardInterrupt):
            new(target)
    assert list(tmp_path.rglob("*")) == ([target] if there else [])
    new(target)
    assert {one.name for one in target.iterdir()} == {"recipes", "journal", "shared"}


def test_what_a_killed_one_left_in_an_empty_folder_is_built_anew(tmp_path: Path) -> None:
    (tmp_path / LEFT_OVER / "recipes").mkdir(parents=True)
    (tmp_path / LEFT_OVER / "recipes" / "half.yaml").write_text("kind: pa")
    new(tmp_path, example=True)
    assert {one.name for one in tmp_path.iterdir()} == {"recipes", "journal", "shared"}
    assert not (tmp_path / "recipes" / "half.yaml").exists()
    with pytest.raises(RequestError, match="not empty"):
        new(tmp_path)


def test_a_new_kitchen_is_signed_by_nobody(tmp_path: Path) -> None:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.starter import OWN_WORDS

    assert not set(OWN_WORDS) & set(Kitchen.open(new(tmp_path / "mine")).settings)
    assert set(OWN_WORDS) & set(Kitchen.open(new(tmp_path / "theirs", example=True)).settings)


def test_a_kitchen_where_none_can_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(StorageError):
        new(tmp_path / "file" / "mine")
