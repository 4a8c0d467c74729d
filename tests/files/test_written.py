"""Writing values: plain where plain reads back the same, quotes where not, and whole new files."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from cookbook.errors import RequestError
from cookbook.files import Inline, Node, Value, parse, plain_yaml, quote, reading

from .handwriting import BLOCK_TEXTS, FEW, WORDS

CHARACTERS = st.characters(exclude_categories=["Cs"], exclude_characters="\x00")
TEXTS = st.text(CHARACTERS) | st.sampled_from(
    WORDS + BLOCK_TEXTS) | st.text("a -:#?,[]{}&*!|>'\"%@`~=<.\n\t\r\\\x07\u0085\u2028\ufeff")
KEYS = st.text(CHARACTERS, max_size=20)


def both(text: str) -> list[Node]:
    """What the C parser and, on the same text, the pure one make of it."""
    found = []
    with pytest.MonkeyPatch.context() as patch:
        for stop in (False, True):
            if stop:
                patch.setattr(reading, "_c_events", _missing)
            document = parse(text.encode(), "written.yaml")
            assert document.problems == [], text
            assert document.root is not None
            found.append(document.root)
    return found


def _missing(text: str) -> None:
    raise ImportError(text)


@given(TEXTS)
@example("- a")
@example("a:")
@example("---")
@example("<<")
def test_a_quoted_text_reads_back_the_same_wherever_it_stands(text: str) -> None:
    for frame in ("{}\n", "a: {}\n", "- {}\n", "a:\n  - {} # c\n"):
        for root in both(frame.replace("{}", quote(text))):
            assert _leaf(root) == text
    for frame in ("[@]\n", "a: {x: @}\n", "- {x: @, y: z}\n", "[[@, a]]\n"):
        for root in both(frame.replace("@", quote(text, flow=True))):
            assert _leaf(root) == text


def _leaf(node: Node) -> str:
    while node.kind != "scalar":
        node = node.items[0] if node.items else node.pairs[0][1]
    assert not node.empty
    return node.text


@pytest.mark.parametrize("text", [
    "garlic", "60 g", "1 1/2 cup", "½ cup", "3-4 tbsp", "1.2 % of meat", "130 °C", "sage, fresh", "no", "1.10",
    "true", "14:05", "it's", "rib#2", "-5 °C", "the pork (big)", "salt & pepper", "https://example.org/a?b=c",
])
def test_kitchen_words_stay_without_quotes(text: str) -> None:
    assert quote(text) == text


@pytest.mark.parametrize(("text", "written"), [
    ("", '""'), ("a: b", '"a: b"'), ("a #b", '"a #b"'), ("a:", '"a:"'), ("*star*", '"*star*"'), ("- a", '"- a"'),
    (" a", '" a"'), ("a ", '"a "'), ('"a"', '"\\"a\\""'), ("a\nb", '"a\\nb"'), ("~", '"~"'), ("null", '"null"'),
    ("\u2028", '"\\u2028"'), ("<<", '"<<"'), ("---", '"---"'), ("2026-11-21", '"2026-11-21"'),
    ("back\\slash #2", '"back\\\\slash #2"'),
])
def test_what_plain_text_would_change_is_quoted(text: str, written: str) -> None:
    assert quote(text) == written


@pytest.mark.parametrize("text", ["sage, fresh", "14:05", "a#b", "a]b", "a{b", "https://example.org"])
def test_inside_brackets_commas_brackets_colons_and_number_signs_ask_for_quotes(text: str) -> None:
    assert quote(text) == text
    assert quote(text, flow=True) == f'"{text}"'


@pytest.mark.parametrize("text", ["a\x00b", "a\ud800b"])
def test_what_no_text_file_can_keep_is_refused(text: str) -> None:
    with pytest.raises(RequestError):
        quote(text)


VALUES: st.SearchStrategy[Value] = st.recursive(
    TEXTS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3)
    | st.builds(Inline, st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3)), max_leaves=8)


def bare(value: object) -> object:
    if isinstance(value, Inline):
        return bare(value.value)
    if isinstance(value, dict):
        return {key: bare(held) for key, held in value.items()}
    return [bare(held) for held in value] if isinstance(value, list) else value


@FEW
@given(VALUES)
def test_a_new_file_says_what_was_asked_for(value: Value) -> None:
    text = plain_yaml(value)
    assert text.endswith("\n")
    for root in both(text):
        assert root.data() == bare(value)


@FEW
@given(VALUES)
def test_another_reader_of_plain_text_reads_a_new_file_alike(value: Value) -> None:
    assert YAML(typ="base", pure=True).load(plain_yaml(value)) == bare(value)


def test_a_new_entry_looks_as_a_person_would_write_it() -> None:
    entry: dict[str, Value] = {
        "recipe": "pork-loin", "date": "2026-11-21", "piece": {"weight": "3.1 kg", "start": "6 °C"},
        "sheet": {"paste": Inline({"garlic": "81 g", "sage, fresh": "41 g"})},
        "events": [Inline({"at": "2026-11-21T11:05:00+01:00", "did": "on"}), {"at": "x", "note": "two\nlines\n"}],
        "next_time": [], "notes": "one\nand another",
    }
    assert plain_yaml(entry) == """\
recipe: pork-loin
date: "2026-11-21"
piece:
  weight: 3.1 kg
  start: 6 °C
sheet:
  paste: {garlic: 81 g, "sage, fresh": 41 g}
events:
  - {at: "2026-11-21T11:05:00+01:00", did: on}
  - at: x
    note: |
      two
      lines
next_time: []
notes: |-
  one
  and another
"""


