"""What a person says of a piece, whether it can be, and how a contradiction is put into words."""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from cookbook.errors import PieceError
from cookbook.meat.cut import Cut
from cookbook.meat.fitting import Misfit

LEAST_G, MOST_G = 100.0, 60_000.0
LEAST_CM, MOST_CM = 1.0, 150.0
THICK, THIN = "girth at the thick end", "girth at the thin end"
ORDER = ("weight", "ribs", "length", "girth", THICK, THIN, "width", "thickness")
_DECIDES = {"longer": {"weight", "ribs", "length"}, "wider": {"weight", "ribs", "length", "width"},
            "bigger": set(ORDER)}


def decides(cut: Cut) -> set[str]:
    """Measurements of which one at least is needed to tell the size of a piece."""
    return _DECIDES[cut.growth]


class Known(NamedTuple):
    """What is known of a piece; grams and cm, None where nobody measured."""

    mass_g: float | None = None
    ribs: int | None = None
    length_cm: float | None = None
    girth_cm: float | None = None
    width_cm: float | None = None
    thickness_cm: float | None = None
    bones: str | None = None
    frenched_cm: float | None = None
    girth_ends_cm: tuple[float, float] | None = None

    def measured(self) -> dict[str, float]:
        """The measurements that were made, by the word a cook uses."""
        thick, thin = (max(self.girth_ends_cm), min(self.girth_ends_cm)) if self.girth_ends_cm else (None, None)
        said = {"weight": self.mass_g, "ribs": self.ribs, "length": self.length_cm, "girth": self.girth_cm,
                THICK: thick, THIN: thin, "width": self.width_cm, "thickness": self.thickness_cm}
        return {word: float(value) for word, value in said.items() if value is not None}


def written(word: str) -> str:
    """The field of a file that holds a measurement."""
    return "girth_ends" if word in (THICK, THIN) else word


def check(cut: Cut, known: Known) -> None:
    """Raise PieceError, naming the measurement, for what cannot be or does not suffice."""
    measured = known.measured()
    for word, value in measured.items():
        if not isfinite(value) or value <= 0:
            raise PieceError(f"{word} is {value:g}; it must be above 0", measurement=written(word))
    grams = known.mass_g
    if grams is not None and not LEAST_G <= grams <= MOST_G:
        raise PieceError(f"a piece of {weight_text(grams)} is out of reach: 100 g to 60 kg is expected",
                         measurement="weight", mend="write the weight with its unit, like 2.2 kg")
    for word, value in measured.items():
        if word not in ("weight", "ribs") and not LEAST_CM <= value <= MOST_CM:
            raise PieceError(f"{word} is {value:g} cm; 1 to 150 cm is expected", measurement=written(word),
                             mend="write the length with its unit, like 34 cm")
    if known.ribs is not None:
        _plausible_ribs(cut, known.ribs)
    _plausible_bones(cut, known)
    if not set(measured) & decides(cut):
        _too_little(cut, measured)


def _plausible_ribs(cut: Cut, ribs: int) -> None:
    if cut.ribs is None:
        why = "a boneless cut has no ribs" if cut.boneless else f"{cut.name} is not counted in ribs"
        raise PieceError(f"{ribs} ribs on {cut.name}: {why}", measurement="ribs",
                         mend="say its weight, or name the cut with its bones")
    if ribs != int(ribs) or not 1 <= ribs <= cut.ribs.most:
        raise PieceError(f"{ribs:g} ribs on {cut.name}: it has 1 to {cut.ribs.most}", measurement="ribs",
                         mend="count the ribs again")


def _plausible_bones(cut: Cut, known: Known) -> None:
    bones, frenched = known.bones, known.frenched_cm
    if bones is not None and bones not in ("on", "tied", "off"):
        raise PieceError(f"bones are '{bones}'; they can be on, tied or off", measurement="bones",
                         mend="say one of these")
    if bones in ("on", "tied") and not cut.has_bones_option:
        why = "it is boneless" if cut.boneless else "only rib and loin cuts are sold so"
        raise PieceError(f"bones {bones} on {cut.name}: {why}", measurement="bones",
                         mend="leave the bones out, or name the cut with its bones")
    if bones == "off" and not cut.has_bones_option and not cut.boneless:
        raise PieceError(f"bones off on {cut.name}: without its bones it is another cut", measurement="bones",
                         mend="name the boneless cut")
    if bones is None and cut.asks == "bones":
        raise PieceError(f"'{cut.said_as}' is sold with its bones on, and with its bones cut off and tied back: "
                         "which is it?", measurement="bones", mend=f"say '{cut.name}' with bones on or bones tied")
    if frenched is None:
        return
    if cut.ribs is None or not cut.has_bones_option or bones == "off":
        raise PieceError(f"frenched shafts on {cut.name}{', bones off' if bones == 'off' else ''}: "
                         "there are no rib shafts", measurement="frenched", mend="leave it out")
    if not (isfinite(frenched) and 0 < frenched <= 40):
        raise PieceError(f"frenched is {frenched:g} cm; 0 to 40 cm of bare bone is expected", measurement="frenched",
                         mend="measure what is bare of one shaft")


def _too_little(cut: Cut, measured: dict[str, float]) -> None:
    wanted = {"longer": "weight, length or ribs" if cut.ribs else "weight or length",
              "wider": "weight, length or width", "bigger": "weight or one measure of the tape"}[cut.growth]
    said = f"{' and '.join(measured)} alone can't tell the size of {cut.name}"
    raise PieceError(said if measured else f"how big is the {cut.name}?", measurement=next(iter(measured), "weight"),
                     mend=f"say its {wanted}")


def contradiction(cut: Cut, worst: Misfit, measured: dict[str, float]) -> str:
    """The measurement that fits the others worst, as a question, with what the others would have said."""
    word = worst.measurement
    others = " and ".join(measure_text(one, value) for one, value in measured.items() if one != word)
    usual = _span_text(word, worst.low, worst.high)
    asked = {"ribs": "number of ribs"}.get(word, word)
    return (f"{others or cut.name} at {measure_text(word, measured[word])}: is the {asked} right? "
            f"{usual} would be usual for {cut.name}")


def _span_text(word: str, low: float, high: float) -> str:
    """Two measurements with their unit once: `3.92 to 5.01 cm of thickness`."""
    number, _, unit = measure_text(word, low).partition(" ")
    end = measure_text(word, high)
    alike = end.partition(" ")[2].rstrip("s") == unit.rstrip("s")
    return f"{number} to {end}" if alike else f"{number} {unit} to {end}"


def measure_text(word: str, value: float) -> str:
    """A measurement in words: `6 ribs`, `34 cm of length`, `2.2 kg`."""
    if word == "weight":
        return weight_text(value)
    if word == "ribs":
        count = f"{value:.0f}" if value == int(value) else f"{value:.1f}"
        return f"{count} rib{'' if count == '1' else 's'}"
    return f"{value:.3g} cm of {word}"


def weight_text(grams: float) -> str:
    """Grams below a kilogram, else kilograms, as a butcher writes them."""
    return f"{grams:.0f} g" if grams < 1000 else f"{grams / 1000:.3g} kg"

