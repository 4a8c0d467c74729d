"""The card as schema.org data: one object, `"@type": "Recipe"`, in JSON-LD.

Ingredients are texts in the cook's order; steps carry their position, because order in JSON-LD means nothing. Scores
of the cook's own journal are no public rating and are never given as one.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from cookbook.kitchen.shared import is_address
from cookbook.publish.content import Content, Item

_CATEGORY = {"paste": "Spice paste", "rub": "Spice rub", "brine": "Brine", "sauce": "Sauce", "cook": "Main course"}
_ESCAPED = str.maketrans({"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"})


def structured(card: Content, images: Sequence[str] = ()) -> str:
    """The data as JSON text that can stand inside HTML as it is: no `<` of any title ends the script it stands in."""
    return escaped(json.dumps(recipe_data(card, images), ensure_ascii=False, indent=2).replace("\u00a0", " ")) + "\n"


def escaped(text: str) -> str:
    """JSON with the signs that mean something to HTML written as escapes."""
    return text.translate(_ESCAPED)


def recipe_data(card: Content, images: Sequence[str] = ()) -> dict[str, Any]:
    """The object itself, with whole addresses of its pictures; nothing that isn't known stands in it."""
    data: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": card.title,
        "description": _description(card),
        "image": list(images),
        "url": card.address if is_address(card.address) else None,
        "author": {"@type": "Person", "name": card.author} if card.author else None,
        "publisher": {"@type": "Organization", "name": card.kitchen} if card.kitchen else None,
        "license": _licence(card.licence),
        "version": card.revision,
        "inLanguage": "en",
        "datePublished": card.film.out if card.film and card.film.out else None,
        "dateModified": card.dated,
        "cookTime": duration(card.timing.cook_s) if card.timing else None,
        "totalTime": duration(card.timing.cook_s + 60 * card.timing.rest_min) if card.timing else None,
        "estimatedCost": next((f"{fact.value} {fact.label}" for fact in card.facts if fact.key == "cost"), None),
        "video": _video(card),
        "recipeCategory": _CATEGORY[card.kind],
        "cookingMethod": "Live fire" if card.live_fire else None,
        "keywords": ", ".join(dict.fromkeys([card.kind, card.cut] if card.cut else [card.kind])),
        "recipeYield": _yield(card),
        "recipeIngredient": [*_meat(card), *(_ingredient(item) for item in card.every_item)],
        "recipeInstructions": [{"@type": "HowToStep", "position": place, **step}
                               for place, step in enumerate(_steps(card), 1)],
    }
    return {key: value for key, value in data.items() if value not in (None, "", [])}


def duration(seconds: float) -> str:
    """ISO 8601, to the minute: `PT25M`, `PT2H`, `PT26H30M`; `PT0S` for less than half a minute."""
    hours, minutes = divmod(round(seconds / 60), 60)
    said = (f"{hours}H" if hours else "") + (f"{minutes}M" if minutes else "")
    return f"PT{said or '0S'}"


def _video(card: Content) -> dict[str, Any] | None:
    """The film with its chapters; only where it has an address, a picture and the day it came out."""
    film = card.film
    if film is None or not (is_address(film.address) and is_address(film.picture) and film.out):
        return None
    found: dict[str, Any] = {
        "@type": "VideoObject", "name": card.title, "description": card.lead, "thumbnailUrl": film.picture,
        "uploadDate": film.out, "contentUrl": film.address,
    }
    if film.length_s:
        found["duration"] = f"PT{film.length_s // 60}M{film.length_s % 60}S"
    ends = [chapter.at_s for chapter in film.chapters[1:]] + [film.length_s]
    joint = "&" if "?" in film.address else "?"
    clips = [{"@type": "Clip", "name": chapter.name, "startOffset": chapter.at_s, "endOffset": end,
              "url": f"{film.address}{joint}t={chapter.at_s}"}
             for chapter, end in zip(film.chapters, ends, strict=True)]
    return {**found, "hasPart": [{key: value for key, value in clip.items() if value is not None} for clip in clips]
            } if clips else found


def _description(card: Content) -> str:
    figures = [f"{fact.both} {fact.label}".strip() for fact in card.facts if fact.key not in ("piece", "makes")]
    return f"{card.lead} {'; '.join(figures)}".strip() + ("." if figures else "")


def _licence(words: str) -> str | dict[str, str] | None:
    if not words or is_address(words):
        return words or None
    return {"@type": "CreativeWork", "name": words}


def _yield(card: Content) -> str | list[str] | None:
    if card.serves is not None:
        return [str(card.serves), f"{card.serves} servings"]
    return next((fact.both for fact in card.facts if fact.key == "makes"), None)


def _meat(card: Content) -> list[str]:
    """The meat itself, which a cook begins with."""
    if card.kind != "cook":
        return []
    return [f"{fact.both} {fact.label}" for fact in card.facts if fact.key == "piece"] or [card.cut]


def _ingredient(item: Item) -> str:
    first, *others = item.amounts or ("",)
    said = f"{first} ({', '.join(others)}) {item.words}" if others else f"{first} {item.words}"
    asides = f" ({'; '.join(item.asides)})" if item.asides else ""
    return f"{said}{asides}".strip()


def _figures(card: Content) -> dict[str, Any]:
    """What the fire and the thermometer must show, and for how long it rests, as a step of its own."""
    said = [fact for fact in card.facts if fact.key != "piece"]
    step: dict[str, Any] = {"name": "In figures",
                            "text": "; ".join(f"{fact.both} {fact.label}".strip() for fact in said) + "."}
    rest = next((fact for fact in said if fact.key == "rest"), None)
    if rest is not None and card.rest_s is not None:
        step["itemListElement"] = [{"@type": "HowToDirection", "text": f"{rest.both} {rest.label}",
                                    "performTime": duration(card.rest_s)}]
    return step


def _steps(card: Content) -> list[dict[str, Any]]:
    """The steps of each batch, a cook's own steps, the fire and the rest in figures, and the cautions as the last."""
    found: list[dict[str, Any]] = []
    for batch in card.batches:
        named = {"name": batch.title} if card.kind == "cook" else {}
        found += [{**named, "text": step} for step in batch.steps]
    if card.kind == "cook":
        found += [{"text": step} for step in card.steps]
        found += [_figures(card)] if any(fact.key != "piece" for fact in card.facts) else []
    found.append({"name": "Keep it safe",
                  "text": " ".join(caution.text for caution in card.cautions)})
    return found
