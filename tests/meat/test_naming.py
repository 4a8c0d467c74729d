"""Cuts are found as a butcher says them; two meanings are asked back; unknown names get their nearest."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import PieceError, RequestError, UnknownName
from cookbook.meat import Cut
from cookbook.meat.own import own_cut
from cookbook.table import rows


def asked(name: str) -> Cut | RequestError:
    """The cut of this name, or the fault that it meets."""
    try:
        return Cut.named(name)
    except RequestError as fault:
        return fault


OWN = own_cut({"name": "hall rib", "like": "rib roast, bone in", "synonyms": ["the big one"]})


@pytest.mark.parametrize("said", [
    "pork loin, boneless", "boneless pork loin", "Pork Loin,  Boneless", "loin of pork, boneless",
    "PORK LOIN BONELESS"])
def test_order_of_words_commas_and_case_do_not_matter(said: str) -> None:
    assert Cut.named(said).name == "pork loin, boneless"


@pytest.mark.parametrize(("said", "name"), [
    ("bone-in rib roast", "rib roast, bone in"), ("rib roast on the bone", "rib roast, bone in"),
    ("prime rib, bone in", "rib roast, bone in"), ("prime rib, boneless", "rib roast, boneless"),
    ("boston butt", "pork shoulder"), ("topside", "top round roast"), ("silverside", "bottom round roast"),
    ("scotch fillet", "rib roast, boneless"), ("eye fillet", "beef tenderloin"), ("rump cap", "picanha"),
    ("fore rib of beef", "rib roast, bone in"), ("hand and spring", "pork picnic"), ("girello", "eye of round"),
    ("short rib", "short ribs, bone in"),
    ("best end of neck", "rack of lamb"), ("packer", "brisket, whole"), ("turkey crown", "turkey breast, bone in")])
def test_us_uk_and_australian_names(said: str, name: str) -> None:
    assert Cut.named(said).name == name


@pytest.mark.parametrize(("said", "both"), [
    ("leg of lamb", ("leg of lamb, bone in", "leg of lamb, boneless")),
    ("lamb leg", ("leg of lamb, bone in", "leg of lamb, boneless")),
    ("pork loin", ("pork loin, boneless", "pork loin, bone in")),
    ("rib roast", ("rib roast, bone in", "rib roast, boneless")),
    ("prime rib", ("rib roast, bone in", "rib roast, boneless")),
    ("prime rib of beef", ("rib roast, bone in", "rib roast, boneless")),
    ("haunch", ("haunch of venison, bone in", "haunch of venison, boneless")),
    ("brisket", ("brisket, whole", "brisket, flat")),
    ("sirloin", ("top sirloin roast", "strip loin roast")),
    ("spatchcock", ("poussin", "chicken, whole")),
    ("back ribs", ("beef back ribs", "pork back ribs"))])
def test_a_name_for_two_cuts_is_asked_back_naming_both(said: str, both: tuple[str, str]) -> None:
    with pytest.raises(RequestError) as caught:
        Cut.named(said)
    assert caught.value.code == "two-meanings"
    for name in both:
        assert f"'{name}'" in caught.value.message


@pytest.mark.parametrize("said", ["standing", "standing rib roast"])
def test_standing_is_asked_back_for_its_bones(said: str) -> None:
    cut = Cut.named(said)
    assert cut.name == "rib roast, bone in"
    with pytest.raises(PieceError, match="bones on, and with its bones cut off and tied back") as caught:
        cut.piece(ribs=3)
    assert caught.value.measurement == "bones"
    assert cut.piece(ribs=3, bones="tied").bones == "tied"


@pytest.mark.parametrize(("said", "near"), [
    ("leg of lam, bone in", "leg of lamb, bone in"), ("pork sholder", "pork shoulder"), ("turky", "turkey, whole"),
    ("choice rib roast, bone in", "rib roast, bone in"), ("brisket flats", "brisket, flat")])
def test_an_unknown_cut_gets_the_nearest_names(said: str, near: str) -> None:
    with pytest.raises(UnknownName) as caught:
        Cut.named(said)
    assert caught.value.nearest[0] == near
    assert near in (caught.value.mend or "")


def test_a_name_like_nothing_gets_examples() -> None:
    with pytest.raises(UnknownName) as caught:
        Cut.named("xylophone qwz")
    assert caught.value.nearest == ()
    assert "'pork shoulder'" in (caught.value.mend or "")


def test_a_grade_is_never_read_out_of_a_name() -> None:
    """`prime` is a word of the name and of a grade; only the piece carries a grade, as it was said."""
    plain = Cut.named("prime rib, bone in").piece(ribs=3)
    graded = Cut.named("prime rib, bone in").piece(ribs=3, grade="choice", supplier="the butcher by the church")
    assert dict(plain.words) == {}
    assert dict(graded.words) == {"grade": "choice", "supplier": "the butcher by the church"}
    assert graded.json()["grade"] == "choice"
    assert "grade" not in plain.json()


def test_a_kitchens_own_cut_wins_over_the_table() -> None:
    mended = own_cut({"name": "pork shoulder", "like": "pork shoulder", "width_cm": 21})
    assert Cut.named("pork shoulder", extra=[mended]).width_cm.mid == 21
    assert Cut.named("the big one", extra=[OWN]).name == "hall rib"
    assert Cut.named("pork shoulder").width_cm.mid == 19
    with pytest.raises(UnknownName) as caught:
        Cut.named("hall ribb", extra=[OWN])
    assert caught.value.nearest[0] == "hall rib"


@pytest.mark.parametrize("row", rows("cut_names"), ids=lambda row: f"{row['name']} ({row['region']})")
def test_every_synonym_leads_to_its_cut_or_names_it(row: dict[str, str]) -> None:
    assert row["region"] in ("us", "uk", "au", "any")
    found = asked(row["name"])
    if isinstance(found, Cut):
        assert found.name == row["cut"]
    else:
        assert found.code == "two-meanings"
        assert f"'{row['cut']}'" in found.message


@given(st.text(max_size=30))
def test_any_words_are_a_cut_or_a_named_fault(words: str) -> None:
    found = asked(words)
    assert found.name in Cut.names() if isinstance(found, Cut) else words in found.message
