"""The card's data against the SHACL shapes of schema.org of 2021-04-21, as the package `pyshacl` ships them.

A second opinion beside the vocabulary of 30.1. Shapes are open: what no shape knows passes them, so every predicate
and every class is looked for among them too. The context is our own and offline; it gives each value the type that
the shapes ask for (durations, dates, addresses), as the vocabulary's own context does in part.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pyshacl
import pytest

from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.forms.structured import recipe_data
from tests.publish.cards import COOK_CARD, PASTE_CARD
from tests.publish.kitchens import FILES

pytestmark = [
    pytest.mark.long,
    pytest.mark.usefixtures("short_table"),
    # rdflib's own reader of JSON-LD still uses a class that rdflib has deprecated
    pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated:DeprecationWarning"),
]

SCHEMA, XSD = "http://schema.org/", "http://www.w3.org/2001/XMLSchema#"
TYPED = {"cookTime": "duration", "totalTime": "duration", "performTime": "duration", "duration": "duration",
         "datePublished": "date", "dateModified": "date", "uploadDate": "date",
         "startOffset": "float", "endOffset": "float"}
CONTEXT = {"@vocab": SCHEMA, **{name: {"@type": XSD + kind} for name, kind in TYPED.items()},
           **{name: {"@type": "@id"} for name in ("url", "image", "thumbnailUrl", "contentUrl")}}
NEWER = {SCHEMA + name for name in ("startOffset", "endOffset", "estimatedCost")}
"""Properties that were pending in 2021 or that the vocabulary has had for longer than the shapes."""


@pytest.fixture(scope="module")
def shapes() -> Any:
    from rdflib import Graph

    return Graph().parse(Path(pyshacl.__file__).parent / "assets" / "schema.ttl", format="turtle")


def findings(data: dict[str, Any], shapes: Any) -> list[str]:
    """What the shapes refuse, and every predicate and class that they don't know."""
    from rdflib import RDF, RDFS, Graph
    from rdflib.namespace import SH

    typed = {**data, "@context": CONTEXT}
    graph = Graph().parse(data=json.dumps(as_text(typed)), format="json-ld")
    fine, _, told = pyshacl.validate(graph, shacl_graph=shapes, ont_graph=shapes, inference="none")
    known = {str(path) for path in shapes.objects(None, SH.path)} | NEWER | {str(RDF.type)}
    found = [] if fine else [told]
    found += [f"unknown property {one}" for one in set(graph.predicates()) if str(one) not in known]
    classes = set(graph.objects(None, RDF.type))
    return found + [f"unknown class {one}" for one in classes if (one, RDF.type, RDFS.Class) not in shapes]


def as_text(node: Any) -> Any:
    """Numbers as text: the reader types an integer by itself and the shapes want a float."""
    if isinstance(node, dict):
        return {key: as_text(value) for key, value in node.items()}
    if isinstance(node, list):
        return [as_text(one) for one in node]
    return str(node) if isinstance(node, int | float) else node


@pytest.mark.parametrize("content", [PASTE_CARD, COOK_CARD])
def test_cards_made_by_hand_fit_the_shapes(content: Any, shapes: Any) -> None:
    assert findings(recipe_data(content), shapes) == []


def test_a_card_with_its_film_fits_the_shapes(make_kitchen: Callable[..., Kitchen], shapes: Any) -> None:
    release = (
        '- {recipe: loin, out: "2026-05-01", address: "https://example.org/film", length: 5:00, '
        'picture: "https://example.org/film.jpg", chapters: [{at: 0:00, name: a}, {at: 1:00, name: b}, '
        "{at: 2:00, name: c}]}\n"
    )
    data = json.loads(card(make_kitchen({**FILES, "shared/releases.yaml": release}), "loin", "json-ld"))
    assert data["video"]["hasPart"]
    assert findings(data, shapes) == []


MUTANTS: dict[str, Callable[[dict[str, Any]], Any]] = {
    "a misspelt property": lambda data: data.update(recipeIngredients=["salt"]),
    "an unknown class": lambda data: data["author"].update({"@type": "Cook"}),
    "a duration in words": lambda data: data.update(totalTime="25 minutes"),
    "a text as nutrition": lambda data: data.update(nutrition="plenty"),
    "a person as a rating": lambda data: data.update(aggregateRating={"@type": "Person", "name": "Ada"}),
    "a date that is none": lambda data: data.update(datePublished="last week"),
}


@pytest.mark.parametrize("mutant", MUTANTS.values(), ids=MUTANTS.keys())
def test_the_shapes_bite(mutant: Callable[[dict[str, Any]], Any], shapes: Any) -> None:
    data = recipe_data(PASTE_CARD)
    mutant(data)
    assert findings(data, shapes)
