"""The pages that look back and out: versions held against each other, the card in every form."""

from __future__ import annotations

from typing import Any

from starlette.responses import PlainTextResponse, Response

from cookbook.errors import UnknownName
from cookbook.page.asking import Ask
from cookbook.page.before import said_of, sizes_of
from cookbook.page.showing import markup
from cookbook.publish import card as card_of
from cookbook.publish.forms import FORMS

_KINDS = {"page": ("text/html", "html"), "json-ld": ("application/ld+json", "json")}
CARD_POLICY = (
    "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; frame-ancestors 'self'"
)
"""The card stands alone with its own style inside; here it may do nothing, and only our own page may frame it."""


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
    """The card in one of its forms, for the piece that was said."""
    found = ask.kitchen.recipe(ask.part("recipe"))
    form = ask.queried("form") or FORMS[0]
    if form not in FORMS:
        raise UnknownName("form of a card", form, FORMS)
    said = said_of(ask)
    text = card_of(ask.kitchen, found.name, form, {"": said} if said else None) if form != "page" else ""
    return ask.show(
        "card.html.j2", recipe=found, form=form, forms=FORMS, text=text, said=said,
        sizes=sizes_of(ask.kitchen, found), query=ask.request.url.query,
    )  # fmt: skip


def card_file(ask: Ask) -> Response:
    """The card by itself, to be shown in a frame or taken away."""
    found, form, said = ask.kitchen.recipe(ask.part("recipe")), ask.part("form"), said_of(ask)
    text = card_of(ask.kitchen, found.name, form, {"": said} if said else None)
    kind, ending = _KINDS.get(form, ("text/plain", "txt"))
    answer = PlainTextResponse(text, media_type=kind)
    answer.headers["content-security-policy"] = CARD_POLICY
    answer.headers["x-frame-options"] = "SAMEORIGIN"
    if ask.queried("take"):
        answer.headers["content-disposition"] = f'attachment; filename="{found.name}-{form}.{ending}"'
    return answer
