"""Adopting how it was done: the fire, the pull, the rest and the steps of a cook, one line after the other."""

from __future__ import annotations

from datetime import timedelta
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.files import Edit, Node
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.journal.readings import of_one_core
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Temperature
from cookbook.recipe import Recipe

FIELDS = {
    "pit": ("pit", "temperature"),
    "cooker": ("pit", "cooker"),
    "fuel": ("pit", "fuel"),
    "wood": ("pit", "wood"),
    "wrap": ("pit", "wrap"),
    "wrap_at": ("pit", "wrap_at"),
    "pull_at": ("pull_at",),
    "rest": ("rest", "time"),
}
"""Where in a recipe that stands which a deviation names."""

NEAR_PULL = timedelta(minutes=5)


class Method(NamedTuple):
    """One line of how it was done: where it stands in the recipe, what that says now (None: nothing), what it will.

    `sure` where the cook said so; what was only read off a probe, or is a remark, is taken only when asked for.
    Of several cooks `varied` is how many of them tell it, and the least and the most.
    """

    item: str
    path: tuple[str, ...]
    written: str | None
    today: str
    sure: bool = True
    step: int | None = None
    varied: tuple[int, str, str] | None = None

    def json(self) -> dict[str, object]:
        """The line as `adopt --json` lists it, beside those of ingredients."""
        return {
            "item": self.item,
            "today": self.today,
            "in_recipe": self.today,
            "factor": 1.0,
            "before": self.written,
            "unrounded": self.today,
            "guess": not self.sure,
            "left_out": False,
            "varied": dict(zip(("cooks", "low", "high"), self.varied, strict=True)) if self.varied else None,
        }


def method_lines(kitchen: Kitchen, entry: Entry, recipe: Recipe) -> list[Method]:
    """What was done otherwise in this cook than `recipe` says, in the order of the entry; then the pull."""
    found = [line for one in entry.fields.get("deviations") or () for line in _deviation(one, recipe)]
    pull = _pull(kitchen, entry, recipe)
    if pull is not None and all(line.path != ("pull_at",) for line in found):
        found.append(pull)
    return found


def _deviation(said: object, recipe: Recipe) -> list[Method]:
    if isinstance(said, str):
        return [Method("a step more", ("steps",), None, said, sure=False)]
    fields = getattr(said, "nodes", {})
    found = []
    for key, path in FIELDS.items():
        if key in fields:
            node = _at(recipe.document.root, path)
            line = Method(key.replace("_", " "), path, node.text if node is not None else None, fields[key].text)
            if not same(line.written, line.today):
                found.append(line)
    if "did" in fields:
        found += _step(fields["did"].text, fields["step"].text if "step" in fields else None, recipe)
    return found


def _step(did: str, step: str | None, recipe: Recipe) -> list[Method]:
    if step is None:
        return [Method("a step more", ("steps",), None, did, sure=False)]
    place = int(step) - 1
    if place >= len(recipe.steps):
        raise RequestError(
            f"the entry says what was done in step {step}, but {recipe.name} has {len(recipe.steps)}",
            mend="mend the step under `deviations:`",
        )
    written = recipe.steps[place]
    return [] if same(written, did) else [Method(f"step {step}", ("steps",), written, did, step=place)]


def _pull(kitchen: Kitchen, entry: Entry, recipe: Recipe) -> Method | None:
    """The line of the pull temperature, where it was another one than the recipe's."""
    used, written = pull_of(kitchen, entry, recipe), recipe.pull_at
    if used is None or written == used:
        return None
    told = entry.outcome is not None and entry.outcome.get("pulled") is not None
    return Method("pull at", ("pull_at",), str(written) if written is not None else None, str(used), told)


def pull_of(kitchen: Kitchen, entry: Entry, recipe: Recipe) -> Temperature | None:
    """The pull temperature on the recipe's scale: the one that the entry says, else what the core's probe showed."""
    used: Temperature | None = entry.outcome.get("pulled") if entry.outcome is not None else None
    pulled = moment_of(entry, "pulled")
    if used is None and pulled is not None:
        cores = of_one_core(kitchen.readings(entry))
        near = [one.core_c for one in cores if abs(one.at - pulled) <= NEAR_PULL and one.core_c is not None]
        used = Temperature.parse(f"{near[-1]:.0f} °C") if near else None
    written = recipe.pull_at
    if used is not None and written is not None and written.scale != used.scale:
        degrees = used.f if written.scale == "F" else used.c
        used = Temperature.parse(f"{degrees:.0f} °{written.scale}")
    return used


def same(written: str | None, today: str) -> bool:
    """Whether the recipe says so already, blanks aside."""
    return written is not None and " ".join(written.split()) == " ".join(today.split())


def spliced(edit: Edit, lines: list[Method]) -> Edit:
    """The recipe's text with these lines in it; nothing else in it changes."""
    for line in lines:
        root = edit.document.root
        steps = root.get("steps") if root is not None else None
        if line.step is not None and steps is not None:
            edit = edit.replace(steps.items[line.step] if steps.items else steps, line.today)
        elif line.path == ("steps",) and steps is not None and steps.kind == "list":
            edit = edit.add_item(steps, line.today)
        elif line.path == ("steps",) and steps is not None:
            raise RequestError("a lone step can't be followed by another", mend="put a dash before the recipe's step")
        elif line.path == ("steps",):
            assert root is not None
            edit = edit.add_key(root, "steps", [line.today])
        else:
            edit = _put(edit, line.path, line.today)
    return edit


def _put(edit: Edit, path: tuple[str, ...], value: str) -> Edit:
    node = _at(edit.document.root, path)
    if node is not None:
        return edit.replace(node, value)
    holder = _at(edit.document.root, path[:-1]) if len(path) > 1 else edit.document.root
    root = edit.document.root
    assert root is not None
    if holder is None:
        return edit.add_key(root, path[0], {path[1]: value})
    return edit.add_key(holder, path[-1], value)


def _at(root: Node | None, path: tuple[str, ...]) -> Node | None:
    for key in path:
        root = root.get(key) if root is not None else None
    return root
