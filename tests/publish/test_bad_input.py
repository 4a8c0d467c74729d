"""Bad input in every form: nothing runs, nothing breaks out of its place, nothing is lost without a word."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import pytest

from cookbook.errors import CookbookError
from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content.gathering import content
from cookbook.publish.forms.paper import paper
from cookbook.publish.site import site

TITLES = {
    "script": "</script><script>alert(1)</script><!-- ]]>",
    "template": "{{ 7*7 }} {% raw %} ${7*7} #{7*7} <%= 7*7 %>",
    "formula": "=1+1 @SUM(A1) +cmd|' /C calc'!A0",
    "from the right": "خلطة البهارات \u202eللحم",
    "emoji": "🔥🥩 👩‍🍳 Rub",
    "long": "Fire " * 60,
}
INPUTS = (*TITLES, pytest.param("two hundred", marks=pytest.mark.long), "no picture", "no video")
FORMS = ("text", "description", "reply", "page", "json-ld", "sheet", "label", "chapters", "subrip", "correction",
         *(pytest.param(one, marks=pytest.mark.long) for one in ("pdf", "site")))

RECIPE = """\
kind: {kind}
title: {title}
{cut}made_for: {{cut: "pork loin, boneless", weight: {weight}}}
ingredients:
{lines}steps:
  - {title}
story: {title}
{photos}links:
  - {{what: {title}, address: {address}, kind: {title}, given: "yes"}}
"""
RELEASES = """\
- recipe: dish
  out: "2026-05-01"
  version: {version}
  occasion: {title}
  address: {address}
  picture: {address}
  length: 3:00
  chapters:
    - {{at: 0:00, name: {title}}}
    - {{at: 0:40, name: {title}}}
    - {{at: 2:10, name: {title}}}
"""
SETTINGS = "name: {title}\nauthor: {title}\nlicence: {title}\naddress: https://example.org/cards\n"

Made = Callable[[str, str], tuple[Kitchen, str]]


@pytest.fixture
def made(make_kitchen: Callable[..., Kitchen]) -> Made:
    """A kitchen where everything that can be written is `bad`: a rub, and a cook for the film; its title too."""

    def make(bad: str, form: str) -> tuple[Kitchen, str]:
        title = TITLES.get(bad, "Rub")
        quoted = json.dumps(title.strip(), ensure_ascii=False)
        address = '"javascript:alert(1) <b>"' if bad == "no video" else '"https://example.org/film"'
        lines = "".join(f"  - item: spice number {n}\n    amount: {n + 1} g\n" for n in range(200)) \
            if bad == "two hundred" else f"  - item: {quoted}\n    amount: 10 g\n    prep: {quoted}\n"
        photos = "photos: [pictures/gone.png]\n" if bad == "no picture" else ""
        words = {"title": quoted, "address": address, "lines": lines + "  - item: fine salt\n    amount: 20 g\n",
                 "photos": photos, "kind": "rub", "cut": "", "weight": "2 kg"}
        files = {"recipes/dish.yaml": RECIPE.format(**words), "shared/kitchen.yaml": SETTINGS.format(**words)}
        kitchen = make_kitchen(files)
        version = "1-000000000000.00000000"
        if form == "correction":
            version = kept(kitchen, RECIPE.format(**{**words, "weight": "3 kg"}))
        (kitchen.root / "shared" / "releases.yaml").write_text(RELEASES.format(version=version, **words), "utf-8")
        return Kitchen.open(kitchen.root), title.strip()

    return make


def kept(kitchen: Kitchen, text: str) -> str:
    """Another version of the dish in the store, as it came out."""
    from cookbook.kitchen import store

    path = kitchen.root / "recipes" / "dish.yaml"
    now = path.read_text("utf-8")
    path.write_text(text, "utf-8")
    other = Kitchen.open(kitchen.root)
    version = other.version_now(other.recipe("dish"))
    store.put(kitchen.root, "dish", version, text.encode())
    path.write_text(now, "utf-8")
    return version


def shown(kitchen: Kitchen, form: str, folder: Path) -> str:
    if form == "pdf":
        from pdfminer.high_level import extract_text

        return extract_text(io.BytesIO(paper(kitchen, content(kitchen, "dish"), "A5")))
    if form == "site":
        made = site(kitchen, folder)
        assert made.pages or made.warnings
        found = [path for path in sorted(folder.rglob("*")) if path.suffix in (".html", ".xml")]
        return "\n".join(path.read_text("utf-8") for path in found)
    return card(kitchen, "dish", "chapters" if form == "subrip" else form, srt=form == "subrip")


class Seen(HTMLParser):
    """The elements and attributes of a page, and the text of its first heading."""

    def __init__(self, document: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.heading = ""
        self._in = False
        self.feed(document)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._in = self._in or tag == "h1"

    def handle_endtag(self, tag: str) -> None:
        self._in = self._in and tag != "h1"

    def handle_data(self, data: str) -> None:
        self.heading += data if self._in else ""


@pytest.mark.parametrize("bad", INPUTS)
@pytest.mark.parametrize("form", FORMS)
def test_in_every_form(made: Made, tmp_path: Path, form: str, bad: str) -> None:
    kitchen, title = made(bad, form)
    if (form, bad) in REFUSED:
        with pytest.raises(CookbookError, match=REFUSED[form, bad]):
            shown(kitchen, form, tmp_path / "out")
        return
    said = shown(kitchen, form, tmp_path / "out")
    assert said.strip()
    if bad == "template" and form != "pdf":
        assert re.search(r"7\s*\*\s*7", said)
    plain = " ".join(said.replace("\u00a0", " ").split())
    _CHECKS.get(form, _text)(Got(said, plain, bad, " ".join(title.replace("\u202e", "").split())))


REFUSED = {("page", "no picture"): "gone.png"}
"""What is refused, and what the message names."""


class Got(NamedTuple):
    """What a form said, the same with single blanks, which bad input it was, the title as it should be read."""

    said: str
    plain: str
    bad: str
    title: str


def _text(got: Got) -> None:
    assert "\u202e" not in got.said
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", got.said.replace("\r\n", "\n"))
    wanted = " ".join(got.title.split())
    assert wanted[:40] in got.plain


def _description(got: Got) -> None:
    assert not set("<>") & set(got.said)
    assert len(got.said.encode()) <= 5000
    assert "javascript:" not in got.said or got.bad == "no video"


def _reply(got: Got) -> None:
    assert len(got.said) <= 700
    assert "raw meat" in got.said


def _page(got: Got) -> None:
    seen = Seen(got.said)
    scripts = [attrs for tag, attrs in seen.tags if tag == "script"]
    assert [one.get("type") for one in scripts] == ["application/ld+json", "application/json", None]
    assert not [attrs for _, attrs in seen.tags if any(name.startswith("on") for name in attrs)]
    assert not [attrs for _, attrs in seen.tags if str(attrs.get("href", "")).startswith("javascript")]
    assert seen.heading.split() == got.title.split()
    if got.bad == "two hundred":
        assert all(f">spice number {n}<" in got.said for n in range(200))


def _json(got: Got) -> None:
    found = json.loads(got.said)
    assert found["@type"] == "Recipe"
    assert found["name"].split() == got.title.split()
    assert ("video" in found) == (got.bad != "no video")


def _track(got: Got) -> None:
    assert len(re.findall(r"^\d\d:\d\d:\d\d[.,]\d{3} --> \d\d:\d\d:\d\d[.,]\d{3}$", got.said, re.M)) == 3
    assert got.said.count("-->") == 3


def _site(got: Got) -> None:
    assert "<script>alert" not in got.said
    assert 'href="javascript' not in got.said
    assert "\u202e" not in got.said
    for part in re.findall(r"<\?xml.*?</(?:feed|urlset)>", got.said, re.S):
        root = ElementTree.fromstring(part)
        if root.tag.endswith("feed"):
            titles = [one.text or "" for one in root.iter("{http://www.w3.org/2005/Atom}title")]
            assert " ".join(got.title.split()) in [" ".join(one.split()) for one in titles]


def _paper(got: Got) -> None:
    assert "fine salt" in got.plain
    if got.bad == "two hundred":
        assert all(re.search(rf"number {n}\b", got.plain) for n in range(200))
    if got.bad in ("script", "template", "formula"):
        assert got.title.split()[0] in got.plain


def _lines(got: Got) -> None:
    assert got.said.count("\n") == 3
    assert "salt" in got.said


_CHECKS = {"description": _description, "reply": _reply, "page": _page, "json-ld": _json, "chapters": _track,
           "subrip": _track, "site": _site, "pdf": _paper, "correction": _lines}
