"""What `shared/kitchen.yaml` may say: read by every verb, so it stands apart from the other tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.files.record import WORDS, Choice, Field, ListOf, Record, Scalar
from cookbook.meat.field import COUNT
from cookbook.quantity.unit import SYSTEMS
from cookbook.recipe.field import LINK

if TYPE_CHECKING:
    from cookbook.quantity import TemperatureDifference


def scoop(words: str) -> str:
    """One measure of a drawer, in its own words. Raises AmountError."""
    from cookbook.quantity import drawer_of

    drawer_of((words.strip(),))
    return words.strip()


def difference(words: str) -> TemperatureDifference:
    """So many degrees either way, `1 °C`. Raises AmountError."""
    from cookbook.quantity import TemperatureDifference

    return TemperatureDifference.parse(words)


SCOOP = Scalar("scoop", scoop, "1/2 tsp")
DIFFERENCE = Scalar("temperature difference", difference, "1 °C")

KITCHEN = Record(
    "kitchen",
    {
        "name": Field(WORDS, "what the kitchen is called"),
        "measures": Field(Choice(SYSTEMS), "which cups and spoons are meant where a recipe doesn't say"),
        "spoons": Field(ListOf(SCOOP, lone=True), "the spoons and cups in its drawer; else the basic set"),
        "units": Field(Choice(("us", "metric", "both")), "what screens and cards show"),
        "temperature": Field(Choice(("C", "F")), "the scale of a bare number at the pit"),
        "thermometer": Field(DIFFERENCE, "how far the thermometer may be off; `safety` asks for so much more"),
        "learning": Field(Choice(("on", "off")), "whether what the cooks have taught is used"),
        "author": Field(WORDS, "who signs the cards"),
        "licence": Field(WORDS, "the terms on the cards"),
        "address": Field(WORDS, "where the cards are published"),
        "links": Field(ListOf(LINK), "addresses that stand on every card"),
        "cooks_to_publish": Field(COUNT, "how often a recipe is cooked before it goes out"),
    },
)
