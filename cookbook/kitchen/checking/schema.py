"""JSON Schema 2020-12 of every file a kitchen holds, made from the same lists of fields as the typed readers.

The schema is chosen by `kind` before validating, so that messages stay sharp. Amounts, temperatures and the like are
`format`s whose checkers are the typed readers themselves.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, Problem, RequestError
from cookbook.files.record import Scalar, kinds_of, schema
from cookbook.journal.field import entry_record
from cookbook.journal.reading import from_memory
from cookbook.recipe.field import KINDS, recipe_record

if TYPE_CHECKING:
    from cookbook.files import Document, Node

REMEMBERED = "remembered entry"
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(what: str) -> dict[str, Any]:
    """The schema of a recipe kind (`paste`, `rub`, …), of an `entry`, or of a table of `shared/` by file name."""
    definitions: dict[str, Any] = {}
    top = schema(_kind(what), definitions)
    return {"$schema": DIALECT, "title": what, **top, "$defs": definitions}


def _kind(what: str) -> Any:
    if what in KINDS:
        return recipe_record(what)
    if what in ("entry", REMEMBERED):
        return entry_record(remembered=what == REMEMBERED)
    from cookbook.kitchen.shared import TABLES

    return TABLES[what]


@cache
def _validator(what: str) -> Any:
    from jsonschema import Draft202012Validator, FormatChecker

    checker = FormatChecker(formats=())
    for kind in kinds_of(_kind(what)):
        checker.checks(kind.name, raises=RequestError)(_reads(kind))
    return Draft202012Validator(schema_of(what), format_checker=checker)


def _reads(kind: Scalar) -> Any:
    def check(value: object) -> bool:
        kind.read(str(value))
        return True

    return check


def faults(document: Document, what: str) -> list[Problem]:
    """Every fault that the schema finds, at its place in the document."""
    if document.root is None:
        return []
    found = []
    if what == "entry" and from_memory(document.root):
        what = REMEMBERED
    for error in _validator(what).iter_errors(document.root.data()):
        node = _node(document.root, list(error.absolute_path))
        found.append(Problem(ERROR, "schema", error.message, document.place(node)))
    return found


def _node(root: Node, path: list[str | int]) -> Node:
    node = root
    for step in path:
        inner = node.get(step) if isinstance(step, str) else node.items[step]
        if inner is None:
            break
        node = inner
    return node
