"""`log`: one plain line is enough, nothing is refused at the pit, a probe's log is asked about or says how to say."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen

START = ("log", "start", "loin", "--weight", "3.1kg", "--at", "2026-11-21T09:30:00+01:00")
TABLE = "".join(f"{n * 5},{5 + n * 2},{225 + n % 3}\n" for n in range(10))

MakeKitchen = Callable[..., Kitchen]
Run = Callable[..., tuple[Any, str]]


@pytest.fixture
def kitchen(make_kitchen: MakeKitchen, capsys: pytest.CaptureFixture[str]) -> Kitchen:
    found = make_kitchen()
    (found.root / "shared").mkdir()
    (found.root / "shared" / "kitchen.yaml").write_text("temperature: F\n")
    assert main([*START, "--kitchen", str(found.root)]) == 0
    capsys.readouterr()
    return Kitchen.open(found.root)


@pytest.fixture
def run(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a `log` with --json; its answer and what went to standard error."""

    def call(*words: str, code: int = 0) -> tuple[Any, str]:
        assert main(["log", *words, "--kitchen", str(kitchen.root), "--json"]) == code
        shown = capsys.readouterr()
        return json.loads(shown.out), shown.err

    return call


def test_a_plain_line_says_what_it_read_on_the_kitchens_own_scale(run: Run) -> None:
    answer, warned = run("core 118 pit 250, a split on", "--at", "2026-11-21T14:05:00+01:00")
    assert answer["entry"] == "2026-11-21-loin"
    assert answer["read"].endswith("14:05, core 118 °F, pit 250 °F, wood added")
    assert answer["warnings"] == []
    assert warned == ""


def test_a_line_that_cannot_be_read_is_kept_and_warned_about(run: Run, kitchen: Kitchen) -> None:
    answer, warned = run("core 999")
    assert answer["warnings"]
    assert "kept as a note" in warned
    assert kitchen.entry("2026-11-21-loin").notes[-1].unread


def test_what_would_spoil_the_entry_never_gets_in(run: Run, kitchen: Kitchen) -> None:
    before = kitchen.entry("2026-11-21-loin").document.data
    answer, _ = run("", code=2)
    assert answer["error"]["message"] == "nothing was said"
    run("note", " ", code=2)
    assert kitchen.entry("2026-11-21-loin").document.data == before


def test_options_may_stand_before_a_plain_line_and_degrees_below_nothing_are_a_line(run: Run) -> None:
    assert run("--at", "2026-11-21T14:05:00+01:00", "core 118")[0]["read"].endswith("14:05, core 118 °F")
    assert run("-2C")[0]["read"].endswith("core -2 °C")


def test_a_broken_entry_says_so_instead_of_that_none_is_open(run: Run, kitchen: Kitchen) -> None:
    path = kitchen.entry_path(kitchen.entry("2026-11-21-loin"))
    path.write_text(path.read_text() + "colour: brown\n")
    answer, _ = run("core 118", code=2)
    assert (answer["error"]["code"], answer["error"]["file"]) == (
        "unknown-field",
        "journal/2026/2026-11-21-loin.yaml",
    )


def test_a_bare_number_takes_the_kitchens_scale_in_log_reading_too(run: Run, kitchen: Kitchen) -> None:
    run("reading", "118", "pit=250", "--probe", "left")
    event = kitchen.entry("2026-11-21-loin").events[-1]
    assert (str(event.core), str(event.pit), event.probe) == ("118 °F", "250 °F", "left")
    answer, _ = run("reading", "300")
    assert answer["read"].startswith("note, unread")


@pytest.mark.parametrize(
    "words",
    [
        ("core 48C",),
        ("reading", "48C"),
        ("event", "on"),
        ("used", "walnuts", "80 g"),
        ("taste", "salt"),
        ("note", "wind"),
        ("take", "slicing"),
        ("finish", "--score", "crust=8"),
    ],
)
def test_every_verb_takes_a_time_of_another_day(run: Run, kitchen: Kitchen, words: tuple[str, ...]) -> None:
    answer, warned = run(*words, "--at", "2026-11-20T11:05:00+01:00")
    assert (answer["warnings"], warned) == ([], "")
    assert b"2026-11-20T11:05:00+01:00" in kitchen.entry("2026-11-21-loin").document.data


def test_an_unsure_log_says_what_and_how_to_say_it_and_nothing_is_kept(
    run: Run, kitchen: Kitchen, tmp_path: Path
) -> None:
    (tmp_path / "log.csv").write_text(TABLE)
    before = sorted(kitchen.root.rglob("*.csv"))
    answer, _ = run("import", str(tmp_path / "log.csv"), code=2)
    assert answer["error"]["code"] == "unsure"
    assert "--at TIME" in answer["error"]["mend"]
    assert "--elapsed s or --elapsed min or --elapsed h" in answer["error"]["mend"]
    assert sorted(kitchen.root.rglob("*.csv")) == before


def test_with_its_options_it_is_kept_and_said_what_was_understood(run: Run, kitchen: Kitchen, tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_text(TABLE)
    options = ("--at", "2026-11-21T11:05:00+01:00", "--elapsed", "min", "--scale", "C", "--column", "3=pit")
    answer, _ = run("import", str(tmp_path / "log.csv"), *options)
    assert answer["readings"] == "2026-11-21-loin.csv"
    assert "column 2 is core, °C" in answer["understood"]
    readings = kitchen.readings(kitchen.entry("2026-11-21-loin"))
    assert [reading.core_c for reading in readings] == [5 + n * 2 for n in range(10)]
    assert (readings[1].at - readings[0].at).total_seconds() == 300


def test_on_a_terminal_each_doubt_is_asked(
    kitchen: Kitchen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    (tmp_path / "log.csv").write_text(TABLE)
    monkeypatch.setattr("sys.stdin", Terminal("perhaps\nmin\n2026-11-21T11:05:00+01:00\n"))
    words = ["log", "import", str(tmp_path / "log.csv"), "--scale", "C", "--kitchen", str(kitchen.root)]
    assert main(words) == 0
    said = capsys.readouterr().out
    assert said.count("It is open") == 3
    assert "whether the times up to 45 are seconds, minutes or hours" in said
    assert len(kitchen.readings(kitchen.entry("2026-11-21-loin"))) == 10


def test_adopting_asks_line_by_line(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    for words in (
        ["used", "walnuts", "--more", "20 g"],
        ["used", "olive oil", "--less", "20 ml"],
        ["otherwise", "--pull-at", "58C"],
        ["otherwise", "turned the drum to the wind"],
    ):
        assert main(["log", *words, "--kitchen", str(kitchen.root)]) == 0
    monkeypatch.setattr("sys.stdin", Terminal("n\n\ny\n\n"))
    assert main(["adopt", "2026-11-21-loin", "--kitchen", str(kitchen.root)]) == 0
    said = capsys.readouterr().out
    assert said.count("[Y/n]") == 3
    assert said.count("[y/N]") == 1
    paste = (kitchen.root / "recipes" / "walnut-paste.yaml").read_text()
    cook = (kitchen.root / "recipes" / "loin.yaml").read_text()
    assert "amount: 80 g" in paste
    assert "amount: 80 ml" not in paste
    assert "pull_at: 58 °C" in cook
    assert "steps" not in cook


@pytest.mark.parametrize(
    "options",
    [
        ("--cut", "brisket"),
        ("--cut", "unicorn"),
        ("--cut", "brisket, flat", "--weight", "8 cups"),
        ("--cut", "brisket, flat", "--bones", "loose"),
        ("--cut", "brisket, flat", "--faces", "belly"),
        ("--cut", "brisket, flat", "--bowl", "2 cups"),
        ("--cut", "brisket, flat", "--start", "8 cups"),
        ("--cut", "brisket, flat", "--start", "500C"),
    ],
)
def test_a_start_that_cannot_be_read_leaves_no_entry_behind(
    run: Run, kitchen: Kitchen, options: tuple[str, ...]
) -> None:
    before = sorted(kitchen.root.rglob("*"))
    answer, _ = run("start", "--new", "Cup", *options, code=2)
    assert answer["error"]["message"]
    assert sorted(kitchen.root.rglob("*")) == before


def test_another_cut_is_cooked_as_that_cut_or_refused(run: Run, kitchen: Kitchen) -> None:
    begun = ("start", "loin", "--at", "2026-11-22T09:00:00+01:00")
    answer, _ = run(*begun, "--cut", "brisket, flat", "--weight", "3.1kg", "--bowl", "212 g")
    entry = kitchen.entry(answer["entry"])
    assert entry.pieces[0].cut == "brisket, flat"
    assert "bowl: {empty: 212 g}" in entry.document.text
    assert answer["sheet"] != run(*begun, "--weight", "3.1kg")[0]["sheet"]
    assert run(*begun, "--cut", "brisket, flat", code=2)[0]["error"]["message"] == "how big is the piece?"
    alone = kitchen.entry(run(*begun, "--cut", "pork loin, boneless")[0]["entry"])
    assert alone.pieces[0].cut == "pork loin, boneless"


def test_the_days_sheet_is_said_in_spoons_that_a_cook_has(
    kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["log", "start", "loin", "--weight", "2.6kg", "--at", "2026-11-22T09:00:00+01:00"]
    assert main([*words, "--kitchen", str(kitchen.root)]) == 0
    assert "1/4 cup + 2 tsp  thyme, fresh\n" in capsys.readouterr().out


def test_the_days_sheet_says_what_goes_into_what_it_lists(
    run: Run, kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
) -> None:
    """As much as is needed, by weight 1.5 times of 1.5 times; a whole batch where nobody can tell."""
    for name, inside in (("inner", "- {item: paprika, amount: 20 g}\n- {recipe: dust, amount: 10 g}"),
                         ("dust", "- {item: juniper, amount: 5 g}"), ("dip", "- {item: stock, amount: 1 glug}")):
        text = f"kind: sauce\ntitle: {name}\ningredients:\n{inside}\n"
        (kitchen.root / "recipes" / f"{name}.yaml").write_text(text, encoding="utf-8")
    outer = ("kind: rub\ntitle: Outer\nmade_for: {cut: 'pork loin, boneless', weight: 2 kg}\ningredients:\n"
             "- {recipe: inner, amount: 30 g, follows: weight}\n- {recipe: dip, amount: 1 tsp, follows: weight}\n")
    (kitchen.root / "recipes" / "outer.yaml").write_text(outer, encoding="utf-8")
    begun = run("start", "outer", "--weight", "3kg")[0]
    assert begun["sheet"] == {"outer": {"inner": "45 g", "dip": "1 1/2 tsp"}}
    assert [(one["recipe"], one["into"], one["sheet"], bool(one["notes"])) for one in begun["inside"]] == [
        ("inner", "outer", {"paprika": "30 g", "dust": "15 g"}, False),
        ("dip", "outer", {"stock": "1 glug"}, True), ("dust", "inner", {"juniper": "15 g"}, False)]
    assert main(["log", "start", "outer", "--weight", "3kg", "--kitchen", str(kitchen.root)]) == 0
    said = capsys.readouterr().out
    assert "the day's sheet, dust, as much as goes into inner:\n  15 g  juniper\n" in said
    assert "the day's sheet, dip, for outer:\n  1 glug  stock\nnote: a whole batch" in said


def test_every_score_is_kept_whoever_gave_it(run: Run, kitchen: Kitchen) -> None:
    scores = ("--score", "crust=8", "--by", "Ann", "--score", "crust=7", "--by", "Bob", "--score", "crust=6")
    answer, _ = run("finish", *scores, "--score", "taste=9")
    assert answer["read"] == "finished: crust Ann 8, Bob 7, the cook 6, taste 9"
    entry = kitchen.entry(answer["entry"])
    assert entry.scores == {"crust": {"Ann": 8, "Bob": 7, "the cook": 6}, "taste": {"the cook": 9}}
    run("finish", "--score", "taste=5", "--by", "Ann", "--entry", entry.name)
    assert kitchen.entry(entry.name).scores["taste"] == {"the cook": 9, "Ann": 5}
    run("finish", "--score", "crust=6.5", "--entry", entry.name)
    assert kitchen.entry(entry.name).scores["crust"] == {"Ann": 8, "Bob": 7, "the cook": 6.5}


def test_a_bad_score_takes_no_good_one_with_it(run: Run, kitchen: Kitchen) -> None:
    answer, warned = run("finish", "--score", "crust=8", "--score", "taste=12", "--score", "nice")
    entry = kitchen.entry(answer["entry"])
    assert (entry.scores, entry.open) == ({"crust": {"the cook": 8}}, False)
    assert [note.text for note in entry.notes if note.unread] == ["score taste=12", "score nice"]
    assert "'12' is no score" in warned
    answer, _ = run("finish", "--score", "taste=12", "--entry", entry.name)
    assert answer["read"] == "note, unread: finish --score taste=12"


def test_what_could_not_be_read_is_kept_as_it_was_typed(run: Run) -> None:
    answer, warned = run("used", "almonds", "--left-out", "--in", "walnut-paste")
    assert answer["read"] == "note, unread: used almonds --left-out --in walnut-paste"
    assert "not on the day's sheet" in warned


def test_a_score_of_one_piece_leaves_the_entry_open(run: Run, kitchen: Kitchen) -> None:
    pieces = ("--piece", "first", "--weight", "2kg", "--piece", "second", "--weight", "3kg")
    name = run("start", "loin", *pieces, "--at", "2026-11-22T09:00:00+01:00")[0]["entry"]
    run("finish", "--score", "crust=8", "--piece", "second")
    assert (kitchen.entry(name).scores, kitchen.entry(name).open) == ({"crust": {"the cook, second": 8}}, True)


@pytest.mark.parametrize(
    ("answers", "asked", "taken"), [("n\n", 1, False), ("perhaps\nno\n", 2, False), ("nay\ny\n", 2, True)]
)
def test_adopting_asks_again_until_it_is_yes_or_no_and_may_take_nothing(
    kitchen: Kitchen,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    answers: str,
    asked: int,
    taken: bool,
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    assert main(["log", "used", "walnuts", "--more", "20 g", "--kitchen", str(kitchen.root)]) == 0
    path = kitchen.root / "recipes" / "walnut-paste.yaml"
    before = path.read_bytes()
    monkeypatch.setattr("sys.stdin", Terminal(answers))
    assert main(["adopt", "2026-11-21-loin", "--kitchen", str(kitchen.root)]) == 0
    said = capsys.readouterr().out
    assert said.count("[Y/n]") == asked
    assert ("nothing taken" not in said, path.read_bytes() != before) == (taken, taken)
    assert (kitchen.entry("2026-11-21-loin").adopted is not None) == taken


def test_adopting_writes_nothing_where_the_answers_end(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    main(["log", "used", "walnuts", "--more", "20 g", "--kitchen", str(kitchen.root)])
    before = (kitchen.root / "recipes" / "walnut-paste.yaml").read_bytes()
    monkeypatch.setattr("sys.stdin", Terminal(""))
    assert main(["adopt", "2026-11-21-loin", "--kitchen", str(kitchen.root)]) == 2
    assert "the answers ended" in capsys.readouterr().err
    assert (kitchen.root / "recipes" / "walnut-paste.yaml").read_bytes() == before


def test_undo_takes_back_what_was_done_last_a_finish_or_a_start_too(run: Run, kitchen: Kitchen) -> None:
    run("finish", "--score", "crust=8")
    assert run("undo")[0]["read"] == "finished: crust 8"
    assert kitchen.entry("2026-11-21-loin").open
    begun = run("start", "loin", "--at", "2026-11-20T09:00:00+01:00")[0]["entry"]
    assert run("undo")[0] == {"entry": begun, "read": "the entry that was begun", "warnings": []}
    assert [path.stem for path in kitchen.entry_paths()] == ["2026-11-21-loin"]


def test_less_than_nothing_is_not_counted_and_the_sheet_is_named(run: Run, kitchen: Kitchen) -> None:
    _, warned = run("used", "walnuts", "--less", "500 g")
    assert "500 g less walnuts would be less than nothing: the day's sheet says 108 g" in warned
    _, warned = run("core 48C, 500 g less walnuts")
    assert "'500 g less walnuts' is kept as a note" in warned
    assert run("500 g less walnuts")[0]["read"] == "note, unread: 500 g less walnuts"
    assert kitchen.entry("2026-11-21-loin").as_made == {}
    run("used", "walnuts", "--less", "100 g")
    _, warned = run("used", "walnuts", "--less", "1/4 cup")
    assert "the day's sheet says 108 g, 8 g with what was logged" in warned
    assert len(kitchen.entry("2026-11-21-loin").as_made["walnut-paste"]) == 1


def test_a_reading_of_the_balance_says_the_difference_it_means(run: Run) -> None:
    answer, _ = run("used", "walnuts", "--reads", "300 g")
    assert "nothing says what the balance read before walnuts went in" in answer["warnings"][0]
    run("undo")
    run("used", "bowl", "--reads", "212 g")
    assert run("used", "walnuts", "--reads", "292 g")[0]["read"].endswith("reads 292 g, so 80 g went in")
    run("used", "thyme, fresh")
    assert run("used", "olive oil", "--reads", "392 g")[0]["read"].endswith("so 100 g together with thyme, fresh")
    assert "100 g less than before" in run("used", "fine salt", "--reads", "292 g")[0]["warnings"][0]


def test_the_bowl_says_what_went_onto_the_meat_or_what_is_missing(run: Run) -> None:
    run("start", "loin", "--bowl", "212 g", "--at", "2026-11-22T09:00:00+01:00")
    answer, _ = run("used", "bowl", "--after", "260 g")
    assert answer["warnings"] == [
        "what went onto the meat needs the full bowl's weight too: log `used bowl --before MASS`"
    ]
    assert run("used", "bowl", "--reads", "612 g")[0]["read"].endswith("full 612 g, so 400 g are in it")
    answer, _ = run("used", "bowl", "--after", "260 g")
    assert answer["read"].endswith("after 260 g, so 352 g went onto the meat, 48 g stayed in it")


def test_a_line_of_another_day_is_read_back_with_its_day(run: Run) -> None:
    at = ("--at", "2025-11-20T11:05:00+01:00")
    for words in (("core 48C",), ("note", "wind"), ("used", "walnuts", "80 g"), ("finish", "--score", "crust=8")):
        assert run(*words, *at)[0]["read"].startswith("20 Nov 2025 ")
