"""Chapters of the finished film: what a platform asks of them, in the description, as SubRip and as WebVTT."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from cookbook.errors import RequestError
from cookbook.publish.content import Chapter, Content, Film

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen

FEWEST, SHORTEST_S = 3, 10
"""What video platforms ask for: at least three, each ten seconds long, the first at 0:00, in order."""


def faults(film: Film) -> Iterator[str]:
    """What is wrong with the chapters, in sentences."""
    starts = [chapter.at_s for chapter in film.chapters]
    if len(starts) < FEWEST:
        yield f"{len(starts)} chapters: a platform shows them from {FEWEST} on"
    if starts and starts[0] != 0:
        yield f"the first chapter begins at {stamp(starts[0])}: it must be 0:00"
    ends = [*starts, *([film.length_s] if film.length_s else [])]
    for place, (start, end) in enumerate(pairwise(ends), 1):
        if end <= start:
            yield f"chapter {place} at {stamp(start)} is followed by {stamp(end)}: they must ascend"
        elif end - start < SHORTEST_S:
            yield f"chapter {place} at {stamp(start)} lasts {end - start} s: {SHORTEST_S} s at least"


def stamp(seconds: int) -> str:
    """`0:00`, `12:05`, `1:02:30`."""
    minutes, second = divmod(seconds, 60)
    hours, minute = divmod(minutes, 60)
    return f"{hours}:{minute:02d}:{second:02d}" if hours else f"{minute}:{second:02d}"


def lines(film: Film) -> list[str]:
    """One line a chapter, as a description lists them."""
    return [f"{stamp(chapter.at_s)} {chapter.name}" for chapter in film.chapters]


def track(card: Content, kitchen: Kitchen, srt: bool = False) -> str:
    """The chapter track as WebVTT, or as SubRip. Raises RequestError where chapters are missing or can't be so."""
    film = card.film
    if film is None or not film.chapters:
        proposed = "; ".join(takes(kitchen, card.name))
        raise RequestError(
            f"{card.name} has no chapters: give its release in shared/releases.yaml `chapters:` or `markers:`",
            mend=f"the takes were: {proposed}; their times in the finished film are yours to give"
            if proposed
            else "each with its time in the finished film: `{at: 0:00, name: The fire}`",
            code="no-chapters",
        )
    wrong = list(faults(film))
    if wrong:
        raise RequestError(
            f"the chapters of {card.name}: {'; '.join(wrong)}",
            mend="mend them in shared/releases.yaml",
            code="chapters",
        )
    if not film.length_s:
        raise RequestError(
            f"how long is the film of {card.name}?", mend="write `length: 12:34` into its release", code="film-length"
        )
    ends = [chapter.at_s for chapter in film.chapters[1:]] + [film.length_s]
    cues = list(zip(film.chapters, ends, strict=True))
    if srt:
        return "\n".join(
            f"{number}\n{_clock(one.at_s, ',')} --> {_clock(end, ',')}\n{_cue(one)}\n"
            for number, (one, end) in enumerate(cues, 1)
        )
    return "WEBVTT\n\n" + "\n".join(
        f"{number}\n{_clock(one.at_s, '.')} --> {_clock(end, '.')}\n{_cue(one, True)}\n"
        for number, (one, end) in enumerate(cues, 1)
    )


def takes(kitchen: Kitchen, recipe: str) -> list[str]:
    """What was filmed, in order: it proposes names, since times in a take are not those of the finished film."""
    from cookbook.publish.content.around import releases_of

    named = [one["entry"] for one in releases_of(kitchen, recipe) if one.get("entry")]
    found = kitchen.entry(named[-1]).fields.get("takes") if named else None
    return [take["what"] for take in sorted(found or (), key=lambda take: take["at"])]


def _clock(seconds: int, point: str) -> str:
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}{point}000"


def _cue(chapter: Chapter, escaped: bool = False) -> str:
    """A cue's text: never an arrow, which would begin another cue."""
    name = chapter.name.replace("-->", "→") or "…"
    return name.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;") if escaped else name
