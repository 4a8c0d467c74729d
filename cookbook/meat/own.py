"""A kitchen's own cut, or its correction of one from the table, from plain fields.

What the kitchen measured itself replaces the assumption and carries a narrow interval; what it leaves out is that of
the cut it is `like`.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from cookbook.errors import RequestError
from cookbook.meat.cut import GROWTHS, SHAPES, Cut, FacePart, Ribs, around
from cookbook.meat.naming import find

OWN_FIELDS = {
    "name": "text", "like": "text", "synonyms": "list", "species": "text", "growth": "text", "shape": "text",
    "length_cm": "number", "width_cm": "number", "thickness_cm": "number", "radius_cm": "number", "taper": "number",
    "density": "number", "bone_percent": "number", "rib_pitch_cm": "number", "most_ribs": "number",
    "usual_low_kg": "number", "usual_high_kg": "number", "bare": "list",
}
"""The fields and their kinds; `name` and `like` must be there."""
MEASURED_PERCENT = 5.0
"""Spread of a size that the kitchen measured on its own pieces, 80 %."""
_LIMITS = {
    "length_cm": (1, 150), "width_cm": (1, 100), "thickness_cm": (0.5, 60), "radius_cm": (0, 30), "taper": (0.05, 1),
    "density": (0.7, 1.4), "bone_percent": (0, 80), "rib_pitch_cm": (0.5, 15), "most_ribs": (1, 30),
    "usual_low_kg": (0.05, 60), "usual_high_kg": (0.05, 60),
}


def own_cut(fields: Mapping[str, object]) -> Cut:
    """The cut that `fields` describe. Raises RequestError for a field that is missing, unknown or out of range."""
    for word in fields:
        if word not in OWN_FIELDS:
            raise RequestError(f"a cut has no field '{word}'", mend="its fields are " + ", ".join(OWN_FIELDS))
    name, like = _text(fields, "name"), _text(fields, "like")
    base = find(like)
    numbers = {word: _number(fields, word) for word in fields if OWN_FIELDS[word] == "number"}
    own = _named(base, fields, name)
    return _sized(own, numbers)


def _text(fields: Mapping[str, object], word: str) -> str:
    value = fields.get(word)
    if not isinstance(value, str) or not value.strip():
        raise RequestError(f"a cut of your own needs `{word}:`",
                           mend="give it a name, and the cut of the table that it is like")
    return value.strip()


def _number(fields: Mapping[str, object], word: str) -> float:
    value = fields[word]
    low, high = _LIMITS[word]
    number = isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)
    if not number or not low <= float(str(value)) <= high:
        raise RequestError(f"{word} is {value!r}; a number from {low:g} to {high:g} is expected")
    return float(str(value))


def _list(fields: Mapping[str, object], word: str) -> tuple[str, ...]:
    value = fields.get(word, ())
    words = [value] if isinstance(value, str) else value
    if not isinstance(words, list | tuple) or not all(isinstance(one, str) for one in words):
        raise RequestError(f"{word} is {value!r}; a list of words is expected")
    return tuple(words)


def _choice(fields: Mapping[str, object], word: str, base: str, allowed: Mapping[str, str]) -> str:
    value = str(fields.get(word, base))
    if value not in allowed:
        raise RequestError(f"{word} is '{value}'; it can be {', '.join(allowed)}")
    return value


def _named(base: Cut, fields: Mapping[str, object], name: str) -> Cut:
    shape = _choice(fields, "shape", base.shape, SHAPES)
    parts = base.face_parts if shape == base.shape else _plain_faces(shape)
    names = tuple(part.name for part in parts)
    bare = _list(fields, "bare") if "bare" in fields else tuple(one for one in base.bare if one in names)
    for face in bare:
        if face not in names:
            raise RequestError(f"{name} has no face '{face}' to leave bare", mend="its faces are " + ", ".join(names))
    species = str(fields.get("species", base.species))
    growth = _choice(fields, "growth", base.growth, GROWTHS)
    if (shape == "bird") != (base.shape == "bird"):
        raise RequestError(f"{name} is like {base.name}; only a bird has a bird's shape")
    return base._replace(name=name, own_names=_list(fields, "synonyms"), species=species, growth=growth, shape=shape,
                         face_parts=parts, bare=bare, said_as="", asks="", sources=(*base.sources, "kitchen"))


def _plain_faces(shape: str) -> tuple[FacePart, ...]:
    """Faces under the shape's own names, where another shape than the table's was chosen."""
    from cookbook.meat.cut import face_parts

    names = {
        "rounded box": "top; bottom; sides = front + back; first end; second end",
        "half-ellipse prism": "round side; flat side; first end; second end",
        "ellipsoid": "upper side; lower side", "half ellipsoid": "round side; flat side",
    }.get(shape, "upper side; lower side; first end; second end")
    return face_parts("; ".join(one if "=" in one else f"{one} = {one}" for one in names.split("; ")))


def _sized(cut: Cut, numbers: Mapping[str, float]) -> Cut:
    """The cut with the kitchen's own numbers; those are no assumptions any more."""
    changed: dict[str, object] = {}
    for field, word in (("length_cm", "length_cm"), ("width_cm", "width_cm"), ("height_cm", "thickness_cm"),
                        ("density", "density")):
        if word in numbers:
            changed[field] = around(numbers[word], MEASURED_PERCENT if field != "density" else 1.0)
    if "bone_percent" in numbers:
        changed["bone_share"] = around(numbers["bone_percent"] / 100, 10.0)
    if "radius_cm" in numbers:
        changed["radius_share"] = numbers["radius_cm"] / numbers.get("thickness_cm", cut.height_cm.mid)
    if "taper" in numbers:
        changed["taper"] = numbers["taper"]
    low, high = cut.usual_kg
    changed["usual_kg"] = (numbers.get("usual_low_kg", low), numbers.get("usual_high_kg", high))
    changed["ribs"] = _ribs(cut, numbers)
    measured = {*changed, *(("rib_pitch_cm",) if "rib_pitch_cm" in numbers else ())}
    changed["assumed"] = tuple(one for one in cut.assumed if one not in measured)
    return cut._replace(**changed)  # type: ignore[arg-type] # each value has its field's type above


def _ribs(cut: Cut, numbers: Mapping[str, float]) -> Ribs | None:
    if cut.ribs is None:
        if {"rib_pitch_cm", "most_ribs"} & set(numbers):
            raise RequestError(f"{cut.name} is like a cut without ribs", mend="name a cut with ribs in `like:`")
        return None
    pitch = around(numbers["rib_pitch_cm"], MEASURED_PERCENT) if "rib_pitch_cm" in numbers else cut.ribs.pitch_cm
    return cut.ribs._replace(pitch_cm=pitch, most=int(numbers.get("most_ribs", cut.ribs.most)))
