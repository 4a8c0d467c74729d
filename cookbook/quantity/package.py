"""What one package holds, `1 (400 g) can`, and the same amount said again in brackets, `1 1/2 cups (90 g)`."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity import unit as units
from cookbook.quantity.howmany import ONE, second
from cookbook.quantity.scanner import Scanner, number
from cookbook.quantity.unit import MASS, PACKAGES, Unit
from cookbook.quantity.unitword import read_unit, unit_at
from cookbook.quantity.words import ABOUT, SIZE_WORDS

if TYPE_CHECKING:
    from cookbook.quantity.term import Term


_LENGTH_NAMES = {units.INCH_CM: "in", Fraction(1): "cm", Fraction(1, 10): "mm"}


class Content(NamedTuple):
    """What one package holds: `size` in `base`, g, ml or cm; `written` of `unit` as the recipe says it."""

    size: Fraction
    base: str
    written: Fraction
    unit: str


class Beside(NamedTuple):
    """The same amount said again, as in `1 1/2 cups (90 g)`: `written` numbers of `unit`, each `step` of `base`."""

    written: tuple[Fraction, Fraction]
    base: str
    step: Fraction
    unit: str
    about: bool = False

    @property
    def low(self) -> Fraction:
        """The low end in `base`."""
        return self.written[0] * self.step

    @property
    def high(self) -> Fraction:
        """The high end in `base`."""
        return self.written[1] * self.step

    def times(self, factor: Fraction) -> Beside:
        """So many times as much."""
        return self._replace(written=(self.written[0] * factor, self.written[1] * factor))


def package_at(scan: Scanner, at: int) -> bool:
    """Whether the word at `at` is a package's."""
    return bool(scan.words[at]) and unit_at(scan, at) in PACKAGES


def package_unit(scan: Scanner, measures: str) -> Unit:
    """The package that stands here; passed."""
    found = read_unit(scan, measures)
    assert found is not None
    return found


def base_of(unit: Unit) -> str:
    """What the unit's exact size counts: g or ml."""
    return "g" if unit.kind == MASS else "ml"


def _quantity(scan: Scanner, measures: str) -> Beside | None:
    """`400 g`, `14-oz`, `1-inch`, `60-70 ml`; passed. None where something else stands here."""
    low = number(scan)
    if low is None:
        return None
    high = second(scan, low, scan.at - 1) or low
    scan.took("-")
    length = units.length_cm(scan.word) if scan.word else None
    if length is not None:
        scan.at += 1
        if scan.word == "." and scan.joined(scan.at):
            scan.at += 1
        return Beside((low, high), "cm", length, _LENGTH_NAMES[length])
    found = read_unit(scan, measures)
    if found is None or found.size is None:
        return None
    return Beside((low, high), base_of(found), found.size, found.name)


def held_by(said: Beside) -> Content:
    """What a bracket says of a package, as what one holds."""
    return Content(said.low, said.base, said.written[0], said.unit)


def content(scan: Scanner, measures: str) -> Content | None:
    """What one package holds, before the package: `(400 g)`, `14-oz`, `x 400 g`, `1-inch`; passed, None if not
    there."""
    start = scan.at
    bracket, times = scan.took("("), scan.took("x")
    held = _quantity(scan, measures)
    if held is None or held.written[0] != held.written[1]:
        if times:
            raise scan.fault("what one package holds is missing here", "write it like `2 x 400 g cans`")
        scan.at = start
        return None
    if bracket:
        scan.took("each")
        if not scan.took(")"):
            raise scan.fault("the bracket is not closed", "write it like `1 (400 g) can`", first=start)
    behind = scan.at + (1 if scan.word in SIZE_WORDS else 0)
    counted = held.base == "cm" and units.is_count(unit_at(scan, behind) or "")
    if not times and not counted and not package_at(scan, behind):
        if bracket and unit_at(scan, behind):
            raise scan.fault("after what one package holds comes the package", "write it like `1 (400 g) can`")
        scan.at = start
        return None
    return held_by(held)


def lone_package(scan: Scanner, low: Fraction, high: Fraction, measures: str,
                  start: int) -> tuple[Fraction, Fraction, Content | None]:
    """`14-oz can`, `1-inch piece`: one of them."""
    place = scan.at
    scan.at = start
    each = content(scan, measures) if low == high else None
    if each is None:
        scan.at = place
        return low, high, None
    return ONE, ONE, each


def beside_of(scan: Scanner, measures: str) -> Beside | None:
    """The same amount said again, in brackets or behind a bar; passed, None where something else stands here."""
    start = scan.at
    bracket = scan.took("(")
    if not bracket:
        _ = scan.took("/") or scan.took("=") or scan.took(",")
    about = scan.word in ABOUT
    scan.at += about
    _ = about and scan.took(".")
    held = _quantity(scan, measures)
    if held is None or held.base == "cm":
        scan.at = start
        return None
    if bracket and not (scan.word == "each" or scan.took(")")):
        raise scan.fault("the bracket is not closed", "write it like `1 1/2 cups (90 g)`", first=start)
    return held._replace(about=about)


def as_content(scan: Scanner, found: Term, said: Beside) -> tuple[Content | None, Beside | None]:
    """Whether a bracket behind a package says what each holds or what all weigh."""
    each = scan.took("each")
    if each and not scan.took(")"):
        raise scan.fault("the bracket is not closed", "write it like `2 (400 g) cans`")
    if said.written[0] != said.written[1] or found.high < 1:
        return None, said
    if each or found.low == found.high == 1:
        return held_by(said), None
    raise scan.fault(f"is this each of the {found.unit.plural} or all of them together?",
                     f"write `2 (400 g) {found.unit.plural}` for each", last=scan.at - 1, first=scan.at - 1)
