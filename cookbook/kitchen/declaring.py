"""What a kitchen says of itself in `shared/kitchen.yaml`, written word by word; all else in it stays as it is."""

from __future__ import annotations

from collections.abc import Mapping

from cookbook.errors import ERROR, RequestError
from cookbook.files import Edit, Node, create, lock, parse, plain_yaml, save
from cookbook.files import read as read_file
from cookbook.files.record import read
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.settings import KITCHEN

WORDS = ("name", "author", "licence", "address", "units", "temperature", "measures", "thermometer")
"""What can be said in one word or line; lists are for an editor."""


def declared(kitchen: Kitchen) -> dict[str, str]:
    """What stands there of `WORDS`, as it was written; FileError where the file is no YAML."""
    path = kitchen.root / "shared" / "kitchen.yaml"
    return _known(read_file(path, kitchen.shown(path)).root) if path.is_file() else {}


def _known(root: Node | None) -> dict[str, str]:
    return {word: node.text for word in WORDS if root is not None and (node := root.get(word)) is not None}


def declare(kitchen: Kitchen, said: Mapping[str, str]) -> list[str]:
    """Write what was said of `WORDS`, take away what is empty; the words that changed come back.

    Raises RequestError, with nothing written, for what cannot be read, FileError where the file is no YAML.
    """
    path = kitchen.root / "shared" / "kitchen.yaml"
    with lock(kitchen.root):
        document = read_file(path, kitchen.shown(path)) if path.is_file() else parse(b"{}\n", kitchen.shown(path))
        root = document.root
        known = _known(root)
        changed = [word for word in WORDS if word in said and said[word] != known.get(word, "")]
        if not changed:
            return []
        if root is None or not path.is_file():
            data = document.data if path.is_file() else b""
            data += plain_yaml({word: said[word] for word in changed}).encode()
        else:
            data = _edited(Edit(document), said, changed)
        again = parse(data, kitchen.shown(path))
        problems = list(again.problems)
        read(again, again.root, KITCHEN, problems, path.name)
        wrong = [problem for problem in problems if problem.severity == ERROR]
        if wrong:
            raise RequestError(wrong[0].message, mend=wrong[0].mend)
        if path.is_file():
            save(path, data, expected_sha256=document.sha256, name=kitchen.shown(path))
        else:
            path.parent.mkdir(exist_ok=True)
            create(path, data, name=kitchen.shown(path))
    return changed


def _edited(edit: Edit, said: Mapping[str, str], changed: list[str]) -> bytes:
    for word in changed:
        root = edit.document.root
        if root is None:
            raise RequestError("nothing would be left of shared/kitchen.yaml", mend="leave one word of it")
        node = root.get(word)
        if node is None:
            edit = edit.add_key(root, word, said[word])
        elif said[word]:
            edit = edit.fill(node, said[word]) if node.empty else edit.replace(node, said[word])
        else:
            edit = edit.remove(root, word)
    return edit.bytes()
