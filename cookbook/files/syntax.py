"""A parser's complaint in a cook's words: what stands there, what is expected, the likely mend."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any, NamedTuple

from cookbook.errors import ERROR, Problem
from cookbook.files.building import Builder
from cookbook.files.node import LIST, Document, Node

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
    _Wording("while parsing a block collection", "indentation",
             "this line belongs neither to the list above it nor to anything around it",
             "line it up with the dashes of the list, or under the fields it belongs to"),
    _Wording("mapping keys are not allowed", "sign", "a value cannot begin with a question mark",
             "put double quotes around the text"),
    _Wording("document end", "document-end", "a line of three dots ends the text; nothing else can stand beside it",
             "take the dots away"),
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
)

_FIELD = re.compile(r"(?:- +)*[^\s#:][^:]*:(?= |$)")
_TIGHT = re.compile(r"(?:- +)*([^\s:#]+):(?=\S)")
_HUGE_ESCAPE = re.compile(r"\\U[0-9A-Fa-f]{8}")
_TAB_INDENTS = "a tab indents this line; the depth of a line is told by blanks alone"
_MAX_TABS = 100
_TAB = re.compile(r"(?<![^\r\n]) *\t[ \t]*(?=-\s|[^\s#][^:\r\n]*:(?:\s|\Z))")


def syntax_problems(document: Document, error: Exception, builder: Builder) -> tuple[list[Problem], int]:
    """What is wrong where both parsers gave up with `error` after filling `builder`; and on which line.

    Where a tab indents the line, every line of that kind is named; else it is the one fault.
    """
    problem = _one_problem(document, error, builder)
    place = problem.place or document.place_at(0)
    if not _TAB.match(place.source):
        return [problem], place.line
    tabs = [
        Problem(ERROR, "tab", _TAB_INDENTS,
                document.place_at(document.text.index("\t", found.start())), "put two blanks in place of each tab")
        for found in islice(_TAB.finditer(document.text), _MAX_TABS)
    ]
    return tabs, place.line


def _one_problem(document: Document, error: Exception, builder: Builder) -> Problem:
    mark: Any = getattr(error, "problem_mark", None)
    context: Any = getattr(error, "context_mark", None)
    said = f"{getattr(error, 'context', None) or ''}: {getattr(error, 'problem', None) or error}"
    at = _offset(document, mark or context)
    last, bracket = builder.last, builder.unclosed
    if last is not None and last.style in ("'", '"') and _runs_on(document, last, at):
        return Problem(ERROR, "open-quote", f"this quote is closed only on line {document.line_and_column(at)[0]}, "
                       "where it makes no sense", document.place_at(last.start, last.end - last.start),
                       "put the same quote at the end of the text")
    if bracket is not None and "while parsing a flow" in said:
        return _bracket_problem(document, bracket)
    if mark is None and (escape := _HUGE_ESCAPE.search(document.text)):
        return Problem(ERROR, "escape", f"'{escape.group()}' stands for no character", document.place_at(
            escape.start(), len(escape.group())), "write the character itself, or leave it out")
    return _by_words(document, at, _offset(document, context or mark), said)


def _by_words(document: Document, at: int, begun: int, said: str) -> Problem:
    """The fault the parser means by `said`, met at `at`, in something that began at `begun`."""
    if "mapping values are not allowed" in said:
        return _colon_problem(document, at)
    if "could not find expected ':'" in said:
        return _no_colon_problem(document, begun)
    if (sign := document.text[at:at + 1]) in ("]", "}", ",") and "found" in said:
        return Problem(ERROR, "bracket", f"a '{sign}' stands here, and no bracket is open", document.place_at(at),
                       "take it away, or put double quotes around the text it belongs to")
    if "while parsing a block mapping" in said:
        return _block_problem(document, at, said)
    if "cannot start any token" in said:
        return _sign_problem(document, at)
    for wording in _WORDINGS:
        if wording.sign in said:
            place = document.place_at(begun if wording.at_context else at)
            return Problem(ERROR, wording.code, wording.message, place, wording.mend)
    return Problem(ERROR, "syntax", f"this cannot be read ({said.strip(': ')})", document.place_at(at),
                   "compare with the lines around it; put double quotes around texts with unusual signs")


def _bracket_problem(document: Document, bracket: Node) -> Problem:
    """A `[` or `{` whose content breaks off or has no comma where one is needed."""
    opened, closing, part = ("[", "]", "item") if bracket.kind == LIST else ("{", "}", "field")
    return Problem(ERROR, "open-bracket", f"this '{opened}' is not closed, or a comma is missing between its {part}s",
                   document.place_at(bracket.start), f"put '{closing}' at its end, a comma between {part}s, and "
                   "double quotes around texts that hold , [ ] { } : or #")


def _sign_problem(document: Document, at: int) -> Problem:
    """A character that no value can begin with."""
    place = document.place_at(at)
    sign = document.text[at:at + 1]
    if sign != "\t":
        return Problem(ERROR, "sign", f"a value cannot begin with '{sign}'", place,
                       "put double quotes around the text")
    if place.source[:place.column - 1].strip():
        return Problem(ERROR, "tab", "a tab stands before this value", place, "put one blank in its place")
    return Problem(ERROR, "tab", _TAB_INDENTS, place, "put two blanks in place of each tab")


def _runs_on(document: Document, quoted: Node, at: int) -> bool:
    """The quoted text takes several lines and its end is on the line where reading broke off."""
    end_line = document.line_and_column(quoted.end)[0]
    return quoted.line < end_line == document.line_and_column(at)[0]


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
