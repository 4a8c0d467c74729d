"""A parser's complaint in a cook's words: what stands there, what is expected, the likely mend."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from cookbook.errors import ERROR, Problem
from cookbook.files.node import Document

_QUOTES = 'put double quotes around the whole value: key: "text: more text"'


class _Wording(NamedTuple):
    """`sign` as the parser says it; `at_context` puts the place where the construct began, not where it broke."""

    sign: str
    code: str
    message: str
    mend: str
    at_context: bool = False


_WORDINGS = (
    _Wording("while scanning a quoted scalar", "open-quote", "this quote is never closed",
             "put the same quote at the end of the text", at_context=True),
    _Wording("hexdecimal", "escape", "a backslash in double quotes stands before a number that is not complete",
             "write two backslashes for one, or use single quotes"),
    _Wording("unknown escape", "escape", "a backslash in double quotes must be followed by a known letter",
             "write two backslashes for one, or use single quotes"),
    _Wording("while parsing a flow sequence", "open-bracket",
             "this list is not closed, or a comma is missing in it, before the place where it stops making sense",
             "put ']' at its end, a comma between items, and double quotes around items that hold , [ ] { } : or #",
             at_context=True),
    _Wording("while parsing a flow mapping", "open-brace",
             "these braces are not closed, or a comma is missing in them",
             "put '}' at the end, a comma between fields, and double quotes around texts that hold , [ ] { } : or #",
             at_context=True),
    _Wording("while parsing a block collection", "indentation",
             "this line belongs neither to the list above it nor to anything around it",
             "line it up with the dashes of the list, or under the fields it belongs to"),
    _Wording("while scanning a block scalar", "text-block", "the sign | or > must stand alone at the end of its line",
             "begin the text on the next line, or put double quotes around it"),
    _Wording("more indented follow up", "text-block", "the first line of this text block is blank but indented more",
             "indent every line of the block alike"),
    _Wording("sequence entries are not allowed", "dash", "a dash begins a list item, and none can stand here",
             "begin the list on the next line, or put double quotes around the text"),
    _Wording("while scanning an alias", "alias", "a value cannot begin with a star",
             "put double quotes around the text"),
    _Wording("while scanning an anchor", "anchor", "a value cannot begin with '&'",
             "put double quotes around the text"),
    _Wording("tag", "tag", "a value cannot begin with an exclamation mark", "put double quotes around the text"),
    _Wording("directive", "directive", "a line cannot begin with a percent sign",
             "put double quotes around the text"),
)

_FIELD = re.compile(r"(?:- +)*[^\s#:][^:]*:(?= |$)")
_TIGHT = re.compile(r"(?:- +)*([^\s:#]+):(?=\S)")
_TAB = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)


def syntax_problems(document: Document, error: Exception) -> list[Problem]:
    """What is wrong where both parsers gave up with `error`: every tab indentation, else the one fault they met."""
    text = document.text
    tabs = [
        Problem(ERROR, "tab", "a tab indents this line; the depth of a line is told by blanks alone",
                document.place_at(text.index("\t", found.start())), "put two blanks in place of each tab")
        for found in _TAB.finditer(text)
    ]
    return tabs or [_one_problem(document, error)]


def _one_problem(document: Document, error: Exception) -> Problem:
    mark: Any = getattr(error, "problem_mark", None)
    context: Any = getattr(error, "context_mark", None)
    said = f"{getattr(error, 'context', None) or ''}: {getattr(error, 'problem', None) or error}"
    at = _offset(document, mark or context)
    if "mapping values are not allowed" in said:
        return _colon_problem(document, at)
    if "could not find expected ':'" in said:
        return _no_colon_problem(document, _offset(document, context or mark))
    if "while parsing a block mapping" in said:
        return _block_problem(document, at, said)
    if "cannot start any token" in said:
        sign = document.text[at:at + 1]
        shown = "a tab" if sign == "\t" else f"'{sign}'"
        return Problem(ERROR, "sign", f"a value cannot begin with {shown}", document.place_at(at),
                       "put one blank there" if sign == "\t" else "put double quotes around the text")
    for wording in _WORDINGS:
        if wording.sign in said:
            place = document.place_at(_offset(document, context or mark) if wording.at_context else at)
            return Problem(ERROR, wording.code, wording.message, place, wording.mend)
    return Problem(ERROR, "syntax", f"this cannot be read ({said.strip(': ')})", document.place_at(at),
                   "compare with the lines around it; put double quotes around texts with unusual signs")


def _offset(document: Document, mark: Any) -> int:
    """Where the mark points; the last character where it points behind the end."""
    index = mark.index if mark is not None else 0
    return max(0, min(index, len(document.text.rstrip()) - 1)) if index >= len(document.text) else index


def _colon_problem(document: Document, at: int) -> Problem:
    """A colon where no field name can end: a second one in a value, or a line indented too deep."""
    place = document.place_at(at)
    before = place.source[:place.column - 1]
    if _FIELD.match(before.lstrip()):
        return Problem(ERROR, "colon", "a second colon followed by a blank stands in this value", place, _QUOTES)
    indent = len(before) - len(before.lstrip())
    deep = document.place_at(at - (place.column - 1) + indent, len(before) - indent)
    return Problem(ERROR, "indentation", "this line is indented deeper than the value above it allows", deep,
                   "line it up with its neighbours, or put double quotes around a value that holds a colon")


def _no_colon_problem(document: Document, at: int) -> Problem:
    """A line that should be `key: value`."""
    place = document.place_at(at, len(document.text))
    tight = _TIGHT.match(place.source.lstrip())
    if tight:
        return Problem(ERROR, "colon", f"'{tight.group(1)}:' has no blank behind its colon", place,
                       "put a blank after the colon")
    return Problem(ERROR, "colon", f"'{place.source.strip()}' has no colon; a field is written as key: value", place,
                   "put a colon and a blank after the key, or indent the line if it goes on with the text above")


def _block_problem(document: Document, at: int, said: str) -> Problem:
    """Something follows in a map that is no field of it."""
    place = document.place_at(at, len(document.text))
    if "scalar" in said and place.source[:place.column - 1].strip():
        return Problem(ERROR, "quotes", "text goes on after the closing quote or bracket", place,
                       "put the quotes around the whole value")
    if place.source.lstrip().startswith("-"):
        return Problem(ERROR, "dash", "a list item stands among fields", place,
                       "put it under the field it belongs to, or take the dash away")
    return Problem(ERROR, "indentation", "this line lines up with nothing above it", place,
                   "give it the same number of blanks as the fields it belongs to")
