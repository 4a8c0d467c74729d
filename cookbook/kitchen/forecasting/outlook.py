"""A forecast for a recipe, an entry or a cut: what the heat room needs, gathered from the kitchen.

Learned numbers come from the kitchen's finished entries; each entry's lesson is kept in the cache by the digest of
all that it rests on, and made anew when that changes.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.heat import (
    Cooker,
    Event,
    Forecast,
    Lesson,
    Reading,
    Rest,
    Slicing,
    Wrap,
    bands,
    forecast,
    learned_priors,
    lesson,
    slicing,
)
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.kitchen.cache import cache_folder, keep
from cookbook.kitchen.care import cooked_recipe
from cookbook.kitchen.forecasting.underway import Underway, underway
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import bytes_of
from cookbook.kitchen.sizing import Said, for_pieces
from cookbook.meat import Cut, Piece
from cookbook.recipe import Pit, Recipe

FRIDGE_C = 4.0
"""Core temperature of meat from the refrigerator, where nobody measured it."""
MODEL = "4"
"""The heat model that kept lessons rest on; another one makes them anew."""
USUAL_RISE_K = 4.0
"""What a rest adds where nobody said which doneness is wanted."""
COVERS = {"bare": "bare", "tented": "tented", "insulated box": "box"}


class Wanted(NamedTuple):
    """All that a forecast is asked for; temperatures in °C, minutes from the meat going on."""

    piece: Piece
    pit_c: float
    pull_c: float
    start_c: float = FRIDGE_C
    cooker: Cooker | None = None
    rest: Rest | None = None
    wrap: Wrap | None = None
    readings: tuple[Reading, ...] = ()
    pulled_min: float | None = None
    pit_log: tuple[tuple[float, float], ...] = ()
    events: tuple[Event, ...] = ()
    from_now_c: float | None = None
    serve_c: float | None = None
    aimed: bool = False
    """Whether the pull was chosen for `serve_c`."""

    def settings(self) -> dict[str, Any]:
        """The keywords that the heat room's calls share."""
        return {
            "pit_c": self.pit_c,
            "pull_c": self.pull_c,
            "start_c": self.start_c,
            "cooker": self.cooker,
            "rest": self.rest,
            "wrap": self.wrap,
            "events": self.events,
            "pit_log": self.pit_log,
        }

    def underway(self) -> dict[str, Any]:
        """Those keywords and what has been read, for the calls that go on with a cook."""
        return {**self.settings(), "readings": self.readings, "pulled_min": self.pulled_min}

    @property
    def board_c(self) -> float:
        """What the core should come to on the board: the doneness that was asked for, or what a usual rest adds."""
        return self.serve_c if self.serve_c is not None else self.pull_c + USUAL_RISE_K

    @property
    def treatment(self) -> str:
        """What lessons are kept apart by: bare, or what it is wrapped in."""
        return self.wrap.kind if self.wrap else "bare"


class Asked(NamedTuple):
    """What the cook said beside the recipe; None where nothing. `want` is a doneness on the board.

    In the middle of a cook `pit_c` is the fire from now on.
    """

    pit_c: float | None = None
    pull_c: float | None = None
    start_c: float | None = None
    cooker: str | None = None
    want: str | None = None


def of_recipe(kitchen: Kitchen, recipe: Recipe, said: Said, asked: Asked, piece: Piece | None = None) -> Wanted:
    """The forecast that a recipe asks for, on `piece`, the piece said or the one it was made for."""
    if piece is not None:
        return _wanted(kitchen, piece, recipe.pit, recipe, asked)
    coats = for_pieces(kitchen, recipe, said)
    if not coats and said and recipe.meat is not None:
        return _wanted(kitchen, piece_of(kitchen, recipe.meat, said), recipe.pit, recipe, asked)
    if not coats and recipe.made_for is not None:
        return _wanted(kitchen, recipe.made_for.piece(), recipe.pit, recipe, asked)
    if not coats:
        raise RequestError(
            f"{recipe.name} names no piece", mend="say it with --weight 3.1kg, --ribs 4 or a tape measure"
        )
    return _wanted(kitchen, coats[0][1][0], recipe.pit, recipe, asked)


def wanted(kitchen: Kitchen, name: str, piece: Piece | None, told: Mapping[str, Any]) -> Wanted:
    """The forecast of a recipe or an entry by name; `told` are fields of `Asked` and what is known of the piece."""
    asked = Asked(**{key: value for key, value in told.items() if key in Asked._fields})
    known = {key: value for key, value in told.items() if key not in Asked._fields}
    if kitchen.has_recipe(name.partition("@")[0]):
        return of_recipe(kitchen, kitchen.recipe(name), {"": known} if known else {}, asked, piece)
    if known or piece is not None:
        raise RequestError(f"{name} is no recipe, and an entry has its own piece", mend="leave the piece out")
    return of_entry(kitchen, kitchen.entry(name), asked)


def of_cut(kitchen: Kitchen, piece: Piece, asked: Asked) -> Wanted:
    """The forecast for a piece without a recipe."""
    return _wanted(kitchen, piece, None, None, asked)


def of_entry(kitchen: Kitchen, entry: Entry, asked: Asked, piece: str | None = None) -> Wanted:
    """The forecast that an entry's cook goes on with: its piece, its fire and the readings so far.

    Of several pieces the one named `piece` with its own readings, else the first with all of them.
    """
    recipe = cooked_recipe(kitchen, entry)
    cut = recipe.meat if recipe else None
    own = [one for one in entry.pieces if piece is None or one.name == piece]
    pieces = [found for one in own if (found := one.piece(cut)) is not None]
    if not pieces:
        raise RequestError(f"{entry.name} doesn't say which piece is cooked", mend="add `piece:` with its weight")
    started = next((one.fields.get("start") for one in own if one.fields.get("start")), None)
    named = entry.fields.get("cooker") or (recipe.pit.cooker if recipe and recipe.pit else None)
    planned = recipe.pit.temperature.c if recipe and recipe.pit and recipe.pit.temperature else None
    so_far = underway(kitchen, entry, piece or None)
    told = asked._replace(
        pit_c=so_far.pit_c(planned, asked.pit_c),
        start_c=asked.start_c if asked.start_c is not None else (started.c if started else None),
        cooker=asked.cooker or named,
    )
    wanted = _wanted(kitchen, pieces[0], recipe.pit if recipe else None, recipe, told)
    return _with_log(wanted, so_far, asked)


def _with_log(wanted: Wanted, so_far: Underway, asked: Asked) -> Wanted:
    """With what was read and done. A pit asked for in the middle of a cook is the fire from now on."""
    if so_far.wrapped_min is not None:
        wanted = wanted._replace(wrap=Wrap(wanted.wrap.kind if wanted.wrap else "foil", None, so_far.wrapped_min))
    if asked.pull_c is None and so_far.pulled_c is not None:
        wanted = wanted._replace(pull_c=so_far.pulled_c)
    return wanted._replace(
        readings=so_far.readings,
        pit_log=so_far.pit_log,
        events=so_far.lids,
        pulled_min=so_far.pulled_min,
        from_now_c=asked.pit_c if so_far.readings and so_far.pulled_min is None else None,
    )


def _wanted(kitchen: Kitchen, piece: Piece, pit: Pit | None, recipe: Recipe | None, asked: Asked) -> Wanted:
    cooker = cooker_of(kitchen, asked.cooker or (pit.cooker if pit else None))
    pit_c = asked.pit_c if asked.pit_c is not None else (pit.temperature.c if pit and pit.temperature else None)
    if pit_c is None:
        raise RequestError("how hot is the pit?", mend="say it with --pit 121C")
    rest = recipe.rest if recipe else None
    minutes = rest.time.seconds / 60 if rest and rest.time else 20.0
    resting = Rest(minutes, COVERS[rest.cover] if rest and rest.cover else "tented")
    wrap = _wrap(pit)
    pull_c = asked.pull_c if asked.pull_c is not None else (recipe.pull_at.c if recipe and recipe.pull_at else None)
    start_c = asked.start_c if asked.start_c is not None else FRIDGE_C
    serve_c = _served(piece, asked.want) if asked.want is not None else None
    aimed = serve_c is not None and asked.pull_c is None
    if serve_c is not None and aimed:
        pull_c = _pull_for(Wanted(piece, pit_c, serve_c, start_c, cooker, resting), serve_c)
    if pull_c is None:
        raise RequestError(
            "at what core temperature does it come off?", mend="say it with --pull 54C or --want medium"
        )
    return Wanted(piece, pit_c, pull_c, start_c, cooker, resting, wrap, serve_c=serve_c, aimed=aimed)


def _wrap(pit: Pit | None) -> Wrap | None:
    if pit is None or pit.wrap is None:
        return None
    kind = "paper" if "paper" in pit.wrap.casefold() else "foil"
    return Wrap(kind, pit.wrap_at.c if pit.wrap_at else 70.0)


def _served(piece: Piece, want: str) -> float:
    """What to aim for on the board for a doneness."""
    known = {band.name: band for band in bands(piece.cut.species)}
    band = known.get(want.strip().casefold())
    if band is None:
        from cookbook.errors import UnknownName

        raise UnknownName("doneness", want, list(known), mend=f"known for {piece.cut.species}: {', '.join(known)}")
    return band.served_c


def _pull_for(wanted: Wanted, serve_c: float, known: Mapping[str, tuple[float, float]] | None = None) -> float:
    """The pull that brings this temperature to the board after the rest."""
    from cookbook.heat import pull_advice

    settings = {key: value for key, value in wanted.settings().items() if key not in ("pull_c", "wrap")}
    rest_min = wanted.rest.minutes if wanted.rest is not None else 0.0
    pairs = pull_advice(wanted.piece, serve_c=serve_c, priors=known, **settings)
    fits = [pair for pair in pairs if pair.rest_min <= rest_min]
    return fits[-1].pull_c if fits else pairs[0].pull_c if pairs else serve_c


def when_to_slice(wanted: Wanted, known: Taught) -> Slicing | None:
    """Once it is pulled: when to slice, what slicing at the last reading means, how long it keeps; else None.

    On what is `known` from earlier cooks, as the forecast beside it is.
    """
    if wanted.pulled_min is None:
        return None
    last = max((one.minute for one in wanted.readings), default=wanted.pulled_min)
    return slicing(
        wanted.piece,
        serve_c=wanted.board_c,
        now_min=max(last - wanted.pulled_min, 0.0),
        priors=known.priors,
        **wanted.underway(),
    )


def cooker_of(kitchen: Kitchen, name: str | None) -> Cooker:
    """A cooker by its name in `shared/cookers.yaml`, or by its kind; an oven where nobody said."""
    if name is None:
        return Cooker()
    own = (kitchen.shared("cookers.yaml") or {}).get(name)
    if own is not None:
        hotter = own.get("hotter_by")
        return Cooker(own["kind"], own.get("gauge") or "grate", hot_side=own.get("hot_side"),
                      hotter_k=None if hotter is None else hotter.k, name=name)
    return Cooker(name)


class Taught(NamedTuple):
    """Priors that finished cooks have taught, as the heat room takes them, and how many cooks they are from."""

    priors: Mapping[str, tuple[float, float]] | None = None
    cooks: int = 0


def taught(kitchen: Kitchen, wanted: Wanted, told: Callable[[str], None] = lambda _: None) -> Taught:
    """What this kitchen's finished cooks say of a forecast; `told` hears of each that is worked through once."""
    if not kitchen.learns:
        return Taught()
    cooker, cut = wanted.cooker or Cooker(), wanted.piece.cut.name
    found = list(lessons(kitchen, cooker, cut, told))
    priors, cooks = learned_priors(found, cooker=cooker, cut=cut, treatment=wanted.treatment)
    return Taught(priors or None, cooks)


def aimed(wanted: Wanted, known: Taught) -> Wanted:
    """With the pull that comes to the doneness asked for by what is `known` from earlier cooks; one said stays."""
    if not wanted.aimed or wanted.serve_c is None or known.priors is None or wanted.pulled_min is not None:
        return wanted
    return wanted._replace(pull_c=_pull_for(wanted, wanted.serve_c, known.priors))


def run(
    kitchen: Kitchen, wanted: Wanted, learn: bool = True, told: Callable[[str], None] = lambda _: None
) -> Forecast:
    """The forecast, sharpened by what this kitchen's finished cooks have taught, unless `learn` or the kitchen's own
    `learning: off` sets that aside.

    `told` hears of each cook that has to be worked through once.
    """
    known = taught(kitchen, wanted, told) if learn else Taught()
    return told_by(aimed(wanted, known), known)


def told_by(wanted: Wanted, known: Taught, members: int = 200) -> Forecast:
    """The forecast on what is `known` already; fewer `members` are quicker and rougher."""
    return forecast(
        wanted.piece,
        **wanted.settings(),
        priors=known.priors,
        learned_from=known.cooks,
        readings=wanted.readings or None,
        pulled_min=wanted.pulled_min,
        from_now_c=wanted.from_now_c,
        members=members,
    )


def lessons(
    kitchen: Kitchen, cooker: Cooker, cut: str, told: Callable[[str], None] = lambda _: None
) -> Iterator[Lesson]:
    """What every finished cook on this cooker, or of this cut, has taught by its readings; kept in the cache."""
    folder = cache_folder(kitchen.root) / "lessons"
    for entry in kitchen.entries():
        if entry.memory or moment_of(entry, "pulled") is None or moment_of(entry, "on") is None:
            continue
        key = _digest(entry)
        kept = folder / f"{key}.json"
        try:
            yield Lesson.read(json.loads(kept.read_text(encoding="utf-8")))
            continue
        except (OSError, ValueError, KeyError, TypeError):
            pass
        wanted = _asked_by(kitchen, entry)
        if wanted is None or not _concerns(wanted, cooker, cut):
            continue
        told(entry.name)
        found = _lesson(wanted)
        if found is None:
            continue
        keep(kept, json.dumps(found.json()))
        yield found


def _asked_by(kitchen: Kitchen, entry: Entry) -> Wanted | None:
    """The forecast that an entry asks for; None where it doesn't say enough."""
    try:
        return of_entry(kitchen, entry, Asked())
    except CookbookError:
        return None


def _concerns(wanted: Wanted, cooker: Cooker, cut: str) -> bool:
    own = wanted.cooker or Cooker()
    return wanted.piece.cut.name == cut or (own.name or own.kind) == (cooker.name or cooker.kind)


def _lesson(wanted: Wanted) -> Lesson | None:
    read = wanted.readings
    if not read:
        return None
    try:
        highest = max(one.temp_c for one in read if wanted.pulled_min is None or one.minute <= wanted.pulled_min + 1)
        settings = {**wanted.settings(), "pull_c": max(highest, wanted.start_c + 5)}
        return lesson(wanted.piece, read, treatment=wanted.treatment, pulled_min=wanted.pulled_min, **settings)
    except CookbookError:
        return None


def _digest(entry: Entry) -> str:
    """Over the entry's bytes, its readings and the rules of this program."""
    import hashlib

    parts: Sequence[bytes] = [MODEL.encode(), entry.document.data]
    where = entry.document.path
    for name in entry.readings if where is not None else ():
        try:
            parts = [*parts, bytes_of(Path(str(where)).parent / name)]
        except OSError:
            parts = [*parts, b""]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:32]


def piece_of(kitchen: Kitchen, cut: str, said: Said) -> Piece:
    """The piece of a cut that the options describe."""
    from cookbook.meat.field import piece_from, typed

    Cut.named(cut, kitchen.cuts)
    known = next(iter(said.values()), {})
    return piece_from(cut, typed(known), cuts=kitchen.cuts)
