"""The pages after: done in 20 seconds, scores, photos, what really went in, taking it into the recipe."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from starlette.responses import Response

from cookbook.errors import AmountError, Conflict, RequestError, UnknownName
from cookbook.journal import Entry
from cookbook.journal.made import Bowl, bowl
from cookbook.journal.outcome import overall
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import Adopted, Adoption, Keep, Method, adoptions, line_words, sure, write
from cookbook.kitchen.clock import now
from cookbook.kitchen.history import label_of
from cookbook.kitchen.log import once
from cookbook.kitchen.log.intake import take_photo
from cookbook.page.asking import Ask, title_of, to
from cookbook.page.before import with_scale, with_unit
from cookbook.page.lan import qr
from cookbook.page.pit import ident_of, scale_of
from cookbook.page.showing import markup

OVERALL = "overall"
"""The aspect of the one score that is asked for; every other is the cook's own word."""
_MOST_ASPECTS = 12
_PICTURES = (
    (b"\xff\xd8\xff", ".jpg", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", ".png", "image/png"),
    (b"GIF8", ".gif", "image/gif"),
)
_HEIC = (b"heic", b"heix", b"mif1", b"hevc")


def after(ask: Ask) -> Response:
    """A finished cook, or the two questions that finish it."""
    kitchen, entry = ask.kitchen, ask.kitchen.entry(ask.part("entry"))
    label = label_of(kitchen, entry.recipe, entry.version) if entry.recipe and entry.version else None
    link = ask.page.guest_links.get(entry.name)
    return ask.show(
        "after.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        label=label,
        overall=overall(entry),
        aspects=aspects(kitchen, entry),
        photos=photos(entry),
        guests=ask.page.keys.guests(entry.name),
        link=link,
        qr=markup(qr(link)) if link else None,
        ident=ask.page.ident(),
        made=bool(entry.sheet or entry.as_made or entry.recipe is None),
        scale=scale_of(ask),
        adopts=adopts(entry),
    )


def adopts(entry: Entry) -> bool:
    """Whether there may be something to take into a recipe: what was otherwise, or a cook that has none yet."""
    return bool(entry.as_made or entry.fields.get("deviations") or (entry.recipe is None and entry.kind == "cook"))


def aspects(kitchen: Kitchen, entry: Entry) -> list[str]:
    """What this cook is scored by: its own aspects, then those of earlier cooks of the same recipe."""
    found = dict.fromkeys(entry.scores)
    if entry.recipe is not None:
        for other in kitchen.entries(naming=[entry.recipe], newest=True):
            if len(found) >= _MOST_ASPECTS:
                break
            found |= dict.fromkeys(other.scores) if other.recipe == entry.recipe else {}
    return list(found)[:_MOST_ASPECTS]


def finish(ask: Ask) -> Response:
    """One score, one line for next time, done: all of it may be empty."""
    name, ident = ask.part("entry"), ident_of(ask)
    line, given = ask.words("next", 400), score_sent(ask)
    if line:
        once.log(ask.kitchen, name, "next", {"words": [line]}, now(), f"{ident}-next" if ident else "")
    said: dict[str, Any] = {"scores": [[f"{OVERALL}={given}", None]]} if given else {}
    after_it, served = ask.words("after", 20), ask.words("served", 20)
    said |= {"weight_after": with_unit("weight", after_it, ask.us)} if after_it else {}
    said |= {"served": with_scale(served, scale_of(ask))} if served else {}
    done = once.log(ask.kitchen, name, "finish", said, now(), ident)
    return ask.went(to("cook", done.entry, "after"), done.words, done.warnings)


def score(ask: Ask) -> Response:
    """One aspect, one score, whoever gave it; the aspect is the cook's own word."""
    aspect, given, taster = ask.words("aspect", 40), score_sent(ask), ask.words("by", 40)
    if not aspect or not given:
        raise RequestError("what was scored?", mend="name it in a word, and give it 0 to 10")
    said = {"scores": [[f"{aspect.replace('=', ' ')}={given}", taster or None]]}
    done = once.log(ask.kitchen, ask.part("entry"), "score", said, now(), ident_of(ask))
    return ask.went(to("cook", done.entry, "after"), done.words, done.warnings)


def score_sent(ask: Ask, name: str = "score", half: str = "half") -> str:
    """A score as it was tapped: a number, and whether a half goes with it."""
    number = ask.words(name, 8)
    return f"{number}.5" if ask.words(half, 4) and number.isdigit() and number != "10" else number


# photos


def photos(entry: Entry) -> list[tuple[str, str]]:
    """Each picture's file and caption."""
    found = []
    for one in entry.fields.get("photos") or ():
        if isinstance(one, str):
            found.append((one, ""))
        else:
            found.append((one["path"], one.get("caption") or ""))
    return found


def add_photo(ask: Ask) -> Response:
    """Keep a picture beside the entry, under a name of ours: what the phone calls it counts for nothing."""
    sent, entry = ask.file("photo"), ask.kitchen.entry(ask.part("entry"))
    if sent is None:
        raise RequestError("no picture came", mend="choose one first")
    content = sent.file.read()
    ending = _ending(content)
    from cookbook.kitchen.log.undoing import sha256

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{entry.name}-{sha256(content)[:10]}{ending}"
        path.write_bytes(content)
        _, words = take_photo(ask.kitchen, entry, str(path), ask.words("caption", 200) or None)
    return ask.went(to("cook", entry.name, "after"), words)


def _ending(content: bytes) -> str:
    for begin, ending, _ in _PICTURES:
        if content.startswith(begin):
            return ending
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return ".webp"
    if content[4:8] == b"ftyp" and content[8:12] in _HEIC:
        return ".heic"
    raise RequestError("this is no picture that can be kept", mend="JPEG, PNG, WebP, GIF or HEIC")


def photo(ask: Ask) -> Response:
    """One picture of an entry, by its number there: no path comes from the address."""
    entry, number = ask.kitchen.entry(ask.part("entry")), ask.part("number")
    listed = photos(entry)
    name = listed[int(number)][0] if number.isdecimal() and len(number) < 5 and int(number) < len(listed) else ""
    path = ask.kitchen.entry_path(entry).parent / Path(name).name
    if not name or Path(name).name != name or path.is_symlink() or not path.is_file():
        raise UnknownName("picture", number)
    content = path.read_bytes()
    kinds = {ending: kind for _, ending, kind in _PICTURES} | {".webp": "image/webp", ".heic": "image/heic"}
    return Response(content, media_type=kinds[_ending(content)])


# as made


def made(ask: Ask) -> Response:
    """The day's sheet, and what of it went in otherwise."""
    from cookbook.journal.made import made as made_of

    kitchen, entry = ask.kitchen, ask.kitchen.entry(ask.part("entry"))
    names = dict.fromkeys([*entry.sheet, *entry.as_made]) or {entry.working_name(): None}
    sheets = entry.written_sheet()
    batches = []
    for name in names:
        said = entry.as_made.get(name, ())
        lines, notes = made_of(said, entry.sheet.get(name, {}), kitchen.weights)
        written = sheets.get(name, {})
        rows = [(one, written.get(one.instead_of or one.item, "")) for one in lines]
        batches.append(Batch(name, rows, notes, bool(written), bowl(said)))
    return ask.show(
        "made.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        batches=batches,
        ident=ask.page.ident(),
        adopts=adopts(entry),
        titled=lambda name: ask.titled(name) if entry.recipe else title_of(ask.kitchen, entry),
    )


class Batch(NamedTuple):
    """One making: its lines with what the sheet said, whether there was a sheet, and the bowl as it was weighed."""

    name: str
    rows: list[tuple[Any, str]]
    notes: list[str]
    sheet: bool
    bowl: Bowl


_HOW = ("amount", "more", "less", "reads")


def add_made(ask: Ask) -> Response:
    """One thing that went in otherwise than the sheet says, or the bowl itself on the balance."""
    how, value, then = ask.words("how", 12), ask.words("value", 60), ask.words("then", 20)
    item, into = ask.words("item", 120), ask.words("into", 120)
    said: dict[str, Any] = {"item": item, "into": into or None}
    if not item:
        raise RequestError("what went in?", mend="name it")
    if how in ("left_out", "unweighed"):
        said |= {"left_out": True} if how == "left_out" else {}
    elif then and (value or item == "bowl"):
        said |= {"before": weighed(value) or None, "after": weighed(then)}
    elif how in (*_HOW, "instead") and value:
        said[how] = weighed(value) if how == "reads" else value
    else:
        raise RequestError(f"how much {item} was it?", mend="write an amount, like 70 g or 2 tbsp")
    try:
        done = once.log(ask.kitchen, ask.part("entry"), "used", said, now(), ident_of(ask), refuse=True)
    except AmountError as fault:
        raise RequestError(fault.message, mend="write how much alone, like 70 g, 2 sprigs or a handful") from None
    return ask.went(to("cook", done.entry, "made"), done.words, done.warnings)


def weighed(words: str) -> str:
    """What a balance shows; a bare number is grams."""
    plain = words.replace(",", ".")
    return f"{plain} g" if plain.replace(".", "", 1).isdecimal() else words


# adopt


def adopting(ask: Ask) -> Response:
    """What would change in the recipe, line by line, each to be taken or left."""
    entry = ask.kitchen.entry(ask.part("entry"))
    today = bool(ask.queried("today"))
    found = adoptions(ask.kitchen, entry, today, lambda _recipe, _line: True)
    return ask.show(
        "adopt.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        today=today,
        found=[_offered(one) for one in found],
        titled=ask.titled,
    )


def adopt(ask: Ask) -> Response:
    """Take the chosen lines into the next revision."""
    kitchen, entry = ask.kitchen, ask.kitchen.entry(ask.part("entry"))
    today = bool(ask.words("today", 1))
    chosen = {value for value in ask.form.getlist("take") if isinstance(value, str)}
    keep: Keep = lambda recipe, line: key_of(recipe, line) in chosen  # noqa: E731  # the name says what it is for
    seen = {one.recipe: one for one in adoptions(kitchen, entry, today, lambda _recipe, _line: True)}
    for name, one in seen.items():
        if _hash(one) != ask.words(f"seen {name}", 64):
            raise Conflict(f"recipes/{name}.yaml", b"", b"")
    if not chosen and any(one.changes for one in seen.values()):
        raise RequestError("nothing was chosen; the recipe stays as it is", mend="choose a line first")
    found = adoptions(kitchen, entry, today, keep)
    write(kitchen, entry, found)
    name, number = found[0].recipe, found[0].revision
    return ask.went(to("recipe", name), f"{ask.titled(name)} is now revision {number}")


def key_of(recipe: str, line: Adopted | Method) -> str:
    """A line's name in the form."""
    kind = "method" if isinstance(line, Method) else "amount"
    return f"{recipe}/{kind}/{line.item}"


def _offered(one: Adoption) -> tuple[Adoption, str, Sequence[tuple[str, str, bool, bool]]]:
    rows = [
        (
            key_of(one.recipe, line),
            line_words(line, one),
            sure(one.recipe, line),
            isinstance(line, Adopted) and line.salt and one.before is not None,
        )
        for line in one.changes
    ]
    return one, _hash(one), rows


def _hash(one: Adoption) -> str:
    return one.before.document.sha256 if one.before is not None else ""
