"""What a scan told of a piece in one line of text, so that nothing needs its file later, and the piece that it makes.

Surface and volume are the scan's; weights, bones and the body in the fire are those of the cut, fitted to its sizes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import hypot, log, pi
from typing import NamedTuple

from cookbook.errors import PieceError, RequestError
from cookbook.meat.cut import Cut, FacePart
from cookbook.meat.faces import Face, chosen
from cookbook.meat.fitting import WIDTH_80
from cookbook.meat.known import Known, weight_text
from cookbook.meat.piece import Piece, less, made, meat_of
from cookbook.meat.shapes import LOWER, UPPER
from cookbook.quantity import Interval
from cookbook.quantity.number import digits

NEAR = 0.10
"""How far volume times density may be off the scale."""
VOLUME_SIGMA, SIZE_SIGMA = 0.02, 0.03
LIKE = "roast.ply: 1520 cm2 give or take 4.4 %, 310 cm2 of it underneath, 2890 cm3, 34 x 20 x 14 cm"
_NUMBER = r"(\d{1,6}(?:\.\d{1,4})?)"
_TEXT = re.compile(rf"(.+): {_NUMBER} cm2 give or take {_NUMBER} %, {_NUMBER} cm2 of it underneath, {_NUMBER} cm3, "
                   rf"{_NUMBER} x {_NUMBER} x {_NUMBER} cm")


class Outline(NamedTuple):
    """The scan's file as a word; surface (80 %: give or take the share `doubt`), what of it lies below, volume;
    length, width and height as it lay."""

    file: str
    area_cm2: float
    doubt: float
    underside_cm2: float
    volume_cm3: float
    size_cm: tuple[float, float, float]

    @classmethod
    def parse(cls, text: str) -> Outline:
        """The scan that a file's line tells of. Raises RequestError for what is no such line or no body."""
        found = _TEXT.fullmatch(" ".join(text.split()))
        if found is None:
            raise RequestError(f"'{text.strip()}' is nothing that a scan told",
                               mend=f"`cookbook log start … --scan FILE` writes it, like {LIKE}")
        area, doubt, under, volume, *size = (float(one) for one in found.groups()[1:])
        ball = (36 * pi * volume * volume) ** (1 / 3)
        if volume <= 0 or area < (1 - NEAR) * ball or under >= area or min(size) <= 0 or doubt >= 100:
            raise RequestError(f"no body has {area:g} cm2, {under:g} of it underneath, around {volume:g} cm3",
                               mend="scan it again, or take the line out")
        return cls(found[1], area, doubt / 100, under, volume, (size[0], size[1], size[2]))

    def text(self) -> str:
        """As files hold it; reads back the same to a tenth, or to six digits."""
        area, doubt, under, volume, *size = (
            f"{round(one, 1):g}" for one in (self.area_cm2, 100 * self.doubt, self.underside_cm2, self.volume_cm3,
                                             *self.size_cm))
        return (f"{' '.join(self.file.split()) or 'scan'}: {area} cm2 give or take {doubt} %, {under} cm2 of it "
                f"underneath, {volume} cm3, {' x '.join(size)} cm")

    def json(self) -> dict[str, object]:
        """As `piece --json` gives it under `scan`."""
        return {"file": self.file, "volume_cm3": self.volume_cm3, "area_cm2": {"used": self.area_cm2}}


def outlined(cut: Cut, told: Outline, known: Known, faces: str | None, name: str | None,
             words: Mapping[str, str]) -> Piece:
    """The piece that a scan told of. Raises PieceError (`scan`) where it weighs something else."""
    grams = told.volume_cm3 * cut.density.mid
    if known.mass_g and abs(log(grams / known.mass_g)) > log(1 + NEAR):
        raise PieceError(f"the scan would weigh {weight_text(grams)} and the scale says {weight_text(known.mass_g)}",
                         measurement="scan", mend="scan the meat alone, all round, and weigh what was scanned")
    body = _fitted(cut, known.mass_g or grams, told, known, name, words)
    below = [one for one in cut.face_parts if one.role == "bottom"]
    bare = any(one.name in cut.bare for one in below)
    own = cut._replace(face_parts=(FacePart(UPPER, (UPPER,), "top", False),
                                   FacePart("underside", (LOWER,), "bottom", any(one.bone for one in below))),
                       bare=("underside",) if bare else ())
    coated, notes = chosen(own, faces, known.bones)
    areas = {UPPER: told.area_cm2 - told.underside_cm2, "underside": told.underside_cm2}
    tied = {"underside"} if any(face.sheltered for face in body.faces) else set()
    spread = 1 + told.doubt
    if not known.mass_g:
        mass = around(grams, 1 + hypot(WIDTH_80 * VOLUME_SIGMA, cut.density.high / cut.density.mid - 1))
        salted = less(mass, body.shaft_g)
        share = Interval.exact(0.0) if body.bones == "off" else cut.bone_share
        body = body._replace(mass_g=mass, salted_mass_g=salted, boneless_mass_g=meat_of(salted, share))
    return body._replace(
        cut=own, scanned_cut=cut, known=known, dimensions_cm=_sizes(body, told), outline=told,
        area_cm2=around(told.area_cm2, spread),
        faces=tuple(Face(one, around(area, spread), one in coated, one in tied) for one, area in areas.items()),
        coated_cm2=around(sum(areas[one] for one in coated), spread),
        volume_cm3=around(told.volume_cm3, 1 + WIDTH_80 * VOLUME_SIGMA), notes=notes,
        method=f"a scan, {told.file}: {digits(told.area_cm2, 4)} cm² around {digits(told.volume_cm3, 4)} cm³")


def _sizes(body: Piece, told: Outline) -> dict[str, Interval]:
    """Length, width and height of the scan, the longer way along the roast unless the body lies across."""
    one, two, up = told.size_cm
    across = body.dimensions_cm["width"].mid > body.dimensions_cm["length"].mid
    said = {"length": two if across else one, "width": one if across else two, "height": up}
    return {word: around(size, 1 + WIDTH_80 * SIZE_SIGMA) for word, size in said.items()}


def around(middle: float, spread: float) -> Interval:
    """An interval from a middle and a factor either way."""
    return Interval(middle / spread, middle, middle * spread)


def _fitted(cut: Cut, mass_g: float, told: Outline, known: Known, name: str | None,
            words: Mapping[str, str]) -> Piece:
    """The cut's own body with the scan's weight and sizes; length and width whichever way they fit better."""
    one, two, up = told.size_cm
    plain = Known(mass_g=mass_g, ribs=known.ribs, bones=known.bones, frenched_cm=known.frenched_cm)
    best = made(cut, plain, None, name, words)
    usual = best.dimensions_cm["length"].mid / best.dimensions_cm["width"].mid
    length, width = min(((one, two), (two, one)), key=lambda pair: abs(log(pair[0] / pair[1] / usual)))
    try:
        return made(cut, plain._replace(length_cm=length, width_cm=width, thickness_cm=up), None, name, words)
    except PieceError:
        return best
