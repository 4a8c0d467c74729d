"""The pages that look back and out: versions held against each other, the card in every form."""

from __future__ import annotations

import re
from typing import Any

from starlette.responses import Response

from cookbook.errors import CookbookError, FileError, UnknownName
from cookbook.page.asking import Ask
from cookbook.page.before import said_of, sizes_of
from cookbook.page.showing import markup
from cookbook.publish import card as card_of
from cookbook.publish.forms import FORMS
from cookbook.publish.gathering import gather
from cookbook.publish.paper import paper

_SHOWN_ALONE = ("page", "pdf")
_KINDS = {
    "page": ("text/html", "html"),
    "pdf": ("application/pdf", "pdf"),
    "json-ld": ("application/ld+json", "json"),
    "chapters": ("text/vtt", "vtt"),
}
CARD_POLICY = (
    "sandbox allow-scripts; default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src {script}; "
    "base-uri 'none'; frame-ancestors 'self'"
)
"""The card stands alone with its own style inside: here nothing of it runs but what its own policy names by digest,
as a document of no origin, and only our own page may frame it."""


def compare(ask: Ask) -> Response:
    """The recipe's versions side by side."""
    from cookbook.compare import compare_versions
    from cookbook.compare.charts import score_chart, timeline
    from cookbook.compare.headline import headline
    from cookbook.picture import figure

    name = ask.kitchen.recipe(ask.part("recipe")).name
    found = compare_versions(ask.kitchen, name)
    scored = any(one.unit == "points" for one in found.table.measured)
    charts: list[Any] = [score_chart(found)] if scored else []
    charts += [timeline(found)] if scored and len(found.groups) > 1 else []
    pairs = list(dict.fromkeys((one.a, one.b) for one in found.differences))
    return ask.show(
        "compare.html.j2",
        recipe=ask.kitchen.recipe(name),
        found=found,
        line=headline(found),
        pairs=[(a, b, [one for one in found.differences if (one.a, one.b) == (a, b)]) for a, b in pairs],
        figures=[markup(figure(chart, f"compare-{place}")) for place, chart in enumerate(charts)],
    )


def card(ask: Ask) -> Response:
    """The card in one of its forms, for the piece that was said; where a form lacks something, what that is."""
    found = ask.kitchen.recipe(ask.part("recipe"))
    form = ask.queried("form") or FORMS[0]
    if form not in FORMS:
        raise UnknownName("form of a card", form, FORMS)
    said, text, fault = said_of(ask), "", None
    if form not in _SHOWN_ALONE:
        try:
            text = card_of(ask.kitchen, found.name, form, {"": said} if said else None)
        except FileError:
            raise
        except CookbookError as lack:
            fault = lack
    return ask.show(
        "card.html.j2",
        recipe=found,
        form=form,
        forms=FORMS,
        text=text,
        fault=fault,
        said=said,
        sizes=sizes_of(ask.kitchen, found),
        query=ask.request.url.query,
    )


def card_file(ask: Ask) -> Response:
    """The card by itself, to be shown in a frame or taken away."""
    found, form, said = ask.kitchen.recipe(ask.part("recipe")), ask.part("form"), said_of(ask)
    pieces = {"": said} if said else None
    kind, ending = _KINDS.get(form, ("text/plain", "txt"))
    if form == "pdf":
        data = paper(ask.kitchen, gather(ask.kitchen, found.name, pieces).content)
    else:
        data = card_of(ask.kitchen, found.name, form, pieces).encode()
    answer = Response(data, media_type=kind)
    answer.headers["content-security-policy"] = CARD_POLICY.format(
        script=_script(data) if form == "page" else "'none'"
    )
    answer.headers["x-frame-options"] = "SAMEORIGIN"
    if ask.queried("take"):
        answer.headers["content-disposition"] = f'attachment; filename="{found.name}-{form}.{ending}"'
    return answer


def _script(page: bytes) -> str:
    """The digests that the card's own policy lets run: it has no script but its scaler."""
    known = re.findall(rb"script-src ((?:'sha256-[A-Za-z0-9+/=]+' ?)+)", page[:4096])
    return known[0].decode().strip() if known else "'none'"
