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
from cookbook.safety import Around, Finding, entry_safety, recipe_safety


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
