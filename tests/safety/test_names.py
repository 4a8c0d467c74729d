"""What the room offers, in one sorted list, none of it called like a room or a module."""

from pathlib import Path

import cookbook.safety as room


def test_public_names_stand_sorted_and_exist() -> None:
    names = room.__all__
    kinds = [(not name.isupper(), name[0].islower(), name) for name in names]
    assert kinds == sorted(kinds)
    assert all(hasattr(room, name) for name in names)


def test_no_public_name_is_a_modules_or_a_rooms() -> None:
    here = Path(room.__file__).parent
    taken = {path.stem for path in here.glob("*.py")} | {path.name for path in here.parent.iterdir()}
    assert not taken & set(room.__all__)


def test_the_three_calls_of_the_contract_answer() -> None:
    assert room.required_dwell_s("beef", 130) == 6720
    log10, conforms = room.lethality([0, 60], [20, 75], "pork")
    assert log10 > 0
    assert conforms
    core_c, rest_min, source = room.household_minimum("pork", "pork loin, boneless")
    assert (round(core_c, 1), rest_min, source) == (62.8, 3, "usda-safe-temperatures")
