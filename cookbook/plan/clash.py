"""Several dishes on one day: who carves when, and where they get into each other's way on a cooker."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import combinations

from cookbook.plan.dish import Dish
from cookbook.plan.step import Wall, before
from cookbook.plan.timeline import Day, Wishes

SAME_PIT_K = 8.0
"""Two dishes may share a pit whose wanted temperatures differ by so much (judgement: a pit swings as far)."""


def carved_at(dishes: Sequence[Dish], eat: datetime, carvers: int, wishes: Wishes) -> list[datetime]:
    """When each dish's last slice falls: all together with a carver each, else one after the other, the smallest last.

    `dishes` keep their places in the answer; every time is in UTC.
    """
    done = before(eat, wishes.extra("serve"))
    ends = [done] * len(dishes)
    order = sorted(range(len(dishes)), key=lambda place: dishes[place].piece.mass_g.mid)
    hands = [done] * max(carvers, 1)
    for place in order:
        hand = max(range(len(hands)), key=lambda number: hands[number])
        ends[place] = hands[hand]
        hands[hand] = before(hands[hand], dishes[place].carve().mid)
    return ends


def clashes(days: Sequence[Day], carvers: int, wall: Wall) -> list[str]:
    """In sentences: two dishes on one cooker at two temperatures, and pulls that one pair of hands has at once."""
    found = []
    for one, two in combinations(days, 2):
        if one.dish.cooker == two.dish.cooker and _together(one, two):
            apart = abs(one.dish.wanted.pit_c - two.dish.wanted.pit_c)
            if apart > SAME_PIT_K:
                found.append(
                    f"{one.dish.name} wants {one.dish.wanted.pit_c:.0f} °C and {two.dish.name} "
                    f"{two.dish.wanted.pit_c:.0f} °C on the {one.dish.cooker}, both at {_when(one, two, wall)}: give one "
                    f'another cooker (--with "RECIPE on COOKER"), or both the same pit (--pit)'
                )
        first, second = one.step("pull"), two.step("pull")
        if one.dish.cooker != two.dish.cooker and first.earliest < second.latest and second.earliest < first.latest:
            start = wall.shown(max(first.earliest, second.earliest))
            found.append(
                f"{one.dish.name} and {two.dish.name} may both come off from {start:%H:%M} on, on two cookers: two pairs "
                "of hands, or a second thermometer"
            )
    if len(days) > 1 and carvers < len(days):
        found.append(f"{carvers} carver{'' if carvers == 1 else 's'} for {len(days)} pieces: they are carved one after "
                     "the other, the smallest last")  # fmt: skip
    return found


def _together(one: Day, two: Day) -> bool:
    return one.on < two.step("pull").latest and two.on < one.step("pull").latest


def _when(one: Day, two: Day, wall: Wall) -> str:
    return f"{wall.shown(max(one.on, two.on)):%H:%M}"
