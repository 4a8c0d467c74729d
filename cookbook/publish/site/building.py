"""The whole cookbook as a static site: every recipe's page, its versions, the cooks marked public, index, feed, map.

It works from a folder as from any host: all links are relative, nothing is asked of anybody. A page is made again
only where something that it rests on changed; what each one rests on is kept in the cache.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import CookbookError, FileError, RequestError, StorageError
from cookbook.files import MAX_BYTES, plain_bytes, save
from cookbook.kitchen.cache import READERS, cache_folder, checksum, rules
from cookbook.kitchen.descent import called, now_called
from cookbook.kitchen.shared import is_address
from cookbook.publish import photo
from cookbook.publish.content.around import inside, place_in_site
from cookbook.publish.forms.page import page
from cookbook.publish.forms.structured import structured
from cookbook.publish.rendering import FOLDER, own_templates
from cookbook.publish.site.feed import atom, sitemap
from cookbook.publish.site.history_page import history_page
from cookbook.publish.site.index_page import index_page
from cookbook.publish.site.journal_page import entry_page
from cookbook.publish.site.standing import (
    AWAY,
    LEFT_OUT,
    STAYS,
    Known,
    against,
    as_made,
    placed,
    remember,
    remembered,
    stamps,
    told,
)

if TYPE_CHECKING:
    from cookbook.journal import Entry
    from cookbook.kitchen import Kitchen

MARK = '<meta name="generator" content="Carryover Cookbook">'
_TABLES = ("kitchen.yaml", "cookers.yaml", "cuts.yaml", "eaters.yaml", "ingredients.yaml")
"""What every page rests on in `shared/`."""
_LISTS = ("releases.yaml", "questions.yaml")
"""Tables whose lines are about one recipe each."""
_ROOMS = (*READERS, "kitchen/forecasting", "heat", "safety", "compare", "picture", "publish",
          "publish/content", "publish/forms", "publish/site")

Told = Callable[[str], None]


class Site(NamedTuple):
    """What was made: every page's path in the folder, which of them were written anew, what was taken away, what
    could not be published and why."""

    pages: tuple[str, ...]
    written: tuple[str, ...]
    removed: tuple[str, ...]
    warnings: tuple[str, ...]


def site(kitchen: Kitchen, out: str | Path, told: Told = lambda _name: None) -> Site:
    """Make or renew the site in the folder `out`.

    `told` hears of each page that is made. Raises RequestError for a folder that holds something else or lies in the
    kitchen's own folders, FileError for faults in what every page rests on, StorageError where it can't be written.
    """
    target = Path(out)
    _refuse(kitchen, target)
    for name in (*_TABLES, *_LISTS):
        kitchen.shared(name)
    return _Build(kitchen, target, told).run()


def _refuse(kitchen: Kitchen, target: Path) -> None:
    where, root = target.resolve(), kitchen.root.resolve()
    if (
        where == root
        or root.is_relative_to(where)
        or any(where.is_relative_to(root / part) for part in ("recipes", "journal", "shared"))
    ):
        raise RequestError(f"{target} is part of the kitchen", mend="name a folder of its own for the site")
    if target.exists() and not target.is_dir():
        raise RequestError(f"{target} is no folder", mend="name a new or empty folder")
    if target.is_dir() and any(target.iterdir()):
        index = target / "index.html"
        if not (index.is_file() and MARK in index.read_text(encoding="utf-8", errors="replace")[:4000]):
            raise RequestError(
                f"{target} is there already and holds something else", mend="name a new or empty folder"
            )


class _Build:
    """One run: what was known, what is now, and the files that belong to it."""

    def __init__(self, kitchen: Kitchen, target: Path, told: Told) -> None:
        self.kitchen, self.target, self.told = kitchen, target, told
        self.kept = cache_folder(kitchen.root) / f"site-{checksum(str(target.resolve()))}.json"
        self.before = remembered(self.kept)
        self.now: dict[str, Known] = {}
        self.written: list[str] = []
        self.warnings: list[str] = []
        self.faults: dict[tuple[str, str], list[str]] = {}
        self.base = _base(kitchen)
        self.shared_key = self._shared()
        self.digests = {path: digest.hex() for path, digest in kitchen.index.ask("SELECT path, digest FROM file")}
        self.cooks: dict[str, list[tuple[str, str]]] = {}
        for recipe, path in kitchen.index.ask(
            "SELECT u.recipe, f.path FROM used u JOIN file f ON f.id = u.entry ORDER BY f.path"
        ):
            self.cooks.setdefault(recipe, []).append((path, self.digests[path]))
        self.public = self._public()
        self.lines = self._lines()

    def run(self) -> Site:
        """Every page that is out of date; then what is left over is taken away, which no fault in what all of them
        stand in may hinder; then that."""
        if not (self.target / "index.html").is_file():
            self._write("index.html", f"<!DOCTYPE html>{MARK}<title>Being made</title>".encode())
        for name in self.kitchen.recipe_names():
            known = self.before.get(name)
            key = self._key(name, known.inner if known else ())
            if known is not None and known.key == key and as_made(self.target, known):
                self.now[name] = known
                continue
            self.told(name)
            try:
                self.now[name] = self._recipe(name)
            except StorageError:
                raise
            except CookbookError as fault:
                self._stays(name, placed(fault))
        files = [file for known in self.now.values() for file in known.files] + self._journal()
        removed = self._tidy(files)
        remember(self.kept, self.now)
        self.warnings += [one for known in self.now.values() for one in known.about["said"]]
        self.warnings += [told(fate, names, fault) for (fate, fault), names in self.faults.items()]
        files += self._whole()
        pages = tuple(sorted({file for file in files if file.endswith(".html")}))
        return Site(pages, tuple(self.written), tuple(removed), tuple(self.warnings))

    def _stays(self, name: str, fault: str) -> None:
        """The pages last made stay where nothing newer can be made, unless they may show what is private by now."""
        known = self.before.get(name)
        there = (self.target / "recipes" / f"{name}.html").is_file()
        fate = LEFT_OUT
        if known is not None and as_made(self.target, known):
            why = against(self.kitchen, name, known, {entry for entry, _ in self.public.get(name, ())})
            fate, fault = (AWAY, f"{fault}; {why}") if why else (STAYS, fault)
            if not why:
                self.now[name] = known
        elif there:
            fate, fault = AWAY, f"{fault}; nothing is kept here of what it shows, so it may be private by now"
        self.faults.setdefault((fate, fault), []).append(name)

    def _recipe(self, name: str) -> Known:
        from cookbook.publish.content.gathering import gather
        from cookbook.publish.forms.scaler import scaler

        self.kitchen.digest(self.kitchen.recipe(name))  # says so where it uses itself
        inner = tuple(sorted(self._inside(name)))
        for one in (name, *inner):
            inside(self.kitchen, "recipes", f"{one}.yaml")
        found = gather(self.kitchen, name)
        card = found.content
        if self.base:
            card = card._replace(address=self.base + place_in_site("recipes", name))
        files, pictures, said = self._pictures(name, card.pictures)
        images = [f"{self.base}{file}" for file in files] if self.base else []
        beside = [
            ("Versions", f"../{place_in_site('versions', name)}"),
            *((f"Cooked {day}", f"../{place_in_site('journal', entry)}") for entry, day in self.public.get(name, ())),
        ]
        text = page(
            card,
            self.kitchen.root,
            scaler(self.kitchen, found),
            pictures,
            "../index.html",
            structured(card, images),
            beside,
        )
        self._write(f"recipes/{name}.html", text.encode())
        self._write(f"versions/{name}.html", history_page(self.kitchen, found.recipe).encode())
        about = {
            "title": card.title,
            "kind": card.kind,
            "cut": card.cut,
            "lead": card.lead,
            "dated": card.dated,
            "revision": card.revision,
            "said": said,
            "words": " ".join([card.title, card.kind, card.cut, *(item.item for item in card.every_item)]),
        }
        made = (f"recipes/{name}.html", f"versions/{name}.html", *files)
        private = tuple(one for one in (name, *inner) if self.kitchen.recipe(one).private)
        if found.recipe.private:
            said += [f"{one} goes into {name}, a private formula, and has a page of its own here: "
                     "`formula: private` in it leaves its ingredients out" for one in inner if one not in private]
        cooks = tuple(entry for entry, _ in self.public.get(name, ()))
        return Known(self._key(name, inner), inner, stamps(self.target, made), about, private,
                     tuple(found.recipe.photos), cooks)

    def _inside(self, name: str) -> set[str]:
        found: set[str] = set()
        for inner in self.kitchen.recipe(name).uses:
            found |= {inner, *self._inside(inner)}
        return found

    def _pictures(self, name: str, pictures: Any) -> tuple[list[str], list[tuple[str, str]], list[str]]:
        """The pictures, bare, under a name that tells nothing: their files, what each shows with its way, and what is
        to be said of those that can't be shown."""
        files, shown, said = [], [], []
        for one in pictures:
            try:
                data, kind = photo.read(inside(self.kitchen, "", one.path), one.path)
            except RequestError as fault:
                said.append(f"the page of {name} goes without a picture: {fault.message}")
                continue
            file = f"pictures/{_name_of(data)}.{kind.partition('/')[2]}"
            self._write(file, data)
            files.append(file)
            shown.append((one.shows, f"../{file}"))
        return files, shown, said

    def _public(self) -> dict[str, list[tuple[str, str]]]:
        """The cooks marked public by recipe, newest first: name and day."""
        found: dict[str, list[tuple[str, str]]] = {}
        self.entries: list[tuple[str, Entry]] = []
        for (path,) in self.kitchen.index.ask("SELECT path FROM file WHERE path LIKE 'journal/%' ORDER BY path DESC"):
            where = self.kitchen.root / path
            if not _mentions(where, b"public"):
                continue
            entry, problems = self.kitchen.entry_with_problems(where)
            if entry is None and (self.target / "journal" / f"{where.stem}.html").is_file():
                fault = f"{placed(FileError(problems))}; it may be private by now"
                self.faults.setdefault((AWAY, fault), []).append(where.stem)
            if entry is None or entry.fields.get("public") is not True or not entry.recipe:
                continue
            try:
                for one in (where.name, *entry.readings):
                    inside(self.kitchen, where.parent.relative_to(self.kitchen.root).as_posix(), one)
            except RequestError as fault:
                self.warnings.append(f"{entry.name} is left out: {fault.message}")
                continue
            recipe = now_called(self.kitchen, entry.recipe) or entry.recipe
            self.entries.append((recipe, entry))
            found.setdefault(recipe, []).append((entry.name, entry.date.isoformat()))
        return found

    def _journal(self) -> list[str]:
        files = []
        for recipe, entry in self.entries:
            if recipe not in self.now:
                continue
            title, file = self.now[recipe].about["title"], f"journal/{entry.name}.html"
            try:
                self._write(file, entry_page(self.kitchen, entry, recipe, title).encode())
            except StorageError:
                raise
            except CookbookError as fault:
                fate = STAYS if (self.target / file).is_file() else LEFT_OUT
                self.faults.setdefault((fate, placed(fault)), []).append(entry.name)
                if fate == LEFT_OUT:
                    continue
            files.append(file)
        return files

    def _whole(self) -> list[str]:
        """Index, feed and map."""
        about = dict(sorted(((name, known.about) for name, known in self.now.items()),
                            key=lambda pair: (pair[1]["kind"] != "cook", pair[1]["title"].casefold())))
        settings = self.kitchen.settings
        self._write("index.html", index_page(self.kitchen, self.base, about).encode())
        if not self.base:
            address = settings.get("address")
            where = f"is no whole one: '{address}'" if address else "says where the site will be"
            self.warnings.append(f"no feed and no map: `address:` in shared/kitchen.yaml {where}")
            return ["index.html"]
        self._write("feed.xml", atom(self.base, settings, about))
        self._write("sitemap.xml", sitemap(self.base, about))
        return ["index.html", "feed.xml", "sitemap.xml"]

    def _write(self, name: str, data: bytes) -> None:
        """A file of the site, whole, where it isn't there already as it should be."""
        path = self.target / name
        try:
            if path.is_file() and path.read_bytes() == data:
                return
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as fault:
            raise StorageError(str(path), fault.strerror or str(fault)) from None
        save(path, data)
        self.written.append(name)

    def _tidy(self, files: list[str]) -> list[str]:
        """Takes away pages and pictures of a former run that nothing leads to any more; what the cook put beside
        them stays."""
        wanted = set(files)
        made = {file for known in self.before.values() for file in known.files}
        found = []
        for folder in ("recipes", "versions", "journal", "pictures"):
            where = self.target / folder
            for path in sorted(where.iterdir()) if where.is_dir() else ():
                name = f"{folder}/{path.name}"
                if path.is_file() and name not in wanted and (name in made or _ours(path)):
                    path.unlink()
                    found.append(name)
        return found

    def _shared(self) -> str:
        """What every page rests on: the program, some of the kitchen's tables and its own templates."""
        told = hashlib.sha256(rules(*_ROOMS).encode())
        shared = [self.kitchen.root / "shared" / name for name in _TABLES]
        places = [*FOLDER.rglob("*"), *own_templates(self.kitchen.root).rglob("*"), *shared]
        for path in sorted(path for path in places if path.is_file()):
            told.update(path.name.encode(errors="replace") + b"\0" + plain_bytes(path, MAX_BYTES) + b"\0")
        return told.hexdigest()

    def _lines(self) -> dict[str, list[str]]:
        """What the tables of releases and questions say of each recipe, a release's list of markers with it."""
        found: dict[str, list[str]] = {}
        for path in (self.kitchen.root / "shared" / name for name in _LISTS):
            document = self.kitchen.document(path)[0] if path.is_file() else None
            for one in document.root.items if document is not None and document.root is not None else ():
                said, recipe, markers = json.dumps(one.data()), one.get("recipe"), one.get("markers")
                if markers is not None:
                    with suppress(OSError, RequestError):
                        said += plain_bytes(inside(self.kitchen, "shared", markers.text), MAX_BYTES).hex()
                if recipe is not None:
                    found.setdefault(called(self.kitchen, recipe.text.strip()), []).append(said)
        return found

    def _key(self, name: str, inner: tuple[str, ...]) -> str:
        told = hashlib.sha256(self.shared_key.encode())
        for one in (name, *inner):
            told.update(f"{one} {self.digests.get(f'recipes/{one}.yaml')} {self.cooks.get(one)}\n".encode())
        told.update(repr((self.public.get(name), self.lines.get(name))).encode())
        return told.hexdigest() + self._photos(name)

    def _photos(self, name: str) -> str:
        """When the pictures that a recipe names last changed; its text tells which they are."""
        path = self.kitchen.root / "recipes" / f"{name}.yaml"
        stamps: list[tuple[str, ...]] = []
        with suppress(CookbookError):
            for one in self.kitchen.recipe(name).photos if _mentions(path, b"photos") else ():
                stamps.append((one,))
                with suppress(OSError, RequestError):
                    seen = inside(self.kitchen, "", one).stat()
                    stamps[-1] = (one, str(seen.st_size), str(seen.st_mtime_ns))
        return checksum(repr(stamps)) if stamps else ""


def _marked(path: Path) -> bool:
    """Whether this is a page that a run of ours wrote."""
    return MARK in path.read_text(encoding="utf-8", errors="replace")[:4000]


def _ours(path: Path) -> bool:
    """Whether a run of ours wrote this: a page with the mark, a picture under the name of its bytes."""
    if path.parent.name != "pictures":
        return _marked(path)
    return path.stem == _name_of(path.read_bytes())


def _name_of(picture: bytes) -> str:
    return hashlib.sha256(picture).hexdigest()[:20]


def _base(kitchen: Kitchen) -> str:
    """The site's address with a slash at its end; '' where the kitchen names none."""
    address = kitchen.settings.get("address") or ""
    return f"{address.rstrip('/')}/" if is_address(address) else ""


def _mentions(path: Path, word: bytes) -> bool:
    """Whether a recipe or an entry can hold a field at all; not what can't be read."""
    try:
        return word in plain_bytes(path, MAX_BYTES)
    except OSError:
        return False
