"""What a card tells around the recipe: order and completeness of what is said, asked, missing, cooked and fed."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from xml.etree import ElementTree

import pytest

from cookbook.heat.outlook import Range
from cookbook.heat.timetable import Timing
from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content import Chapter, Film, Reference
from cookbook.publish.content.gathering import content, gather
from cookbook.publish.content.timing import takes
from cookbook.publish.forms.label import Jar, label
from cookbook.publish.forms.ready import missing
from cookbook.publish.forms.releases import releases
from cookbook.publish.forms.structured import recipe_data, structured
from cookbook.publish.site.feed import MOST_ENTRIES, atom, sitemap
from cookbook.publish.site.history_page import history_page
from tests.publish.cards import COOK_CARD, PASTE_CARD
from tests.publish.kitchens import COOK, FILES, PASTE, RUB, SHARED

Make = Callable[..., Kitchen]


def test_a_cue_says_what_would_be_a_mark_as_text(make_kitchen: Make) -> None:
    """WebVTT: `&` and `<` begin an escape and a mark."""
    release = (
        '- {recipe: green-sauce, out: "2026-05-01", length: 5:00, chapters: [{at: 0:00, name: "Salt & <b>oil</b>"}, '
        "{at: 1:00, name: b}, {at: 2:00, name: c}]}\n"
    )
    kitchen = make_kitchen({**FILES, "shared/releases.yaml": release})
    assert "Salt &amp; &lt;b&gt;oil&lt;/b&gt;" in card(kitchen, "green-sauce", "chapters")
    assert "Salt & <b>oil</b>" in card(kitchen, "green-sauce", "chapters", srt=True)


def test_each_disclosure_is_said_once_and_the_gravest_first(make_kitchen: Make) -> None:
    assert PASTE_CARD._replace(links=(Reference("a", "", "", "Given: a."), Reference("b", "", "", "Given: a."))
                               ).disclosures == ("Given: a.",)
    links = 'links: [{what: the knife, address: "https://example.org/k", commission: "yes", paid: "yes"}]\n'
    kitchen = make_kitchen({**FILES, "recipes/pepper-rub.yaml": RUB + links})
    (told,) = content(kitchen, "pepper-rub").disclosures
    assert told.startswith("Paid for, to be shown here: the knife. Commission, as buying by the link earns")


def test_answers_stand_by_how_often_they_were_asked(make_kitchen: Make) -> None:
    asked = "".join(
        f'- {{recipe: pepper-rub, asked: Asked {n}?, times: {n}, answer: Yes, on_card: "yes"}}\n' for n in (2, 9, 4)
    )
    kitchen = make_kitchen({**FILES, "shared/questions.yaml": asked})
    assert [one.asked for one in content(kitchen, "pepper-rub").answers] == ["Asked 9?", "Asked 4?", "Asked 2?"]


def test_the_newest_film_is_the_recipes(make_kitchen: Make) -> None:
    told = "".join(
        f'- {{recipe: pepper-rub, out: "2026-0{n}-01", address: "https://example.org/{n}"}}\n' for n in (1, 5)
    )
    told += '- {recipe: pepper-rub, planned: "2027-01-01"}\n'
    kitchen = make_kitchen({**FILES, "shared/releases.yaml": told})
    found = content(kitchen, "pepper-rub").film
    assert found is not None
    assert found.address == "https://example.org/5"


def test_what_is_missing_names_terms_links_and_cooks(make_kitchen: Make) -> None:
    links = 'links: [{what: the knife, address: "not an address", paid: "yes"}]\n'
    settings = SHARED.replace("licence: CC BY 4.0\n", "").replace("author: The supper club\n", "")
    kitchen = make_kitchen({**FILES, "recipes/pepper-rub.yaml": RUB + links, "shared/kitchen.yaml": settings})
    assert missing(kitchen, gather(kitchen, "pepper-rub")) == [
        "pepper-rub as it stands is not cooked yet; 1 asked for",
        "nobody signs it: `author:` in shared/kitchen.yaml",
        "on which terms? `licence:` in shared/kitchen.yaml",
        "the link to the knife is no address: 'not an address'",
    ]


def test_a_description_without_its_disclosure_does_not_go_out(
    make_kitchen: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    """16 CFR 255.5, by whichever way it came to be missing."""
    links = 'links: [{what: the knife, address: "https://example.org/k", paid: "yes"}]\n'
    kitchen = make_kitchen({**FILES, "recipes/pepper-rub.yaml": RUB + links})
    found = gather(kitchen, "pepper-rub")
    assert not any("nothing in the first lines" in one for one in missing(kitchen, found))
    monkeypatch.setattr("cookbook.publish.forms.ready.description", lambda _card: "Pepper rub.\n\nMix it all.\n")
    assert "nothing in the first lines tells that a link is paid" in missing(kitchen, found)
    monkeypatch.setattr("cookbook.publish.forms.ready.description", lambda _card: "½" * 2501)
    assert "the description has 5002 bytes; 5000 fit" in missing(kitchen, found)


ENTRY = 'recipe: pepper-rub\nversion: {version}\ndate: "{day}"\npiece: {{weight: 3.9 kg}}\n{more}'


def cooked(kitchen: Kitchen, *days: str, more: str = "") -> Kitchen:
    """With the rub as it stands cooked on these days."""
    version = kitchen.version_now(kitchen.recipe("pepper-rub"))
    kept = kitchen.root / "recipes" / "versions" / "pepper-rub" / f"{version}.yaml"
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_bytes((kitchen.root / "recipes" / "pepper-rub.yaml").read_bytes())
    for day in days:
        path = kitchen.root / "journal" / day[:4] / f"{day}-pepper-rub.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(ENTRY.format(version=version, day=day, more=more), encoding="utf-8")
    return Kitchen.open(kitchen.root)


def test_as_many_cooks_as_the_kitchen_asks_for(make_kitchen: Make) -> None:
    asked = {**FILES, "shared/kitchen.yaml": SHARED + "cooks_to_publish: 3\n"}
    kitchen = cooked(make_kitchen(asked), "2026-05-02", "2026-05-09")
    assert "pepper-rub as it stands is cooked 2 times; 3 asked for" in missing(kitchen, gather(kitchen, "pepper-rub"))
    kitchen = cooked(kitchen, "2026-05-16")
    assert not any("asked for" in one for one in missing(kitchen, gather(kitchen, "pepper-rub")))


def test_a_cook_that_is_only_remembered_has_no_outcome_on_the_card(make_kitchen: Make) -> None:
    score = "outcome: {scores: {crust: 4}}\n"
    kitchen = cooked(make_kitchen(FILES), "2026-05-02", more=score.replace("4", "8"))
    kitchen = cooked(kitchen, "2026-05-09", more=score + "memory: true\n")
    assert content(kitchen, "pepper-rub").outcome == "crust 8 of 10"


def test_history_goes_back_from_now_and_says_nothing_of_what_was_private_then(make_kitchen: Make) -> None:
    first = RUB + "formula: private\nrevision: 1\n"
    kitchen = cooked(make_kitchen({**FILES, "recipes/pepper-rub.yaml": first}), "2026-05-02")
    path = kitchen.root / "recipes" / "pepper-rub.yaml"
    path.write_text(RUB.replace("39 g", "40 g") + "formula: private\nrevision: 2\n", encoding="utf-8")
    kitchen = cooked(Kitchen.open(kitchen.root), "2026-05-09")
    path.write_text(RUB.replace("39 g", "41 g") + "revision: 3\n", encoding="utf-8")
    kitchen = Kitchen.open(kitchen.root)
    shown = history_page(kitchen, kitchen.recipe("pepper-rub"))
    assert shown.index("Revision 3") < shown.index("Revision 2 (9 May 2026)") < shown.index("Revision 1 (2 May 2026)")
    assert "39" not in shown
    assert "40 g" not in shown
    kitchen = cooked(kitchen, "2026-05-16")
    path.write_text(RUB.replace("39 g", "42 g") + "revision: 4\n", encoding="utf-8")
    kitchen = Kitchen.open(kitchen.root)
    assert "Fine salt: 41 g, now 42 g" in history_page(kitchen, kitchen.recipe("pepper-rub"))
    kitchen = cooked(kitchen, "2026-05-23")
    path.write_text(RUB.replace("39 g", "43 g") + "revision: 5\nformula: private\n", encoding="utf-8")
    kitchen = Kitchen.open(kitchen.root)
    assert "41 g" not in history_page(kitchen, kitchen.recipe("pepper-rub"))


def test_keeping_and_storing_are_the_cooks_words_then_the_published_days(make_kitchen: Make) -> None:
    kitchen = make_kitchen({**FILES, "recipes/loin.yaml": COOK + "keeping: A day at 4 °C\n"})
    said = [one.replace("\u00a0", " ") for one in content(kitchen, "loin").keeping]
    assert said[0] == "A day at 4 °C."
    assert said[1].startswith("Coated and raw it keeps no longer than any raw pork: 3 to 5 days")
    assert len(said) == 3


ABOUT: Mapping[str, Mapping[str, str]] = {
    name: {"title": name, "lead": "", "revision": "", "dated": day}
    for name, day in (("old", "2025-01-01"), ("new", "2026-01-01"), ("never", ""), ("between", "2025-06-01"))
}


def test_the_feed_has_what_was_cooked_the_newest_first() -> None:
    """RFC 4287: each entry its id and its day; the feed's day is that of its newest."""
    space = {"a": "http://www.w3.org/2005/Atom"}
    feed = ElementTree.fromstring(atom("https://example.org/", {"name": "x"}, ABOUT))
    assert [one.text for one in feed.findall("a:entry/a:title", space)] == ["new", "between", "old"]
    assert feed.findtext("a:updated", "", space) == "2026-01-01T00:00:00Z"
    many = {f"r{n}": {**ABOUT["old"], "dated": f"2025-01-{n % 28 + 1:02d}"} for n in range(MOST_ENTRIES + 9)}
    full = ElementTree.fromstring(atom("https://example.org/", {}, many))
    assert len(full.findall("a:entry", space)) == MOST_ENTRIES


def test_the_map_has_every_page_with_its_day_where_it_has_one() -> None:
    space = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9"}
    found = ElementTree.fromstring(sitemap("https://example.org/", ABOUT)).findall("s:url", space)
    told = {one.findtext("s:loc", "", space): one.findtext("s:lastmod", "", space) for one in found}
    assert told.pop("https://example.org/index.html") == ""
    assert told == {f"https://example.org/recipes/{name}.html": one["dated"] for name, one in ABOUT.items()}


def test_a_clip_joins_its_time_to_an_address_that_asks_already() -> None:
    chapters = (Chapter(0, "a"), Chapter(60, "b"), Chapter(90, "c"))
    for address, said in (("https://example.org/f", "https://example.org/f?t=60"),
                          ("https://example.org/f?v=1", "https://example.org/f?v=1&t=60")):
        film = Film(address, "https://example.org/p.jpg", "2026-05-01", 120, chapters)
        clips = recipe_data(COOK_CARD._replace(film=film))["video"]["hasPart"]
        assert clips[1]["url"] == said
        assert [clip["endOffset"] for clip in clips] == [60, 90, 120]


def test_line_separators_that_end_a_script_are_written_as_escapes() -> None:
    text = structured(PASTE_CARD._replace(title="a\u2028b\u2029c & <d>"))
    assert not set("\u2028\u2029<>&") & set(text)
    assert json.loads(text)["name"] == "a\u2028b\u2029c & <d>"


def test_a_cook_whose_slow_end_is_far_out_is_open_at_that_end() -> None:
    def read(p10: float | None, p50: float | None, p90: float | None) -> str:
        return takes(Timing(60.0, Range(p10, p50, p90), Range(60.0, 61.0, 62.0), Range(60.0, 61.0, 62.0), None))

    assert read(61, 100, 199) == "1:00–3:20"
    assert read(61, 100, 201) == "1:00–1:40 or longer"
    assert read(61, 100, None) == "1:00–1:40 or longer"
    assert read(None, None, None) == "never"


def test_a_doneness_that_may_stay_below_the_household_line_has_its_star(kitchen: Kitchen) -> None:
    """62.8 °C for pork: what is served at 63 °C may well be colder in one cook of ten, what is well done not."""
    (grid,) = [one for one in content(kitchen, "loin").grids if one.key == "doneness"]
    assert [name for name, _ in grid.rows if name.endswith("*")] == ["pink *"]
    assert "62.8" in grid.note


def test_the_sheet_says_what_it_comes_off_at(kitchen: Kitchen) -> None:
    shown = " ".join(card(kitchen, "roast", "sheet").split())
    assert "Pulled at 50 °C (122 °F); the household line for beef is 62.8 °C (145 °F)" in shown
    assert "carbon monoxide" not in shown
    assert "outdoors only" in card(kitchen, "loin", "sheet")


def test_a_label_says_what_only_its_maker_knows(make_kitchen: Make) -> None:
    kitchen = make_kitchen({**FILES, "recipes/walnut-paste.yaml": PASTE})
    shown = label(kitchen, gather(kitchen, "walnut-paste"), Jar(71, "12", "May 2027"))
    assert "Net wt 2.5 oz (71 g)" in shown
    assert "Batch: 12   Best before: May 2027" in shown
    assert "Still to fill in: the address of who makes it." in shown
    assert "Contains: nuts." in shown


def test_a_sauce_for_no_piece_fills_a_jar_too(make_kitchen: Make) -> None:
    lines = "- {item: olive oil, amount: 100 g}\n- {item: butter, amount: 30 g}\n"
    kitchen = make_kitchen({"recipes/gravy.yaml": f"kind: sauce\ntitle: Pan gravy\ningredients:\n{lines}"})
    said = label(kitchen, gather(kitchen, "gravy"), Jar(130, "A\nB"))
    assert "Ingredients: olive oil, butter." in said
    assert "Contains: milk." in said
    assert "Batch: A B " in said


def test_a_label_to_read_is_named_where_the_ingredients_do_not_tell_already(make_kitchen: Make) -> None:
    """Soy sauce holds soybeans and wheat; of mustard only its jar tells of wheat and of sulphites."""
    rub = (
        'kind: paste\ntitle: Dark\nmade_for: {cut: "pork loin, boneless", weight: 2 kg}\ningredients:\n'
        "  - {item: soy sauce, amount: 30 g}\n  - {item: yellow mustard, amount: 20 g}\n"
    )
    kitchen = make_kitchen({"recipes/dark.yaml": rub})
    shown = " ".join(label(kitchen, gather(kitchen, "dark")).split())
    held = shown.partition("Contains: ")[2].partition(".")[0].split(", ")
    read = shown.partition("Labels to read for: ")[2].partition(".")[0].split(", ")
    assert {"soybeans", "cereals containing gluten"} <= set(held)
    assert read == ["sulphur dioxide and sulphites"]
    assert not set(held) & set(read)


def test_what_comes_first_stands_first_and_of_what_is_out_the_newest(make_kitchen: Make) -> None:
    told = (
        '- {recipe: green-sauce, occasion: some day}\n- {recipe: walnut-paste, planned: "2027-02-01"}\n'
        '- {recipe: pepper-rub, planned: "2027-01-01"}\n- {recipe: pepper-rub, out: "2025-01-01"}\n'
        '- {recipe: walnut-paste, out: "2026-01-01"}\n'
    )
    found = releases(make_kitchen({**FILES, "shared/releases.yaml": told}))
    assert [(one.recipe, str(one.planned or one.out)) for one in found] == [
        ("pepper-rub", "2027-01-01"), ("walnut-paste", "2027-02-01"), ("green-sauce", "None"),
        ("walnut-paste", "2026-01-01"), ("pepper-rub", "2025-01-01"),
    ]
    assert found[0].json()["planned"] == "2027-01-01"
