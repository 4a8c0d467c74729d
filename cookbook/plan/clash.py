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
    """When each dish's last slice falls, in the order of `dishes`, in UTC.

    All together with a carver each, else one after the other, the smallest last.
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
        names, cooker = (one.dish.name, two.dish.name), one.dish.cooker
        pits = (one.dish.wanted.pit_c, two.dish.wanted.pit_c)
        pull, other = one.step("pull"), two.step("pull")
        if cooker != two.dish.cooker:
            if pull.earliest < other.latest and other.earliest < pull.latest:
                start = wall.shown(max(pull.earliest, other.earliest))
                found.append(
                    f"{names[0]} and {names[1]} may both come off from {start:%H:%M} on, on two cookers: two pairs "
                    "of hands, or a second thermometer"
                )
        elif _together(one, two) and abs(pits[0] - pits[1]) > SAME_PIT_K:
            found.append(
                f"from {wall.shown(max(one.on, two.on)):%H:%M} on {names[0]} wants {pits[0]:.0f} °C and {names[1]} "
                f'{pits[1]:.0f} °C on the {cooker}: give one another cooker (--with "RECIPE on COOKER"), or both '
                "the same pit (--pit)"
            )
    if len(days) > 1 and carvers < len(days):
        hands = "1 carver" if carvers == 1 else f"{carvers} carvers"
        found.append(f"{hands} for {len(days)} pieces: one is carved after the other, the smallest last")
    return found


def _together(one: Day, two: Day) -> bool:
    return one.on < two.step("pull").latest and two.on < one.step("pull").latest
