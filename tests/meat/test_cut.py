"""The table of cuts: enough of them, whole rows, what is assumed said, loaded lightly."""

from __future__ import annotations

import subprocess
import sys

import pytest

from cookbook.meat import Cut
from cookbook.meat.cut import GROWTHS, SHAPES
from cookbook.table import rows, source

ALL = Cut.names()
NAMED = ("rib roast, bone in", "rib roast, boneless", "beef tenderloin", "brisket, whole", "brisket, flat",
         "pork loin, boneless", "pork loin, bone in", "pork shoulder", "fresh ham, bone in", "leg of lamb, bone in",
         "leg of lamb, boneless", "chicken, whole", "turkey, whole")


def test_at_least_thirty_five_cuts_of_nine_animals() -> None:
    assert len(ALL) >= 35
    assert set(NAMED) <= set(ALL)
    assert {Cut.named(name).species for name in ALL} == {
        "beef", "pork", "lamb", "veal", "venison", "chicken", "turkey", "duck", "goose"}


@pytest.mark.parametrize("name", ALL)
def test_a_row_is_whole(name: str) -> None:
    cut = Cut.named(name)
    assert cut.growth in GROWTHS
    assert cut.shape in SHAPES
    assert 0.8 < cut.density.mid < 1.2
    assert 0 <= cut.bone_share.low <= cut.bone_share.mid <= cut.bone_share.high < 0.7
    assert bool(cut.bone_share.mid) != cut.boneless
    assert 0 < cut.usual_kg[0] < cut.usual_kg[1] <= 20
    assert cut.faces
    assert set(cut.bare) < set(cut.faces)
    assert cut.coated_by_default
    assert len(set(cut.faces)) == len(cut.faces)
    assert cut.synonyms
    assert cut.yields
    assert cut.has_ribs == (cut.most_ribs > 0)


@pytest.mark.parametrize("name", ALL)
def test_a_usual_piece_has_the_faces_of_its_shape(name: str) -> None:
    cut = Cut.named(name)
    kilos = (cut.usual_kg[0] * cut.usual_kg[1]) ** 0.5
    piece = cut.piece(mass_g=1000 * kilos)
    parts = [part for face in cut.face_parts for part in face.parts]
    assert sorted(parts) == sorted(piece.shape.faces)
    assert piece.area_cm2.mid == pytest.approx(piece.shape.area_cm2)
    assert not any("usual" in note for note in piece.notes)


@pytest.mark.parametrize("name", ALL)
def test_the_reference_piece_of_the_table_is_of_a_usual_weight(name: str) -> None:
    cut = Cut.named(name)
    piece = cut.piece(length_cm=cut.length_cm.mid, width_cm=cut.width_cm.mid, thickness_cm=cut.height_cm.mid)
    assert 0.8 * cut.usual_kg[0] <= piece.mass_g.mid / 1000 <= 1.2 * cut.usual_kg[1]


@pytest.mark.parametrize("name", ALL)
def test_what_nobody_measured_stands_with_an_interval(name: str) -> None:
    cut = Cut.named(name)
    assert "cut-assumption" in cut.sources or not cut.assumed
    assert set(cut.assumed) == set(cut.assumptions)
    for value in cut.assumptions.values():
        assert value.low < value.mid < value.high
    assert any(not source(key).memory for key in cut.sources) or source("cut-assumption").memory


def test_bones_may_be_on_tied_or_off_for_every_rib_and_loin_cut() -> None:
    with_option = {name for name in ALL if Cut.named(name).has_bones_option}
    assert with_option == {
        "rib roast, bone in", "strip loin, bone in", "pork loin, bone in", "rack of pork", "rack of lamb",
        "saddle of lamb", "veal rib roast, bone in", "venison saddle, bone in"}


def test_growth_is_the_trades() -> None:
    """Rib and loin longer at a fixed section, leg, shoulder and bird bigger all over, brisket and belly wider."""
    by_growth = {growth: {name for name in NAMED if Cut.named(name).growth == growth} for growth in GROWTHS}
    assert by_growth["longer"] == {"rib roast, bone in", "rib roast, boneless", "pork loin, boneless",
                                   "pork loin, bone in"}
    assert by_growth["wider"] == {"brisket, whole", "brisket, flat"}


def test_names_of_the_tables_are_cuts() -> None:
    for name in ("cut_names", "cut_yields", "cut_compositions"):
        assert {row["cut"] for row in rows(name)} == set(ALL)


def test_the_room_loads_nothing_heavy() -> None:
    code = ("import sys; from cookbook.meat import Cut; Cut.named('boneless pork loin').piece(mass_g=2200).json(); "
            "print([name for name in ('numpy', 'inspect', 'dataclasses', 'pint', 'trimesh', 'asyncio') "
            "if name in sys.modules])")
    done = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True,
                          env={"PYTHONPATH": ":".join(sys.path)})
    assert done.stdout.strip() == "[]"
