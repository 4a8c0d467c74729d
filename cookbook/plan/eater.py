"""Who is coming: from a kitchen's table, a file like it, or a line such as `6 adults, 3 children, 2 want medium`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import ERROR, FileError, RequestError
from cookbook.kitchen import Kitchen

MOST = 500
"""How many eaters a plan is for at most."""
LIKE = '"6 adults, 3 children, 2 want medium", names from shared/eaters.yaml, or a file like it'
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_KINDS = {
    "adult": "usual", "person": "usual", "people": "usual", "guest": "usual", "eater": "usual", "grown-up": "usual",
    "child": "child", "children": "child", "kid": "child",
}  # fmt: skip
_COUNT = r"(?P<count>\d{1,4}|" + "|".join(_COUNTS[1:]) + r"|a|an|all)"
_WHO = re.compile(rf"{_COUNT} (?:(?P<size>small|big|hungry) )?(?P<kind>{'|'.join(_KINDS)})s?", re.I)
_ALLERGY = re.compile(
    rf"{_COUNT} (?:(?:is|are) )?(?:allergic to|(?:eats?|has|have|wants?) no|without|no) (?P<what>.+)", re.I
)
_COOKED = re.compile(rf"{_COUNT} .*fully cooked", re.I)
_BONE = re.compile(rf"{_COUNT} (?:wants?|likes?|would like|asks? for) (?:a |the )?bones?", re.I)
_WANT = re.compile(rf"{_COUNT} (?:wants?|likes?|prefers?|would like) (?:it )?(?P<what>.+)", re.I)


class Eater(NamedTuple):
    """One who eats. `likes` is a doneness by species, under '' one for any."""

    name: str
    appetite: str = "usual"
    likes: Mapping[str, str] = {}
    allergies: tuple[str, ...] = ()
    fully_cooked: bool = False
    bone: bool = False

    def wish(self, species: str) -> str | None:
        """The doneness wished of this species' meat, None where anything will do."""
        return self.likes.get(species) or self.likes.get("")

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "likes": dict(self.likes), "allergies": list(self.allergies)}


def eaters(kitchen: Kitchen, said: str | None) -> tuple[Eater, ...]:
    """The eaters that `said` means; without a word those of `shared/eaters.yaml`.

    Raises RequestError, or FileError where a file holds faults.
    """
    if said is None:
        table = kitchen.shared("eaters.yaml")
        if not table:
            raise RequestError("who is coming?", mend=f"say it with --eaters {LIKE}")
        return _from_table(table)
    for path in (Path(said), kitchen.root / said):
        if path.suffix in (".yaml", ".yml") and path.is_file():
            return _from_table(_read(kitchen, path))
    if Path(said).suffix in (".yaml", ".yml"):
        raise RequestError(f"there is no file {said}", mend=f"say who is coming with {LIKE}")
    return _from_words(said, kitchen)


def _read(kitchen: Kitchen, path: Path) -> Any:
    from cookbook.files.record import read
    from cookbook.kitchen.shared import TABLES

    document, problems = kitchen.document(path)
    if document is None:
        raise FileError(problems)
    problems = list(document.problems)
    value = read(document, document.root, TABLES["eaters.yaml"], problems, path.name)
    errors = [problem for problem in problems if problem.severity == ERROR]
    if errors:
        raise FileError(errors)
    return value


def _from_table(table: Mapping[str, Any] | None) -> tuple[Eater, ...]:
    found = tuple(_typed(name, fields or {}) for name, fields in (table or {}).items())
    if not found:
        raise RequestError("nobody is coming", mend=f"say it with --eaters {LIKE}")
    return _few(found)


def _typed(name: str, fields: Mapping[str, Any]) -> Eater:
    likes = fields.get("likes") or {}
    return Eater(
        name,
        fields.get("appetite") or "usual",
        {"": likes} if isinstance(likes, str) else dict(likes),
        tuple(fields.get("allergies") or ()),
        fields.get("fully_cooked") == "yes",
        fields.get("bone") == "yes",
    )


def _few(found: tuple[Eater, ...]) -> tuple[Eater, ...]:
    if len(found) > MOST:
        raise RequestError(f"{len(found)} eaters: a plan is for at most {MOST}", mend="plan two cooks")
    return found


def _clauses(said: str) -> Iterable[str]:
    for part in re.split(r"[,;\n]|\band\b", said):
        words = " ".join(part.split())
        if words:
            yield words


def _from_words(said: str, kitchen: Kitchen) -> tuple[Eater, ...]:
    known = {one.name.casefold(): one for one in _known(kitchen)}
    found: list[Eater] = []
    wishes: list[str] = []
    for words in _clauses(said):
        who = _WHO.fullmatch(f"{words} adults" if words.isdigit() else words)
        if who is not None:
            found += _group(who, len(found))
        elif words.casefold() in known:
            found.append(known[words.casefold()])
        else:
            wishes.append(words)
    if not found and not wishes:
        raise RequestError("nobody is coming", mend=f"say it with --eaters {LIKE}")
    for words in wishes:
        found = _granted(found, words, tuple(known))
    return _few(tuple(found))


def _known(kitchen: Kitchen) -> Sequence[Eater]:
    table = kitchen.shared("eaters.yaml")
    return _from_table(table) if table else ()


def _group(who: re.Match[str], before: int) -> list[Eater]:
    word = next(kind for kind in _KINDS if who["kind"].casefold().startswith(kind))
    appetite = _KINDS[word]
    if who["size"] and appetite == "usual":
        appetite = "small" if who["size"].casefold() == "small" else "big"
    count = _number(who["count"], 1)
    if before + count > MOST:
        raise RequestError(f"{before + count} eaters: a plan is for at most {MOST}", mend="plan two cooks")
    called = "child" if appetite == "child" else "adult"
    return [Eater(f"{called} {before + number + 1}", appetite) for number in range(count)]


def _number(words: str, every: int) -> int:
    said = words.casefold()
    if said == "all":
        return every
    return int(said) if said.isdigit() else 1 if said in ("a", "an") else _COUNTS.index(said)


def _granted(found: list[Eater], words: str, names: Sequence[str]) -> list[Eater]:
    """The same eaters with a wish; it goes to those who have said nothing of the sort yet, the unnamed
    and the adults first."""
    for pattern in (_ALLERGY, _COOKED, _BONE, _WANT):
        match = pattern.fullmatch(words)
        if match is not None:
            break
    else:
        raise _unread(words, names)
    free = [one for one in found if not _said(one, pattern)]
    count = _number(match["count"], len(free))
    if count > len(free):
        raise RequestError(
            f"'{words}', but there are {len(free)} eaters without such a wish",
            mend="count the eaters first, then what some of them want",
        )
    taken = (lambda one: bool(one.likes)) if pattern is _COOKED else (lambda one: one.fully_cooked)
    free.sort(key=lambda one: (one.name.casefold() in names, taken(one), one.appetite == "child"))
    chosen = {one.name for one in free[:count]}
    return [_with(one, pattern, match) if one.name in chosen else one for one in found]


def _said(one: Eater, pattern: re.Pattern[str]) -> bool:
    if pattern is _ALLERGY:
        return False
    return one.fully_cooked if pattern is _COOKED else one.bone if pattern is _BONE else bool(one.likes)


def _with(one: Eater, pattern: re.Pattern[str], match: re.Match[str]) -> Eater:
    if pattern is _ALLERGY:
        return one._replace(allergies=(*one.allergies, match["what"].strip()))
    if pattern is _COOKED:
        return one._replace(fully_cooked=True)
    if pattern is _BONE:
        return one._replace(bone=True)
    return one._replace(likes={"": match["what"].strip()})


def _unread(words: str, names: Sequence[str]) -> RequestError:
    from difflib import get_close_matches

    near = get_close_matches(words.casefold(), names, 1, 0.6)
    more = "also 1 fully cooked, 2 want a bone, 1 no mustard"
    mend = f"did you mean {near[0]}?" if near else f"say it like {LIKE}; {more}"
    return RequestError(f"'{words}' says nothing of who is coming that can be read", mend=mend, code="eaters")
