"""Writing the journal: entries begun, lines added. All under the kitchen's lock."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, CookbookError, FileError, Problem, RequestError, StorageError
from cookbook.files import Document, Edit, Inline, create, lock, parse, read_bytes, save, short
from cookbook.journal import Entry
from cookbook.journal import read as read_entry
from cookbook.journal.model import slug
from cookbook.journal.probe import PLAUSIBLE_C
from cookbook.journal.writing import new_entry
from cookbook.kitchen import listing, store
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log import undoing
from cookbook.kitchen.sizing import for_pieces, inside, settled
from cookbook.meat import Cut
from cookbook.meat.faces import chosen
from cookbook.quantity import Amount, Length, Temperature, read_mass_g
from cookbook.recipe import Recipe
from cookbook.recipe.scaling import scaled_to

if TYPE_CHECKING:
    from cookbook.quantity import OwnWeight
    from cookbook.recipe.scaling import Scaled


def start(
    kitchen: Kitchen,
    name: str,
    pieces: Mapping[str, Mapping[str, str]],
    at: datetime,
    core: str | None = None,
    cut: str | None = None,
    bowl: str | None = None,
) -> Entry:
    """Begin an entry for the recipe `name`, with the day's sheet; its exact text goes into the version store.

    `pieces` holds what is known of each piece, as the files write it, by name ('' for a lone one); without any, the
    piece that the recipe was made for. `core` is the core temperature when it goes on, `cut` another cut than the
    recipe's, `bowl` the empty bowl on the balance. Raises RequestError, with nothing written.
    """
    recipe = kitchen.recipe(name)
    pieces = settled(pieces, cut or recipe.meat, kitchen.cuts)
    sheet = _sheet(kitchen, recipe, pieces, cut)
    versions = {one.name: (kitchen.version_now(one), one.document.data) for one in _with_inner(kitchen, recipe)}
    head = {
        "recipe": recipe.name,
        "version": versions[recipe.name][0],
        "uses": {inner: version for inner, (version, _) in versions.items() if inner != recipe.name},
        "measures": None if kitchen.settings["measures"] == "us" else kitchen.settings["measures"],
        "date": at.date().isoformat(),
        **_pieces(_of_cut(kitchen, pieces, cut) if cut else pieces, core),
        "sheet": sheet,
        "as_made": _empty_bowl(bowl, list(sheet)),
    }
    with lock(kitchen.root):
        for inner, (version, data) in versions.items():
            store.put(kitchen.root, inner, version, data)
        return create_entry(kitchen, recipe.name, at.date().isoformat(), head)


def start_new(
    kitchen: Kitchen,
    title: str,
    kind: str,
    cut: str,
    pieces: Mapping[str, Mapping[str, str]],
    at: datetime,
    bowl: str | None = None,
    core: str | None = None,
) -> Entry:
    """Begin an entry that has no recipe yet, under a working title; `bowl` is the empty bowl on the balance."""
    name = slug(title)
    head = {
        "title": title,
        "kind": kind,
        "date": at.date().isoformat(),
        **_pieces(_of_cut(kitchen, settled(pieces, cut, kitchen.cuts), cut), core),
        "as_made": _empty_bowl(bowl, [name]),
    }
    with lock(kitchen.root):
        return create_entry(kitchen, name, at.date().isoformat(), head)


def _of_cut(
    kitchen: Kitchen, pieces: Mapping[str, Mapping[str, str]], cut: str
) -> dict[str, Mapping[str, str]]:
    """The pieces, each with its cut; UnknownName where no cut is called so, or two are."""
    found = Cut.named(cut, kitchen.cuts)
    for known in pieces.values():
        chosen(found, known.get("faces"), known.get("bones"))
    return {name: {"cut": cut, **known} for name, known in (pieces or {"": {}}).items()}


def _empty_bowl(bowl: str | None, recipes: Sequence[str]) -> dict[str, Any]:
    """The empty bowl as the first thing that is known of what is made."""
    if bowl is None:
        return {}
    if len(recipes) != 1:
        raise RequestError(
            "which recipe is made in that bowl?",
            mend=f"begin without --bowl; these are made: {', '.join(recipes)}" if recipes else "nothing is made here",
        )
    read_mass_g(bowl)
    return {recipes[0]: [Inline({"bowl": {"empty": Amount.parse(bowl).ascii()}})]}


def _pieces(pieces: Mapping[str, Mapping[str, str]], core: str | None) -> dict[str, Any]:
    start = {"start": _start(core)} if core else {}
    told = {
        name: {**{word: _tidy(word, value) for word, value in known.items()}, **start}
        for name, known in pieces.items()
    }
    if set(told) <= {""}:
        return {"piece": told.get("", start)}
    return {"pieces": {name or "first": known for name, known in told.items()}}


def _start(words: str) -> str:
    """A core temperature as it goes on; RequestError where it is hotter than meat gets."""
    core = Temperature.parse(words)
    if core.c > PLAUSIBLE_C["core"][1]:
        raise RequestError(f"no core is at {core} when it goes on", mend="write it like --start 6C")
    return str(core)


def _tidy(word: str, value: str) -> str:
    """`3.1kg` as files hold it, `3.1 kg`."""
    if word == "weight":
        return Amount.parse(value).ascii()
    if word in ("length", "girth", "width", "thickness", "frenched"):
        return Length.parse(value).ascii()
    if word == "girth_ends":
        return ", ".join(Length.parse(one.strip()).ascii() for one in value.split(","))
    return value


def _with_inner(kitchen: Kitchen, recipe: Recipe) -> list[Recipe]:
    """The recipe and every recipe inside it, each once."""
    kitchen.digest(recipe)
    found = {recipe.name: recipe}
    for name in recipe.uses:
        for inner in _with_inner(kitchen, kitchen.recipe(name)):
            found[inner.name] = inner
    return list(found.values())


def _sheet(
    kitchen: Kitchen, recipe: Recipe, pieces: Mapping[str, Mapping[str, str]], cut: str | None
) -> dict[str, dict[str, str]]:
    """The amounts for these pieces of every paste and rub that goes on them, as the cook begins."""
    return {one.recipe.name: amounts_of(one) for one in _scaled(kitchen, recipe, pieces, cut)}


def _scaled(
    kitchen: Kitchen, recipe: Recipe, pieces: Mapping[str, Mapping[str, str]], cut: str | None
) -> Iterator[Scaled]:
    for coat, at_hand in for_pieces(kitchen, recipe, pieces, cut):
        yield scaled_to(coat, at_hand, weights=kitchen.weights, used=kitchen.used_by(coat), drawer=kitchen.drawer)


def amounts_of(scaled: Scaled) -> dict[str, str]:
    """What a sheet says of a scaled recipe: each item and how much of it, as it is measured."""
    return {line.item: line.measured().text for line in scaled.lines}


def goes_into(
    kitchen: Kitchen, name: str, pieces: Mapping[str, Mapping[str, str]], cut: str | None = None
) -> list[tuple[Scaled, Scaled]]:
    """Each recipe that goes into what the sheet of `name` lists, and into that, as much as is needed; with what it
    goes into."""
    found = [(one, outer) for outer in _scaled(kitchen, kitchen.recipe(name), pieces, cut)
             for one in inside(kitchen, outer)]
    for one, _ in found:  # The list grows by what goes into each of its own.
        found += [(inner, one) for inner in inside(kitchen, one)]
    return found


def create_entry(kitchen: Kitchen, name: str, day: str, head: Mapping[str, Any]) -> Entry:
    """Make the file of a new entry under the lock; a second one of a day and name ends in 2.

    Raises RequestError, with nothing written, where it could not be read as an entry.
    """
    folder = kitchen.root / "journal" / day[:4]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise StorageError(kitchen.shown(folder), fault.strerror or str(fault)) from None
    data = new_entry(head)
    stem = f"{day}-{name}"
    taken = {path.stem for path in folder.glob("*.yaml")}
    number = next(n for n in range(1, 10_000) if (stem if n == 1 else f"{stem}-{n}") not in taken)
    path = folder / f"{stem if number == 1 else f'{stem}-{number}'}.yaml"
    entry, problems = read_entry(
        parse(data, kitchen.shown(path)), path.stem, kitchen.settings["measures"], kitchen.cuts
    )
    if entry is None:
        raise RequestError(problems[0].message, mend=problems[0].mend, code=problems[0].code)
    create(path, data, name=kitchen.shown(path))
    undoing.remember(kitchen, path, b"", data, "the entry that was begun")
    return kitchen.entry(path.stem)


def open_entry(kitchen: Kitchen, name: str | None = None) -> Entry:
    """The entry called `name`; without a name, the one that is not finished: of the newest day, and of several then
    the one that was begun or written to last. As `add` gives it back. Raises RequestError."""
    if name is not None:
        return kitchen.entry(name, short=True)
    found: Entry | None = None
    written = 0
    broken: list[Problem] = []
    for path in _newest_first(kitchen):
        if found is not None and path.name[:1].isdigit() and path.name[:10] < found.date.isoformat():
            break
        if b"\nfinished:" in _told(path):
            continue
        entry, problems = kitchen.entry_with_problems(path, short=True)
        if entry is None:
            broken = broken or [problem for problem in problems if problem.severity == ERROR]
        elif entry.open and (found is None or (entry.date, path.stat().st_mtime_ns) > (found.date, written)):
            found, written = entry, path.stat().st_mtime_ns
    if found is None and broken:
        raise FileError(broken)
    if found is None:
        newest = next(_newest_first(kitchen), None)
        raise RequestError(
            "no entry is open",
            mend="begin one with `cookbook log start RECIPE`, or name one with --entry"
            + (f", the newest is {newest.stem}" if newest is not None else ""),
            code="no-open-entry",
        )
    return found


def _told(path: Path) -> bytes:
    """The file's bytes, none where it can't be read: what is wrong with it is told where it would be the open one."""
    try:
        return read_bytes(path, path.name)
    except FileError:
        return b""


def _newest_first(kitchen: Kitchen) -> Iterator[Path]:
    """The entries by the dates in their names, the newest first; a folder of an earlier year is listed last."""
    top = kitchen.root / "journal"
    folders = sorted(top.iterdir(), reverse=True) if top.is_dir() else []
    years = [folder for folder in folders if folder.name.isdigit() and folder.is_dir()]
    loose = [path for path in folders if path not in years]
    for path in loose:
        yield from map(Path, listing.files(str(path))) if path.is_dir() else [path] if path.suffix == ".yaml" else []
    for year in years:
        yield from sorted(map(Path, listing.files(str(year))), reverse=True)


def add(
    kitchen: Kitchen, entry: Entry, change: Callable[[Edit], Edit], words: str, copies: Sequence[undoing.Copy] = ()
) -> Entry:
    """Make `change` on whatever the entry's file holds by now, under the lock; `words` say what it was and `copies`
    what was put beside it, for undo.

    The entry that comes back has of a long list of events only the newest. Raises RequestError, with nothing written,
    where the entry could not be read any more after it.
    """
    path = kitchen.entry_path(entry)
    shown = kitchen.shown(path)
    with lock(kitchen.root):
        before = read_bytes(path, shown)
        document, data = _changed(before, change, shown, path)
        again, problems = read_entry(document, path.stem, kitchen.settings["measures"], kitchen.cuts)
        if again is None:
            raise RequestError(
                f"with this line the entry could not be read any more: {problems[0].message}",
                mend=problems[0].mend,
                code="unreadable",
            )
        save(path, data, expected_sha256=undoing.sha256(before), name=shown)
        if data != before:
            undoing.remember(kitchen, path, before, data, words, copies)
    return again


def weights_of(kitchen: Kitchen) -> Mapping[str, OwnWeight]:
    """The kitchen's own weights; none where their table can't be read, which is no reason to refuse a line."""
    try:
        return kitchen.weights
    except CookbookError:
        return {}


def _changed(
    before: bytes, change: Callable[[Edit], Edit], shown: str, path: Path
) -> tuple[Document, bytes]:
    """The file with the change made, as far as it has to be read for that, and its bytes."""
    part = short(before, shown, path)
    if part is not None:
        with suppress(FileError):
            edit = change(Edit(part.document))
            data = part.whole(edit)
            if data is not None:
                return edit.document, data
    edit = change(Edit(parse(before, shown, path)))
    return edit.document, edit.bytes()
