"""One style of every SVG: strokes in the text's own colour, hatching in place of colours, words for who hears it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from cookbook.picture.mark import Point, Table


def sheet(
    head: tuple[str, str, Table], size: tuple[float, float], ident: str, body: str, letter: int = 15, extra: str = ""
) -> str:
    """The `<svg>` element of what `head` (title, description, table) tells; `ident` begins its ids."""
    title, description, table = head
    width, height = size
    told = f"{description} {_told(table)}".strip()
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg"{extra} '
        f'viewBox="0 0 {width:.0f} {height:.0f}" role="img" '
        f'aria-labelledby="{ident}-title {ident}-desc" font-family="system-ui, sans-serif" font-size="{letter}" '
        f'fill="none" stroke="currentColor" stroke-width="1.5">'
        f'<title id="{ident}-title">{escape(title)}</title><desc id="{ident}-desc">{escape(told)}</desc>{body}</svg>'
    )


def _told(table: Table) -> str:
    """The table as sentences, for whoever hears the picture."""
    return " ".join(
        "; ".join(f"{head}: {cell}" for head, cell in zip(table.head, row, strict=True)) + "." for row in table.rows
    )


def hatch(ident: str, pitch: float = 7, opacity: str = "") -> str:
    """The pattern `ident`-hatch: slanting lines so far apart."""
    faint = f' opacity="{opacity}"' if opacity else ""
    return (
        f'<defs><pattern id="{ident}-hatch" width="{pitch:g}" height="{pitch:g}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path d="M0 0V{pitch:g}" stroke="currentColor" stroke-width="1"{faint}/>'
        "</pattern></defs>"
    )


def label(x: float, y: float, words: str, anchor: str = "start", extra: str = "") -> str:
    """Words that begin, end or have their middle at a point."""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="currentColor" stroke="none"{extra}>'
        f"{escape(words)}</text>"
    )


def path(points: Sequence[Point]) -> str:
    """The data of a path through points."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
