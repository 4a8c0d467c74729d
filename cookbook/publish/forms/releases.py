"""What comes out when, what it still lacks, and what is out and has been overtaken; the lines that say so."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.kitchen import care, store
from cookbook.kitchen.descent import called, names_of
from cookbook.publish import wording
from cookbook.publish.content.around import releases_of
from cookbook.publish.content.gathering import gather
from cookbook.publish.forms.description import description
from cookbook.publish.forms.ready import missing

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.recipe import Recipe


class Release(NamedTuple):
    """One line of `shared/releases.yaml`; `missing` of what is still to come, `overtaken` of what is out."""

    recipe: str
    title: str
    planned: date | None
    out: date | None
    occasion: str
    entry: str
    address: str
    missing: tuple[str, ...]
    overtaken: tuple[str, ...]
    sent_otherwise: bool

    def json(self) -> dict[str, Any]:
        """As `releases --json` lists it."""
        days = {
            name: day.isoformat() if day else None for name, day in (("planned", self.planned), ("out", self.out))
        }
        return {**self._asdict(), **days, "missing": list(self.missing), "overtaken": list(self.overtaken)}


def releases(kitchen: Kitchen, told: Callable[[str], None] = lambda _name: None) -> list[Release]:
    """What is still to come by its day, then what is out, newest first. `told` hears each recipe's name."""
    found = []
    for one in kitchen.shared("releases.yaml") or ():
        name = called(kitchen, one["recipe"])
        told(name)
        found.append(_release(kitchen, name, one))
    coming = sorted((one for one in found if one.out is None), key=lambda one: one.planned or date.max)
    return [
        *coming,
        *sorted((one for one in found if one.out is not None), key=lambda one: one.out or date.max, reverse=True),
    ]


def _release(kitchen: Kitchen, name: str, one: Mapping[str, Any]) -> Release:
    out = one.get("out")
    try:
        recipe = kitchen.recipe(name)
        lacks = [] if out else missing(kitchen, gather(kitchen, name))
        if one.get("entry") is None and (recipe.uses or not out):
            lacks.append("which cook was filmed? `entry:`")
        if out and not one.get("version"):
            lacks.append("which version came out? `version:`")
    except CookbookError as fault:
        return Release(
            name,
            name,
            one.get("planned"),
            out,
            one.get("occasion") or "",
            one.get("entry") or "",
            one.get("address") or "",
            (fault.message,),
            (),
            False,
        )
    return Release(
        name,
        wording.spoken(recipe.title),
        one.get("planned"),
        out,
        one.get("occasion") or "",
        one.get("entry") or "",
        one.get("address") or "",
        tuple(lacks),
        tuple(overtaken(kitchen, name, one)) if out and one.get("version") else (),
        _other_text(kitchen, name, one),
    )


def _other_text(kitchen: Kitchen, name: str, one: Mapping[str, Any]) -> bool:
    """Whether the text as it was sent is not the description that would be sent now."""
    if not (one.get("out") and one.get("digest")):
        return False
    try:
        now = description(gather(kitchen, name).content)
    except CookbookError:
        return True
    return hashlib.sha256(now.encode()).hexdigest() != str(one["digest"]).strip().lower()


def overtaken(kitchen: Kitchen, name: str, release: Mapping[str, Any]) -> Iterator[str]:
    """In what matters a published version has been overtaken: salt, a temperature, a time, an allergen."""
    now, version = kitchen.recipe(name), release["version"]
    places = [store.Stored(one, version, store.folder(kitchen.root, one) / f"{version}.yaml")
              for one in names_of(kitchen, name)]
    kept = next((one for one in places if one.path.is_file()), places[0])
    try:
        then = kitchen.kept_recipe(kept)
    except CookbookError as fault:
        yield f"its version is not to be had: {fault.message}"
        return
    yield from changed(kitchen, then, now, _inner(kitchen, release))


def _inner(kitchen: Kitchen, release: Mapping[str, Any]) -> Mapping[str, Recipe]:
    """The recipes inside as they were in the cook that was filmed, where it is named."""
    if not release.get("entry"):
        return {}
    found = {}
    try:
        for name, version in kitchen.entry(release["entry"]).uses.items():
            kept = store.Stored(name, version, store.folder(kitchen.root, name) / f"{version}.yaml")
            found[name] = kitchen.kept_recipe(kept)
    except CookbookError:
        return {}
    return found


def changed(kitchen: Kitchen, then: Recipe, now: Recipe, inner: Mapping[str, Recipe]) -> Iterator[str]:
    """What a reader must know of: salt, allergens, temperatures and rest, then and now.

    `inner` are the recipes inside as they were; where some are not known, only those that are count.
    """
    inside = {one.name: one for one in care.inside(kitchen, now)}
    if any(name not in inner for name in then.uses):
        inside = {name: one for name, one in inside.items() if name in inner}
        inner = {name: one for name, one in inner.items() if name in inside}
    for before, after in [(then, now), *((inner[name], inside[name]) for name in inside if name in inner)]:
        yield from _otherwise(_salt(kitchen, before), _salt(kitchen, after), f"{wording.spoken(after.title)}: ")
    if set(inner) != set(inside):
        yield from _otherwise(_salt_of_all(kitchen, then, inner), _salt_of_all(kitchen, now, inside))
    had, has = _allergens([then, *inner.values()]), _allergens([now, *inside.values()])
    if has - had:
        yield f"now contains {', '.join(sorted(has - had))}"
    if had - has:
        yield f"no longer contains {', '.join(sorted(had - has))}"
    for what, one, two in (
        ("pull at", then.pull_at, now.pull_at),
        ("pit", then.pit and then.pit.temperature, now.pit and now.pit.temperature),
        ("wrap at", then.pit and then.pit.wrap_at, now.pit and now.pit.wrap_at),
    ):
        if one is not None and two is not None and abs(one.c - two.c) >= 0.05:
            yield f"{what} {one.both()}, now {two.both()}"
    rests = [one.rest.time if one.rest else None for one in (then, now)]
    if rests[0] is not None and rests[1] is not None and rests[0].seconds != rests[1].seconds:
        yield f"rest {rests[0]}, now {rests[1]}"


def _otherwise(before: float | None, after: float | None, of: str = "") -> Iterator[str]:
    if before is not None and after is not None and abs(before - after) >= 0.05:
        yield f"{of}salt {before:.1f} % of the piece, now {after:.1f} %"


def _salt_of_all(kitchen: Kitchen, recipe: Recipe, known: Mapping[str, Recipe]) -> float:
    """Of a cook and of the coats that it names itself; what goes into these counts there."""
    coats = [known[name] for name in recipe.uses if name in known]
    return sum(_salt(kitchen, one) or 0.0 for one in (recipe, *coats))


def _salt(kitchen: Kitchen, recipe: Recipe) -> float | None:
    from cookbook.publish.content.batching import scaled_for

    if recipe.made_for is None or not recipe.ingredients or recipe.kind in ("brine", "sauce"):
        return None
    try:
        salt = scaled_for(kitchen, recipe).salt
    except CookbookError:
        return None
    return salt.percent_as_weighed if salt is not None else None


def _allergens(recipes: Sequence[Recipe]) -> set[str]:
    from cookbook.safety.allergy import allergens_told

    told = allergens_told(recipes)
    sure = told.sure if told is not None else ()
    return {f"{one.name} ({one.detail})" if one.detail else one.name for one in sure}


def correction(kitchen: Kitchen, name: str) -> str:
    """Three lines to paste: what was published, what changed, what holds. Raises RequestError where nothing did."""
    out = [one for one in releases_of(kitchen, name) if one.get("out") and one.get("version")]
    if not out:
        raise RequestError(
            f"{name} has no release that is out with its `version:`",
            mend="write `out:` and `version:` into its release in shared/releases.yaml",
        )
    said = list(overtaken(kitchen, name, out[-1]))
    if not said:
        raise RequestError(
            f"what was published of {name} still holds in salt, temperatures, times and allergens",
            code="nothing-to-correct",
        )
    recipe, day = kitchen.recipe(name), out[-1]["out"]
    shown = [line.replace("\u00a0", " ") for line in said]
    address = kitchen.settings.get("address") or ""
    holds = (
        f"What holds now{f' is at {address}' if address else ' stands in the description'}; thank you for cooking it."
    )
    return (
        "\n".join(
            (
                f"Correction to {wording.spoken(recipe.title)} as published on {day:%Y-%m-%d}.",
                f"Changed since: {'; '.join(shown)}.",
                holds,
            )
        )
        + "\n"
    )
