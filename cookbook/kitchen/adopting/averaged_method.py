"""How several cooks were done, as one: temperatures and times averaged, words and steps where most agree.

A cook that tells nothing of a line was done as the recipe says; one whose pull nobody measured does not count for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from statistics import fmean

from cookbook.journal import Entry
from cookbook.kitchen.adopting.method import Method, method_lines, pull_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Duration, Temperature
from cookbook.recipe import Recipe

PULL, REST = ("pull_at",), ("rest", "time")
TEMPERATURES = (PULL, ("pit", "temperature"), ("pit", "wrap_at"))

_Key = tuple[tuple[str, ...], int | None, str]


def average_method(kitchen: Kitchen, cooks: Sequence[Entry], recipe: Recipe) -> list[Method]:
    """What these cooks of `recipe` did otherwise than it says, on average; each line says how they varied."""
    told = [{_key(line): line for line in method_lines(kitchen, entry, recipe)} for entry in cooks]
    pulls = [pull_of(kitchen, entry, recipe) for entry in cooks]
    found = []
    for key in dict.fromkeys(key for lines in told for key in lines):
        lines = [one[key] for one in told if key in one]
        said = [one[key].today if key in one else lines[0].written for one in told]
        if key[0] == PULL:
            said = [
                one[key].today if key in one else None if pull is None else str(pull)
                for one, pull in zip(told, pulls, strict=True)
            ]
        line = _average(lines, [words for words in said if words is not None], len(cooks))
        if line is not None:
            found.append(line)
    return found


def _key(line: Method) -> _Key:
    """What of the recipe a line changes; a step more is told apart by its words."""
    return line.path, line.step, line.today.casefold() if line.path == ("steps",) and line.step is None else ""


def _average(lines: Sequence[Method], said: Sequence[str], cooks: int) -> Method | None:
    first, sure = lines[0], all(line.sure for line in lines)
    if first.path not in (*TEMPERATURES, REST):
        today, times = Counter(line.today for line in lines).most_common(1)[0]
        return first._replace(today=today, sure=sure) if 2 * times > cooks else None
    measure = _minutes if first.path == REST else _celsius
    ranked = sorted(said, key=measure)
    mean = fmean(map(measure, said))
    today = f"{mean:.0f} min" if first.path == REST else _on_its_scale(mean, first.written or first.today)
    if first.written is not None and measure(first.written) == measure(today):
        return None
    return first._replace(today=today, sure=sure, varied=(len(said), ranked[0], ranked[-1]))


def _minutes(words: str) -> float:
    return Duration.parse(words).seconds / 60


def _celsius(words: str) -> float:
    return Temperature.parse(words).c


def _on_its_scale(celsius: float, like: str) -> str:
    """A temperature on the scale that the recipe is written in, to the degree."""
    scale = Temperature.parse(like).scale
    return f"{celsius * 9 / 5 + 32 if scale == 'F' else celsius:.0f} °{scale}"
