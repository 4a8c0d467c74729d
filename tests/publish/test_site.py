"""The site: what it holds, what is made again, and what never leaves the kitchen."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit
from xml.etree import ElementTree

import pytest

from cookbook.errors import FileError, RequestError, StorageError
from cookbook.kitchen import Kitchen
from cookbook.publish.site import site
from tests.files.child import in_child
from tests.publish.more import SECRETS

ENTRY = """\
recipe: rubbed
version: {version}
uses: {{own-rub: {inner}}}
date: "2026-05-02"
public: true
helpers: [plum-cellar]
price: 20 EUR at the plum-cellar
piece: {{weight: 2.4 kg}}
as_made:
  own-rub:
    - {{item: moonwort, more: 8 g}}
events:
  - {{at: "2026-05-02T11:00:00+02:00", did: on, note: plum-cellar}}
  - {{at: "2026-05-02T12:00:00+02:00", core: 30 °C, pit: 130 °C}}
  - {{at: "2026-05-02T12:30:00+02:00", core: 45 °C, pit: 128 °C}}
  - {{at: "2026-05-02T13:10:00+02:00", did: pulled, core: 64 °C, pit: 131 °C}}
  - {{at: "2026-05-02T13:11:00+02:00", did: fetched quassia from the plum-cellar}}
outcome:
  scores: {{crust: {{Plumina: 8, Cellario: 7}}}}
next_time:
  - less quassia   # plum-cellar
notes:
  - more moonwort than the plum-cellar allows
"""
HIDDEN = (*SECRETS, "plum-cellar", "plumina", "cellario")


def cooked(kitchen: Kitchen) -> Kitchen:
    """With one cook marked public, and one that is not."""
    version, inner = (kitchen.version_now(kitchen.recipe(name)) for name in ("rubbed", "own-rub"))
    for name, kept in (("rubbed", version), ("own-rub", inner)):
        folder = kitchen.root / "recipes" / "versions" / name
        folder.mkdir(parents=True)
        (folder / f"{kept}.yaml").write_bytes((kitchen.root / "recipes" / f"{name}.yaml").read_bytes())
    text = ENTRY.format(version=version, inner=inner)
    folder = kitchen.root / "journal" / "2026"
    folder.mkdir(parents=True)
    (folder / "2026-05-02-rubbed.yaml").write_text(text, encoding="utf-8")
    unmarked = text.replace("public: true\n", "").replace("2026-05-02", "2026-05-09")
    (folder / "2026-05-09-rubbed.yaml").write_text(unmarked, encoding="utf-8")
    return Kitchen.open(kitchen.root)


def test_everything_is_there_and_every_link_leads_somewhere_inside(fuller: Kitchen, tmp_path: Path) -> None:
    out = tmp_path / "site"
    made = site(cooked(fuller), out)
    assert not made.warnings
    assert {"index.html", "recipes/rubbed.html", "versions/own-rub.html", "journal/2026-05-02-rubbed.html"} <= set(
        made.pages
    )
    assert not (out / "journal" / "2026-05-09-rubbed.html").exists()
    for page in made.pages:
        for address in addresses((out / page).read_text(encoding="utf-8")):
            if not address.startswith(("https://", "data:", "#")):
                assert (out / page).parent.joinpath(address).resolve().is_file(), (page, address)
                assert not address.startswith("/")


def test_a_name_that_means_something_to_an_address_is_found_from_every_page(
    make_kitchen: Callable[..., Kitchen], tmp_path: Path
) -> None:
    """Opened from a folder or asked of a host: where the address of a page leads by RFC 3986, there lies its file."""
    odd = ["which one?", "rub #2", "<b>a&b;c", "50%20off+é"]
    sauce = "kind: sauce\ntitle: Odd\ningredients: [{item: fine salt, amount: 10 g}]\n"
    kitchen = make_kitchen({
        "shared/kitchen.yaml": "address: https://example.org/cards\n",
        "journal/2026/2026-05-02-50%-&-#1?.yaml": 'recipe: "rub #2"\nfrom: memory\n'
        'date: "2026-05-02"\npublic: true\n',
        **{f"recipes/{name}.yaml": sauce for name in odd}})
    out = tmp_path / "the site, #1 at 100%?"
    made = site(kitchen, out)
    assert not made.warnings
    told: dict[str, set[Path]] = {}
    for page in made.pages:
        where = (out / page).as_uri()
        for address in addresses((out / page).read_text(encoding="utf-8")):
            parts = urlsplit(urljoin(where, address))
            if parts.scheme == "file" and not address.startswith("#"):
                assert not parts.query
                assert not parts.fragment
                told.setdefault(page, set()).add(Path(unquote(parts.path)))
    for name in odd:
        recipe, versions = f"recipes/{name}.html", f"versions/{name}.html"
        assert (out / recipe).is_file()
        assert out / recipe in told["index.html"]
        assert out / versions in told[recipe]
        assert out / recipe in told[versions]
    cook = out / "journal" / "2026-05-02-50%-&-#1?.html"
    assert cook in told["recipes/rub #2.html"]
    assert out / "recipes" / "rub #2.html" in told["journal/2026-05-02-50%-&-#1?.html"]
    assert all(path.is_file() for paths in told.values() for path in paths)
    listed = ElementTree.parse(out / "sitemap.xml").iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")
    below = {unquote(urlsplit(one.text or "").path) for one in listed}
    assert all(any(path.endswith(f"/recipes/{name}.html") for path in below) for name in odd)


def addresses(page: str) -> list[str]:
    found: list[str] = []

    class Reader(HTMLParser):
        def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.extend(value or "" for name, value in attrs if name in ("href", "src"))

    Reader().feed(page)
    return found


def test_nothing_private_leaves_the_kitchen(fuller: Kitchen, tmp_path: Path) -> None:
    """Secrets in comments, notes, names, prices, a private formula and a picture's metadata: none in any byte."""
    out = tmp_path / "site"
    site(cooked(fuller), out)
    files = [path for path in out.rglob("*") if path.is_file()]
    assert len(files) > 8
    for path in files:
        data = path.read_bytes().decode("utf-8", "replace").casefold()
        assert not [word for word in HIDDEN if word in data], path
        assert not [word for word in HIDDEN if word in path.name]


def test_only_what_changed_is_made_again(fuller: Kitchen, tmp_path: Path) -> None:
    out = tmp_path / "site"
    first = site(cooked(fuller), out)
    assert "recipes/loin.html" in first.written
    assert site(Kitchen.open(fuller.root), out).written == ()
    path = fuller.root / "recipes" / "walnut-paste.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("minced", "crushed"), encoding="utf-8")
    seen: list[str] = []
    again = site(Kitchen.open(fuller.root), out, seen.append)
    assert set(seen) == {"walnut-paste", "loin"}
    assert {"recipes/walnut-paste.html", "recipes/loin.html"} <= set(again.written)
    path.unlink()
    (fuller.root / "recipes" / "loin.yaml").unlink()
    gone = site(Kitchen.open(fuller.root), out)
    assert {"recipes/loin.html", "versions/loin.html", "recipes/walnut-paste.html"} <= set(gone.removed)
    assert "loin.html" not in (out / "index.html").read_text(encoding="utf-8").replace("own", "")


@pytest.mark.long
@pytest.mark.tenth
def test_what_a_table_says_of_one_recipe_renews_its_page_alone(fuller: Kitchen, tmp_path: Path) -> None:
    out, shared = tmp_path / "site", fuller.root / "shared"
    site(cooked(fuller), out)

    def again() -> set[str]:
        seen: list[str] = []
        site(Kitchen.open(fuller.root), out, seen.append)
        return set(seen)

    (shared / "prices.yaml").write_text("[]\n", encoding="utf-8")
    assert again() == set()
    with (shared / "questions.yaml").open("a", encoding="utf-8") as file:
        file.write("- {recipe: roast, asked: Which salt?, answer: Fine., on_card: yes}\n")
    assert again() == {"roast"}
    (shared / "marks.csv").write_text("0:00,The fire\n1:00,The coat\n2:00,The pull\n", encoding="utf-8")
    with (shared / "releases.yaml").open("a", encoding="utf-8") as file:
        file.write("- {recipe: green-sauce, address: https://example.org/film, markers: marks.csv}\n")
    assert again() == {"green-sauce"}
    (shared / "marks.csv").write_text("0:00,The fire\n1:00,The rub\n2:00,The pull\n", encoding="utf-8")
    assert again() == {"green-sauce"}
    assert "The rub" in (out / "recipes" / "green-sauce.html").read_text(encoding="utf-8")
    assert again() == set()


def test_a_recipe_that_cannot_be_read_is_left_out_and_named(fuller: Kitchen, tmp_path: Path) -> None:
    (fuller.root / "recipes" / "green-sauce.yaml").write_text("kind: sauce\ntitle: x\n", encoding="utf-8")
    made = site(fuller, tmp_path / "site")
    assert any(one.startswith("green-sauce is left out: recipes/green-sauce.yaml:1:1: ") for one in made.warnings)
    assert "recipes/loin.html" in made.pages


def test_a_folder_that_holds_something_else_is_not_touched(fuller: Kitchen, tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("dear", encoding="utf-8")
    for wrong in (tmp_path / "mine", fuller.root, fuller.root / "recipes" / "x", fuller.root.parent):
        with pytest.raises(RequestError):
            site(fuller, wrong)


@pytest.mark.skipif(os.name == "nt", reason="links are POSIX's")
def test_a_picture_outside_the_kitchen_is_refused_by_path_and_by_link(fuller: Kitchen, tmp_path: Path) -> None:
    picture = fuller.root / "pictures" / "the-loin.png"
    (tmp_path / "outside.png").write_bytes(picture.read_bytes())
    picture.unlink()
    picture.symlink_to(tmp_path / "outside.png")
    assert any("leads out of the kitchen" in one for one in site(fuller, tmp_path / "site").warnings)
    recipe = fuller.root / "recipes" / "rubbed.yaml"
    recipe.write_text(
        recipe.read_text(encoding="utf-8").replace("pictures/the-loin.png", "../outside.png"), encoding="utf-8"
    )
    assert any(
        "leads out of the kitchen" in one for one in site(Kitchen.open(fuller.root), tmp_path / "two").warnings
    )


def test_without_an_address_there_is_no_feed_and_it_says_so(fuller: Kitchen, tmp_path: Path) -> None:
    path = fuller.root / "shared" / "kitchen.yaml"
    path.write_text(re.sub("address:.*\n", "", path.read_text(encoding="utf-8")), encoding="utf-8")
    made = site(Kitchen.open(fuller.root), tmp_path / "site")
    assert any("no feed" in one for one in made.warnings)
    assert not (tmp_path / "site" / "feed.xml").exists()


@pytest.mark.long
@pytest.mark.tenth
def test_a_disk_that_fills_up_leaves_every_page_whole(fuller: Kitchen, tmp_path: Path) -> None:
    resource = pytest.importorskip("resource", reason="this system sets no limit to a file's size")
    out = tmp_path / "site"
    site(fuller, out)
    before = {path: path.read_bytes() for path in out.rglob("*.html")}
    path = fuller.root / "recipes" / "rubbed.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("title: ", "title: New "), encoding="utf-8")
    changed = Kitchen.open(fuller.root)
    list(changed.index.ask("SELECT path FROM file"))

    def work(say: Callable[[str], None]) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))
        with pytest.raises(StorageError):
            site(changed, out)
        say("full")

    assert in_child(work).said == "full\n"
    assert {path: path.read_bytes() for path in out.rglob("*.html")} == before
    site(Kitchen.open(fuller.root), out)
    assert b"New " in (out / "recipes" / "rubbed.html").read_bytes()
    assert {path.suffix for path in out.rglob("*")} <= {"", ".html", ".png", ".jpeg", ".xml"}


def test_a_fault_that_every_page_rests_on_stops_the_site_before_it_writes(fuller: Kitchen, tmp_path: Path) -> None:
    text = "- {recipe: loin, planned: soon}\n"
    (fuller.root / "shared" / "releases.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(FileError, match="'soon' is no day"):
        site(fuller, tmp_path / "out")
    assert not (tmp_path / "out").exists()
