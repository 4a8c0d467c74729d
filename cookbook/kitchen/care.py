"""What the safety room needs to know of a recipe or an entry, gathered from the kitchen."""

from __future__ import annotations

from cookbook.errors import ERROR, CookbookError, UnknownName
from cookbook.journal import Entry
from cookbook.kitchen import store
from cookbook.kitchen.clock import now
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import readings_of
from cookbook.meat import Cut
from cookbook.recipe import Recipe
from cookbook.safety import (
    Around,
    Curve,
    Finding,
    entry_safety,
    forecast_findings,
    recipe_safety,
)


def findings_of(kitchen: Kitchen, name: str, guests: bool = False) -> list[Finding]:
    """What a recipe or an entry called `name` runs into, gravest first; `guests` says that someone who eats needs it
    fully cooked. Raises UnknownName where neither is."""
    if name.partition("@")[0] in kitchen.recipe_names():
        return of_recipe(kitchen, kitchen.recipe(name), guests)
    try:
        entry = kitchen.entry(name)
    except UnknownName as fault:
        raise UnknownName("recipe and no entry", name, fault.nearest, mend=fault.mend) from None
    return of_entry(kitchen, entry, guests)


def of_recipe(kitchen: Kitchen, recipe: Recipe, guests: bool = False) -> list[Finding]:
    """What a recipe as written runs into, gravest first."""
    return recipe_safety(recipe, inside(kitchen, recipe), lambda cut: species_of(kitchen, cut), guests)


def forecast_of(kitchen: Kitchen, name: str) -> list[Finding]:
    """What the forecast of a recipe or an open entry would come to; notes, never a verdict.

    Raises RequestError where there is too little to forecast from.
    """
    from cookbook.kitchen import outlook

    if name.partition("@")[0] in kitchen.recipe_names():
        wanted = outlook.of_recipe(kitchen, kitchen.recipe(name), {}, outlook.Asked())
    else:
        wanted = outlook.of_entry(kitchen, kitchen.entry(name), outlook.Asked())
    found = outlook.run(kitchen, wanted)
    middle = [(60 * point.minute, point.core_c.p50) for point in found.curve if point.core_c.p50 is not None]
    low_c, high_c = found.peak_c.p10, found.peak_c.p90
    if not middle or low_c is None or high_c is None:
        return []
    cut = wanted.piece.cut
    curve = Curve.of([seconds for seconds, _ in middle], [core for _, core in middle])
    return forecast_findings(curve, (low_c, high_c), cut.species, cut.name)


def of_entry(kitchen: Kitchen, entry: Entry, guests: bool = False) -> list[Finding]:
    """What a cook as logged runs into."""
    recipe = cooked_recipe(kitchen, entry)
    within = inside(kitchen, recipe) if recipe is not None else []
    off = kitchen.settings.get("thermometer")
    readings, problems = readings_of(kitchen, entry)
    faults = tuple(
        (f"{one.place.file}:{one.place.line}: " if one.place else "") + one.message
        for one in problems
        if one.severity == ERROR
    )
    around = Around(guests, off.k if off is not None else 0.0, kitchen.settings.get("temperature"), now(), faults)
    return entry_safety(entry, recipe, within, readings, around, lambda cut: species_of(kitchen, cut))


def cooked_recipe(kitchen: Kitchen, entry: Entry) -> Recipe | None:
    """The exact text that an entry began with; the recipe as it stands where that is not kept; None without one."""
    if entry.recipe is None:
        return None
    if entry.version is not None:
        path = store.folder(kitchen.root, entry.recipe) / f"{entry.version}.yaml"
        try:
            return kitchen.kept_recipe(store.Stored(entry.recipe, entry.version, path))
        except CookbookError:
            pass
    return kitchen.recipe(entry.recipe) if entry.recipe in kitchen.recipe_names() else None


def inside(kitchen: Kitchen, recipe: Recipe) -> list[Recipe]:
    """The recipes inside a recipe, and those inside them."""
    found: dict[str, Recipe] = {}
    for name in recipe.uses:
        inner = kitchen.used_by(recipe)(name)
        for one in (inner, *inside(kitchen, inner)):
            found[one.name] = one
    return list(found.values())


def species_of(kitchen: Kitchen, cut: str) -> str:
    """The species of a cut, the kitchen's own among them."""
    return Cut.named(cut, kitchen.cuts).species
