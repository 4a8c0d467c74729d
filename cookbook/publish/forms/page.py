"""The card as one self-contained page: no request to anywhere, every text escaped, one script of our own at most."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, FileError, Problem, RequestError
from cookbook.kitchen.shared import is_address
from cookbook.publish import photo
from cookbook.publish.content import Content
from cookbook.publish.content.around import inside
from cookbook.publish.forms.chapters import stamp
from cookbook.publish.forms.structured import escaped, structured
from cookbook.publish.rendering import plain, rendered

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.publish.content.gathering import Gathered
    from cookbook.recipe import Recipe

SCRIPTS = ("shape", "piece", "measures", "amounts", "times", "reading", "form")
"""The scaler's scripts, `templates/scaler/NAME.js`, in the order in which one needs the other; the page makes one."""


def page(
    card: Content,
    root: Path | None = None,
    scaler: dict[str, Any] | None = None,
    pictures: Sequence[tuple[str, str]] = (),
    home: str = "",
    data: str | None = None,
    beside: Sequence[tuple[str, str]] = (),
) -> str:
    """The card as an HTML document with its schema.org data inside, for screen and paper.

    `root` is the kitchen whose own templates win, `scaler` the data of the scaler, `pictures` what each shows
    and its address, `home` the way to the index of a site, `beside` other pages of it by their words, `data` the
    schema.org data where it isn't the card's own.
    """
    from markupsafe import Markup

    # JSON whose angle brackets and ampersands are written as escapes: nothing in it can end the script it stands in.
    script = "".join(plain(f"scaler/{name}.js", root) for name in SCRIPTS) if scaler is not None else ""
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() if script else ""
    return rendered(
        "page.html.j2",
        root,
        card=card,
        data=Markup(data or structured(card)),
        linked=is_address(card.address),
        is_address=is_address,
        stamp=stamp,
        scaler=scaler,
        faces=_faces(scaler),
        script=Markup(script),
        script_digest=digest,
        scaler_data=Markup(escaped(json.dumps(scaler, ensure_ascii=False))) if scaler is not None else "",
        pictures=pictures,
        home=home,
        beside=beside,
    )


def whole_page(kitchen: Kitchen, found: Gathered, told: Callable[[int, int], None] = lambda _done, _all: None) -> str:
    """The page of a gathered card, its pictures in it. Raises FileError for a picture that isn't there."""
    from cookbook.publish.forms.scaler import scaler

    card = found.content
    pictures = tuple((one.shows, _picture(kitchen, found.recipe, one.path)) for one in card.pictures)
    return page(card, kitchen.root, scaler(kitchen, found, told), pictures)


def _picture(kitchen: Kitchen, recipe: Recipe, path: str) -> str:
    try:
        return photo.address(inside(kitchen, "", path), path)
    except RequestError as fault:
        node = next(one for one in recipe.fields.nodes["photos"].items if one.text.strip() == path.strip())
        place = recipe.document.place(node)
        raise FileError([Problem(ERROR, fault.code, fault.message, place, fault.mend)]) from fault


def _faces(scaler: dict[str, Any] | None) -> list[tuple[str, str]]:
    """The choices of faces that make a difference for this cut."""
    from cookbook.publish.forms.scaler import FACES

    if scaler is None or not scaler["batches"]:
        return []
    state = scaler["own"]["bones"]
    seen = [sorted(scaler["batches"][0]["faces"].get(state, []))]
    found = [("", FACES[""])]
    for spec, words in FACES.items():
        names = scaler["cut"]["faces"].get(spec, {}).get(state) if spec else None
        if names and names not in seen:
            seen.append(names)
            found.append((spec, words))
    return found
