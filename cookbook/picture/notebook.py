"""What a notebook shows of a thing: a title, then lines, lists, tables and pictures, as one piece of HTML.

Every word is escaped. No colour is set but the reader's own, so that it reads in a light notebook and in a dark one.
"""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from html import escape

from cookbook.picture.mark import Chart, DotPlot, Drawing, Table
from cookbook.picture.svg import figure

Part = str | Table | Drawing | Chart | DotPlot | Sequence[str]
"""A line, a table, a picture, or a list of lines."""

_LEFT = ' style="text-align:left"'


def shown(title: str, *parts: Part | None) -> str:
    """The title and its parts below each other; a part that is None or empty is left out."""
    body = "".join(_part(part) for part in parts if part and not (isinstance(part, Table) and not part.rows))
    return f"<div{_LEFT}><p><strong>{escape(title)}</strong></p>{body}</div>"


def picture_shown(picture: Drawing | Chart | DotPlot) -> str:
    """A picture with its caption and its numbers, its ids told by what it shows: many stand on one page."""
    ident = f"p{sha256(repr(tuple(picture)).encode()).hexdigest()[:12]}"
    return f'<div style="max-width:36em">{figure(picture, ident)}</div>'


def _part(part: Part) -> str:
    if isinstance(part, str):
        return f"<p>{escape(part)}</p>"
    if isinstance(part, Table):
        return _table(part)
    if isinstance(part, (Drawing, Chart, DotPlot)):
        return picture_shown(part)
    return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in part) + "</ul>"


def _table(table: Table) -> str:
    head = "".join(f'<th scope="col"{_LEFT}>{escape(cell)}</th>' for cell in table.head)
    rows = ("".join(f"<td{_LEFT}>{escape(cell)}</td>" for cell in row) for row in table.rows)
    body = "".join(f"<tr>{row}</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
