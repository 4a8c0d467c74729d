"""`check`: every fault of every file in one run, the readers and the schema of one mind."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from cookbook.files import parse
from cookbook.kitchen import Kitchen, store
from cookbook.kitchen.checking import check
from cookbook.kitchen.checking.schema import faults, schema_of
from cookbook.kitchen.log import logbook, loglines
from cookbook.kitchen.starter import new, starter
from cookbook.recipe import read
from tests.conftest import COOK, PASTE

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def codes(kitchen: Kitchen) -> list[str]:
    return [problem.code for problem in check(Kitchen.open(kitchen.root)).problems]


def test_the_demonstration_kitchen_has_no_problem_of_any_severity() -> None:
    report = check(Kitchen.open(starter()))
    assert [problem.printed() for problem in report.problems] == []
    assert (report.recipes, report.entries) == (10, 12)


@pytest.mark.parametrize("example", [False, True])
def test_a_new_kitchen_has_none_either(tmp_path: Path, example: bool) -> None:
    report = check(Kitchen.open(new(tmp_path / "mine", example)))
    assert report.problems == ()
    assert report.entries == (12 if example else 0)


def test_a_new_kitchen_has_no_life_of_somebody_else(tmp_path: Path) -> None:
    made = new(tmp_path / "mine")
    names = {path.relative_to(made).as_posix() for path in made.rglob("*") if path.is_file()}
    assert "recipes/fennel-sage-paste.yaml" in names
    assert "shared/kitchen.yaml" in names
    assert not any(name.startswith(("journal/", "recipes/versions")) for name in names)
    assert not names & {f"shared/{table}.yaml" for table in ("eaters", "prices", "releases", "questions", "at_home")}


def test_faults_of_all_files_come_together(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {
            "recipes/one.yaml": PASTE.replace("80 g", "80 grm"),
            "recipes/two.yaml": COOK,
            "shared/cookers.yaml": "drum: {kind: dram}\n",
            "journal/2026/x.yaml": 'titel: x\ndate: "2026-11-21"\n',
            "shared/pries.yaml": "- {}\n",
        }
    )
    assert sorted(set(codes(kitchen))) == [
        "amount",
        "missing-recipe",
        "unknown-field",
        "unknown-table",
        "unknown-word",
    ]


def test_a_missing_recipe_is_named_where_it_is_used(make_kitchen: MakeKitchen) -> None:
    (problem,) = check(make_kitchen({"recipes/walnut.yaml": PASTE, "recipes/loin.yaml": COOK})).problems
    assert problem.place is not None
    assert (problem.place.line, problem.place.column, problem.mend) == (6, 13, "did you mean 'walnut'?")


def test_recipes_that_use_each_other_are_a_loop(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {
            "recipes/a.yaml": PASTE.replace("- item: walnuts", "- recipe: b"),
            "recipes/b.yaml": PASTE.replace("- item: walnuts", "- recipe: a"),
        }
    )
    problems = check(kitchen).problems
    assert "recipe-loop" in {problem.code for problem in problems}
    assert any("a → b → a" in problem.message for problem in problems)


def test_missing_and_altered_versions_are_found(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {}, AT)
    assert codes(kitchen) == []
    kept = store.kept(kitchen.root, "walnut-paste")[0]
    kept.path.write_bytes(kept.path.read_bytes() + b"# more\n")
    assert codes(kitchen) == ["version-altered", "version-altered"]
    kept.path.unlink()
    problems = check(kitchen).problems
    assert [problem.code for problem in problems] == ["version-missing"]
    assert problems[0].place is not None
    assert problems[0].place.file == f"journal/2026/{entry.name}.yaml"
    assert problems[0].place.source.strip().startswith("walnut-paste:")


def test_what_was_logged_and_not_read_is_listed(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    line = loglines.unread("core fourty-eight", AT)
    logbook.add(kitchen, logbook.start(kitchen, "loin", {}, AT), line.change, line.words)
    assert codes(kitchen) == ["unread"]


def test_an_entry_with_a_recipe_needs_its_version(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"journal/x.yaml": 'recipe: loin\ndate: "2026-11-21"\n'})
    assert codes(kitchen) == ["missing-field"]
    (kitchen.root / "journal/x.yaml").write_text('recipe: loin\nfrom: memory\ndate: "2019-06-01"\n')
    assert codes(kitchen) == []


def test_files_nobody_can_read_are_problems_not_crashes(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"recipes/a.yaml": PASTE})
    bad = {
        "empty": b"",
        "latin": PASTE.encode().replace(b"Walnut", b"W\xe4l"),
        "nul": b"kind: paste\0\n",
        "list": b"- a\n",
        "deep": b"[" * 60,
        "alias": b"a: &x 1\nb: *x\n",
        "tab": b"kind:\n\tpaste\n",
        "two": b"a: 1\n---\nb: 2\n",
    }
    for name, data in bad.items():
        (kitchen.root / "recipes" / f"{name}.yaml").write_bytes(data)
    report = check(Kitchen.open(kitchen.root))
    files = {problem.place.file for problem in report.problems if problem.place}
    assert files == {f"recipes/{name}.yaml" for name in bad}


def test_only_what_was_asked_for_is_checked(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"recipes/a.yaml": "kind: x\n", "recipes/b.yaml": PASTE})
    assert check(kitchen, [kitchen.root / "recipes" / "b.yaml"]).problems == ()


BAD = [
    ("80 g", "80 grm"),
    ("80 ml", "4-3 tbsp"),
    ("weight: 2.2 kg", "weight: heavy"),
    ("title: Walnut and thyme paste\n", ""),
    ("kind: paste", "kind: paste\ncolour: red"),
    ("revision: 2", "revision: two"),
    ("ingredients:", "steps_:\ningredients:"),
    ("  - item: walnuts\n    amount: 80 g\n", "  - walnuts\n"),
    ("made_for:", "made_for: pork\nx:"),
    ("    amount: 80 g\n", "    amount: 80 g\n    follows: wind\n"),
    ("    amount: 80 g\n", ""),
]


@pytest.mark.parametrize(("old", "new"), BAD)
def test_readers_and_schema_refuse_the_same_bad_files(old: str, new: str) -> None:
    assert old in PASTE
    document = parse(PASTE.replace(old, new, 1).encode(), "recipes/trial.yaml")
    found, _ = read(document, "trial")
    assert found is None
    assert faults(document, "paste") != []


def test_the_schema_takes_what_the_readers_take() -> None:
    for path in sorted((starter() / "recipes").glob("*.yaml")):
        document = parse(path.read_bytes(), path.name)
        assert document.root is not None
        kind = document.root.get("kind")
        assert kind is not None
        assert faults(document, kind.text) == []


def test_every_kind_has_a_schema_of_its_own_that_is_one() -> None:
    from jsonschema import Draft202012Validator

    for what in ("paste", "rub", "brine", "sauce", "cook", "entry", "kitchen.yaml", "cookers.yaml", "prices.yaml"):
        schema = schema_of(what)
        Draft202012Validator.check_schema(schema)
        assert schema["$schema"].endswith("2020-12/schema")
        assert json.loads(json.dumps(schema)) == schema


def test_the_starter_is_found_beside_an_installed_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "cookbook"
    (package / "kitchen").mkdir(parents=True)
    (package / "starter").mkdir()
    shutil.copy(Path(starter.__code__.co_filename), package / "kitchen" / "starter.py")
    monkeypatch.setattr("cookbook.kitchen.starter.__file__", str(package / "kitchen" / "starter.py"))
    assert starter() == package / "starter"


def test_probe_logs_that_no_entry_names_are_named(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {}, AT)
    folder = kitchen.entry_path(entry).parent
    for name in (f"{entry.name}.csv", f"{entry.name}.original.csv", "lost.original.csv", "other.csv"):
        (folder / name).write_bytes(b"at,core \xc2\xb0C\n2026-11-21T11:05:00+01:00,48\n")
    orphans = [one for one in check(Kitchen.open(kitchen.root)).problems if one.code == "readings-orphaned"]
    assert len(orphans) == 4
    text = kitchen.entry_path(entry).read_text(encoding="utf-8")
    kitchen.entry_path(entry).write_text(f"{text}readings: {entry.name}.csv\n", encoding="utf-8")
    orphans = [one for one in check(Kitchen.open(kitchen.root)).problems if one.code == "readings-orphaned"]
    assert [Path(one.place.file).name for one in orphans if one.place] == ["lost.original.csv", "other.csv"]
    assert "log import" in (orphans[0].mend or "")
    kitchen.entry_path(entry).write_text("date: [\n", encoding="utf-8")
    orphans = [one for one in check(Kitchen.open(kitchen.root)).problems if one.code == "readings-orphaned"]
    assert [Path(one.place.file).name for one in orphans if one.place] == ["lost.original.csv", "other.csv"]
