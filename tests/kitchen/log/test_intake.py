"""Files taken in: the bytes that came stay as they are, the cleaned readings beside them count."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.journal.probelog import ProbeLog, Said, understand
from cookbook.kitchen import Kitchen
from cookbook.kitchen.log import logbook, undoing
from cookbook.kitchen.log.intake import content, far_away, take_in, take_photo
from cookbook.kitchen.log.undoing import sha256, step, taken_back

ZONE = timezone(timedelta(hours=1))
AT = datetime(2026, 11, 21, 11, 5, tzinfo=ZONE)
MakeKitchen = Callable[..., Kitchen]
LOG = b"time;core \xb0C\r\n" + b"".join(b"11:%02d;%d,5\r\n" % (n, 5 + n // 4) for n in range(10, 60))


def begun(kitchen: Kitchen) -> Entry:
    return logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)


def taken(kitchen: Kitchen, entry: Entry, data: bytes = LOG) -> tuple[Entry, str]:
    return take_in(kitchen, entry, data, understand(data, Said(), entry.date, None, ZONE), None)


def test_the_original_bytes_and_the_cleaned_readings_lie_beside_the_entry(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, name = taken(kitchen, begun(kitchen))
    folder = kitchen.entry_path(entry).parent
    assert (name, entry.readings) == ("2026-11-21-loin.csv", ("2026-11-21-loin.csv",))
    assert (folder / "2026-11-21-loin.original.csv").read_bytes() == LOG
    readings = kitchen.readings(entry)
    assert (len(readings), readings[0].core_c) == (50, 7.5)


def test_a_second_log_is_named_beside_the_first_and_undo_takes_the_name_back(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, first = taken(kitchen, begun(kitchen))
    text = entry.document.data
    entry, second = taken(kitchen, entry, LOG.replace(b"11:", b"12:"))
    assert entry.readings == (first, second)
    assert len(kitchen.readings(entry)) == 100
    undoing.undo(kitchen, entry)
    assert kitchen.entry(entry.name).document.data == text


def test_the_same_log_twice_changes_nothing(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _ = taken(kitchen, begun(kitchen))
    before = {path: path.read_bytes() for path in kitchen.root.rglob("*") if path.is_file()}
    with pytest.raises(RequestError, match="already"):
        taken(kitchen, entry)
    assert {path: path.read_bytes() for path in kitchen.root.rglob("*") if path.is_file()} == before


def test_whoever_was_stopped_before_the_entry_was_told_simply_begins_again(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = begun(kitchen)
    (kitchen.entry_path(entry).parent / "2026-11-21-loin.original.csv").write_bytes(LOG)
    assert taken(kitchen, entry)[1] == "2026-11-21-loin.csv"


def test_a_remark_beside_the_first_name_is_never_lost(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, name = taken(kitchen, begun(kitchen))
    path = kitchen.entry_path(entry)
    path.write_text(
        path.read_text()
        .replace(f"readings: {name}", f"readings: {name}  # left probe")
        .replace(f'readings: "{name}"', f'readings: "{name}"  # left probe')
    )
    with pytest.raises(RequestError, match="left probe"):
        taken(kitchen, kitchen.entry(entry.name), LOG.replace(b"11:", b"12:"))
    assert "# left probe" in path.read_text()


def test_a_picture_is_kept_with_the_digest_of_its_bytes(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen()
    picture = tmp_path / "slices.jpg"
    picture.write_bytes(b"\xff\xd8 a picture")
    entry, said = take_photo(kitchen, begun(kitchen), str(picture), "the slices")
    (photo,) = entry.fields["photos"]
    assert said == "photo slices.jpg: the slices"
    assert dict(photo) == {"path": "slices.jpg", "caption": "the slices", "digest": sha256(picture.read_bytes())}
    picture.write_bytes(b"another")
    with pytest.raises(RequestError, match="another picture"):
        take_photo(kitchen, entry, str(picture), None)


def beside(kitchen: Kitchen, entry: Entry) -> set[str]:
    """The files beside an entry that are none."""
    return {path.name for path in kitchen.entry_path(entry).parent.iterdir() if path.suffix != ".yaml"}


def test_undo_removes_the_copies_that_came_while_the_files_they_came_from_are_there(
    make_kitchen: MakeKitchen, tmp_path: Path
) -> None:
    kitchen = make_kitchen()
    source, picture = tmp_path / "log.csv", tmp_path / "slices.jpg"
    source.write_bytes(LOG)
    picture.write_bytes(b"\xff\xd8 a picture")
    entry = begun(kitchen)
    log = understand(LOG, Said(), entry.date, None, ZONE)
    entry, name = take_in(kitchen, entry, LOG, log, None, str(source))
    entry, _ = take_photo(kitchen, entry, str(picture), None)
    assert undoing.undo(kitchen, entry) == "photo slices.jpg; slices.jpg removed"
    assert beside(kitchen, entry) == {name, f"{entry.name}.original.csv"}
    assert undoing.undo(kitchen, entry).endswith(f"; {name} and {entry.name}.original.csv removed")
    assert beside(kitchen, entry) == set()
    take_in(kitchen, entry, LOG, log, None, str(source))
    source.unlink()
    undoing.undo(kitchen, entry)
    assert beside(kitchen, entry) == {f"{entry.name}.original.csv"}


def test_undo_keeps_a_copy_that_was_changed_or_that_another_entry_names(
    make_kitchen: MakeKitchen, tmp_path: Path
) -> None:
    kitchen = make_kitchen()
    picture = tmp_path / "slices.jpg"
    picture.write_bytes(b"\xff\xd8 a picture")
    first, second = begun(kitchen), begun(kitchen)
    for entry in (first, second):
        take_photo(kitchen, entry, str(picture), None)
    assert undoing.undo(kitchen, first) == "photo slices.jpg"
    kept = kitchen.entry_path(second).with_name("slices.jpg")
    kept.write_bytes(b"\xff\xd8 turned upright")
    assert undoing.undo(kitchen, second) == "photo slices.jpg"
    assert kept.read_bytes() == b"\xff\xd8 turned upright"


def test_a_picture_that_was_beside_the_entry_before_stays_when_its_line_is_taken_back(
    make_kitchen: MakeKitchen,
) -> None:
    kitchen = make_kitchen()
    entry = begun(kitchen)
    picture = kitchen.entry_path(entry).with_name("slices.jpg")
    picture.write_bytes(b"\xff\xd8 a picture")
    take_photo(kitchen, entry, str(picture), None)
    assert undoing.undo(kitchen, entry) == "photo slices.jpg"
    assert picture.is_file()


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(RequestError, match="could not be read"):
        content(tmp_path / "no.csv")


@pytest.mark.parametrize(
    ("before", "after"), [("a: é\n", "a: è\n"), ("é", ""), ("", "ü"), ("aé", "aéé"), ("x\n", "x\n"), ("ée", "èe")]
)
def test_a_step_of_undo_goes_back_exactly_in_any_script(before: str, after: str) -> None:
    done = step(before.encode(), after.encode(), "words")
    assert taken_back(done, after.encode()) == before.encode()


def test_readings_of_another_month_are_asked_about(make_kitchen: MakeKitchen) -> None:
    entry = begun(make_kitchen())

    def log(month: int) -> ProbeLog:
        lines = "".join(f"2026-{month}-21 11:{n:02}:00,{8 + n},121\n" for n in range(20))
        return understand(f"time,core,pit\n{lines}".encode(), Said())

    assert "these readings are of 2026-10-21, the cook is of 2026-11-21" in (far_away(entry, log(10)) or "")
    assert far_away(entry, log(11)) is None
