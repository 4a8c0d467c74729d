"""A kitchen's life as a machine of states: whatever a cook does in any order, and whoever is killed meanwhile."""

from __future__ import annotations

import json
import os
import re
import shutil
import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from cookbook.errors import Conflict, RequestError
from cookbook.journal.probelog import Said, understand
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import adoptions, write
from cookbook.kitchen.cache import cache_folder
from cookbook.kitchen.checking import check, rewrite, text_of
from cookbook.kitchen.importing import made_of
from cookbook.kitchen.importing import write as write_imported
from cookbook.kitchen.log import logbook, once, undoing
from cookbook.kitchen.log.intake import take_in
from cookbook.kitchen.renaming import rename
from tests.conftest import COOK, PASTE
from tests.files.child import in_child
from tests.kitchen.finding.test_index import anew, said

BEGIN = datetime(2026, 11, 21, 11, 0, tzinfo=UTC)
LOG = "at,core °C,pit °C\n" + "".join(
    f"2026-11-21T{11 + n // 6}:{n % 6}0:00+00:00,{5 + 10 * n},121\n" for n in range(9)
)
LOOSE = "Plum and sage paste\n\n{grams} g plums\na hatful of honey\n2 tbsp sage, chopped\n\nPound it all.\n"
FOREIGN = {
    "@context": "https://schema.org", "@type": "Recipe", "name": "Plum &amp; sage paste",
    "recipeIngredient": ["2 tablespoons (30 ml) olive oil", "a hatful of honey"],
    "recipeInstructions": "Pound it all.",
}
CALLS = ("fsync", "write", "replace", "link", "unlink", "open", "close", "rename", "mkdir")


class Lives(RuleBasedStateMachine):
    """Beside the kitchen stands what it must still hold: every line that was acknowledged, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.root = Path(tempfile.mkdtemp())
        self.lines: dict[str, list[str]] = {}
        """By entry the marks of its lines; undo takes the last one back."""
        self.stopped: set[str] = set()
        """Entries that a hand has edited or that were adopted: undo must refuse, or take back what it knows."""
        self.recipes: dict[str, str] = {}
        """Today's name of each recipe by its first one."""
        self.imported: dict[str, bytes] = {}
        """What each recipe from elsewhere holds; only adopting changes it here."""
        self.outside = Path(tempfile.mkdtemp())
        self.number = 0

    @initialize()
    def move_in(self) -> None:
        (self.root / "recipes").mkdir()
        for name, text in (("walnut-paste", PASTE), ("loin", COOK)):
            (self.root / "recipes" / f"{name}.yaml").write_text(text, encoding="utf-8")
            self.recipes[name] = name

    def teardown(self) -> None:
        shutil.rmtree(self.root)
        shutil.rmtree(self.outside)

    @property
    def kitchen(self) -> Kitchen:
        return Kitchen.open(self.root)

    def mark(self) -> str:
        self.number += 1
        return f"mark-{self.number:03}-here"

    def at(self) -> datetime:
        return BEGIN + timedelta(minutes=self.number)

    def path(self, entry: str) -> Path:
        return next((self.root / "journal").rglob(f"{entry}.yaml"))

    def text(self, entry: str) -> str:
        return self.path(entry).read_text(encoding="utf-8")

    # the cook

    @rule(grams=st.integers(1, 400))
    def edit_a_recipe(self, grams: int) -> None:
        text = text_of(self.kitchen, self.recipes["walnut-paste"])
        new = re.sub(r"(item: walnuts\n\s*amount:) .*", rf"\1 {grams} g", text.text)
        rewrite(self.kitchen, text.name, new, text.sha256)
        assert f"{grams} g" in text_of(self.kitchen, text.name).text

    @rule(recipe=st.sampled_from(["walnut-paste", "loin"]))
    def write_a_remark_by_hand(self, recipe: str) -> None:
        path = self.root / "recipes" / f"{self.recipes[recipe]}.yaml"
        path.write_bytes(path.read_bytes() + f"# {self.mark()}\n".encode())

    @rule()
    def save_over_what_has_changed(self) -> None:
        text = text_of(self.kitchen, self.recipes["loin"])
        self.write_a_remark_by_hand("loin")
        with pytest.raises(Conflict):
            rewrite(self.kitchen, text.name, text.text, text.sha256)

    @rule(recipe=st.sampled_from(["walnut-paste", "loin"]))
    def begin(self, recipe: str) -> None:
        new = logbook.start(self.kitchen, self.recipes[recipe], {"": {"weight": "3.1 kg"}}, BEGIN)
        self.lines[new.name] = []

    @rule(name=st.sampled_from(["plum-paste", "sage-paste"]), loose=st.booleans(), grams=st.integers(1, 400))
    def import_a_recipe(self, name: str, loose: bool, grams: int) -> None:
        found = self.outside / ("found.txt" if loose else "found.json")
        lines = [f"{grams} g plums", *FOREIGN["recipeIngredient"]]
        text = LOOSE.format(grams=grams) if loose else json.dumps(FOREIGN | {"recipeIngredient": lines})
        found.write_text(text, encoding="utf-8")
        made = made_of(self.kitchen, found, name, "paste", {"cut": "pork loin, boneless", "weight": "2 kg"})
        assert [one.text for one in made.unread] == ["a hatful of honey"]
        if name in self.imported:
            with pytest.raises(RequestError, match="already"):
                write_imported(self.kitchen, made)
            return
        write_imported(self.kitchen, made)
        self.imported[name] = made.data
        amounts = {str(one.amount): one.item for one in self.kitchen.recipe(name).ingredients}
        assert amounts[f"{grams} g"] == "plums"

    @precondition(lambda self: self.imported)
    @rule(data=st.data())
    def begin_what_was_imported(self, data: st.DataObject) -> None:
        name = data.draw(st.sampled_from(sorted(self.imported)))
        new = logbook.start(self.kitchen, name, {"": {"weight": "3.1 kg"}}, BEGIN)
        self.lines[new.name] = []

    @rule()
    def begin_without_a_recipe(self) -> None:
        new = logbook.start_new(self.kitchen, "Plum paste", "paste", "pork loin, boneless", {"": {"weight": "2 kg"}},
                                BEGIN)
        self.lines[new.name] = []

    @precondition(lambda self: self.lines)
    @rule(data=st.data(), what=st.sampled_from(["note", "line", "taste", "next"]))
    def log(self, data: st.DataObject, what: str) -> None:
        entry, mark = data.draw(st.sampled_from(sorted(self.lines))), self.mark()
        once.log(self.kitchen, entry, what, {"words": [mark, "ämber"]}, self.at())
        self.lines[entry].append(mark)

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def use_more(self, data: st.DataObject) -> None:
        entry, grams = data.draw(st.sampled_from(sorted(self.lines))), 1000 + self.number
        before = self.path(entry).read_bytes()
        done = once.log(self.kitchen, entry, "line", {"words": [f"{grams} g more walnuts"]}, self.at())
        self.number += 1
        assert self.path(entry).read_bytes() != before, done
        self.lines[entry].append(f"{grams} g")

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def read_the_probe(self, data: st.DataObject) -> None:
        entry, self.number = data.draw(st.sampled_from(sorted(self.lines))), self.number + 1
        degrees = f"{20 + self.number / 100:g} °C"
        once.log(self.kitchen, entry, "reading", {"values": [f"core={degrees}"]}, self.at())
        self.lines[entry].append(degrees)

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def take_in_a_log(self, data: st.DataObject) -> None:
        entry = data.draw(st.sampled_from(sorted(self.lines)))
        log = understand(LOG.encode(), Said(), BEGIN.date(), "C", UTC)
        own = f"{entry}.csv"
        if own in self.lines[entry]:
            with pytest.raises(RequestError, match="already"):
                take_in(self.kitchen, self.kitchen.entry(entry), LOG.encode(), log, None)
        else:
            assert take_in(self.kitchen, self.kitchen.entry(entry), LOG.encode(), log, None)[1] == own
            self.lines[entry].append(own)

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def take_back(self, data: st.DataObject) -> None:
        entry = data.draw(st.sampled_from(sorted(self.lines)))
        if entry in self.stopped:
            with suppress(Conflict, RequestError):
                undoing.undo(self.kitchen, self.kitchen.entry(entry))
                if entry in [path.stem for path in self.kitchen.entry_paths()]:
                    self.is_gone(entry)
                else:  # the last step taken back was the beginning
                    assert not any(self.lines.pop(entry)), "an entry went with lines that nobody took back"
            return
        undoing.undo(self.kitchen, self.kitchen.entry(entry))
        if self.lines[entry]:
            self.is_gone(entry)
        else:
            del self.lines[entry]
            assert entry not in [path.stem for path in self.kitchen.entry_paths()]

    def is_gone(self, entry: str) -> None:
        gone = self.lines[entry].pop() if self.lines[entry] else ""
        assert not gone or gone not in self.text(entry)

    @precondition(lambda self: self.lines)
    @rule(data=st.data(), score=st.integers(0, 20))
    def finish(self, data: st.DataObject, score: int) -> None:
        entry = data.draw(st.sampled_from(sorted(self.lines)))
        before = self.path(entry).read_bytes()
        done = once.log(self.kitchen, entry, "finish", {"scores": [[f"crust={score / 2:g}", None]]}, self.at())
        if self.path(entry).read_bytes() != before:
            first = b"finished:" not in before  # of another finish only the scores are new
            self.lines[entry].append(done.words[:12] if done.warnings else "finished:" if first else "")

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def write_into_an_entry_by_hand(self, data: st.DataObject) -> None:
        entry = data.draw(st.sampled_from(sorted(self.lines)))
        path = self.path(entry)
        path.write_bytes(path.read_bytes() + b"# by hand\n")
        self.stopped.add(entry)

    @precondition(lambda self: self.lines)
    @rule(data=st.data())
    def adopt(self, data: st.DataObject) -> None:
        kitchen = self.kitchen
        entry = kitchen.entry(data.draw(st.sampled_from(sorted(self.lines))))
        with suppress(RequestError):
            write(kitchen, entry, adoptions(kitchen, entry))
            self.stopped.add(entry.name)
            if entry.recipe in self.imported:
                self.imported[entry.recipe] = (self.root / "recipes" / f"{entry.recipe}.yaml").read_bytes()

    @rule(recipe=st.sampled_from(["walnut-paste", "loin"]), other=st.sampled_from(["first", "second", "third"]))
    def rename_a_recipe(self, recipe: str, other: str) -> None:
        new = f"{recipe}-{other}"
        with suppress(RequestError):
            rename(self.kitchen, self.recipes[recipe], new)
            self.recipes[recipe] = new

    # the machine

    @rule()
    def ask(self) -> None:
        list(self.kitchen.entries(naming=[self.recipes["loin"]]))
        said(self.kitchen)

    @rule(garble=st.booleans())
    def lose_the_index(self, garble: bool) -> None:
        file = cache_folder(self.root) / "index.sqlite"
        if garble and file.exists():
            data = bytearray(file.read_bytes())
            data[len(data) // 3: len(data) // 3 + 200] = b"\xa5" * len(data[len(data) // 3: len(data) // 3 + 200])
            file.write_bytes(data)
        else:
            file.unlink(missing_ok=True)

    @precondition(lambda self: self.lines)
    @rule(data=st.data(), call=st.sampled_from(CALLS), number=st.integers(1, 6))
    def be_killed_while_logging(self, data: st.DataObject, call: str, number: int) -> None:
        entry, mark = data.draw(st.sampled_from(sorted(self.lines))), self.mark()

        def work(say: Callable[[str], None]) -> None:
            _die_at(call, number)
            once.log(Kitchen.open(self.root), entry, "note", {"words": [mark]}, self.at(), mark)
            say("done")

        ended = in_child(work)
        there = mark in self.text(entry)
        assert there or ended.said != "done\n", "an acknowledged line is gone"
        again = once.log(self.kitchen, entry, "note", {"words": [mark]}, self.at(), mark)
        assert again.again or not there, "what had come before was logged twice"
        self.lines[entry].append(mark)
        if there:
            self.stopped.add(entry)  # the line may be in and its undo not remembered

    # what always holds

    @invariant()
    def every_acknowledged_line_is_there_once(self) -> None:
        names = {path.stem: path for path in self.kitchen.entry_paths()}
        assert names.keys() == self.lines.keys()
        for entry, marks in self.lines.items():
            text = names[entry].read_text(encoding="utf-8")
            for mark in marks:
                assert text.count(mark) == 1 or not mark.startswith("mark-"), (entry, mark)
                assert mark in text, (entry, mark)

    @invariant()
    def check_finds_no_error_and_versions_resolve(self) -> None:
        if self.recipes:
            assert [one.printed() for one in check(self.kitchen).problems if one.severity == "error"] == []

    @invariant()
    def what_was_imported_stays_as_it_came(self) -> None:
        for name, data in self.imported.items():
            assert (self.root / "recipes" / f"{name}.yaml").read_bytes() == data

    @invariant()
    def the_index_says_what_the_texts_say(self) -> None:
        if self.recipes:
            assert said(self.kitchen) == anew(self.kitchen)


def _die_at(call: str, number: int) -> None:
    """From now on this process ends at the n-th call of this name, before or after it is made."""
    made = getattr(os, call)
    left = [number]

    def counting(*given: object, **more: object) -> object:
        left[0] -= 1
        if left[0] == 0:
            os._exit(137)
        return made(*given, **more)

    setattr(os, call, counting)
