"""How a value is written: one scalar, one line in brackets, or lines of a block."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from cookbook.errors import RequestError

Value: TypeAlias = "str | Mapping[str, Value] | Sequence[Value] | Inline"

_UNPLAIN_START = re.compile(
    r"""[\s,\[\]{}#&*!|>'"%@`?:~=]|-(?![^\W_])|\.\.\.|<<|(?:null|Null|NULL)$|\d{4}-\d\d?-\d""")
_UNPRINTABLE = r"[^ -~\u00a0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
_UNPLAIN = re.compile(rf":(?:\s|$)|\s#|\s$|{_UNPRINTABLE}")
_FLOW_SIGNS = re.compile(r"[,\[\]{}:#]")
_ESCAPED = re.compile(rf'["\\]|{_UNPRINTABLE}')
_SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


class Inline:
    """A map or list that is to be written on one line, in braces or brackets."""

    __slots__ = ("value",)

    def __init__(self, value: str | Mapping[str, Value] | Sequence[Value]) -> None:
        self.value = value


def bare(value: Value) -> str | Mapping[str, Value] | Sequence[Value]:
    """The value without the wish to have it on one line."""
    return value.value if isinstance(value, Inline) else value


def quote(text: str, *, flow: bool = False) -> str:
    """`text` as a scalar: plain where plain text reads back the same, else in double quotes.

    A date is quoted too, since other programs would make it something else than text. `flow` is for what stands
    inside `{}` or `[]`: there also any of `, [ ] { } :` and `#` asks for quotes.
    """
    if text and not _UNPLAIN_START.match(text) and not _UNPLAIN.search(text) and not (
            flow and _FLOW_SIGNS.search(text)):
        return text
    return double_quoted(text)


def double_quoted(text: str) -> str:
    """`text` in double quotes, escaped as YAML has it."""
    return f'"{_ESCAPED.sub(_escape, text)}"'


def _escape(found: re.Match[str]) -> str:
    sign = found.group()
    code = ord(sign)
    if sign in _SHORT:
        return _SHORT[sign]
    if 0xD800 <= code <= 0xDFFF or not code:
        raise RequestError(f"the text holds U+{code:04X}, which no text file can keep", mend="leave it out")
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"


def one_line(value: Value) -> str:
    """`value` on one line: a scalar, `{key: value}` or `[item, item]`, fit to stand inside brackets."""
    inner = bare(value)
    if isinstance(inner, str):
        return quote(inner, flow=True)
    if isinstance(inner, Mapping):
        return "{" + ", ".join(f"{quote(key, flow=True)}: {one_line(held)}" for key, held in inner.items()) + "}"
    return "[" + ", ".join(one_line(held) for held in inner) + "]"


def pair_lines(key: str, value: Value, indent: int) -> list[str]:
    """`key: value` in block form, each line indented by `indent` blanks and what the value needs."""
    head = " " * indent + quote(key) + ":"
    if isinstance(value, str):
        if _fits_text_block(value):
            return [f"{head} |" + ("" if value.endswith("\n") else "-"), *_text_lines(value, indent + 2)]
        return [f"{head} {quote(value)}"]
    if isinstance(value, Inline) or not value:
        return [f"{head} {one_line(value)}"]
    return [head, *block_lines(value, indent + 2)]


def item_lines(value: Value, indent: int, pad: int = 2) -> list[str]:
    """`- value` in block form; `pad` is how far the value stands behind the dash."""
    dash = " " * indent + "-" + " " * (pad - 1)
    if isinstance(value, str):
        return [dash + quote(value)]
    if isinstance(value, Inline) or not value:
        return [dash + one_line(value)]
    first, *rest = block_lines(value, indent + pad)
    return [dash + first[indent + pad:], *rest]


def block_lines(value: Mapping[str, Value] | Sequence[Value], indent: int) -> list[str]:
    """A map or list that is not empty, in block form."""
    return [line for lines in _members(value, indent) for line in lines]


def _members(value: Mapping[str, Value] | Sequence[Value], indent: int) -> Iterator[list[str]]:
    if isinstance(value, Mapping):
        for key, held in value.items():
            yield pair_lines(key, held, indent)
    else:
        for held in value:
            yield item_lines(held, indent)


def _fits_text_block(text: str) -> bool:
    """Several lines that read well below a `|`: nothing to escape, no blank at a line's end or at the start."""
    lines = text.removesuffix("\n").split("\n")
    return len(lines) > 1 and bool(lines[0]) and not lines[0][0].isspace() and bool(lines[-1]) and not any(
        line != line.rstrip() or _ESCAPED.search(line.replace('"', "").replace("\\", "")) for line in lines)


def _text_lines(text: str, indent: int) -> list[str]:
    return [" " * indent + line if line else "" for line in text.removesuffix("\n").split("\n")]


def plain_yaml(value: Value, indent: int = 0) -> str:
    """A new file's text, ending in a line feed: `value` in block form, `Inline` parts of it on one line."""
    if isinstance(value, (str, Inline)) or not value:
        return " " * indent + one_line(value) + "\n"
    return "\n".join(block_lines(value, indent)) + "\n"
