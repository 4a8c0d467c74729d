"""Another name for a recipe, with its history: the old name stays in `formerly:`, recipes that use it follow."""

from __future__ import annotations

from cookbook.errors import RequestError, StorageError
from cookbook.files import Edit, create, lock, read_bytes, save
from cookbook.kitchen.kitchen import Kitchen
from cookbook.recipe import Recipe
from cookbook.recipe.field import recipe_name


def rename(kitchen: Kitchen, old: str, new: str) -> list[str]:
    """Call the recipe `old` by the name `new`; returns the names of the recipes that use it and were changed.

    The new file is there before the recipes that use it change, and the old one goes last: cut off at any moment,
    every recipe still finds what it uses. Raises UnknownName, RequestError, FileError.
    """
    name = recipe_name(new)
    with lock(kitchen.root):
        now = Kitchen(kitchen.root)
        recipe = now.recipe(old)
        if now.has_recipe(name):
            raise RequestError(f"there is a recipe {name} already", mend="choose another name")
        source, target = (kitchen.root / "recipes" / f"{one}.yaml" for one in (old, name))
        texts = ((path, read_bytes(path, now.shown(path))) for path in now.recipe_paths() if path != source)
        naming = [path.stem for path, text in texts if old.encode() in text]
        users = [user for user in map(now.recipe, naming) if old in user.uses]
        create(target, _remembering(recipe, old), name=kitchen.shown(target))
        for user in users:
            path = kitchen.root / "recipes" / f"{user.name}.yaml"
            data = _following(user, old, name)
            save(path, data, expected_sha256=user.document.sha256, name=kitchen.shown(path))
        try:
            source.unlink()
        except OSError as fault:
            raise StorageError(kitchen.shown(source), fault.strerror or str(fault)) from None
    return [user.name for user in users]


def _remembering(recipe: Recipe, old: str) -> bytes:
    """The recipe's text with its old name among those it had."""
    edit, root = Edit(recipe.document), recipe.document.root
    assert root is not None
    if "formerly" in recipe.fields.nodes:
        edit = edit.remove(root, "formerly")
    had = list(dict.fromkeys((*recipe.formerly, old)))
    return edit.add_key(root, "formerly", had if len(had) > 1 else old, after="title").bytes()


def _following(user: Recipe, old: str, new: str) -> bytes:
    """The text of a recipe that uses the renamed one, by its new name."""
    edit = Edit(user.document)
    for key in ("coats", "ingredients"):
        for fields in user.fields.get(key) or ():
            if fields.get("recipe") == old:
                edit = edit.replace(fields.nodes["recipe"], new)
    return edit.bytes()
