"""Templates: every text escaped, one frame for all pages, the few files they load."""

from __future__ import annotations

import re
from datetime import date, datetime
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from cookbook.kitchen.clock import day_words
from cookbook.page.guard import NOBODY
from cookbook.publish.rendering import FOLDER

if TYPE_CHECKING:
    from cookbook.page.asking import Ask

HOME = Path(__file__).parent
STATIC = {
    "page.css": "text/css; charset=utf-8",
    "page.js": "text/javascript; charset=utf-8",
    "pit.js": "text/javascript; charset=utf-8",
}
"""Every file that a page may load, and its kind."""


_COMMAND = re.compile(r"`cookbook log (\w+)[^`]*`")
_OPTION = re.compile(r"`--(\w+)[^`]*`")
_PLACES = {"used": "What went in", "finish": "Finish", "undo": "Undo", "start": "Cook it"}


@cache
def static(name: str) -> bytes:
    """The bytes of such a file; the page's style begins with the colours and letters of what is published."""
    own = (HOME / "static" / name).read_bytes()
    return (FOLDER / "colours.css").read_bytes() + own if name == "page.css" else own


@cache
def tag(name: str) -> str:
    """Names the content of such a file, so that it is sent again only once it changes."""
    return f'"{sha256(static(name)).hexdigest()[:16]}"'


@cache
def environment() -> Environment:
    """Where the pages are made."""
    from cookbook.page.asking import to

    made = Environment(
        loader=FileSystemLoader(HOME / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals |= {"to": to}
    made.filters |= {
        "by_hand": by_hand,
        "clock": clock,
        "day": day,
        "many": many,
        "signed": signed,
        "uncommanded": uncommanded,
    }
    return made


def page(ask: Ask | None, template: str, **told: Any) -> str:
    """One page; without `ask` one that stands alone."""
    frame: dict[str, Any] = {"token": "", "kitchen_name": "", "read_only": True}
    frame |= dict.fromkeys(("known", "lan"), False)
    if ask is not None:
        from cookbook.page.asking import token_of

        setting = ask.page.setting
        frame = {
            "token": ask.page.keys.token(token_of(ask)),
            "read_only": setting.read_only,
            "known": ask.who != NOBODY,
            "lan": setting.lan,
            "kitchen_name": _named(ask),
        }
    return environment().get_template(template).render({**frame, **told})


def _named(ask: Ask) -> str:
    """What the kitchen is called, to those who may know it; an empty folder is none yet."""
    if ask.who == NOBODY or not (ask.page.setting.root / "recipes").is_dir():
        return ""
    return str(ask.kitchen.settings.get("name") or "Kitchen")


def markup(svg: str) -> Markup:
    """A picture of ours, whose every word is escaped already."""
    return Markup(svg)


def day(when: date | str) -> str:
    """`14 Nov`, with its year where that is another one."""
    found = date.fromisoformat(when[:10]) if isinstance(when, str) else when
    return day_words(found.year, found.month, found.day, date.today().year)


def clock(at: datetime) -> str:
    """`14:05`."""
    return f"{at:%H:%M}"


def signed(value: float, many: int = 1) -> str:
    """`+0.9`; nothing that rounds to nought has a sign."""
    shown = f"{value:+.{many}f}"
    return shown.lstrip("+-") if float(shown) == 0 else shown.replace("-", "−")


def uncommanded(words: str) -> str:
    """A sentence without its last clause where that names an option of a command."""
    place = max(words.rfind("; "), words.rfind(": "))
    return words[:place] if place > 0 and "--" in words[place:] else words


def handled(words: str) -> str:
    """A sentence that names a command with the place on the page where the same is done."""
    placed = _COMMAND.sub(lambda found: f"“{_PLACES.get(found[1], 'in your own words')}”", words)
    return _OPTION.sub(r"“\1”", placed)


def by_hand(mend: str | None) -> bool:
    """Whether a mend can be done here: those that name a command or its options are for the command line."""
    return mend is not None and mend != "" and "--" not in mend and "`cookbook" not in mend


def many(number: int, one: str, more: str | None = None) -> str:
    """`1 cook`, `2 cooks`."""
    return f"{number} {one if number == 1 else more or one + 's'}"
