"""The pages that look back and out: versions held against each other, the card in every form."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from starlette.responses import Response

from cookbook.errors import CookbookError, FileError, UnknownName
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import coming
from cookbook.kitchen.forecasting.outlook import Asked
from cookbook.page.apart import Told
from cookbook.page.asking import Ask
from cookbook.page.before import said_of, sizes_of
from cookbook.page.desk import Later
from cookbook.page.showing import day, markup
from cookbook.publish import card as card_of
from cookbook.publish.content.gathering import gather
from cookbook.publish.forms import FORMS
from cookbook.publish.forms.paper import paper
from cookbook.table import rows

if TYPE_CHECKING:
    from cookbook.compare import Comparison

_SHOWN_ALONE = ("page", "pdf")
_KINDS = {
    "page": ("text/html", "html"),
    "pdf": ("application/pdf", "pdf"),
    "json-ld": ("application/ld+json", "json"),
    "chapters": ("text/vtt", "vtt"),
}
_CALLED = {
    "page": "a page to scale on", "description": "under a film", "reply": "an answer to somebody", "pdf": "paper",
    "text": "plain text", "sheet": "beside the camera", "chapters": "a film's chapters", "label": "a jar's label",
    "correction": "a correction", "json-ld": "for search engines",
}  # fmt: skip
"""What each form is for, the one that shows most first."""
_TABLES = ("text", "sheet", "chapters")
"""Forms set in columns; all others are sentences, which may run as wide as the screen."""
_ANSWER = ("cooker", "want", "eat")
"""What somebody may ask an answer for: another cooker, another doneness, an hour."""
_MOST_EARLIER = 6
"""Earlier cooks that the last one is offered to be held against."""
CARD_POLICY = (
    "sandbox allow-scripts; default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src {script}; "
    "base-uri 'none'; frame-ancestors 'self'"
)
"""The card stands alone with its own style inside: here nothing of it runs but what its own policy names by digest,
as a document of no origin, and only our own page may frame it."""


def compare(ask: Ask) -> Response:
    """The recipe's versions side by side, or two of its cooks."""
    from cookbook.compare.charts import score_chart, timeline
    from cookbook.compare.groups import cooks_of
    from cookbook.compare.headline import headline
    from cookbook.picture import figure

    recipe = ask.kitchen.recipe(ask.part("recipe"))
    cooks = sorted((one for one in cooks_of(ask.kitchen, recipe.name) if one.finished), key=lambda one: one.name)
    two = (ask.queried("a", 120), ask.queried("b", 120))
    try:
        found = ask.page.desk.ask(compared_cooks, *two) if all(two) else ask.page.desk.ask(compared, recipe.name)
    except Later as late:
        return ask.show("compare.html.j2", 202, recipe=recipe, found=None, late=late)
    scored = any(one.unit == "points" for one in found.table.measured)
    charts: list[Any] = [score_chart(found)] if scored else []
    charts += [timeline(found)] if scored and len(found.groups) > 1 and not all(two) else []
    pairs = list(dict.fromkeys((one.a, one.b) for one in found.differences))
    return ask.show(
        "compare.html.j2",
        recipe=recipe,
        found=found,
        late=None,
        two=all(two),
        last=cooks[-1] if cooks else None,
        earlier=cooks[-2 : -2 - _MOST_EARLIER : -1],
        line=headline(found),
        pairs=[(a, b, [one for one in found.differences if (one.a, one.b) == (a, b)]) for a, b in pairs],
        figures=[markup(figure(chart, f"compare-{place}")) for place, chart in enumerate(charts)],
    )


def compared_cooks(_: Told, root: Path, one: str, two: str) -> Comparison:
    """Two cooks held against each other, each called by its day where that tells them apart."""
    from cookbook.compare import compare_entries

    kitchen = Kitchen.open(root)
    entries = kitchen.entry(one), kitchen.entry(two)
    days = [day(entry.date) for entry in entries]
    called = {entry.name: told for entry, told in zip(entries, days, strict=True)} if len(set(days)) > 1 else {}
    found = compare_entries(kitchen, *entries)
    return found._replace(
        groups=tuple(group._replace(label=called.get(group.label, group.label)) for group in found.groups),
        differences=tuple(
            gap._replace(a=called.get(gap.a, gap.a), b=called.get(gap.b, gap.b)) for gap in found.differences
        ),
    )


def compare_file(ask: Ask) -> Response:
    """Every score and measure, for a spreadsheet."""
    from cookbook.compare.spreadsheet import csv_text

    name = ask.kitchen.recipe(ask.part("recipe")).name
    answer = Response(csv_text(ask.page.desk.ask(compared, name)), media_type="text/csv")
    answer.headers["content-disposition"] = f'attachment; filename="{name}.csv"'
    return answer


def compared(_: Told, root: Path, name: str) -> Comparison:
    """The recipe's versions side by side, worked out at the desk."""
    from cookbook.compare import compare_versions

    return compare_versions(Kitchen.open(root), name)


def card(ask: Ask) -> Response:
    """The card in one of its forms, for the piece that was said; where a form lacks something, what that is."""
    found = ask.kitchen.recipe(ask.part("recipe"))
    form = ask.queried("form") or next(iter(_CALLED))
    text, fault, late = b"", None, None
    try:
        text = _card(ask, form)
    except Later as found_later:
        late = found_later
    except (FileError, UnknownName):
        raise
    except CookbookError as lack:
        fault = lack
    return ask.show(
        "card.html.j2",
        202 if late else 200,
        recipe=found,
        form=form,
        forms=_CALLED,
        wraps=form not in _TABLES,
        answer={word: ask.queried(word, 60) for word in _ANSWER},
        cookers=cookers(ask.kitchen),
        text="" if form in _SHOWN_ALONE else text.decode(),
        fault=fault,
        late=late,
        said=said_of(ask),
        sizes=sizes_of(ask.kitchen, found),
        query=ask.request.url.query,
    )


def card_file(ask: Ask) -> Response:
    """The card by itself, to be shown in a frame or taken away."""
    form = ask.part("form")
    data = _card(ask, form)
    kind, ending = _KINDS.get(form, ("text/plain", "txt"))
    answer = Response(data, media_type=kind)
    answer.headers["content-security-policy"] = CARD_POLICY.format(
        script=_script(data) if form == "page" else "'none'"
    )
    answer.headers["x-frame-options"] = "SAMEORIGIN"
    if ask.queried("take"):
        name = f"{ask.kitchen.recipe(ask.part('recipe')).name}-{form}.{ending}"
        answer.headers["content-disposition"] = f'attachment; filename="{name}"'
    return answer


def _card(ask: Ask, form: str) -> bytes:
    if form not in FORMS:
        raise UnknownName("form of a card", form, FORMS)
    name, said = ask.part("recipe"), tuple(said_of(ask).items())
    answer = tuple(ask.queried(word, 60) for word in _ANSWER) if form == "reply" else ("", "", "")
    data: bytes = ask.page.desk.ask(carded, name, form, said, answer, rests_on=(name, said))
    return data


def cookers(kitchen: Kitchen) -> list[str]:
    """The cook's own cookers, then the kinds that there are."""
    own = kitchen.shared("cookers.yaml") or ()
    return list(dict.fromkeys([*own, *(row["kind"] for row in rows("heat_cookers"))]))


def carded(
    told: Told, root: Path, name: str, form: str, said: tuple[tuple[str, str], ...], answer: tuple[str, ...]
) -> bytes:
    """The card of a recipe in one form, worked out at the desk; of a reply for which cooker, doneness and hour."""
    cooker, want, eat = answer

    def counted(done: int, of: int) -> None:
        told(f"{done} of {of} runs of the forecast")

    kitchen, pieces = Kitchen.open(root), {"": dict(said)} if said else None
    if form == "pdf":
        return paper(kitchen, gather(kitchen, name, pieces, told=counted).content)
    asked = Asked(cooker=cooker or None, want=want or None) if cooker or want else None
    when = coming(eat) if eat else None
    return card_of(kitchen, name, form, pieces, asked=asked, eat=when, told=counted).encode()


def _script(page: bytes) -> str:
    """The digests that the card's own policy lets run: it has no script but its scaler."""
    known = re.findall(rb"script-src ((?:'sha256-[A-Za-z0-9+/=]+' ?)+)", page[:4096])
    return known[0].decode().strip() if known else "'none'"
