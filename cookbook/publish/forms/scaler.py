"""What the page's scaler computes from: the cut's shape and assumptions, each batch's lines, the table of times.

The scripts in `templates/scaler/` repeat `Cut.piece`, `recipe.scaled_to`, an amount's `measured` and
`Timetable.timing`; nothing of a private formula is in it but what its one line shows.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import log
from typing import TYPE_CHECKING, Any

from cookbook.errors import CookbookError
from cookbook.kitchen.sizing import inside
from cookbook.meat.cut import BONE_DENSITY
from cookbook.meat.faces import chosen
from cookbook.meat.fitting import WIDTH_80
from cookbook.meat.known import decides
from cookbook.meat.measuring import NOTED_Z, REFUSED_Z, SCALE_SIGMA, TAPE_SIGMA, TAPER_SIGMA, assumed, sigma_of
from cookbook.meat.piece import coated_names
from cookbook.meat.shapes import FLESH_AND_BONE
from cookbook.publish import wording
from cookbook.publish.content.ingredient import DOUBTFUL
from cookbook.quantity import lookup
from cookbook.quantity.drawer import DRAWERS, SALT_TOLERANCE, TOLERANCE
from cookbook.quantity.interval import NORMAL_80
from cookbook.quantity.measuring import MOST_IN_CUPS, PINCH_ML
from cookbook.quantity.rounding import CLOSE, CUP_PARTS
from cookbook.quantity.salt import is_cure, is_salt
from cookbook.quantity.unit import POUND_G, WHOLE_COUNTS, unit

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.timetables import Times
    from cookbook.meat import Cut, Piece
    from cookbook.publish.content.gathering import Gathered
    from cookbook.recipe.scaling import Line, Scaled

FACES = {
    "": "as written",
    "all": "all round",
    "no-bone": "all but the bone side",
    "no-ends": "all but the ends",
}


def scaler(
    kitchen: Kitchen, found: Gathered, told: Callable[[int, int], None] = lambda _done, _all: None
) -> dict[str, Any] | None:
    """The data, or None where there is nothing to scale: a recipe made for no piece, a cook without coat or times.

    It begins with the card's own piece, of several with the first; a scanned one as the cut's own body of its weight.
    """
    scaled = [*found.scaled, *found.alone]
    if not scaled and found.times is None:
        return None
    pieces = scaled[0].pieces if scaled or found.times is None else (found.times.wanted.piece,)
    own, cut = pieces[0], pieces[0].scanned_cut or pieces[0].cut
    states = ["on", "tied", "off"] if cut.has_bones_option else [""]
    batches = [_batch(kitchen, one, cut, states) for one in found.scaled]
    beside = [*found.alone, *([found.own] if found.own is not None else [])]
    batches += [{**_batch(kitchen, one, cut, states), "title": ""} for one in beside]
    for place, one in enumerate([*found.scaled, *beside]):
        _add_inside(kitchen, batches, place, one)
    return {
        "cut": _cut(cut, states),
        "own": _own(own, len(pieces) if all(_alike(one, own) for one in pieces) else 1),
        "note": _note(pieces),
        "sigma": {"weight": SCALE_SIGMA, **TAPE_SIGMA, "taper": TAPER_SIGMA, "width80": WIDTH_80,
                  "normal80": NORMAL_80, "noted": NOTED_Z, "refused": REFUSED_Z},
        "batches": batches,
        "others": _others(found),
        "measures": _measures(kitchen, found),
        "units": kitchen.settings.get("units") or "both",
        "times": _times(found, told, states),
    }


def _alike(one: Piece, other: Piece) -> bool:
    return one.known == other.known and one.scan is None and one.outline is None


def _note(pieces: Sequence[Piece]) -> str:
    """What the scaler leaves out of the card's own pieces."""
    if pieces[0].scanned_cut is not None:
        return ("This card’s own piece was scanned. Here yours takes the usual proportions of the cut, "
                "so the amounts for the same weight differ a little.")
    if not all(_alike(one, pieces[0]) for one in pieces):
        return "The card is for pieces of several sizes; here it is one size at a time."
    return ""


def _others(found: Gathered) -> list[dict[str, Any]]:
    """The cook's own items as they stand, but those that are scaled; the coats in one line come first."""
    coats = sum(1 for coat in found.recipe.coats if coat.item is not None)
    scaled = {wording.spoken(one.recipe.title) for one in found.alone}
    return [{"item": item.words, "amounts": list(item.amounts)} for place, item in enumerate(found.content.items)
            if (found.own is None if place >= coats else item.item not in scaled)]


def _cut(cut: Cut, states: Sequence[str]) -> dict[str, Any]:
    known = {state: assumed(cut, state == "off") for state in states}
    return {
        "name": cut.name,
        "shape": cut.shape,
        "growth": cut.growth,
        "taper": cut.taper,
        "radius": cut.radius_share,
        "skin": cut.skin_k,
        "usual": [1000 * kilos for kilos in cut.usual_kg],
        "bone": {state: 0.0 if state == "off" else cut.bone_share.mid for state in states},
        "states": {state: {"sizes": one.sizes, "density": one.density} for state, one in known.items()},
        "bone_density": BONE_DENSITY,
        "bird_density": FLESH_AND_BONE,
        "frenched": cut.ribs is not None and cut.has_bones_option,
        "decides": [word for word in decides(cut) if word in ("length", "girth", "width", "thickness")],
        "ribs": None
        if cut.ribs is None
        else {
            "pitch": [log(cut.ribs.pitch_cm.mid), sigma_of(cut.ribs.pitch_cm)],
            "shaft": [log(cut.ribs.shaft_cm2.mid), sigma_of(cut.ribs.shaft_cm2)],
            "most": cut.ribs.most,
        },
        "parts": {part.name: part.parts for part in cut.face_parts},
        "faces": {spec: {state: _names(cut, spec, state) for state in states} for spec in FACES if spec},
    }


def _names(cut: Cut, spec: str | None, state: str) -> list[str]:
    try:
        return sorted(chosen(cut, spec or None, state or None)[0])
    except CookbookError:
        return []


def _own(own: Piece, count: int) -> dict[str, Any]:
    known = own.known
    thick, thin = sorted(known.girth_ends_cm or (), reverse=True) or (None, None)
    scanned = own.scanned_cut is not None
    taped = {"length": known.length_cm, "girth": known.girth_cm, "width": known.width_cm,
             "thickness": known.thickness_cm, "thick": thick, "thin": thin}
    return {
        "mass": round(own.mass_g.mid, 3),
        "weighed": known.mass_g,
        "ribs": own.ribs,
        "bones": own.bones or "",
        "frenched": known.frenched_cm,
        "count": count,
        "tape": {} if scanned else {word: value for word, value in taped.items() if value is not None},
    }


def _batch(kitchen: Kitchen, scaled: Scaled, cut: Cut, states: Sequence[str]) -> dict[str, Any]:
    made_for, own = scaled.made_for, scaled.pieces[0]
    coated = sorted(coated_names(own))
    spec = _spec(scaled, own, cut, coated)
    faces = {state: _names(cut, spec, state) for state in states}
    faces[own.bones or ""] = coated
    private = scaled.recipe.private
    return {
        "title": wording.spoken(scaled.recipe.title),
        "faces": faces,
        "from": {
            "coated": scaled.coated_from_cm2,
            "mass": made_for.mass_g.mid,
            "volume": made_for.volume_cm3.mid,
            "ribs": made_for.ribs,
        },
        "lines": [_whole(scaled)] if private else [_line(kitchen, line) for line in scaled.lines],
    }


def _add_inside(kitchen: Kitchen, batches: list[dict[str, Any]], place: int, outer: Scaled) -> None:
    """A batch for each recipe that goes into the one at `place`: its lines at the card's own size, and the line by
    which they grow. Nothing is told of a formula of one’s own."""
    if outer.recipe.private:
        return
    lines = [number for number, line in enumerate(outer.lines) if line.ingredient.recipe is not None]
    for number, one in zip(lines, inside(kitchen, outer), strict=True):
        if one.recipe.private:
            continue
        whole, grams = batches[place]["lines"][number], outer.lines[number].grams
        whole["made"] = True
        scaled = [line._replace(ingredient=line.ingredient._replace(amount=line.amount, hold_back=line.hold_back))
                  for line in one.lines]
        batches.append({
            "title": wording.spoken(one.recipe.title) + (", a whole batch" if one.notes else ""),
            "inside": {"batch": place, "line": number, "whole": bool(one.notes),
                       "grams": grams.mid if grams is not None else None,
                       "factor": 1.0 if "inside" in batches[place] else outer.lines[number].factor},
            "lines": [_line(kitchen, line) for line in scaled],
        })
        _add_inside(kitchen, batches, len(batches) - 1, one)


def _spec(scaled: Scaled, own: Piece, cut: Cut, coated: Sequence[str]) -> str | None:
    """The words for the coated faces as far as they hold for other bones too."""
    written = scaled.recipe.made_for.known.get("faces") if scaled.recipe.made_for else None
    for spec in (str(written) if written else None, None, "all", "no-bone", "no-ends"):
        if _names(cut, spec, own.bones or "") == coated:
            return spec
    return None


def _whole(scaled: Scaled) -> dict[str, Any]:
    """A private formula: so much that follows the surface, so much that follows the weight, and no more."""
    parts = {"surface": 0.0, "weight": 0.0}
    for line in scaled.lines:
        if line.grams is not None:
            parts["weight" if line.follows == "weight" else "surface"] += line.grams.mid / line.factor
    return {"item": wording.spoken(scaled.recipe.title), "prep": "", "kind": "whole", **parts}


def _line(kitchen: Kitchen, line: Line) -> dict[str, Any]:
    """One ingredient as written, with what its measures rest on."""
    amount = line.ingredient.amount
    item = wording.spoken(kitchen.recipe(line.ingredient.recipe).title if line.ingredient.recipe else line.item)
    base = {
        "item": item,
        "prep": wording.spoken(line.ingredient.prep or ""),
        "follows": line.follows,
        "salt": is_salt(line.item),
        "cure": is_cure(line.item),
    }
    if amount.low is None or amount.high is None:
        return {**base, "kind": "free", "text": str(amount)}
    ends = [float(amount.low), float(amount.high)]
    if amount.kind == "percent":
        row = lookup(line.item, kitchen.weights)
        return {
            **base,
            "kind": "percent",
            "ends": ends,
            "boneless": "boneless" in amount.unit,
            "per_ml": row.g_per_ml if row else None,
        }
    grams = amount.grams(line.item, kitchen.weights)
    ml = amount.ml()
    doubt = max(grams.high - grams.mid, grams.mid - grams.low) / grams.mid if grams and grams.mid else 0.0
    if line.ingredient.hold_back is not None and line.grams is not None and line.grams.mid:
        doubt = max(line.grams.high - line.grams.mid, line.grams.mid - line.grams.low) / line.grams.mid
    counted = amount.kind == "count" and amount.low == amount.high
    simple = not amount.words and amount.each is None and amount.beside is None
    row = lookup(line.item, kitchen.weights)
    return {
        **base,
        "kind": amount.kind if counted or (simple and amount.unit in _PLAIN) else "grams",
        "ends": ends,
        "unit": amount.unit,
        "grams": grams.mid if grams else None,
        "about": doubt > DOUBTFUL,
        "ml": ml.mid if ml else None,
        "per_ml": row.g_per_ml if row else None,
        "pours": row is None or row.form == "liquid",
        "words": _count_words(line) if counted else None,
        "written": wording.typographic(str(amount.rounded())) if counted else None,
        "whole": amount.unit in WHOLE_COUNTS,
    }


_PLAIN = ("g", "kg", "ml", "l", "tsp", "tbsp", "cup")


def _count_words(line: Line) -> list[str]:
    """What stands behind one of it, and behind several."""
    amount = line.ingredient.amount
    one, many = (amount.scaled(value / (amount.low or 1)).ascii() for value in (Fraction(1), Fraction(2)))
    return [one.partition(" ")[2], many.partition(" ")[2]]


def _measures(kitchen: Kitchen, found: Gathered) -> dict[str, Any]:
    system = next((one.recipe for one in (*found.scaled, *found.alone)), found.recipe).measures
    drawer = kitchen.drawer or DRAWERS[system]
    return {
        "scoops": [{"unit": one.unit, "part": float(one.part), "ml": float(one.ml)} for one in drawer],
        "own": kitchen.drawer is not None,
        "tolerance": float(TOLERANCE),
        "salt_tolerance": float(SALT_TOLERANCE),
        "most_ml": float(MOST_IN_CUPS),
        "pinch": [float(one) for one in PINCH_ML],
        "quart": _ml("quart", system),
        "named": {
            "sizes": {name: _ml(name, system) for name in ("cup", "tbsp", "tsp")},
            "close": float(CLOSE),
            "cups": [float(one) for one in CUP_PARTS],
        },
        "pound": float(POUND_G),
    }


def _ml(name: str, system: str) -> float | None:
    found = unit(name, system)
    return float(found.size) if found is not None and found.size is not None else None


def _times(
    found: Gathered, told: Callable[[int, int], None], states: Sequence[str]
) -> dict[str, Any] | None:
    """The tables of times by bones: on and tied are one, off is another."""
    times = found.times
    if times is None or times.own.check_from is None:
        return None
    from cookbook.heat.roast import LOOSEST, SUREST
    from cookbook.kitchen.forecasting.timetables import donenesses, other_bones
    from cookbook.safety import household_minimum

    own = times.wanted.piece
    tables = {"off" if own.bones == "off" else "": times.table.json()}
    if "off" in states:
        other = "on" if own.bones == "off" else "off"
        turned = other_bones(times, other, told)
        if turned is not None:
            tables["off" if other == "off" else ""] = turned.json()
    line = household_minimum(own.cut.species, own.cut.name)
    return {
        "tables": tables,
        "cooker": times.cooker,
        "cookers": list(times.table.cookers),
        "pull": times.wanted.pull_c,
        "pit": wording.celsius(times.wanted.pit_c),
        "rest": times.rest_min,
        "carve": _carve(),
        "sizes": [SUREST, LOOSEST],
        "line": line.core_c,
        "line_words": "{} ({})".format(*wording.scales(line.core_c, 1)),
        "species": own.cut.species,
        "doneness": [{"name": band.name, "served": band.served_c} for band in donenesses(times.wanted)],
        "own": _exact(times),
    }


def _carve() -> float:
    from cookbook.heat.timetable import CARVE_MIN

    return CARVE_MIN


def _exact(times: Times) -> list[float | None]:
    return list(times.own.minutes)
