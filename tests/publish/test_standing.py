"""A page whose recipe doesn't read any more stays as it was last made, unless it may show what is private by now."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.errors import FileError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import cache_folder
from cookbook.publish.site import Known, Site, site
from cookbook.publish.site.standing import against
from tests.publish.kitchens import PASTE
from tests.publish.test_site import cooked

FAULT = "\nlinks: nothing of the kind\n"
BROKEN = "\n  ] : [\n"
OPEN = "recipes/walnut-paste.yaml"
"""It goes into the cook called loin."""
KNOWN = Known("", (), {}, {}, (), (), ())
Make = Callable[..., Kitchen]
often = [pytest.mark.long, pytest.mark.tenth]


@pytest.fixture
def made(fuller: Kitchen, tmp_path: Path) -> Callable[..., Site]:
    """The site made once, and again after each change of a file; with None for a text the file goes."""
    kitchen = cooked(fuller)
    site(kitchen, tmp_path / "site")

    def again(changes: dict[str, Callable[[str], str] | None]) -> Site:
        for name, change in changes.items():
            path = kitchen.root / name
            if change is None:
                path.unlink()
            else:
                path.write_text(change(path.read_text(encoding="utf-8")), encoding="utf-8")
        return site(Kitchen.open(kitchen.root), tmp_path / "site")

    return again


@pytest.fixture
def shown(tmp_path: Path) -> Callable[[], dict[str, bytes]]:
    """The pages of the two recipes that one fault touches, and their versions."""
    places = [tmp_path / "site" / folder / f"{name}.html" for folder in ("recipes", "versions")
              for name in ("loin", "walnut-paste")]
    return lambda: {f"{path.parent.name}/{path.stem}": path.read_bytes() for path in places if path.is_file()}


@pytest.mark.parametrize("fault", [FAULT, pytest.param(BROKEN, marks=often)])
def test_a_fault_leaves_the_pages_that_it_touches_as_they_were_and_is_told_once(
    made: Callable[..., Site], shown: Callable[[], dict[str, bytes]], tmp_path: Path, fault: str
) -> None:
    before = shown()
    assert len(before) == 4
    for _ in range(2):
        after = made({OPEN: lambda text: text if fault in text else text + fault})
        (said,) = after.warnings
        assert said.startswith(
            "the pages of loin and walnut-paste stay as they were last made: recipes/walnut-paste.yaml:"
        )
        assert shown() == before
        assert not after.removed
        assert "recipes/loin.html" in after.pages
        for file in ("index.html", "sitemap.xml"):
            assert "recipes/loin.html" in (tmp_path / "site" / file).read_text(encoding="utf-8")
    mended = made({OPEN: lambda text: text.replace(fault, "").replace("minced", "crushed")})
    assert not mended.warnings
    assert b"crushed" in shown()["recipes/walnut-paste"]


@pytest.mark.parametrize("fault", [FAULT, BROKEN])
@pytest.mark.parametrize("mark", [
    "formula: private", 'formula: "private"', "Formula: Private", "formla: privat", "formula:\n  private",
    "stand_in: salt", 'formula: "priv\\x61te"', '"form\\x75la": "priv\\x61te"'])
def test_a_recipe_with_a_fault_may_be_private_by_now(make_kitchen: Make, mark: str, fault: str) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": f"{mark}\n{PASTE}{fault}"})
    assert "walnut-paste may be private by now" in against(kitchen, "walnut-paste", KNOWN, ())
    private = KNOWN._replace(private=("walnut-paste",))
    assert not against(kitchen, "walnut-paste", private, ())


@pytest.mark.parametrize("text", [
    PASTE + FAULT, PASTE + BROKEN, f"formula: open\n{PASTE}{FAULT}", f"# private\n{PASTE}{FAULT}", PASTE, ""])
def test_a_recipe_with_a_fault_that_says_nothing_of_it_is_as_open_as_it_was(make_kitchen: Make, text: str) -> None:
    assert not against(make_kitchen({"recipes/walnut-paste.yaml": text}), "walnut-paste", KNOWN, ())


@pytest.mark.parametrize("data", [PASTE.encode("utf-16"), b"\xff" + PASTE.encode(), b"- a list"])
def test_what_cannot_be_read_at_all_may_be_private(make_kitchen: Make, data: bytes) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": ""})
    (kitchen.root / "recipes" / "walnut-paste.yaml").write_bytes(data)
    assert "walnut-paste may be private by now" in against(kitchen, "walnut-paste", KNOWN, ())


@pytest.mark.long
@pytest.mark.tenth
def test_a_cook_with_a_fault_is_taken_away_when_what_goes_into_it_is_private_now(
    made: Callable[..., Site], shown: Callable[[], dict[str, bytes]]
) -> None:
    after = made({OPEN: lambda text: text + "formula: private\n", "recipes/loin.yaml": lambda text: text + FAULT})
    assert shown().keys() == {"recipes/walnut-paste", "versions/walnut-paste"}
    assert b"olive oil" not in shown()["recipes/walnut-paste"]
    assert any(one.startswith("the page of loin is taken away: recipes/loin.yaml:")
               and one.endswith("; walnut-paste is a private formula now") for one in after.warnings)


@pytest.mark.long
@pytest.mark.tenth
def test_it_is_taken_away_in_a_later_run_too(
    made: Callable[..., Site], shown: Callable[[], dict[str, bytes]]
) -> None:
    made({"recipes/loin.yaml": lambda text: text + FAULT})
    assert "recipes/loin" in shown()
    made({OPEN: lambda text: text + "formula: private\n"})
    assert "recipes/loin" not in shown()


@pytest.mark.long
@pytest.mark.tenth
def test_what_was_private_when_the_page_was_made_hides_nothing_more(
    made: Callable[..., Site], tmp_path: Path
) -> None:
    page = tmp_path / "site" / "recipes" / "own-rub.html"
    before = page.read_bytes()
    (said,) = made({"recipes/own-rub.yaml": lambda text: text + FAULT}).warnings
    assert said.startswith("the pages of own-rub and rubbed stay as they were last made: recipes/own-rub.yaml:")
    assert page.read_bytes() == before


@pytest.mark.long
@pytest.mark.tenth
@pytest.mark.parametrize("also", ["", FAULT])
def test_a_run_cut_off_midway_leaves_nothing_that_is_taken_for_what_was_kept(
    made: Callable[..., Site], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, also: str
) -> None:
    page = tmp_path / "site" / "recipes" / "own-rub.html"
    assert b"moonwort" not in page.read_bytes()
    with monkeypatch.context() as patch:
        patch.setattr("cookbook.publish.site.building.remember", lambda *_: pytest.fail("cut off"))
        with pytest.raises(pytest.fail.Exception):
            made({"recipes/own-rub.yaml": lambda text: text.replace("formula: private", "formula: open")})
    assert b"moonwort" in page.read_bytes()
    made({"recipes/own-rub.yaml": lambda text: text.replace("formula: open", "formula: private") + also})
    assert not page.exists() if also else b"moonwort" not in page.read_bytes()


@pytest.mark.long
@pytest.mark.tenth
@pytest.mark.parametrize("also", [FAULT, ""])
def test_what_goes_into_a_cook_and_is_gone_may_be_private_under_another_name(
    made: Callable[..., Site], shown: Callable[[], dict[str, bytes]], also: str
) -> None:
    after = made({OPEN: None, "recipes/loin.yaml": lambda text: text + also})
    assert not shown()
    assert any("walnut-paste is gone, and may be private under another name" in one for one in after.warnings)


@pytest.mark.long
@pytest.mark.tenth
def test_a_deleted_recipe_and_an_unremembered_page_go(
    made: Callable[..., Site], shown: Callable[[], dict[str, bytes]], fuller: Kitchen
) -> None:
    assert not made({"recipes/loin.yaml": None}).warnings
    assert "recipes/loin" not in shown()
    shutil.rmtree(cache_folder(fuller.root))
    (said,) = made({OPEN: lambda text: text + FAULT}).warnings
    assert said.startswith("the page of walnut-paste is taken away: ")
    assert said.endswith("; nothing is kept here of what it shows, so it may be private by now")
    assert not shown()


@pytest.mark.long
@pytest.mark.tenth
def test_a_picture_that_is_gone_leaves_the_page_and_a_page_that_cannot_be_made_goes_with_it(
    made: Callable[..., Site], tmp_path: Path
) -> None:
    picture, page = "pictures/the-loin.png", tmp_path / "site" / "recipes" / "rubbed.html"
    shown = list((tmp_path / "site" / "pictures").iterdir())
    assert shown
    for _ in range(2):
        (said,) = made({picture: None} if _ == 0 else {}).warnings
        assert said.startswith("the page of rubbed goes without a picture: ")
        assert "<img" not in page.read_text(encoding="utf-8")
        assert not any(path.exists() for path in shown)


@pytest.mark.long
@pytest.mark.tenth
def test_a_picture_taken_out_of_the_kitchen_takes_a_page_that_stood_with_it(
    made: Callable[..., Site], tmp_path: Path
) -> None:
    after = made({"recipes/rubbed.yaml": lambda text: text + FAULT, "pictures/the-loin.png": None})
    assert not (tmp_path / "site" / "recipes" / "rubbed.html").exists()
    assert any(one.endswith("the picture pictures/the-loin.png is not in the kitchen any more")
               for one in after.warnings)
    assert not list((tmp_path / "site" / "pictures").iterdir())


@pytest.mark.long
@pytest.mark.tenth
@pytest.mark.parametrize(("change", "said"), [
    (lambda text: text.replace("public: true\n", ""), "2026-05-02-rubbed is not public any more"),
    (lambda text: text + BROKEN, "it may be private by now")])
def test_a_cook_that_is_not_surely_public_any_more_takes_what_leads_to_it_along(
    made: Callable[..., Site], tmp_path: Path, change: Callable[[str], str], said: str
) -> None:
    journal = "journal/2026/2026-05-02-rubbed.yaml"
    after = made({"recipes/rubbed.yaml": lambda text: text + FAULT, journal: change})
    assert not (tmp_path / "site" / "journal" / "2026-05-02-rubbed.html").exists()
    assert not (tmp_path / "site" / "recipes" / "rubbed.html").exists()
    assert any(said in one for one in after.warnings)


@pytest.mark.long
@pytest.mark.tenth
def test_a_fault_in_what_pages_stand_in_keeps_none_that_must_go(
    made: Callable[..., Site], fuller: Kitchen, tmp_path: Path
) -> None:
    folder, pages = fuller.root / "shared" / "templates", tmp_path / "site"
    folder.mkdir()
    (folder / "journal.html.j2").write_text("\n{{ dya }}", encoding="utf-8")
    (said,) = made({}).warnings
    stays = "the page of 2026-05-02-rubbed stays as it was last made: shared/templates/journal.html.j2:2:4: "
    assert said.startswith(stays)
    assert (pages / "journal" / "2026-05-02-rubbed.html").exists()
    (folder / "index.html.j2").write_text("\n{{ recipse }}", encoding="utf-8")
    with pytest.raises(FileError, match="recipse"):
        made({"journal/2026/2026-05-02-rubbed.yaml": lambda text: text.replace("public: true\n", ""),
              "recipes/own-rub.yaml": None, "recipes/rubbed.yaml": None})
    assert not (pages / "journal" / "2026-05-02-rubbed.html").exists()
    assert not (pages / "recipes" / "own-rub.html").exists()


@pytest.mark.long
@pytest.mark.tenth
def test_many_pages_that_one_fault_touches_are_one_sentence(made: Callable[..., Site], fuller: Kitchen) -> None:
    folder = fuller.root / "shared" / "templates"
    folder.mkdir()
    (folder / "page.html.j2").write_text("\n{{ crad }}", encoding="utf-8")
    (said,) = made({}).warnings
    assert "more stay as they were last made: shared/templates/page.html.j2:2:4: this template asks" in said
