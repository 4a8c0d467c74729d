"""Who is coming: a line, names, a table, a file; each fault is named with the way to say it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.errors import FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.plan import eaters
from cookbook.plan.eater import Eater

MakeKitchen = Callable[..., Kitchen]
TABLE = "Ada: {likes: medium}\nBen: {appetite: big, bone: 'yes', allergies: mustard}\n"


@pytest.fixture
def kitchen(make_kitchen: MakeKitchen) -> Kitchen:
    return make_kitchen({"recipes/.keep": "", "shared/eaters.yaml": TABLE})


def appetites(found: tuple[Eater, ...]) -> Counter[str]:
    return Counter(one.appetite for one in found)


def test_a_line_counts_adults_and_children_and_gives_wishes_to_adults_first(kitchen: Kitchen) -> None:
    found = eaters(kitchen, "6 adults, 3 children, 2 want medium")
    assert appetites(found) == {"usual": 6, "child": 3}
    assert [one.wish("beef") for one in found] == ["medium", "medium", *[None] * 7]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("two adults and a child", {"usual": 2, "child": 1}),
        ("6", {"usual": 6}),
        ("4 big adults, 1 small adult", {"big": 4, "small": 1}),
        ("1 guest; 2 kids", {"usual": 1, "child": 2}),
        ("Ada, ben, 3 people", {"usual": 4, "big": 1}),
    ],
)
def test_appetites(kitchen: Kitchen, said: str, expected: dict[str, int]) -> None:
    assert appetites(eaters(kitchen, said)) == expected


def test_without_a_word_the_kitchens_table_is_meant(kitchen: Kitchen) -> None:
    ada, ben = eaters(kitchen, None)
    assert (ada.name, ada.wish("lamb"), ben.bone, ben.allergies) == ("Ada", "medium", True, ("mustard",))


def test_wishes_of_all_sorts(kitchen: Kitchen) -> None:
    found = eaters(
        kitchen, "4 adults, 1 must have it fully cooked, 2 want a bone, 1 is allergic to nuts, all like rare"
    )
    assert sum(one.fully_cooked for one in found) == 1
    assert sum(one.bone for one in found) == 2
    assert sum(one.allergies == ("nuts",) for one in found) == 1
    assert all(one.wish("beef") == "rare" for one in found)


def test_who_must_have_it_fully_cooked_is_not_one_who_wants_it_pink(kitchen: Kitchen) -> None:
    found = eaters(kitchen, "3 adults, 2 want medium rare, 1 fully cooked")
    assert [one for one in found if one.fully_cooked and one.likes] == []


def test_a_file_of_its_own(kitchen: Kitchen, tmp_path: Path) -> None:
    path = tmp_path / "saturday.yaml"
    path.write_text("Eva: {likes: {beef: rare, pork: medium}}\n", encoding="utf-8")
    (eva,) = eaters(kitchen, str(path))
    assert (eva.wish("beef"), eva.wish("pork"), eva.wish("lamb")) == ("rare", "medium", None)
    path.write_text("Eva: {appetite: huge}\n", encoding="utf-8")
    with pytest.raises(FileError) as fault:
        eaters(kitchen, str(path))
    assert fault.value.place is not None
    assert fault.value.place.line == 1


def test_without_a_table_and_without_a_word_it_is_asked(make_kitchen: MakeKitchen) -> None:
    with pytest.raises(RequestError) as fault:
        eaters(make_kitchen(), None)
    assert "--eaters" in (fault.value.mend or "")


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("2 purple", "can be read"),
        ("", "nobody"),
        ("2 adults, 6 want rare", "2 eaters without such a wish"),
        ("600 adults", "at most 500"),
        ("missing.yaml", "no file"),
        ("Adda", "can be read"),
    ],
)
def test_what_cannot_be_read_says_how_to_say_it(kitchen: Kitchen, said: str, part: str) -> None:
    with pytest.raises(RequestError) as fault:
        eaters(kitchen, said)
    assert part in fault.value.message
    assert fault.value.mend


def test_a_misspelt_name_gets_the_nearest(kitchen: Kitchen) -> None:
    with pytest.raises(RequestError) as fault:
        eaters(kitchen, "2 adults, Adaa")
    assert fault.value.mend == "did you mean ada?"
