"""axe-core in a real browser: no finding of WCAG 2.2 A and AA on any page that is published, light and dark."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from cookbook.publish.site import site
from tests.publish.more import MORE, png

pytestmark = pytest.mark.browser

PAGES = (
    "index.html",
    "recipes/rib-roast-on-oak.html",
    "recipes/fennel-sage-paste.html",
    "versions/fennel-sage-paste.html",
)
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@pytest.fixture
def made(demo: Kitchen, tmp_path: Path) -> Path:
    """The demonstration kitchen's site, of its rib roast and its paste alone."""
    import shutil

    root = tmp_path / "kitchen"
    for part in ("recipes", "journal", "shared"):
        shutil.copytree(demo.root / part, root / part)
    for path in (root / "recipes").glob("*.yaml"):
        if path.stem not in ("rib-roast-on-oak", "mustard-horseradish-paste", "fennel-sage-paste"):
            path.unlink()
    site(Kitchen.open(root), tmp_path / "site")
    return tmp_path / "site"


def test_axe_finds_nothing(browser: Any, made: Path) -> None:
    axe = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
    for scheme in ("light", "dark"):
        context = browser.new_context(color_scheme=scheme, bypass_csp=True, viewport={"width": 390, "height": 844})
        for name in PAGES:
            page = context.new_page()
            page.goto((made / name).as_uri())
            page.evaluate(axe)
            found = page.evaluate("rules => axe.run(document, {runOnly: {type: 'tag', values: rules}})", RULES)
            assert not [
                (one["id"], [node["html"][:120] for node in one["nodes"][:3]]) for one in found["violations"]
            ], name
            page.close()
        context.close()


def test_the_index_finds_a_recipe_by_what_goes_in(browser: Any, made: Path) -> None:
    page = browser.new_page()
    page.goto((made / "index.html").as_uri())
    page.fill("#words", "horseradish")
    assert page.locator("#entries li:visible").count() == 2
    assert "2 of 3" in page.locator("#count").inner_text()
    page.close()


def test_targets_are_large_enough_for_greasy_fingers(browser: Any, made: Path) -> None:
    """WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels; here 40 for what is filled in."""
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((made / "recipes/rib-roast-on-oak.html").as_uri())
    boxes = page.evaluate(
        "[...document.querySelectorAll('#scaler-form select, #scaler-form input:not([type=radio])')]"
        ".filter(e => e.offsetParent).map(e => e.getBoundingClientRect().height)"
    )
    assert len(boxes) >= 6
    assert min(boxes) >= 40
    page.close()


def test_pictures_of_a_site_show_from_a_folder(browser: Any, make_kitchen: Any, tmp_path: Path) -> None:
    kitchen = make_kitchen({name: MORE[name] for name in MORE if "roast" not in name})
    (kitchen.root / "pictures").mkdir()
    (kitchen.root / "pictures" / "the-loin.png").write_bytes(png())
    site(kitchen, tmp_path / "site")
    page = browser.new_page()
    page.goto((tmp_path / "site" / "recipes" / "rubbed.html").as_uri())
    assert page.evaluate("[...document.images].map(image => [image.alt, image.naturalWidth])") == [["the loin", 1]]
    page.close()
