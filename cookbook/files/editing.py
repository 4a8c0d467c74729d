"""The five edits of a user's file: replace, fill, add a key, add an item, remove; not one other byte changes."""

from __future__ import annotations

from cookbook.errors import ERROR, FileError, Problem, RequestError
from cookbook.files import splices
from cookbook.files.node import LIST, MAP, SCALAR, Document, Node
from cookbook.files.reading import parse
from cookbook.files.sameness import ADDED, DROPPED, TEXT, Change, Matches, follows
from cookbook.files.saving import save
from cookbook.files.splices import Splice, Where
from cookbook.files.written import Inline, Value


class Edit:
    """Edits of one document, each checked at once by reading the result; nothing is written before `save`.

    Nodes may come from the document the edits began with or from `document` as it stands now, so that calls can
    follow each other: `Edit(doc).replace(a, "70 g").add_item(steps, "Rest it.").save()`.
    """

    def __init__(self, document: Document) -> None:
        if document.root is None:
            raise FileError(document.problems)
        self._first = document
        self._stages = [document]
        self._steps: list[Matches] = []

    @property
    def document(self) -> Document:
        """The document as it stands after the edits so far."""
        return self._stages[-1]

    def standing(self, node: Node) -> Node:
        """A node of the document that the edits began with, as it stands after them."""
        return self._here(node)[0]

    def bytes(self) -> bytes:
        """The file with all edits made, byte order mark and line breaks as they were."""
        return self.document.data

    def save(self) -> None:
        """Write the result over the file it was read from; Conflict where that holds other bytes by now."""
        if self._first.path is None:
            raise RequestError(f"{self._first.name} was not read from a file, so it cannot be saved to one")
        save(self._first.path, self.document.data, expected_sha256=self._first.sha256, name=self._first.name)

    def replace(self, node: Node, text: str | Inline) -> Edit:
        """Put `text` in the place of a scalar (value, item or key), quoted where it must be or where it was.

        As `Inline`, a map or list takes the place of a value or item.
        """
        here, where = self._here(node)
        if here.kind != SCALAR:
            raise RequestError(f"a {here.kind} cannot be replaced by a text")
        if isinstance(text, Inline):
            return self._make(splices.put_in(here, text), Change(TEXT, here, value=text), here)
        if here.empty:
            return self.fill(node, text)
        spots = splices.replaced(self.document, here, text, where.flow)
        return self._make(spots, Change(TEXT, here, value=text), here)

    def fill(self, node: Node, text: str) -> Edit:
        """Put `text` where a key or dash has no value yet."""
        here, where = self._here(node)
        if not here.empty:
            raise RequestError(f"line {here.line} of {self.document.name} has a value already; replace it instead")
        return self._make(splices.filled(here, text, where.flow), Change(TEXT, here, value=text), here)

    def add_key(self, node: Node, key: str, value: Value, after: str | None = None, *, flow: bool = False) -> Edit:
        """Add `key: value` to a map (or an empty value) below the key `after`, or as its last.

        `value` is a text or a dict or list of such; with `flow`, or as `Inline`, it takes one line.
        """
        here, where = self._here(node)
        if here.kind != MAP and not here.empty:
            raise RequestError(f"a key cannot be added to a {here.kind}")
        keys = here.keys()
        if key in keys:
            raise RequestError(f"'{key}' stands there already; replace its value instead")
        if after is not None and after not in keys:
            raise RequestError(f"there is no '{after}' to add '{key}' below")
        index = len(keys) if after is None else keys.index(after) + 1
        spots = splices.added(self.document, here, where, index, key, value, flow)
        return self._make(spots, Change(ADDED, here, index, value, key), here)

    def add_item(self, node: Node, value: Value, *, flow: bool = False) -> Edit:
        """Add an item at the end of a list (or to an empty value); `value` and `flow` as for `add_key`."""
        here, where = self._here(node)
        if here.kind != LIST and not here.empty:
            raise RequestError(f"an item cannot be added to a {here.kind}")
        index = len(here.items)
        spots = splices.added(self.document, here, where, index, None, value, flow)
        return self._make(spots, Change(ADDED, here, index, value), here)

    def remove(self, node: Node, member: int | str) -> Edit:
        """Remove item `member` of a list, or key `member` of a map, with the comment on its own lines."""
        here, where = self._here(node)
        index = _member_index(here, member)
        spots = splices.removed(self.document, here, where, index)
        target = here.items[index] if here.kind == LIST else here.pairs[index][0]
        return self._make(spots, Change(DROPPED, here, index), target)

    def _here(self, node: Node) -> tuple[Node, Where]:
        """The node as it stands now and what holds it; RequestError for one of elsewhere, or one that was removed."""
        here: Node | None = node
        known = False
        for step in self._steps:
            known = known or id(node) in step
            if known and here is not None:
                here = step.get(id(here))
        root = self.document.root
        where = _holder(root, here) if here is not None and root is not None else None
        if here is None or where is None:
            raise RequestError(f"this node is not, or no longer, a part of {self.document.name}")
        return here, where

    def _make(self, spots: list[Splice] | None, change: Change, target: Node) -> Edit:
        """Splice, read again, and take the result only where it is the old tree plus the change."""
        before = self.document
        if spots is None or before.root is None:
            raise self._refusal(target)
        text = splices.applied(before.text, spots)
        data = (b"\xef\xbb\xbf" if before.bom else b"") + text.encode("utf-8")
        after = parse(data, before.name, before.path)
        step: Matches = {}
        if after.root is None or not follows(before.root, after.root, change, step):
            raise self._refusal(target)
        self._stages.append(after)
        self._steps.append(step)
        return self

    def _refusal(self, target: Node) -> FileError:
        return FileError([Problem(
            ERROR, "edit", "this place is written in a way that cannot be changed without touching what stands "
            "around it; nothing was written", self.document.place(target), "make this change by hand in an editor")])


def _holder(root: Node, sought: Node) -> Where | None:
    """What holds `sought`; None where it is not below `root`."""
    if root is sought:
        return Where(None, None)
    waiting = [root]
    for node in waiting:
        for key, value in node.pairs:
            if value is sought:
                return Where(node, key)
            if key is sought:
                return Where(node, None)
            if value.kind != SCALAR:
                waiting.append(value)
        for item in node.items:
            if item is sought:
                return Where(node, None)
            if item.kind != SCALAR:
                waiting.append(item)
    return None


def _member_index(here: Node, member: int | str) -> int:
    if here.kind == LIST and isinstance(member, int) and -len(here.items) <= member < len(here.items):
        return member % len(here.items)
    keys = here.keys()
    if here.kind == MAP and isinstance(member, str) and member in keys:
        return keys.index(member)
    raise RequestError(f"this {here.kind} has no member {member!r} to remove")
