"""One plain line at the pit: what can be read in it, clause by clause. The words themselves are kept as they are.

A number without a scale is a temperature only where the kitchen says which scale is meant, and only where such a
probe can show it. Amounts are read only where one item of the day's sheet is meant; what is open is said as a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cookbook.errors import AmountError, RequestError
from cookbook.journal.keepwords import KEEPING
from cookbook.journal.probe import bare
from cookbook.quantity import Amount, Temperature

PROBE_WORDS = {
    "core": ("core", "inside", "internal", "middle", "centre", "center", "meat"),
    "surface": ("surface",),
    "pit": ("pit", "grate", "air", "chamber", "fire", "lid"),
}
"""What cooks call the three places where a temperature is read."""

_WOOD = r"(?:splits?|logs?|chunks?|sticks?|chips|wood|oak|cherry|apple|beech|hickory|maple|pear|plum|vine|alder)"
_COAL = r"(?:coals?|charcoal|briquettes?|embers?|fuel|gas)"
_SOME = r"(?:(?:a|an|one|two|three|four|\d+|some|more|another|fresh|new|the|of|handful|small|big) )*"
_FIRE = r"(?: the (?:fire|pit|grate|grill|drum|smoker|cooker))?"
_EVENTS = tuple(
    (did, re.compile(pattern))
    for did, pattern in (
        (
            "wood added",
            (
                rf"{_SOME}(?:{_WOOD} (?:of )?)*{_WOOD} (?:on|in|added)"
                rf"|(?:added|put on|threw on) {_SOME}(?:{_WOOD}(?: of)? ?)+"
            ),
        ),
        ("fuel added", rf"{_SOME}{_COAL} (?:on|in|added)|(?:added|put on|threw on) {_SOME}{_COAL}"),
        ("lit", r"lit(?: it| the fire)?|fire lit"),
        ("on", rf"on|(?:it'?s |its |went |put )?(?:meat |it |all )?on{_FIRE}|meat went on"),
        (
            "pulled",
            rf"pulled(?: it)?|(?:(?:meat|it'?s|its|came|took it|taken) )?off{_FIRE}",
        ),
        ("turned", r"turned(?: it)?(?: over)?|flipped(?: it)?"),
        ("moved", r"moved .*|turned (?:it )?round"),
        ("sprayed", r"sprayed(?: it)?(?: with .*)?|spritzed(?: it)?|mopped(?: it)?|basted(?: it)?(?: with .*)?"),
        ("wrapped", r"wrapped(?: it)?(?: in .*)?|wrap(?:ped)? on"),
        ("unwrapped", r"unwrapped(?: it)?|wrap off"),
        ("lid open", r"lid (?:open|off|up)|opened(?: the)? lid"),
        ("lid shut", r"lid (?:shut|closed|on|down)|(?:shut|closed)(?: the)? lid"),
        ("vents", r"vents? .*|(?:opened|shut|closed)(?: the)? vents?.*"),
        ("rested", r"rest(?:ed|ing)(?: .*)?|into the rest"),
        ("sliced", r"sliced(?: it)?|cut(?: it)? up|carved(?: it)?"),
        ("tasted", r"tasted?(?:: ?.*| .*)?"),
        *KEEPING,
    )
)
_TIME = r"(?:(?:yesterday|today) )?\d{1,2}:\d{2}(?: ?[ap]m)?"
_LEADING_TIME = re.compile(rf"(?:at )?(?P<time>{_TIME})(?=$|[\s,;])[\s,;]*", re.I)
_TRAILING_TIME = re.compile(
    r"(?P<said>.*?\S)[\s,]+(?:at )?(?P<time>(?:(?:yesterday|today) )?(?:[01]?\d|2[0-3]):[0-5]\d(?: ?[ap]m)?)[.!]?",
    re.I,
)
_CLAUSE = re.compile(r"\s*[;]\s*|,(?!\d)\s*|\s+(?:and|then)\s+")
_NUMBER = r"-?\d+(?:[.,]\d+)?"
_SCALE = r"\s?(?:°\s?|degrees?\s|deg\.?\s?)?(?:[CcFf]|[Cc]elsius|[Ff]ahrenheit)\b"
_WORDS = "|".join(word for words in PROBE_WORDS.values() for word in words)
_READING = re.compile(
    rf"(?:(?P<probe>{_WORDS})(?:\s+(?:temp(?:erature)?|probe|gauge))?\s*(?:=|:|\bis\b|\bat\b|\bnow\b)?\s*)?"
    rf"(?P<number>{_NUMBER})(?P<scale>{_SCALE})?(?:\s?(?:°|degrees?|deg)(?=\s|$))?[\s,]*",
    re.I,
)
_DONE_AT = re.compile(rf"(?P<did>.+?) at (?P<reading>(?:(?:{_WORDS}) )?-?\d.*)")
_MORE = re.compile(r"(?P<amount>.+?) (?P<way>more|extra|less|fewer)(?: of)?(?: the)? (?P<item>.+)")
_MORE_LAST = re.compile(
    r"(?P<item>.+?):? (?P<amount>(?:\d|a |an |half|one|two|three|four).*?) (?P<way>more|extra|less)"
)
_WAY_FIRST = re.compile(r"(?P<way>more|extra|less) (?P<item>.+?),? (?P<amount>\d.*)")
_PLUS = re.compile(r"(?P<way>[+-]) ?(?P<amount>\d[\d/., ]*\s?[a-z]+) (?:of )?(?P<item>.+)")
_OUT = re.compile(r"(?:no|without|left out|leave out|skipped)(?: the)? (?P<item>.+)|(?P<last>.+) left out")
_SWAP = re.compile(r"(?P<new>.+?) (?:instead of|in place of)(?: the)? (?P<item>.+)")
_SPOONS = re.compile(r"\bspoon(?:s|fuls?)?\b")


class Use(NamedTuple):
    """What went in otherwise, as `log used` would say it: the item, its recipe, and one of the four ways."""

    recipe: str
    item: str
    more: str | None = None
    less: str | None = None
    left_out: bool = False
    instead: str | None = None


class Clause(NamedTuple):
    """One part of the line: its time where it has one of its own, and what was read in it."""

    words: str
    time: str | None = None
    temperatures: Mapping[str, Temperature] = {}
    piece: str | None = None
    did: str | None = None
    use: Use | None = None
    doubt: str | None = None

    @property
    def read(self) -> bool:
        """Whether anything was read in it."""
        return bool(self.temperatures or self.did or self.use)


class PlainLine(NamedTuple):
    """The words as they are, the time they begin with, and their clauses."""

    words: str
    time: str | None
    clauses: tuple[Clause, ...]

    @property
    def read(self) -> bool:
        """Whether anything was read in it."""
        return any(clause.read for clause in self.clauses)


def read(
    words: str,
    scale: str | None = None,
    sheet: Mapping[str, Sequence[str]] | None = None,
    pieces: Sequence[str] = (),
    measures: str = "us",
) -> PlainLine:
    """What `words` say. `scale` (C or F) is that of a bare number, None where the kitchen names none; `sheet` holds
    the items by recipe; `pieces` the names of the pieces."""
    time, rest = _time(words.strip())
    clauses: list[Clause] = []
    own = None
    for part in _CLAUSE.split(rest):
        later, said = _time(part.strip())
        after = _TRAILING_TIME.fullmatch(said)
        if after is not None:
            later, said = after.group("time"), after.group("said")
        own = later or own
        if said:
            clauses.append(_clause(said, scale, sheet or {}, pieces, measures)._replace(time=own))
    return PlainLine(words, time, tuple(clauses))


def _time(words: str) -> tuple[str | None, str]:
    found = _LEADING_TIME.match(words)
    return (found.group("time"), words[found.end() :]) if found else (None, words)


def _clause(
    words: str, scale: str | None, sheet: Mapping[str, Sequence[str]], pieces: Sequence[str], measures: str
) -> Clause:
    piece, rest = None, words
    for name in pieces:
        if name and rest.casefold().startswith(f"{name.casefold()} "):
            piece, rest = name, rest[len(name) + 1 :].strip()
    plain = " ".join(rest.rstrip(" .!").casefold().replace("’", "'").split())
    doubt = None
    try:
        temperatures = _temperatures(rest.rstrip(" .!"), scale)
    except RequestError as fault:
        temperatures, doubt = {}, f"{fault.message}; {fault.mend}"
    if temperatures or doubt:
        return Clause(words, None, temperatures, piece, doubt=doubt)
    did, temperatures = _happened(plain, scale)
    if did is not None:
        return Clause(words, None, temperatures, piece, did)
    use, doubt = _use(plain, sheet, measures)
    return Clause(words, piece=piece, use=use, doubt=doubt)


def _happened(plain: str, scale: str | None) -> tuple[str | None, dict[str, Temperature]]:
    """What was done, and the temperature at which: `wrapped in foil at core 65`."""
    at = _DONE_AT.fullmatch(plain)
    if at is not None:
        did = next((did for did, pattern in _EVENTS if pattern.fullmatch(at.group("did"))), None)
        try:
            found = _temperatures(at.group("reading"), scale) or _temperatures(f"core {at.group('reading')}", scale)
        except RequestError:
            found = {}
        if did is not None and found:
            return did, found
    return next((did for did, pattern in _EVENTS if pattern.fullmatch(plain)), None), {}


def _temperatures(words: str, scale: str | None) -> dict[str, Temperature]:
    """Readings where the whole clause is readings, else none. Raises RequestError where one can't be."""
    found: dict[str, Temperature] = {}
    place = 0
    while place < len(words):
        match = _READING.match(words, place)
        if match is None or (match.group("probe") is None and match.group("scale") is None):
            return {}
        probe = next(
            (key for key, known in PROBE_WORDS.items() if (match.group("probe") or "core").casefold() in known)
        )
        if probe in found:
            raise RequestError(f"{probe} is said twice", mend="log one reading at a time")
        number = match.group("number")
        if match.group("scale"):
            letter = re.sub(r"(?:°|degrees?|deg\.?|\s)", "", match.group("scale"), flags=re.I)[0]
            found[probe] = Temperature.parse(f"{number.replace(',', '.')} {letter}")
        else:
            found[probe] = bare(number, probe, scale)
        place = match.end()
    return found


def _use(plain: str, sheet: Mapping[str, Sequence[str]], measures: str) -> tuple[Use | None, str | None]:
    """What went in otherwise; or a doubt, said as what to type."""
    swap, out = _SWAP.fullmatch(plain), _OUT.fullmatch(plain)
    more = next((hit for form in (_PLUS, _WAY_FIRST, _MORE, _MORE_LAST) if (hit := form.fullmatch(plain))), None)
    words = (swap or more or out) and (swap or more or out).groupdict()  # type: ignore[union-attr]
    if not words:
        return None, None
    items = _items(words.get("item") or words.get("last") or "", sheet)
    if len(items) != 1:
        many = " or ".join(f"{item} ({recipe})" for recipe, item in items)
        return None, f"which is meant, {many}?" if items else None
    recipe, item = items[0]
    if swap:
        return Use(recipe, item, instead=words["new"]), None
    if more is None:
        return Use(recipe, item, left_out=True), None
    way = "more" if words["way"] in ("more", "extra", "+") else "less"
    amount = _amount(words["amount"])
    try:
        Amount.parse(amount, measures)
    except AmountError:
        head = f'`cookbook log used "{item}" --{way}'
        if _SPOONS.search(amount):
            count = _SPOONS.sub("", amount).strip()
            return None, f'{head} "{count} tbsp"`, or tsp: the line doesn\'t say which spoon'
        return None, f"{head} AMOUNT`: {amount} is no amount that can be counted"
    return Use(recipe, item, more=amount) if way == "more" else Use(recipe, item, less=amount), None


def _amount(words: str) -> str:
    words = words.removesuffix(" of")
    return re.sub(r"^(?:another|an?)(?= )(?! (?:handful|pinch|dash|few|couple))", "1", words)


def _items(said: str, sheet: Mapping[str, Sequence[str]]) -> list[tuple[str, str]]:
    """The items of the sheet that `said` can mean: the name itself, else all whose words hold all of its words."""
    every = [(recipe, item) for recipe, items in sheet.items() for item in items]
    same = [one for one in every if " ".join(one[1].split()).casefold() == said]
    wanted = {_stem(word) for word in re.findall(r"\w+", said)} - {"the", "of", "it", "in"}
    return same or [
        one for one in every if wanted and wanted <= {_stem(word) for word in re.findall(r"\w+", one[1].casefold())}
    ]


def _stem(word: str) -> str:
    """A word without its plural."""
    return word[:-2] if word.endswith("oes") else word[:-1] if word.endswith("s") and len(word) > 3 else word
