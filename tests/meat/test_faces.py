"""Which faces are coated: all, without the bone side, without the ends, the cap, or a list of names."""

from __future__ import annotations

import pytest

from cookbook.errors import PieceError
from cookbook.meat import Cut, Piece


def coated(piece: Piece) -> set[str]:
    return {face.name for face in piece.faces if face.coated}


RIB = Cut.named("rib roast, bone in")


@pytest.mark.parametrize(("said", "names"), [
    (None, {"fat side", "large end", "small end"}),
    ("", {"fat side", "large end", "small end"}),
    ("all", {"fat side", "bone side", "large end", "small end"}),
    ("no-bone", {"fat side", "large end", "small end"}),
    ("no-ends", {"fat side", "bone side"}),
    ("no-bone,no-ends", {"fat side"}),
    ("cap", {"fat side"}),
    ("ends", {"large end", "small end"}),
    ("underside, ends", {"bone side", "large end", "small end"}),
    ("Fat Side, one end", {"fat side", "large end"}),
    ("fat_side", {"fat side"}),
    ("all, no-cap", {"bone side", "large end", "small end"}),
])
def test_faces_of_a_rib_roast(said: str | None, names: set[str]) -> None:
    assert coated(RIB.piece(ribs=3, faces=said)) == names


@pytest.mark.parametrize(("name", "bare"), [
    ("leg of lamb, bone in", {"shank end"}), ("fresh ham, bone in", {"shank end"}), ("pork shoulder", {"bone end"}),
    ("pork belly", {"skin side"}), ("brisket, whole", set()), ("chicken, whole", set()),
    ("pork loin, boneless", set()), ("rack of lamb", {"bone side"})])
def test_what_is_usually_left_bare(name: str, bare: set[str]) -> None:
    """Common practice: no paste on bone sides, shanks and skin that should crackle."""
    piece = Cut.named(name).piece(mass_g=2500)
    assert {face.name for face in piece.faces} - coated(piece) == bare


def test_edges_and_sides_are_places_too() -> None:
    assert coated(Cut.named("brisket, flat").piece(mass_g=2000, faces="edges")) == {"edges"}
    assert coated(Cut.named("chuck roast").piece(mass_g=2000, faces="sides,cap")) == {"sides", "fat side"}


@pytest.mark.parametrize(("name", "said", "note"), [
    ("pork loin, boneless", "no-bone", "no bone side to leave bare"),
    ("chicken, whole", "no-ends", "no ends to leave bare")])
def test_leaving_bare_what_is_not_there_is_a_note(name: str, said: str, note: str) -> None:
    piece = Cut.named(name).piece(mass_g=2000, faces=said)
    assert coated(piece) == {face.name for face in piece.faces}
    assert any(note in one for one in piece.notes)


def test_a_face_that_is_not_there_is_named_with_those_that_are() -> None:
    with pytest.raises(PieceError, match="no face 'crust'") as caught:
        RIB.piece(ribs=3, faces="fat side, crust")
    assert caught.value.measurement == "faces"
    assert "fat side, bone side, large end, small end" in (caught.value.mend or "")
    with pytest.raises(PieceError, match="no face 'wing'"):
        RIB.piece(ribs=3, faces="no-wing")


@pytest.mark.parametrize(("bones", "bone_side", "sheltered"), [(None, False, False), ("on", False, False),
                                                               ("tied", True, True), ("off", True, False)])
def test_bones_decide_the_bone_side(bones: str | None, bone_side: bool, sheltered: bool) -> None:
    face = RIB.piece(ribs=3, bones=bones).face("bone side")
    assert face.coated == bone_side
    assert face.sheltered == sheltered


def test_faces_said_win_over_the_bones() -> None:
    assert coated(RIB.piece(ribs=3, bones="tied", faces="no-bone")) == {"fat side", "large end", "small end"}
    assert coated(RIB.piece(ribs=3, bones="on", faces="all")) == {"fat side", "bone side", "large end", "small end"}
