"""The fields of a recipe file, listed once: the typed readers and the JSON Schema both come from here."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from cookbook.errors import RequestError
from cookbook.files.record import WORDS, Choice, Either, Field, ListOf, Record, Scalar
from cookbook.meat.field import COUNT, PIECE_FIELDS, TEMPERATURE, TIME
from cookbook.quantity import Amount
from cookbook.quantity.unit import SYSTEMS

KINDS = ("paste", "rub", "brine", "sauce", "cook")
FOLLOWS = ("surface", "weight", "volume", "count", "fixed")
NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def recipe_name(words: str) -> str:
    """A recipe's name: its file's name without the ending, in small letters, digits and single hyphens."""
    if not NAME.fullmatch(words.strip()):
        raise RequestError(
            f"'{words}' is no recipe's name", mend="write it like its file, for example fennel-sage-paste"
        )
    return words.strip()


def clean(words: str) -> str:
    """Words as they count for a version: NFC, trimmed, inner blanks single."""
    return " ".join(unicodedata.normalize("NFC", words).split())


RECIPE = Scalar("recipe-name", recipe_name, "fennel-sage-paste")

MADE_FOR = Record(
    "made_for",
    {
        "cut": Field(WORDS, "the cut that this batch coats", required=True),
        **PIECE_FIELDS,
    },
)


def amount_kind(measures: str) -> Scalar:
    """The kind of an amount under a measure system."""

    def read(words: str) -> Amount:
        return Amount.parse(words, measures)

    return Scalar("amount", read, "1 1/2 tbsp", number=True)


def _ingredient(measures: str) -> Record:
    amount = amount_kind(measures)
    return Record(
        "ingredient",
        {
            "item": Field(WORDS, "what it is, as in a shop: fennel seed"),
            "recipe": Field(RECIPE, "or another recipe of this kitchen that goes in"),
            "amount": Field(amount, "how much, as in any printed cookbook", required=True),
            "prep": Field(WORDS, "what is done to it: minced"),
            "or": Field(ListOf(WORDS, lone=True), "what does as well"),
            "until": Field(WORDS, "how the eye knows that it is enough"),
            "hold_back": Field(amount, "the part of the amount to add by taste"),
            "follows": Field(Choice(FOLLOWS), "what its amount follows when the piece changes"),
        },
    )


def _coat(measures: str) -> Record:
    return Record(
        "coat",
        {
            "recipe": Field(RECIPE, "the paste, rub, brine or sauce that coats"),
            "item": Field(WORDS, "or one thing on its own, such as mustard under a rub"),
            "amount": Field(amount_kind(measures), "how much of the item"),
            "faces": Field(WORDS, "which faces: all, no-bone, no-ends, or their names"),
        },
    )


PIT = Record(
    "pit",
    {
        "temperature": Field(TEMPERATURE, "the air around the meat"),
        "cooker": Field(WORDS, "the device: drum, kettle, oven …"),
        "fuel": Field(WORDS, "what burns"),
        "wood": Field(WORDS, "what smokes"),
        "water": Field(WORDS, "the drip pan and what is in it"),
        "wrap": Field(WORDS, "what it is wrapped in: foil, paper"),
        "wrap_at": Field(TEMPERATURE, "core temperature at which it is wrapped"),
    },
)

REST = Record(
    "rest",
    {
        "time": Field(TIME, "the wait before slicing"),
        "cover": Field(Choice(("bare", "tented", "insulated box")), "bare, tented or insulated box"),
    },
)

TERMS = {
    "given": "whether its maker gave it away",
    "paid": "whether somebody paid for it to be shown",
    "commission": "whether a purchase brings the cook something",
}
"""What a reader has to be told about a link; each stands under its own name."""

LINK = Record(
    "link",
    {
        "what": Field(WORDS, "what it leads to", required=True),
        "address": Field(WORDS, "where", required=True),
        "kind": Field(WORDS, "what sort of thing: the rub, the knife, the butcher"),
        **{term: Field(Choice(("yes", "no")), about) for term, about in TERMS.items()},
    },
)


@cache
def recipe_record(kind: str, measures: str = "us") -> Record:
    """The fields of a recipe of `kind`; amounts are read under `measures`."""
    fields: dict[str, Field] = {
        "kind": Field(Choice(KINDS), "paste, rub, brine, sauce or cook", required=True),
        "title": Field(WORDS, "what people call it", required=True),
        "revision": Field(COUNT, "the cook's own number for this version"),
        "measures": Field(Choice(SYSTEMS), "which cups and spoons are meant"),
        "after": Field(RECIPE, "the recipe it grew out of"),
        "formerly": Field(ListOf(RECIPE, lone=True), "names it had before; not part of the version"),
        "serves": Field(COUNT, "portions"),
        "steps": Field(ListOf(WORDS, lone=True), "what is done, one step an item"),
        "notes": Field(Either(WORDS, ListOf(WORDS)), "anything worth keeping; not part of the version"),
        "links": Field(ListOf(LINK), "addresses; not part of the version"),
        "photos": Field(ListOf(WORDS), "paths of pictures; not part of the version"),
        "story": Field(WORDS, "a line or two for the card; not part of the version"),
        "keeping": Field(WORDS, "made ahead and kept: how, in your own words; not part of the version"),
    }
    if kind == "cook":
        fields |= {
            "cut": Field(WORDS, "the cut that is cooked", required=True),
            "made_for": Field(MADE_FOR, "the piece the amounts are for"),
            "coats": Field(ListOf(_coat(measures)), "what goes on it"),
            "ingredients": Field(ListOf(_ingredient(measures)), "what else goes in or under: wood chunks, water"),
            "pit": Field(PIT, "the fire"),
            "pull_at": Field(TEMPERATURE, "core temperature at which it comes off"),
            "rest": Field(REST, "the wait after"),
        }
    else:
        fields |= {
            "made_for": Field(MADE_FOR, "the piece that this batch coats as written", required=kind != "sauce"),
            "ingredients": Field(ListOf(_ingredient(measures)), "what goes in, in order", required=True),
            "formula": Field(Choice(("open", "private")), "private: published in one line; not part of the version"),
            "stand_in": Field(WORDS, "what to use where the formula is private; not part of the version"),
        }
    return Record(kind, fields)
