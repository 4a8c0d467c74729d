"""Reading: what a document means, where each part stands, and every fault of a bad file with its place and mend."""

from __future__ import annotations

import os
import random
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, reject
from hypothesis import strategies as st
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from cookbook.errors import FileError, Problem
from cookbook.files import MAX_BYTES, Document, Node, parse, read, reading

from .handwriting import FEW, Page, pages


def codes(text: str | bytes) -> list[tuple[str, int, int]]:
    """Code, line and column of every problem; a FileError's problems count too."""
    data = text.encode() if isinstance(text, str) else text
    try:
        found = parse(data, "page.yaml").problems
    except FileError as error:
        found = error.problems
    assert {one.severity for one in found} <= {"error"}
    return [(p.code, p.place.line, p.place.column) for p in found if p.place]


def one_problem(text: str | bytes) -> Problem:
    data = text.encode() if isinstance(text, str) else text
    try:
        (problem,) = parse(data, "page.yaml").problems
    except FileError as error:
        (problem,) = error.problems
    return problem


def nodes(root: Node) -> list[Node]:
    found = [root]
    for node in found:
        found.extend(node.children())
    return found


def spans(document: Document) -> list[tuple[Any, ...]]:
    assert document.root is not None
    return [(n.kind, n.text, n.style, n.line, n.column, n.start, n.end, n.flow) for n in nodes(document.root)]


@FEW
@given(pages())
def test_every_handwriting_is_read_as_what_it_means(page: Page) -> None:
    document = parse(page.data, "page.yaml")
    assert document.problems == []
    assert document.root is not None
    assert document.root.data() == page.tree


@FEW
@given(pages())
def test_the_tree_is_the_one_another_reader_of_plain_text_builds(page: Page) -> None:
    root = parse(page.data, "page.yaml").root
    text = page.text if page.text.endswith("\n") else page.text + "\n"
    theirs = YAML(typ="base", pure=True).load(text.replace("\r\n", "\n"))
    assert root is not None
    assert root.data() == theirs


@FEW
@given(pages())
def test_both_parsers_place_every_node_alike(page: Page) -> None:
    first = parse(page.data, "page.yaml")
    patch = pytest.MonkeyPatch()

    def missing(text: str) -> None:
        raise ImportError(text)

    with patch.context() as patched:
        patched.setattr(reading, "_c_events", missing)
        second = parse(page.data, "page.yaml")
    assert spans(first) == spans(second)


@FEW
@given(pages())
def test_a_nodes_span_holds_its_own_writing(page: Page) -> None:
    document = parse(page.data, "page.yaml")
    assert document.root is not None
    for node in nodes(document.root):
        written = document.text[node.start:node.end]
        place = document.place(node)
        assert (place.line, place.column) == (node.line, node.column)
        if node.plain:
            assert written == node.text
        elif node.kind == "scalar":
            assert written[0] == node.style
        elif node.flow:
            assert written[0] + written[-1] in ("{}", "[]")


LEAF = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(
    st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters="\ufeff\ufffe\uffff"))


@FEW
@given(st.dictionaries(st.text("abcdefgh é", min_size=1), st.recursive(
    LEAF, lambda inner: st.lists(inner) | st.dictionaries(st.text("abc"), inner), max_leaves=12), min_size=1))
def test_texts_written_by_another_program_come_back_and_nothing_is_guessed(value: dict[str, Any]) -> None:
    from io import StringIO

    out = StringIO()
    writer = YAML(typ="safe", pure=True)
    writer.dump(value, out)
    root = parse(out.getvalue().encode(), "dump.yaml").root
    try:
        typed = YAML(typ="safe", pure=True).load(out.getvalue())
    except YAMLError:
        reject()  # that program cannot read back its own `{a: ?0}`
    assert root is not None
    assert _same(root, typed)


def _same(node: Node, typed: object) -> bool:
    if isinstance(typed, dict):
        return node.keys() == [k if isinstance(k, str) else str(k) for k in typed] and all(
            _same(held, typed[key]) for key, (_, held) in zip(typed, node.pairs, strict=True))
    if isinstance(typed, list):
        return len(node.items) == len(typed) and all(map(_same, node.items, typed))
    if isinstance(typed, str):
        return node.text == typed
    return node.plain and YAML(typ="safe").load(f"x: {node.text}")["x"] == typed


def test_words_that_other_readers_take_for_numbers_or_dates_stay_text() -> None:
    root = parse(b"a: no\nb: 1.10\nc: 1:30\nd: 2026-02-30\ne: 010\nf: 1_000\ng: ~\n", "x").root
    assert root is not None
    assert root.data() == {"a": "no", "b": "1.10", "c": "1:30", "d": "2026-02-30", "e": "010", "f": "1_000", "g": "~"}


def test_what_follows_a_number_sign_stays_a_comment() -> None:
    root = parse(b"amount: 1 cup # packed\nnote: rib#2\n", "x").root
    assert root is not None
    assert root.data() == {"amount": "1 cup", "note": "rib#2"}


def test_a_time_in_braces_is_valid_though_the_c_parser_refuses_it() -> None:
    root = parse(b"events:\n  - {at: 14:05, pit: 128}\n  - [0:00, 1:30]\n", "x").root
    assert root is not None
    assert root.data() == {"events": [{"at": "14:05", "pit": "128"}, ["0:00", "1:30"]]}


def test_a_byte_order_mark_moves_no_column() -> None:
    document = parse(b"\xef\xbb\xbfkind: paste\n", "x")
    assert document.bom
    assert document.root is not None
    kind = document.root.get("kind")
    assert kind is not None
    assert (kind.line, kind.column, document.text[kind.start:kind.end]) == (1, 7, "paste")


def test_a_place_can_point_into_a_value() -> None:
    document = parse(b"a: 1\namount: '2 cupz'\nb: \"x\\ty\"\n", "x.yaml")
    assert document.root is not None
    amount, escaped = document.root.get("amount"), document.root.get("b")
    assert amount is not None
    assert escaped is not None
    assert document.place(amount, 2, 4)[1:4] == (2, 12, 4)
    assert document.place(escaped, 2, 1)[1:4] == (3, 4, 6)
    assert document.place(amount).source == "amount: '2 cupz'"


def test_a_key_twice_names_both_lines() -> None:
    problem = one_problem("a: 1\nb: 2\n\na: 3\n")
    assert (problem.code, problem.place and problem.place.line) == ("duplicate-key", 4)
    assert "line 1" in problem.message
    assert "line 4" in problem.message


@pytest.mark.parametrize(("text", "expected"), [
    ("", [("empty-file", 1, 1)]),
    ("# only words\n", [("empty-file", 1, 1)]),
    ("a: 1\na: 2\nb: {c: 1, c: 2}\n", [("duplicate-key", 2, 1), ("duplicate-key", 3, 11)]),
    ("a: &x 1\nb: *x\n", [("anchor", 1, 4), ("alias", 2, 4)]),
    ("note: *important*\n", [("alias", 1, 7)]),
    ("a: !cup 1\nb: !!str 2\n", [("tag", 1, 4), ("tag", 2, 4)]),
    ("<<: {a: 1}\n", [("merge-key", 1, 1)]),
    ("a: 1\n---\nb: 2\n", [("second-document", 2, 1)]),
    ("a: .inf\nb: -.Inf\nc: .nan\nd: nan\n", [("non-finite", 1, 4), ("non-finite", 2, 4), ("non-finite", 3, 4)]),
    ("a: " + "[" * 41 + "]" * 41 + "\n", [("too-deep", 1, 43)]),
    ("a:\n\tb: 1\n\tc: 2\nd:\n  - x\n\t- y\n", [("tab", 2, 1), ("tab", 3, 1), ("tab", 6, 1)]),
    ("a: b\n\tc\n", [("tab", 2, 1)]),
    ("a: x\x07y\nb: x\u2028y\nc: \ufeffz\n", [("character", 1, 5), ("character", 2, 5), ("character", 3, 4)]),
    ("a: x\x00\x00y\n", [("nul", 1, 5)]),
    ('a: "\\ud800"\nb: "\\0"\n', [("escape", 1, 4), ("escape", 2, 4)]),
    ('a: "\\U99999999"\n', [("escape", 1, 5)]),
    ('a: "\\q"\n', [("escape", 1, 6)]),
    ("title: Paste: the best\n", [("colon", 1, 13)]),
    ("kind: paste\namount 60 g\nb: 1\n", [("colon", 2, 1)]),
    ("kind: paste\namount:60 g\nb: 1\n", [("colon", 2, 1)]),
    ("x: {a: 1, b:}\n", [("colon", 1, 11)]),
    ("- item: garlic\n   amount: 60 g\n", [("indentation", 2, 4)]),
    ("- item: garlic\n amount: 60 g\n", [("indentation", 2, 2)]),
    ("a:\n  b: 1\n c: 2\n", [("indentation", 3, 2)]),
    ('a: "x\nb: 1\n', [("open-quote", 1, 4)]),
    ('title: "Fennel\nkind: paste\nnotes: "x"\n', [("open-quote", 1, 8)]),
    ("a: 'it's'\n", [("quotes", 1, 8)]),
    ('a: "x" y\n', [("quotes", 1, 8)]),
    ("a: 'x'\n 'y'\n", [("indentation", 2, 2)]),
    ("a: [x, y\nb: 1\n", [("open-bracket", 1, 4)]),
    ("a: {x: 1\nb: 2\n", [("open-bracket", 1, 4)]),
    ("a: {x: 1,\n", [("open-bracket", 1, 4)]),
    ("a: [1, 2]]\n", [("bracket", 1, 10)]),
    ("a: ]x\n", [("bracket", 1, 4)]),
    ("a: @x\nb: 1\nc: `x`\nd: %x\n", [("sign", 1, 4), ("sign", 3, 4), ("sign", 4, 4)]),
    ("a: ? x\n", [("sign", 1, 4)]),
    ("a: [?x]\nb: {?c: d}\n", [("sign", 1, 5), ("sign", 2, 5)]),
    ("a: 1\r%YAML 1.3\r---\r\tb: 1\r", [("directive", 2, 1), ("second-document", 3, 1)]),
    ("a:\r\tb: 1\r\tc: [\r", [("tab", 2, 1), ("tab", 3, 1)]),
    ("%YAML 1.3\n---\na: {b: 1:2}\n", [("directive", 1, 1)]),
    ("a: 1\n\t\nb: 2\n", [("tab", 2, 1)]),
    ("a: & x\n", [("anchor", 1, 5)]),
    ("a: * x\n", [("alias", 1, 5)]),
    ("a: 1\n- b\n", [("dash", 2, 1)]),
    ("a: - b\n", [("dash", 1, 4)]),
    ("%x\na: 1\n", [("directive", 1, 1)]),
    ("a: b\n... x\n", [("document-end", 2, 5)]),
    ("a: |x\n  y\n", [("text-block", 1, 5)]),
    ("? [x]\n: y\n", [("key-not-text", 1, 3)]),
    ("a: 60\u00b0C".encode("latin-1"), [("not-utf8", 1, 6)]),
    ("a: 1\r\nb: é".encode() + b"\xff", [("not-utf8", 2, 5)]),
    ("a: 1".encode("utf-16"), [("not-utf8", 1, 1)]),
    (b"a" * (MAX_BYTES + 1), [("too-big", 1, 1)]),
])
def test_a_bad_file_is_told_by_place_and_kind(text: str | bytes, expected: list[tuple[str, int, int]]) -> None:
    assert codes(text) == expected


def test_all_faults_of_the_writing_are_found_in_one_reading() -> None:
    text = 'kind: "paste\ntitle: x: y\nmade_for: [a\nsteps: 1\nsteps: 2\nnotes: *x\n'
    assert codes(text) == [("open-quote", 1, 7), ("colon", 2, 9), ("open-bracket", 3, 11), ("duplicate-key", 5, 1),
                           ("alias", 6, 8)]


def test_every_problem_says_its_mend_and_shows_its_line() -> None:
    problem = one_problem("kind: paste\ntitle: Paste: the best\n")
    assert problem.printed() == (
        "page.yaml:2:13: error: a second colon followed by a blank stands in this value\n"
        "    2 | title: Paste: the best\n"
        "      |             ^\n"
        '  mend: put double quotes around the whole value: key: "text: more text"')


def test_text_after_the_closing_quote_is_told_where_the_quotes_belong() -> None:
    assert one_problem('a: "x" y\n').mend == "put the quotes around the whole value"


def test_a_line_that_no_screen_holds_is_not_shown() -> None:
    problem = one_problem("a: [" + "x, " * 10_000 + "*y]\n")
    assert problem.place is not None
    assert (problem.place.column, problem.place.source) == (30_005, "")


def test_an_older_encoding_is_named_by_the_character_it_meant() -> None:
    assert "'°'" in one_problem("pit: 130 °C".encode("cp1252")).message


def test_thousands_of_names_for_values_are_refused_before_anything_is_built() -> None:
    bomb = "a0: &a0 [x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 300))
    found = codes(bomb)
    assert len(found) == 101
    assert found[-1][0] == "too-many"


def test_a_deep_file_is_refused_at_once_and_forty_levels_are_read() -> None:
    deep = parse(("[" * 40 + "]" * 40).encode(), "x")
    assert deep.problems == []
    assert codes("[" * 100_000) == [("too-deep", 1, 41)]


def test_two_faults_far_apart_do_not_hide_each_other_behind_a_tab() -> None:
    text = "a: |\n  words\n  \twords: more\nb: c: d\n"
    assert codes(text) == [("colon", 4, 5)]


@given(st.text(st.sampled_from("ab:-#[]{}&*!|>'\"%@`,?\\ \t\n\r<~.01é\u2028\ufeff\x00")))
@example("\ufeff")
@example('"\\')
@example("- ? :")
def test_no_text_makes_the_reader_stumble(text: str) -> None:
    document = parse(text.encode(), "any")
    assert document.root is not None or document.problems
    for problem in document.problems:
        assert problem.place is not None
        assert problem.mend
        assert 1 <= problem.place.line <= text.count("\n") + text.count("\r") + 1
        assert problem.printed().startswith(f"any:{problem.place.line}:{problem.place.column}: error: ")


@given(st.binary(max_size=60))
def test_no_bytes_make_the_reader_stumble(data: bytes) -> None:
    assert codes(data) or parse(data, "any").root is not None


@pytest.mark.long
def test_no_damaged_page_makes_the_reader_stumble() -> None:
    page = Path(__file__).with_name("handwriting.py").read_bytes()[:3000]
    dice = random.Random(7)
    for _ in range(3000):
        cut = bytearray(page[:dice.randrange(1, len(page))])
        for _ in range(dice.randrange(4)):
            cut[dice.randrange(len(cut))] = dice.choice(b"\t:-\"'[]{}\n #\xff&*")
        assert codes(bytes(cut)) or parse(bytes(cut), "any").root is not None


def test_a_file_is_read_with_its_shown_name(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_bytes(b"kind: paste\n")
    document = read(file, "recipes/a.yaml")
    assert (document.name, document.path, document.data) == ("recipes/a.yaml", file, b"kind: paste\n")
    assert document.sha256 == sha256(b"kind: paste\n").hexdigest()


@pytest.mark.parametrize("make", ["missing", "folder", "pipe", "big"])
def test_what_is_no_readable_text_file_is_refused(tmp_path: Path, make: str) -> None:
    file = tmp_path / "x.yaml"
    if make == "folder":
        file.mkdir()
    elif make == "pipe":
        os.mkfifo(file)
    elif make == "big":
        file.write_bytes(b"a: " + b"x" * MAX_BYTES)
    with pytest.raises(FileError) as caught:
        read(file, "x.yaml")
    assert caught.value.code == ("too-big" if make == "big" else "unreadable")
    assert caught.value.place is not None
    assert caught.value.place.file == "x.yaml"
