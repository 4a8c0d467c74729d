"""What may stand in a file, said once: the fields of a record, read with places and turned into JSON Schema.

A room that owns a file format lists its fields with these kinds. `read` walks the nodes of a document against the
list and reports every fault it meets; `schema` makes the JSON Schema 2020-12 that editors and `check` use.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import ERROR, AmountError, Problem, RequestError

if TYPE_CHECKING:
    from cookbook.files.node import Document, Node


class Scalar(NamedTuple):
    """One value written as text; `read` types it and raises RequestError when it can't; `like` is an example.

    `name` is its JSON Schema format; `number` says that editors may write it as a bare number.
    """

    name: str
    read: Callable[[str], Any]
    like: str
    number: bool = False


class Choice(NamedTuple):
    """One word of a closed list."""

    words: tuple[str, ...]


class ListOf(NamedTuple):
    """A list, every item of one kind; a lone item may stand without its dash where `lone` is set."""

    item: Any
    lone: bool = False


class MapOf(NamedTuple):
    """Free keys (names the cook chose), every value of one kind; `what` says what the keys are."""

    value: Any
    what: str


class Either(NamedTuple):
    """A scalar kind, or another kind where a list or a mapping is written."""

    scalar: Any
    nested: Any


class Field(NamedTuple):
    """One key of a record: its kind, whether it must be there, and what it is for."""

    kind: Any
    about: str
    required: bool = False


class Record(NamedTuple):
    """A mapping with a closed list of keys."""

    name: str
    fields: Mapping[str, Field]

    @property
    def named(self) -> str:
        """The record's name with its article."""
        return f"{'an' if self.name[:1] in 'aeio' else 'a'} {self.name}"


class Fields(Mapping[str, Any]):
    """A record as read: typed values by key (absent keys read as None with `get`), and the node of each."""

    __slots__ = ("_values", "node", "nodes")

    def __init__(self, node: Node, values: dict[str, Any], nodes: dict[str, Node]) -> None:
        self.node = node
        self._values = values
        self.nodes = nodes

    def __getitem__(self, key: str) -> Any:
        return self._values[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)


def text(words: str) -> str:
    """The reader of plain words: trimmed, not empty."""
    words = words.strip()
    if not words:
        raise RequestError("nothing is written here", mend="write a value, or remove the key")
    return words


WORDS = Scalar("words", text, "some words")


def top(document: Document, expected: str, problems: list[Problem]) -> Node | None:
    """The root of a file of keys; None where the file is empty, or holds anything else, which is a problem."""
    root = document.root
    if root is None or root.kind == "map":
        return root
    problems.append(Problem(ERROR, "wrong-type", expected, document.place(root)._replace(width=1)))
    return None


def read(document: Document, node: Node | None, kind: Any, problems: list[Problem], what: str = "file") -> Any:
    """The typed value of `node` by `kind`, or None with problems added."""
    if node is None:
        return None
    if isinstance(kind, Either):
        return read(document, node, kind.scalar if node.kind == "scalar" else kind.nested, problems, what)
    if isinstance(kind, Record):
        return _record(document, node, kind, problems, what)
    if isinstance(kind, MapOf):
        if not _is(document, node, "map", f"{kind.what} with a value each", problems, what):
            return None
        return {
            key.text: read(document, value, kind.value, problems, f"{what} {key.text}") for key, value in node.pairs
        }
    if isinstance(kind, ListOf):
        return _list(document, node, kind, problems, what)
    if not _is(document, node, "scalar", _expected(kind), problems, what):
        return None
    return _scalar(document, node, kind, problems, what)


def _record(document: Document, node: Node, kind: Record, problems: list[Problem], what: str) -> Fields | None:
    if not _is(document, node, "map", f"keys with values: {', '.join(list(kind.fields)[:4])} …", problems, what):
        return None
    values: dict[str, Any] = {}
    nodes: dict[str, Node] = {}
    for key, value in node.pairs:
        field = kind.fields.get(key.text)
        if field is None:
            problems.append(unknown_key(document, key, kind, node.flow and value.empty))
            continue
        nodes[key.text] = value
        values[key.text] = read(document, value, field.kind, problems, key.text)
    for name, field in kind.fields.items():
        if field.required and name not in nodes:
            problems.append(
                Problem(
                    ERROR,
                    "missing-field",
                    f"{kind.named} needs `{name}:` ({field.about})",
                    document.place(node)._replace(width=1),
                    f"add a line `{name}: {_example(field.kind)}`",
                )
            )
    return Fields(node, values, nodes)


def unknown_key(document: Document, key: Node, kind: Record, torn: bool = False) -> Problem:
    """The problem of a key that a record doesn't know, with the nearest ones that it does.

    `torn`: a comma between braces may have made a key of what belongs to the value before it.
    """
    from difflib import get_close_matches

    near = get_close_matches(key.text, list(kind.fields), n=2, cutoff=0.6)
    mend = (
        "did you mean " + " or ".join(f"`{word}`" for word in near) + "?"
        if near
        else f"{kind.named} knows " + ", ".join(sorted(kind.fields))
    )
    if torn:
        mend = f'put double quotes around the words that hold the comma: "…, {key.text}"'
    return Problem(ERROR, "unknown-field", f"{kind.named} has no field `{key.text}`", document.place(key), mend)


def _list(document: Document, node: Node, kind: ListOf, problems: list[Problem], what: str) -> list[Any] | None:
    if kind.lone and node.kind != "list":
        value = read(document, node, kind.item, problems, what)
        return None if value is None else [value]
    if not _is(document, node, "list", "a list, each item behind a dash", problems, what):
        return None
    values = [read(document, item, kind.item, problems, what) for item in node.items]
    return [value for value in values if value is not None]


def _scalar(document: Document, node: Node, kind: Scalar | Choice, problems: list[Problem], what: str) -> Any:
    if isinstance(kind, Choice):
        if node.text.strip() in kind.words:
            return node.text.strip()
        from difflib import get_close_matches

        near = get_close_matches(node.text, kind.words, n=1, cutoff=0.5)
        problems.append(
            Problem(
                ERROR,
                "unknown-word",
                f"`{what}` is '{node.text}'; it can be {' or '.join(kind.words)}",
                document.place(node),
                f"did you mean '{near[0]}'?" if near else None,
            )
        )
        return None
    try:
        return kind.read(node.text)
    except RequestError as fault:
        problems.append(fault_at(document, node, fault, kind.like))
        return None


def fault_at(document: Document, node: Node, fault: RequestError, like: str | None = None) -> Problem:
    """The problem of a scalar that its reader refused, pointing into the value where the reader says where."""
    place = document.place(node)
    if isinstance(fault, AmountError) and document.text[node.start : node.end].strip("\"'") == fault.text:
        quoted = 0 if node.plain else 1
        place = place._replace(column=place.column + quoted + fault.offset, width=fault.length)
    mend = fault.mend or (f"write it like `{like}`" if like else None)
    return Problem(ERROR, fault.code, fault.message, place, mend)


_MENDS = {
    "map": "put its keys on the lines below it, two blanks further in, each with a value",
    "list": "put each item on a line of its own, behind a dash",
    "scalar": "write one value behind the colon",
}


def _is(document: Document, node: Node, kind: str, expected: str, problems: list[Problem], what: str) -> bool:
    if node.kind == kind:
        return True
    found = {
        "map": "a group of keys",
        "list": "a list",
        "scalar": f"'{node.text}'" if node.text else "empty",
    }[node.kind]
    place = document.place(node)
    place = place._replace(width=max(1, len(node.text))) if node.kind == "scalar" else place._replace(width=1)
    problems.append(Problem(ERROR, "wrong-type", f"`{what}` is {found}; expected {expected}", place, _MENDS[kind]))
    return False


def _expected(kind: Any) -> str:
    if isinstance(kind, Choice):
        return "one of " + ", ".join(kind.words)
    return f"a value like `{kind.like}`"


def _example(kind: Any) -> str:
    if isinstance(kind, Choice):
        return kind.words[0]
    if isinstance(kind, Scalar):
        return kind.like
    if isinstance(kind, Either):
        return _example(kind.scalar)
    return "…"


def schema(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    """`kind` as JSON Schema 2020-12; records go into `definitions` and are referred to."""
    if isinstance(kind, Record):
        if kind.name not in definitions:
            definitions[kind.name] = {}
            definitions[kind.name] = {
                "type": "object",
                "additionalProperties": False,
                "required": [name for name, field in kind.fields.items() if field.required],
                "properties": {
                    name: {**schema(field.kind, definitions), "description": field.about}
                    for name, field in kind.fields.items()
                },
            }
        return {"$ref": f"#/$defs/{kind.name.replace(' ', '%20')}"}
    if isinstance(kind, MapOf):
        return {"type": "object", "additionalProperties": schema(kind.value, definitions)}
    if isinstance(kind, ListOf):
        listed = {"type": "array", "items": schema(kind.item, definitions)}
        return {"anyOf": [schema(kind.item, definitions), listed]} if kind.lone else listed
    if isinstance(kind, Either):
        return {"anyOf": [schema(kind.scalar, definitions), schema(kind.nested, definitions)]}
    if isinstance(kind, Choice):
        return {"enum": list(kind.words)}
    types = ["string", "number"] if kind.number else "string"
    return {"type": types, "format": kind.name, "examples": [kind.like]}


def kinds_of(kind: Any) -> Iterator[Scalar]:
    """Every scalar kind that stands somewhere in `kind`."""
    if isinstance(kind, Scalar):
        yield kind
    elif isinstance(kind, Record):
        for field in kind.fields.values():
            yield from kinds_of(field.kind)
    elif isinstance(kind, ListOf):
        yield from kinds_of(kind.item)
    elif isinstance(kind, MapOf):
        yield from kinds_of(kind.value)
    elif isinstance(kind, Either):
        yield from kinds_of(kind.scalar)
        yield from kinds_of(kind.nested)
