"""A kitchen: one folder on disk with its recipes, its journal and its shared tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, CookbookError, FileError, Problem, RequestError, UnknownName
from cookbook.files import Document
from cookbook.files import read as read_file
from cookbook.kitchen import listing, store
from cookbook.recipe import Recipe, digest, loop, stored_version, use_node, version
from cookbook.recipe import read as read_recipe

if TYPE_CHECKING:
    from cookbook.heat import Forecast
    from cookbook.journal import Entry
    from cookbook.journal.readings import Reading
    from cookbook.kitchen.finding.index import Index
    from cookbook.meat import Cut, Piece
    from cookbook.quantity import OwnWeight, Scoop
    from cookbook.recipe.scaling import Habits, Scaled


class Kitchen:
    """A kitchen at `root`. Files are read when asked for and kept for the life of the object."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._recipes: dict[str, Recipe] = {}
        self._digests: dict[str, str] = {}
        self._settings: dict[str, Any] | None = None
        self._names: frozenset[str] = frozenset()
        self._lost: tuple[str, ...] | None = None
        self._index: Index | None = None
        self._weights: Mapping[str, OwnWeight] | None = None
        self._cuts: tuple[Cut, ...] | None = None

    def __repr__(self) -> str:
        return f"<Kitchen {self.root}: {len(self.recipe_names())} recipes, {len(self.entry_paths())} entries>"

    @classmethod
    def open(cls, folder: str | Path | None = None) -> Kitchen:
        """The kitchen in `folder`; without one, the nearest folder upwards from here that holds `recipes/`.

        Raises RequestError where there is none.
        """
        start = Path(folder) if folder is not None else Path.cwd()
        for place in [start, *([] if folder is not None else start.resolve().parents)]:
            if (place / "recipes").is_dir():
                return cls(place)
        raise RequestError(
            f"{start} is no kitchen: it holds no folder recipes/",
            mend="make one with `cookbook new my-kitchen`, or name one with --kitchen",
            code="no-kitchen",
        )

    def shown(self, path: Path) -> str:
        """A path as people see it: from the kitchen's root, with forward slashes."""
        try:
            return path.relative_to(self.root).as_posix()
        except ValueError:
            return str(path)

    @property
    def settings(self) -> dict[str, Any]:
        """What `shared/kitchen.yaml` says, typed; `measures` is `us` where it says nothing."""
        if self._settings is None:
            self._settings = {"measures": "us", **(self.shared("kitchen.yaml") or {})}
        return self._settings

    @property
    def weights(self) -> Mapping[str, OwnWeight]:
        """The kitchen's own weighings of ingredients, averaged, by item in small letters."""
        if self._weights is None and (self.root / "shared" / "ingredients.yaml").is_file():
            from cookbook.kitchen.ingredients import own_weights_of

            self._weights = own_weights_of(self)
        return self._weights or {}

    @property
    def drawer(self) -> tuple[Scoop, ...] | None:
        """The kitchen's own spoons and cups (`spoons:` of its settings), largest first; None without any."""
        if not self.settings.get("spoons"):
            return None
        from cookbook.quantity import drawer_of

        return drawer_of(tuple(self.settings["spoons"]), self.settings["measures"])

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """The kitchen's own cuts, from `shared/cuts.yaml`."""
        if self._cuts is None and (self.root / "shared" / "cuts.yaml").is_file():
            from cookbook.kitchen.cuts import own_cuts_of

            self._cuts = own_cuts_of(self)
        return self._cuts or ()

    @property
    def learns(self) -> bool:
        """Whether what the cooks have taught is used; `learning: off` in `shared/kitchen.yaml` sets it aside."""
        return bool(self.settings.get("learning") != "off")

    def habits(self, recipe: str) -> Habits:
        """What the entries have taught about a recipe, whether it is used or not."""
        from cookbook.kitchen.learning.habits import habits

        return habits(self, recipe)

    def forgive(self) -> Kitchen:
        """Go on with the usual words, cuts and weights where a table of `shared/` can't be read; for `check`."""
        for read in (lambda: self.settings, lambda: self.cuts, lambda: self.weights):
            try:
                read()
            except CookbookError:
                continue
        self._settings = self._settings or {"measures": "us"}
        self._cuts = self._cuts or ()
        self._weights = self._weights or {}
        return self

    def shared(self, name: str) -> Any:
        """A table of `shared/`, typed, or None where there is none. Raises FileError where it holds errors."""
        path = self.root / "shared" / name
        if not path.is_file():
            return None
        value, problems = self.shared_with_problems(path)
        errors = [problem for problem in problems if problem.severity == ERROR]
        if errors:
            raise FileError(errors)
        return value

    def document(self, path: Path) -> tuple[Document | None, list[Problem]]:
        """A file's nodes, or none and why it can't be read at all."""
        try:
            return read_file(path, self.shown(path)), []
        except FileError as fault:
            return None, fault.problems

    def shared_with_problems(self, path: Path) -> tuple[Any, list[Problem]]:
        """A table of `shared/` and every fault in it."""
        from cookbook.files.record import read

        document, problems = self.document(path)
        if document is None:
            return None, problems
        problems = list(document.problems)
        return read(document, document.root, _kind_of(path.name), problems, path.name), problems

    # recipes

    def recipe_paths(self) -> list[Path]:
        """The recipe files, by name."""
        return [self.root / "recipes" / f"{name}.yaml" for name in self.recipe_names()]

    def recipe_names(self) -> list[str]:
        """The names of all recipes."""
        return listing.names(str(self.root / "recipes"))

    def has_recipe(self, name: str) -> bool:
        """Whether a recipe is called `name`."""
        if name not in self._names:
            self._names = frozenset(self.recipe_names())
        return name in self._names

    @property
    def lost_names(self) -> tuple[str, ...]:
        """Names that versions are kept under and no recipe has any more."""
        if self._lost is None:
            self._lost = tuple(name for name in store.recipes(self.root) if not self.has_recipe(name))
        return self._lost

    def recipe(self, name: str) -> Recipe:
        """The recipe `name` as it stands, or `name@version`, `name@revision` from the store.

        Raises UnknownName with the nearest names, FileError where the file holds errors.
        """
        plain, _, wanted = name.partition("@")
        if wanted:
            return self.kept_recipe(self.find_version(plain, wanted))
        if plain not in self._recipes:
            path = self.root / "recipes" / f"{plain}.yaml"
            if not self.has_recipe(plain):
                from difflib import get_close_matches

                names = self.recipe_names()
                near = get_close_matches(plain, names, 3, 0.5)
                near = near or [one for one in names if get_close_matches(plain, one.split("-"), 1, 0.7)]
                raise UnknownName(
                    "recipe", plain, near, mend=None if near else "`cookbook list` shows the recipes there are"
                )
            self._recipes[plain] = self._typed(read_file(path, self.shown(path)), plain)
        return self._recipes[plain]

    def _typed(self, document: Document, name: str) -> Recipe:
        recipe, problems = read_recipe(document, name, self.settings["measures"], self.cuts)
        if recipe is None:
            raise FileError([problem for problem in problems if problem.severity == ERROR])
        return recipe

    def used_by(self, recipe: Recipe) -> Callable[[str], Recipe]:
        """A finder of the recipes inside `recipe` whose errors point at the line that names them."""

        def find(name: str) -> Recipe:
            try:
                return self.recipe(name)
            except UnknownName as fault:
                node = use_node(recipe, name)
                place = recipe.document.place(node) if node is not None else None
                raise FileError([Problem(ERROR, "missing-recipe", fault.message, place, fault.mend)]) from None

        return find

    def no_loop(self, recipe: Recipe, path: tuple[str, ...] = ()) -> None:
        """Raises FileError where a recipe uses itself, or one inside it is missing; cheaper than its digest."""
        for name in recipe.uses:
            if name in (*path, recipe.name):
                raise FileError([loop(recipe, name, (*path, recipe.name, name))])
            self.no_loop(self.used_by(recipe)(name), (*path, recipe.name))

    def digest(self, recipe: Recipe) -> str:
        """The full digest of a recipe as it stands, its inner recipes as they stand."""
        if recipe.name not in self._digests or self._recipes.get(recipe.name) is not recipe:
            found = digest(recipe, self.used_by(recipe))
            if self._recipes.get(recipe.name) is not recipe:
                return found
            self._digests[recipe.name] = found
        return self._digests[recipe.name]

    def scaled(
        self, name: str, piece: Piece | Sequence[Piece] | None = None, *, cut: str | None = None, **known: str
    ) -> list[Scaled]:
        """What `scale` gives: the recipe, or every coat of a cook, by this kitchen's own weights, spoons and habits.

        `piece` is one or several; or `known` tells of one in the files' words, `weight="4.4 kg"`, `ribs="4"`. With
        neither it is the piece as written. Raises UnknownName, FileError, PieceError, RequestError.
        """
        from cookbook.kitchen.sizing import for_pieces, scaled

        recipe = self.recipe(name)
        self.no_loop(recipe)
        coats = for_pieces(self, recipe, {"": known} if known else {}, cut)
        return [scaled(self, coat, usual if piece is None else piece) for coat, usual in coats]

    def forecast(self, name: str, piece: Piece | None = None, *, learn: bool = True, **asked: Any) -> Forecast:
        """What `forecast` gives for a recipe or an entry, sharpened by what this kitchen's cooks have taught.

        `asked` are `pit_c`, `pull_c`, `start_c`, `cooker` and `want` (a doneness on the board), and what is known of
        the piece in the files' words, `weight="4.4 kg"`. Raises UnknownName, FileError, PieceError, RequestError.
        """
        from cookbook.kitchen.forecasting import outlook

        return outlook.run(self, outlook.wanted(self, name, piece, asked), learn)

    # versions

    def kept_recipe(self, stored: store.Stored) -> Recipe:
        """A recipe from the store, its bytes verified."""
        from cookbook.files import parse

        shown = self.shown(stored.path)
        return self._typed(parse(store.read(stored, shown), shown), stored.recipe)

    def find_version(self, recipe: str, wanted: str) -> store.Stored:
        """A kept version by its digits (any beginning that fits only one) or by its revision number."""
        from cookbook.kitchen.descent import names_of

        versions = [kept for called in reversed(names_of(self, recipe)) for kept in store.kept(self.root, called)]
        fits = (
            [kept for kept in versions if kept.version.startswith(wanted)]
            if "-" in wanted
            else [kept for kept in versions if str(self.kept_recipe(kept).revision) == wanted]
        )
        if len({kept.meaning for kept in fits}) == 1:
            return fits[-1]
        if fits:
            raise UnknownName("one version", f"{recipe}@{wanted}", [f"{recipe}@{kept.version}" for kept in fits])
        raise UnknownName(
            "kept version",
            f"{recipe}@{wanted}",
            [f"{recipe}@{kept.version}" for kept in versions],
            mend=None if versions else "versions are kept when a cook begins with `cookbook log start`",
        )

    def version_now(self, recipe: Recipe) -> str:
        """The name under which `recipe` as it stands would be kept."""
        return stored_version(self.digest(recipe), recipe.document.data)

    def short_version(self, recipe: Recipe) -> str:
        """The rule and 12 digits of the meaning of `recipe` as it stands."""
        return version(self.digest(recipe))

    # journal

    def entry_paths(self) -> list[Path]:
        """The entry files, oldest name first."""
        return sorted(map(Path, listing.files(str(self.root / "journal"))))

    @property
    def index(self) -> Index:
        """The index of everything that the files say, in line with them whenever it is asked."""
        if self._index is None:
            from cookbook.kitchen.finding.index import Index

            self._index = Index(self)
        return self._index

    def entries(
        self, naming: Sequence[str] = (), cut: str | None = None, open_lines: bool = False, newest: bool = False
    ) -> Iterator[Entry]:
        """All entries that read, oldest name first, or with `newest` last.

        With `naming` and `cut`, at least those that cooked one of these recipes or that cut; with `open_lines`, of
        those at least every one with a `next_time` line that nobody has ticked.
        """
        from cookbook.kitchen.finding.picking import picked

        paths = picked(self, naming, cut, open_lines) if naming or cut or open_lines else self.entry_paths()
        for path in reversed(paths) if newest else paths:
            entry, _ = self.entry_with_problems(path)
            if entry is not None:
                yield entry

    def entry_path(self, entry: Entry) -> Path:
        """The file of an entry of this kitchen."""
        if entry.document.path is not None:
            return Path(entry.document.path)
        return next(path for path in self.entry_paths() if path.stem == entry.name)

    def entry_with_problems(self, path: Path, short: bool = False) -> tuple[Entry | None, list[Problem]]:
        """One entry and every fault in its file; `short` is for logging, which of many events needs the newest."""
        from cookbook.journal import read

        if short and (found := self._short(path)) is not None:
            return found, []
        document, problems = self.document(path)
        return (
            (None, problems) if document is None else read(document, path.stem, self.settings["measures"], self.cuts)
        )

    def _short(self, path: Path) -> Entry | None:
        """An entry without most of its events; None where it has few, or any fault."""
        from cookbook.files import read_bytes, short
        from cookbook.journal import read

        try:
            part = short(read_bytes(path, self.shown(path)), self.shown(path), path)
        except FileError:
            return None
        return read(part.document, path.stem, self.settings["measures"], self.cuts)[0] if part is not None else None

    def entry(self, name: str, short: bool = False) -> Entry:
        """The entry called `name`: its file's name, or a beginning or an end of it that fits only one.

        Raises UnknownName with the nearest names, FileError where the file holds errors.
        """
        files = list(listing.files(str(self.root / "journal")))
        plain = Path(name).name.removesuffix(".yaml")
        fits = [Path(file) for file in files if plain in file]
        fits = [path for path in fits if path.stem == plain] or [
            path for path in sorted(fits) if path.stem.startswith(plain) or path.stem.endswith(f"-{plain}")
        ]
        if len(fits) != 1:
            from difflib import get_close_matches

            stems = [Path(file).stem for file in files]
            near = [path.stem for path in fits] or get_close_matches(plain, stems, 3, 0.4)
            raise UnknownName(
                "one entry" if fits else "entry",
                name,
                near,
                mend=None if near else "`cookbook list` shows the entries there are",
            )
        entry, problems = self.entry_with_problems(fits[0], short)
        if entry is None:
            raise FileError([problem for problem in problems if problem.severity == ERROR])
        return entry

    def readings(self, entry: Entry) -> list[Reading]:
        """All readings of an entry by time: those in its events and those in the file beside it."""
        from cookbook.kitchen.probes import readings_of

        return readings_of(self, entry)[0]


def _kind_of(table: str) -> Any:
    """What a table of `shared/` holds; the settings, which every verb reads, without the others."""
    if table == "kitchen.yaml":
        from cookbook.kitchen.settings import KITCHEN

        return KITCHEN
    from cookbook.kitchen.shared import TABLES

    return TABLES[table]
