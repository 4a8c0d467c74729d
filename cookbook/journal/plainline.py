"""One plain line at the pit: what can be read in it, clause by clause. The words themselves are kept as they are.

A number without a scale is a temperature only where the kitchen says which scale is meant, and only where such a
probe can show it. Amounts are read only where one item of the day's sheet is meant; what is open is said as a doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from cookbook.errors import AmountError, RequestError
from cookbook.journal import plaindepth
from cookbook.journal.daytime import TIME
from cookbook.journal.plainwords import EVENTS, PROBE_WORDS
from cookbook.journal.probe import bare
from cookbook.quantity import Amount, Length, Temperature

_LEADING_TIME = re.compile(rf"(?:at )?(?P<time>{TIME})(?=$|[\s,;:])[\s,;:]*", re.I)
_BARE_TIME = re.compile(
    r"(?:at )?(?P<hour>(?:[01]?\d|2[0-3])(?=\.)|[01]\d|2[0-3])\.?(?P<minute>[0-5]\d)(?= ?[ap]m\b|[\s,;:])", re.I
)
"""`14.05` or `1405`: a time only where the line can't be read otherwise."""
_TRAILING_TIME = re.compile(rf"(?P<said>.*?\S)[\s,]+(?:at )?(?P<time>{TIME})[.!]?", re.I)
_NO_CLOCK = re.compile(r"(?:2[4-9]|[3-9]\d)[:h]|[:h][6-9]\d", re.I)
_CLAUSE = re.compile(r"\s*[;]\s*|,(?!\d)\s*|\s+(?:and|then)\s+")
_NUMBER = r"-?\d+(?:[.,]\d+)?"
_SCALE = r"\s?(?:°\s?|degrees?\s|deg\.?\s?)?(?:[CcFf]|[Cc]elsius|[Ff]ahrenheit)\b"
_WORDS = "|".join(word for words in PROBE_WORDS.values() for word in words)
_DEGREES = rf"(?P<number>{_NUMBER})(?P<scale>{_SCALE})?(?:ish\b)?(?:\s?(?:°|degrees?|deg)(?=\s|$))?"
_STANDS = (
    r"(?:\s*[=:~≈]|\s+(?:is|was|at|to|now|about|around|roughly|approx\.?|ca\.?|nearly|almost|still|only|reads?|reading"
    r"|says|shows|hit|hits|reached|steady|stuck|stalled|holding|holds|running|sitting|back|up|down|dropped|fell|sank|rose"
    r"|climbed|came|went))*+"
)
_BETWEEN = r"[\s,/]*"
_READING = re.compile(
    rf"(?:(?P<probe>{_WORDS})(?:\s+(?:temp(?:erature)?|probe|gauge))?{_STANDS}\s*)?{_DEGREES}{_BETWEEN}", re.I
)
_BEHIND = re.compile(
    rf"(?:(?:it|is|at|about|around|now|still|only|reads|says)\s+)*{_DEGREES}\s+(?:(?:in|at|on)\s+)?(?:the\s+)?"
    rf"(?P<probe>{_WORDS}){_BETWEEN}",
    re.I,
)
_LASTING = re.compile(r"(?:\s+(?:now|already|again|and (?:rising|falling|climbing|holding|steady)|for .*))+$", re.I)
_DONE_AT = (
    r"(?P<did>.+?) (?:at|(?:(?<=reheated )|(?<=reheated it )|(?<=reheated them )|(?<=leftovers ))to) "
    rf"(?P<reading>(?:(?:{_WORDS}) )?-?\d\S*(?: °?[cf])?)(?P<how> (?:in|with|for) .*)?"
)
_COUNT = r"a|an|one|two|three|four|five|six|half a"
_UNIT = (
    r"g|kg|oz|lb|ml|l|tbsp|tsp|tablespoons?|teaspoons?|spoons?|spoonfuls?|cups?|cloves?|sprigs?|heads?|bunch(?:es)?"
    r"|leaves|leaf|pinch(?:es)?|dash(?:es)?|splash(?:es)?|handfuls?|glugs?"
)
_MORE = r"(?P<amount>.+?) (?P<way>more|extra|less|fewer)(?: of)?(?: the)? (?P<item>.+)"
_MORE_INSIDE = (
    rf"(?P<amount>(?:\d[\d/.,½¼¾ ]*|{_COUNT})) (?P<way>more|extra|less|fewer) (?P<unit>{_UNIT})"
    r"(?: of)?(?: the)? (?P<item>.+)"
)
_ANOTHER = rf"(?P<way>another) (?P<amount>(?:\d[\d/.,½¼¾ ]* ?|{_COUNT} )?(?:{_UNIT}))(?: of)?(?: the)? (?P<item>.+)"
_MORE_LAST = (
    r"(?P<item>.+?):? (?P<amount>(?:\d|a |an |half|one|two|three|four).*?) (?P<way>more|extra|less)"
)
_MORE_BEHIND = r"(?P<amount>\d[\d/.,½¼¾ -]*(?:[a-z]+)?) (?:of )?(?P<item>[a-z].+?) (?P<way>more|extra|less)"
_WAY_FIRST = r"(?P<way>more|extra|less) (?P<item>.+?),? (?P<amount>\d.*)"
_PLUS = r"(?P<way>[+-]) ?(?P<amount>\d[\d/., ]*\s?[a-z]+) (?:of )?(?P<item>.+)"
_PLUS_LAST = r"(?P<item>[a-z].*?),? (?P<way>\+) ?(?P<amount>\d[\d/.,½¼¾ ]*\s?[a-z]+)"
_MORE_OR_LESS = (_PLUS, _MORE_INSIDE, _WAY_FIRST, _MORE, _MORE_BEHIND, _MORE_LAST, _PLUS_LAST, _ANOTHER)
_OUT = (
    r"(?:no|without|left out|leave out|skipped|forgot|ran out of|out of)(?: the)? (?P<item>.+?)(?: left)?"
    r"|(?P<last>.+) (?:left out|forgotten)"
)
_SWAP = (
    r"(?:(?:used|took|put in|with) )?(?P<new>.+?) (?:instead of|in place of)(?: the)? (?P<item>.+)"
    r"|(?:swapped|replaced)(?: the)? (?P<old>.+?) (?:for|with|by) (?P<other>.+)"
)
_ALL = (
    r"(?:used |took |put in |added )?"
    r"(?:(?P<item>.+?):? (?P<amount>\d.*?)|(?P<first>\d[\d/.,½¼¾ -]*(?:[a-z]+)?) (?:of )?(?P<last>[a-z].*?))"
    r"(?P<whole> (?:all in|in all|altogether|in total))?(?: went in| in)?"
)
_AFTER = r"(?:weighs?|weight)?(?: after| now)?:? ?\d\S* ?(?:kg|g|lb|oz)(?: (?:after|now|cooked|off).*)?"
_SPOONS = re.compile(r"\bspoon(?:s|fuls?)?\b")


class Use(NamedTuple):
    """What went in otherwise, as `log used` would say it: the item, its recipe, and one of the five ways."""

    recipe: str
    item: str
    more: str | None = None
    less: str | None = None
    left_out: bool = False
    instead: str | None = None
    amount: str | None = None


class Clause(NamedTuple):
    """One part of the line: its time where it has one of its own, and what was read in it; `depth` is how deep below
    the surface its core temperature was read, where that is said."""

    words: str
    time: str | None = None
    temperatures: Mapping[str, Temperature] = {}
    piece: str | None = None
    did: str | None = None
    use: Use | None = None
    doubt: str | None = None
    depth: Length | None = None

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
    found = _read(words, scale, sheet or {}, pieces, measures)
    bare_time = _BARE_TIME.match(words.strip())
    if bare_time is not None and not any(clause.read for clause in found.clauses[:1]):
        timed = f"{bare_time['hour']}:{bare_time['minute']}{words.strip()[bare_time.end():]}"
        again = _read(timed, scale, sheet or {}, pieces, measures)
        if any(clause.read for clause in again.clauses[:1]):
            return again._replace(words=words)
    return found


def _read(
    words: str, scale: str | None, sheet: Mapping[str, Sequence[str]], pieces: Sequence[str], measures: str
) -> PlainLine:
    time, rest = _time(words.strip())
    clauses: list[Clause] = []
    own = of = None
    for part in _CLAUSE.split(plaindepth.BEHIND.sub(" ", rest)):
        later, said = _time(part.strip())
        after = _TRAILING_TIME.fullmatch(said)
        if after is not None and not _NO_CLOCK.search(after.group("time")):
            later, said = after.group("time"), after.group("said")
        own = later or own
        if said:
            clause = _clause(said, scale, sheet, pieces, measures)._replace(time=own)
            of = clause.piece or of
            inside = clause.temperatures.keys() - {"pit"}
            clauses.append(clause._replace(piece=of) if inside and clause.piece is None else clause)
    return PlainLine(words, time, tuple(clauses))


def _time(words: str) -> tuple[str | None, str]:
    found = _LEADING_TIME.match(words)
    return (found.group("time"), words[found.end() :]) if found else (None, words)


def _clause(
    words: str, scale: str | None, sheet: Mapping[str, Sequence[str]], pieces: Sequence[str], measures: str
) -> Clause:
    piece, rest = _of_piece(words, pieces)
    rest = " ".join(rest.rstrip(" .!").replace("’", "'").split())
    plain = rest.casefold()
    doubt, depth = None, None
    try:
        temperatures, depth = _at_a_depth(rest, scale)
        temperatures = temperatures or _temperatures(rest, scale)
    except RequestError as fault:
        temperatures, doubt = {}, f"{fault.message}; {fault.mend}"
    if temperatures or doubt:
        return Clause(words, None, temperatures, piece, doubt=doubt, depth=depth)
    did, temperatures = _happened(plain, scale)
    if did is not None:
        return Clause(words, None, temperatures, piece, did)
    use, doubt = _use(plain, sheet, measures)
    return Clause(words, piece=piece, use=use, doubt=doubt or (None if use else _meant(plain)))


def _of_piece(words: str, pieces: Sequence[str]) -> tuple[str | None, str]:
    """The piece that a clause names first or last, and the rest of it; `both` and `all` are no one's."""
    for name in filter(None, pieces):
        first = re.fullmatch(rf"(?:the )?{re.escape(name)}(?: one| piece)?[:,]?\s+(?P<rest>.+)", words, re.I)
        last = re.fullmatch(
            rf"(?P<rest>.+?)\s+(?:(?:in|on|of|for) )?the {re.escape(name)}(?: one| piece)?[.!]?", words, re.I
        )
        if first is not None:
            return name, first["rest"]
        if last is not None:
            rest = last["rest"]
            return name, f"core {rest}" if re.fullmatch(_NUMBER, rest) else rest
    return None, re.sub(r"^(?:both|all)\s+(?=.)", "", words, flags=re.I) if len(pieces) > 1 else words


def _meant(plain: str) -> str | None:
    """What a line that can't be read may be meant for, as what to type."""
    alone = re.fullmatch(
        rf"(?:(?:it'?s|it is|now|at|temp(?:erature)?|(?:the )?(?:probe|thermometer|gauge)|says|reads|shows) )*"
        rf"(?P<number>{_NUMBER})",
        plain,
    )
    if alone is not None:
        return f"which temperature is it? write core {alone['number']} or pit {alone['number']}"
    slip = re.match(rf"(?P<word>[a-z]{{3,}})[ :=]+{_NUMBER}", plain)
    if slip is not None:
        from difflib import get_close_matches

        near = get_close_matches(slip["word"], [word for words in PROBE_WORDS.values() for word in words], 1, 0.7)
        return f"did you mean {near[0]}?" if near and near[0] != slip["word"] else None
    if re.fullmatch(_AFTER, plain):
        return "a weight after the cook goes in with `cookbook log finish --weight-after MASS`"
    return None


def _happened(plain: str, scale: str | None) -> tuple[str | None, dict[str, Temperature]]:
    """What was done, and the temperature at which: `wrapped in foil at core 65`."""
    at = re.fullmatch(_DONE_AT, plain)
    if at is not None:
        did = next((did for did, pattern in EVENTS if re.fullmatch(pattern, at.group("did"))), None)
        try:
            found = _temperatures(at.group("reading"), scale) or _temperatures(f"core {at.group('reading')}", scale)
        except RequestError:
            found = {}
        if did is not None and found:
            return did, found
    return next((did for did, pattern in EVENTS if re.fullmatch(pattern, plain)), None), {}


def _temperatures(words: str, scale: str | None) -> dict[str, Temperature]:
    """Readings where the whole clause is readings, else none. Raises RequestError where one can't be."""
    words = _LASTING.sub("", re.sub(r"'s\b", " is", words, flags=re.I))
    form = _BEHIND if _BEHIND.match(words) else _READING
    found: dict[str, Temperature] = {}
    place = 0
    while place < len(words):
        match = form.match(words, place)
        if match is None or (match.group("probe") is None and match.group("scale") is None):
            return {}
        said = (match.group("probe") or "core").casefold()
        probe = next(key for key, known in PROBE_WORDS.items() if said in known)
        if probe in found:
            raise RequestError(f"{probe} is said twice", mend="log one reading at a time")
        found[probe] = _degrees(match.group("number"), match.group("scale"), probe, scale)
        place = match.end()
    return found


def _at_a_depth(words: str, scale: str | None) -> tuple[dict[str, Temperature], Length | None]:
    """A core's temperature and how deep it was read: `56 at 3 cm`; nothing where the words say anything else."""
    without, depth = plaindepth.split(words)
    if depth is None:
        return {}, None
    alone = re.fullmatch(rf"(?:(?:it'?s|second|the|other|probe) )*({_NUMBER}(?:{_SCALE})?)", without, re.I)
    found = _temperatures(f"core {alone[1]}" if alone else without, scale)
    return (found, depth) if found.keys() == {"core"} else ({}, None)


def _degrees(number: str, written: str | None, probe: str, scale: str | None) -> Temperature:
    if written is None:
        return bare(number, probe, scale)
    letter = re.sub(r"(?:°|degrees?|deg\.?|\s)", "", written, flags=re.I)[0]
    return Temperature.parse(f"{number.replace(',', '.')} {letter}")


def _use(plain: str, sheet: Mapping[str, Sequence[str]], measures: str) -> tuple[Use | None, str | None]:
    """What went in otherwise; or a doubt, said as what to type."""
    swap, out = re.fullmatch(_SWAP, plain), re.fullmatch(_OUT, plain)
    more = next((hit for form in _MORE_OR_LESS if (hit := re.fullmatch(form, plain))), None)
    hit = swap or more or out
    if hit is None:
        return _all_of_it(plain, sheet, measures)
    words = hit.groupdict()
    items = items_meant(words.get("item") or words.get("last") or words.get("old") or "", sheet)
    if len(items) != 1:
        many = " or ".join(f"{item} ({recipe})" for recipe, item in items)
        return None, f"which is meant, {many}?" if items else None
    recipe, item = items[0]
    if swap:
        return Use(recipe, item, instead=words["new"] or words["other"]), None
    if more is None:
        return Use(recipe, item, left_out=True), None
    way = "less" if words["way"] in ("less", "fewer", "-") else "more"
    amount = _amount(" ".join(filter(None, (words["amount"], words.get("unit")))))
    try:
        Amount.parse(amount, measures)
    except AmountError:
        head = f'`cookbook log used "{item}" --{way}'
        if _SPOONS.search(amount):
            count = _SPOONS.sub("", amount).strip()
            return None, f'{head} "{count} tbsp"`, or tsp: the line doesn\'t say which spoon'
        return None, f"{head} AMOUNT`: {amount} is no amount that can be counted"
    return Use(recipe, item, more=amount) if way == "more" else Use(recipe, item, less=amount), None


def _all_of_it(
    plain: str, sheet: Mapping[str, Sequence[str]], measures: str
) -> tuple[Use | None, str | None]:
    """`garlic 90 g all in`; without such words it may as well have come on top, which is a doubt."""
    hit = re.fullmatch(_ALL, plain)
    items = items_meant(hit["item"] or hit["last"], sheet) if hit is not None else []
    if hit is None or len(items) != 1:
        return None, None
    recipe, item = items[0]
    amount = _amount(hit["amount"] or hit["first"])
    try:
        Amount.parse(amount, measures)
    except AmountError:
        return None, None
    if hit["whole"]:
        return Use(recipe, item, amount=amount), None
    head = f'`cookbook log used "{item}" "{amount}"`'
    return None, f'{head} if that is all of it, `--more "{amount}"` if it came on top'


def _amount(words: str) -> str:
    words = words.removesuffix(" of")
    words = f"a {words}" if re.fullmatch(_UNIT, words) else words
    return re.sub(r"^(?:another|an?)(?= )(?! (?:handful|pinch|dash|few|couple))", "1", words)


def items_meant(said: str, sheet: Mapping[str, Iterable[str]]) -> list[tuple[str, str]]:
    """Recipe and item of all on the sheet that `said` can mean: the name itself, else all whose words hold all of its
    words; `said` is in small letters."""
    every = [(recipe, item) for recipe, items in sheet.items() for item in items]
    same = [one for one in every if " ".join(one[1].split()).casefold() == said]
    wanted = {_stem(word) for word in re.findall(r"\w+", said)} - {"the", "of", "it", "in"}
    return same or [
        one for one in every if wanted and wanted <= {_stem(word) for word in re.findall(r"\w+", one[1].casefold())}
    ]


def _stem(word: str) -> str:
    """A word without its plural."""
    return word[:-2] if word.endswith("oes") else word[:-1] if word.endswith("s") and len(word) > 3 else word
