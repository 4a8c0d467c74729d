"""Any probe's log: from the bytes of a CSV file to readings, what was understood, what is unsure, and what is marked.

Nothing here knows a maker's format: separators, decimals, header, units, times and probes are found in the file.
What nothing decides is a doubt with the option that settles it; nothing is guessed in silence.
"""

from __future__ import annotations

import csv
import io
import itertools
import re
from collections.abc import Collection, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta, timezone
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.journal import probemarks, probetable, probetimes
from cookbook.journal.probe import PROBES

_ROLES = {
    "core": r"core|meat|inside|internal|food|roast|centre|center",
    "surface": r"surface|skin|crust",
    "pit": r"pit|air|ambient|grate|chamber|cooker|oven|smoker|grill|lid",
    "ignore": r"set ?point|target|\bset\b|battery|humid|signal|volt|fan|damper|%",
}
HALF = 0.5
"""A column with fewer numbers among its cells holds something else; with more, it may be a probe with faults."""
_SCALE = re.compile(
    r"(?:°|º|deg(?:rees?)?[ ._]?)([CF])\b|[\s(\[_/,]([CF])(?=[\s)\]_]|$)|\b(celsius|fahrenheit)\b", re.I
)


class Said(NamedTuple):
    """What the cook said of a file, by options or answers; None where the file itself has to say it."""

    start: datetime | None = None
    scale: str | None = None
    separator: str | None = None
    decimal: str | None = None
    elapsed: str | None = None
    day_first: bool | None = None
    columns: Mapping[str, str] = {}


class Probe(NamedTuple):
    """One column: its name in the file, which probe it is (core, surface, pit, and a name of its own), its scale."""

    column: int
    title: str
    role: str
    name: str
    scale: str
    values: tuple[str, ...]
    marks: tuple[str, ...]

    @property
    def label(self) -> str:
        """`core`, or `core left` where there are several."""
        return f"{self.role} {self.name}".strip()

    def c(self, place: int) -> float | None:
        """The reading of a row in °C, None where there is none."""
        return _c(self.values[place], self.scale)


class Doubt(NamedTuple):
    """What nothing in the file decides, and the option that does."""

    what: str
    option: str


class ProbeLog(NamedTuple):
    """What was understood of a file; `at` is None in a row whose time can't be read."""

    at: tuple[datetime | None, ...]
    probes: tuple[Probe, ...]
    understood: tuple[str, ...]
    doubts: tuple[Doubt, ...]

    def marked(self) -> dict[str, int]:
        """How many readings carry each mark."""
        every = [mark for probe in self.probes for mark in probe.marks if mark]
        return {mark: every.count(mark) for mark in dict.fromkeys(every)}

    def sidecar(self, piece: str | None = None) -> bytes:
        """The cleaned readings as a CSV file of ours: every reading stays, those that don't count are marked."""
        out = io.StringIO(newline="")
        writer = csv.writer(out, lineterminator="\n")
        marked = [probe for probe in self.probes if any(probe.marks)]
        titles = [f"{one.label} °{one.scale}" for one in self.probes]
        writer.writerow(["at", *(["piece"] if piece else []), *titles, *(f"{one.label} mark" for one in marked)])
        rows = [(at, place) for place, at in enumerate(self.at) if at is not None]
        for at, place in sorted(rows, key=lambda row: row[0]):
            values = [one.values[place] for one in self.probes]
            head = [at.replace(microsecond=0).isoformat(), *([piece] if piece else [])]
            writer.writerow([*head, *values, *(one.marks[place] for one in marked)])
        return out.getvalue().encode()


def understand(
    data: bytes, said: Said, near: date | None = None, scale: str | None = None, zone: timezone | None = None
) -> ProbeLog:
    """Read a probe's log. `near` is the day of the cook, `scale` what the kitchen says of bare numbers, `zone`
    that of its clock (None: this machine's).

    Raises RequestError where it is no table of times and temperatures.
    """
    table = probetable.read(data, said.separator, said.decimal)
    table = probetable.spread(table) if table is not None else None
    times = probetimes.read(table, said.elapsed, said.day_first, near) if table is not None else None
    if table is None or times is None:
        raise RequestError(
            "no table of times and temperatures was found in this file",
            mend="it takes lines with a time and one or more temperatures, such as `14:05;48.5;121`",
            code="no-table",
        )
    if probetable.looks_paired(table) and said.decimal is None:
        doubt = Doubt("whether commas stand before decimals as well as between columns", "--decimal , or --decimal .")
        return ProbeLog((), (), tuple(_table_words(table, times)), (doubt,))
    doubts = [Doubt(*times.doubt)] if times.doubt else []
    if times.kind == "elapsed" and said.start is None:
        doubts.append(Doubt("when the log began, since its times only count from there", "--at TIME"))
    if times.kind == "clock" and said.start is None and near is None:
        doubts.append(Doubt("which day it was, since only a clock is written", "--at TIME"))
    unsettled = times.kind != "absolute" and any(one.option == "--at TIME" for one in doubts)
    begin = datetime(2000, 1, 1, tzinfo=UTC) if unsettled else said.start
    at = probetimes.moments(times, begin, begin.date() if unsettled and begin else near, zone)
    probes, more = _probes(table, times, said, scale, at)
    words = [
        *_table_words(table, times),
        *(f"column {one.column + 1}{_titled(one)} is {one.label}, °{one.scale}" for one in probes),
        *_left_words(table, {*times.columns, *(one.column for one in probes)}),
    ]
    if not unsettled:
        words += _span_words(at, table)
    return ProbeLog(tuple(at), tuple(probes), tuple(words), (*doubts, *more))


def _probes(
    table: probetable.Table, times: probetimes.Times, said: Said, scale: str | None, at: Sequence[datetime | None]
) -> tuple[list[Probe], list[Doubt]]:
    """The columns with temperatures, each with its probe, its scale and its marks."""
    every = {place: [row.cells[place] for row in table.rows] for place in range(len(table.rows[0].cells))}
    titles = {place: table.header[place] if table.header else "" for place in every}
    wanted = {place: _said_role(place, titles[place], said.columns) for place in every}
    columns, partly = {}, []
    for place, cells in every.items():
        role, share = wanted[place] or _role(titles[place]), _temperatures(cells)
        if place in times.columns or role == "ignore":
            continue
        if share >= 0.9 or (share >= HALF and role):
            columns[place] = cells
        elif share >= HALF:
            other = next(cell.strip() for cell in cells if not (_value(cell) or probetable.MISSING.fullmatch(cell)))
            what = f"what column {place + 1}{_shown(titles[place])} is, where '{other}' stands among temperatures"
            partly.append(Doubt(what, f"--column {place + 1}=core, =pit or =ignore"))
    if not columns and not partly:
        raise RequestError("no column holds temperatures", mend="name one, such as --column 2=core", code="no-table")
    scales, doubts = _scales(table, columns, titles, said.scale, scale)
    numbers = {place: [_c(_value(cell), scales[place]) for cell in cells] for place, cells in columns.items()}
    roles, more = _named(columns, titles, wanted, numbers)
    first = next((one for one in at if one is not None), None)
    seconds = [(one - first).total_seconds() if one is not None and first is not None else 0.0 for one in at]
    found = []
    for place, cells in columns.items():
        role, name = roles[place]
        marks = _marks_in_time(seconds, numbers[place], role)
        gaps = [bool(cell.strip()) and not _value(cell) for cell in cells]
        marks = [probemarks.DROP_OUT if gap else mark for gap, mark in zip(gaps, marks, strict=True)]
        values = tuple(_value(cell) for cell in cells)
        found.append(Probe(place, titles[place], role, name, scales[place], values, tuple(marks)))
    return found, [*doubts, *more, *partly]


def _marks_in_time(seconds: Sequence[float], values: Sequence[float | None], role: str) -> list[str]:
    """The marks of a column, worked out in the order of its times, which need not be that of the file."""
    order = sorted(range(len(seconds)), key=lambda place: seconds[place])
    marks = probemarks.marks([seconds[place] for place in order], [values[place] for place in order], role)
    return [mark for _, mark in sorted(zip(order, marks, strict=True))]


def _temperatures(cells: Sequence[str]) -> float:
    """Which share of the cells that say anything are numbers."""
    full = [cell for cell in cells if not probetable.MISSING.fullmatch(cell)]
    return sum(bool(_value(cell)) for cell in full) / len(full) if full else 0.0


def _value(cell: str) -> str:
    """The number in a cell with a point, '' where there is none."""
    found = probetable.number(cell)
    return found[0].lstrip("+") if found else ""


def _c(value: str, scale: str) -> float | None:
    if not value:
        return None
    return float(value) if scale == "C" else (float(value) - 32) * 5 / 9


def _said_role(place: int, title: str, columns: Mapping[str, str]) -> str:
    """What the cook said of a column by its number or its title, '' where nothing."""
    for key, role in columns.items():
        if key == str(place + 1) or (title and key.casefold() == title.casefold()):
            return role
    return ""


def _role(title: str) -> str:
    """The probe that a title names, '' where none or more than one."""
    plain = title.replace("_", " ").casefold()
    found = [role for role, pattern in _ROLES.items() if re.search(pattern, plain)]
    return found[0] if len(found) == 1 else "ignore" if "ignore" in found else ""


def _scales(
    table: probetable.Table,
    columns: Mapping[int, Sequence[str]],
    titles: Mapping[int, str],
    said: str | None,
    kitchen: str | None,
) -> tuple[dict[int, str], list[Doubt]]:
    """The scale of every column: as said, by its title, its cells, the lines above, the range, the kitchen."""
    above = _scale_in(" ".join(table.lead))
    found: dict[int, str] = {}
    for place, cells in columns.items():
        written = next((hit[1] for cell in cells if (hit := probetable.number(cell)) and hit[1]), None)
        known = said or _scale_in(titles[place]) or written or above
        if known:
            found[place] = known
    others = {place: cells for place, cells in columns.items() if place not in found}
    if not others:
        return found, []
    if found:
        return {**found, **dict.fromkeys(others, next(iter(found.values())))}, []
    fits = [scale for scale in ("C", "F") if _fits(others, titles, scale)]
    if len(fits) == 1:
        return dict.fromkeys(others, fits[0]), []
    if kitchen is not None and not any(_either(cells) for place, cells in others.items() if not _role(titles[place])):
        return dict.fromkeys(others, kitchen), []
    return dict.fromkeys(others, "C"), [Doubt("whether the temperatures are °C or °F", "--scale C or --scale F")]


def _scale_in(words: str) -> str | None:
    found = _SCALE.search(words)
    return next(one for one in found.groups() if one)[0].upper() if found else None


def _fits(columns: Mapping[int, Sequence[str]], titles: Mapping[int, str], scale: str) -> bool:
    """Whether every column can be a probe over a fire on this scale."""
    for place, cells in columns.items():
        values = [value for cell in cells if (value := _c(_value(cell), scale)) is not None]
        role = _role(titles[place]) or _shape(values)
        low, high, middle = min(values), max(values), sorted(values)[len(values) // 2]
        core = low >= -5 and high <= 105
        pit = 55 <= middle <= 350 and high <= 550
        if not {"core": core, "pit": pit}.get(role, core or pit):
            return False
        if role == "" and _climbs(values) and not core:
            return False
    return True


def _either(cells: Sequence[str]) -> bool:
    """Whether a column is a pit on one scale and climbs as a core on the other: no kitchen's word settles that."""
    on = [[value for cell in cells if (value := _c(_value(cell), scale)) is not None] for scale in ("C", "F")]
    return _climbs(on[0]) and (_shape(on[0]), _shape(on[1])) == ("pit", "core")


def _climbs(values: Sequence[float]) -> bool:
    """Whether it begins cold and goes up all along, as a core does and a pit doesn't."""
    quarter = max(1, len(values) // 4)
    parts = [sorted(values[n * quarter : (n + 1) * quarter] or values[-1:])[0] for n in range(4)]
    return (
        len(values) >= 4
        and parts == sorted(parts)
        and values[0] < 0.7 * max(values)
        and parts[3] > parts[1] > parts[0]
    )


def _shape(values: Sequence[float]) -> str:
    """Which probe a column looks like by its course in °C: core, pit, or '' where it could be either."""
    middle = sorted(values)[len(values) // 2]
    if _climbs(values) and values[0] <= 45 and max(values) <= 105:
        return "core"
    if middle >= 105 or (middle >= 75 and not _climbs(values) and max(values) > 105):
        return "pit"
    return ""


def _named(
    columns: Mapping[int, Sequence[str]],
    titles: Mapping[int, str],
    wanted: Mapping[int, str],
    numbers: Mapping[int, Sequence[float | None]],
) -> tuple[dict[int, tuple[str, str]], list[Doubt]]:
    """The probe of every column and, where several are of one kind, its own name."""
    roles: dict[int, tuple[str, str]] = {}
    doubts = []
    for place in columns:
        known = [value for value in numbers[place] if value is not None]
        role, _, name = wanted[place].partition(" ")
        if role and role not in PROBES:
            raise RequestError(f"'{role}' is no probe", mend=f"say --column {place + 1}=core, surface, pit or ignore")
        role = role or _role(titles[place]) or _shape(known)
        if not role:
            what = f"which probe column {place + 1}{_shown(titles[place])} is"
            doubts.append(Doubt(what, f"--column {place + 1}=core, =pit or =ignore"))
        roles[place] = (role or "core", name)
    for probe in PROBES:
        several = [place for place, (role, _) in roles.items() if role == probe]
        for number, place in enumerate(several if len(several) > 1 else (), 1):
            own = roles[place][1] or _own_name(titles[place], probe) or str(number)
            taken = own in {roles[one][1] for one in several[:number - 1]}
            roles[place] = (probe, f"{own} {number}" if taken else own)
    return roles, doubts


def _own_name(title: str, role: str) -> str:
    """What is left of a title without the probe's kind and the scale: `Meat left (°C)` is `left`."""
    plain = _SCALE.sub(" ", title.replace("_", " "))
    plain = re.sub(rf"\b(?:{_ROLES[role]}|probe|temp\w*|sensor)\b", " ", plain, flags=re.I)
    return " ".join(re.findall(r"\w+", plain)).casefold()


def _shown(title: str) -> str:
    return f" ({title})" if title else ""


def _titled(probe: Probe) -> str:
    return f" '{probe.title}'" if probe.title else ""


def _table_words(table: probetable.Table, times: probetimes.Times) -> list[str]:
    decimals = ", decimal commas" if table.comma else ""
    words = [f"{probetable.SEPARATORS[table.separator]} between the columns{decimals}"]
    words.append("no header" if table.header is None else f"a header: {', '.join(table.header)}")
    if table.unread:
        lines = ", ".join(map(str, table.unread[:5])) + (" …" if len(table.unread) > 5 else "")
        words.append(f"{len(table.unread)} lines are no readings: {lines}")
    where = " and ".join(str(place + 1) for place in times.columns)
    words.append(f"times in column {where}: {times.said}")
    return words


def _left_words(table: probetable.Table, taken: Collection[int]) -> list[str]:
    """Which columns stay in the original file alone."""
    titles = table.header or [""] * len(table.rows[0].cells)
    left = [f"{place + 1}{_shown(title)}" for place, title in enumerate(titles) if place not in taken]
    return [f"not taken: column {', '.join(left)}"] if left else []


def _span_words(at: Sequence[datetime | None], table: probetable.Table) -> list[str]:
    known = [one for one in at if one is not None]
    if not known:
        return []
    lost = len(at) - len(known)
    words = [f"{len(table.rows)} rows from {known[0]:%Y-%m-%d %H:%M} to {known[-1]:%Y-%m-%d %H:%M} ({known[0]:%z})"]
    if any(two - one < timedelta(0) for one, two in itertools.pairwise(known)):
        words.append("some rows are earlier than the one above; they are put in the order of their times")
    return words + ([f"{lost} rows have a time that can't be read"] if lost else [])
