"""What is kept beside recipes and entries and is at fault: versions altered, without a cook or without a recipe,
files of another kind, probe logs that no entry names."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from cookbook.errors import NOTE, WARNING, CookbookError, FileError, Place, Problem
from cookbook.kitchen import store
from cookbook.kitchen.descent import names_of
from cookbook.kitchen.kitchen import Kitchen


def store_faults(kitchen: Kitchen, named: Collection[str]) -> Iterator[Problem]:
    """Every fault of the store; `named` are the versions that entries rest on."""
    for stored in store.everything(kitchen.root):
        shown = kitchen.shown(stored.path)
        try:
            store.read(stored, shown)
        except FileError as fault:
            yield from fault.problems
            continue
        if stored.version not in named:
            yield Problem(
                NOTE,
                "version-orphaned",
                f"no entry rests on this text of {stored.recipe}",
                Place(shown, 1, 1),
                "keep it, or remove the file: nothing else needs it",
            )
    yield from _without_recipe(kitchen)
    for path in store.strangers(kitchen.root):
        yield Problem(
            WARNING,
            "not-a-version",
            "this file's name is none of a version",
            Place(kitchen.shown(path), 1, 1),
            "the store holds only what the program puts there",
        )


def _without_recipe(kitchen: Kitchen) -> Iterator[Problem]:
    """Versions of a recipe that is gone: renamed by hand, or taken out."""
    lost = kitchen.lost_names
    if not lost:
        return
    now: dict[str, tuple[str, bool]] = {}
    for recipe in kitchen.recipe_names():
        for old in names_of(kitchen, recipe)[1:]:
            now[old] = (recipe, old in _written(kitchen, recipe))
    for name in lost:
        place = Place(kitchen.shown(store.folder(kitchen.root, name)), 1, 1)
        if name not in now:
            said = f"cooks rest on {name}, and no recipe is called so any more"
            mend = f"was it renamed? then write `formerly: {name}` into the recipe that it is now"
            yield Problem(WARNING, "recipe-gone", said, place, mend)
        elif not now[name][1]:
            said = f"{name} seems to be called {now[name][0]} now: both mean the same"
            mend = f"write `formerly: {name}` into recipes/{now[name][0]}.yaml, so that it holds when you change it"
            yield Problem(NOTE, "recipe-renamed", said, place, mend)


def _written(kitchen: Kitchen, recipe: str) -> tuple[str, ...]:
    try:
        return kitchen.recipe(recipe).formerly
    except CookbookError:
        return ()


def orphaned_readings(kitchen: Kitchen, named: Collection[str]) -> Iterator[Problem]:
    """Probe logs in the journal that no entry rests on; `named` are the paths of those that entries name."""
    for path in sorted((kitchen.root / "journal").rglob("*.csv")):
        cleaned = path.with_name(path.name.removesuffix(".original.csv") + ".csv") if _original(path.name) else path
        if path.name[0] != "." and str(cleaned) not in named and str(path) not in named:
            yield Problem(
                WARNING,
                "readings-orphaned",
                "no entry names this probe log" + (" or what was read in it" if cleaned != path else ""),
                Place(kitchen.shown(path), 1, 1),
                "take it in again with `cookbook log import`, or remove it",
            )


def _original(name: str) -> bool:
    return name.endswith(".original.csv")
