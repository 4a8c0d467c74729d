"""A kitchen's own cuts: what it measured replaces the assumption, what it leaves out is that of the like cut."""

from __future__ import annotations

import pytest

from cookbook.errors import RequestError
from cookbook.meat import Cut
from cookbook.meat.own import OWN_FIELDS, own_cut
from cookbook.meat.shapes import RoundedBox

RIB = {"name": "rib of the hall", "like": "rib roast, bone in"}


def test_only_a_name_and_a_likeness_are_needed() -> None:
    own, like = own_cut(RIB), Cut.named("rib roast, bone in")
    assert own.name == "rib of the hall"
    assert own.piece(ribs=3).area_cm2 == like.piece(ribs=3).area_cm2
    assert own.composition == like.composition
    assert own.yields == like.yields
    assert own.assumed == like.assumed


def test_what_the_kitchen_measured_is_no_assumption() -> None:
    own = own_cut(RIB | {"width_cm": 22, "thickness_cm": 16, "rib_pitch_cm": 5.2})
    like = Cut.named("rib roast, bone in")
    assert not {"width_cm", "height_cm", "rib_pitch_cm"} & set(own.assumptions)
    mine, tables = own.piece(ribs=3).area_cm2, like.piece(ribs=3).area_cm2
    assert mine.high / mine.low < tables.high / tables.low
    assert own.piece(ribs=3).dimensions_cm["length"].mid == pytest.approx(15.6)
    assert "kitchen" in own.sources


def test_growth_shape_and_faces_may_be_chosen() -> None:
    own = own_cut({
        "name": "flat shoulder", "like": "pork shoulder, boneless", "growth": "wider", "shape": "rounded box",
        "length_cm": 30, "width_cm": 22, "thickness_cm": 6, "radius_cm": 2, "density": 1.05,
        "usual_low_kg": 1, "usual_high_kg": 5, "synonyms": ["opened shoulder"], "bare": ["underside"]})
    piece = own.piece(mass_g=4000)
    assert isinstance(piece.shape, RoundedBox)
    assert piece.dimensions_cm["height"].mid == pytest.approx(6)
    assert piece.shape.radius_cm == pytest.approx(2)
    assert own.bare == ("underside",)
    assert own.synonyms == ("opened shoulder",)
    assert own.usual_kg == (1, 5)


def test_another_shape_brings_its_own_faces() -> None:
    own = own_cut({"name": "rolled brisket", "like": "brisket, flat", "shape": "elliptic cylinder"})
    assert own.faces == ("upper side", "lower side", "first end", "second end")
    for shape, count in (("half-ellipse prism", 4), ("ellipsoid", 2), ("half ellipsoid", 2), ("rounded box", 3)):
        cut = own_cut({"name": "x", "like": "brisket, flat", "shape": shape})
        assert len(cut.piece(mass_g=2000).faces) == count


def test_bone_taper_and_ribs() -> None:
    leg = own_cut({"name": "long leg", "like": "leg of lamb, bone in", "taper": 0.3, "bone_percent": 25})
    assert leg.taper == 0.3
    assert leg.bone_share.mid == 0.25
    rib = own_cut(RIB | {"most_ribs": 3})
    with pytest.raises(RequestError, match="it has 1 to 3"):
        rib.piece(ribs=4)


@pytest.mark.parametrize(("fields", "words"), [
    ({"like": "pork shoulder"}, "needs `name:`"),
    ({"name": "x"}, "needs `like:`"),
    ({"name": "x", "like": "pork shuolder"}, "there is no cut 'pork shuolder'"),
    ({"name": "x", "like": "leg of lamb"}, "means 2 cuts"),
    (RIB | {"colour": "red"}, "no field 'colour'"),
    (RIB | {"width_cm": "20 cm"}, "width_cm is '20 cm'"),
    (RIB | {"width_cm": 400}, "from 1 to 100"),
    (RIB | {"width_cm": True}, "width_cm is True"),
    (RIB | {"width_cm": float("nan")}, "width_cm is nan"),
    (RIB | {"growth": "sideways"}, "longer, bigger, wider"),
    (RIB | {"shape": "cube"}, "shape is 'cube'"),
    (RIB | {"shape": "bird"}, "only a bird"),
    (RIB | {"bare": ["crust"]}, "no face 'crust' to leave bare"),
    (RIB | {"bare": 3}, "a list of words"),
    ({"name": "x", "like": "pork shoulder", "rib_pitch_cm": 3}, "without ribs"),
])
def test_a_wrong_field_is_named(fields: dict[str, object], words: str) -> None:
    with pytest.raises(RequestError, match=words):
        own_cut(fields)


def test_every_field_has_a_kind() -> None:
    assert set(OWN_FIELDS.values()) == {"text", "list", "number"}
