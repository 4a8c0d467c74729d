"""What recipes and entries of a kitchen have in common: the fields of the files in `shared/`."""

from __future__ import annotations

import re

from cookbook.errors import RequestError
from cookbook.files.record import WORDS, Choice, Either, Field, ListOf, MapOf, Record, Scalar, text
from cookbook.heat.doneness import doneness
from cookbook.journal.field import DAY, VERSION
from cookbook.journal.outcome import money
from cookbook.kitchen.settings import KITCHEN, difference
from cookbook.meat.field import COUNT, MASS
from cookbook.meat.own import OWN_FIELDS
from cookbook.quantity import Amount, TemperatureDifference
from cookbook.recipe.field import RECIPE, amount_kind


def is_address(words: str) -> bool:
    """Whether this is a whole web address."""
    from urllib.parse import urlsplit

    try:
        parts = urlsplit(words)
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and bool(parts.netloc) and " " not in words


def number(words: str) -> float:
    """A plain number above nothing."""
    try:
        value = float(words.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0 <= value < 1e6:
        raise RequestError(f"'{words}' is no number", mend="write it like 12.5")
    return value


def bought(words: str) -> Amount:
    """An amount that a shop sells. Raises AmountError."""
    found = Amount.parse(words)
    if not found.low or found.kind not in ("mass", "volume", "count"):
        raise RequestError(f"'{words}' is no amount that a shop sells", mend="write it like 2.2 kg or 1 bunch")
    return found


def stock(words: str) -> Amount | None:
    """What is at home: an amount, or None for `plenty`. Raises AmountError."""
    return None if words.strip().casefold() == PLENTY else bought(words)


def priced(words: str) -> str:
    """What was paid, in its own words. Raises RequestError where no number above nothing is in them."""
    read = money(words)
    if read is None or read[1].startswith(("-", "\N{MINUS SIGN}")):
        raise RequestError(f"'{words.strip()}' holds no price", mend="write it with its currency, like 21.80 EUR")
    return text(words)


PLENTY = "plenty"
"""At home, more than any list asks for."""
DONENESS = Scalar("doneness", doneness, "medium rare")
BOUGHT = Scalar("bought amount", bought, "2.2 kg")
STOCK = Scalar("amount at home", stock, "300 g")
PAID = Scalar("price", priced, "21.80 EUR")
def stamp_s(words: str) -> int:
    """Seconds of a time in a film: `0:00`, `12:05`, `1:02:30`."""
    parts = words.strip().split(":")
    if not (2 <= len(parts) <= 3 and all(re.fullmatch(r"[0-9]{1,2}", part) for part in parts)
            and all(int(part) < 60 for part in parts[1:])):
        raise RequestError(f"'{words}' is no time in a film", mend="write it like 12:05 or 1:02:30")
    seconds = 0
    for part in parts:
        seconds = 60 * seconds + int(part)
    return seconds


def hotter_by(words: str) -> TemperatureDifference:
    """By how much one side of a cooker runs hotter, `10 °C`. Raises AmountError, RequestError."""
    found = difference(words)
    if not 0 < found.k <= MOST_HOTTER_K:
        raise RequestError(f"'{words}' is no difference between the two sides of a cooker",
                           mend=f"write how much the hot side is above the other one, up to {MOST_HOTTER_K:g} K")
    return found


MOST_HOTTER_K = 80.0
"""Further apart the two sides of a pit are not one fire any more (judgement)."""
HOTTER = Scalar("temperature difference", hotter_by, "10 °C")
STAMP = Scalar("time-in-a-film", stamp_s, "12:05")
NUMBER = Scalar("number", number, "12.5", number=True)

COOKER = Record(
    "cooker",
    {
        "kind": Field(
            Choice(("oven", "fan oven", "electric box", "kettle", "drum", "offset", "pellet", "kamado")),
            "what sort of device",
            required=True,
        ),
        "fuel": Field(WORDS, "what burns in it"),
        "gauge": Field(Choice(("grate", "lid", "door")), "where its gauge sits"),
        "hot_side": Field(WORDS, "which side runs hotter: left, right, back, front"),
        "hotter_by": Field(HOTTER, "by how much, as two probes on the grate tell"),
        "holds": Field(MASS, "how much meat fits"),
        "notes": Field(WORDS, "anything worth knowing"),
    },
)

EATER = Record(
    "eater",
    {
        "appetite": Field(Choice(("child", "small", "usual", "big")), "how much"),
        "likes": Field(Either(DONENESS, MapOf(DONENESS, "species")), "doneness; by species where it differs"),
        "allergies": Field(ListOf(WORDS, lone=True), "what must not be in it"),
        "fully_cooked": Field(Choice(("yes", "no")), "must have it fully cooked"),
        "bone": Field(Choice(("yes", "no")), "wants a bone"),
    },
)

PRICE = Record(
    "price",
    {
        "item": Field(WORDS, "what", required=True),
        "amount": Field(BOUGHT, "how much of it: weight, volume, or so many", required=True),
        "price": Field(PAID, "what was paid, with its currency", required=True),
        "date": Field(DAY, "when", required=True),
        "shop": Field(WORDS, "where, in your own words"),
    },
)

CHAPTER = Record(
    "chapter",
    {
        "at": Field(STAMP, "its time in the finished film", required=True),
        "name": Field(WORDS, "what it is called", required=True),
    },
)

RELEASE = Record(
    "release",
    {
        "recipe": Field(RECIPE, "what comes out", required=True),
        "entry": Field(WORDS, "the cook that was filmed"),
        "planned": Field(DAY, "when"),
        "occasion": Field(WORDS, "what for"),
        "out": Field(DAY, "when it came out"),
        "address": Field(WORDS, "where the film is"),
        "picture": Field(WORDS, "address of the picture that stands for the film"),
        "version": Field(VERSION, "the version that was published"),
        "digest": Field(WORDS, "SHA-256 of the text as it was sent"),
        "length": Field(STAMP, "how long the finished film is"),
        "chapters": Field(ListOf(CHAPTER), "chapters by their time in the finished film"),
        "markers": Field(WORDS, "or a CSV file of markers, beside this one"),
    },
)

QUESTION = Record(
    "question",
    {
        "recipe": Field(RECIPE, "which recipe it is about", required=True),
        "asked": Field(WORDS, "the question", required=True),
        "times": Field(COUNT, "how often"),
        "answer": Field(WORDS, "what was said"),
        "on_card": Field(Choice(("yes", "no")), "whether question and answer stand on the card"),
        "answered_in": Field(COUNT, "the revision that answers it"),
    },
)

WEIGHING = Record(
    "weighing",
    {
        "item": Field(WORDS, "what was weighed", required=True),
        "amount": Field(amount_kind("us"), "how much of it: a level spoon, or so many", required=True),
        "weighs": Field(MASS, "what the balance said", required=True),
        "date": Field(DAY, "when"),
    },
)

_OWN_KINDS = {"text": WORDS, "number": NUMBER, "list": ListOf(WORDS, lone=True)}
OWN_CUT = Record(
    "own cut",
    {
        word: Field(_OWN_KINDS[kind], word.replace("_", " "), required=word == "like")
        for word, kind in OWN_FIELDS.items()
        if word != "name"
    },
)

TABLES = {
    "kitchen.yaml": KITCHEN,
    "cookers.yaml": MapOf(COOKER, "cookers"),
    "eaters.yaml": MapOf(EATER, "eaters"),
    "prices.yaml": ListOf(PRICE),
    "releases.yaml": ListOf(RELEASE),
    "questions.yaml": ListOf(QUESTION),
    "at_home.yaml": MapOf(STOCK, "items"),
    "ingredients.yaml": ListOf(WEIGHING),
    "cuts.yaml": MapOf(OWN_CUT, "cuts"),
}
"""Every table a kitchen may hold, by file name."""
