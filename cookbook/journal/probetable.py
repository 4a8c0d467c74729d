"""Any table of numbers in a text file: from bytes to rows of cells, what separates them, where the data begins.

RFC 4180 is read in full; beside commas, semicolons, tabs, bars and blanks separate columns as well.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

NUMBER = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(?:(?:°|deg\.?)?\s*([CF]))?\s*", re.I)
MISSING = re.compile(r"\s*(?:|-+|n/?a|nan|null|none|err(?:or)?|open|fault|off|\?+|l+|h+|low|high|\*+)\s*", re.I)
"""A cell in which a device says that it has no reading."""
CLOCKED = re.compile(
    r"\s*(?:[\d./-]{6,10}[T, ]\s*)?\d{1,3}:\d{2}(?::\d{2})?(?:\.\d+)?\s*(?:[ap]\.?m\.?)?\s*(?:Z|[+-]\d{2}:?\d{2})?\s*"
    r"|\s*\d{1,4}[-./]\d{1,2}[-./]\d{1,4}\s*",
    re.I,
)

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars", " ": "blanks"}


_UNIT = re.compile(
    r"\s*[\[(]?\s*(?:[°º]?\s?[CF]|celsius|fahrenheit|s|sec|min|h|%|-|hh:mm(?::ss)?)?\s*[\])]?\s*", re.I
)


class Row(NamedTuple):
    """The cells of one line, and its number in the file."""

    line: int
    cells: tuple[str, ...]


class Table(NamedTuple):
    """What was found in the bytes; `header` is None where no line names the columns, `lead` is what stood above."""

    separator: str
    header: tuple[str, ...] | None
    rows: tuple[Row, ...]
    lead: tuple[str, ...]
    unread: tuple[int, ...]
    comma: bool
    paired: bool


def read(data: bytes, separator: str | None = None, decimal: str | None = None) -> Table | None:
    """The table in `data`, None where there is none. What is said of separator and decimal sign is believed."""
    text = decoded(data)
    choices = [_split(text, one) for one in ([separator] if separator else SEPARATORS)]
    best = max(choices, key=lambda choice: choice[0])
    if best[0] <= 0:
        return None
    _, sign, rows, width = best
    rows = _filled(rows, width, sign, decimal)
    first = next((place for place, row in enumerate(rows) if _is_data(row, width)), None)
    if first is None:
        return None
    named = [row for row in rows[:first] if _names(row, width)]
    if len(named) > 1 and len(named[-2].cells) == len(named[-1].cells) and all(map(_UNIT.fullmatch, named[-1].cells)):
        named[-2:] = [_in_one(*named[-2:])]
    head = named[-1] if named else None
    body = [row for row in rows[first:] if len(row.cells) >= 2]
    paired = sign == "," and (
        decimal == "," or (head is not None and len(head.cells) > 1 and width == 2 * len(head.cells) - 1)
    )
    if paired:
        body = [_joined(row) for row in body]
        width = (width + 1) // 2
    whole = [row for row in body if len(row.cells) == width]
    unread = {row.line for row in rows[first:]} - {row.line for row in whole}
    comma = paired or any(
        "," in (found.group(1) if (found := NUMBER.fullmatch(cell)) else "") for row in whole for cell in row.cells
    )
    return Table(
        sign,
        tuple(cell.strip() for cell in head.cells) if head is not None and len(head.cells) == width else None,
        tuple(whole),
        tuple(" ".join(row.cells) for row in rows[:first] if head is None or row.line != head.line),
        tuple(sorted(unread)),
        comma,
        paired,
    )


def _filled(rows: list[Row], width: int, sign: str, decimal: str | None) -> list[Row]:
    """Rows that end early, as long as the others: what is missing at the end is no reading.

    Not where commas may stand before decimals as well, or where blanks separate.
    """
    halved = any(len(row.cells) > 1 and width == 2 * len(row.cells) - 1 and not _typed(row.cells) for row in rows)
    if sign == " " or decimal == "," or (sign == "," and halved):
        return rows
    return [
        Row(row.line, (*row.cells, *[""] * (width - len(row.cells))))
        if len(row.cells) < width and _typed(row.cells) >= 2
        else row
        for row in rows
    ]


def spread(table: Table) -> Table:
    """A table that names the probe in a column of its own and has one reading a line, with a column for each probe;
    any other table as it is."""
    columns = list(zip(*(row.cells for row in table.rows), strict=True))
    named = [place for place, cells in enumerate(columns) if _is_naming(cells)]
    clocked = [place for place, cells in enumerate(columns) if all(map(CLOCKED.fullmatch, cells))]
    numbers = [place for place, cells in enumerate(columns) if place not in clocked and any(map(number, cells))]
    if len(named) != 1 or not clocked or len(numbers) != 1:
        return table
    names = list(dict.fromkeys(cell.strip() for cell in columns[named[0]]))
    moments: dict[tuple[str, ...], dict[str, tuple[int, str]]] = {}
    for row in table.rows:
        at = tuple(row.cells[place] for place in clocked)
        moments.setdefault(at, {})[row.cells[named[0]].strip()] = (row.line, row.cells[numbers[0]])
    if len(moments) > 0.75 * len(table.rows):
        return table
    rows = tuple(
        Row(min(line for line, _ in read.values()), (*at, *(read.get(name, (0, ""))[1] for name in names)))
        for at, read in moments.items()
    )
    heads = [table.header[place] if table.header else "time" for place in clocked]
    return table._replace(header=(*heads, *names), rows=rows)


def _is_naming(cells: Sequence[str]) -> bool:
    """Whether a column holds a few words that come again and again."""
    words = {cell.strip() for cell in cells}
    return (
        2 <= len(words) <= 8
        and 2 * len(words) <= len(cells)
        and not any(NUMBER.fullmatch(word) or CLOCKED.fullmatch(word) or MISSING.fullmatch(word) for word in words)
    )


def decoded(data: bytes) -> str:
    """The text of bytes that a device or a spreadsheet wrote: UTF-8, UTF-16 with its mark, else Windows' Latin."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def number(cell: str) -> tuple[str, str | None] | None:
    """The number in a cell with a point for the decimals, and its scale where one stands behind it."""
    found = NUMBER.fullmatch(cell)
    if found is None:
        return None
    return found.group(1).replace(",", "."), found.group(2).upper() if found.group(2) else None


def looks_paired(table: Table) -> bool:
    """Whether commas separate the columns and, it seems, the decimals as well: every second column one digit."""
    if table.separator != "," or table.paired or table.header is not None or len(table.rows[0].cells) < 3:
        return False
    seconds = [cell for row in table.rows for cell in row.cells[2::2]]
    return len(table.rows[0].cells) % 2 == 1 and all(re.fullmatch(r"\s*\d{1,2}\s*", cell) for cell in seconds)


def _split(text: str, sign: str) -> tuple[float, str, list[Row], int]:
    """How well `sign` separates the columns, its rows and their width."""
    rows = _rows(text, sign)
    widths = Counter(len(row.cells) for row in rows if _typed(row.cells) >= 2)
    if not widths:
        return 0.0, sign, rows, 0
    width = max(widths, key=lambda one: (widths[one], one))
    fitting = [row for row in rows if len(row.cells) == width]
    typed = sum(_typed(row.cells) for row in fitting) / (width * len(fitting))
    blanks = 0.9 if sign == " " else 1.0
    return blanks * typed * widths[width] / len(rows), sign, rows, width


def _rows(text: str, sign: str) -> list[Row]:
    if sign == " ":
        split = [(number, line.split()) for number, line in enumerate(text.splitlines(), 1)]
    else:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign)
        split = []
        try:
            split = [(reader.line_num, cells) for cells in reader]
        except csv.Error:
            return []
    found = []
    for line, cells in split:
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
            found.append(Row(line, tuple(cells)))
    return found


def _typed(cells: Sequence[str]) -> int:
    return sum(bool(NUMBER.fullmatch(cell) or CLOCKED.fullmatch(cell)) for cell in cells)


def _is_data(row: Row, width: int) -> bool:
    readable = sum(
        bool(NUMBER.fullmatch(cell) or CLOCKED.fullmatch(cell) or MISSING.fullmatch(cell)) for cell in row.cells
    )
    return len(row.cells) == width and _typed(row.cells) >= 2 and readable * 2 > width


def _in_one(titles: Row, units: Row) -> Row:
    """Two lines above the readings as one: `Core` over `°C` is `Core °C`."""
    cells = zip(titles.cells, units.cells, strict=True)
    return Row(units.line, tuple(f"{title.strip()} {unit.strip()}".strip() for title, unit in cells))


def _names(row: Row, width: int) -> bool:
    return len(row.cells) in (width, (width + 1) // 2) and len(row.cells) > 1 and not _typed(row.cells)


def _joined(row: Row) -> Row:
    """`12:00,48,5` as `12:00` and `48,5`."""
    rest = row.cells[1:]
    return Row(row.line, (row.cells[0], *(f"{one},{two}" for one, two in zip(rest[::2], rest[1::2], strict=False))))
