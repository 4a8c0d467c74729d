"""A reply to paste under a film: amounts for the asker's piece, when to put it on, from when to look, the caution."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Batch, Content, Item
from cookbook.publish.forms.description import TOLD_IN_SHORT
from cookbook.quantity import is_salt

if TYPE_CHECKING:
    from cookbook.publish.content.gathering import Gathered

MOST = 700
"""Characters of a reply."""
_SPOONS = ("tsp", "tbsp", "cup")


def reply(found: Gathered, eat: datetime | None = None) -> str:
    """At most 700 characters of plain text; ingredients are cut first, salt last of them,
    the caution and what must be told never."""
    card = found.content
    inside = {batch.title: batch for batch in card.batches if _goes_in(batch, card)}
    coats = [item for batch in card.batches if batch.title not in inside for item in batch.items]
    kept = [(item.item, _amount(item, inside)) for item in coats]
    kept += [(item.item, _amount(item, {})) for item in card.items]
    rest = [*_cooking(found, eat), *_caution(card), *card.disclosures]
    for left in range(len(kept) + 1):
        if left:
            kept.remove(next((one for one in reversed(kept) if not is_salt(one[0])), kept[-1]))
        more = [f"and {left} more on the card{f': {card.address}' if card.address else ''}"] if left else []
        listed = "; ".join([*(said for _, said in kept), *more])
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
    if piece is not None:
        return f"for {piece.both} {piece.label}"
    return _short(f"{card.lead[:1].lower()}{card.lead[1:]}".rstrip("."), 120)


def _goes_in(batch: Batch, card: Content) -> bool:
    """Whether something else on the card takes it in."""
    others = [item for one in card.batches if one is not batch for item in one.items]
    return any(item.item == batch.title for item in (*others, *card.items))


def _amount(item: Item, inside: Mapping[str, Batch]) -> str:
    """An amount of something, with what goes into it where it is a recipe of its own."""
    found = inside.get(item.item)
    parts = ", ".join(_amount(one, inside) for one in found.items if one.item != item.item) if found else ""
    if found is not None and found.whole:
        parts = f"a whole batch: {parts}" if parts else "a whole batch"
    return f"{_spoons(item)} {_short(item.item, 60)}{f' ({parts})' if parts else ''}".strip()


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
    pull, least = wording.celsius(card.timing.pull_c), card.timing.rest_min
    if eat is None:
        yield (
            f"It takes {wording.in_words(card.timing.takes)} {where}{at}, from the refrigerator: check from "
            f"{wording.in_words(card.timing.check_from)} on, pull at {pull}"
            f"{f', rest {least:g} min' if least else ''}."
        )
        return
    on = _down(eat - timedelta(minutes=times.own.before_eating(times.rest_min) or 0.0))
    look = _down(on + timedelta(minutes=times.own.check_from))
    days = (eat.date() - on.date()).days
    before = {0: "", 1: " the day before"}.get(days, f" {days} days before")
    yield (
        f"To eat at {eat:%H:%M}: put it {where}{at} at {on:%H:%M}{before}, from the refrigerator; check from "
        f"{look:%H:%M} on, pull at {pull}{f', rest {least:g} min or longer' if least else ''}."
    )


def _caution(card: Content) -> Iterator[str]:
    """The caution that matters most for what is asked: the thermometer's for a cook, with the household line in it
    either way, keeping for a paste."""
    cook = card.kind == "cook"
    wanted = ("planned-pull", "safe-temperature") if cook else ("cure", "garlic-in-oil", "raw-meat")
    said = {one.key: one.text.replace(f" ({one.source})", "") for one in card.cautions}
    yield next((said[key] for key in wanted if key in said), card.cautions[-1].text)


def _down(at: datetime) -> datetime:
    return at - timedelta(minutes=at.minute % 5, seconds=at.second)


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1].rstrip() + "…"
