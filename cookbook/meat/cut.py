"""Cuts as a butcher names them: the solid that stands for each, how it grows, what is in it."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.table import rows

if TYPE_CHECKING:
    from cookbook.meat.piece import Piece

ASKED_BACK = {
    "standing": ("rib roast, bone in", "with the bones on (`--bones on`) or tied back (`--bones tied`)"),
    "standing rib": ("rib roast, bone in", "with the bones on (`--bones on`) or tied back (`--bones tied`)"),
    "leg of lamb": ("leg of lamb, bone in", "or `leg of lamb, boneless`"),
    "lamb leg": ("leg of lamb, bone in", "or `leg of lamb, boneless`"),
    "pork loin": ("pork loin, boneless", "or `pork loin, bone in`"),
    "rib roast": ("rib roast, bone in", "or `rib roast, boneless`"),
    "prime rib": ("rib roast, bone in", "or `rib roast, boneless`"),
    "brisket": ("brisket, whole", "or `brisket, flat`"),
    "ham": ("fresh ham, bone in", "or `fresh ham, boneless`"),
    "fresh ham": ("fresh ham, bone in", "or `fresh ham, boneless`"),
    "turkey breast": ("turkey breast, bone in", "if the bone is in"),
}
"""Names that mean two things in the trade: asked back, never guessed."""


class Composition(NamedTuple):
    """Shares of the flesh, raw: water, protein, fat, ash; together about 1."""

    water: float
    protein: float
    fat: float
    ash: float


class Cut(NamedTuple):
    """A kind of piece. Sizes in cm at a usual piece, `density` in g/cm³, shares as fractions.

    `shape` names a solid of `cookbook.meat.shapes` (or `bird`), `form` is its edge radius, its taper, or a bird's area
    constant; `face_names` says what the solid's faces are called here, `bare` which are not coated unless asked.
    """

    name: str
    synonyms: tuple[str, ...]
    species: str
    shape: str
    face_names: Mapping[str, str]
    bare: tuple[str, ...]
    sizes: tuple[float, float, float]
    form: float | None
    growth: str
    pitch_cm: float | None
    most_ribs: int
    bone_share: float
    density: float
    composition: Composition
    usual_kg: tuple[float, float]
    cook_yield: float
    sources: tuple[str, ...]
    assumed: str

    @classmethod
    def named(cls, name: str) -> Cut:
        """The cut that `name` means, by its name or a synonym, whatever the case or the order of words.

        Raises UnknownName with the nearest names; RequestError where the name means two things in the trade.
        """
        key = _key(name)
        known = _by_name()
        if key in known:
            return known[key]
        plain = " ".join(name.casefold().split())
        if plain in ASKED_BACK:
            first, other = ASKED_BACK[plain]
            raise RequestError(f"'{name}' means two things in the trade", mend=f"say `{first}` {other}", code="two-meanings")
        names = [other for cut in _cuts().values() for other in (cut.name, *cut.synonyms)]
        near = get_close_matches(plain, names, 6, 0.55)
        shown = list(dict.fromkeys(known[_key(other)].name for other in near))
        raise UnknownName("cut", name, shown[:3], mend=None if shown else "`pork loin, boneless` is one; so is `brisket, whole`")

    @staticmethod
    def names() -> list[str]:
        """The names of all cuts, by species."""
        return list(_cuts())

    @property
    def has_ribs(self) -> bool:
        """Whether it is cut by the rib."""
        return self.pitch_cm is not None

    def piece(self, mass_g: float | None = None, ribs: int | None = None, length_cm: float | None = None,
              girth_cm: float | None = None, width_cm: float | None = None, thickness_cm: float | None = None,
              bones: str | None = None, frenched_cm: float | None = None, faces: str | None = None,
              name: str | None = None) -> Piece:
        """One actual piece, from whatever is known of it. Raises PieceError naming the measurement at fault."""
        from cookbook.meat.piece import Known, piece_of

        return piece_of(self, Known(mass_g, ribs, length_cm, girth_cm, width_cm, thickness_cm, bones, frenched_cm), faces, name)


def _key(name: str) -> frozenset[str]:
    return frozenset("".join(letter if letter.isalnum() else " " for letter in name.casefold()).split()) - {"of", "the", "a"}


@cache
def _cuts() -> dict[str, Cut]:
    return {row["name"]: _cut(row) for row in rows("cuts")}


@cache
def _by_name() -> dict[frozenset[str], Cut]:
    found: dict[frozenset[str], Cut] = {}
    for cut in _cuts().values():
        for name in (cut.name, *cut.synonyms):
            found.setdefault(_key(name), cut)
    return found


def _cut(row: Mapping[str, str]) -> Cut:
    def number(key: str) -> float:
        return float(row[key])

    shares = [number(key) / 100 for key in ("water", "protein", "fat", "ash")]
    faces = dict(pair.split("=") for pair in row["faces"].split("; ")) if row["faces"] else {}
    return Cut(
        name=row["name"], synonyms=tuple(row["synonyms"].split("; ")), species=row["species"], shape=row["shape"],
        face_names=faces, bare=tuple(row["bare"].split("; ")) if row["bare"] else (),
        sizes=(number("length"), number("width"), number("height")), form=number("form") if row["form"] else None,
        growth=row["growth"], pitch_cm=number("pitch") if row["pitch"] else None,
        most_ribs=int(row["ribs"].split("-")[1]) if row["ribs"] else 0, bone_share=number("bone") / 100,
        density=number("density"), composition=Composition(*shares),
        usual_kg=(number("usual_low"), number("usual_high")), cook_yield=number("yield"),
        sources=tuple(row["sources"].split()), assumed=row["assumed"])


