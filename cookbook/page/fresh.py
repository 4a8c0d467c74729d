"""Something new: made by eye and written down as it goes in, read from a text as people keep it, or written."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any

from starlette.responses import Response

from cookbook.errors import CookbookError, RequestError
from cookbook.journal.model import slug
from cookbook.kitchen.checking import faults_in
from cookbook.kitchen.clock import now
from cookbook.kitchen.importing import made_of_words
from cookbook.kitchen.log import once
from cookbook.meat import Cut
from cookbook.page.after import weighed
from cookbook.page.asking import Ask, to
from cookbook.page.before import with_unit
from cookbook.page.pit import ident_of
from cookbook.page.showing import handled
from cookbook.recipe.field import KINDS

_USUAL_CUT = "pork loin, boneless"
_FIELDS = ("title", "cut", "weight", "bowl")


def new_recipe(ask: Ask) -> Response:
    """What it is called and for which cut; then one of three ways to a recipe."""
    return _asked(ask, None)


def begin_recipe(ask: Ask) -> Response:
    """Go the way that was chosen; where something is missing all that was typed stands there still."""
    ways = {"eye": _by_eye, "read": _from_text}
    try:
        return ways.get(ask.words("how", 8), _written)(ask)
    except CookbookError as fault:
        return _asked(ask, fault)


def _asked(ask: Ask, fault: CookbookError | None) -> Response:
    typed = {name: ask.words(name, 80) for name in _FIELDS}
    return ask.show(
        "new.html.j2", 400 if fault else 200, kinds=KINDS, kind=ask.words("kind", 10) or KINDS[0], typed=typed,
        cuts=sorted({*Cut.names(), *(cut.name for cut in ask.kitchen.cuts)}), words=ask.raw("words"), fault=fault,
        ident=ask.page.ident(),
    )  # fmt: skip


def _head(ask: Ask) -> tuple[str, str, str]:
    """Title, kind and cut as they were said."""
    title, kind, cut = ask.words("title", 80), ask.words("kind", 10), ask.words("cut", 80)
    if not title or kind not in KINDS:
        raise RequestError("what is it called?", mend="give it a title; another can be found later")
    return title, kind, cut


def _by_eye(ask: Ask) -> Response:
    """Begin an entry that has no recipe: what goes in becomes one."""
    title, kind, cut = _head(ask)
    if not cut:
        raise RequestError("which cut is it for?", mend="name it: its surface is what a paste or rub follows")
    weight, bowl = ask.words("weight", 20), ask.words("bowl", 20)
    pieces = {"": {"weight": with_unit("weight", weight, ask.us)}} if weight else {}
    done = once.start_new(ask.kitchen, title, kind, cut, pieces, now(), ident_of(ask), weighed(bowl) or None)
    return ask.went(to("cook", done.entry) if kind == "cook" else to("cook", done.entry, "made"), done.words)


def _from_text(ask: Ask) -> Response:
    """The recipe that a loose text becomes, to be looked at before it is saved."""
    words = ask.raw("words").replace("\r\n", "\n")
    if not words.strip():
        raise RequestError("there is no text to read", mend="paste one, a title and the ingredients one a line")
    cut, weight = ask.words("cut", 80), ask.words("weight", 20)
    piece = {**({"cut": cut} if cut else {}), **({"weight": with_unit("weight", weight, ask.us)} if weight else {})}
    try:
        several = made_of_words(ask.kitchen, words, None, piece)
    except RequestError as fault:
        if fault.mend and "--cut" in fault.mend:
            fault.mend = "say which above, under “for which cut”"
        raise
    if len(several) > 1:
        titles = " and ".join(one.name for one in several)
        raise RequestError(f"there are {len(several)} recipes in this text: {titles}", mend="paste one at a time")
    made = several[0]
    left = [f"line {one.line}: {one.words}" if one.line else one.words for one in made.unread if not one.as_yet]
    as_yet = "; ".join(one.words for one in made.unread if one.as_yet)
    return _to_save(ask, made.name, made.data.decode(), made.title, left, as_yet)


def _written(ask: Ask) -> Response:
    """The first text of a new recipe: nothing is written until it is saved."""
    title, kind, cut = _head(ask)
    meat = Cut.named(cut or _USUAL_CUT, ask.kitchen.cuts)
    return _to_save(ask, slug(title), _blank(title, kind, cut or _USUAL_CUT, meat.species), title)


def _to_save(
    ask: Ask, name: str, text: str, title: str, left: Sequence[str] = (), as_yet: str = ""
) -> Response:
    if ask.kitchen.has_recipe(name):
        raise RequestError(f"there is a recipe {name} already", mend="give this one another title")
    return ask.show(
        "text.html.j2", name=name, text=text, seen="", problems=faults_in(ask.kitchen, name, text), theirs=None,
        new=True, title=title, left=left, as_yet=handled(as_yet),
    )  # fmt: skip


def _blank(title: str, kind: str, cut: str, species: str) -> str:
    """What a recipe of this kind needs, to be filled in; the pull is at the household line as yet."""
    from cookbook.files import plain_yaml
    from cookbook.safety import household_minimum

    head: dict[str, Any] = {"kind": kind, "title": title}
    if kind == "cook":
        line_c = ceil(household_minimum(species, cut).core_c)
        head |= {"cut": cut, "pit": {"temperature": "130 °C"}, "pull_at": f"{line_c} °C"}
        head |= {"rest": {"time": "25 min", "cover": "tented"}, "steps": ["…"]}
    else:
        head |= {"made_for": {"cut": cut, "weight": "2 kg"}}
        head |= {"ingredients": [{"item": "garlic", "amount": "40 g"}], "steps": ["…"]}
    return plain_yaml(head)
