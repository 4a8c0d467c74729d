"""The pages before: recipes and cooks, search, one recipe, scaled as one types, its text written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from tempfile import TemporaryFile
from typing import IO, Any, NamedTuple
from urllib.parse import quote

from starlette.responses import Response, StreamingResponse

from cookbook.errors import Conflict, CookbookError, FileError
from cookbook.kitchen import Kitchen, starter
from cookbook.kitchen.checking import faults_in, rewrite, text_of
from cookbook.kitchen.clock import now
from cookbook.kitchen.declaring import WORDS, declare, declared
from cookbook.kitchen.finding.search import Wanted, everything, find
from cookbook.kitchen.packing import pack, packed_name
from cookbook.kitchen.sizing import for_pieces, inside
from cookbook.meat import Cut
from cookbook.page.asking import Ask, data, to, told
from cookbook.page.showing import markup
from cookbook.recipe import Recipe
from cookbook.recipe.scaling import Scaled, scaled_to

MOST_COOKS = 12
_USUAL = {"units": "both", "temperature": "C", "measures": "us"}
SIZES = ("weight", "ribs", "length", "girth", "width", "thickness")


def home(ask: Ask) -> Response:
    """Cooks that are on, recipes, the last cooks; with words, what fits them. An empty folder can be made one."""
    if not (ask.page.setting.root / "recipes").is_dir():
        return ask.show("empty.html.j2", folder=ask.page.setting.root.name)
    words = ask.queried("words")
    found = find(ask.kitchen, Wanted(words)) if words else everything(ask.kitchen)
    known = everything(ask.kitchen).recipes if words else found.recipes
    on = [one for one in found.entries if one.open]
    past = [one for one in found.entries if not one.open]
    shown = past if words or ask.queried("all") else past[:MOST_COOKS]
    return ask.show(
        "home.html.j2", words=words, recipes=found.recipes, on=on, cooks=shown, more=len(past) - len(shown),
        unread=found.unread, titles={one.name: one.title for one in known},
    )  # fmt: skip


def make_kitchen(ask: Ask) -> Response:
    """Make a kitchen of the empty folder."""
    starter.new(ask.page.setting.root, bool(ask.words("example", 1)))
    return ask.went("/")


def about(ask: Ask) -> Response:
    """What the kitchen says of itself."""
    said = declared(ask.kitchen)
    return ask.show("about.html.j2", known={word: said.get(word) or _USUAL.get(word, "") for word in WORDS})


def declare_it(ask: Ask) -> Response:
    """Keep what the kitchen says of itself; what is as ever and was never said stays unsaid."""
    there = declared(ask.kitchen)
    said = {word: ask.words(word, 200) for word in WORDS if word in ask.form}
    if off := said.get("thermometer"):
        said["thermometer"] = with_scale(off, said.get("temperature") or "C")
    news = {word: value for word, value in said.items() if word in there or value != _USUAL.get(word)}
    declare(ask.kitchen, news)
    return ask.went("/", "kept")


def whole(ask: Ask) -> Response:
    """The whole kitchen as one file, to be put away."""
    root = ask.page.setting.root
    ask.kitchen  # noqa: B018  # an empty folder is none yet, and says so
    file = TemporaryFile()  # noqa: SIM115  # the answer closes it once it is sent
    try:
        pack(root, file)
        size = file.tell()
        file.seek(0)
    except BaseException:
        file.close()
        raise
    answer = StreamingResponse(_parts(file), media_type="application/zip")
    answer.headers["content-length"] = str(size)
    name = packed_name(root.resolve(), now().date().isoformat())
    answer.headers["content-disposition"] = f"attachment; filename*=UTF-8''{quote(name)}"
    return answer


def _parts(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        while part := file.read(1 << 18):
            yield part


def recipe(ask: Ask) -> Response:
    """One recipe as a reader would want it, with the scale beside."""
    from cookbook.kitchen.care import findings_of
    from cookbook.kitchen.history import labels_of, versions
    from cookbook.kitchen.log.reminders import for_recipe

    kitchen, name = ask.kitchen, ask.part("recipe")
    try:
        found = kitchen.recipe(name)
    except FileError as fault:
        return ask.show("unread_recipe.html.j2", 422, name=name, problems=fault.problems)
    known = versions(kitchen, found.name)
    labels = labels_of(known)
    said = said_of(ask)
    return ask.show(
        "recipe.html.j2",
        recipe=found,
        versions=[(labels[one.name], one) for one in reversed(known)],
        lines=for_recipe(kitchen, found),
        findings=findings_of(kitchen, name),
        sizes=sizes_of(kitchen, found),
        said=said,
        scaled=scaled(kitchen, found, said, ask.page.setting.units),
        older="@" in name,
    )


def scaled_part(ask: Ask) -> Response:
    """The scaled amounts alone, as one types."""
    found = ask.kitchen.recipe(ask.part("recipe"))
    return ask.show("scaled.html.j2", scaled=scaled(ask.kitchen, found, said_of(ask), ask.page.setting.units))


class Shown(NamedTuple):
    """What scaling found, or why it could not; each coat with its drawing."""

    coats: list[Coat]
    fault: CookbookError | None
    spoons: str


class Coat(NamedTuple):
    """One scaled paste or rub, or what goes `into` another: its lines, how far weight would have been off, its pieces
    drawn."""

    scaled: Scaled
    into: str
    rows: list[dict[str, str]]
    gap: float
    coats: bool
    pictures: list[Any]


def said_of(ask: Ask) -> dict[str, str]:
    """What the address says of the piece."""
    return {word: with_unit(word, value, ask.us) for word in SIZES if (value := ask.queried(word, 20))}


def with_scale(words: str, scale: str) -> str:
    """A temperature in the files' words: a bare number is on the kitchen's scale."""
    plain = words.replace(",", ".")
    return plain + scale if plain.replace(".", "", 1).isdigit() else words


def with_unit(word: str, value: str, us: bool = False) -> str:
    """A size in the files' words: a bare number is kilograms or centimetres, pounds or inches, or ribs."""
    plain = value.replace(",", ".")
    unit = {"ribs": "", "weight": "lb" if us else "kg"}.get(word, "in" if us else "cm")
    return f"{plain} {unit}".strip() if plain.replace(".", "", 1).isdigit() else value


def sizes_of(kitchen: Kitchen, found: Recipe) -> list[tuple[str, str]]:
    """What can be said of the piece, with what the recipe was made for: ribs only where the cut has them."""
    meat, made_for = found.meat, found.made_for
    if made_for is None and found.coats:
        inner = next((coat.recipe for coat in found.coats if coat.recipe is not None), None)
        made_for = kitchen.used_by(found)(inner).made_for if inner is not None else None
    if meat is None:
        return []
    ribs = Cut.named(meat, kitchen.cuts).has_ribs
    nodes = made_for.nodes if made_for is not None else {}
    return [(word, nodes[word].text if word in nodes else "") for word in SIZES if word != "ribs" or ribs]


def scaled(kitchen: Kitchen, found: Recipe, said: Mapping[str, str], wanted: str | None = None) -> Shown:
    """The recipe for the piece that was said, or the one it was made for."""
    units = wanted or kitchen.settings.get("units") or "both"
    try:
        kitchen.no_loop(found)
        pairs = for_pieces(kitchen, found, {"": said} if said else {})
        coats = [
            scaled_to(
                coat,
                pieces,
                weights=kitchen.weights,
                used=kitchen.used_by(coat),
                habits=kitchen.habits(coat.name),
                drawer=kitchen.drawer,
            )
            for coat, pieces in pairs
        ]
    except CookbookError as fault:
        return Shown([], fault, "")
    words = coats[0].recipe.measures_words if coats and units != "metric" else ""
    every = [pair for one in coats for pair in ((one, ""), *_within(kitchen, one))]
    return Shown([_coat(one, into, units, place) for place, (one, into) in enumerate(every)], None, words)


def _within(kitchen: Kitchen, outer: Scaled) -> Iterator[tuple[Scaled, str]]:
    """What goes into a recipe, and into that, with the title of what it goes into."""
    for one in inside(kitchen, outer):
        yield one, outer.recipe.title
        yield from _within(kitchen, one)


def _coat(one: Scaled, into: str, units: str, place: int) -> Coat:
    from cookbook.meat.drawing import drawing
    from cookbook.picture import figure

    rows = []
    for line in one.lines:
        measured = line.measured(units)
        grams = f"{line.grams.mid:.0f} g" if line.grams and line.grams.mid >= 10 else ""
        beside = measured.scoops if measured.scoops != measured.text else grams if grams != measured.text else ""
        rows.append(
            {
                "amount": measured.text,
                "beside": beside,
                "words": line.ingredient.words,
                "follows": line.follows,
                "factor": f"{line.factor:.2f}",
                "naive": line.naive_text(units) if line.follows == "surface" else "",
            }
        )
    pictures = [
        markup(figure(drawing(piece), f"piece-{place}-{number}")) for number, piece in enumerate(one.pieces)
    ] if place == 0 else []  # fmt: skip
    gap = one.factor.weight / one.factor.surface - 1
    return Coat(one, into, rows, gap, any(line.follows == "surface" for line in one.lines), pictures)


# the text


def text(ask: Ask) -> Response:
    """A recipe's text, to be changed."""
    known = text_of(ask.kitchen, ask.part("recipe"))
    return ask.show(
        "text.html.j2", name=known.name, text=known.text, seen=known.sha256,
        problems=faults_in(ask.kitchen, known.name, known.text), theirs=None, new=False, title=ask.titled(known.name),
        left=(), as_yet="",
    )  # fmt: skip


def check_text(ask: Ask) -> Response:
    """The faults of a text, before anything is saved."""
    return data({"problems": told(faults_in(ask.kitchen, ask.part("recipe"), text_sent(ask)))})


def save_text(ask: Ask) -> Response:
    """Save a recipe's text; a clash shows both texts, faults stand beside their lines, nothing is lost."""
    name, sent, seen = ask.part("recipe"), text_sent(ask), ask.words("seen", 64)
    new = not ask.kitchen.has_recipe(name)
    told_now: dict[str, Any] = {"name": name, "title": ask.titled(name), "text": sent, "seen": seen}
    told_now |= {"theirs": None, "new": new, "left": (), "as_yet": ""}
    try:
        rewrite(ask.kitchen, name, sent, seen)
    except FileError as fault:
        return ask.show("text.html.j2", 422, **told_now | {"problems": fault.problems})
    except Conflict as fault:
        there = fault.theirs.decode("utf-8", "replace")
        from hashlib import sha256

        now = sha256(fault.theirs).hexdigest() if fault.theirs else ""
        return ask.show("text.html.j2", 409, **told_now | {"problems": [], "theirs": there, "seen": now})
    return ask.went(to("recipe", name))


def text_sent(ask: Ask) -> str:
    """The text as a file holds it: a form sends every line end as two signs."""
    return ask.raw("text").replace("\r\n", "\n")

