"""A piece from a scan of it: the unit found or checked by the weight, holes and double skins handled, noise told.

Surface, volume and sizes go into an outline, which makes the piece. A scan that does not weigh what the scale says
within a tenth is refused with the reason.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from cookbook.errors import PieceError, RequestError
from cookbook.meat.cut import Cut
from cookbook.meat.fitting import WIDTH_80
from cookbook.meat.known import Known, weight_text
from cookbook.meat.mesh import (
    Hole,
    Index,
    Mesh,
    Points,
    area_and_volume,
    area_below,
    closed,
    edges,
    face_areas,
    holes,
    part,
    smoothed,
    turned_out,
    welded,
)
from cookbook.meat.outline import NEAR, Outline, outlined
from cookbook.meat.piece import Piece

UNITS_CM = {"mm": 0.1, "cm": 1.0, "in": 2.54, "m": 100.0}
KINDS = (".ply", ".stl", ".obj", ".glb")
LIGHT, STRONG = 10, 50
"""Rounds of the two smoothings that the surface is told at."""
SMALL_HOLE, FLAT = 0.01, 0.05
"""A hole below this share of the surface is closed unasked; a larger one where its rim is flat to this."""
NOISY = 1.05
"""A surface this much larger than its strongly smoothed one is noise."""
SPECK = 0.02
UNDERSIDE = 0.05
"""The underside is what lies below this share of the height."""
SURFACE_SIGMA = 0.03


class Scan(NamedTuple):
    """What a scan told: file, unit, triangles; surface as read, after light and strong smoothing; volume and size.

    `area_cm2` is the lightly smoothed one, or of a noisy scan the strongly smoothed one: smoothing takes the noise
    and a little of true edges with it.
    """

    file: str
    unit: str
    triangles: int
    raw_cm2: float
    light_cm2: float
    strong_cm2: float
    area_cm2: float
    underside_cm2: float
    volume_cm3: float
    size_cm: tuple[float, float, float]
    notes: tuple[str, ...]

    def json(self) -> dict[str, object]:
        """As `piece --json` gives it under `scan`."""
        areas = {"used": self.area_cm2, "as_read": self.raw_cm2, "light": self.light_cm2, "strong": self.strong_cm2}
        return {"file": self.file, "unit": self.unit, "triangles": self.triangles, "volume_cm3": self.volume_cm3,
                "area_cm2": areas}


def scanned(cut: Cut, path: str | Path, known: Known, faces: str | None, name: str | None,
            words: Mapping[str, str]) -> Piece:
    """The piece that lies in a scan. Raises PieceError (`scan`) with the reason where it cannot be."""
    file = Path(path)
    scan = _told_once(cut, str(file), _stamp(file), known.mass_g)
    noise = abs(scan.light_cm2 / scan.strong_cm2 - 1) / 2
    outline = Outline(scan.file, scan.area_cm2, WIDTH_80 * (SURFACE_SIGMA ** 2 + noise ** 2) ** 0.5,
                      scan.underside_cm2, scan.volume_cm3, scan.size_cm)
    piece = outlined(cut, outline, known, faces, name, words)
    return piece._replace(
        scan=scan, notes=[*piece.notes, *scan.notes],
        method=f"a scan of {scan.triangles} triangles in {scan.unit}, {scan.light_cm2:.0f} cm² after light and "
               f"{scan.strong_cm2:.0f} cm² after strong smoothing")


def _stamp(file: Path) -> tuple[int, int]:
    """What tells a file's content from an earlier one; nought where there is none."""
    try:
        found = file.stat()
    except OSError:
        return 0, 0
    return found.st_mtime_ns, found.st_size


@lru_cache(maxsize=8)
def _told_once(cut: Cut, path: str, stamp: tuple[int, int], mass_g: float | None) -> Scan:
    """Cleaned and measured once for every coat that goes on it."""
    del stamp
    mesh, metres = read(path)
    return told(cut, Path(path).name, mesh, "m" if metres else None, mass_g, metres)


def read(path: str | Path) -> tuple[Mesh, bool]:
    """The triangles of a file, and whether its format says metres. Raises RequestError where it cannot be read."""
    file = Path(path)
    if file.suffix.lower() not in KINDS:
        raise PieceError(f"{file.name} is no scan: {', '.join(KINDS)} can be read", measurement="scan")
    try:
        import trimesh
    except ImportError as fault:
        raise RequestError("reading a scan needs the extra `scan`", mend="pip install 'carryover-cookbook[scan]'",
                           code="missing-extra") from fault
    if not file.is_file():
        raise PieceError(f"there is no file {path}", measurement="scan", mend="say where the scan lies")
    try:
        loaded: Any = trimesh.load(file, force="mesh", process=False)
        mesh = Mesh(np.asarray(loaded.vertices, dtype=np.float64), np.asarray(loaded.faces, dtype=np.int64))
        if mesh.points.shape[1:] != (3,) or mesh.faces.shape[1:] != (3,):
            raise ValueError("its corners or triangles are not of three")
        if mesh.faces.size and not 0 <= mesh.faces.min() <= mesh.faces.max() < len(mesh.points):
            raise ValueError("a triangle has a corner that is not there")
    except Exception as fault:  # a damaged file makes its reader raise whatever it meets
        raise PieceError(f"{file.name} can't be read as a scan: {fault}", measurement="scan",
                         mend="export it again as PLY, STL, OBJ or GLB") from fault
    if len(mesh.faces) < 4:
        raise PieceError(f"{file.name} holds no surface", measurement="scan", mend="export the mesh, not the points")
    return mesh, file.suffix.lower() == ".glb"


def told(cut: Cut, file: str, mesh: Mesh, unit: str | None, mass_g: float | None, y_up: bool = False) -> Scan:
    """Clean a mesh and measure it. Raises PieceError with the reason where it isn't this piece."""
    whole, doubled = welded(mesh)
    notes = [f"{doubled} triangles were there twice"] if doubled else []
    met = edges(whole)
    whole, group, turned = turned_out(whole, met)
    if turned:
        notes.append(f"{turned} triangles looked inwards and were turned")
    skins, extra = _skins(whole, group)
    if not skins:
        raise PieceError(f"{file} holds no surface: all of its triangles are points or lines", measurement="scan",
                         mend="export the mesh again")
    notes += extra
    best = min((_closed(skin) for skin in skins), key=lambda skin: _off(cut, skin, unit, mass_g)[0])
    if best.uneven:
        raise PieceError(f"the scan has a hole of {best.uneven:.0%} of its surface whose rim is not flat",
                         measurement="scan", mend="scan it from that side too, or lay it on a board")
    notes += best.notes
    off, unit = _off(cut, best, unit, mass_g)
    _gate(cut, best, off, unit, mass_g, len(skins))
    if len(skins) > 1:
        notes.append(f"{len(skins) - 1} other surface{'s' if len(skins) > 2 else ''} in the scan left out: "
                     "a second skin, the board or string")
    if mass_g is None:
        notes.append(f"unit {unit} taken because it makes a usual weight; a weight on the scale would prove it")
    return _report(file, best, unit, len(mesh.faces), notes, y_up)


class _Skin(NamedTuple):
    """One surface, closed: its open part and rim, the caps, area and volume in the file's own unit.

    `uneven` is the share of a wide hole whose rim is not flat, 0 without one.
    """

    open: Mesh
    rim: Index
    caps: list[Hole]
    area: float
    volume: float
    uneven: float
    notes: list[str]


def _skins(mesh: Mesh, group: Index) -> tuple[list[Mesh], list[str]]:
    """The surfaces that are more than specks, the largest first."""
    areas = np.bincount(group, face_areas(mesh), minlength=len(group))
    total = areas.sum()
    large = [int(one) for one in np.argsort(-areas) if areas[one] > SPECK * total]
    specks = int((areas > 0).sum()) - len(large)
    notes = [f"{specks} loose speck{'s' if specks > 1 else ''} left out"] if specks else []
    return [part(mesh, group == one) for one in large], notes


def _closed(skin: Mesh) -> _Skin:
    rim = edges(skin).rim
    found = holes(skin, rim)
    area, _ = area_and_volume(skin)
    notes = []
    wide = [hole for hole in found if hole.area > SMALL_HOLE * area]
    uneven = max((hole.area / area for hole in wide if hole.unevenness > FLAT), default=0.0)
    if wide:
        notes.append(f"what lay on the board was not scanned; closed by a flat face of {wide[0].area / area:.0%} of "
                     "the rest")
    if len(found) > len(wide):
        notes.append(f"{len(found) - len(wide)} small holes closed")
    full, volume = area_and_volume(closed(skin, found))
    return _Skin(skin, rim, found, full, abs(volume), uneven, notes)


def _off(cut: Cut, skin: _Skin, unit: str | None, mass_g: float | None) -> tuple[float, str]:
    """How far from the weight (or, unweighed, from a usual one) as a logarithm, and in which unit that is."""
    choices = [unit] if unit is not None else list(UNITS_CM)
    low, high = (1000 * kilos for kilos in cut.usual_kg)
    found = []
    for one in choices:
        grams = skin.volume * UNITS_CM[one] ** 3 * cut.density.mid
        wanted = mass_g if mass_g is not None else min(max(grams, low), high)
        found.append((abs(float(np.log(grams / wanted))) if grams > 0 else np.inf, one))
    return min(found)


def _gate(cut: Cut, skin: _Skin, off: float, unit: str, mass_g: float | None, skins: int) -> None:
    grams = skin.volume * UNITS_CM[unit] ** 3 * cut.density.mid
    if mass_g is None:
        if off > np.log(2):
            raise PieceError(f"in {unit} the scan would weigh {weight_text(grams)}, which is no {cut.name}",
                             measurement="scan", mend="say what it weighs")
        return
    if off <= np.log(1 + NEAR):
        return
    reasons = ["its unit is another" if off > 2 else "a hole, the board or a bone is in it or missing"]
    if skins > 1:
        reasons.append(f"it holds {skins} surfaces")
    raise PieceError(f"the scan would weigh {weight_text(grams)} and the scale says {weight_text(mass_g)}: "
                     + " or ".join(reasons), measurement="scan",
                     mend="scan the meat alone, all round, and weigh what was scanned")


def _report(file: str, skin: _Skin, unit: str, triangles: int, notes: list[str], y_up: bool) -> Scan:
    cm = UNITS_CM[unit]
    caps = sum(hole.area for hole in skin.caps)
    light, strong = (area_and_volume(smoothed(skin.open, skin.rim, rounds))[0] + caps for rounds in (LIGHT, STRONG))
    raw = skin.area
    noisy = raw > NOISY * strong
    used = strong if noisy else light
    flat = next((hole for hole in skin.caps if hole.area > SMALL_HOLE * raw), None)
    up = -flat.normal if flat is not None else np.array([0.0, 1.0, 0.0] if y_up else [0.0, 0.0, 1.0])
    heights = skin.open.points @ up
    level = heights.min() + UNDERSIDE * np.ptp(heights)
    under = flat.area if flat is not None else area_below(skin.open, heights, level) * used / raw
    if noisy:
        notes.append(f"noisy: {raw * cm * cm:.0f} cm² as read, {light * cm * cm:.0f} after light and "
                     f"{strong * cm * cm:.0f} after strong smoothing; the last is used")
    length, width = _plan(skin.open.points, up)
    raw, light, strong, used, under = (area * cm ** 2 for area in (raw, light, strong, used, under))
    return Scan(file, unit, triangles, raw, light, strong, used, under, skin.volume * cm ** 3,
                (length * cm, width * cm, float(np.ptp(heights)) * cm), tuple(notes))


def _plan(points: Points, up: Points) -> tuple[float, float]:
    """The longer and the shorter extent across the up direction, along the points' own axes."""
    across = points - points.mean(axis=0)
    across = across - np.outer(across @ up, up)
    _, axes = np.linalg.eigh(across.T @ across)
    extents = sorted((float(np.ptp(across @ axes[:, place])) for place in (1, 2)), reverse=True)
    return extents[0], extents[1]
