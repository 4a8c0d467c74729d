"""What differs between two recipes or two versions of one, in the cook's words.

Differences of writing are none: `1/4 cup` and `4 tbsp` are the same amount in US measures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from difflib import SequenceMatcher
from typing import Any, NamedTuple

from cookbook.quantity import Amount
from cookbook.recipe.field import clean
from cookbook.recipe.meaning import meaning
from cookbook.recipe.model import Ingredient, Recipe


class Change(NamedTuple):
    """One difference. `item` is an ingredient's name or a part of the recipe; before or after is None where absent.

    `ratio` is after / before for amounts that can be compared, else None.
    """

    item: str
    field: str
    before: str | None
    after: str | None
    ratio: float | None = None

    def short(self) -> str:
        """A few words for a version's label: `more garlic`, `pull at 58 °C`."""
        if self.field == "amount" and self.ratio is not None:
            return f"{'more' if self.ratio > 1 else 'less'} {self.item}"
        if self.field == "ingredient":
            return f"with {self.item}" if self.before is None else f"without {self.item}"
        if self.field == "step":
            return "other steps"
        if self.field == "coat" and self.before is not None and self.after is not None:
            return f"newer {self.item}"
        name = self.item if self.field == self.item else f"{self.item} {self.field}"
        return f"{name} {self.after}" if self.after is not None else f"no {name}"

    def sentence(self) -> str:
        """The whole difference: `garlic: 60 g, now 70 g (1.17 times)`."""
        if self.field == "step" and self.before is not None and self.after is not None:
            return f"{self.item}: {self.before.rstrip('.')}; now: {self.after.rstrip('.')}"
        plain = (self.item, "amount", "ingredient", "step")
        name = self.item if self.field in plain else f"{self.item}, {self.field}"
        if self.before is None:
            return f"{name}: new, {self.after}"
        if self.after is None:
            return f"{name}: left out, was {self.before}"
        times = f" ({self.ratio:.2f} times)" if self.ratio is not None else ""
        return f"{name}: {self.before}, now {self.after}{times}"

    def json(self) -> dict[str, object]:
        """The change as `diff --json` lists it."""
        return dict(self._asdict())


def differences(before: Recipe, after: Recipe, digests: Callable[[Recipe, str], str] | None = None) -> list[Change]:
    """Every difference in meaning from `before` to `after`, ingredients first, in the order of `after`.

    `digests(recipe, name)` gives the digest of a recipe used inside, so that a newer version of the same
    paste shows; left out, used recipes are compared by name.
    """
    changes = list(_ingredients(before, after))
    changes += _coats(before, after, digests)
    for key in ("cut", "serves", "pull_at"):
        changes += _plain(key.replace("_", " "), key.replace("_", " "), getattr(before, key), getattr(after, key))
    for key in ("pit", "rest"):
        one, two = getattr(before, key), getattr(after, key)
        names = list((one or two)._fields) if one or two else []
        for name in names:
            changes += _plain(key, name.replace("_", " "), getattr(one, name, None), getattr(two, name, None))
    changes += _made_for(before, after)
    changes += _steps(before.steps, after.steps)
    if _written(before) != _written(after) and not changes:
        changes.append(Change("measures", "measures", before.measures, after.measures))
    return changes


def summary(changes: list[Change], most: int = 2) -> str:
    """The biggest differences in a few words: `more garlic, pull at 58 °C`."""
    ranked = sorted(changes, key=_weight)
    words = list(dict.fromkeys(change.short() for change in ranked))
    rest = len(words) - most
    return ", ".join(words[:most]) + (f" and {rest} more" if rest > 0 else "")


def _weight(change: Change) -> tuple[int, float]:
    order = {"ingredient": 0, "amount": 1, "step": 4, "measures": 5}
    if change.item == "made for":
        return (3, 0.0)
    ratio = change.ratio or 1.0
    return (order.get(change.field, 2), -max(ratio, 1 / ratio) if ratio > 0 else 0.0)


def _written(recipe: Recipe) -> Any:
    return meaning(recipe, dict.fromkeys(recipe.uses, ""))


def _key(words: str) -> str:
    return clean(words).casefold()


def _ingredients(before: Recipe, after: Recipe) -> Iterator[Change]:
    old = {_key(line.item): line for line in before.ingredients}
    new = {_key(line.item): line for line in after.ingredients}
    for key, line in new.items():
        if key in old:
            yield from _line(old[key], line)
        else:
            yield Change(line.item, "ingredient", None, str(line.amount))
    for key, line in old.items():
        if key not in new:
            yield Change(line.item, "ingredient", str(line.amount), None)
    kept_old = [key for key in old if key in new]
    kept_new = [key for key in new if key in old]
    if kept_old != kept_new:
        yield Change(
            "ingredients",
            "order",
            ", ".join(old[key].item for key in kept_old),
            ", ".join(new[key].item for key in kept_new),
        )


def _line(before: Ingredient, after: Ingredient) -> Iterator[Change]:
    yield from amounts(after.item, "amount", before.amount, after.amount)
    yield from amounts(after.item, "hold back", before.hold_back, after.hold_back)
    yield from _plain(after.item, "prep", before.prep, after.prep)
    yield from _plain(after.item, "or", ", ".join(before.alternatives) or None, ", ".join(after.alternatives) or None)
    yield from _plain(after.item, "until", before.until, after.until)
    if before.follows != after.follows:
        yield Change(after.item, "follows", before.follows, after.follows)


def amounts(item: str, field: str, before: Amount | None, after: Amount | None) -> Iterator[Change]:
    """The change from one amount to the other, none where both mean the same."""
    if before is None or after is None:
        if before is not after:
            yield Change(item, field, str(before) if before else None, str(after) if after else None)
        return
    if before.canonical() != after.canonical():
        yield Change(item, field, str(before), str(after), ratio(item, before, after))


def ratio(item: str, before: Amount, after: Amount) -> float | None:
    """after / before by what both measure (or by weight where they measure differently), or None."""
    one, two = _common(item, before, after)
    return round(two / one, 4) if one and two else None


def _common(item: str, before: Amount, after: Amount) -> tuple[float | None, float | None]:
    if before.kind == after.kind == "volume":
        one, two = before.ml(), after.ml()
    elif before.kind == after.kind and before.kind in ("count", "percent") and before.unit == after.unit:
        return _middle(before), _middle(after)
    else:
        one, two = before.grams(item), after.grams(item)
    return (one.mid if one else None), (two.mid if two else None)


def _middle(amount: Amount) -> float | None:
    return None if amount.low is None or amount.high is None else float((amount.low + amount.high) / 2)


def _plain(item: str, field: str, before: Any, after: Any) -> Iterator[Change]:
    one, two = _same(before), _same(after)
    if one != two:
        yield Change(item, field, None if before is None else str(before), None if after is None else str(after))


def _same(value: Any) -> Any:
    if hasattr(value, "canonical"):
        return tuple(value.canonical())
    return clean(value) if isinstance(value, str) else value


def _coats(before: Recipe, after: Recipe, digests: Callable[[Recipe, str], str] | None) -> Iterator[Change]:
    def coats(recipe: Recipe) -> dict[str, Any]:
        return {_key(coat.recipe or coat.item or ""): coat for coat in recipe.coats}

    old, new = coats(before), coats(after)
    for key, coat in new.items():
        name = coat.recipe or coat.item or ""
        if key not in old:
            yield Change(name, "coat", None, coat.faces or "as usual")
            continue
        yield from amounts(name, "amount", old[key].amount, coat.amount)
        yield from _plain(name, "faces", old[key].faces, coat.faces)
        if coat.recipe and digests is not None and digests(before, coat.recipe) != digests(after, coat.recipe):
            yield Change(name, "coat", "as it was then", "in a newer version")
    for key, coat in old.items():
        if key not in new:
            yield Change(coat.recipe or coat.item or "", "coat", coat.faces or "as usual", None)


def _made_for(before: Recipe, after: Recipe) -> Iterator[Change]:
    one: Mapping[str, Any] = before.made_for.nodes if before.made_for else {}
    two: Mapping[str, Any] = after.made_for.nodes if after.made_for else {}
    same_one = _written(before).get("made_for", {})
    same_two = _written(after).get("made_for", {})
    for key in dict.fromkeys([*one, *two]):
        if same_one.get(key) != same_two.get(key):
            yield Change(
                "made for", key, one[key].text if key in one else None, two[key].text if key in two else None
            )


def _steps(before: tuple[str, ...], after: tuple[str, ...]) -> Iterator[Change]:
    old, new = [clean(step) for step in before], [clean(step) for step in after]
    for tag, i, j, k, m in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        for n in range(max(j - i, m - k)):
            was = before[i + n] if i + n < j else None
            now = after[k + n] if k + n < m else None
            yield Change(f"step {(k if now is not None else i) + n + 1}", "step", was, now)
