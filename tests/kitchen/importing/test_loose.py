"""Loose texts as people keep them become recipes; what can't be read is told by its line and kept in the notes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.cli import main
from cookbook.errors import CookbookError, FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.importing.importing import all_made_of, ingredients, made_of, write
from cookbook.kitchen.importing.meatwords import spoken_of
from cookbook.recipe import Recipe

MakeKitchen = Callable[..., Kitchen]
TYPED = """\
                ROAST PORK WITH CRACKLING

   Pork shoulder, boned and rolled ........ 5 lb.
   Fennel seed ............................ 1 tbsp
   Oil .................................... 1 tsp
   dripping

   Score the rind.   Rub in the salt.
   Start hot, 220 degrees for half
   an hour, then 160 until done.
"""
GERMAN = """\
Paste für den Schweinebraten
Zutaten für 6 Personen:
4 Zehen Knoblauch
2 EL Senf
½ l Brühe
Salz, Pfeffer

Zubereitung:
1) Alles verrühren.
2) Das Fleisch einreiben.
"""


@pytest.fixture
def read(make_kitchen: MakeKitchen, tmp_path: Path) -> Callable[..., tuple[Recipe, list[tuple[int | None, str]]]]:
    """Writes a text, imports it, and gives the recipe and what was not read, by line."""

    def reading(
        text: str | bytes, name: str = "old.txt", **more: object
    ) -> tuple[Recipe, list[tuple[int | None, str]]]:
        kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
        path = tmp_path / name
        path.write_bytes(text.encode() if isinstance(text, str) else text)
        made = made_of(kitchen, path, **more)  # type: ignore[arg-type]  # kind and piece as the caller gives them
        write(kitchen, made)
        assert check(Kitchen.open(kitchen.root)).errors == 0
        return Kitchen.open(kitchen.root).recipe(made.name), [(one.line, one.text) for one in made.unread]

    return reading


def said(recipe: Recipe) -> list[tuple[str, str]]:
    return [(str(line.amount), line.item) for line in recipe.ingredients]


def test_a_typed_page_with_dots_is_a_cook_with_its_piece(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, unread = read(TYPED)
    assert (recipe.title, recipe.kind, recipe.cut) == ("Roast pork with crackling", "cook", "pork shoulder, boneless")
    assert recipe.made_for is not None
    assert recipe.made_for.known["weight"] == pytest.approx(5 * 453.59237)
    assert said(recipe) == [("1 tbsp", "Fennel seed"), ("1 tsp", "Oil")]
    assert recipe.steps == (
        "Score the rind. Rub in the salt.",
        "Start hot, 220 degrees for half an hour, then 160 until done.",
    )
    assert unread == [(6, "dripping")]
    assert "not read: dripping" in recipe.notes


def test_german_measures_and_headings_and_windows_letters(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, unread = read(GERMAN.replace("\n", "\r\n").encode("windows-1252"))
    assert said(recipe) == [("4 cloves", "Knoblauch"), ("2 metric tbsp", "Senf"), ("0.5 l", "Brühe")]
    assert recipe.serves == 6
    assert recipe.steps == ("Alles verrühren.", "Das Fleisch einreiben.")
    assert unread[0] == (6, "Salz, Pfeffer")


def test_markdown_with_bullets_notes_and_a_thing_each(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, _ = read("# Crust sauce\n\nServes 8\n\n## Ingredients\n* 1 cup horseradish\n"
                     "* 2 tsp each salt and pepper\n\n## Method\n- Mash it.\n- Coat it.\n"
                     "\n## Notes\nBetter the next day.\n")
    assert said(recipe) == [("1 cup", "horseradish"), ("2 tsp", "salt"), ("2 tsp", "pepper")]
    assert (recipe.title, recipe.serves, recipe.steps) == ("Crust sauce", 8, ("Mash it.", "Coat it."))
    assert "Better the next day." in recipe.notes


def test_a_weight_from_to_is_its_middle_and_says_so(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, unread = read("Brisket\n12-14 lb whole packer brisket\n2 tbsp salt\n")
    assert recipe.made_for is not None
    assert recipe.made_for.known["weight"] == pytest.approx(13 * 453.59237)
    assert unread == [(2, "12-14 lb whole packer brisket")]


def test_a_name_of_two_cuts_is_asked_back_and_then_taken(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    text = "Lamb\n1 leg of lamb, about 5 lbs\n2 tbsp rosemary, chopped\n"
    with pytest.raises(RequestError, match="2 cuts in the trade"):
        read(text)
    recipe, _ = read(text, piece={"cut": "leg of lamb, bone in"})
    assert said(recipe) == [("2 tbsp", "rosemary")]
    assert recipe.made_for is not None
    assert recipe.made_for.known["weight"] == pytest.approx(5 * 453.59237)


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("Garlic: 4 cloves", [("garlic", "4 cloves")]),
        ("Rosemary - 1/4 cup chopped", [("rosemary", "1/4 cup chopped")]),
        ("olive oil 1/2 cup", [("olive oil", "1/2 cup")]),
        ("juice of 2 lemons", [("lemon juice", "juice of 2 lemons")]),
        ("1/2 tsp each salt, cumin and pepper", [("salt", "1/2 tsp"), ("cumin", "1/2 tsp"), ("pepper", "1/2 tsp")]),
        ("1 Prise Zucker", [("zucker", "1 pinch")]),
        ("Prime rib, Christmas 2014", []),
        ("Pulled pork for 20", []),
        ("Simmer 10 minutes.", []),
    ],
)
def test_lines_as_people_write_them(line: str, found: list[tuple[str, str]]) -> None:
    assert [(one.item.casefold(), one.amount) for one in ingredients(line, "us")] == found


@pytest.mark.parametrize(("data", "code"), [(b"\n \n", "no-recipe"), (b"\x00\x01\xff rubbish \x00", "not-text")])
def test_what_is_no_recipe_says_so(make_kitchen: MakeKitchen, tmp_path: Path, data: bytes, code: str) -> None:
    path = tmp_path / "bad.txt"
    path.write_bytes(data)
    with pytest.raises(FileError) as fault:
        made_of(make_kitchen(), path)
    assert fault.value.code == code


def test_one_bad_file_keeps_no_other_from_being_written(
    make_kitchen: MakeKitchen, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kitchen = make_kitchen()
    files = [tmp_path / name for name in ("a.txt", "b.txt", "c.txt")]
    for path, text in zip(files, (TYPED, "\n", "Cherry sauce\n300 g cherries\n"), strict=True):
        path.write_text(text, encoding="utf-8")
    assert main(["import", *map(str, files), "--kitchen", str(kitchen.root)]) == 1
    assert "2 of 3 files are recipes now" in capsys.readouterr().out
    assert {"cherry-sauce", "roast-pork-with-crackling"} <= set(Kitchen.open(kitchen.root).recipe_names())


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(lines=st.lists(st.sampled_from((TYPED + GERMAN).splitlines()) | st.text(max_size=30), max_size=12))
def test_no_word_is_lost_and_the_recipe_reads_or_the_refusal_is_ours(
    make_kitchen: MakeKitchen, tmp_path: Path, lines: list[str]
) -> None:
    path = tmp_path / "any.txt"
    path.write_text("\n".join(["Any sauce", "1 cup honey", *lines]), encoding="utf-8", errors="replace")
    try:
        made = made_of(make_kitchen({"shared/kitchen.yaml": "measures: us\n"}), path, kind="sauce")
    except CookbookError:
        return
    text = made.data.decode().casefold()
    for word in ("dripping", "verrühren", "brühe"):
        assert word not in "\n".join(lines).casefold() or word in text


def test_groups_of_ingredients_stay_ingredients_and_say_what_they_are_for(
    read: Callable[..., tuple[Recipe, list[object]]],
) -> None:
    recipe, _ = read(
        "Brisket\n\nFor the rub:\n1/2 cup black pepper\n\nFor the spritz:\n1 cup cider vinegar\n\n"
        "For the meat:\n1 whole packer brisket, 12-14 lbs\n\nDirections:\nRub.\n"
    )
    assert said(recipe) == [("1/2 cup", "black pepper"), ("1 cup", "cider vinegar")]
    assert [line.prep for line in recipe.ingredients] == ["for the rub", "for the spritz"]
    assert (recipe.kind, recipe.cut, recipe.steps) == ("cook", "brisket, whole", ("Rub.",))


def test_words_of_the_trade_in_front_of_an_amount_are_understood(
    read: Callable[..., tuple[Recipe, list[object]]],
) -> None:
    text = "Pot\n6 cl garlic\n4 ea ancho chiles\n1.5% salt by weight of bird\nsqueeze of lemon\n\nMix."
    recipe, unread = read(text, kind="sauce")
    known = [("6 cloves", "garlic"), ("4", "ancho chiles"), ("1.5 % of meat", "salt"), ("squeeze", "lemon")]
    assert said(recipe) == known
    assert unread == []


def test_a_share_of_the_water_is_none_of_the_meat(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, _ = read("Pot\n2 l water\n5% salt by weight of water\n2% salt by weight, fine\n\nStir.", kind="sauce")
    assert said(recipe) == [("2 l", "water"), ("2 % of meat", "salt, fine")]
    assert any("5% salt by weight of water" in note for note in recipe.notes)


def test_an_aside_in_brackets_keeps_both_of_them(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, _ = read("Oil\n\ngarlic 40 g (peeled) and chopped\noil 1/2 cup (warm)\n\nStir.", kind="sauce")
    assert [line.prep for line in recipe.ingredients] == ["(peeled) and chopped", "warm"]


@pytest.mark.parametrize("line", ["Serve the pork shoulder with 2 lb of potatoes.", "Pork shoulder, 1 lb salt too.",
                                  "Rub the pork shoulder and add 1 kg onions."])
def test_what_weighs_beside_the_meat_is_not_the_weight_of_it(make_kitchen: MakeKitchen, line: str) -> None:
    assert spoken_of(make_kitchen(), "Sunday", [line]) == {}


def test_where_nobody_wrote_an_amount_short_lines_are_what_goes_in(
    read: Callable[..., tuple[Recipe, list[object]]],
) -> None:
    text = "Green sauce\n\nparsley, lots\ngarlic 5-6\nred wine vinegar\noil until loose\n\nChop it by hand.\n"
    recipe, unread = read(text)
    assert said(recipe) == [
        ("as needed", "parsley"),
        ("5-6", "garlic"),
        ("as needed", "red wine vinegar"),
        ("as needed", "oil until loose"),
    ]
    assert recipe.ingredients[0].prep == "lots"
    assert unread == [(None, "")]
    with pytest.raises(RequestError, match="no ingredient"):
        read("Beef\n\nTake a good piece and rub it with dripping and mustard powder.\nRoast it.\n", "two.txt")


def test_a_word_over_some_of_the_ingredients_says_what_they_are_for(
    read: Callable[..., tuple[Recipe, list[object]]],
) -> None:
    recipe, unread = read("Haunch\n\nMarinade:\n500 ml wine\n\nPaste:\n20 g salt\n\nCoat it.", kind="sauce")
    assert [(one.item, one.prep) for one in recipe.ingredients] == [("wine", "for marinade"), ("salt", "for paste")]
    assert unread == []


TWO = "SHOULDER RUB\n\n1/4 cup paprika\n2 tbsp salt\n\nMix.\n\nSOUR SAUCE\n\n2 cups vinegar\n1 tbsp sugar\n\nShake.\n"


def test_two_recipes_in_one_text_are_two(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    path = tmp_path / "two.txt"
    path.write_text(TWO)
    kitchen = make_kitchen()
    with pytest.raises(RequestError, match=r"2 recipes in .*: shoulder-rub, sour-sauce"):
        made_of(kitchen, path)
    assert main(["import", str(path), "--kitchen", str(kitchen.root)]) == 0
    kitchen = Kitchen.open(kitchen.root)
    assert said(kitchen.recipe("sour-sauce")) == [("2 cups", "vinegar"), ("1 tbsp", "sugar")]
    assert kitchen.recipe("shoulder-rub").steps == ("Mix.",)
    path.write_text("WET RUB\n=======\n2 tbsp oil\n1 tsp salt\nBlend.\n\nDRY BRINE\n===\n20 g salt\nRub it in.\n")
    wet, dry = all_made_of(kitchen, path)
    assert (wet.name, dry.name) == ("wet-rub", "dry-brine"), "under a ruled title one ingredient is enough"
    again = "PORK\n\n2 tbsp salt\n1 tbsp sugar\n\nREST IT\n\nWait an hour.\nThen slice.\n"
    path.write_text(again)
    assert "REST IT" in made_of(kitchen, path, kind="sauce").data.decode(), "a heading in the middle begins no recipe"
    path.write_text("PORK\n\n2 tbsp salt\n1 tbsp sugar\n\nON TOP\n\n1 tbsp honey\n\nMix.\n")
    assert len(all_made_of(kitchen, path, kind="sauce")) == 1, "nor does one over one ingredient, without a rule"


def test_amounts_in_a_column_of_their_own_need_no_unit(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    recipe, unread = read("Paste\ngarlic\t8 cloves\nanchovies\t6\nlemon ...... 1, zest only\n\nBlend.", kind="sauce")
    assert said(recipe) == [("8 cloves", "garlic"), ("6", "anchovies"), ("1", "lemon")]
    assert recipe.ingredients[2].prep == "zest only"
    assert unread == []


def test_a_recipe_on_one_line_is_taken_apart(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    text = "mustard rub: 2 tbsp dry mustard, 1 tbsp salt, 1 tsp celery seed. Mix, rub on 3 kg pork shoulder."
    recipe, _ = read(text)
    assert (recipe.title, recipe.kind) == ("mustard rub", "rub")
    assert said(recipe) == [("2 tbsp", "dry mustard"), ("1 tbsp", "salt"), ("1 tsp", "celery seed")]
    assert recipe.meat == "pork shoulder"


@pytest.mark.parametrize(
    ("text", "kind", "weight_g"),
    [
        ("Rub\n2 tbsp salt\n1 tbsp sugar\nRub it on a 5 lb. brisket flat.", "rub", 5 * 453.59237),
        ("Rub\n2 tbsp salt\n1 tbsp sugar\nFor a 5 lb. brisket flat", "rub", 5 * 453.59237),
        ("Turkey brine\n4 l water\n200 g salt\n1 (14-lb) turkey", "brine", 14 * 453.59237),
        ("RUB\n2 tbsp salt\n1 tbsp sugar\n\nMix. Rub it on a pork butt, about 8 lbs.", "rub", 8 * 453.59237),
        ("Rub\n2 tbsp salt\n1 tbsp sugar\n\nFor one packer brisket around 6kg.", "rub", 6000.0),
        ("Rub\n2 tbsp salt\n1 tbsp sugar\n\nPer duck (2-2.4 kg). Wait.", "rub", 2200.0),
        ("Goose\n1 goose 4-5 kg\n200 g salt\n\nMix.", "cook", 4500.0),
        ("Butter\n50 g butter\n1 chicken approx 1.8kg\n\nMix.", "cook", 1800.0),
    ],
)
def test_the_meat_is_found_where_people_say_it(
    read: Callable[..., tuple[Recipe, list[object]]], text: str, kind: str, weight_g: float
) -> None:
    recipe, _ = read(text)
    assert recipe.kind == kind
    assert recipe.made_for is not None
    assert recipe.made_for.known["weight"] == pytest.approx(weight_g)


def test_a_cut_in_the_title_alone_is_asked_for_its_weight(read: Callable[..., tuple[Recipe, list[object]]]) -> None:
    text = "Pork shoulder rub\n2 tbsp salt\n1 tbsp sugar\n\nMix."
    recipe, unread = read(text)
    assert recipe.kind == "sauce"
    assert "of pork shoulder; say its weight with `--weight`" in recipe.notes[0]
    recipe, unread = read(text.replace("rub", "rub two"), piece={"weight": "4 kg"})
    assert (recipe.kind, recipe.meat) == ("rub", "pork shoulder")
    assert unread == []
