"""A piece's sizes from whatever is known: weight, ribs, tape measures, reconciled by weighted least squares.

Unknowns are logarithms: the piece's growth, length, width, height, density, and where they matter the rib pitch,
the taper and the shafts' section. The cut's growth says which sizes follow the growth; the rest are assumptions with
their spread. A contradiction is named by the measurement that the others fit worst.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import exp, log
from typing import NamedTuple

from cookbook.errors import PieceError
from cookbook.meat.body import body
from cookbook.meat.cut import BONE_DENSITY, Cut
from cookbook.meat.fitting import Fit, Misfit, Point, Row, fit
from cookbook.meat.known import ORDER, THICK, THIN, Known, check, contradiction, written
from cookbook.meat.shapes import Shape
from cookbook.quantity import Interval
from cookbook.quantity.interval import NORMAL_80

SCALE_SIGMA = 0.004
"""A kitchen balance: half a percent, 80 %."""
TAPE_SIGMA = {"length": 0.04, "girth": 0.03, "width": 0.05, "thickness": 0.06}
"""How far a tape may be off the body that stands for the piece: reading and the piece's unevenness. Assumptions."""
NOTED_Z, REFUSED_Z = 2.6, 6.0
"""A measurement is questioned beyond 2.6 standard deviations (one honest piece in a hundred), refused beyond 6."""
_GROWS = {"longer": (1.0, 0.0, 0.0), "wider": (1.0, 1.0, 0.0), "bigger": (1.0, 1.0, 1.0)}
TAPER_SIGMA = 0.08
"""How far the taper of a piece may be off its cut's; an assumption."""
_GROWTH, _LENGTH, _WIDTH, _HEIGHT, _DENSITY = range(5)


class Model(NamedTuple):
    """The cut in this state: what its unknowns are and what they make."""

    cut: Cut
    known: Known
    boned: bool
    pitch: int | None
    taper: int | None
    shaft: int | None
    size: int

    def shape(self, point: Point) -> Shape:
        """The body, without bare shafts; a bird as the egg of its outer sizes."""
        taper = exp(point[self.taper]) if self.taper is not None else self.cut.taper
        return body(self.cut, exp(point[_LENGTH]), exp(point[_WIDTH]), exp(point[_HEIGHT]), taper)

    def body_g(self, point: Point) -> float:
        """Weight without bare shafts."""
        return exp(point[_DENSITY]) * self.shape(point).volume_cm3

    def shaft_g(self, point: Point) -> float:
        """Weight of the bare shafts."""
        if self.shaft is None or self.pitch is None or not self.known.frenched_cm:
            return 0.0
        count = self.known.ribs or exp(point[_LENGTH] - point[self.pitch])
        return count * self.known.frenched_cm * exp(point[self.shaft]) * BONE_DENSITY

    def mass_g(self, point: Point) -> float:
        """Weight as on the scale."""
        return self.body_g(point) + self.shaft_g(point)

    def row(self, value: float, sigma: float, weights: Mapping[int, float], measurement: str = "") -> Row:
        """A straight row; `weights` by the place of the unknown."""
        slope = [0.0] * self.size
        for place, weight in weights.items():
            slope[place] = weight
        return Row(value, sigma, tuple(slope), None, measurement)


class Sized(NamedTuple):
    """The fitted piece, and what is to be said about its measurements."""

    model: Model
    fit: Fit
    notes: list[str]


def sized(cut: Cut, known: Known) -> Sized:
    """Fit the sizes. Raises PieceError for what cannot be, naming the measurement."""
    measured = known.measured()
    check(cut, known)
    model = _model(cut, known)
    rows = _assumptions(model) + _measurements(model, measured)
    found = fit(rows, _start(model))
    notes = []
    worst = _worst(found.misfits())
    if worst is not None and abs(worst.z) > NOTED_Z:
        message = contradiction(cut, worst, measured)
        if abs(worst.z) > REFUSED_Z:
            raise PieceError(message, measurement=written(worst.measurement), mend="measure again, or leave it out")
        notes.append(message)
        found = found.widened(abs(worst.z) / NOTED_Z)
    return Sized(model, found, notes)


def _model(cut: Cut, known: Known) -> Model:
    size = 5
    pitch = shaft = taper = None
    if cut.ribs is not None and (known.ribs or known.frenched_cm):
        pitch, size = size, size + 1
    if cut.ribs is not None and known.frenched_cm:
        shaft, size = size, size + 1
    if known.girth_ends_cm is not None and cut.shape in ("frustum", "elliptic cylinder"):
        taper, size = size, size + 1
    return Model(cut, known, cut.has_bones_option and known.bones == "off", pitch, taper, shaft, size)


def sigma_of(interval: Interval) -> float:
    """The standard deviation of the logarithm, from an interval of 80 %."""
    return log(interval.high / interval.low) / 2 / NORMAL_80


class Assumed(NamedTuple):
    """What a cut tells of a piece that nobody measured: logarithm and its standard deviation of length, width and
    height, how much of each the growth moves, the same of the density."""

    sizes: tuple[tuple[float, float, float], ...]
    density: tuple[float, float]


def assumed(cut: Cut, boned: bool) -> Assumed:
    """The assumptions for a cut, `boned` with its bones taken off."""
    sizes = [cut.length_cm, cut.width_cm, cut.height_cm]
    density = cut.density
    if boned:
        share = cut.bone_share.mid
        gone = share * density.mid / BONE_DENSITY
        sizes[2] = sizes[2].scaled(1 - gone)
        density = density.scaled((1 - share) / (1 - gone))
    return Assumed(tuple((log(size.mid), max(sigma_of(size), 0.01), grows)
                         for size, grows in zip(sizes, _GROWS[cut.growth], strict=True)),
                   (log(density.mid), sigma_of(density)))


def _assumptions(model: Model) -> list[Row]:
    cut = model.cut
    told = assumed(cut, model.boned)
    rows = []
    for place, (size, sigma, grows) in enumerate(told.sizes, start=_LENGTH):
        rows.append(model.row(size, sigma, {_GROWTH: -grows, place: 1.0}))
    rows.append(model.row(*told.density, {_DENSITY: 1.0}))
    if cut.ribs is not None and model.pitch is not None:
        rows.append(model.row(log(cut.ribs.pitch_cm.mid), sigma_of(cut.ribs.pitch_cm), {model.pitch: 1.0}))
    if cut.ribs is not None and model.shaft is not None:
        rows.append(model.row(log(cut.ribs.shaft_cm2.mid), sigma_of(cut.ribs.shaft_cm2), {model.shaft: 1.0}))
    if model.taper is not None:
        rows.append(model.row(log(cut.taper), TAPER_SIGMA, {model.taper: 1.0}))
    return rows


def _measurements(model: Model, measured: dict[str, float]) -> list[Row]:
    rows = []
    for word, place in (("length", _LENGTH), ("width", _WIDTH), ("thickness", _HEIGHT)):
        if word in measured:
            rows.append(model.row(log(measured[word]), TAPE_SIGMA[word], {place: 1.0}, word))
    if "weight" in measured:
        rows.append(Row(log(measured["weight"]), SCALE_SIGMA, (), lambda point: log(model.mass_g(point)), "weight"))
    if "girth" in measured:
        rows.append(Row(log(measured["girth"]), TAPE_SIGMA["girth"], (),
                        lambda point: log(model.shape(point).girth_cm), "girth"))
    if "ribs" in measured and model.pitch is not None:
        # The saw may run up to a fifth of a pitch beside the joint.
        spread = 0.2 / measured["ribs"]
        rows.append(model.row(log(measured["ribs"]), spread, {_LENGTH: 1.0, model.pitch: -1.0}, "ribs"))
    return rows + _ends(model, measured)


def _ends(model: Model, measured: dict[str, float]) -> list[Row]:
    """Two more turns of the tape: they tell the taper, or of a body without one the girth once more."""
    if THICK not in measured:
        return []
    taper = model.taper
    if taper is None:
        return [Row(log(measured[word]), 2 * TAPE_SIGMA["girth"], (), lambda point: log(model.shape(point).girth_cm),
                    word) for word in (THICK, THIN)]

    def at(place: float, point: Point) -> float:
        """Girth so far along, from the girth in the middle."""
        small = exp(point[taper])
        return log(model.shape(point).girth_cm * (1 + place * (small - 1)) / ((1 + small) / 2))

    return [Row(log(measured[THICK]), TAPE_SIGMA["girth"], (), lambda point: at(0.0, point), THICK),
            Row(log(measured[THIN]), TAPE_SIGMA["girth"], (), lambda point: at(1.0, point), THIN)]


def _start(model: Model) -> Sequence[float]:
    cut = model.cut
    point = [0.0, log(cut.length_cm.mid), log(cut.width_cm.mid), log(cut.height_cm.mid), log(cut.density.mid)]
    if cut.ribs is not None and model.pitch is not None:
        point.append(log(cut.ribs.pitch_cm.mid))
    if cut.ribs is not None and model.shaft is not None:
        point.append(log(cut.ribs.shaft_cm2.mid))
    if model.taper is not None:
        point.append(log(cut.taper))
    return point


def _worst(misfits: list[Misfit]) -> Misfit | None:
    """The worst; among equals the one that is most easily misread."""
    if not misfits:
        return None
    top = [one for one in misfits if abs(one.z) >= 0.98 * abs(misfits[0].z)]
    return min(top, key=lambda one: ORDER.index(one.measurement))
