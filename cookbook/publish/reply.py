"""A reply to paste under a film: amounts for the asker's piece, when to put it on, from when to look, the caution."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Content, Item
from cookbook.publish.description import TOLD_IN_SHORT

if TYPE_CHECKING:
    from cookbook.publish.gathering import Gathered

MOST = 700
"""Characters of a reply."""
_SPOONS = ("tsp", "tbsp", "cup")


def reply(found: Gathered, eat: datetime | None = None) -> str:
    """At most 700 characters of plain text; ingredients are cut first, the caution and what must be told never."""
    card = found.content
    amounts = list(_amounts(card))
    rest = [*_cooking(found, eat), *_caution(card), *card.disclosures]
    for shown in range(len(amounts), -1, -1):
        left = len(amounts) - shown
        more = [f"and {left} more on the card{f': {card.address}' if card.address else ''}"] if left else []
        listed = "; ".join([*amounts[:shown], *more])
        head = f"{_short(card.title, 80)}, {_lead(card)}:"
        said = " ".join([head, f"{listed}.", *rest] if listed else [head.rstrip(":") + ".", *rest])
        said = said.replace("\u00a0", " ")
        if len(said) <= MOST:
            return said + "\n"
    told = " ".join(card.disclosures)
    first = told if len(told) <= MOST // 2 else TOLD_IN_SHORT
    said = " ".join([first, *_caution(card), *_cooking(found, eat)]).strip()
    return _short(said.replace("\u00a0", " "), MOST) + "\n"


def _lead(card: Content) -> str:
    piece = next((fact for fact in card.facts if fact.key == "piece"), None)
    return f"for {piece.both} {piece.label}" if piece else _short(card.lead.rstrip("."), 120)


def _amounts(card: Content) -> Iterator[str]:
    for item in card.every_item:
        yield f"{_spoons(item)} {_short(item.item, 60)}".strip()


def _spoons(item: Item) -> str:
    """The amount in spoons and cups where there is one, else the handiest."""
    measured = [one for one in item.amounts if any(spoon in one for spoon in _SPOONS)]
    return (measured or list(item.amounts) or [""])[0]


def _cooking(found: Gathered, eat: datetime | None) -> Iterator[str]:
    """Put on, look, pull, rest."""
    card, times = found.content, found.times
    pit = next((fact for fact in card.facts if fact.key == "pit" and fact.value), None)
    if times is None or card.timing is None or times.own.check_from is None:
        return
    cooker = times.wanted.cooker.name or times.wanted.cooker.kind if times.wanted.cooker else times.cooker
    where = f"in the {cooker}" if cooker.endswith("oven") else f"on the {cooker}"
    at = f" at {pit.both}" if pit else f" at {wording.celsius(times.wanted.pit_c)}"
    pull, rest = wording.celsius(card.timing.pull_c), f"{card.timing.rest_min:g} min"
    if eat is None:
        yield (
            f"It takes {card.timing.takes} (h:min) {where}{at}, from the refrigerator: check from "
            f"{card.timing.check_from}, pull at {pull}, rest {rest}."
        )
        return
    on = _down(eat - timedelta(minutes=times.own.before_eating(times.rest_min) or 0.0))
    look = _down(on + timedelta(minutes=times.own.check_from))
    yield (
        f"To eat at {eat:%H:%M}: put it on {where}{at} at {on:%H:%M}, from the refrigerator; check from "
        f"{look:%H:%M}, pull at {pull}, rest {rest} or till it is time."
    )


def _caution(card: Content) -> Iterator[str]:
    """The caution that matters most for what is asked: the thermometer's for a cook, keeping for a paste."""
    wanted = ("safe-temperature", "planned-pull") if card.kind == "cook" else ("cure", "garlic-in-oil", "raw-meat")
    said = [caution.text.replace(f" ({caution.source})", "") for caution in card.cautions if caution.key in wanted]
    yield from said[: 2 if card.kind == "cook" else 1] or [card.cautions[-1].text]


def _down(at: datetime) -> datetime:
    return at - timedelta(minutes=at.minute % 5, seconds=at.second)


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1].rstrip() + "…"
