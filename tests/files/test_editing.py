"""The five edits, by example: what changes in a cook's file, line by line, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from cookbook.errors import FileError, RequestError
from cookbook.files import Edit, Inline, Node, parse

from .handwriting import at

RECIPE = """\
kind: paste
title: Fennel and sage paste
made_for:                      # what this batch coats
  weight: 2.2 kg
  faces: all
ingredients:
  # the sharp one
  - item: garlic
    amount: 60 g      # packed
    prep:             # how fine?
  # green
  - item: sage, fresh
    amount: "30 g"

  # oil
  - {item: olive oil, amount: 80 ml}

# how it is done
steps: []  # none yet
"""


def recipe(text: str = RECIPE) -> tuple[Node, Edit]:
    document = parse(text.encode(), "recipe.yaml")
    assert document.root is not None
    return document.root, Edit(document)


def changed_lines(edit: Edit, before: str = RECIPE) -> list[str]:
    """Lines that came (`+`) and went (`-`), in the order of the file."""
    from difflib import ndiff

    after = edit.bytes().decode()
    return [line.rstrip("\n") for line in ndiff(before.splitlines(True), after.splitlines(True))
            if line[0] in "+-"]


def test_replace_keeps_the_comment_beside_and_the_quotes_that_were_there() -> None:
    root, edit = recipe()
    first, second = at(root, ("ingredients", 0, "amount")), at(root, ("ingredients", 1, "amount"))
    edit.replace(first, "66 g").replace(second, "33 g")
    assert changed_lines(edit) == ["-     amount: 60 g      # packed", "+     amount: 66 g      # packed",
                                   '-     amount: "30 g"', '+     amount: "33 g"']


def test_replace_quotes_what_would_not_read_back() -> None:
    root, edit = recipe()
    edit.replace(at(root, ("title",)), "Paste: green #2")
    edit.replace(at(root, ("ingredients", 2, "amount")), "80 ml, warm")
    assert changed_lines(edit) == [
        "- title: Fennel and sage paste", '+ title: "Paste: green #2"',
        "-   - {item: olive oil, amount: 80 ml}", '+   - {item: olive oil, amount: "80 ml, warm"}']


def test_a_key_can_be_renamed_where_it_stands() -> None:
    text = "uses: {old-paste: 1-9b}  # c\n"
    document = parse(text.encode(), "x")
    assert document.root is not None
    uses = document.root.get("uses")
    assert uses is not None
    edit = Edit(document).replace(uses.pairs[0][0], "new, paste")
    assert edit.bytes() == b'uses: {"new, paste": 1-9b}  # c\n'


def test_fill_puts_one_blank_after_the_colon() -> None:
    root, edit = recipe()
    edit.fill(at(root, ("ingredients", 0, "prep")), "minced")
    assert changed_lines(edit) == ["-     prep:             # how fine?",
                                   "+     prep: minced             # how fine?"]


def test_a_key_goes_below_its_elder_and_above_the_comment_that_follows() -> None:
    root, edit = recipe()
    edit.add_key(root, "revision", "4", after="title").add_key(root, "notes", ["a", "b"], after="ingredients")
    edit.add_key(at(root, ("made_for",)), "ribs", "3").add_key(at(root, ("ingredients", 2)), "prep", "warm, not hot")
    assert edit.bytes().decode() == """\
kind: paste
title: Fennel and sage paste
revision: 4
made_for:                      # what this batch coats
  weight: 2.2 kg
  faces: all
  ribs: 3
ingredients:
  # the sharp one
  - item: garlic
    amount: 60 g      # packed
    prep:             # how fine?
  # green
  - item: sage, fresh
    amount: "30 g"

  # oil
  - {item: olive oil, amount: 80 ml, prep: "warm, not hot"}
notes:
  - a
  - b

# how it is done
steps: []  # none yet
"""


def test_an_item_goes_below_the_last_one_and_an_empty_list_becomes_a_block() -> None:
    root, edit = recipe()
    ingredients, steps = at(root, ("ingredients",)), at(root, ("steps",))
    edit.add_item(ingredients, {"item": "salt", "amount": "1.1 % of meat"})
    edit.add_item(ingredients, {"item": "pepper", "at": "14:05"}, flow=True)
    edit.add_item(steps, "Crush: all of it.").add_item(steps, "Rest.")
    assert changed_lines(edit) == [
        "+   - item: salt", "+     amount: 1.1 % of meat", '+   - {item: pepper, at: "14:05"}',
        "- steps: []  # none yet", "+ steps:  # none yet", '+   - "Crush: all of it."', "+   - Rest."]


def test_an_item_in_brackets_goes_before_the_bracket() -> None:
    text = "a: [x, y]  # c\nb: [x, y, ]\nc: [\n  x,  # one\n  y   # two\n]\nd: {e: [ ]}\nf: {g: }\n"
    root, edit = recipe(text)
    for key in "abc":
        edit.add_item(at(root, (key,)), "z, z")
    edit.add_item(at(root, ("d", "e")), "1").add_key(at(root, ("f",)), "h", "i")
    assert edit.bytes().decode() == (
        'a: [x, y, "z, z"]  # c\nb: [x, y, "z, z", ]\nc: [\n  x,  # one\n  y, "z, z"   # two\n]\n'
        "d: {e: [1 ]}\nf: {g: , h: i }\n")


def test_what_is_filled_in_between_brackets_is_quoted_where_a_comma_would_part_it() -> None:
    root, edit = recipe("f: {g: , h: i}\nk:\n")
    edit.fill(at(root, ("f", "g")), "z, z").fill(at(root, ("k",)), "z, z")
    assert edit.bytes().decode() == 'f: {g: "z, z" , h: i}\nk: z, z\n'


def test_members_begin_below_a_key_without_a_value() -> None:
    root, edit = recipe("events:   # times\nsheet:\n# end\n")
    edit.add_item(at(root, ("events",)), Inline({"at": "14:05"})).add_key(at(root, ("sheet",)), "garlic", "81 g")
    assert edit.bytes().decode() == 'events:   # times\n  - {at: "14:05"}\nsheet:\n  garlic: 81 g\n# end\n'


def test_remove_takes_the_comment_on_its_lines_and_never_the_one_above() -> None:
    root, edit = recipe()
    edit.remove(at(root, ("ingredients",)), 0)
    assert changed_lines(edit) == ["-   - item: garlic", "-     amount: 60 g      # packed",
                                   "-     prep:             # how fine?"]


def test_removing_every_item_leaves_an_empty_list() -> None:
    root, edit = recipe("steps:  # c\n  # above\n  - a\n  - b  # own\nx: [1, 2]\n")
    steps, numbers = at(root, ("steps",)), at(root, ("x",))
    edit.remove(steps, 0).remove(steps, 0).remove(numbers, -1).remove(numbers, 0)
    assert edit.bytes().decode() == "steps: []  # c\n  # above\nx: []\n"


def test_remove_from_brackets_over_several_lines_takes_whole_lines() -> None:
    text = "a: [\n  x,  # one\n  # about y\n  y,  # two\n  z\n]\n"
    root, edit = recipe(text)
    edit.remove(at(root, ("a",)), 1)
    assert edit.bytes().decode() == "a: [\n  x,  # one\n  # about y\n  z\n]\n"
    edit.remove(at(root, ("a",)), 1)
    assert edit.bytes().decode() == "a: [\n  x,  # one\n  # about y\n]\n"


def test_the_first_item_on_the_line_of_an_outer_dash_leaves_that_dash() -> None:
    root, edit = recipe("a:\n  - - x  # one\n    - y\n  -\n  - - z\n")
    a = at(root, ("a",))
    edit.remove(a.items[0], 0).add_key(a.items[1], "k", "v").remove(a.items[2], 0)
    assert edit.bytes().decode() == "a:\n  - - y\n  - {k: v}\n  - []\n"


def test_a_file_without_a_last_line_break_gets_none_by_removing() -> None:
    for newline in ("\n", "\r\n"):
        text = newline.join(["a:", "  - x", "", "  - y"])
        root, edit = recipe(text)
        edit.remove(at(root, ("a",)), 1)
        assert edit.bytes().decode() == newline.join(["a:", "  - x"])


def test_remove_in_brackets_leaves_a_comment_that_stands_on_a_line_of_its_own() -> None:
    root, edit = recipe("a: [x,  # one\n  # about y\n  y]\nb: [x, y, z]\n")
    edit.remove(at(root, ("a",)), 0).remove(at(root, ("b",)), 0)
    assert edit.bytes().decode() == "a: [\n  # about y\n  y]\nb: [y, z]\n"


def test_the_only_item_takes_the_comma_behind_it_along() -> None:
    root, edit = recipe("a: [x, ]\nb: [ y ,]\n")
    edit.remove(at(root, ("a",)), 0).remove(at(root, ("b",)), 0)
    assert edit.bytes().decode() == "a: [ ]\nb: [ ]\n"


def test_a_text_block_without_a_last_line_break_can_be_followed() -> None:
    root, edit = recipe("a: |\n  x")
    edit.add_key(root, "b", "1")
    assert edit.bytes().decode() == "a: |\n  x\nb: 1"


def test_a_key_can_be_taken_back() -> None:
    root, edit = recipe()
    edit.remove(root, "title").remove(at(root, ("ingredients", 2)), "item")
    assert changed_lines(edit) == ["- title: Fennel and sage paste", "-   - {item: olive oil, amount: 80 ml}",
                                   "+   - {amount: 80 ml}"]


def test_a_text_block_stays_one_where_the_new_text_ends_alike() -> None:
    root, edit = recipe("notes: |  # mine\n    one\n    two\n\n# c\nb: >-\n  folded\n  text\nc: |-\n  x\n")
    for key, new in (("notes", "three\nfour\n"), ("b", "flat"), ("c", "y")):
        edit.replace(at(root, (key,)), new)
    assert edit.bytes().decode() == "notes: |  # mine\n    three\n    four\n\n# c\nb: \"flat\"\nc: |-\n  y\n"


def test_what_a_text_block_keeps_at_its_end_stays_its_own() -> None:
    text = "a: |+\n  one\n\n\nb: |\n  two\n    \n\nc: |+\n  three\n\n"
    root, edit = recipe(text)
    edit.add_key(root, "x", "1", after="a").add_key(root, "y", "2", after="b").add_key(root, "z", "3")
    assert edit.bytes().decode() == (
        "a: |+\n  one\n\n\nx: 1\nb: |\n  two\n    \n\ny: 2\nc: |+\n  three\n\nz: 3\n")


def test_windows_line_breaks_the_mark_and_a_missing_last_break_stay() -> None:
    document = parse(b"\xef\xbb\xbfa: 1\r\nb:\r\n  - x", "x")
    assert document.root is not None
    edit = Edit(document).add_item(at(document.root, ("b",)), {"c": "1", "d": "2"}).add_key(document.root, "e", "3")
    assert edit.bytes() == b"\xef\xbb\xbfa: 1\r\nb:\r\n  - x\r\n  - c: 1\r\n    d: 2\r\ne: 3"


def test_a_file_of_faults_that_leave_its_tree_whole_can_still_be_added_to() -> None:
    root, edit = recipe("a: 1\na: 2\nevents:\n  - x\n")
    edit.add_item(at(root, ("events",)), "y")
    assert edit.bytes().decode() == "a: 1\na: 2\nevents:\n  - x\n  - y\n"


def test_a_place_that_cannot_be_changed_alone_is_refused_with_its_place() -> None:
    text = "a:\n  - - x\n    # about y\n    - y\n"
    root, edit = recipe(text)
    with pytest.raises(FileError) as caught:
        edit.remove(at(root, ("a", 0)), 0)
    assert caught.value.code == "edit"
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (2, 7)
    assert edit.bytes().decode() == text


def test_an_explicit_key_is_left_to_its_owner() -> None:
    root, edit = recipe("? a\n: 1\n")
    with pytest.raises(FileError):
        edit.add_key(root, "b", "2")
    assert edit.bytes() == b"? a\n: 1\n"
    root, edit = recipe("a: 1\n? d\n: 2\n")
    with pytest.raises(FileError):
        edit.remove(root, "d")
    assert edit.bytes() == b"a: 1\n? d\n: 2\n"


def test_a_file_that_would_grow_over_the_limit_is_left_alone() -> None:
    root, edit = recipe()
    with pytest.raises(FileError) as caught:
        edit.add_key(root, "notes", "x" * (1 << 20))
    assert caught.value.code == "too-big"
    assert edit.bytes().decode() == RECIPE


def test_a_file_without_a_tree_cannot_be_edited() -> None:
    with pytest.raises(FileError) as caught:
        Edit(parse(b"a: [1\n", "x"))
    assert caught.value.code == "open-bracket"


@pytest.mark.parametrize("call", [
    lambda root, edit: edit.replace(root, "x"),
    lambda root, edit: edit.fill(root.get("title"), "x"),
    lambda root, edit: edit.add_key(root.get("ingredients"), "x", "y"),
    lambda root, edit: edit.add_item(root, "x"),
    lambda root, edit: edit.add_item(root.get("title"), "x"),
    lambda root, edit: edit.add_key(root, "title", "y"),
    lambda root, edit: edit.add_key(root, "x", "y", after="nothing"),
    lambda root, edit: edit.remove(root.get("ingredients"), 3),
    lambda root, edit: edit.remove(root.get("ingredients"), "item"),
    lambda root, edit: edit.remove(root, "nothing"),
    lambda root, edit: edit.remove(root.get("title"), 0),
    lambda _root, edit: edit.replace(recipe()[0].get("title"), "x"),
    lambda root, edit: edit.remove(root, "title").replace(root.get("title"), "x"),
    lambda root, edit: edit.replace(root.get("title"), "a\x00b"),
    lambda _root, edit: edit.save(),
])
def test_a_bad_call_is_refused_and_changes_nothing(call: Any) -> None:
    root, edit = recipe()
    with pytest.raises(RequestError):
        call(root, edit)
    assert edit.bytes().decode() in (RECIPE, RECIPE.replace("title: Fennel and sage paste\n", ""))
