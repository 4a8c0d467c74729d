"""A recipe in words, and a recipe and a scaled one as a notebook shows them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from cookbook.picture import Table
from cookbook.picture.notebook import shown
from cookbook.recipe.remarks import COLUMNS, asides, by_weight_too, for_which, how_many_times, row, what_goes_on

if TYPE_CHECKING:
    from cookbook.recipe.model import Ingredient, Recipe
    from cookbook.recipe.scaling import Scaled


def facts(recipe: Recipe) -> list[str]:
    """What stands above the ingredients, a line each: kind and revision, what it is made for, fire, pull, rest."""
    lines = [f"{recipe.kind}, {recipe.label()}, {recipe.measures_words}"]
    if recipe.made_for is not None:
        said = (
            node.text if key in ("cut", "weight") else f"{key} {node.text}"
            for key, node in recipe.made_for.nodes.items()
        )
        lines.append(f"made for {', '.join(said)}")
    if recipe.cut:
        lines.append(f"for {recipe.cut}" + (f", serves {recipe.serves}" if recipe.serves else ""))
    for record, name in ((recipe.pit, "pit"), (recipe.rest, "rest")):
        words = words_of(record)
        if words:
            lines.append(f"{name}: " + ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in words.items()))
    if recipe.pull_at is not None:
        lines.append(f"pull at {recipe.pull_at.both()}")
    return lines


def ingredient_rows(recipe: Recipe) -> list[list[str]]:
    """Amount and item of every line, with what stands beside it in brackets."""
    return [[line.amount.typographic(), line.words + _beside(line)] for line in recipe.ingredients]


def coat_lines(recipe: Recipe) -> list[str]:
    """`coat: fennel-sage-paste, no-ends`, a line each."""
    return [
        f"coat: {coat.recipe or coat.item}" + (f", {coat.faces}" if coat.faces else "") for coat in recipe.coats
    ]


def words_of(record: Any) -> Mapping[str, str]:
    """The parts of a pit or a rest that are said, as text."""
    return {key: str(value) for key, value in record._asdict().items() if value is not None} if record else {}


def _beside(line: Ingredient) -> str:
    said = [f"or {' or '.join(line.alternatives)}"] if line.alternatives else []
    said += [f"until {line.until}"] if line.until else []
    said += [f"hold back {line.hold_back} to add by taste"] if line.hold_back else []
    return f" ({'; '.join(said)})" if said else ""


def recipe_shown(recipe: Recipe) -> str:
    """A recipe as HTML for a notebook."""
    table = Table(("amount", "of"), tuple(tuple(cells) for cells in ingredient_rows(recipe)))
    steps = Table(("", "steps"), tuple((f"{number}.", step) for number, step in enumerate(recipe.steps, 1)))
    return shown(
        recipe.title,
        "; ".join(facts(recipe)),
        table,
        coat_lines(recipe),
        steps,
        recipe.notes,
    )


def scaled_shown(scaled: Scaled) -> str:
    """A scaled recipe as HTML for a notebook: what `scale` prints."""
    return shown(
        f"{scaled.recipe.title} {for_which(scaled)}",
        how_many_times(scaled),
        Table(COLUMNS, tuple(tuple(row(line)) for line in scaled.lines)),
        [f"{line.item}: {aside}" for line in scaled.lines for aside in asides(line)],
        [*by_weight_too(scaled), *what_goes_on(scaled)],
        [f"note: {note}" for note in scaled.notes],
    )
