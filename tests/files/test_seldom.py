"""What happens seldom to a file: systems without locks, disks that refuse, texts that no parser knows."""

from __future__ import annotations

import errno
import hashlib
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.errors import ERROR, Conflict, FileError, Problem, RequestError, StorageError
from cookbook.files import (
    Edit,
    Inline,
    create,
    hand_out,
    lock,
    parse,
    plain_bytes,
    read_bytes,
    record,
    save,
    saving,
    short,
    stale_temp_files,
    sweep,
    syntax,
)
from cookbook.files.record import WORDS, Choice, Either, Field, ListOf, MapOf, Record
from tests.files.child import NOBODY, in_child

LONG = "events:\n" + "".join(f"  - {{at: {n}}}\n" for n in range(200))


def test_a_node_is_printed_with_its_place_and_what_it_holds() -> None:
    root = parse(b"a: [1, {b: x}]\n", "f.yaml").root
    assert repr(root) == "<map at 1:1 {'a': ['1', {'b': 'x'}]}>"


def test_a_documents_hash_is_that_of_its_bytes_however_often_it_is_asked() -> None:
    document = parse(b"\xef\xbb\xbfa: 1\r\n", "f.yaml")
    assert [document.sha256, document.sha256] == [hashlib.sha256(b"\xef\xbb\xbfa: 1\r\n").hexdigest()] * 2


def test_a_place_inside_a_value_goes_to_its_end_unless_its_length_is_said() -> None:
    document = parse(b"a: twelve\n", "f.yaml")
    assert document.root is not None
    node = document.root.get("a")
    assert node is not None
    inside, said = document.place(node, 2), document.place(node, 2, 3)
    assert (inside.line, inside.column, inside.width) == (1, 6, 4)
    assert (said.column, said.width) == (6, 3)


def test_what_is_no_plain_file_is_named_with_the_systems_own_number(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="no plain file") as refused:
        plain_bytes(tmp_path, 100)
    assert refused.value.errno == errno.EINVAL
    with pytest.raises(FileError) as unread:
        read_bytes(tmp_path, "f.yaml")
    (problem,) = unread.value.problems
    assert problem.place is not None
    assert (problem.place.line, problem.place.column) == (1, 1)


def test_a_list_is_not_replaced_by_a_text() -> None:
    document = parse(b"a: [1]\n", "f.yaml")
    assert document.root is not None
    node = document.root.get("a")
    assert node is not None
    with pytest.raises(RequestError, match="a list cannot be replaced by a text"):
        Edit(document).replace(node, "b")


@pytest.mark.parametrize(("before", "after"), [
    ("a: b  # why\n", 'a: {line: x, done: "2026-11-21"}  # why\n'),
    ('a: "b"\n', 'a: {line: x, done: "2026-11-21"}\n'),
    ("a: |\n  b\n", None), ("a: >\n  b\n", None), ("a:\n", None),
])  # fmt: skip
def test_a_group_on_one_line_takes_the_place_of_a_value_on_one_line(before: str, after: str | None) -> None:
    document = parse(before.encode(), "f.yaml")
    assert document.root is not None
    node = document.root.get("a")
    assert node is not None
    edit, group = Edit(document), Inline({"line": "x", "done": "2026-11-21"})
    if after is None:
        with pytest.raises(FileError, match="cannot be changed without touching"):
            edit.replace(node, group)
        assert edit.bytes().decode() == before
    else:
        assert edit.replace(node, group).bytes().decode() == after


def test_an_empty_value_that_is_replaced_is_filled() -> None:
    document = parse(b"a:\n", "f.yaml")
    assert document.root is not None
    node = document.root.get("a")
    assert node is not None
    assert Edit(document).replace(node, "b").bytes() == b"a: b\n"


def test_a_file_with_more_faults_of_writing_than_anyone_mends_at_once_names_the_first_twenty() -> None:
    problems = parse(b"a: ]\n" * 60, "f.yaml").problems
    lines = {one.place.line for one in problems if one.place is not None}
    assert len(lines) >= 20
    assert max(lines) < 60


def test_a_fault_that_has_no_words_yet_is_told_in_the_parsers_own() -> None:
    document = parse(b"a: b\n", "f.yaml")
    problem = syntax._by_words(document, 0, 0, "found something new")
    assert problem.code == "syntax"
    assert "found something new" in problem.message
    assert "double quotes" in str(problem.mend)


# typed fields


def read(text: str, kind: object) -> tuple[object, list[str]]:
    document = parse(text.encode(), "f.yaml")
    problems = list(document.problems)
    value = record.read(document, document.root, kind, problems)
    return value, [one.message for one in problems]


KIND = Record("thing", {
    "name": Field(WORDS, "what it is called", required=True),
    "size": Field(Choice(("small", "large")), "how big"),
    "many": Field(MapOf(WORDS, "names"), "one word each"),
    "parts": Field(ListOf(WORDS), "of what"),
    "either": Field(Either(WORDS, ListOf(WORDS)), "a word or several"),
})  # fmt: skip


@pytest.mark.parametrize(("text", "said"), [
    ('name: ""\n', "nothing is written here"), ("name: x\nsize: tiny\n", "it can be small or large"),
    ("name: x\nsize: [small]\n", "one of small, large"), ("name: x\nmany: word\n", "names with a value each"),
    ("name: [x]\n", "a value like `some words`"), ("size: small\n", "needs `name:`"),
])  # fmt: skip
def test_a_field_of_another_kind_is_named_with_what_was_expected(text: str, said: str) -> None:
    _, problems = read(text, KIND)
    assert any(said in one for one in problems), problems


def test_a_missing_field_is_shown_with_an_example_of_its_kind() -> None:
    kinds = {"word": WORDS, "choice": Choice(("small", "large")), "either": Either(WORDS, ListOf(WORDS)),
             "list": ListOf(WORDS)}  # fmt: skip
    needs = Record("thing", {name: Field(kind, name, required=True) for name, kind in kinds.items()})
    document = parse(b"{}\n", "f.yaml")
    problems: list[Problem] = []
    record.read(document, document.root, needs, problems)
    assert [one.mend for one in problems] == [
        "add a line `word: some words`", "add a line `choice: small`", "add a line `either: some words`",
        "add a line `list: …`",
    ]


def test_without_a_value_there_is_none() -> None:
    assert read("", WORDS)[0] is None


# saving


def test_without_locks_on_files_the_kitchens_own_holds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "fcntl", None)
    path = tmp_path / "a.yaml"
    create(path, b"a: 1\n")
    save(path, b"a: 2\n")
    assert path.read_bytes() == b"a: 2\n"


def test_a_file_that_was_replaced_while_we_waited_is_locked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\n")
    answers = iter([False, True])
    monkeypatch.setattr(saving, "_leads_to", lambda *_: next(answers))
    save(path, b"a: 2\n")
    assert path.read_bytes() == b"a: 2\n"
    assert next(answers, "used up") == "used up"


def test_a_lock_on_a_file_that_is_gone_holds(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"")
    with path.open("rb") as file:
        assert saving._leads_to(str(path), file.fileno())
        path.unlink()
        assert saving._leads_to(str(path), file.fileno())


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_device_that_takes_nothing_is_named() -> None:
    with pytest.raises(StorageError, match="/dev/full"):
        hand_out("/dev/full", b"x" * 100_000)


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    heard = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    hand_out(pipe, b"a card")
    assert os.read(heard, 100) == b"a card"
    os.close(heard)
    assert pipe.is_fifo()


def test_what_is_handed_out_anew_is_a_file(tmp_path: Path) -> None:
    hand_out(tmp_path / "card.txt", b"a card")
    assert (tmp_path / "card.txt").read_bytes() == b"a card"
    with pytest.raises(StorageError):
        hand_out(tmp_path, b"a card")


def test_nothing_is_swept_where_there_is_no_folder(tmp_path: Path) -> None:
    assert sweep(tmp_path / "nowhere") == []
    assert stale_temp_files(tmp_path / "nowhere") == []


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can become nobody")
def test_a_read_only_file_is_refused_and_its_lock_may_only_be_read(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    for above in list(tmp_path.parents)[:3]:
        above.chmod(0o755)
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\n")
    path.chmod(0o444)
    with lock(tmp_path):
        pass

    def work(say: Callable[[str], None]) -> None:
        os.setgid(NOBODY)
        os.setuid(NOBODY)
        with lock(tmp_path):
            say("locked")
        try:
            save(path, b"a: 2\n")
        except StorageError as fault:
            say(fault.message)

    said = in_child(work).said.splitlines()
    assert said[0] == "locked"
    assert "the file is read-only" in said[1]
    assert path.read_bytes() == b"a: 1\n"


def test_a_file_that_may_only_be_read_is_not_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\n")
    monkeypatch.setattr(os, "access", lambda *_, **__: False)
    with pytest.raises(StorageError, match="the file is read-only"):
        save(path, b"a: 2\n")
    assert path.read_bytes() == b"a: 1\n"


def test_the_lock_files_rights_are_enough_to_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened = os.open
    asked = []

    def refusing(path: str, flags: int, mode: int = 0o777) -> int:
        asked.append(flags & os.O_RDWR)
        if flags & os.O_RDWR:
            raise PermissionError(errno.EACCES, "Permission denied", path)
        return opened(path, flags, mode)

    with lock(tmp_path):
        pass
    with monkeypatch.context() as rights:
        rights.setattr(os, "open", refusing)
        with lock(tmp_path):
            assert asked == [os.O_RDWR, 0]


def test_a_temp_file_of_another_users_process_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert saving._runs(os.getpid())
    assert not saving._runs(2 ** 40)

    def others(*_: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "kill", others)
    assert saving._runs(1)
    assert not saving._is_old(str(tmp_path / "gone"))
    old = tmp_path / "old"
    old.write_bytes(b"")
    os.utime(old, (time.time() - 1e6, time.time() - 1e6))
    assert saving._is_old(str(old))


def test_owner_and_group_stay_where_the_system_lets_us(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\n")
    path.chmod(0o640)
    given: list[tuple[int, int]] = []

    def change(_: int, user: int, group: int) -> None:
        given.append((user, group))
        raise PermissionError(errno.EPERM, "Operation not permitted")

    before = os.stat_result([0o100640, 0, 0, 1, 4242, 4343, 0, 0, 0, 0])
    monkeypatch.setattr(os, "fchown", change)
    with path.open("rb") as file:
        saving._keep_mode(str(path), file.fileno(), before)
    assert given == [(4242, 4343)]
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_file_that_is_there_is_a_conflict_to_a_writer_that_saw_none(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    with pytest.raises(Conflict):
        save(path, b"a: 2\n", expected_sha256="0" * 64)
    assert not path.exists()


# short texts


@pytest.mark.parametrize("data", [
    b"a" * ((1 << 20) + 1), LONG.encode() + b"\xff", b"date: x\n", LONG.encode() + b"b: [\n",
    LONG.encode() + b"a: 1\na: 2\n",
])  # fmt: skip
def test_what_cannot_be_shortened_is_read_whole(data: bytes) -> None:
    assert short(data, "f.yaml") is None


def test_what_is_shortened_is_put_together_again() -> None:
    part = short(LONG.encode(), "f.yaml")
    assert part is not None
    assert len(part.document.text) < len(LONG)
    assert part.whole(Edit(part.document)) == LONG.encode()


def test_an_item_that_moves_up_beside_another_dash_leaves_the_edit_to_the_whole_file() -> None:
    part = short(("- - first\n" + "".join(f"  - {{at: {n}}}\n" for n in range(200))).encode(), "f.yaml")
    assert part is not None
    root = part.document.root
    assert root is not None
    edit = Edit(part.document).remove(root.items[0], 0)
    assert edit.bytes().startswith(b"- - {at: ")
    assert part.whole(edit) is None


def test_a_dropped_problem_is_an_error() -> None:
    with pytest.raises(FileError) as refused:
        parse(b"\xff", "f.yaml")
    assert [one.severity for one in refused.value.problems] == [ERROR]
