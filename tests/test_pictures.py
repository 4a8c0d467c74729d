"""README's pictures are what the program makes now; `python -m tests.pictures` makes them anew."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.pictures import FOLDER, pictures

README = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
NUMBER = re.compile(r"-?\d+\.?\d*")
MOST_BYTES = 100_000
OFF = {"forecast.svg": 3.0}
"""Units of the drawing by which a solver may differ from machine to machine; everything else to a tenth."""


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return pictures()


def test_readme_shows_every_picture_and_no_other(made: dict[str, str]) -> None:
    assert set(re.findall(r"!\[[^\]]+\]\(\.pictures/([^)]+)\)", README)) == set(made)
    assert {path.name for path in FOLDER.iterdir()} == set(made)


def test_they_are_what_the_program_makes(made: dict[str, str]) -> None:
    for name, text in made.items():
        kept = (FOLDER / name).read_text(encoding="utf-8")
        assert len(kept.encode()) < MOST_BYTES
        drawn, before = (one.partition("</desc>")[2] for one in (text, kept))
        assert NUMBER.sub("0", drawn) == NUMBER.sub("0", before), f"{name}: `python -m tests.pictures` makes it anew"
        pairs = zip(NUMBER.findall(drawn), NUMBER.findall(before), strict=True)
        assert max(abs(float(one) - float(two)) for one, two in pairs) <= OFF.get(name, 0.11), name
