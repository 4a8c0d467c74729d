"""Secrets planted where they might get out: within private formulas, in what uses them, by links, by names."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.compare import compare_versions
from cookbook.errors import FileError
from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content.gathering import gather
from cookbook.publish.forms.comparison import comparison_page, for_readers
from cookbook.publish.forms.page import whole_page
from cookbook.publish.forms.paper import paper
from cookbook.publish.forms.ready import missing
from cookbook.publish.site import site
from tests.publish.kitchens import SHARED
from tests.publish.more import png

Make = Callable[..., Kitchen]
posix = pytest.mark.skipif(os.name == "nt", reason="links are POSIX's")

SECRETS = ("zedoary", "calamint", "galbanum", "orris", "silphium", "tamarisk", "sumac-cellar")
BASE = """\
kind: rub
title: Base blend
formula: private
made_for: {cut: "pork loin, boneless", weight: 2.2 kg}
ingredients:
  - {item: zedoary, amount: 20 g}
  - {item: olive oil, amount: 20 ml}
steps: Grind the orris.
"""
OWN = """\
kind: paste
title: The hall's paste
revision: 2
formula: private
made_for: {cut: "pork loin, boneless", weight: 2.2 kg}
ingredients:
  - {recipe: base-blend, amount: 40 g}
  - {item: "calamint, fresh", amount: 10 g, or: galbanum}
  - {item: garlic, amount: 12 g}
  - {item: fine salt, amount: 1.2 % of meat}
steps: Pound the silphium.
photos: [pictures/calamint-in-the-mortar.png]
"""
MOP = """\
kind: sauce
title: The hall's mop
formula: private
ingredients:
  - {item: vinegar, amount: 1 cup}
  - {item: fine salt, amount: 12 g}
  - {item: tamarisk, amount: 8 g}
steps: Warm the silphium.
"""
MIXED = """\
kind: rub
title: Mixed rub
made_for: {cut: "pork loin, boneless", weight: 2.2 kg}
ingredients:
  - {recipe: hall-paste, amount: 30 g}
  - {recipe: hall-mop, amount: 20 g}
  - {item: paprika, amount: 20 g}
"""
MOPPED = """\
kind: cook
title: Mopped loin
cut: pork loin, boneless
coats: [{recipe: mixed}]
ingredients: [{recipe: hall-mop, amount: 133 g}]
"""
FILES = {
    "recipes/base-blend.yaml": BASE, "recipes/hall-paste.yaml": OWN, "recipes/hall-mop.yaml": MOP,
    "recipes/mixed.yaml": MIXED, "recipes/mopped.yaml": MOPPED, "shared/kitchen.yaml": SHARED,
}


@pytest.fixture
def hall(make_kitchen: Make) -> Kitchen:
    made = make_kitchen(FILES)
    (made.root / "pictures").mkdir()
    (made.root / "pictures" / "calamint-in-the-mortar.png").write_bytes(png(b"sumac-cellar"))
    return made


def told(text: str) -> list[str]:
    return [word for word in SECRETS if word in text.casefold()]


@pytest.mark.parametrize("form", ["text", "description", "reply", "page", "json-ld", "sheet"])
@pytest.mark.parametrize("recipe", ["hall-paste", "hall-mop", "mixed", "mopped"])
def test_what_goes_into_a_private_formula_stands_in_no_form_of_what_uses_it(
    hall: Kitchen, recipe: str, form: str
) -> None:
    assert not told(card(hall, recipe, form))


def test_a_caution_warns_of_it_without_its_name(hall: Kitchen) -> None:
    """Garlic and oil are in the hall's paste and in the blend that goes into it, and in nothing else here."""
    for recipe in ("hall-paste", "mixed", "mopped"):
        said = " ".join(card(hall, recipe, "text").split())
        assert "What is fresh and lies in oil or fat: use within 2 days" in said
        assert "garlic" not in said


def test_nor_in_what_is_missing(hall: Kitchen) -> None:
    for recipe in ("hall-paste", "mixed", "mopped"):
        assert not told("".join(missing(hall, gather(hall, recipe))))
    path = hall.root / "recipes" / "hall-mop.yaml"
    path.write_text(MOP.replace("8 g", "to taste"), encoding="utf-8")
    again = Kitchen.open(hall.root)
    lacks = missing(again, gather(again, "hall-mop"))
    assert "hall-mop: the private formula is 'to taste': measure it once" in lacks


def test_a_share_that_two_sizes_give_away_is_named_before_it_goes_out(hall: Kitchen) -> None:
    """So much sugar for a kilogram: the totals for 1 kg and 2 kg are two equations with two unknowns."""
    assert not any("two sizes" in one for one in missing(hall, gather(hall, "hall-paste")))
    path = hall.root / "recipes" / "hall-paste.yaml"
    path.write_text(OWN.replace("amount: 12 g}", "amount: 1 % of meat}"), encoding="utf-8")
    again = Kitchen.open(hall.root)
    (said,) = [one for one in missing(again, gather(again, "hall-paste")) if "two sizes" in one]
    assert said.startswith("hall-paste: more than its salt follows the weight")


def test_the_picture_of_a_private_formula_is_called_by_its_title(hall: Kitchen) -> None:
    assert 'alt="The hall&#39;s paste"' in whole_page(hall, gather(hall, "hall-paste"))


def test_the_jar_of_another_rub_names_a_private_formula_and_says_what_it_leaves_out(hall: Kitchen) -> None:
    shown = " ".join(card(hall, "mixed", "label").split())
    assert not told(shown)
    assert "Ingredients: The hall's paste, The hall's mop, paprika." in shown
    assert "not known of The hall's paste, The hall's mop" in shown
    assert "Still to fill in: what is in The hall's paste, what is in The hall's mop," in shown
    own = " ".join(card(hall, "hall-paste", "label").split())
    assert "Ingredients: Base blend; fine salt; garlic; calamint, fresh." in own
    assert "zedoary" not in own


def test_a_private_sauce_says_its_grams_its_spoons_and_its_salt(hall: Kitchen) -> None:
    """12 g of salt are in the whole; in 133 g of 257 g are 6.2 g, 6 g on a balance."""
    path = hall.root / "recipes" / "hall-mop.yaml"
    path.write_text(MOP.replace("tamarisk", "brown sugar"), encoding="utf-8")
    again = Kitchen.open(hall.root)
    (whole,) = gather(again, "hall-mop").content.batches
    assert whole.items[0].amounts[0].startswith("1\u00a0cup + ")
    assert "its salt: 12 g" in whole.items[0].asides
    assert "or 12 g fine salt and your own spices" in whole.items[0].asides
    part = gather(again, "mopped").content.batches[-1]
    assert part.title == "The hall's mop"
    assert whole.items[0].grams == pytest.approx(257, abs=3)
    assert part.items[0].grams == 133
    assert "its salt: 6 g" in part.items[0].asides


def test_fine_salt_never_stands_in_for_curing_salt(hall: Kitchen) -> None:
    path = hall.root / "recipes" / "hall-paste.yaml"
    cured = OWN.replace("steps:", "  - {item: pink curing salt, amount: 0.25 % of meat}\nsteps:")
    path.write_text(cured, encoding="utf-8")
    (batch,) = gather(Kitchen.open(hall.root), "hall-paste").content.batches
    assert not any("your own spices" in aside for aside in batch.items[0].asides)


def test_a_site_holds_none_of_it_and_says_what_is_open(hall: Kitchen, tmp_path: Path) -> None:
    assert not site(hall, tmp_path / "site").warnings
    for path in (tmp_path / "site").rglob("*"):
        assert not path.is_file() or not told(path.read_bytes().decode("utf-8", "replace") + path.name), path
    path = hall.root / "recipes" / "base-blend.yaml"
    path.write_text(BASE.replace("formula: private\n", ""), encoding="utf-8")
    (said,) = site(Kitchen.open(hall.root), tmp_path / "site").warnings
    assert said.startswith("base-blend goes into hall-paste, a private formula, and has a page of its own here")


def cooked(kitchen: Kitchen, day: str, more: str = "") -> Path:
    recipe = kitchen.recipe("hall-paste")
    version = kitchen.version_now(recipe)
    kept = kitchen.root / "recipes" / "versions" / "hall-paste" / f"{version}.yaml"
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_bytes((kitchen.root / "recipes" / "hall-paste.yaml").read_bytes())
    path = kitchen.root / "journal" / "2026" / f"{day}-hall-paste.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(
        f'recipe: hall-paste\nversion: {version}\ndate: "{day}"\npublic: true\npiece: {{weight: 2.9 kg}}\n{more}',
        encoding="utf-8",
    )
    return path


def test_a_comparison_as_a_page_says_not_what_changed_in_a_private_formula(hall: Kitchen) -> None:
    cooked(hall, "2026-05-02", "outcome: {scores: {crust: 7}}\n")
    path = hall.root / "recipes" / "hall-paste.yaml"
    path.write_text(OWN.replace("calamint, fresh\", amount: 10 g", "calamint, fresh\", amount: 15 g")
                    .replace("revision: 2", "revision: 3"), encoding="utf-8")
    cooked(Kitchen.open(hall.root), "2026-05-09", "outcome: {scores: {crust: 8}}\n")
    again = Kitchen.open(hall.root)
    found = compare_versions(again, "hall-paste")
    assert told(comparison_page(found, "hall-paste"))
    shown = comparison_page(for_readers(again, found), "hall-paste")
    assert not told(shown)
    assert "revision 3 (9 May" in shown
    for kept in (path, *(hall.root / "recipes" / "versions" / "hall-paste").iterdir()):
        kept.write_text(kept.read_text(encoding="utf-8").replace("formula: private\n", ""), encoding="utf-8")
    opened = Kitchen.open(hall.root)
    assert for_readers(opened, found) == found


@posix
def test_no_cook_and_no_reading_is_published_from_elsewhere_by_a_link(hall: Kitchen, tmp_path: Path) -> None:
    one = cooked(hall, "2026-05-02")
    elsewhere = tmp_path / "elsewhere.yaml"
    one.rename(elsewhere)
    one.symlink_to(elsewhere)
    two = cooked(hall, "2026-05-09", "readings: probe.csv\n")
    (tmp_path / "probe.csv").write_text("time,core\n2026-05-09T11:00:00+02:00,31\n", encoding="utf-8")
    (two.parent / "probe.csv").symlink_to(tmp_path / "probe.csv")
    cooked(hall, "2026-05-16")
    made = site(Kitchen.open(hall.root), tmp_path / "site")
    assert len([one for one in made.warnings if "leads out of the kitchen" in one]) == 2
    assert [page for page in made.pages if page.startswith("journal/")] == ["journal/2026-05-16-hall-paste.html"]


@posix
def test_no_recipe_inside_is_published_from_elsewhere_by_a_link(hall: Kitchen, tmp_path: Path) -> None:
    path = hall.root / "recipes" / "hall-mop.yaml"
    path.rename(tmp_path / "mop.yaml")
    path.symlink_to(tmp_path / "mop.yaml")
    made = site(Kitchen.open(hall.root), tmp_path / "site")
    assert not any("mixed" in page or "mop" in page for page in made.pages)
    (said,) = [one for one in made.warnings if "'hall-mop.yaml' leads out" in one]
    assert "mixed" in said
    assert "are left out" in said


@posix
@pytest.mark.parametrize("name", ["versions.html.j2", "page.css", "search.js"])
def test_no_template_brings_words_from_elsewhere_by_a_link(hall: Kitchen, tmp_path: Path, name: str) -> None:
    own = hall.root / "shared" / "templates"
    own.mkdir()
    (tmp_path / "secret").write_text("sumac-cellar", encoding="utf-8")
    (own / name).symlink_to(tmp_path / "secret")
    try:
        said = site(hall, tmp_path / "site").warnings
    except FileError as fault:
        said = (fault.problems[0].printed(),)
    assert any("this template leads out of the kitchen" in one for one in said)
    for path in (tmp_path / "site").rglob("*"):
        assert not path.is_file() or b"sumac-cellar" not in path.read_bytes()


@posix
def test_nor_does_the_one_for_paper(hall: Kitchen, tmp_path: Path) -> None:
    own = hall.root / "shared" / "templates"
    own.mkdir()
    (tmp_path / "secret").write_text("sumac-cellar", encoding="utf-8")
    (own / "card.typ").symlink_to(tmp_path / "secret")
    with pytest.raises(FileError, match="leads out of the kitchen"):
        paper(hall, gather(hall, "hall-paste").content, "A5")


def test_nobody_who_tasted_is_told_of_by_a_slip(hall: Kitchen, tmp_path: Path) -> None:
    """A score under somebody's name, as a slip writes it, is no aspect of the food."""
    (hall.root / "shared" / "eaters.yaml").write_text("Orris: {appetite: usual}\n", encoding="utf-8")
    cooked(hall, "2026-05-02", "outcome: {scores: {orris: 8, Silphium: 6, crust: {Silphium: 7}}}\n")
    again = Kitchen.open(hall.root)
    assert "crust 7 of 10" in card(again, "hall-paste", "text").replace("\u00a0", " ")
    assert not told(card(again, "hall-paste", "text"))
    site(again, tmp_path / "site")
    shown = (tmp_path / "site" / "journal" / "2026-05-02-hall-paste.html").read_text(encoding="utf-8")
    assert not told(shown)
    assert "crust" in shown


def test_what_a_cook_puts_beside_the_pages_stays(hall: Kitchen, tmp_path: Path) -> None:
    site(hall, tmp_path / "site")
    for name in ("recipes/about.html", "pictures/logo.png"):
        (tmp_path / "site" / name).write_text("mine", encoding="utf-8")
    (hall.root / "recipes" / "mopped.yaml").unlink()
    assert site(Kitchen.open(hall.root), tmp_path / "site").removed == ("recipes/mopped.html", "versions/mopped.html")
