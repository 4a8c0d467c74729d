"""The scaler on the page against the library, setting by setting, in a real browser."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from cookbook.errors import PieceError
from cookbook.heat.roast import size_spread
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.timetables import donenesses, other_bones
from cookbook.meat import Cut, Piece
from cookbook.publish import card
from cookbook.publish.content.gathering import gather
from cookbook.publish.content.ingredient import amounts
from cookbook.recipe.scaling import scaled_to

pytestmark = pytest.mark.browser

COOKS = {"rib-roast-on-oak": 60, "pork-loin-over-cherry": 60, "leg-of-lamb-over-vine": 50,
         "brisket-through-the-night": 40}
"""Settings for each: 210 in all, over the four shapes that the demonstration kitchen cooks."""


@pytest.fixture(params=COOKS)
def opened(request: pytest.FixtureRequest, browser: Any, demo: Kitchen, tmp_path: Path) -> Any:
    """A cook's page, opened from a file, with every request it makes noted."""
    name = request.param
    path = tmp_path / f"{name}.html"
    path.write_text(card(demo, name, "page"), encoding="utf-8")
    page = browser.new_page()
    asked: list[str] = []
    faults: list[str] = []
    page.on("request", lambda one: asked.append(one.url))
    page.on("pageerror", lambda one: faults.append(str(one)))
    page.goto(path.as_uri())
    yield name, page
    assert asked == [path.as_uri()]
    assert not faults
    page.close()


def settings(cut: Cut, count: int, bones: list[str]) -> list[tuple[dict[str, float], str]]:
    """Pieces as a reader may know them: by weight, by ribs, by tape, frenched, several alike, any bones."""
    chance = random.Random(cut.name)
    low, high = cut.usual_kg
    found: list[tuple[dict[str, float], str]] = []
    while len(found) < count:
        grams = round(1000 * low * (high / low) ** chance.uniform(-0.1, 1.1))
        state = chance.choice(bones)
        way = chance.choice(["weight", "tape", "ribs"] if cut.ribs else ["weight", "tape"])
        told: dict[str, float] = {"mass": grams}
        if way == "ribs" and cut.ribs is not None:
            told = {"ribs": chance.randint(1, cut.ribs.most)}
            if chance.random() < 0.4:
                each = cut.piece(ribs=int(told["ribs"]), bones=state or None).mass_g.mid
                told["mass"] = round(each * chance.uniform(0.8, 1.25))
        elif way == "tape":
            told = taped(cut.piece(mass_g=grams, bones=state or None), chance) | (
                {"mass": grams} if chance.random() < 0.3 else {})
        if state in ("on", "tied") and chance.random() < 0.4:
            told["frenched"] = round(chance.uniform(3, 12), 1)
        found.append((told | {"count": chance.choice((1, 1, 1, 2, 3))}, state))
    return found


def taped(piece: Piece, chance: random.Random) -> dict[str, float]:
    """Length and girth, and now and then width, thickness and both ends, as a tape may say them."""
    size = {word: piece.dimensions_cm[word].mid for word in ("length", "width", "height")}
    told = {"length": size["length"], "girth": piece.shape.girth_cm}
    if chance.random() < 0.3:
        told |= {"width": size["width"], "thickness": size["height"]}
    if chance.random() < 0.3:
        told |= {"thick": piece.shape.girth_cm * 1.12, "thin": piece.shape.girth_cm * 0.9}
    return {word: round(value * chance.uniform(0.93, 1.07), 1) for word, value in told.items()}


def called(known: dict[str, float], state: str) -> dict[str, Any]:
    """The same as `Cut.piece` takes it."""
    words = {"mass": "mass_g", "ribs": "ribs"}
    said = {words.get(word, f"{word}_cm"): value for word, value in known.items()
            if word not in ("count", "thick", "thin")}
    ends = {"girth_ends_cm": (known["thick"], known["thin"])} if "thick" in known else {}
    return {**said, **ends, "bones": state or None}


def test_piece_amounts_and_times_equal_the_librarys(opened: Any, demo: Kitchen) -> None:
    name, page = opened
    found = gather(demo, name)
    told = found.times
    assert told is not None
    cut = told.wanted.piece.cut
    states = ["on", "tied", "off"] if cut.has_bones_option else [""]
    chance, compared = random.Random(name), 0
    other = other_bones(told, "off") if len(states) > 1 else None
    for known, state in settings(cut, COOKS[name], states):
        said = called(known, state)
        try:
            piece = cut.piece(**said)
        except PieceError:
            assert page.evaluate("([known, bones]) => scaler.refused(scaler.piece(known, bones))", [known, state])
            continue
        cooker = chance.choice(told.table.cookers)
        pull = chance.uniform(told.table.pulls[0], told.table.pulls[-1])
        got = page.evaluate(
            """([known, bones, cooker, pull, served]) => {
              const one = scaler.piece(known, bones);
              return {one, refused: scaler.refused(one), time: scaler.timing(one, cooker, pull),
                want: served && scaler.pullFor(one, cooker, served),
                batches: scaler.data.batches.map(b => b.lines.map(l => scaler.amounts(b, l, one)))};
            }""", [known, state, cooker, pull, next((b.served_c for b in donenesses(told.wanted)), None)])
        sizes = [piece.dimensions_cm[side].mid for side in ("length", "width", "height")]
        assert got["one"]["sizes"] == pytest.approx(sizes, rel=1e-6)
        assert not got["refused"]
        assert (got["one"]["misfit"] or {"z": 0})["z"] > 2.6 or not any("is the" in one for one in piece.notes)
        assert got["one"]["salted"] == pytest.approx(piece.salted_mass_g.mid, rel=1e-6)
        assert got["one"]["mass"] == pytest.approx(piece.mass_g.mid, rel=1e-6)
        for face in piece.faces:
            assert got["one"]["faces"][face.name] == pytest.approx(face.area_cm2.mid, rel=1e-6)
        table = other if other is not None and state == "off" else told.table
        read = table.timing(sizes, cooker, pull, size_spread(piece))
        assert (got["time"] is None) == (read.minutes.p50 is None)
        if got["time"] is not None:
            assert got["time"]["minutes"] == pytest.approx(list(read.minutes), rel=1e-5)
            assert got["time"]["board"] == pytest.approx(list(read.board_c), rel=1e-5)
        if got["want"] is not None:
            wished = donenesses(told.wanted)[0].served_c
            assert got["want"] == pytest.approx(table.pull_for(sizes, cooker, wished), abs=0.51)
        for batch, scaled in zip(got["batches"], found.scaled, strict=True):
            faces = page.evaluate("([b, s]) => scaler.data.batches[b].faces[s]", [found.scaled.index(scaled), state])
            coated = cut.piece(**said, faces=",".join(faces))
            wanted = scaled_to(scaled.recipe, [coated] * int(known["count"]), weights=demo.weights,
                               used=demo.used_by(scaled.recipe))
            for line, shown in zip(wanted.lines, batch, strict=True):
                wanted_words = list(amounts(demo, line.amount, line.item, line.grams))
                assert shown["said"] == wanted_words, (known, state, line.item)
                assert shown["grams"] == pytest.approx(line.grams.mid if line.grams else 0, rel=1e-5)
        compared += 1
    assert compared >= 0.8 * COOKS[name]


def test_the_form_answers_in_words_and_lists_follow(opened: Any, demo: Kitchen) -> None:
    name, page = opened
    assert page.locator("#scaler-part").is_visible()
    page.check("input[name=by][value=weight]")
    before = page.locator("#scaler-lists").inner_text()
    low, high = Cut.named(demo.recipe(name).cut or "").usual_kg
    page.fill("#s-weight", f"{(low * high) ** 0.5 * 1.4:.2f}")
    page.fill("#s-eat", "19:00")
    said = page.locator("#scaler-answer").inner_text()
    assert "Put on" in said
    assert "check from" in said
    assert "eat 19:00" in said
    day = page.locator("#scaler-day").inner_text()
    assert "pull" in day
    assert "slice" in day
    assert page.locator("#scaler-lists").inner_text() != before
    page.locator(".shop summary").click()
    assert page.locator("#scaler-shop li").count() > 3
    page.fill("#s-weight", "")
    assert "What does it weigh?" in page.locator("#scaler-answer").inner_text()


def test_without_scripts_the_tables_are_there_and_the_form_is_not(
    browser: Any, demo: Kitchen, tmp_path: Path
) -> None:
    path = tmp_path / "page.html"
    path.write_text(card(demo, "pork-loin-over-cherry", "page"), encoding="utf-8")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(path.as_uri())
    assert not page.locator("#scaler-part").is_visible()
    assert page.locator("table").count() >= 4
    context.close()


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_no_width_scrolls_sideways(browser: Any, demo: Kitchen, tmp_path: Path, width: int) -> None:
    path = tmp_path / "page.html"
    path.write_text(card(demo, "rib-roast-on-oak", "page"), encoding="utf-8")
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(path.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()
