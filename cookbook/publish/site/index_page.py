"""The first page of a site: every recipe, found by its words, and the same list for machines."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from cookbook.publish import wording
from cookbook.publish.content.around import place_in_site
from cookbook.publish.forms.structured import escaped
from cookbook.publish.rendering import plain, rendered

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen


def index_page(kitchen: Kitchen, base: str, about: Mapping[str, Mapping[str, Any]]) -> str:
    """The page; `about` says of each recipe what is listed, in this order, `base` is the site's address or ''."""
    from markupsafe import Markup

    script = plain("search.js", kitchen.root)
    settings = kitchen.settings
    return rendered(
        "index.html.j2",
        kitchen.root,
        recipes=[(place_in_site("recipes", name), one) for name, one in about.items()],
        author=wording.spoken(settings.get("author") or ""),
        name=wording.spoken(settings.get("name") or "Recipes"),
        licence=wording.spoken(settings.get("licence") or ""),
        feed=bool(base),
        data=Markup(escaped(json.dumps(_listed(base, about), ensure_ascii=False))),
        script=Markup(script),
        script_digest=base64.b64encode(hashlib.sha256(script.encode()).digest()).decode(),
    )


def _listed(base: str, about: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    found = []
    for place, (name, one) in enumerate(about.items(), 1):
        item = {"@type": "ListItem", "position": place, "name": one["title"]}
        found.append({**item, "url": base + place_in_site("recipes", name)} if base else item)
    return {"@context": "https://schema.org", "@type": "ItemList", "itemListElement": found}
