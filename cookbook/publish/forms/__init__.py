"""The forms of a card, by name: each arranges one content and computes nothing.

Beside them stand pages of other things (a comparison, a shopping list) and what is asked of a card before and after
it is published: `ready.py`, `releases.py`. May be imported by the site, the command line and the local page.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from cookbook.errors import RequestError, UnknownName

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.outlook import Asked
    from cookbook.publish.content import Content
    from cookbook.publish.content.gathering import Pieces, Told
    from cookbook.publish.forms.label import Jar

FORMS = ("text", "description", "reply", "page", "pdf", "json-ld", "chapters", "label", "sheet", "correction")


def _nobody(_done: int, _all: int) -> None:
    """Hears of progress and does nothing."""


def card(
    kitchen: Kitchen,
    recipe_name: str,
    form: str,
    piece: Pieces = None,
    *,
    asked: Asked | None = None,
    eat: datetime | None = None,
    jar: Jar | None = None,
    srt: bool = False,
    cost: bool = False,
    told: Told = _nobody,
) -> str:
    """The card of a recipe in one of `FORMS` but `pdf`, for one or several pieces, or for the piece as written.

    `piece` is a piece, a list of them, or what is known of each in the files' words; `asked` another cooker
    or doneness, `eat` when a reply is to be on the table, `jar` what only a label knows, `srt` SubRip, not WebVTT,
    `cost` what a portion cost, `told` hears of a forecast being worked out. Raises UnknownName for the form, the
    recipe or a cut, FileError for faults in files, PieceError for what can't be.
    """
    if form not in FORMS:
        raise UnknownName("form of a card", form, FORMS)
    if form == "pdf":
        raise RequestError(
            "a PDF is no text", mend="`cookbook.publish.forms.paper` makes it; on the command line with --out"
        )
    if form == "correction":
        from cookbook.publish.forms.releases import correction

        return correction(kitchen, recipe_name)
    from cookbook.publish.content.gathering import gather

    found = gather(kitchen, recipe_name, piece, asked, told, cost)
    if form == "reply":
        from cookbook.publish.forms.reply import reply

        return reply(found, eat)
    if form == "chapters":
        from cookbook.publish.forms.chapters import track

        return track(found.content, kitchen, srt)
    if form == "label":
        from cookbook.publish.forms.label import Jar, label

        return label(kitchen, found, jar or Jar())
    if form == "sheet":
        from cookbook.publish.forms.sheet import sheet

        return sheet(found)
    if form == "page":
        from cookbook.publish.forms.page import whole_page

        return whole_page(kitchen, found, told)
    return arranged(found.content, form)


def arranged(content: Content, form: str) -> str:
    """A content in one of the forms that need nothing besides: text, description, page, json-ld."""
    if form == "page":
        from cookbook.publish.forms.page import page

        return page(content)
    if form == "json-ld":
        from cookbook.publish.forms.structured import structured

        return structured(content)
    if form == "description":
        from cookbook.publish.forms.description import description

        return description(content)
    from cookbook.publish.forms.text import text

    return text(content)
