"""What `check` doubts though it reads well; each case beside one that is right."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen, store
from cookbook.kitchen.checking import check, many
from cookbook.kitchen.starter import new
from tests.conftest import COOK, PASTE

MakeKitchen = Callable[..., Kitchen]
HEAD = 'title: Lamb by the wall\ndate: "2026-11-21"\npiece: {cut: "leg of lamb, bone in", weight: 2.8 kg}\n'


def codes(kitchen: Kitchen) -> list[str]:
    return [problem.code for problem in check(Kitchen.open(kitchen.root)).problems]


def of_entry(make_kitchen: MakeKitchen, text: str, more: dict[str, str] | None = None) -> list[str]:
    return codes(make_kitchen({"journal/2026/2026-11-21-lamb.yaml": HEAD + text, **(more or {})}))


def event(time: str, words: str) -> str:
    return f'  - {{at: "2026-11-21T{time}:00+01:00", {words}}}\n'


def test_meat_cannot_be_hotter_than_the_pit_it_cooks_in(make_kitchen: MakeKitchen) -> None:
    fire = event("11:00", "did: on") + event("12:00", "core: {} °C, pit: 120 °C") + event("14:00", "did: pulled")
    assert of_entry(make_kitchen, "events:\n" + fire.replace("{}", "48")) == []
    assert of_entry(make_kitchen, "events:\n" + fire.replace("{}", "130")) == ["core-above-pit", "core-boils"]


def test_a_dying_pit_may_be_cooler_than_the_meat_after_the_pull(make_kitchen: MakeKitchen) -> None:
    after = event("11:00", "did: on") + event("14:00", "did: pulled") + event("14:10", "core: 61 °C, pit: 40 °C")
    assert of_entry(make_kitchen, "events:\n" + after) == []


def test_readings_beside_the_entry_are_looked_at_too(make_kitchen: MakeKitchen) -> None:
    rows = "at,core °C,pit °C\n2026-11-21T11:00:00+01:00,50,120\n2026-11-21T11:05:00+01:00,51,{}\n"
    line = "readings: lamb.csv\n"
    assert of_entry(make_kitchen, line, {"journal/2026/lamb.csv": rows.format("119")}) == []
    assert of_entry(make_kitchen, line, {"journal/2026/lamb.csv": rows.format("20")}) == ["core-above-pit"]
    back = rows.format("119").replace("T11:05", "T10:55")
    assert of_entry(make_kitchen, line, {"journal/2026/lamb.csv": back}) == ["time-backwards"]


def test_meat_that_was_sliced_before_it_was_pulled_is_doubted(make_kitchen: MakeKitchen) -> None:
    right = event("11:00", "did: on") + event("13:00", "did: pulled") + event("14:00", "did: sliced")
    wrong = event("11:00", "did: on") + event("13:00", "did: sliced") + event("14:00", "did: pulled")
    assert of_entry(make_kitchen, "events:\n" + right) == []
    assert of_entry(make_kitchen, "events:\n" + wrong) == ["out-of-order"]


def test_a_line_of_another_season_is_doubted(make_kitchen: MakeKitchen) -> None:
    assert of_entry(make_kitchen, 'events:\n  - {at: "2026-11-22T01:00:00+01:00", did: pulled}\n') == []
    assert of_entry(make_kitchen, 'events:\n  - {at: "2025-11-21T11:00:00+01:00", did: on}\n') == ["far-away"]


def test_a_file_named_for_another_day_is_doubted(make_kitchen: MakeKitchen) -> None:
    assert codes(make_kitchen({"journal/2026/2026-11-20-lamb.yaml": HEAD})) == ["other-day"]


def test_an_amount_a_hundred_times_the_sheets_is_doubted(make_kitchen: MakeKitchen) -> None:
    def amount(said: str) -> str:
        return (
            "sheet: {lamb: {garlic: 60 g, honey: 1 tbsp}}\nas_made:\n"
            f"  lamb:\n    - {{item: garlic, amount: {said}}}\n"
        )

    assert of_entry(make_kitchen, amount("80 g")) == []
    assert of_entry(make_kitchen, amount("6 kg")) == ["hundredfold"]
    assert of_entry(make_kitchen, amount("0.5 g")) == ["hundredfold"]


def test_a_recipe_a_hundred_times_its_kept_versions_is_doubted(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE})
    recipe = kitchen.recipe("walnut-paste")
    store.put(kitchen.root, "walnut-paste", kitchen.version_now(recipe), recipe.document.data)
    path = kitchen.root / "recipes/walnut-paste.yaml"
    path.write_bytes(PASTE.replace("80 g", "90 g").encode())
    assert codes(kitchen) == ["version-orphaned"]
    path.write_bytes(PASTE.replace("80 g", "8 kg").encode())
    assert codes(kitchen) == ["hundredfold", "version-orphaned"]


def test_an_ingredient_of_no_table_is_a_note_until_it_is_weighed(make_kitchen: MakeKitchen) -> None:
    odd = PASTE.replace("walnuts", "moon dust").replace("80 g", "2 tbsp")
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": odd})
    (problem,) = check(kitchen).problems
    assert (problem.severity, problem.code) == ("note", "unknown-ingredient")
    (kitchen.root / "shared").mkdir()
    (kitchen.root / "shared/ingredients.yaml").write_bytes(b"- {item: moon dust, amount: 1 tbsp, weighs: 9 g}\n")
    assert codes(kitchen) == []


def test_a_picture_is_missed_and_known_by_its_digest(make_kitchen: MakeKitchen) -> None:
    digest = hashlib.sha256(b"a picture").hexdigest()
    line = f"photos:\n  - crust.jpg\n  - {{path: slice.jpg, digest: {digest}}}\n"
    pictures = {"journal/2026/crust.jpg": "x", "journal/2026/slice.jpg": "a picture"}
    assert of_entry(make_kitchen, line, pictures) == []
    assert of_entry(make_kitchen, line, {**pictures, "journal/2026/slice.jpg": "another"}) == ["photo-altered"]
    kitchen = make_kitchen(
        {"recipes/loin.yaml": COOK.replace("coats:\n  - recipe: walnut-paste\n", "photos: [a.jpg]\n")}
    )
    (kitchen.root / "journal/2026/crust.jpg").unlink()
    assert codes(kitchen) == ["photo-missing", "photo-missing", "photo-altered"]


@pytest.mark.parametrize("cores", [1, 2])
def test_several_processes_find_what_one_finds_in_the_same_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, cores: int
) -> None:
    root = new(tmp_path / "mine", example=True)
    (root / "recipes/zz.yaml").write_bytes(b"kind: paste\n")
    for path in (root / "journal/2026").glob("*.yaml"):
        path.write_bytes(path.read_bytes().replace(b"served: 6", b"servd: 6"))
    alone = check(Kitchen.open(root))
    assert alone.errors > 2
    monkeypatch.setattr(many, "MANY", 1)
    monkeypatch.setattr(many, "_PART", 4)
    assert check(Kitchen.open(root), cores=cores) == alone


@pytest.mark.parametrize(
    ("amount", "item", "words"),
    [
        ("2 tbsp", "kosher salt", "differ by half from maker to maker"),
        ("8 oz", "olive oil", "write `fl oz`"),
        ("1 heaping tbsp", "fine salt", "a weight would be clear"),
    ],
)
def test_an_amount_that_is_not_clear_is_noted_where_it_stands(
    make_kitchen: MakeKitchen, amount: str, item: str, words: str
) -> None:
    text = PASTE.replace("item: fine salt\n    amount: 1.1 % of meat", f"item: {item}\n    amount: {amount}")
    if item == "olive oil":
        text = PASTE.replace("80 ml", amount)
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": text})
    [problem] = [one for one in check(kitchen).problems if one.code == "doubtful-amount"]
    assert words in problem.message
    assert problem.place is not None
    assert (problem.severity, problem.place.file) == ("note", "recipes/walnut-paste.yaml")
    assert amount in text.splitlines()[problem.place.line - 1]


def test_an_amount_that_is_clear_is_not_noted(make_kitchen: MakeKitchen) -> None:
    assert "doubtful-amount" not in codes(make_kitchen({"recipes/walnut-paste.yaml": PASTE}))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("{item: fine salt, more: 1 heaping tbsp}", "a weight would be clear"),
        ("{item: fine salt, instead: kosher salt, amount: 2 tbsp}", "differ by half from maker to maker"),
    ],
)
def test_what_went_in_is_noted_where_it_is_not_clear_until_it_is_adopted(
    make_kitchen: MakeKitchen, line: str, words: str
) -> None:
    text = f"{HEAD}as_made:\n  lamb-by-the-wall:\n    - {line}\n"
    kitchen = make_kitchen({"journal/2026/2026-11-21-lamb.yaml": text})
    [problem] = check(kitchen).problems
    assert (problem.severity, problem.code) == ("note", "doubtful-amount")
    assert words in problem.message
    assert problem.place is not None
    assert "fine salt" in text.splitlines()[problem.place.line - 1]
    assert of_entry(make_kitchen, text.removeprefix(HEAD) + "adopted: revision 2\n") == []


def test_curing_salt_that_goes_by_other_than_weight_is_doubted(make_kitchen: MakeKitchen) -> None:
    def cured(line: str) -> list[str]:
        return codes(make_kitchen({"recipes/cure.yaml": PASTE.replace("ingredients:", f"ingredients:\n  - {line}")}))

    assert cured("{item: curing salt, amount: 0.25 % of meat}") == []
    assert cured("{item: curing salt, amount: 1 tsp}") == ["curing-salt"]
    assert cured("{item: curing salt, amount: 5 g}") == ["curing-salt"]


def test_what_releases_and_questions_name_is_there(make_kitchen: MakeKitchen) -> None:
    files = {"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": COOK, "shared/list.csv": "0:00,The fire\n"}

    def named(recipe: str, markers: str) -> dict[str, str]:
        return {**files, "shared/releases.yaml": f"- {{recipe: {recipe}, markers: {markers}}}\n",
                "shared/questions.yaml": f"- {{recipe: {recipe}, asked: Why?}}\n"}

    assert codes(make_kitchen(named("loin", "list.csv"))) == []
    found = check(make_kitchen(named("lion", "lost.csv"))).problems
    assert [(one.code, one.place.line if one.place else 0) for one in found] == [
        ("unknown-name", 1), ("unknown-name", 1), ("markers-missing", 1)]
    assert found[0].mend == "did you mean 'loin'?"


def test_an_address_that_is_none_is_told_with_its_place(make_kitchen: MakeKitchen) -> None:
    film = "- {recipe: loin, address: example.org/film, picture: film.jpg}\n"
    links = ("links:\n  - {what: Charcoal, address: 'javascript:alert(1)'}\n"
             "  - {what: Film, address: 'https://example.org'}\n")
    found = check(make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": COOK + links,
                                "shared/releases.yaml": film})).problems
    assert [(one.severity, one.code, one.place and (one.place.file, one.place.column)) for one in found] == [
        ("warning", "no-address", ("recipes/loin.yaml", 31)), ("warning", "no-address", ("shared/releases.yaml", 27)),
        ("warning", "no-address", ("shared/releases.yaml", 54))]


def test_a_picture_lies_where_publishing_looks_for_it(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE + "photos: [loin.png]\n"})
    (kitchen.root / "recipes" / "loin.png").write_bytes(b"")
    assert codes(kitchen) == ["photo-missing"]
    (kitchen.root / "loin.png").write_bytes(b"")
    assert codes(kitchen) == []


@pytest.mark.parametrize("line", ["recpie: loin", "recipe: [loin]", "recipe:", "recipe: {a: b}",
                                  "{recipe: loin, entry: [x], markers: {a: b}, address: [y], picture: {c: d}}"])
@pytest.mark.parametrize("table", ["releases", "questions"])
def test_a_line_that_says_nothing_right_is_told_with_its_place(
        make_kitchen: MakeKitchen, table: str, line: str) -> None:
    problems = check(make_kitchen({f"shared/{table}.yaml": f"- {line}\n"})).problems
    assert any(one.severity == "error" for one in problems)
    assert {(one.place.file, one.place.line) for one in problems if one.place} == {(f"shared/{table}.yaml", 1)}
