"""Probe logs: what is understood of any table, what is asked, and what is marked instead of deleted."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.journal.probelog import ProbeLog, Said, understand
from cookbook.journal.probemarks import marks
from cookbook.journal.readings import of_one_core, read_csv

DAY = date(2026, 11, 21)
ZONE = timezone(timedelta(hours=1))
START = datetime(2026, 11, 21, 11, 5)


def core(minutes: float) -> float:
    """A core that comes up as cores do: slow, then steady, then slower."""
    return 60 - 55 * math.exp(-((minutes / 120) ** 1.6))


ROWS = [(m, round(core(m), 1), round(120 + 5 * math.sin(m / 9), 1)) for m in range(0, 200, 2)]


def log(text: str, scale: str | None = None, **said: object) -> ProbeLog:
    return understand(text.encode(), Said(**said), DAY, scale, ZONE)  # type: ignore[arg-type]


def table(line: str, head: str = "", comma: bool = False, fahrenheit: bool = False) -> str:
    """The same cook, each row written by `line`."""
    out = []
    for minute, inside, pit in ROWS:
        values = [round(value * 1.8 + 32, 1) if fahrenheit else value for value in (inside, pit)]
        shown = [f"{value:.1f}".replace(".", ",") if comma else f"{value:.1f}" for value in values]
        at = START + timedelta(minutes=minute)
        out.append(
            line.format(at=at, m=minute, s=minute * 60, hms=timedelta(minutes=minute), core=shown[0], pit=shown[1])
        )
    return head + "\n".join(out) + "\n"


SPELLINGS: dict[str, tuple[str, dict[str, Any]]] = {
    "semicolons, decimal commas, day first": (
        table("{at:%d.%m.%Y %H:%M:%S};{core};{pit}", "Time;Core °C;Pit °C\n", comma=True),
        {},
    ),
    "date and clock apart, month first, half days": (
        table("{at:%m/%d/%Y},{at:%I:%M %p},{core},{pit}", "Date,Time,Meat (F),Pit (F)\n", fahrenheit=True),
        {},
    ),
    "no header, seconds": (table("{s},{core},{pit}"), {"start": START.replace(tzinfo=ZONE), "elapsed": "s"}),
    "hours, minutes and seconds since the start": (
        table("{hms}\t{core}\t{pit}", "time\tprobe 1\tprobe 2\n", fahrenheit=True),
        {"start": START.replace(tzinfo=ZONE)},
    ),
    "blanks, a clock alone": (table("{at:%H:%M} {core} {pit}"), {}),
    "commas for columns and decimals": (table("{at:%H:%M},{core},{pit}", "time,core,pit\n", comma=True), {}),
    "the same without a header": (table("{at:%H:%M},{core},{pit}", comma=True), {"decimal": ","}),
    "minutes, named in the header": (
        table("{m}|{core}|{pit}", "elapsed (min)|core|pit\n"),
        {"start": START.replace(tzinfo=ZONE)},
    ),
    "RFC 3339 in UTC": (table("{at:%Y-%m-%dT%H:%M:%S}+01:00,{core},{pit}", "at,core C,pit C\n"), {}),
    "a title, an empty line, units above the table": (
        table("{at:%Y-%m-%d %H:%M},{core},{pit}", "Log of the roast\nUnit: °F\n\ntime,core,pit\n", fahrenheit=True),
        {},
    ),
    "units in the cells": (table("{at:%Y-%m-%d %H:%M};{core} °C;{pit} °C", "time;core;pit\n"), {}),
}


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_the_same_cook_is_read_from_every_spelling(spelling: str) -> None:
    text, said = SPELLINGS[spelling]
    found = log(text, **said)
    assert found.doubts == ()
    assert [probe.label for probe in found.probes] == ["core", "pit"]
    assert list(found.at) == [(START + timedelta(minutes=minute)).replace(tzinfo=ZONE) for minute, _, _ in ROWS]
    for place, (_, inside, pit) in enumerate(ROWS):
        assert found.probes[0].c(place) == pytest.approx(inside, abs=0.06)
        assert found.probes[1].c(place) == pytest.approx(pit, abs=0.06)
    assert found.marked() == {}


def test_an_encoding_of_a_spreadsheet_is_read() -> None:
    text = table("{at:%d.%m.%Y %H:%M};{core};{pit}", "Time;Core °C;Pit °C\n", comma=True)
    for encoding in ("utf-16", "utf-8-sig", "cp1252"):
        assert understand(text.encode(encoding), Said(), DAY, None, ZONE).probes[0].scale == "C"


@pytest.mark.parametrize(
    ("text", "options"),
    [
        (table("{s},{core},{pit}"), {"--elapsed s or --elapsed min or --elapsed h", "--at TIME"}),
        (table("{at:%H:%M},{core},{pit}", comma=True), {"--decimal , or --decimal ."}),
        ("time,temp\n" + "".join(f"{9 + n}:00,{225 + n % 3}\n" for n in range(8)), {"--scale C or --scale F"}),
        (
            "date,core °C\n" + "".join(f"3/4/2026 {n}:00,{n * 4}\n" for n in range(1, 9)),
            {"--dates day-first or --dates month-first"},
        ),
        (
            "time,a °C\n" + "".join(f"{9 + n}:00,{60 + n % 3}\n" for n in range(8)),
            {"--column 2=core, =pit or =ignore"},
        ),
    ],
)
def test_what_nothing_decides_is_asked_with_the_option_that_settles_it(text: str, options: set[str]) -> None:
    assert {doubt.option for doubt in log(text).doubts} == options


def test_the_day_of_the_cook_decides_between_day_and_month() -> None:
    text = "date,core °C\n" + "".join(f"3/4/2026 {n}:00,{n * 4}\n" for n in range(1, 9))
    found = understand(text.encode(), Said(), date(2026, 3, 4), None, ZONE)
    assert found.doubts == ()
    assert found.at[0] == datetime(2026, 3, 4, 1, tzinfo=ZONE)


def test_the_kitchens_scale_settles_what_the_range_leaves_open() -> None:
    text = "time,temp\n" + "".join(f"{9 + n}:00,{225 + n % 3}\n" for n in range(8))
    assert log(text, "F").probes[0].scale == "F"


def test_several_probes_keep_their_names_and_what_is_no_probe_is_left() -> None:
    head = "timestamp,core left C,core right C,grate C,setpoint,battery %\n"
    stamps = [int((START + timedelta(minutes=m)).replace(tzinfo=UTC).timestamp()) for m, _, _ in ROWS]
    text = head + "".join(
        f"{at},{inside},{inside + 1:.1f},{pit},121,88\n" for at, (_, inside, pit) in zip(stamps, ROWS, strict=True)
    )
    found = log(text)
    assert [probe.label for probe in found.probes] == ["core left", "core right", "pit"]
    readings, problems = read_csv(found.sidecar("big"), "x.csv")
    assert problems == []
    assert {(one.probe, one.piece) for one in readings} == {("left", "big"), ("right", "big"), (None, "big")}
    assert {one.probe for one in of_one_core(readings)} == {"left"}


def test_what_the_cook_says_of_columns_is_believed() -> None:
    text = table("{at:%H:%M},{core},{pit}", "time,a,b\n")
    found = log(text, scale="C", columns={"2": "ignore", "b": "surface"})
    assert [(probe.label, probe.column) for probe in found.probes] == [("surface", 2)]
    with pytest.raises(RequestError, match="no probe"):
        log(text, columns={"2": "belly"})


@pytest.mark.parametrize("text", ["", "hello\nworld\n", "a,b\n", "just,words\nand,more\n", "1\n2\n3\n"])
def test_what_is_no_table_of_times_and_temperatures_is_said(text: str) -> None:
    with pytest.raises(RequestError, match=r"no table|no column"):
        log(text)


def test_spikes_drop_outs_and_the_probe_out_of_the_meat_are_marked_and_stay() -> None:
    rows = []
    for minute, inside, pit in ROWS:
        shown: object = inside
        if minute == 40:
            shown = 95.0
        if minute in (80, 82):
            shown = "---"
        if minute > 160:
            shown = round(20 + (core(160) - 20) * math.exp(-(minute - 160) / 3), 1)
        rows.append(f"{START + timedelta(minutes=minute):%H:%M},{shown},{pit}\n")
    found = log("time,core °C,pit °C\n" + "".join(rows))
    marked = {ROWS[place][0]: mark for place, mark in enumerate(found.probes[0].marks) if mark}
    assert marked[40] == "spike"
    assert marked[80] == marked[82] == "drop-out"
    assert [minute for minute, mark in marked.items() if mark == "out"] == list(range(162, 200, 2))
    lines = found.sidecar().decode().splitlines()
    assert len(lines) == 1 + len(ROWS)
    assert lines[21].split(",")[1] == "95.0"
    assert lines[21].endswith(",spike")
    counted = [one.core_c for one in read_csv(found.sidecar(), "x.csv")[0] if one.core_c is not None]
    assert len(counted) == len(ROWS) - len(marked)
    assert max(counted) < 60


def test_a_probe_that_is_put_back_counts_again() -> None:
    seconds = [float(s) for s in range(0, 12000, 5)]
    values = [120.0 if 3000 <= s < 3600 else round(core(s / 60), 1) for s in seconds]
    found = marks(seconds, values, "core")
    out = [s for s, mark in zip(seconds, found, strict=True) if mark == "out"]
    assert (out[0], out[-1], len(out)) == (3000, 3595, 120)
    assert set(found) == {"", "out"}


def test_a_pit_with_its_lid_open_is_no_fault_of_the_probe() -> None:
    seconds = [60.0 * n for n in range(60)]
    values = [70.0 if 30 <= n < 34 else 125.0 for n in range(60)]
    assert set(marks(seconds, list(values), "pit")) == {""}


@settings(max_examples=40, deadline=None)
@given(
    st.floats(60, 300),
    st.floats(1.2, 2.2),
    st.sampled_from([5, 10, 30, 60, 300]),
    st.floats(-2, 30),
    st.integers(0, 2**32),
)
def test_no_reading_of_a_plain_roast_is_ever_marked(
    minutes: float, power: float, step: int, start: float, seed: int
) -> None:
    import random

    noise = random.Random(seed)
    seconds = [float(s) for s in range(0, int(minutes * 120), step)]
    top = 62.0
    values = [
        round(top - (top - start) * math.exp(-((s / 60 / minutes) ** power)) + noise.uniform(-0.3, 0.3), 1)
        for s in seconds
    ]
    assert not any(marks(seconds, list(values), "core"))


@settings(max_examples=40, deadline=None)
@given(st.integers(5, 90), st.floats(25, 300), st.booleans())
def test_a_lone_spike_is_marked_wherever_it_is_and_nothing_else(place: int, size: float, down: bool) -> None:
    values: list[float | None] = [inside for _, inside, _ in ROWS]
    values[place] = (values[place] or 0.0) + (-size if down and size < 80 else size)
    found = marks([minute * 60.0 for minute, _, _ in ROWS], values, "core")
    assert {at for at, mark in enumerate(found) if mark} == {place}


@given(st.binary(max_size=300))
def test_no_bytes_break_it(data: bytes) -> None:
    try:
        found = understand(data, Said(), DAY, "C", ZONE)
    except RequestError:
        return
    assert all(len(probe.values) == len(probe.marks) == len(found.at) for probe in found.probes)


def test_a_log_with_one_reading_a_line_has_a_column_for_each_probe() -> None:
    both = [(n, probe, value) for n in range(40) for probe, value in (("core", 8 + n), ("pit", 121))]
    lines = [f"2026-11-21 11:{n:02}:00,{probe},{value}" for n, probe, value in both]
    read = log("time,probe,temp\n" + "\n".join(lines) + "\n")
    assert [(one.label, one.c(0), one.c(39)) for one in read.probes] == [("core", 8, 47), ("pit", 121, 121)]
    assert len(read.at) == 40
    assert read.marked() == {}
    apart = log("time,probe,temp\n" + "\n".join(sorted(lines, key=lambda line: "pit" in line)) + "\n")
    assert apart.sidecar() == read.sidecar()


def test_a_word_beside_a_reading_is_no_probe() -> None:
    lines = [f"2026-11-21 11:{n:02}:00,{'heating' if n < 20 else 'holding'},{8 + n}" for n in range(40)]
    read = log("time,state,core\n" + "\n".join(lines) + "\n")
    assert [(one.label, one.c(39)) for one in read.probes] == [("core", 47)]


def test_a_line_that_ends_early_counts_for_the_probes_it_has() -> None:
    lines = [f"2026-11-21 11:{n:02}:00,{8 + n}" + (",121" if n % 3 else "") for n in range(40)]
    read = log("time,core,pit\n" + "\n".join(lines) + "\n")
    assert [(one.label, one.c(0), one.c(1)) for one in read.probes] == [("core", 8, 9), ("pit", None, 121)]
    assert len(read.at) == 40


def test_a_log_whose_times_go_back_is_read_in_their_order() -> None:
    lines = [f"2026-11-21 11:{n:02}:00,{8 + n}" for n in range(40)]
    turned = log("time,core\n" + "\n".join([*lines[20:], *lines[:20]]) + "\n")
    assert turned.sidecar() == log("time,core\n" + "\n".join(lines) + "\n").sidecar()
    assert any("in the order of their times" in words for words in turned.understood)


FAULTY = "Time;Kern;Notes\n12:00;6.5;a\n12:05;7.5;b\n12:10;broken;c\n12:15;8.5;d\n12:20;9.0;e\n"


def test_a_column_with_a_few_faults_is_asked_about_and_never_left_out_in_silence() -> None:
    found = log(FAULTY, "C")
    (doubt,) = found.doubts
    assert "column 2 (Kern)" in doubt.what
    assert "broken" in doubt.what
    told = log(FAULTY, "C", columns={"2": "core"})
    assert not told.doubts
    (probe,) = told.probes
    assert [probe.c(place) for place in range(5)] == [6.5, 7.5, None, 8.5, 9.0]
    assert probe.marks == ("", "", "drop-out", "", "")
    assert "not taken: column 3 (Notes)" in told.understood


def test_a_title_that_names_a_probe_settles_what_a_column_with_faults_is() -> None:
    found = log(FAULTY.replace("Kern", "Core"), "C")
    assert not found.doubts
    assert [probe.role for probe in found.probes] == ["core"]


def test_a_column_that_is_to_be_ignored_raises_no_doubt() -> None:
    with pytest.raises(RequestError, match="no column holds temperatures"):
        log(FAULTY, "C", columns={"Kern": "ignore"})


@pytest.mark.parametrize("length", [1, 2])
def test_spikes_on_a_slope_are_measured_from_the_line_between_their_neighbours(length: int) -> None:
    from cookbook.journal.probemarks import _lone_spikes

    times = [60.0 * n for n in range(20)]
    values = [10.0 + n for n in range(20)]
    for place in range(10, 10 + length):
        values[place] += 40.0
    assert _lone_spikes(times, values, "core") == set(range(10, 10 + length))


def test_a_line_of_units_below_the_titles_belongs_to_them() -> None:
    text = "Saturday;;\nTime;Left;Grate\n;°F;°F\n" + "".join(f"11:{n:02};{50 + n};250\n" for n in range(30))
    log = understand(text.encode(), Said(), date(2026, 11, 21), "C")
    assert [(probe.title, probe.label, probe.scale) for probe in log.probes] == [
        ("Left °F", "core", "F"), ("Grate °F", "pit", "F")
    ]


def test_a_column_that_is_a_pit_on_one_scale_and_a_core_on_the_other_is_asked_about() -> None:
    course = [(f"{11 + n // 60}:{n % 60:02}", 137 - 96 * math.exp(-n / 30)) for n in range(96)]
    rows = "".join(f"2026-11-21 {clock},{inside:.0f},250\n" for clock, inside in course)
    log = understand(rows.encode(), Said(), date(2026, 11, 21), "C")
    assert [doubt.option for doubt in log.doubts] == ["--scale C or --scale F"]
    told = understand(rows.encode(), Said(scale="F"), date(2026, 11, 21), "C")
    assert [probe.label for probe in told.probes] == ["core", "pit"]
    assert told.doubts == ()
