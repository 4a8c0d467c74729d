"""Bodies that stand for pieces of meat: outer sizes in cm, exact area (cm²), volume (cm³) and area of every face.

Length runs along the roast, width across it, height from the board up. Faces are named by place; a cut gives them
the trade's names. Formulas: reference geometry, checked against quadrature to 8 digits.
"""

from __future__ import annotations

from math import fsum, hypot, isfinite, pi

from cookbook.errors import PieceError
from cookbook.meat.elliptic import ellipse_perimeter, ellipsoid_area, frustum_side

FIRST, SECOND = "first end", "second end"
LEAST_CM, MOST_CM = 1e-9, 1e6
"""Sizes beyond these are no meat, and their squares would run out of a float."""
UPPER, LOWER = "upper side", "lower side"
FLESH_AND_BONE = 1.06
"""Density of a bird's flesh and bone together, g/cm³; an assumption (flesh 1.05 to 1.06, bone 1.2 to 1.3)."""


class Shape:
    """A body. Two are equal when kind and sizes are."""

    __slots__ = ()

    def _set(self, **sizes: float) -> None:
        for name, size in sizes.items():
            if not (isfinite(size) and size > 0):
                raise PieceError(f"{name} is {size:g}; a {type(self).__name__} has only sizes above 0",
                                 measurement=name)
            if not LEAST_CM <= size <= MOST_CM:
                raise PieceError(f"{name} is {size:g} cm; {LEAST_CM:g} to {MOST_CM:g} cm can be worked out",
                                 measurement=name)
            setattr(self, name, float(size))

    @property
    def sizes(self) -> dict[str, float]:
        """The constructor's arguments by name."""
        return {name: getattr(self, name) for name in type(self).__annotations__}

    @property
    def faces(self) -> dict[str, float]:
        """Area of each face, cm²."""
        raise NotImplementedError  # the base has no form: every shape below gives its own

    @property
    def volume_cm3(self) -> float:
        """Volume, cm³."""
        raise NotImplementedError  # the base has no form: every shape below gives its own

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        """Length, width and height over all, cm."""
        raise NotImplementedError  # the base has no form: every shape below gives its own

    @property
    def girth_cm(self) -> float:
        """A tape round the middle, across the length, cm."""
        raise NotImplementedError  # the base has no form: every shape below gives its own

    @property
    def area_cm2(self) -> float:
        """The whole surface, cm²: the sum of the faces."""
        return fsum(self.faces.values())

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={size:g}' for name, size in self.sizes.items())})"

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and isinstance(other, Shape) and self.sizes == other.sizes

    def __hash__(self) -> int:
        return hash((type(self).__name__, *self.sizes.values()))


class RoundedBox(Shape):
    """A box of these outer sizes whose edges and corners are rounded by `radius_cm` (Steiner's formula).

    Each rounding belongs in equal parts to the faces that meet there.
    """

    __slots__ = ("height_cm", "length_cm", "radius_cm", "width_cm")
    length_cm: float
    width_cm: float
    height_cm: float
    radius_cm: float

    def __init__(self, length_cm: float, width_cm: float, height_cm: float, radius_cm: float) -> None:
        self._set(length_cm=length_cm, width_cm=width_cm, height_cm=height_cm)
        self.radius_cm = float(radius_cm)
        if not 0 <= radius_cm <= min(length_cm, width_cm, height_cm) / 2:
            raise PieceError(f"radius_cm is {radius_cm:g}; it can be 0 to half of the smallest size, "
                             f"{min(length_cm, width_cm, height_cm) / 2:g}", measurement="radius_cm")

    def _face(self, one: float, two: float) -> float:
        radius = self.radius_cm
        return one * two + pi / 2 * radius * (one + two) + 2 / 3 * pi * radius * radius

    def _inner(self) -> tuple[float, float, float]:
        twice = 2 * self.radius_cm
        return self.length_cm - twice, self.width_cm - twice, self.height_cm - twice

    @property
    def faces(self) -> dict[str, float]:
        along, across, up = self._inner()
        flat, side, end = self._face(along, across), self._face(along, up), self._face(across, up)
        return {"top": flat, "bottom": flat, "front": side, "back": side, FIRST: end, SECOND: end}

    @property
    def volume_cm3(self) -> float:
        along, across, up = self._inner()
        radius = self.radius_cm
        return (along * across * up + 2 * radius * (along * across + across * up + up * along)
                + pi * radius ** 2 * (along + across + up) + 4 / 3 * pi * radius ** 3)

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return self.length_cm, self.width_cm, self.height_cm

    @property
    def girth_cm(self) -> float:
        return 2 * (self.width_cm + self.height_cm) - (8 - 2 * pi) * self.radius_cm


class Box(RoundedBox):
    """A box with sharp edges."""

    __slots__ = ()

    def __init__(self, length_cm: float, width_cm: float, height_cm: float) -> None:
        super().__init__(length_cm, width_cm, height_cm, 0.0)

    @property
    def sizes(self) -> dict[str, float]:
        return {"length_cm": self.length_cm, "width_cm": self.width_cm, "height_cm": self.height_cm}


class EllipticCylinder(Shape):
    """A roast of one oval section from end to end; `semi_a_cm` is half its width, `semi_b_cm` half its height."""

    __slots__ = ("length_cm", "semi_a_cm", "semi_b_cm")
    semi_a_cm: float
    semi_b_cm: float
    length_cm: float

    def __init__(self, semi_a_cm: float, semi_b_cm: float, length_cm: float) -> None:
        self._set(semi_a_cm=semi_a_cm, semi_b_cm=semi_b_cm, length_cm=length_cm)

    @property
    def faces(self) -> dict[str, float]:
        half = self.girth_cm * self.length_cm / 2
        end = pi * self.semi_a_cm * self.semi_b_cm
        return {UPPER: half, LOWER: half, FIRST: end, SECOND: end}

    @property
    def volume_cm3(self) -> float:
        return pi * self.semi_a_cm * self.semi_b_cm * self.length_cm

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return self.length_cm, 2 * self.semi_a_cm, 2 * self.semi_b_cm

    @property
    def girth_cm(self) -> float:
        return ellipse_perimeter(self.semi_a_cm, self.semi_b_cm)


class HalfEllipsePrism(Shape):
    """Half an oval on a flat side, of one section from end to end: a rib roast on its bones. Half a cylinder too."""

    __slots__ = ("height_cm", "length_cm", "width_cm")
    width_cm: float
    height_cm: float
    length_cm: float

    def __init__(self, width_cm: float, height_cm: float, length_cm: float) -> None:
        self._set(width_cm=width_cm, height_cm=height_cm, length_cm=length_cm)

    @property
    def faces(self) -> dict[str, float]:
        end = pi * self.width_cm * self.height_cm / 4
        return {"round side": self._arc() * self.length_cm, "flat side": self.width_cm * self.length_cm,
                FIRST: end, SECOND: end}

    def _arc(self) -> float:
        return ellipse_perimeter(self.width_cm / 2, self.height_cm) / 2

    @property
    def volume_cm3(self) -> float:
        return pi * self.width_cm * self.height_cm / 4 * self.length_cm

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return self.length_cm, self.width_cm, self.height_cm

    @property
    def girth_cm(self) -> float:
        return self._arc() + self.width_cm


class StadiumPrism(Shape):
    """A section of two half circles of `radius_cm` joined by `straight_cm`, from end to end."""

    __slots__ = ("length_cm", "radius_cm", "straight_cm")
    straight_cm: float
    radius_cm: float
    length_cm: float

    def __init__(self, straight_cm: float, radius_cm: float, length_cm: float) -> None:
        self._set(straight_cm=straight_cm, radius_cm=radius_cm, length_cm=length_cm)

    @property
    def faces(self) -> dict[str, float]:
        half = self.girth_cm * self.length_cm / 2
        return {UPPER: half, LOWER: half, FIRST: self._section(), SECOND: self._section()}

    def _section(self) -> float:
        return 2 * self.straight_cm * self.radius_cm + pi * self.radius_cm ** 2

    @property
    def volume_cm3(self) -> float:
        return self._section() * self.length_cm

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return self.length_cm, self.straight_cm + 2 * self.radius_cm, 2 * self.radius_cm

    @property
    def girth_cm(self) -> float:
        return 2 * self.straight_cm + 2 * pi * self.radius_cm


class Ellipsoid(Shape):
    """An egg with three semi-axes: half its length, half its width, half its height."""

    __slots__ = ("semi_a_cm", "semi_b_cm", "semi_c_cm")
    semi_a_cm: float
    semi_b_cm: float
    semi_c_cm: float

    def __init__(self, semi_a_cm: float, semi_b_cm: float, semi_c_cm: float) -> None:
        self._set(semi_a_cm=semi_a_cm, semi_b_cm=semi_b_cm, semi_c_cm=semi_c_cm)

    @property
    def faces(self) -> dict[str, float]:
        half = ellipsoid_area(self.semi_a_cm, self.semi_b_cm, self.semi_c_cm) / 2
        return {UPPER: half, LOWER: half}

    @property
    def volume_cm3(self) -> float:
        return 4 / 3 * pi * self.semi_a_cm * self.semi_b_cm * self.semi_c_cm

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return 2 * self.semi_a_cm, 2 * self.semi_b_cm, 2 * self.semi_c_cm

    @property
    def girth_cm(self) -> float:
        return ellipse_perimeter(self.semi_b_cm, self.semi_c_cm)


class HalfEllipsoid(Shape):
    """A dome `height_cm` high on a flat oval of two semi-axes: a breast on its bone."""

    __slots__ = ("height_cm", "semi_a_cm", "semi_b_cm")
    semi_a_cm: float
    semi_b_cm: float
    height_cm: float

    def __init__(self, semi_a_cm: float, semi_b_cm: float, height_cm: float) -> None:
        self._set(semi_a_cm=semi_a_cm, semi_b_cm=semi_b_cm, height_cm=height_cm)

    @property
    def faces(self) -> dict[str, float]:
        return {"round side": ellipsoid_area(self.semi_a_cm, self.semi_b_cm, self.height_cm) / 2,
                "flat side": pi * self.semi_a_cm * self.semi_b_cm}

    @property
    def volume_cm3(self) -> float:
        return 2 / 3 * pi * self.semi_a_cm * self.semi_b_cm * self.height_cm

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return 2 * self.semi_a_cm, 2 * self.semi_b_cm, self.height_cm

    @property
    def girth_cm(self) -> float:
        return ellipse_perimeter(self.semi_b_cm, self.height_cm) / 2 + 2 * self.semi_b_cm


class EllipticFrustum(Shape):
    """An oval section that changes evenly from the first end to the second, lying on its length."""

    __slots__ = ("length_cm", "semi_a_1_cm", "semi_a_2_cm", "semi_b_1_cm", "semi_b_2_cm")
    semi_a_1_cm: float
    semi_b_1_cm: float
    semi_a_2_cm: float
    semi_b_2_cm: float
    length_cm: float

    def __init__(self, semi_a_1_cm: float, semi_b_1_cm: float, semi_a_2_cm: float, semi_b_2_cm: float,
                 length_cm: float) -> None:
        self._set(semi_a_1_cm=semi_a_1_cm, semi_b_1_cm=semi_b_1_cm, semi_a_2_cm=semi_a_2_cm, semi_b_2_cm=semi_b_2_cm,
                  length_cm=length_cm)

    @property
    def faces(self) -> dict[str, float]:
        half = frustum_side((self.semi_a_1_cm, self.semi_b_1_cm), (self.semi_a_2_cm, self.semi_b_2_cm),
                            self.length_cm) / 2
        return {UPPER: half, LOWER: half, FIRST: pi * self.semi_a_1_cm * self.semi_b_1_cm,
                SECOND: pi * self.semi_a_2_cm * self.semi_b_2_cm}

    @property
    def volume_cm3(self) -> float:
        a_1, b_1, a_2, b_2 = self.semi_a_1_cm, self.semi_b_1_cm, self.semi_a_2_cm, self.semi_b_2_cm
        return pi * self.length_cm / 6 * (2 * a_1 * b_1 + a_1 * b_2 + a_2 * b_1 + 2 * a_2 * b_2)

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        wide, high = max(self.semi_a_1_cm, self.semi_a_2_cm), max(self.semi_b_1_cm, self.semi_b_2_cm)
        return self.length_cm, 2 * wide, 2 * high

    @property
    def girth_cm(self) -> float:
        return ellipse_perimeter((self.semi_a_1_cm + self.semi_a_2_cm) / 2, (self.semi_b_1_cm + self.semi_b_2_cm) / 2)


class Frustum(Shape):
    """A round section that changes evenly from the first end to the second, lying on its length."""

    __slots__ = ("length_cm", "radius_1_cm", "radius_2_cm")
    radius_1_cm: float
    radius_2_cm: float
    length_cm: float

    def __init__(self, radius_1_cm: float, radius_2_cm: float, length_cm: float) -> None:
        self._set(radius_1_cm=radius_1_cm, radius_2_cm=radius_2_cm, length_cm=length_cm)

    @property
    def faces(self) -> dict[str, float]:
        slant = hypot(self.length_cm, self.radius_1_cm - self.radius_2_cm)
        half = pi / 2 * (self.radius_1_cm + self.radius_2_cm) * slant
        return {UPPER: half, LOWER: half, FIRST: pi * self.radius_1_cm ** 2, SECOND: pi * self.radius_2_cm ** 2}

    @property
    def volume_cm3(self) -> float:
        first, second = self.radius_1_cm, self.radius_2_cm
        return pi * self.length_cm / 3 * (first * first + first * second + second * second)

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        across = 2 * max(self.radius_1_cm, self.radius_2_cm)
        return self.length_cm, across, across

    @property
    def girth_cm(self) -> float:
        return pi * (self.radius_1_cm + self.radius_2_cm)


class Bird(Shape):
    """A whole bird: its skin by the mass law K·m^(2/3) (cm², g), never by an egg of its sizes, which lacks the limbs.

    Length, width and height are over all, the hollow inside; volume is that of flesh and bone. The hollow's own skin
    is not counted. `flesh` is the egg of the same proportions that holds only flesh and bone.
    """

    __slots__ = ("height_cm", "length_cm", "mass_g", "skin_k", "width_cm")
    mass_g: float
    skin_k: float
    length_cm: float
    width_cm: float
    height_cm: float

    def __init__(self, mass_g: float, skin_k: float, length_cm: float, width_cm: float, height_cm: float) -> None:
        self._set(mass_g=mass_g, skin_k=skin_k, length_cm=length_cm, width_cm=width_cm, height_cm=height_cm)

    @property
    def faces(self) -> dict[str, float]:
        return {"skin": self.skin_k * self.mass_g ** (2 / 3)}

    @property
    def volume_cm3(self) -> float:
        return self.mass_g / FLESH_AND_BONE

    @property
    def flesh(self) -> Ellipsoid:
        """The egg that stands for the bird in the fire."""
        shrink = (self.volume_cm3 / (pi / 6 * self.length_cm * self.width_cm * self.height_cm)) ** (1 / 3) / 2
        return Ellipsoid(self.length_cm * shrink, self.width_cm * shrink, self.height_cm * shrink)

    @property
    def outer_cm(self) -> tuple[float, float, float]:
        return self.length_cm, self.width_cm, self.height_cm

    @property
    def girth_cm(self) -> float:
        return ellipse_perimeter(self.width_cm / 2, self.height_cm / 2)
