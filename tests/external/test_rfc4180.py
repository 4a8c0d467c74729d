"""Probe logs against RFC 4180, Common Format and MIME Type for CSV Files (October 2005), section 2, rules 1 to 7.

The rules' shapes are kept (line breaks, the last one missing, a header, quotes, commas and line breaks inside quotes,
doubled quotes), with times and temperatures in the fields.
"""

from __future__ import annotations

import pytest

from cookbook.journal.probelog import Said, understand
from cookbook.journal.probetable import read
from cookbook.journal.readings import read_csv

ROWS = [
    ("2026-11-21T11:05:00Z", "5.0", "120"),
    ("2026-11-21T11:10:00Z", "6.0", "121"),
    ("2026-11-21T11:15:00Z", "8.0", "122"),
    ("2026-11-21T11:20:00Z", "11.0", "122"),
]
HEAD = ("at", "core °C", "pit °C")

RULES = {
    "1: each record on a line of its own, ended by CRLF": ("{0}\r\n{1}\r\n{2}\r\n{3}\r\n{4}\r\n", ","),
    "2: the last line break may be missing": ("{0}\r\n{1}\r\n{2}\r\n{3}\r\n{4}", ","),
    "3: a header line of as many fields": ("{0}\r\n{1}\r\n{2}\r\n{3}\r\n{4}\r\n", ","),
    "5: fields may stand in double quotes": ("{0}\r\n{1}\r\n{2}\r\n{3}\r\n{4}\r\n", '","'),
}


@pytest.mark.parametrize("rule", RULES)
def test_a_file_written_by_the_rule_reads(rule: str) -> None:
    shape, between = RULES[rule]
    quote = '"' if between != "," else ""
    text = shape.format(*(f"{quote}{between.join(row)}{quote}" for row in [HEAD, *ROWS]))
    table = read(text.encode())
    assert table is not None
    assert (table.header, [row.cells for row in table.rows]) == (HEAD, ROWS)
    readings, problems = read_csv(text.encode(), "log.csv")
    assert problems == []
    assert [(one.core_c, one.pit_c) for one in readings] == [(5, 120), (6, 121), (8, 122), (11, 122)]


def test_rule_3_without_a_header_too() -> None:
    table = read("\r\n".join(",".join(row) for row in ROWS).encode())
    assert table is not None
    assert (table.header, len(table.rows)) == (None, 4)


def test_rule_4_blanks_are_part_of_a_field_and_a_number_is_still_one() -> None:
    text = "at,core °C,pit °C\r\n" + "\r\n".join(", ".join(row) for row in ROWS)
    assert [one.core_c for one in read_csv(text.encode(), "log.csv")[0]] == [5, 6, 8, 11]


def test_rule_6_line_breaks_quotes_and_commas_inside_quotes_belong_to_the_field() -> None:
    text = 'at,"core °C","note, by hand"\r\n' + "\r\n".join(
        f'{at},{core},"first, then\r\nsecond"' for at, core, _ in ROWS
    )
    table = read(text.encode())
    assert table is not None
    assert table.header == ("at", "core °C", "note, by hand")
    assert table.rows[0].cells == (ROWS[0][0], "5.0", "first, then\r\nsecond")
    assert [probe.label for probe in understand(text.encode(), Said()).probes] == ["core"]


def test_rule_7_a_quote_inside_quotes_is_doubled() -> None:
    text = 'at,"the ""thick"" core °C"\r\n' + "\r\n".join(f"{at},{core}" for at, core, _ in ROWS)
    table = read(text.encode())
    assert table is not None
    assert table.header == ("at", 'the "thick" core °C')
