"""Typed fields read with their places, and the JSON Schema that editors see of them."""

from __future__ import annotations

import pytest

from cookbook.errors import ERROR, AmountError, RequestError
from cookbook.files import Document, parse
from cookbook.files.record import (
    WORDS,
    Choice,
    Either,
    Field,
    Fields,
    ListOf,
    MapOf,
    Record,
    Scalar,
    fault_at,
    kinds_of,
    read,
    schema,
    text,
)


def whole(words: str) -> int:
    """A count, refused with an offset as amounts are, or without where it is nothing like one."""
    if words.isdigit():
        return int(words)
    if len(words) < 4:
        raise RequestError("no count")
    raise AmountError("not a count", text=words, offset=1, length=2, mend="write digits")


COUNT = Scalar("count", whole, "12", number=True)
PART = Record("part", {"item": Field(WORDS, "what", required=True), "count": Field(COUNT, "how many")})
THING = Record("inner thing", {
    "name": Field(WORDS, "what it is called", required=True),
    "size": Field(Choice(("small", "large")), "how big"),
    "names": Field(MapOf(COUNT, "names"), "one count each"),
    "parts": Field(ListOf(PART, lone=True), "of what"),
    "steps": Field(ListOf(WORDS), "what is done"),
    "either": Field(Either(COUNT, ListOf(COUNT)), "a count or several"),
})  # fmt: skip


def told(words: str) -> tuple[Fields | None, list[tuple[str, str, int, int, int, str]]]:
    """What was read, and of each problem its code, message, line, column, width and mend."""
    document = parse(words.encode(), "f.yaml")
    problems = list(document.problems)
    value = read(document, document.root, THING, problems)
    assert all(one.severity == ERROR for one in problems)
    places = [one.place for one in problems]
    return value, [
        (one.code, one.message, place.line, place.column, place.width, one.mend or "")
        for one, place in zip(problems, places, strict=True) if place is not None
    ]  # fmt: skip


def test_every_kind_is_read_as_its_own_type_and_keeps_its_node() -> None:
    value, problems = told(
        "name:  a b \nsize: large\nnames: {x: 1, y: 2}\nparts:\n  item: c\n  count: 3\nsteps: [d, e]\neither: 7\n"
    )
    assert problems == []
    assert value is not None
    parts = value["parts"]
    assert [dict(one) for one in parts] == [{"item": "c", "count": 3}]
    assert {key: value[key] for key in value if key != "parts"} == {
        "name": "a b", "size": "large", "names": {"x": 1, "y": 2}, "steps": ["d", "e"], "either": 7,
    }  # fmt: skip
    assert (len(value), len(parts[0]), list(parts[0])) == (6, 2, ["item", "count"])
    assert value.nodes["size"].text == "large"
    assert parts[0].node.kind == "map"
    assert value.get("nothing") is None
    several, _ = told("name: a\neither: [7, 8]\nparts: [{item: c}, {item: d}]\n")
    assert several is not None
    assert several["either"] == [7, 8]
    assert [one["item"] for one in several["parts"]] == ["c", "d"]


@pytest.mark.parametrize(("words", "expected"), [
    ("name: a\nsiez: large\n", ("unknown-field", "an inner thing has no field `siez`", 2, 1, 4,
                                "did you mean `size`?")),
    ("name: a\nqqq: large\n", ("unknown-field", "an inner thing has no field `qqq`", 2, 1, 3,
                               "an inner thing knows either, name, names, parts, size, steps")),
    ("size: large\n", ("missing-field", "an inner thing needs `name:` (what it is called)", 1, 1, 1,
                       "add a line `name: some words`")),
    ("- a\n", ("wrong-type", "`file` is a list; expected keys with values: name, size, names, parts …", 1, 1, 1,
               "put its keys on the lines below it, two blanks further in, each with a value")),
    ("name: a\nsteps: once\n", ("wrong-type", "`steps` is 'once'; expected a list, each item behind a dash", 2, 8, 4,
                                "put each item on a line of its own, behind a dash")),
    ("name: a\nsteps: \n", ("wrong-type", "`steps` is empty; expected a list, each item behind a dash", 2, 7, 1,
                            "put each item on a line of its own, behind a dash")),
    ("name: a\nsize: [large]\n", ("wrong-type", "`size` is a list; expected one of small, large", 2, 7, 1,
                                  "write one value behind the colon")),
    ("name: {b: c}\n", ("wrong-type", "`name` is a group of keys; expected a value like `some words`", 1, 7, 1,
                        "write one value behind the colon")),
    ("name: a\nnames: 3\n", ("wrong-type", "`names` is '3'; expected names with a value each", 2, 8, 1,
                             "put its keys on the lines below it, two blanks further in, each with a value")),
    ("name: a\nnames: {x: {}}\n", ("wrong-type", "`names x` is a group of keys; expected a value like `12`", 2, 12, 1,
                                   "write one value behind the colon")),
    ("name: a\neither: no\n", ("request", "no count", 2, 9, 2, "write it like `12`")),
    ("name: a\neither: many\n", ("amount", "not a count", 2, 10, 2, "write digits")),
    ('name: a\neither: "many"\n', ("amount", "not a count", 2, 11, 2, "write digits")),
    ("name: a\nparts: [{count: 1}]\n", ("missing-field", "a part needs `item:` (what)", 2, 9, 1,
                                        "add a line `item: some words`")),
])  # fmt: skip
def test_a_fault_is_placed_named_and_mended(words: str, expected: tuple[str, str, int, int, int, str]) -> None:
    assert told(words)[1] == [expected]


def test_an_item_that_was_refused_leaves_the_others() -> None:
    value, problems = told("name: a\neither: [1, no, 3]\nparts: no\n")
    assert value is not None
    assert value["either"] == [1, 3]
    assert value["parts"] is None
    assert [one[0] for one in problems] == ["request", "wrong-type"]


def test_two_words_that_are_near_are_both_offered() -> None:
    (problem,) = told("name: a\nnams: 1\n")[1]
    assert problem[-1] == "did you mean `names` or `name`?"


def test_a_comma_between_braces_that_tore_a_value_is_named_as_that() -> None:
    (problem,) = told("name: a\nparts: [{item: pork loin, boneless, count: 1}]\n")[1]
    assert problem[1:3] == ("a part has no field `boneless`", 2)
    assert problem[-1] == 'put double quotes around the words that hold the comma: "…, boneless"'


def test_a_fault_elsewhere_in_the_text_points_at_the_whole_value() -> None:
    document: Document = parse(b"a: 12 x\n", "f.yaml")
    assert document.root is not None
    node = document.root.get("a")
    assert node is not None
    found = fault_at(document, node, AmountError("wrong", text="other", offset=2))
    assert found.place is not None
    assert (found.place.column, found.place.width, found.mend) == (4, 4, None)


@pytest.mark.parametrize("words", ["", "  ", "\t"])
def test_blank_words_are_none(words: str) -> None:
    with pytest.raises(RequestError, match="nothing is written here") as refused:
        text(words)
    assert refused.value.mend == "write a value, or remove the key"


def test_the_schema_says_the_same_of_every_kind() -> None:
    definitions: dict[str, object] = {}
    count = {"type": ["string", "number"], "format": "count", "examples": ["12"]}
    words = {"type": "string", "format": "words", "examples": ["some words"]}
    part = {"$ref": "#/$defs/part"}
    assert schema(THING, definitions) == {"$ref": "#/$defs/inner%20thing"}
    assert definitions == {
        "part": {
            "type": "object", "additionalProperties": False, "required": ["item"],
            "properties": {"item": {**words, "description": "what"}, "count": {**count, "description": "how many"}},
        },
        "inner thing": {
            "type": "object", "additionalProperties": False, "required": ["name"],
            "properties": {
                "name": {**words, "description": "what it is called"},
                "size": {"enum": ["small", "large"], "description": "how big"},
                "names": {"type": "object", "additionalProperties": count, "description": "one count each"},
                "parts": {"anyOf": [part, {"type": "array", "items": part}], "description": "of what"},
                "steps": {"type": "array", "items": words, "description": "what is done"},
                "either": {"anyOf": [count, {"type": "array", "items": count}], "description": "a count or several"},
            },
        },
    }  # fmt: skip


def test_a_record_that_holds_its_own_kind_has_a_schema_that_ends() -> None:
    fields: dict[str, Field] = {}
    tree = Record("tree", fields)
    fields["branches"] = Field(ListOf(tree), "what grows on it")
    definitions: dict[str, object] = {}
    schema(tree, definitions)
    assert list(definitions) == ["tree"]


def test_every_scalar_kind_in_it_is_found() -> None:
    assert [kind.name for kind in kinds_of(THING)] == ["words", "count", "words", "count", "words", "count", "count"]
    assert list(kinds_of(Choice(("a",)))) == []
