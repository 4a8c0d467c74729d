"""What comes out when, what it still lacks, and what is out and has been overtaken; the lines that say so."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.kitchen import store
from cookbook.publish import wording
from cookbook.publish.around import releases_of
from cookbook.publish.gathering import gather
from cookbook.publish.ready import missing

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
        told(one["recipe"])
        found.append(_release(kitchen, one))
    coming = sorted((one for one in found if one.out is None), key=lambda one: one.planned or date.max)
    return [
        *coming,
        *sorted((one for one in found if one.out is not None), key=lambda one: one.out or date.max, reverse=True),
    ]


def _release(kitchen: Kitchen, one: Mapping[str, Any]) -> Release:
    name, out = one["recipe"], one.get("out")
    try:
        recipe = kitchen.recipe(name)
        lacks = [] if out else missing(kitchen, gather(kitchen, name))
        if not out and one.get("entry") is None:
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
        tuple(overtaken(kitchen, one)) if out and one.get("version") else (),
        _other_text(kitchen, one),
    )


def _other_text(kitchen: Kitchen, one: Mapping[str, Any]) -> bool:
    """Whether the text as it was sent is not the description that would be sent now."""
    if not (one.get("out") and one.get("digest")):
        return False
    from cookbook.publish.forms import card

    try:
        now = card(kitchen, one["recipe"], "description")
    except CookbookError:
        return True
    return hashlib.sha256(now.encode()).hexdigest() != str(one["digest"]).strip().lower()


def overtaken(kitchen: Kitchen, release: Mapping[str, Any]) -> Iterator[str]:
    """In what matters a published version has been overtaken: salt, a temperature, a time, an allergen."""
    now = kitchen.recipe(release["recipe"])
    version = release["version"]
    kept = store.Stored(now.name, version, store.folder(kitchen.root, now.name) / f"{version}.yaml")
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
    """What a reader must know of: salt, temperatures, rest and allergens, then and now."""
    pairs = [(then, now)] + [(inner[name], kitchen.recipe(name)) for name in now.uses if name in inner]
    for before, after in pairs:
        salts = [_salt(kitchen, one) for one in (before, after)]
        if salts[0] is not None and salts[1] is not None and abs(salts[0] - salts[1]) >= 0.05:
            yield f"{wording.spoken(after.title)}: salt {salts[0]:.1f} % of the piece, now {salts[1]:.1f} %"
        had, has = _allergens(before), _allergens(after)
        if has - had:
            yield f"{wording.spoken(after.title)}: now contains {', '.join(sorted(has - had))}"
        if had - has:
            yield f"{wording.spoken(after.title)}: no longer contains {', '.join(sorted(had - has))}"
    for what, one, two in (
        ("pull at", then.pull_at, now.pull_at),
        ("pit", then.pit and then.pit.temperature, now.pit and now.pit.temperature),
    ):
        if one is not None and two is not None and abs(one.c - two.c) >= 0.05:
            yield f"{what} {one.both()}, now {two.both()}"
    rests = [one.rest.time if one.rest else None for one in (then, now)]
    if rests[0] is not None and rests[1] is not None and rests[0].seconds != rests[1].seconds:
        yield f"rest {rests[0]}, now {rests[1]}"


def _salt(kitchen: Kitchen, recipe: Recipe) -> float | None:
    from cookbook.publish.batching import scaled_for

    if recipe.kind == "cook" or recipe.made_for is None:
        return None
    try:
        salt = scaled_for(kitchen, recipe).salt
    except CookbookError:
        return None
    return salt.percent_as_weighed if salt is not None else None


def _allergens(recipe: Recipe) -> set[str]:
    from cookbook.quantity import allergens

    return {one.name for line in recipe.ingredients if line.recipe is None for one in allergens(line.item).contains}


def correction(kitchen: Kitchen, name: str) -> str:
    """Three lines to paste: what was published, what changed, what holds. Raises RequestError where nothing did."""
    out = [one for one in releases_of(kitchen, name) if one.get("out") and one.get("version")]
    if not out:
        raise RequestError(
            f"{name} has no release that is out with its `version:`",
            mend="write `out:` and `version:` into its release in shared/releases.yaml",
        )
    said = list(overtaken(kitchen, out[-1]))
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
