"""Turning a good cook into the written recipe: as-made amounts restated for the recipe's own piece, and the method.

Only those values' text and `revision:` change in the file. A range is tightened to what was used. Or a first revision
is written from an entry that had no recipe.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from cookbook.errors import RequestError
from cookbook.files import Document, Edit, create, lock, parse, save
from cookbook.files import read as read_file
from cookbook.journal import Entry, slug
from cookbook.journal.made import Made, made
from cookbook.journal.writing import put
from cookbook.kitchen.adopting.adopted import MEASURED, Adopted, Adoption, Keep, sizes, sure
from cookbook.kitchen.adopting.first_revision import first
from cookbook.kitchen.adopting.method import Method, method_lines, spliced
from cookbook.kitchen.descent import now_called
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log import undoing
from cookbook.meat import Piece
from cookbook.quantity import Amount
from cookbook.quantity.number import digits
from cookbook.quantity.unit import unit
from cookbook.recipe import Ingredient, Recipe
from cookbook.recipe import read as read_recipe
from cookbook.recipe.field import clean
from cookbook.recipe.model import DEFAULT_FOLLOWS
from cookbook.recipe.scaling import factor_between, salt_share, salted_g


def adoptions(kitchen: Kitchen, entry: Entry, made_for_today: bool = False, keep: Keep = sure) -> list[Adoption]:
    """What adopting `entry` would change, one for every recipe that was made or done otherwise; nothing is written.

    `keep(recipe, line)` chooses line by line. Raises RequestError where nothing was made otherwise.
    """
    found = []
    own = now_called(kitchen, entry.recipe) if entry.recipe else None
    made_of = {now_called(kitchen, name) or name: name for name in entry.as_made}
    if own is None and entry.kind == "cook":
        own = entry.working_name()
    for name in dict.fromkeys([*made_of, *([own] if own else [])]):
        if name in kitchen.recipe_names():
            adoption = _revision(kitchen, entry, name, made_of.get(name), made_for_today, keep)
        elif entry.recipe is None and name == entry.working_name():
            adoption = first(kitchen, entry, name, entry.as_made.get(name, ()), keep)
        elif name in _one_line_coats(kitchen, entry):
            continue
        else:
            raise RequestError(
                f"{entry.name} tells what went into {name}, which is no recipe of this kitchen",
                mend="mend the name under `as_made:`",
            )
        if adoption is not None:
            found.append(adoption)
    if not found:
        raise RequestError(
            f"{entry.name} has nothing to adopt: everything went in and was done as the recipe says",
            mend="log what went in with `cookbook log used`, what was done with `cookbook log otherwise`",
            code="nothing-to-adopt",
        )
    return found


def _one_line_coats(kitchen: Kitchen, entry: Entry) -> set[str]:
    """Coats of the cook that are written in one line: they have no recipe whose revision could change."""
    if entry.recipe is None or not kitchen.has_recipe(entry.recipe):
        return set()
    return {slug(coat.item) for coat in kitchen.recipe(entry.recipe).coats if coat.item is not None}


def write(kitchen: Kitchen, entry: Entry, adoptions_: list[Adoption], others: Sequence[Entry] = ()) -> None:
    """Write the revisions, and into the entry (and `others` that were averaged with it) which they led to."""
    words = ", ".join(f"{adoption.recipe} revision {adoption.revision}" for adoption in adoptions_)
    with lock(kitchen.root):
        for adoption in adoptions_:
            target = kitchen.root / "recipes" / f"{adoption.recipe}.yaml"
            if adoption.before is None:
                create(target, adoption.data, name=kitchen.shown(target))
            else:
                save(
                    target, adoption.data, expected_sha256=adoption.before.document.sha256, name=kitchen.shown(target)
                )
        for path in (kitchen.entry_path(one) for one in (entry, *others)):
            document = read_file(path, kitchen.shown(path))
            put(Edit(document), ["adopted"], words).save()
            undoing.remember_adopted(kitchen, path, words)


def _pieces(entry: Entry, cut: str) -> list[Piece]:
    pieces = [found for piece in entry.pieces if (found := piece.piece(cut)) is not None]
    if not pieces:
        raise RequestError(f"{entry.name} doesn't say which piece was coated", mend="add `piece:` with its weight")
    return pieces


def _revision(
    kitchen: Kitchen, entry: Entry, name: str, called: str | None, made_for_today: bool, keep: Keep
) -> Adoption | None:
    """The next revision of `name`, which the entry's as-made lines call `called` (None: it has none of it)."""
    recipe = kitchen.recipe(name)
    changes: list[Adopted] = []
    notes: list[str] = []
    on = ""
    if called is not None:
        if recipe.made_for is None:
            raise RequestError(
                f"{name} doesn't say what it was made for", mend="give it `made_for:` with a cut and a weight"
            )
        items, notes = made(entry.as_made[called], entry.sheet.get(called, {}), kitchen.weights)
        pieces, own = coated(kitchen, entry, recipe), recipe.made_for.piece()
        on = sizes(pieces)
        known = [_change(recipe, item, own, pieces, made_for_today, kitchen) for item in items]
        changes = [change for change in known if change is not None and keep(name, change)]
    done = method_lines(kitchen, entry, recipe) if entry.recipe and now_called(kitchen, entry.recipe) == name else []
    done = [line for line in done if keep(name, line)]
    if not changes and not done:
        return None
    today = entry.pieces[0].fields.nodes if made_for_today and changes else None
    return revised(kitchen, recipe, [*changes, *done], on, notes, today)


def revised(
    kitchen: Kitchen,
    recipe: Recipe,
    changes: Sequence[Adopted | Method],
    on: str,
    notes: Sequence[str],
    today: Mapping[str, Any] | None = None,
) -> Adoption:
    """The next revision of `recipe` with `changes`, read once more before anyone may write it.

    `on` says which pieces they were made on; `today` are the nodes of the piece that it is for from now on.
    """
    revision = _next_revision(kitchen, recipe)
    data = _spliced(recipe, changes, revision, today)
    again, problems = read_recipe(parse(data, recipe.document.name), recipe.name, recipe.measures, kitchen.cuts)
    if again is None:
        raise RequestError(
            f"the next revision of {recipe.name} would not read: {problems[0].message}; nothing was written"
        )
    own = sizes([again.made_for.piece()]) if again.made_for is not None else ""
    return Adoption(recipe.name, recipe, revision, tuple(changes), on, own, data, tuple(notes))


def coated(kitchen: Kitchen, entry: Entry, recipe: Recipe) -> list[Piece]:
    """The pieces as this recipe coated them in the cook."""
    now = now_called(kitchen, entry.recipe) if entry.recipe else None
    cook = kitchen.recipe(now) if now else recipe
    faces = next((coat.faces for coat in cook.coats if coat.recipe == recipe.name), None)
    cut = cook.meat or ""
    if faces is None and recipe.made_for is not None and recipe.made_for.cut == cut:
        written = recipe.made_for.known.get("faces")
        faces = str(written) if written is not None else None
    pieces = []
    for piece in entry.pieces:
        found = piece.piece(cut, str(piece.known["faces"]) if "faces" in piece.known else faces)
        if found is not None:
            pieces.append(found)
    return pieces or _pieces(entry, cut)


def _change(
    recipe: Recipe, item: Made, own: Piece, pieces: list[Piece], made_for_today: bool, kitchen: Kitchen
) -> Adopted | None:
    line = recipe.ingredient(item.instead_of or item.item)
    factor = factor_between(own, pieces, line.follows if line else DEFAULT_FOLLOWS[recipe.kind])
    if item.left_out:
        return Adopted(item.item, None, None, factor, line, drop=True) if line else None
    if item.amount is None or (item.how == "as on the sheet" and not made_for_today):
        return None
    if line is not None and line.amount.kind == "percent":
        if item.how == "as on the sheet":
            return None
        restated, exact = _share(line.amount, item, pieces, kitchen)
    elif made_for_today or item.amount.kind == "free":
        factor, restated = 1.0, _told(item.amount)
        exact = str(restated)
    else:
        unrounded = item.amount.scaled(Fraction(1 / factor).limit_denominator(10**6))
        restated, exact = unrounded.rounded(), three_digits(unrounded)
    same = line is not None and not item.instead_of and restated.canonical() == line.amount.canonical()
    if same:
        return None
    share = salt_share(Ingredient(item.item, restated, "weight"), kitchen.weights)
    today = _told(item.amount)
    return Adopted(item.item, today, restated, factor, line, salt=share > 0.5, guess=item.guess, exact=exact)


def _told(amount: Amount) -> Amount:
    """An amount as it was said; one that was added up from spoons and millilitres to three digits."""
    if amount.unit not in ("ml", "g") or amount.low is None or (100 * amount.low).denominator == 1:
        return amount
    return Amount.parse(three_digits(amount))


def three_digits(amount: Amount) -> str:
    """An amount before it is rounded, for people who want to see what the rounding did."""
    if amount.low is None or amount.high is None:
        return str(amount)
    value, counted = (amount.low + amount.high) / 2, unit(amount.unit)
    called = counted.plural if counted is not None and value > 1 else amount.unit
    return f"{digits(float(value), 3)} {called}".strip()


def _share(written: Amount, item: Made, pieces: list[Piece], kitchen: Kitchen) -> tuple[Amount, str]:
    """A percentage of the meat from the grams that went in, to the twentieth of a percent."""
    percent = percent_of_meat(written, item, pieces, kitchen)
    return Amount.parse(f"{round(percent * 20) / 20:g} % {written.unit.removeprefix('percent ')}"), f"{percent:.3f} %"


def percent_of_meat(written: Amount, item: Made, pieces: list[Piece], kitchen: Kitchen) -> float:
    """What went in of something that is `written` as a share of the meat, in percent."""
    assert item.amount is not None
    meat = sum(salted_g(piece, written) for piece in pieces)
    low, high = item.amount.low, item.amount.high
    if item.amount.kind == "percent" and low is not None and high is not None:
        return float(low + high) / 2 * sum(salted_g(piece, item.amount) for piece in pieces) / meat
    grams = item.amount.grams(item.item, kitchen.weights)
    if grams is None:
        raise RequestError(
            f"{item.item} is a share of the meat, but nobody knows what {item.amount} of it weighs",
            mend="log it in grams",
        )
    return 100 * grams.mid / meat


def _next_revision(kitchen: Kitchen, recipe: Recipe) -> int:
    from cookbook.kitchen import store
    from cookbook.kitchen.descent import names_of

    known = [recipe.revision or 0]
    known += [
        kitchen.kept_recipe(kept).revision or 0
        for name in names_of(kitchen, recipe.name)
        for kept in store.kept(kitchen.root, name)
    ]
    return max(known) + 1


def _spliced(
    recipe: Recipe, changes: Sequence[Adopted | Method], revision: int, today: Mapping[str, Any] | None
) -> bytes:
    """The recipe's bytes with only the changed values, the revision and, for today's piece, `made_for:`."""
    edit = spliced(Edit(recipe.document), [line for line in changes if isinstance(line, Method)])
    root = recipe.document.root
    assert root is not None
    listed = root.get("ingredients")
    for change in (change for change in changes if isinstance(change, Adopted)):
        line = change.written
        assert listed is not None
        if line is None:
            edit = edit.add_item(listed, {"item": change.item, "amount": str(change.in_recipe)})
        elif change.drop:
            edit = edit.remove(listed, _index(edit.document, line.item))
        else:
            if line.item.casefold() != change.item.casefold():
                edit = _without_alternative(edit, line.item, change.item)
                edit = edit.replace(line.nodes["item"], change.item)
            edit = edit.replace(line.nodes["amount"], str(change.in_recipe))
    if today is not None:
        edit = _made_for_today(edit, today)
    node = root.get("revision")
    if node is None:
        edit = edit.add_key(root, "revision", str(revision), after="title")
    else:
        edit = edit.replace(node, str(revision))
    return edit.bytes()


def _without_alternative(edit: Edit, item: str, taken: str) -> Edit:
    """The line of `item` without `taken` under its `or:`, since that is what the line itself is from now on."""
    root = edit.document.root
    listed = root.get("ingredients") if root is not None else None
    assert listed is not None
    line = listed.items[_index(edit.document, item)]
    said = line.get("or")
    if said is None:
        return edit
    names = [clean(one.text).casefold() for one in said.items or (said,)]
    if set(names) == {clean(taken).casefold()}:
        return edit.remove(line, "or")
    for place in reversed(range(len(names))):
        if names[place] == clean(taken).casefold():
            edit = edit.remove(said, place)
    return edit


def _index(document: Document, item: str) -> int:
    root = document.root
    listed = root.get("ingredients") if root is not None else None
    for place, node in enumerate(listed.items if listed is not None else ()):
        said = node.get("item") or node.get("recipe")
        if said is not None and " ".join(said.text.split()).casefold() == item.casefold():
            return place
    raise RequestError(f"{item} is no longer in the recipe")


def _made_for_today(edit: Edit, today: Mapping[str, Any]) -> Edit:
    """Move `made_for:` to today's piece: what was measured today stands there, what was not goes."""
    for key in MEASURED:
        root = edit.document.root
        made_for = root.get("made_for") if root is not None else None
        assert made_for is not None
        node = made_for.get(key)
        if key in today and node is not None:
            edit = edit.replace(node, today[key].text)
        elif key in today:
            edit = edit.add_key(made_for, key, today[key].text, after="cut")
        elif node is not None:
            edit = edit.remove(made_for, key)
    return edit
