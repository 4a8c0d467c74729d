"""Writing the journal: plain entries, nothing of the cook's own text touched, the last line taken back."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from cookbook.errors import Conflict, FileError, RequestError, UnknownName
from cookbook.journal import Entry
from cookbook.journal.field import entry_record
from cookbook.kitchen import Kitchen, store
from cookbook.kitchen.log import logbook, loglines, reminders, undoing
from cookbook.quantity import own_weights, weighing

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def log(kitchen: Kitchen, entry: Entry, what: str, **said: object) -> Entry:
    line = loglines.line_of(entry, what, {"piece": None, **said}, AT)
    return logbook.add(kitchen, entry, line.change, line.words)


def path_of(kitchen: Kitchen, entry: Entry) -> Path:
    return next(path for path in kitchen.entry_paths() if path.stem == entry.name)


def test_an_entry_is_tied_to_the_exact_text_of_every_recipe_inside(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1kg"}}, AT, "6C")
    assert entry.name == "2026-11-21-loin"
    assert entry.version == kitchen.version_now(kitchen.recipe("loin"))
    assert entry.uses == {"walnut-paste": kitchen.version_now(kitchen.recipe("walnut-paste"))}
    for name, version in entry.versions.items():
        kept = next(one for one in store.kept(kitchen.root, name) if one.version == version)
        assert store.read(kept, "kept") == (kitchen.root / "recipes" / f"{name}.yaml").read_bytes()
    assert entry.pieces[0].known["weight"] == 3100


def test_the_days_sheet_has_the_amounts_for_this_piece(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    sheet = logbook.start(kitchen, "loin", {"": {"weight": "4.4 kg"}}, AT).sheet["walnut-paste"]
    assert str(sheet["fine salt"]) == "48 g"
    assert str(sheet["walnuts"]) == "149 g"


def test_a_second_entry_of_a_day_ends_in_2(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    names = [logbook.start(kitchen, "loin", {}, AT).name for _ in range(3)]
    assert names == ["2026-11-21-loin", "2026-11-21-loin-2", "2026-11-21-loin-3"]


def test_lines_are_added_and_what_the_cook_typed_stays_byte_for_byte(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    path = path_of(kitchen, entry)
    own = path.read_text().replace("sheet:", "weather:   wind   # from the west\n# a windy day\nsheet:")
    path.write_text(own)
    entry = log(kitchen, kitchen.entry(entry.name), "event", did=["on"])
    entry = log(kitchen, entry, "reading", values=["core=48C", "pit=250F"])
    entry = log(kitchen, entry, "used", item="walnuts", more="8 g", into=None)
    entry = log(kitchen, entry, "next", words=["light", "it", "earlier"])
    now = path.read_text()
    assert now.startswith(own)
    assert [event.did for event in entry.events] == ["on", None]
    assert entry.events[1].core is not None
    assert entry.events[1].core.c == 48
    assert entry.next_time[0].line == "light it earlier"
    assert 'at: "2026-11-21T11:05:00+01:00", did: on' in now


def test_undo_takes_back_one_line_after_the_other_exactly(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {}, AT)
    texts = [path_of(kitchen, entry).read_bytes()]
    for word in ("lit", "on", "wrapped"):
        entry = log(kitchen, entry, "event", did=[word])
        texts.append(path_of(kitchen, entry).read_bytes())
    for text in reversed(texts[:-1]):
        undoing.undo(kitchen, entry)
        assert path_of(kitchen, entry).read_bytes() == text
    assert undoing.undo(kitchen, entry) == "the entry that was begun"
    assert kitchen.entry_paths() == []
    with pytest.raises(RequestError, match="nothing that was logged"):
        undoing.undo(kitchen, entry)


def test_an_entry_begun_anew_remembers_nothing_of_one_that_was_called_so(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = log(kitchen, logbook.start(kitchen, "loin", {}, AT), "event", did=["on"])
    path_of(kitchen, entry).unlink()
    assert undoing.last_written(kitchen) is None
    again = logbook.start(kitchen, "loin", {}, AT)
    assert undoing.last_written(kitchen) == again.name == entry.name
    assert undoing.undo(kitchen, again) == "the entry that was begun"


def test_undo_never_takes_back_what_somebody_changed_by_hand(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = log(kitchen, logbook.start(kitchen, "loin", {}, AT), "event", did=["on"])
    path = path_of(kitchen, entry)
    path.write_text(path.read_text() + "# mine\n")
    with pytest.raises(Conflict):
        undoing.undo(kitchen, entry)
    assert path.read_text().endswith("# mine\n")


def test_undo_says_that_a_line_may_have_come_while_nothing_could_be_remembered(
    make_kitchen: MakeKitchen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = make_kitchen()
    entry = log(kitchen, logbook.start(kitchen, "loin", {}, AT), "event", did=["on"])
    (tmp_path / "full").write_bytes(b"")
    with monkeypatch.context() as unwritable:
        unwritable.setenv("XDG_CACHE_HOME", str(tmp_path / "full"))
        entry = log(kitchen, entry, "event", did=["wrapped"])
    with pytest.raises(Conflict, match="by hand or while none could be remembered; nothing was written") as refused:
        undoing.undo(kitchen, entry)
    assert refused.value.mend == "take what is to go out of the file by hand"
    assert "wrapped" in path_of(kitchen, entry).read_text()


def test_from_nothing_with_the_bowl_on_the_balance(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start_new(
        kitchen, "Hazelnut & orange paste", "paste", "pork loin, boneless", {"": {"weight": "3.1kg"}}, AT, "212g"
    )
    assert (entry.name, entry.recipe, entry.title) == (
        "2026-11-21-hazelnut-orange-paste",
        None,
        "Hazelnut & orange paste",
    )
    entry = log(kitchen, entry, "used", item="hazelnuts", reads="292g", into=None)
    assert dict(entry.as_made["hazelnut-orange-paste"][1]) == {"item": "hazelnuts", "reads": 292.0}


def test_the_open_entry_is_the_newest_that_is_not_finished(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    first = logbook.start(kitchen, "loin", {}, AT)
    second = logbook.start(kitchen, "loin", {}, AT + timedelta(days=1))
    assert logbook.open_entry(kitchen).name == second.name
    log(kitchen, second, "finish", scores=[["crust=8", "Ada"], ["crust=7", "Ben"], ["taste=9", None]])
    assert logbook.open_entry(kitchen).name == first.name
    done = kitchen.entry(second.name)
    assert done.scores == {"crust": {"Ada": 8, "Ben": 7}, "taste": {"the cook": 9}}
    assert not done.open


def test_a_finished_kitchen_says_how_to_begin(make_kitchen: MakeKitchen) -> None:
    with pytest.raises(RequestError, match="no entry is open") as caught:
        logbook.open_entry(make_kitchen())
    assert caught.value.mend is not None


@pytest.mark.parametrize(
    ("what", "said", "words"),
    [
        ("reading", {"values": ["48"]}, "no scale"),
        ("reading", {"values": ["oven=48C"]}, "no probe"),
        ("used", {"item": "almonds", "more": "8 g", "into": None}, "not on the day's sheet"),
        ("about", {"field": "wether", "words": ["rain"]}, "'wether' is nothing that is said"),
        ("used", {"item": "walnuts", "before": "80 g", "into": None}, "needs --after"),
        ("used", {"item": "walnuts", "amount": "3 cupz", "into": None}, "cupz"),
        ("used", {"item": "bowl", "into": None}, "what did the balance read"),
        ("finish", {"scores": [["crust=11", None]]}, "no score"),
        ("event", {"did": ["on"], "piece": "big"}, "no piece of this entry"),
    ],
)
def test_what_cannot_be_read_says_why(
    make_kitchen: MakeKitchen, what: str, said: dict[str, object], words: str
) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {}, AT)
    with pytest.raises(RequestError, match=words):
        loglines.line_of(entry, what, {"piece": None, **said}, AT)


def test_without_a_days_sheet_nothing_is_named_that_could_be_on_it(make_kitchen: MakeKitchen) -> None:
    known = {"": {"weight": "2 kg"}}
    entry = logbook.start_new(make_kitchen(), "Plum paste", "paste", "pork loin, boneless", known, AT)
    with pytest.raises(RequestError, match="not on the day's sheet") as caught:
        loglines.line_of(entry, "used", {"piece": None, "into": None, "item": "mint", "left_out": True}, AT)
    assert caught.value.mend == "say how much of it went in"


def test_every_acknowledged_line_of_several_writers_at_once_is_there(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {}, AT)

    def write(number: int) -> None:
        for n in range(10):
            log(kitchen, entry, "reading", values=[f"core={number * 10 + n + 1}C"])

    threads = [threading.Thread(target=write, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    found = sorted(event.core.c for event in kitchen.entry(entry.name).events if event.core)
    assert found == [float(n) for n in range(1, 41)]


def test_open_next_time_lines_come_up_for_the_same_coat(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    log(kitchen, logbook.start(kitchen, "loin", {}, AT), "next", words=["more walnuts"])
    later = logbook.start(kitchen, "walnut-paste", {"": {"weight": "2 kg"}}, AT + timedelta(days=2))
    assert [one.line for one in reminders.for_entry(kitchen, later)] == ["more walnuts"]


def test_an_entry_is_found_by_the_beginning_of_its_name(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    logbook.start(kitchen, "loin", {}, AT)
    assert kitchen.entry("2026-11-21").name == "2026-11-21-loin"
    with pytest.raises(UnknownName) as caught:
        kitchen.entry("2026-11-21-lion")
    assert caught.value.nearest == ("2026-11-21-loin",)


def test_less_than_nothing_is_told_by_the_kitchens_own_weights(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)
    said = {"item": "walnuts", "less": "1 cup"}
    with pytest.raises(RequestError, match="less than nothing"):
        loglines.line_of(entry, "used", said, AT)
    own = own_weights([weighing("walnuts", "1 cup", "60 g", "us")])
    assert loglines.line_of(entry, "used", said, AT, None, own).words == "walnuts, 1 cup less"


def test_the_balance_counts_by_the_kitchens_own_weights(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "walnut-paste", {}, AT, bowl="300g")
    entry = log(kitchen, entry, "used", item="walnuts", amount="1 cup")
    said = {"item": "olive oil", "reads": "400 g"}
    own = own_weights([weighing("walnuts", "1 cup", "60 g", "us")])
    assert "so 40 g went in" in loglines.line_of(entry, "used", said, AT, None, own).words
    assert "so 40 g went in" not in loglines.line_of(entry, "used", said, AT).words


def test_a_time_that_was_said_is_kept_with_what_was_said(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)
    entry = log(kitchen, entry, "next", words=["light", "it", "earlier"], at="14:05")
    entry = log(kitchen, entry, "otherwise", did=["oil", "last"], at="14:05")
    entry = log(kitchen, entry, "next", words=["more salt"])
    assert [line.line for line in entry.next_time] == ["light it earlier", "more salt"]
    assert entry.deviations == ("oil last",)
    assert (entry.fields["next_time"][0]["at"], entry.fields["deviations"][0]["at"]) == (AT, AT)
    about = loglines.line_of(entry, "about", {"field": "weather", "words": ["rain"], "at": "14:05"}, AT)
    assert "holds for the whole cook" in about.doubts[0]


def test_part_of_an_items_name_is_enough_where_only_one_is_meant(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)
    assert loglines.line_of(entry, "used", {"item": "Salt", "more": "5 g"}, AT).words.endswith("fine salt, 5 g more")
    alone = loglines.line_of(entry, "used", {"item": "walnuts"}, AT)
    assert alone.words == "walnuts, went in, nobody weighed it"


def test_a_reading_that_can_hardly_be_is_kept_and_asked_about(make_kitchen: MakeKitchen) -> None:
    entry = logbook.start(make_kitchen(), "loin", {"": {"weight": "2.2 kg"}}, AT)
    line = loglines.line_of(entry, "reading", {"values": ["204C", "pit=121C"]}, AT)
    assert line.doubts == (
        "it is kept, but no core over a fire is at 204 °C: was it another probe, or the other scale?",
    )


def test_what_was_left_out_is_said_in_words(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    line = loglines.line_of(entry, "used", {"piece": None, "item": "walnuts", "into": None, "left_out": True}, AT)
    assert line.words == "walnuts, left out"


def test_undo_goes_on_where_it_was_cut_off_before_it_forgot_the_line(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    path = path_of(kitchen, entry)
    log(kitchen, entry, "note", words=["wind"])
    before = path.read_bytes()
    log(kitchen, entry, "note", words=["rain"])
    path.write_bytes(before)
    assert undoing.undo(kitchen, entry).endswith("wind")
    assert path.read_bytes().find(b"wind") == -1


def test_where_the_cache_refuses_a_line_is_logged_and_nothing_half_stays_there(
    make_kitchen: MakeKitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    from cookbook.kitchen.cache import cache_folder

    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", full)
        log(kitchen, entry, "note", words=["wind"])
    kept = [path.name for path in (cache_folder(kitchen.root) / "undo").iterdir()]
    assert kept == [f"{entry.name}.json"]
    assert b"wind" in path_of(kitchen, entry).read_bytes()


def test_an_entry_that_is_broken_is_told_where_no_other_is_open(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    path = path_of(kitchen, logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT))
    path.write_bytes(path.read_bytes() + b"wether: rain\n")
    with pytest.raises(FileError, match="wether"):
        logbook.open_entry(kitchen)


def test_a_weights_table_that_cannot_be_read_refuses_no_line(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    (kitchen.root / "shared").mkdir()
    (kitchen.root / "shared" / "ingredients.yaml").write_text("- {item: walnuts, weight: many}\n")
    assert logbook.weights_of(Kitchen.open(kitchen.root)) == {}
    assert log(Kitchen.open(kitchen.root), entry, "used", item="walnuts", less="1 tbsp", into=None).as_made


def test_a_new_key_goes_where_the_fields_have_it_and_a_sub_key_last(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    for field, words in (("price", "30"), ("cooker", "drum"), ("weather", "rain")):
        log(kitchen, entry, "about", field=field, words=[words])
    log(kitchen, entry, "finish", scores=[["crust=8", None]], served=None, weight_after=None)
    log(kitchen, entry, "score", scores=[["juice=7", "Ada"]])
    document = kitchen.entry(entry.name).document
    assert document.root is not None
    order = list(entry_record().fields)
    keys = document.root.keys()
    assert keys == sorted(keys, key=order.index)
    assert kitchen.entry(entry.name).scores.keys() == {"crust", "juice"}


def test_a_second_taster_joins_the_first(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)
    for taster, crust in (("Ada", "8"), ("Ben", "7")):
        log(kitchen, entry, "score", scores=[[f"crust={crust}", taster]])
    assert kitchen.entry(entry.name).scores == {"crust": {"Ada": 8, "Ben": 7}}
