"""The forms of a card, by name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.errors import UnknownName

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.publish.content import Content
    from cookbook.publish.gathering import Pieces

FORMS = ("text", "description", "page", "json-ld")


def card(kitchen: Kitchen, recipe_name: str, form: str, piece: Pieces = None) -> str:
    """The card of a recipe in one of `FORMS`, for one or several pieces, or for the piece as written.

    `piece` is a piece, a list of them, or what is known of each in the files' words. Raises UnknownName for the form,
    the recipe or a cut, FileError for faults in files, PieceError for what can't be.
    """
    if form not in FORMS:
        raise UnknownName("form of a card", form, FORMS)
    from cookbook.publish.gathering import content

    return arranged(content(kitchen, recipe_name, piece), form)


def arranged(content: Content, form: str) -> str:
    """A content in one of `FORMS`."""
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
