"""The card as one self-contained page: no request to anywhere, no script that runs, every text escaped."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from cookbook.publish.around import is_address
from cookbook.publish.content import Content
from cookbook.publish.structured import structured

if TYPE_CHECKING:
    from jinja2.sandbox import SandboxedEnvironment

FOLDER = Path(__file__).parent / "templates"


@cache
def environment() -> SandboxedEnvironment:
    """Where the templates are rendered: every text escaped, nothing runs."""
    from jinja2 import FileSystemLoader, StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    return ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(FOLDER), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True, keep_trailing_newline=True)


def page(card: Content) -> str:
    """The card as an HTML document with its schema.org data inside, for screen and paper."""
    from markupsafe import Markup

    # JSON whose angle brackets and ampersands are written as escapes: nothing in it can end the script it stands in.
    data = Markup(structured(card))
    return environment().get_template("page.html.j2").render(card=card, data=data, linked=is_address(card.address))
