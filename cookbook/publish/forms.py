"""The forms of a card, by name."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from cookbook.errors import RequestError, UnknownName

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.outlook import Asked
    from cookbook.publish.content import Content
    from cookbook.publish.gathering import Pieces, Told
    from cookbook.publish.label import Jar

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
            "a PDF is no text", mend="`cookbook.publish.paper` makes it; on the command line with --out"
        )
    if form == "correction":
        from cookbook.publish.releases import correction

        return correction(kitchen, recipe_name)
    from cookbook.publish.gathering import gather

    found = gather(kitchen, recipe_name, piece, asked, told, cost)
    if form == "reply":
        from cookbook.publish.reply import reply

        return reply(found, eat)
    if form == "chapters":
        from cookbook.publish.chapters import track

        return track(found.content, kitchen, srt)
    if form == "label":
        from cookbook.publish.label import Jar, label

        return label(kitchen, found, jar or Jar())
    if form == "sheet":
        from cookbook.publish.sheet import sheet

        return sheet(found)
    if form == "page":
        from cookbook.publish.page import whole_page

        return whole_page(kitchen, found, told)
    return arranged(found.content, form)


def arranged(content: Content, form: str) -> str:
    """A content in one of the forms that need nothing besides: text, description, page, json-ld."""
    if form == "page":
        from cookbook.publish.page import page

        return page(content)
    if form == "json-ld":
        from cookbook.publish.structured import structured

        return structured(content)
    if form == "description":
        from cookbook.publish.description import description

        return description(content)
    from cookbook.publish.text import text

    return text(content)
