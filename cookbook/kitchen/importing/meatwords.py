"""The meat in somebody's words: the cut that a line of ingredients means, what it weighs, what a step says of it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from cookbook.errors import CookbookError, RequestError, UnknownName
from cookbook.kitchen.finding.indexing import words_in
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Cut
from cookbook.meat.naming import synonyms
from cookbook.quantity import Amount, lookup

_MASS = r"(?P<mass>(?:\d+(?:[.,]\d+)? ?[-–] ?)?\d+(?:[.,]\d+)?[ -]?(?:kg|kilos?|lbs?|pounds?)\b)\.?"
_ABOUT = r"(?:(?:approx|about|around|ca|roughly|of|at)\.? )?"
_HEAVY = re.compile(rf"{_MASS}[ -]+(?:of )?(?P<rest>.+)", re.IGNORECASE)
_ROUGHLY = re.compile(rf"(?P<item>.+?),? {_ABOUT}{_MASS}$", re.IGNORECASE)
_WEIGHT = re.compile(_MASS, re.IGNORECASE)
_LEADS = re.compile(rf"[ ,(–-]*{_ABOUT}$", re.IGNORECASE)
_ANOTHER = re.compile(r"[.;:\d]|\b(?:with|and|plus|add)\b", re.IGNORECASE)
"""What parts a weight from meat that it isn't the weight of: `the brisket with 2 lb potatoes`."""
_GLUED = re.compile(r"(?<=\d)-?(?=(?:kg|lbs?|g|oz|pounds?|kilos?)\b)", re.IGNORECASE)
_MOST_WORDS = 6
_NAME_LONG = 80
"""No cut's name has more words, or more letters."""


def weight_of(item: str, amount: str, beside: str | None) -> tuple[str | None, str | None]:
    """What the meat weighs, as written or in what stands beside it, and what is to be said of that."""
    for words in (amount, *re.split("[;,]", beside or "")):
        try:
            found = Amount.parse(_GLUED.sub(" ", words.strip()))
        except CookbookError:
            continue
        if found.kind == "mass" and found.low is not None and found.high is not None:
            if found.low == found.high:
                return str(found), None
            middle = Amount.parse(f"{float((found.low + found.high) / 2):.4g} {found.unit}")
            return str(middle), f"a weight has one number: the middle of {words.strip()} is written, {middle}"
    return None, f"how much it weighs isn't said: give {item} a weight with --weight"


def parted(item: str, beside: str | None) -> tuple[str, str | None]:
    """`chicken approx 1.8kg` as the meat and what stands beside it."""
    found = _ROUGHLY.fullmatch(item)
    return (found["item"], "; ".join(filter(None, (found["mass"], beside)))) if found else (item, beside)


def cut_of(kitchen: Kitchen, item: str, beside: str | None, said: str | None) -> str | None:
    """The cut that a line of ingredients means, if it is the meat; of a name with two meanings the one `said`.

    Raises RequestError where nobody said.
    """
    if not _speaks_of_meat(kitchen, item):
        return None
    for words in (f"{item}, {(beside or '').partition(';')[0]}".strip(", "), item):
        try:
            cut = Cut.named(words, kitchen.cuts).name
        except UnknownName:
            continue
        except RequestError as fault:
            if said is not None:
                return said
            raise RequestError(fault.message, mend="say which with --cut") from None
        return cut if said is None or Cut.named(said, kitchen.cuts).name == cut else None
    return None


def spoken_of(kitchen: Kitchen, title: str, lines: Sequence[str]) -> dict[str, str]:
    """A cut with its weight where a line names both, `rub on 4 lb pork loin`, `a pork loin of about 4 lb`; else the
    cut that the title names."""
    for line in (title, *lines):
        named = [
            (_first_cut(kitchen, found["rest"].split()[:_MOST_WORDS], from_start=True), found["mass"])
            for found in _HEAVY.finditer(line)
        ] + [
            (_first_cut(kitchen, _words_before(line, found.start()), from_start=False), found["mass"])
            for found in _WEIGHT.finditer(line)
            if not _weighs_another(line[found.end() :])
        ]
        for cut, mass in named:
            weight, _ = weight_of("", mass, None)
            if cut is not None and weight is not None:
                return {"cut": cut, "weight": weight}
    cut = _first_cut(kitchen, title.split(), from_start=False)
    return {"cut": cut} if cut is not None else {}


def _weighs_another(behind: str) -> bool:
    """Whether an ingredient follows a weight: `1 lb salt`."""
    first = behind.removeprefix(" of").split()[:1]
    return behind[:1] == " " and any(lookup(word.strip(" .,;:!?()")) is not None for word in first)


def _words_before(line: str, place: int) -> list[str]:
    """The last words of the sentence that a weight stands in, up to it."""
    sentence = _ANOTHER.split(_LEADS.sub("", line[max(0, place - _NAME_LONG) : place]))[-1]
    return sentence.split()[-_MOST_WORDS:]


def _first_cut(kitchen: Kitchen, words: Sequence[str], from_start: bool) -> str | None:
    """The cut that the most words running name; one with two meanings is none."""
    for many in range(min(_MOST_WORDS, len(words)), 0, -1):
        for begin in range(1 if from_start else len(words) - many + 1):
            name = " ".join(words[begin : begin + many]).strip(" .,;:!?()")
            if not _speaks_of_meat(kitchen, name):
                continue
            try:
                return Cut.named(name, kitchen.cuts).name
            except RequestError:
                continue
    return None


def _speaks_of_meat(kitchen: Kitchen, words: str) -> bool:
    own = {word for cut in kitchen.cuts for word in words_in(cut.name)}
    return bool(set(words_in(words)) & (_meat_words() | own))


@cache
def _meat_words() -> frozenset[str]:
    """Every word in the name of a cut: a line without one of them is no meat."""
    return frozenset(word for cut in Cut.names() for name in (cut, *synonyms(cut)) for word in words_in(name))
