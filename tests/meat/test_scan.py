"""Scans: unit, holes, double skins, noise and boards are found or refused with the reason."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from cookbook.errors import PieceError, RequestError
from cookbook.meat import Cut
from cookbook.meat.drawing import drawing
from cookbook.meat.mesh import Mesh, area_and_volume, area_below, edges, holes, smoothed, turned_out, welded
from cookbook.meat.scan import told
from cookbook.meat.shapes import Box, Ellipsoid

AXES = (16.0, 10.0, 7.0)
EGG = Ellipsoid(*AXES)
BUTT = Cut.named("pork shoulder")
RIBS = Cut.named("rib roast, bone in")
GRAMS = EGG.volume_cm3 * BUTT.density.mid
DICE = np.random.default_rng(7)


def egg(fine: int = 5, axes: tuple[float, float, float] = AXES) -> Mesh:
    """A fine mesh of an egg: 20 480 triangles, or four times as many with each step."""
    ball = trimesh.creation.icosphere(subdivisions=fine)
    return Mesh(np.asarray(ball.vertices) * axes, np.asarray(ball.faces, dtype=np.int64))


def both(*meshes: Mesh) -> Mesh:
    """Several surfaces in one file."""
    counts = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    return Mesh(np.concatenate([mesh.points for mesh in meshes]),
                np.concatenate([mesh.faces + first for mesh, first in zip(meshes, counts, strict=False)]))


def rough(mesh: Mesh, spread: float) -> Mesh:
    """Every point moved at random, cm."""
    return Mesh(mesh.points + DICE.normal(0, spread, mesh.points.shape), mesh.faces)


def without(mesh: Mesh, gone: NDArray[np.bool_]) -> Mesh:
    """Without some triangles."""
    return Mesh(mesh.points, mesh.faces[~gone])


def on_the_board(level: float = 4.0) -> Mesh:
    """An egg that lies on a board: flat where it would reach below it, and the flat not scanned."""
    mesh = egg()
    heights = mesh.points[:, 2]
    whole = without(mesh, np.asarray((heights[mesh.faces] < -level).any(axis=1)))
    # The ragged lower rim is drawn straight down to the board.
    rim = np.unique(edges(whole).rim)
    points = whole.points.copy()
    points[rim, :2] *= np.sqrt((1 - (level / AXES[2]) ** 2) / (1 - (points[rim, 2] / AXES[2]) ** 2))[:, None]
    points[rim, 2] = -level
    return Mesh(points, whole.faces)


def save(mesh: Mesh, path: Path) -> Path:
    trimesh.Trimesh(mesh.points, mesh.faces, process=False).export(path)
    return path


class TestMesh:
    def test_area_and_volume_of_a_fine_egg(self) -> None:
        """Facet error of 1 280 triangles 0.48 % in area, 20 480 four times four times less (printed)."""
        for fine, error in ((3, 0.0050), (5, 0.0004)):
            area, volume = area_and_volume(egg(fine))
            assert EGG.area_cm2 * (1 - error) < area < EGG.area_cm2
            assert EGG.volume_cm3 * (1 - 3 * error) < volume < EGG.volume_cm3

    def test_two_hundred_thousand_triangles_in_a_tenth_of_a_second(self) -> None:
        mesh = Mesh(egg(7).points, egg(7).faces[:200_000])
        took = []
        for _ in range(9):
            start = time.process_time()
            area_and_volume(mesh)
            took.append(time.process_time() - start)
        assert min(took) < 0.1

    @given(st.floats(-500, 500), st.floats(-500, 500))
    @settings(max_examples=20)
    def test_where_it_lies_does_not_matter(self, x: float, y: float) -> None:
        mesh = egg(3)
        moved = Mesh(mesh.points + np.array([x, y, 30.0]), mesh.faces)
        assert area_and_volume(moved) == pytest.approx(area_and_volume(mesh), rel=1e-9)

    def test_points_of_three_separate_corners_are_welded(self) -> None:
        mesh = egg(3)
        loose = Mesh(mesh.points[mesh.faces].reshape(-1, 3), np.arange(3 * len(mesh.faces)).reshape(-1, 3))
        found, twice = welded(loose)
        assert (len(found.points), len(found.faces), twice) == (len(mesh.points), len(mesh.faces), 0)
        assert not len(edges(found).rim)

    def test_broken_and_doubled_triangles_go(self) -> None:
        mesh = egg(2)
        points = np.vstack([mesh.points, [[np.nan, 0, 0]]])
        faces = np.vstack([mesh.faces, mesh.faces[:7], [[0, 0, 1]], [[0, 1, len(mesh.points)]]])
        found, twice = welded(Mesh(points, faces))
        assert twice == 7
        assert len(found.faces) == len(mesh.faces)

    def test_half_of_it_turned_inwards_is_turned_back(self) -> None:
        mesh = egg(4)
        faces = mesh.faces.copy()
        turned = DICE.random(len(faces)) < 0.4
        faces[turned] = faces[turned][:, ::-1]
        wrong = Mesh(mesh.points, faces)
        found, group, count = turned_out(wrong, edges(wrong))
        assert count == int(turned.sum())
        assert len(np.unique(group)) == 1
        assert area_and_volume(found) == pytest.approx(area_and_volume(mesh))

    def test_an_inside_out_mesh_is_turned_as_a_whole(self) -> None:
        mesh = egg(3)
        inside_out = Mesh(mesh.points, mesh.faces[:, ::-1])
        found, _, count = turned_out(inside_out, edges(inside_out))
        assert count == 0
        assert area_and_volume(found)[1] > 0

    def test_a_flat_hole_is_closed_to_the_true_area(self) -> None:
        mesh = on_the_board()
        found = welded(mesh)[0]
        hole, *others = holes(found, edges(found).rim)
        ellipse = np.pi * 16 * 10 * (1 - (4 / 7) ** 2)
        assert not others
        assert hole.area == pytest.approx(ellipse, rel=0.002)
        assert hole.unevenness < 1e-6
        assert abs(hole.normal[2]) == pytest.approx(1)

    def test_smoothing_takes_noise_out_and_keeps_the_form(self) -> None:
        mesh = egg(5)
        true = area_and_volume(mesh)[0]
        noisy = rough(mesh, 0.05)
        none = np.zeros((0, 2), dtype=np.int64)
        raw = area_and_volume(noisy)[0]
        light, strong = (area_and_volume(smoothed(noisy, none, rounds))[0] for rounds in (10, 50))
        assert raw > 1.02 * true
        assert strong == pytest.approx(true, rel=0.01)
        assert light == pytest.approx(true, rel=0.02)

    @given(st.floats(0.05, 0.95))
    @settings(max_examples=20)
    def test_area_below_a_plane_adds_up_with_what_is_above(self, share: float) -> None:
        mesh = egg(3)
        up = mesh.points[:, 2]
        level = float(up.min() + share * np.ptp(up))
        below, above = area_below(mesh, up, level), area_below(mesh, -up, -level)
        assert below + above == pytest.approx(area_and_volume(mesh)[0], rel=1e-9)
        half = area_below(mesh, up, 0.0)
        assert half == pytest.approx(area_and_volume(mesh)[0] / 2, rel=1e-6)


class TestPiece:
    @pytest.mark.parametrize(("kind", "unit", "size"), [
        ("ply", "cm", 1.0), ("stl", "mm", 10.0), ("obj", "in", 1 / 2.54), ("stl", "m", 0.01), ("glb", "m", 0.01)])
    def test_the_unit_is_found_by_the_weight(self, tmp_path: Path, kind: str, unit: str, size: float) -> None:
        mesh = egg(4)
        path = save(Mesh(mesh.points * size, mesh.faces), tmp_path / f"roast.{kind}")
        piece = BUTT.piece(scan=path, mass_g=GRAMS)
        assert piece.scan is not None
        assert piece.scan.unit == unit
        assert piece.area_cm2.mid == pytest.approx(EGG.area_cm2, rel=0.005)
        assert piece.volume_cm3.mid == pytest.approx(EGG.volume_cm3, rel=0.005)
        assert piece.area_cm2.low < EGG.area_cm2 < piece.area_cm2.high

    def test_without_a_weight_a_usual_one_decides_and_is_told(self, tmp_path: Path) -> None:
        piece = BUTT.piece(scan=save(egg(4), tmp_path / "roast.stl"))
        assert piece.weighed_g is None
        assert piece.mass_g.mid == pytest.approx(GRAMS, rel=0.005)
        assert any("a weight on the scale would prove it" in note for note in piece.notes)

    def test_what_cannot_be_a_piece_in_any_unit_asks_for_its_weight(self, tmp_path: Path) -> None:
        tiny = egg(3, (2.2, 1.5, 1.0))
        with pytest.raises(PieceError, match="is no pork shoulder") as caught:
            BUTT.piece(scan=save(tiny, tmp_path / "crumb.stl"))
        assert (caught.value.measurement, caught.value.mend) == ("scan", "say what it weighs")

    def test_the_body_that_heats_has_the_scans_weight_and_sizes(self, tmp_path: Path) -> None:
        piece = BUTT.piece(scan=save(egg(4), tmp_path / "roast.stl"), mass_g=GRAMS)
        length, width, height = piece.shape.outer_cm
        assert length > width > height
        assert piece.shape.volume_cm3 == pytest.approx(EGG.volume_cm3, rel=0.02)
        assert piece.meat_g.mid == pytest.approx(GRAMS * (1 - BUTT.bone_share.mid))

    def test_its_sizes_are_the_scans(self, tmp_path: Path) -> None:
        piece = BUTT.piece(scan=save(egg(4), tmp_path / "roast.stl"), mass_g=GRAMS)
        for word, size in zip(("length", "width", "height"), AXES, strict=True):
            assert piece.dimensions_cm[word].mid == pytest.approx(2 * size, rel=0.01)

    def test_without_a_scale_all_weights_share_the_scans_doubt(self, tmp_path: Path) -> None:
        piece = RIBS.piece(scan=save(egg(4), tmp_path / "roast.stl"), ribs=3, bones="on", frenched_cm=5)
        assert piece.mass_g.low < piece.mass_g.mid / 1.02
        assert piece.salted_mass_g.mid == pytest.approx(piece.mass_g.mid - piece.shaft_g.mid)
        for weight in (piece.salted_mass_g, piece.boneless_mass_g):
            assert weight.high / weight.low >= piece.mass_g.high / piece.mass_g.low

    def test_what_it_lies_on_is_drawn_to_its_own_area(self, tmp_path: Path) -> None:
        piece = BUTT.piece(scan=save(egg(4), tmp_path / "roast.stl"), mass_g=GRAMS)
        above, below = (panel for row in drawing(piece).rows for panel in row)
        assert (above.width, above.height) == pytest.approx((2 * AXES[0], 2 * AXES[1]), rel=0.01)
        assert np.pi / 4 * below.width * below.height == pytest.approx(piece.face("underside").area_cm2.mid)

    def test_other_sizes_of_it_have_the_cuts_own_faces(self, tmp_path: Path) -> None:
        path = save(egg(4), tmp_path / "roast.stl")
        on, tied = (RIBS.piece(scan=path, ribs=3, bones=bones) for bones in ("on", "tied"))
        bare = [face.name for face in on.in_size(ribs=4).faces if not face.coated]
        assert bare == ["bone side"]
        assert [face.name for face in on.faces if not face.coated] == ["underside"]
        assert all(face.coated for face in tied.in_size(ribs=4).faces)
        assert tied.face("underside").sheltered
        assert RIBS.piece(scan=path, ribs=3, bones="on", faces="bone side").face("underside").coated

    def test_json_method_and_reasons(self, tmp_path: Path) -> None:
        piece = BUTT.piece(scan=save(egg(4), tmp_path / "roast.stl"), mass_g=GRAMS, name="big")
        data = piece.json()["scan"]
        assert isinstance(data, dict)
        assert set(data["area_cm2"]) == {"used", "as_read", "light", "strong"}
        assert data["file"] == "roast.stl"
        assert "after light and" in piece.method
        assert "the triangles of the scan, added up" in "\n".join(piece.why())
        assert [panel.caption[0] for row in drawing(piece).rows for panel in row] == [
            "upper side, from above", "underside, from below"]


class TestGates:
    def test_a_roast_on_the_board_gets_its_flat_underside(self) -> None:
        scan = told(BUTT, "roast.ply", on_the_board(), None, None)
        dome_and_base = 0.749 * EGG.area_cm2
        assert scan.area_cm2 - scan.underside_cm2 == pytest.approx(dome_and_base, rel=0.01)
        assert scan.area_cm2 / EGG.area_cm2 == pytest.approx(0.978, abs=0.005)
        assert any("closed by a flat face" in note for note in scan.notes)

    def test_small_holes_are_closed_unasked(self) -> None:
        mesh = egg()
        gone = np.zeros(len(mesh.faces), dtype=np.bool_)
        gone[[10, 5000, 9000]] = True
        scan = told(BUTT, "roast.ply", without(mesh, gone), "cm", GRAMS)
        assert "3 small holes closed" in scan.notes
        assert scan.area_cm2 == pytest.approx(EGG.area_cm2, rel=0.002)

    def test_a_large_uneven_hole_is_refused(self) -> None:
        mesh = egg()
        middle = mesh.points[mesh.faces].mean(axis=1)
        with pytest.raises(PieceError, match="whose rim is not flat") as caught:
            told(BUTT, "roast.ply", without(mesh, (middle[:, 0] > 4) & (middle[:, 1] > -2)), "cm", GRAMS)
        assert caught.value.measurement == "scan"

    @pytest.mark.long
    def test_noise_is_told_at_two_smoothings(self) -> None:
        scan = told(BUTT, "roast.ply", rough(egg(6), 0.05), "cm", GRAMS)
        assert scan.raw_cm2 > 1.1 * EGG.area_cm2
        assert scan.strong_cm2 < scan.light_cm2 < scan.raw_cm2
        assert scan.area_cm2 == pytest.approx(EGG.area_cm2, rel=0.01)

    @pytest.mark.long
    def test_heavy_noise_is_a_note(self) -> None:
        scan = told(BUTT, "roast.ply", rough(egg(6), 0.2), "cm", GRAMS)
        assert any(note.startswith("noisy: ") for note in scan.notes)

    def test_a_second_skin_inside_is_left_out(self) -> None:
        inner = egg(5, (15.5, 9.6, 6.6))
        scan = told(BUTT, "roast.ply", both(egg(), inner), "cm", GRAMS)
        assert scan.area_cm2 == pytest.approx(EGG.area_cm2, rel=0.005)
        assert any("1 other surface in the scan left out" in note for note in scan.notes)

    def test_the_same_skin_twice_counts_once(self) -> None:
        scan = told(BUTT, "roast.ply", both(egg(), egg()), "cm", GRAMS)
        assert scan.area_cm2 == pytest.approx(EGG.area_cm2, rel=0.002)
        assert "20480 triangles were there twice" in scan.notes

    def test_a_board_beside_the_meat_is_left_out_by_the_weight(self) -> None:
        plank = trimesh.creation.box((60, 40, 3)).subdivide()
        board = Mesh(np.asarray(plank.vertices) - [0, 0, 12], np.asarray(plank.faces, dtype=np.int64))
        scan = told(BUTT, "roast.ply", both(egg(), board), "cm", GRAMS)
        assert scan.area_cm2 == pytest.approx(EGG.area_cm2, rel=0.002)

    def test_specks_are_left_out(self) -> None:
        crumb = Mesh(egg(1, (0.3, 0.2, 0.2)).points + 30, egg(1).faces)
        scan = told(BUTT, "roast.ply", both(egg(), crumb), "cm", GRAMS)
        assert "1 loose speck left out" in scan.notes

    def test_turned_triangles_are_told(self) -> None:
        mesh = egg()
        faces = mesh.faces.copy()
        faces[:500] = faces[:500, ::-1]
        assert "500 triangles looked inwards and were turned" in told(
            BUTT, "roast.ply", Mesh(mesh.points, faces), "cm", GRAMS).notes

    @pytest.mark.parametrize(("unit", "grams", "reason"), [
        ("cm", GRAMS * 1.2, "a hole, the board or a bone"), ("mm", GRAMS, "its unit is another"),
        ("cm", GRAMS / 1.15, "a hole, the board or a bone")])
    def test_what_does_not_weigh_what_the_scale_says_is_refused(self, unit: str, grams: float, reason: str) -> None:
        with pytest.raises(PieceError, match=reason) as caught:
            told(BUTT, "roast.ply", egg(), unit, grams)
        assert caught.value.measurement == "scan"

    def test_two_surfaces_and_neither_fits(self) -> None:
        far = Mesh(egg(4).points + 100, egg(4).faces)
        with pytest.raises(PieceError, match="it holds 2 surfaces"):
            told(BUTT, "roast.ply", both(egg(), far), "cm", 2 * GRAMS)

    def test_within_a_tenth_is_near_enough(self) -> None:
        assert told(BUTT, "roast.ply", egg(), "cm", GRAMS * 1.08).unit == "cm"


class TestFaces:
    def test_a_closed_scan_has_an_underside_by_a_plane(self, tmp_path: Path) -> None:
        box = trimesh.creation.box((24, 19, 11)).subdivide_to_size(1.5)
        path = tmp_path / "roast.stl"
        box.export(path)
        grams = 24 * 19 * 11 * BUTT.density.mid
        piece = BUTT.piece(scan=path, mass_g=grams)
        side = Box(24, 19, 11)
        expected = side.faces["bottom"] + 0.05 * (side.area_cm2 - 2 * side.faces["bottom"])
        # Smoothing takes a little of a box's sharp edges.
        assert piece.face("underside").area_cm2.mid == pytest.approx(expected, rel=0.035)
        assert piece.coated_cm2 == piece.area_cm2

    def test_the_bone_side_of_a_rib_roast_stays_bare(self, tmp_path: Path) -> None:
        rib = Cut.named("rib roast, bone in")
        scan = on_the_board(2.0)
        grams = area_and_volume(egg())[1] * rib.density.mid * 0.72
        piece = rib.piece(scan=save(scan, tmp_path / "rib.ply"), mass_g=grams * 0.97)
        assert not piece.face("underside").coated
        assert piece.coated_cm2.mid == pytest.approx(piece.face("upper side").area_cm2.mid)
        assert rib.piece(scan=tmp_path / "rib.ply", mass_g=grams * 0.97, faces="all").coated_cm2 == piece.area_cm2
        assert rib.piece(scan=tmp_path / "rib.ply", mass_g=grams * 0.97, bones="tied").face("underside").coated


class TestFiles:
    def test_a_file_of_another_kind(self, tmp_path: Path) -> None:
        with pytest.raises(PieceError, match=r"\.ply, \.stl, \.obj, \.glb can be read"):
            BUTT.piece(scan=tmp_path / "roast.usdz", mass_g=GRAMS)

    @pytest.mark.parametrize("kind", ["ply", "stl", "obj", "glb"])
    def test_a_file_of_nonsense(self, tmp_path: Path, kind: str) -> None:
        path = tmp_path / f"roast.{kind}"
        path.write_bytes(b"this is no scan at all, only words\n" * 20)
        with pytest.raises(PieceError) as caught:
            BUTT.piece(scan=path, mass_g=GRAMS)
        assert caught.value.measurement == "scan"

    def test_a_file_that_is_not_there(self, tmp_path: Path) -> None:
        with pytest.raises(PieceError, match="there is no file"):
            BUTT.piece(scan=tmp_path / "gone.stl", mass_g=GRAMS)

    def test_without_the_extra_it_is_named(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setitem(sys.modules, "trimesh", None)
        with pytest.raises(RequestError, match="needs the extra `scan`") as caught:
            BUTT.piece(scan=tmp_path / "roast.stl", mass_g=GRAMS)
        assert caught.value.code == "missing-extra"
