"""From a file or bytes to a document: size and writing first, then the tree, with all faults in one pass."""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterator
from os import PathLike
from typing import Any

from cookbook.errors import ERROR, FileError, Place, Problem
from cookbook.files.building import Builder
from cookbook.files.node import BREAK, Document, Node

MAX_BYTES = 1 << 20

BOM = b"\xef\xbb\xbf"
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_UNFIT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
_MAX_UNFIT = 20
_MAX_SYNTAX = 20
_DIRECTIVE = r"(?<![^\r\n])%"
_FIELD = r"(?<![^\r\n])[^\s#&*!|>%@`,?\[\]{}'\"-][^\r\n]*?:(?=\s|\Z)"


def read(path: str | PathLike[str], name: str | None = None) -> Document:
    """The document in the file at `path`, shown as `name`.

    FileError where it is missing, no plain file, over 1 MiB or not UTF-8; every other fault is in `problems`.
    """
    shown = name if name is not None else os.fspath(path)
    return parse(read_bytes(path, shown), shown, path)


def read_bytes(path: str | PathLike[str], name: str) -> bytes:
    """What the file at `path` holds, at most one byte over the limit; FileError as for `read`."""
    try:
        return plain_bytes(path, MAX_BYTES)
    except OSError as error:
        reason = error.strerror or str(error)
        raise FileError([Problem(ERROR, "unreadable", f"this file cannot be read: {reason}", Place(name, 1, 1),
                                 "check its name and who may read it")]) from error


def plain_bytes(path: str | PathLike[str], most: int) -> bytes:
    """What a plain file holds, at most one byte over `most`; OSError for all else, without waiting for a pipe."""
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
    descriptor = os.open(path, flags)
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise OSError(errno.EINVAL, "it is no plain file")
    with open(descriptor, "rb") as file:  # noqa: PTH123  # the descriptor is what guards against pipes
        return file.read(most + 1)


def parse(data: bytes, name: str, path: str | PathLike[str] | None = None) -> Document:
    """The document in `data`, shown as `name`; FileError where it is over 1 MiB or not UTF-8."""
    if len(data) > MAX_BYTES:
        raise FileError([Problem(ERROR, "too-big", "this file is larger than 1 MiB", Place(name, 1, 1),
                                 "a recipe or entry is a few kilobytes: check that it is the right file, and keep "
                                 "long probe logs in a CSV file beside the entry")])
    bom = data.startswith(BOM)
    body = data[len(BOM):] if bom else data
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileError([_not_utf8(body, error.start, name)]) from error
    document = Document(name, data, text, bom=bom, path=path)
    _read_tree(document)
    document.problems.sort(key=lambda problem: problem.place[1:3] if problem.place else (0, 0))
    return document


def _not_utf8(body: bytes, at: int, name: str) -> Problem:
    """Names the first bad byte, and what it would be in the usual older encoding."""
    mend = "save the file as UTF-8 (in most editors under 'Save as' or 'Encoding')"
    before = body[:at].decode("utf-8")
    line_start = max((found.end() for found in BREAK.finditer(before)), default=0)
    line = len(BREAK.findall(before)) + 1
    rest = re.split(rb"[\r\n]", body[at:at + 200], maxsplit=1)[0].decode("utf-8", "replace")
    place = Place(name, line, len(before) - line_start + 1, 1, before[line_start:] + rest)
    if body.startswith(_UTF16):
        return Problem(ERROR, "not-utf8", "this file is written as UTF-16, not as UTF-8", place._replace(source=""),
                       mend)
    older = body[at:at + 1].decode("cp1252", "replace")
    meant = f"; in the older Windows-1252 it would be '{older}'" if older.isprintable() and older != "\ufffd" else ""
    return Problem(ERROR, "not-utf8", f"byte 0x{body[at]:02X} is not UTF-8{meant}", place, mend)


def _read_tree(document: Document) -> None:
    text = document.text
    if "\x00" in text:
        count = text.count("\x00")
        document.problems.append(Problem(
            ERROR, "nul", f"this is no text file: {count} NUL byte{'s' if count > 1 else ''}, the first one here",
            document.place_at(text.index("\x00"))._replace(source=""), "write the file again from a text editor"))
        return
    text = _without_directives(document, _without_unfit(document))
    if not text.endswith("\n"):
        text += "\n"
    document.root, found = _build(document, text)
    document.problems += found
    if document.root is None and not document.problems:
        written = "nothing but comments" if text.strip() else "nothing"
        document.problems.append(Problem(ERROR, "empty-file", f"there is {written} in this file",
                                         document.place_at(0), "write at least 'kind:' and 'title:', or remove it"))


def _without_unfit(document: Document) -> str:
    """The text with every unfit character replaced by one that parsers take, and a problem for each."""
    text = document.text
    found = list(_UNFIT.finditer(text))
    for character in found[:_MAX_UNFIT]:
        code = ord(character.group())
        document.problems.append(Problem(
            ERROR, "character", f"an invisible character (U+{code:04X}) stands here", document.place_at(
                character.start()), "delete it; a blank or a new line may be what was meant"))
    return _UNFIT.sub("\ufffd", text) if found else text


def _without_directives(document: Document, text: str) -> str:
    """The text with lines that begin with a percent sign made comments, and a problem for each."""
    found = list(re.finditer(_DIRECTIVE, text)) if "%" in text else []
    for percent in found[:_MAX_UNFIT]:
        document.problems.append(Problem(
            ERROR, "directive", "a line cannot begin with a percent sign", document.place_at(percent.start()),
            "take the line away, put '#' before it, or put double quotes around the text"))
    return re.sub(_DIRECTIVE, "#", text) if found else text


def _build(document: Document, text: str) -> tuple[Node | None, list[Problem]]:
    """The tree and its faults; after a fault of the writing there is no tree, and the next field is tried."""
    builder, error = _attempt(document, text)
    root, problems = builder.root, builder.problems
    for _ in range(_MAX_SYNTAX):
        if error is None:
            break
        root = None
        from cookbook.files.syntax import syntax_problems

        faults, line = syntax_problems(document, error, builder)
        problems += [fault for fault in faults if fault not in problems]
        behind = _next_field(document, line)
        if behind is None:
            break
        text = re.sub(r"[^\r\n]", " ", text[:behind]) + text[behind:]
        builder, error = _attempt(document, text)
        problems += builder.problems
    return root, problems


def _attempt(document: Document, text: str) -> tuple[Builder, Exception | None]:
    """The C parser reads first; where it refuses, the pure parser decides on the same text."""
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    refused = (YAMLError, ValueError, OverflowError, IndexError)
    builder = Builder(document)
    try:
        builder.take(_c_events(text))
        return builder, None
    except (*refused, ImportError):
        builder = Builder(document)
    try:
        builder.take(YAML(typ="safe", pure=True).parse(text))
    except refused as error:
        return builder, error
    return builder, None


def _next_field(document: Document, line: int) -> int | None:
    """Where the first field at the left edge begins below `line`."""
    begin = document.line_offset(line + 1)
    found = re.search(_FIELD, document.text[begin:])
    return begin + found.start() if found else None


def _c_events(text: str) -> Iterator[Any]:
    from _ruamel_yaml import CParser

    parser = CParser(text)
    while parser.check_event():
        yield parser.get_event()
