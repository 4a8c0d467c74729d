"""Guests and devices: a link that can only score, and the pairing of a phone."""

from __future__ import annotations

from datetime import datetime, timedelta

from starlette.responses import RedirectResponse, Response

from cookbook.errors import CookbookError, RequestError, UnknownName
from cookbook.files import lock
from cookbook.journal import Entry
from cookbook.journal.reading import OWN
from cookbook.kitchen.clock import now
from cookbook.kitchen.log import once
from cookbook.page.after import OVERALL, aspects, score_sent
from cookbook.page.asking import Ask, title_of, to
from cookbook.page.guard import COOKIE, OWNER
from cookbook.page.keys import DEVICE_S
from cookbook.page.lan import qr
from cookbook.page.pit import ident_of
from cookbook.page.showing import markup

_LASTS = timedelta(days=1)


# guests


def link(ask: Ask) -> Response:
    """Make the link that scores this cook."""
    entry = ask.kitchen.entry(ask.part("entry"))
    token = ask.page.keys.new_guest(entry.name)
    ask.page.guest_links[entry.name] = f"{ask.page.setting.home}/guest/{token}"
    return ask.went(to("cook", entry.name, "after") + "#guests")


def end(ask: Ask) -> Response:
    """The links of this cook score it no longer."""
    entry = ask.kitchen.entry(ask.part("entry"))
    ask.page.keys.end_guests(entry.name)
    ask.page.guest_links.pop(entry.name, None)
    return ask.went(to("cook", entry.name, "after") + "#guests")


def guest(ask: Ask) -> Response:
    """What a guest sees: the title, the aspects, nothing else."""
    entry = _scored(ask, now())
    return ask.show(
        "guest.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        aspects=_asked(ask, entry),
        phone=ask.page.ident(),
        said=None,
        name="",
        given={},
    )


def guest_scores(ask: Ask) -> Response:
    """Take a guest's scores; two guests of one name are told apart."""
    token, here = ask.part("guest"), now()
    name, phone = ask.words("name", 40), ident_of(ask)
    if not name or name == OWN:
        raise RequestError("who are you?", mend="give your name, so that your scores stay yours")
    if not phone:
        raise RequestError("this page is too old", mend="open the link again")
    with lock(ask.page.setting.root):
        entry = _scored(ask, here)
        asked = _asked(ask, entry)
        given = {one: value for one in asked if (value := score_sent(ask, f"score {one}", f"half {one}"))}
        if not given:
            raise RequestError("nothing was scored", mend="give at least one score")
        taken = frozenset(taster for scores in entry.scores.values() for taster in scores)
        taster = ask.page.keys.taster(token, phone, name.replace("=", " "), taken)
        said = {"scores": [[f"{aspect}={value}", taster] for aspect, value in given.items()]}
        done = once.log(ask.kitchen, entry.name, "score", said, here)
    if ask.by_script:
        return ask.went("", done.words, done.warnings)
    return ask.show(
        "guest.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        aspects=asked,
        phone=phone,
        said=done.words,
        name=name,
        given=given,
    )


def _scored(ask: Ask, here: datetime) -> Entry:
    """The entry that the link scores. Raises UnknownName where it scores none, or none any more."""
    name = ask.page.keys.guest(ask.part("guest"))
    try:
        entry = ask.kitchen.entry(name) if name is not None else None
    except CookbookError:
        entry = None
    if entry is None or (entry.finished is not None and here > entry.finished + _LASTS):
        raise UnknownName("such link any more", "…", mend="ask the cook for a new one")
    return entry


def _asked(ask: Ask, entry: Entry) -> list[str]:
    """The aspects that a guest is asked for; names that could not stand in a form are left to the cook."""
    return aspects(ask.kitchen, entry) or [OVERALL]


# devices


def pairing(ask: Ask) -> Response:
    """Where a phone that is not known types its code."""
    return ask.show("pair.html.j2", wrong=False, ended=ask.page.keys.pairing_ended)


def pair(ask: Ask) -> Response:
    """Try a code."""
    key = ask.page.keys.pair(ask.words("code", 20), ask.words("label", 60) or _called(ask))
    if key is None:
        return ask.show("pair.html.j2", 403, wrong=True, ended=ask.page.keys.pairing_ended)
    answer = RedirectResponse("/", 303)
    answer.set_cookie(COOKIE, key, max_age=int(DEVICE_S), httponly=True, samesite="strict", path="/")
    return answer


def _called(ask: Ask) -> str:
    """What a device calls itself, in a word."""
    agent = ask.request.headers.get("user-agent", "")
    known = ("iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux")
    return next((word for word in known if word in agent), "a device")


def devices(ask: Ask) -> Response:
    """Every paired device, and the code for one more."""
    keys = ask.page.keys
    code = keys.code
    home = ask.page.setting.home
    return ask.show(
        "devices.html.j2",
        devices=[(one, datetime.fromtimestamp(one.since).astimezone()) for one in keys.devices()],
        code=code,
        address=home,
        qr=markup(qr(f"{home}/pair#{code}")) if code else None,
        ended=keys.pairing_ended,
        own=ask.who,
    )


def new_code(ask: Ask) -> Response:
    """Another code, for one more device; only who stands at this machine gives it."""
    if ask.who != OWNER:
        raise RequestError("a code is made on the machine that the page runs on")
    ask.page.keys.new_code()
    return ask.went("/devices")


def forget(ask: Ask) -> Response:
    """A device is one no longer."""
    ask.page.keys.forget(ask.words("key", 64))
    return ask.went("/devices")
