"""After: done in one form, scores, photos, what went in, into the recipe."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from cookbook.journal.reading import OWN
from cookbook.kitchen.clock import now
from cookbook.kitchen.log import logbook, once
from tests.page.test_pit import begun
from tests.page.visiting import PIXEL, Visitor, words


def test_done_with_one_score_one_line_and_finish(small: Visitor) -> None:
    name = begun(small)
    assert "How was it?" in small.see(f"/cook/{name}/after")
    small.do(f"/cook/{name}/finish", score="8", half="yes", next="light it earlier", id="x" * 12)
    small.do(f"/cook/{name}/finish", score="8", half="yes", next="light it earlier", id="x" * 12)
    entry = small.kitchen.entry(name)
    assert entry.finished is not None
    assert dict(entry.scores) == {"overall": {OWN: 8.5}}
    assert [line.line for line in entry.next_time] == ["light it earlier"]
    assert "On now" not in small.see("/")


def test_done_with_nothing_at_all(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/finish")
    entry = small.kitchen.entry(name)
    assert entry.finished is not None
    assert not entry.scores
    assert not entry.next_time


def test_a_later_score_leaves_the_end_of_the_cook_where_it_was(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/score", aspect="crust", score="7")
    assert small.kitchen.entry(name).open, "a score alone finishes nothing"
    small.do(f"/cook/{name}/finish")
    finished = small.kitchen.entry(name).finished
    small.do(f"/cook/{name}/score", aspect="crust", score="10", half="yes", by="Ada")
    entry = small.kitchen.entry(name)
    assert entry.finished == finished
    assert dict(entry.scores["crust"]) == {OWN: 7, "Ada": 10}


def test_the_aspects_are_the_cook_s_own_words(full: Visitor) -> None:
    page = full.see("/cook/2026-10-17-pork-loin-over-cherry/after")
    assert re.findall(r'<option value="([^"]*)"', page) == ["crust", "juiciness"]


def test_photos_are_kept_beside_the_entry_under_names_of_ours(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/photos", photo=("../../../evil.png", PIXEL, "image/png"), caption="the crust")
    folder = small.kitchen.entry_path(small.kitchen.entry(name)).parent
    (picture,) = folder.glob("*.png")
    assert picture.name.startswith(f"{name}-")
    shown = small.browser.get(f"/cook/{name}/photo/0")
    assert (shown.headers["content-type"], shown.content) == ("image/png", PIXEL)
    assert "the crust" in small.see(f"/cook/{name}/after")
    small.do(f"/cook/{name}/photos", 400, photo=("x.svg", b"<svg onload='alert(1)'/>", "image/svg+xml"))
    for number in ("1", "99", "-1", "x", "²", "٣"):
        assert small.browser.get(f"/cook/{name}/photo/{number}").status_code == 404


def test_a_photo_that_an_entry_names_elsewhere_is_not_shown(small: Visitor, tmp_path: Path) -> None:
    name = begun(small)
    path = small.kitchen.entry_path(small.kitchen.entry(name))
    path.write_text(path.read_text() + "photos: [../../recipes/loin.yaml, loin.yaml, leads-out.png]\n")
    (path.parent / "leads-out.png").symlink_to(tmp_path / "elsewhere.png")
    (tmp_path / "elsewhere.png").write_bytes(PIXEL)
    for number in (0, 1, 2):
        assert small.browser.get(f"/cook/{name}/photo/{number}").status_code in (400, 404)


def test_what_went_in_otherwise_is_taken_down_item_by_item(small: Visitor) -> None:
    name = begun(small, "walnut-paste")
    assert "walnuts" in small.see(f"/cook/{name}/made")
    where: dict[str, Any] = {"into": "walnut-paste"}
    small.do(f"/cook/{name}/made", item="walnuts", how="amount", value="95 g", **where)
    small.do(f"/cook/{name}/made", item="olive oil", how="less", value="10 ml", **where)
    small.do(f"/cook/{name}/made", item="thyme, fresh", how="instead", value="sage, fresh", **where)
    small.do(f"/cook/{name}/made", 400, item="walnuts", how="amount", value="", **where)
    unread = small.do(f"/cook/{name}/made", 400, item="walnuts", how="amount", value="a hatful", **where)
    assert "hatful" in unread.text
    assert not small.kitchen.entry(name).notes  # the form still holds it
    page = words(small.see(f"/cook/{name}/made"))
    assert "95 g walnuts all that went in" in page
    assert "in the place of thyme, fresh" in page


def test_chosen_lines_go_into_the_next_revision_and_no_others(small: Visitor) -> None:
    name = begun(small, "walnut-paste")
    for item, value in (("walnuts", "95 g"), ("olive oil", "60 ml")):
        small.do(f"/cook/{name}/made", item=item, how="amount", value=value, into="walnut-paste")
    page = small.see(f"/cook/{name}/adopt")
    keys = [unescape(key) for key in re.findall(r'name="take" value="([^"]*)"', page)]
    seen = re.search(r'name="seen walnut-paste" value="([^"]*)"', page)
    assert seen
    assert len(keys) == 2
    told: dict[str, Any] = {"seen walnut-paste": seen[1]}
    walnuts = next(key for key in keys if "walnuts" in key)
    small.do(f"/cook/{name}/adopt", take=walnuts, **told)
    recipe = small.kitchen.recipe("walnut-paste")
    assert recipe.revision == 3
    assert str(recipe.ingredients[0].amount) == "95 g"
    assert str(recipe.ingredients[2].amount) == "80 ml"
    assert "# packed loosely" in recipe.document.text
    small.do(f"/cook/{name}/adopt", 409, take=keys[0], **told)


def test_nothing_to_adopt_is_said(small: Visitor) -> None:
    name = begun(small)
    assert "nothing to adopt" in small.see(f"/cook/{name}/adopt", 400)


# guests


def linked(visitor: Visitor, name: str) -> str:
    """The address of a guest's link."""
    visitor.do(f"/cook/{name}/guests")
    return visitor.page.guest_links[name].removeprefix(visitor.page.setting.home)


def scores_of(visitor: Visitor, link: str, phone: str, name: str, status: int = 200, **given: str) -> str:
    token = visitor.page.keys.token(f"guest {link.rpartition('/')[2]}")
    fields: dict[str, Any] = {f"score {aspect}": value for aspect, value in given.items()}
    return str(visitor.do(link, status, token=token, id=phone, name=name, **fields).text)


def test_a_guest_sees_the_title_and_the_aspects_and_scores_once(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    page = words(full.see(link))
    assert "Pork loin over cherry wood" in page
    assert "crust" in page
    for other in ("fennel", "130 °C", "Cook it", "Was it better?", "3.1 kg"):
        assert other not in page
    scores_of(full, link, "phone-000001", "Ada", crust="8", juiciness="6")
    assert "Thank you" in scores_of(full, link, "phone-000001", "Ada", crust="9")
    entry = full.kitchen.entry(name)
    assert dict(entry.scores["crust"]) == {"Ada": 9}
    assert entry.open


def test_two_guests_of_one_name_are_two(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    for number in (1, 2, 3):
        scores_of(full, link, f"phone-00000{number}", "Ada", crust=str(number))
    assert dict(full.kitchen.entry(name).scores["crust"]) == {"Ada": 1, "Ada 2": 2, "Ada 3": 3}


def test_one_phone_that_goes_round_scores_for_each(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    for who, number in (("Adam", "8"), ("Ada", "7"), ("Ben", "6"), ("ada", "9"), ("Adam", "5")):
        scores_of(full, link, "phone-000001", who, crust=number)
    assert dict(full.kitchen.entry(name).scores["crust"]) == {"Adam": 5, "Ada": 9, "Ben": 6}
    scores_of(full, link, "phone-000002", "Ada", crust="1")
    assert dict(full.kitchen.entry(name).scores["crust"]) == {"Adam": 5, "Ada": 9, "Ben": 6, "Ada 2": 1}


def test_a_guest_can_do_nothing_else(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    before = full.kitchen.entry(name).document.data
    scores_of(full, link, "phone-000001", "Ada", 400, smoke="8")
    scores_of(full, link, "phone-000001", "", 400, crust="8")
    scores_of(full, link, "phone-000001", OWN, 400, crust="8")
    scores_of(full, link, "", "Ada", 400, crust="8")
    assert full.kitchen.entry(name).document.data == before
    token = full.page.keys.token(f"guest {link.rpartition('/')[2]}")
    full.do(f"/cook/{name}/log", 403, token=token, send="event lit")
    assert full.browser.get("/guest/" + "x" * 22).status_code == 404


def test_a_link_ends_a_day_after_the_finish_and_when_the_cook_ends_it(
    full: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    full.do(f"/cook/{name}/finish")
    scores_of(full, link, "phone-000001", "Ada", crust="8")
    with monkeypatch.context() as later:
        later.setattr("cookbook.page.guests.now", lambda: now() + timedelta(hours=24, minutes=1))
        assert full.browser.get(link).status_code == 404
        scores_of(full, link, "phone-000001", "Ada", 404, crust="2")
    assert full.browser.get(link).status_code == 200
    full.do(f"/cook/{name}/guests/end")
    assert full.browser.get(link).status_code == 404


def test_links_hold_128_random_bits(small: Visitor) -> None:
    import base64

    name = begun(small)
    tokens = {small.page.keys.new_guest(name) for _ in range(50)}
    assert len(tokens) == 50
    assert {len(base64.urlsafe_b64decode(token + "==")) * 8 for token in tokens} == {128}


@pytest.mark.long
def test_fifty_phones_that_score_at_once_lose_nothing(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)

    def score(number: int) -> None:
        own = full.seated()
        token = full.page.keys.token(f"guest {link.rpartition('/')[2]}")
        fields = {
            "token": token,
            "id": f"phone-{number:06d}",
            "name": f"guest {number}",
            "score crust": str(number % 11),
        }
        full.do(link, 200, own, **fields)

    with ThreadPoolExecutor(50) as pool:
        list(pool.map(score, range(50)))
    assert dict(full.kitchen.entry(name).scores["crust"]) == {f"guest {number}": number % 11 for number in range(50)}


def test_scores_alone_are_a_line_like_any_other(small: Visitor) -> None:
    entry = logbook.start(small.kitchen, "loin", {}, now())
    told = once.log(small.kitchen, entry.name, "score", {"scores": [["crust=11", "Ada"]]}, now())
    assert "kept as a note" in told.warnings[0]
    assert small.kitchen.entry(entry.name).notes[0].unread


def test_what_it_weighs_after_and_how_warm_it_was_sliced_are_asked_once(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/finish", score="8", after="1,7", served="61")
    entry = small.kitchen.entry(name)
    assert str(entry.fields["outcome"]["served"]) == "61 °C"
    assert "weight_after: 1.7 kg" in entry.document.text


def test_a_warning_names_a_place_on_the_page(small: Visitor) -> None:
    from cookbook.page.showing import handled

    name = begun(small)
    headers = {"origin": "http://127.0.0.1:8417", "x-page": "1", "x-token": small.page.keys.token("owner")}
    sent = {"send": "line", "words": "1.7 kg"}
    told = small.browser.post(f"/cook/{name}/log", data=sent, headers=headers).json()
    assert "“Finish”" in " ".join(told["warnings"])
    assert "cookbook" not in " ".join(told["warnings"])
    assert handled('`cookbook log used "salt" --more "2 tbsp"`, or tsp') == "“What went in”, or tsp"
    assert handled('`cookbook log used "salt" "2 g"` if all, `--more "2 g"` if not') == (
        "“What went in” if all, “more” if not"
    )
    assert handled("nothing to say") == "nothing to say"
