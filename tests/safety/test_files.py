"""The checks on real files: a recipe with its paste, and an entry with its readings, as a cook writes them."""

from __future__ import annotations

import pytest

from cookbook.errors import UnknownName
from cookbook.files import parse
from cookbook.journal import Entry, readings
from cookbook.journal import read as read_entry
from cookbook.recipe import Recipe
from cookbook.recipe import read as read_recipe
from cookbook.safety import NOTE, STOP, WARN, Around, Finding, entry_safety, recipe_cautions, recipe_safety

PASTE = """\
kind: paste
title: Garlic paste
made_for: {cut: "pork loin, boneless", weight: 2.2 kg}
ingredients:
  - {item: garlic, amount: 60 g}
  - {item: dripping, amount: 80 ml}
  - {item: fine salt, amount: 1.1 % of meat}
"""

COOK = """\
kind: cook
title: Loin
cut: pork loin, boneless
coats: [{recipe: garlic-paste}]
pit: {temperature: 130 °C, cooker: drum}
pull_at: 60 °C
rest: {time: 25 min}
steps: [Inject with brine the day before.]
"""

ENTRY = """\
recipe: loin
version: 1-5f0c1e9a77b2.3c9a51d0
date: "2026-11-21"
piece: {weight: 3.1 kg}
events:
  - {at: "2026-11-21T09:00:00Z", did: paste on}
  - {at: "2026-11-21T10:00:00Z", did: "on", core: 6 °C}
  - {at: "2026-11-21T10:30:00Z", core: 20 °C, pit: 121 °C}
  - {at: "2026-11-21T11:00:00Z", core: 40 °C, pit: 250 °F}
  - {at: "2026-11-21T11:30:00Z", did: pulled, core: 58 °C}
  - {at: "2026-11-21T11:45:00Z", did: sliced, core: PEAK}
"""


def recipe(text: str, name: str = "loin") -> Recipe:
    found, problems = read_recipe(parse(text.encode(), f"{name}.yaml"), name)
    assert found is not None, problems
    return found


def entry(peak: str) -> Entry:
    found, problems = read_entry(parse(ENTRY.replace("PEAK", peak).encode(), "entry.yaml"), "2026-11-21-loin")
    assert found is not None, problems
    return found


def findings(peak: str, guests: bool = False) -> dict[str, Finding]:
    cooked = entry(peak)
    log, problems = readings.of(cooked)
    assert problems == []
    told = entry_safety(cooked, recipe(COOK), [recipe(PASTE, "garlic-paste")], log, Around(guests=guests))
    return {found.rule: found for found in told}


def test_a_recipe_as_written_is_told_what_it_plans() -> None:
    told = {found.rule: found for found in recipe_safety(recipe(COOK), [recipe(PASTE, "garlic-paste")])}
    assert told["garlic in oil"].value == "garlic"
    assert (told["planned pull"].level, told["planned pull"].value) == (WARN, 60)
    plain = recipe(COOK.replace("Inject with brine the day before.", "Cook it."))
    assert [(found.rule, found.level) for found in recipe_safety(plain)] == [("planned pull", NOTE)]


def test_a_recipe_card_carries_its_cautions() -> None:
    keys = [said.key for said in recipe_cautions(recipe(COOK), [recipe(PASTE, "garlic-paste")])]
    assert keys[:3] == ["garlic-in-oil", "safe-temperature", "guests"]
    assert "carbon-monoxide" in keys


def test_an_entry_is_judged_by_what_was_read_off() -> None:
    good = findings("64 °C", guests=True)
    assert (good["household minimum"].level, good["household minimum"].value) == (NOTE, 64)
    assert good["fully cooked guests"].level == NOTE
    assert good["time out"].value == 60
    assert good["come-up"].level == NOTE
    short = findings("60 °C", guests=True)
    assert (short["household minimum"].level, short["fully cooked guests"].level) == (WARN, STOP)
    assert short["trichinella"].level == NOTE


def test_paste_left_in_the_bowl_is_told_to_be_raw() -> None:
    left = ENTRY.replace("PEAK", "64 °C") + "outcome: {paste_left: 90 g}\n"
    found, problems = read_entry(parse(left.encode(), "entry.yaml"), "2026-11-21-loin")
    assert found is not None, problems
    told = {one.rule: one.level for one in entry_safety(found, recipe(COOK))}
    assert told["raw contact"] == NOTE
    assert "raw contact" not in findings("64 °C")


def test_a_core_in_the_wrong_scale_gives_no_verdict() -> None:
    assert "hotter than the core of any meat" in findings("150 °C")["readings"].message
    assert findings("147 °F")["household minimum"].value == pytest.approx(63.9)


def test_a_cut_nobody_knows_gives_no_verdict() -> None:
    strange = recipe(COOK)._replace(cut="haunch of unicorn")
    with pytest.raises(UnknownName):
        recipe_safety(strange)
