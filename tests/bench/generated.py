"""A kitchen of any size, always the same for the same numbers: invented recipes and cooks."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

ITEMS = (
    "garlic",
    "olive oil",
    "sage, fresh",
    "thyme, fresh",
    "rosemary, fresh",
    "fennel seed",
    "mustard seed",
    "black pepper, ground",
    "paprika, ground",
    "lemon juice",
    "walnuts",
    "honey",
)
CUTS = ("pork loin, boneless", "leg of lamb, bone in", "rib roast, bone in", "pork shoulder", "brisket, flat")
WOODS = ("cherry", "oak", "vine cuttings", "apple", "beech")
WORDS = ("wrapped", "late", "windy", "crust", "pale", "drier", "sweeter", "hotter", "lid", "coals", "thin")
FIRST = date(1986, 1, 4)


def paste(number: int, dice: random.Random) -> str:
    """A paste of five things and salt."""
    items = dice.sample(ITEMS, 5)
    lines = "".join(f"  - item: {item}\n    amount: {dice.randint(10, 90)} g\n" for item in items)
    return (
        f"kind: paste\ntitle: {items[0].split(',')[0].capitalize()} paste number {number}\nrevision: 1\nmade_for:\n"
        f"  cut: {CUTS[number % len(CUTS)]}\n  weight: 2.5 kg\ningredients:\n{lines}  - item: fine salt\n"
        "    amount: 1.1 % of meat\nsteps:\n  - Crush the firm things first, add the herbs, loosen with oil.\n"
    )


def cook(number: int, coat: str, dice: random.Random) -> str:
    """A cook that uses a paste."""
    wood = dice.choice(WOODS)
    return (
        f"kind: cook\ntitle: Roast over {wood} number {number}\nrevision: 1\ncut: {CUTS[number % len(CUTS)]}\n"
        f"serves: 8\ncoats:\n  - recipe: {coat}\npit:\n  temperature: {dice.randint(110, 160)} °C\n  cooker: drum\n"
        "  fuel: charcoal\n"
        f"  wood: {wood}\npull_at: 60 °C\nrest:\n  time: 25 min\n  cover: tented\nsteps:\n"
        "  - Coat the evening before and leave uncovered in the refrigerator.\n"
        "  - Lay it away from the coals, fat side to the heat.\n  - Tent loosely, slice after 25 minutes.\n"
    )


def entry(recipe: str, coat: str, day: date, dice: random.Random) -> str:
    """A finished cook with its sheet, events, scores and a note."""
    items = dice.sample(ITEMS, 5)
    sheet = "".join(f'    "{item}": {dice.randint(10, 120)} g\n' for item in items)
    at = [f'"{day}T{hour:02}:{dice.randint(0, 59):02}:00+01:00"' for hour in (10, 11, 12, 13, 14, 15, 16)]
    core = [dice.randint(10, 20), dice.randint(30, 40), dice.randint(45, 55)]
    note = " ".join(dice.sample(WORDS, 6))
    next_time = f"next_time:\n  - {dice.choice(WORDS)} next time\n" if dice.random() < 0.02 else ""
    return (
        f"recipe: {recipe}\nversion: 1-{dice.getrandbits(48):012x}.{dice.getrandbits(32):08x}\nuses:\n"
        f'  {coat}: 1-{dice.getrandbits(48):012x}.{dice.getrandbits(32):08x}\ndate: "{day}"\npiece:\n'
        f"  weight: {dice.randint(20, 40) / 10} kg\n  start: 5 °C\n  weight_after: 1.9 kg\ncooker: drum\n"
        f'sheet:\n  {coat}:\n{sheet}as_made:\n  {coat}:\n    - {{item: "{items[0]}", more: 8 g}}\nevents:\n'
        f"  - {{at: {at[0]}, did: lit}}\n  - {{at: {at[1]}, did: on}}\n"
        + "".join(f"  - {{at: {at[n + 2]}, core: {value} °C, pit: 130 °C}}\n" for n, value in enumerate(core))
        + f"  - {{at: {at[5]}, did: pulled}}\noutcome:\n  scores:\n    crust:\n      Ada: {dice.randint(8, 20) / 2}\n"
        f"      Ben: {dice.randint(8, 20) / 2}\n  served: 64 °C\nnotes:\n  - {note}\n{next_time}finished: {at[6]}\n"
    )


def files(recipes: int, entries: int) -> Iterator[tuple[str, str]]:
    """Every file's path and text: half of the recipes pastes, half cooks that use them; entries over forty years."""
    dice = random.Random(1)
    coats = [f"paste-{number}" for number in range(recipes // 2)]
    cooks = [f"roast-{number}" for number in range(recipes - len(coats))]
    for number, name in enumerate(coats):
        yield f"recipes/{name}.yaml", paste(number, dice)
    for number, name in enumerate(cooks):
        yield f"recipes/{name}.yaml", cook(number, coats[number % len(coats)], dice)
    for number in range(entries):
        place = min(int(dice.expovariate(8 / len(cooks))), len(cooks) - 1)
        day = FIRST + timedelta(days=number * 14_600 // entries)
        text = entry(cooks[place], coats[place % len(coats)], day, dice)
        yield f"journal/{day.year}/{day}-{cooks[place]}-{number}.yaml", text


def make(root: Path, recipes: int, entries: int) -> Path:
    """Write the kitchen into `root`."""
    made: set[Path] = set()
    for name, text in files(recipes, entries):
        path = root / name
        if path.parent not in made:
            path.parent.mkdir(parents=True, exist_ok=True)
            made.add(path.parent)
        path.write_bytes(text.encode())
    return root
