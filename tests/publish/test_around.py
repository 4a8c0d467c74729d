"""Links and what must be told of them, the film and its chapters, questions, the reply, what is still missing."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from datetime import datetime

import pytest

from cookbook.errors import FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.outlook import Asked
from cookbook.publish import card
from cookbook.publish.content import Chapter, Film, Reference
from cookbook.publish.content.gathering import content, gather
from cookbook.publish.forms.chapters import faults, stamp
from cookbook.publish.forms.description import MOST_BYTES, description
from cookbook.publish.forms.ready import missing
from cookbook.publish.forms.releases import correction, releases
from cookbook.publish.forms.reply import MOST
from cookbook.publish.forms.sheet import spoken
from tests.publish.cards import COOK_CARD
from tests.publish.kitchens import FILES, PASTE
from tests.publish.more import LOIN, MORE

Make = Callable[..., Kitchen]


@pytest.mark.parametrize("form", ["text", "description", "page", "reply", "sheet"])
def test_what_was_given_or_earns_something_is_told_in_every_form(fuller: Kitchen, form: str) -> None:
    shown = card(fuller, "rubbed", form)
    assert "Given free of charge: the knife." in " ".join(shown.split())
    assert "the pan." not in shown


def test_it_stands_in_the_first_lines_of_the_description_and_is_never_trimmed(fuller: Kitchen) -> None:
    lines = description(content(fuller, "rubbed")).splitlines()
    assert any("Given free of charge: the knife." in line for line in lines[:5])
    long = COOK_CARD._replace(
        steps=("stir " * 400,) * 30,
        links=(Reference("a", "https://example.org", "", "Paid for, to be shown here: a."),),
    )
    shown = description(long)
    assert "Paid for, to be shown here: a." in shown.splitlines()[:5]
    assert len(shown.encode()) <= MOST_BYTES


def test_two_hundred_links_are_told_in_one_sentence() -> None:
    many = COOK_CARD._replace(
        links=tuple(
            Reference(f"thing {n} {'x' * 60}", "https://example.org", "", f"Given: {n} {'x' * 60}.")
            for n in range(200)
        )
    )
    shown = description(many)
    assert "Some of what is shown here was paid for or given" in shown
    assert len(shown.encode()) <= MOST_BYTES


def film(*starts: int, length: int | None = None) -> Film:
    return Film("", "", "", length, tuple(Chapter(at, f"chapter {at}") for at in starts))


@pytest.mark.parametrize(
    ("starts", "length", "said"),
    [
        ((0, 45, 90), 120, ""),
        ((1, 45, 90), 120, "must be 0:00"),
        ((0, 45), 120, "from 3 on"),
        ((0, 5, 60), 120, "lasts 5 s"),
        ((0, 60, 30), 120, "must ascend"),
        ((0, 45, 115), 120, "lasts 5 s"),
    ],
)
def test_chapters_are_as_platforms_ask(starts: tuple[int, ...], length: int, said: str) -> None:
    """0:00 first, at least three, ascending, ten seconds each: a video platform's public help pages."""
    found = list(faults(film(*starts, length=length)))
    assert bool(found) == bool(said)
    assert said in " ".join(found)


def test_chapters_stand_in_the_description_whatever_is_trimmed() -> None:
    long = COOK_CARD._replace(steps=("stir " * 400,) * 30, film=film(0, 45, 3700, length=4000))
    shown = description(long).splitlines()
    assert [line for line in shown if line[:1].isdigit() and "chapter" in line] == [
        "0:00 chapter 0",
        "0:45 chapter 45",
        "1:01:40 chapter 3700",
    ]
    assert stamp(3599) == "59:59"


def test_markers_come_from_a_list_with_or_without_a_heading(make_kitchen: Make) -> None:
    release = '- {recipe: loin, out: "2026-05-01", length: 5:00, markers: loin.csv}\n'
    headed = 'Time,Name\n0:00,The fire\n0:50,"Coal, and wood"\n2:10,The pull\n'
    turned = 'The fire,0:00\n"Coal, and wood",0:50\nThe pull,2:10\n'
    for text in (headed, turned):
        kitchen = make_kitchen({**FILES, "shared/releases.yaml": release, "shared/loin.csv": text})
        found = content(kitchen, "loin").film
        assert found is not None
        assert found.chapters == ((0, "The fire"), (50, "Coal, and wood"), (130, "The pull"))
    kitchen = make_kitchen(
        {**FILES, "shared/releases.yaml": release, "shared/loin.csv": "0:00,The fire\nsoon,The pull\n"}
    )
    with pytest.raises(FileError, match="no time in this line") as caught:
        content(kitchen, "loin")
    assert caught.value.place is not None
    assert (caught.value.place.file, caught.value.place.line) == ("shared/loin.csv", 2)
    with pytest.raises(RequestError, match="leads out of the kitchen"):
        content(
            make_kitchen({**FILES, "shared/releases.yaml": release.replace("loin.csv", "../../etc/passwd")}), "loin"
        )


def test_only_answers_that_the_cook_wants_there_stand_on_the_card(fuller: Kitchen) -> None:
    shown = card(fuller, "rubbed", "page").replace("\u00a0", " ")
    assert "Does it work with a shoulder?" in shown
    assert "Yes, at 95 °C (203 °F)." in shown
    assert "And in a pan?" not in shown
    assert "What is in the rub?" not in shown


@pytest.mark.long
def test_a_reply_is_short_and_says_all_that_matters(fuller: Kitchen) -> None:
    said = card(
        fuller,
        "loin",
        "reply",
        {"": {"weight": "1.4 kg"}},
        asked=Asked(cooker="oven", want="medium"),
        eat=datetime.fromisoformat("2026-11-21T18:00:00+01:00"),
    )
    assert len(said) <= MOST
    for words in (
        "1.4 kg",
        "To eat at 18:00",
        "in the oven",
        "check from",
        "pull at",
        "rest 25 min",
        "Safe for pork: 62.8 °C",
    ):
        assert words in said, words
    assert not said.count("\n") > 1


@pytest.mark.parametrize("ingredients", [3, 200])
@pytest.mark.parametrize("title", ["Loin", "x" * 300, "🔥" * 150, "לחם " * 75])
def test_a_reply_is_never_longer_than_it_may_be(make_kitchen: Make, title: str, ingredients: int) -> None:
    lines = "".join(f"  - item: spice number {n}\n    amount: {n + 1} g\n" for n in range(ingredients))
    text = (
        f'kind: rub\ntitle: "{title}"\nmade_for: {{cut: "pork loin, boneless", weight: 2 kg}}\ningredients:\n{lines}'
    )
    said = card(make_kitchen({"recipes/r.yaml": text}), "r", "reply")
    assert len(said.rstrip("\n")) <= MOST
    assert "raw meat" in said


def test_what_is_missing_is_listed_and_what_is_there_is_not(fuller: Kitchen) -> None:
    lacks = missing(fuller, gather(fuller, "rubbed"))
    assert any("not cooked yet" in one for one in lacks)
    assert any("weighs is not known" in one for one in lacks)
    assert not any("moonwort" in one or "gentian" in one for one in lacks)
    assert not any("picture" in one for one in lacks)
    (fuller.root / "pictures" / "the-loin.png").unlink()
    assert any("pictures/the-loin.png is not there" in one for one in missing(fuller, gather(fuller, "rubbed")))


def test_a_bad_link_is_named(make_kitchen: Make) -> None:
    text = PASTE + 'links:\n  - {what: the jar, address: "javascript:alert(1)"}\n'
    kitchen = make_kitchen({**FILES, "recipes/walnut-paste.yaml": text})
    assert any(
        "the link to the jar is no address" in one for one in missing(kitchen, gather(kitchen, "walnut-paste"))
    )
    assert 'href="javascript' not in card(kitchen, "walnut-paste", "page")


def test_releases_come_first_by_their_day_and_say_what_they_lack(fuller: Kitchen) -> None:
    coming, out = releases(fuller)
    assert (coming.recipe, str(coming.planned), out.recipe) == ("loin", "2026-12-05", "rubbed")
    assert any("which cook was filmed" in one for one in coming.missing)
    assert out.missing == ("which cook was filmed? `entry:`", "which version came out? `version:`")


def test_what_has_been_overtaken_is_said_in_three_lines(make_kitchen: Make) -> None:
    first = make_kitchen(MORE)
    version = first.version_now(first.recipe("loin"))
    files = {
        **MORE,
        f"recipes/versions/loin/{version}.yaml": FILES["recipes/loin.yaml"],
        "shared/releases.yaml": f'- {{recipe: loin, out: "2026-05-01", version: {version}}}\n',
    }
    same = make_kitchen(files)
    assert releases(same)[0].overtaken == ()
    with pytest.raises(RequestError, match="still holds"):
        correction(same, "loin")
    changed = make_kitchen(
        {**files, "recipes/loin.yaml": FILES["recipes/loin.yaml"].replace("pull_at: 60", "pull_at: 64")}
    )
    assert releases(changed)[0].overtaken == ("pull at 60 °C (140 °F), now 64 °C (147 °F)",)
    said = correction(changed, "loin")
    assert len(said.splitlines()) == 3
    assert "pull at 60 °C (140 °F), now 64 °C (147 °F)" in said


BARE = "kind: rub\ntitle: Bare rub\nmade_for: {cut: \"pork loin, boneless\", weight: 2.2 kg}\ningredients:\n"
SALTED = BARE + "  - {item: mustard seed, amount: 20 g}\n  - {item: fine salt, amount: 2 % of meat}\n"


def filmed(make_kitchen: Make, **now: str) -> Kitchen:
    """The loin as it was filmed, out since May; then the recipes of `now` were written over."""
    first = make_kitchen(MORE)
    kept = {name: first.version_now(first.recipe(name)) for name in ("loin", "walnut-paste")}
    entry = (
        f"recipe: loin\nversion: {kept['loin']}\nuses: {{walnut-paste: {kept['walnut-paste']}}}\n"
        'date: "2026-04-25"\npiece: {weight: 2.2 kg}\n'
    )
    files = {f"recipes/versions/{name}/{kept[name]}.yaml": FILES[f"recipes/{name}.yaml"] for name in kept}
    release = f'- {{recipe: loin, entry: 2026-04-25-loin, out: "2026-05-01", version: {kept["loin"]}}}\n'
    changed = {f"recipes/{name.replace('_', '-')}.yaml": text for name, text in now.items()}
    return make_kitchen(
        {**MORE, **files, "journal/2026/2026-04-25-loin.yaml": entry, "shared/releases.yaml": release, **changed}
    )


def test_a_paste_inside_that_changed_is_told_of_as_it_was_filmed(make_kitchen: Make) -> None:
    paste = PASTE.replace("1.1 % of meat", "1.4 % of meat").replace("item: garlic", "item: celery seed")
    assert releases(filmed(make_kitchen, walnut_paste=paste))[0].overtaken == (
        "Walnut and sage paste: salt 1.1 % of the piece, now 1.4 %",
        "now contains celery",
    )


def test_another_coat_is_told_of_by_the_salt_of_all_and_by_what_came_and_went(make_kitchen: Make) -> None:
    """The loin had mustard as a coat before, so that mustard in the rub is nothing new."""
    cook = LOIN.replace("recipe: walnut-paste", "recipe: bare-rub")
    kitchen = filmed(make_kitchen, loin=cook, bare_rub=SALTED)
    gone = "no longer contains nuts (walnut)"
    assert releases(kitchen)[0].overtaken == ("salt 1.1 % of the piece, now 2.0 %", gone)
    cook = cook.replace("  - item: yellow mustard\n    amount: 2 tbsp\n", "  - item: soy sauce\n    amount: 2 tbsp\n")
    kitchen = filmed(make_kitchen, loin=cook, bare_rub=SALTED)
    assert releases(kitchen)[0].overtaken[1:] == (
        "now contains cereals containing gluten (wheat), soybeans",
        gone,
    )


def test_one_nut_for_another_is_told_of(make_kitchen: Make) -> None:
    kitchen = filmed(make_kitchen, walnut_paste=PASTE.replace("item: walnuts", "item: hazelnuts"))
    assert releases(kitchen)[0].overtaken == ("now contains nuts (hazelnut)", "no longer contains nuts (walnut)")


def test_temperatures_and_the_rest_are_told_of(make_kitchen: Make) -> None:
    cook = LOIN.replace("130 °C", "125 °C").replace("wrap_at: 50", "wrap_at: 55").replace("25 min", "40 min")
    assert releases(filmed(make_kitchen, loin=cook))[0].overtaken == (
        "pit 130 °C (266 °F), now 125 °C (257 °F)",
        "wrap at 50 °C (122 °F), now 55 °C (131 °F)",
        "rest 25 min, now 40 min",
    )


def test_what_is_out_says_that_its_cook_is_not_named_where_something_goes_in(make_kitchen: Make) -> None:
    kitchen = filmed(make_kitchen)
    assert releases(kitchen)[0].missing == ()
    path = kitchen.root / "shared" / "releases.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("entry: 2026-04-25-loin, ", ""), encoding="utf-8")
    assert releases(Kitchen.open(kitchen.root))[0].missing == ("which cook was filmed? `entry:`",)


def test_the_text_as_it_was_sent_is_known_by_its_digest(make_kitchen: Make) -> None:
    kitchen = filmed(make_kitchen)
    path = kitchen.root / "shared" / "releases.yaml"
    sent = hashlib.sha256(card(kitchen, "loin", "description").encode()).hexdigest()
    path.write_text(path.read_text(encoding="utf-8").replace("out:", f"digest: {sent}, out:"), encoding="utf-8")
    assert not releases(Kitchen.open(kitchen.root))[0].sent_otherwise
    cook = kitchen.root / "recipes" / "loin.yaml"
    cook.write_text(LOIN.replace("Pull at 60 °C in the middle", "Pull it"), encoding="utf-8")
    assert releases(Kitchen.open(kitchen.root))[0].sent_otherwise


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        ("1½ tbsp", "1 and a half tablespoons"),
        ("½ cup + 1 tsp", "half a cup plus 1 teaspoon"),
        ("60 g", "60 grams"),
        ("about 4.6 g", "about 4.6 grams"),
        ("12 cloves", "12 cloves"),
        ("to taste", "to taste"),
    ],
)
def test_amounts_as_they_are_said(amount: str, said: str) -> None:
    assert spoken(amount) == said


def test_a_missing_picture_is_named_with_its_mend(fuller: Kitchen) -> None:
    (fuller.root / "pictures" / "the-loin.png").unlink()
    with pytest.raises(FileError, match=r"the picture pictures/the-loin\.png can't be read") as caught:
        card(fuller, "rubbed", "page")
    (problem,) = caught.value.problems
    assert problem.mend == "mend `photos:`, or take it out"
    assert problem.place is not None
    assert "pictures/the-loin.png" in problem.place.source
    for form in ("text", "description", "reply", "sheet", "json-ld"):
        assert card(fuller, "rubbed", form)


@pytest.mark.parametrize("address", ["javascript:alert(1)", "not an address", "http://", "<b>"])
def test_a_film_whose_address_is_none_is_no_link_and_no_video(fuller: Kitchen, address: str) -> None:
    path = fuller.root / "shared" / "releases.yaml"
    text = path.read_text(encoding="utf-8").replace("https://example.org/film\n", f'"{address}"\n')
    path.write_text(text, encoding="utf-8")
    kitchen = Kitchen.open(fuller.root)
    assert '"VideoObject"' not in card(kitchen, "rubbed", "json-ld")
    assert f'href="{address}"' not in card(kitchen, "rubbed", "page")
    assert any("the film has no address" in one for one in missing(kitchen, gather(kitchen, "rubbed")))


@pytest.mark.long
@pytest.mark.parametrize("form", ["text", "description", "reply", "page", "json-ld", "sheet"])
def test_two_hundred_ingredients_in_every_form(make_kitchen: Make, form: str) -> None:
    lines = "".join(f"  - item: spice number {n}\n    amount: {n + 1} g\n" for n in range(200))
    text = f'kind: rub\ntitle: Many\nmade_for: {{cut: "pork loin, boneless", weight: 2 kg}}\ningredients:\n{lines}'
    shown = card(make_kitchen({"recipes/r.yaml": text}), "r", form)
    if form in ("text", "page", "json-ld", "sheet"):
        assert all(f"spice number {n}" in shown for n in range(200))
    else:
        assert "raw meat" in shown
