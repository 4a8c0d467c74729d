"""How values are written on a page."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

import pytest

from cookbook.kitchen.clock import now
from cookbook.kitchen.log import logbook
from cookbook.page.asking import tidy, to
from cookbook.page.showing import by_hand, many, signed
from tests.page.test_after import linked
from tests.page.visiting import PIXEL, Visitor


@pytest.mark.parametrize(
    ("value", "shown"), [(0.94, "+0.9"), (-2.46, "−2.5"), (0.04, "0.0"), (-0.04, "0.0"), (0, "0.0")]
)
def test_a_difference_has_its_sign_and_nought_has_none(value: float, shown: str) -> None:
    assert signed(value) == shown


def test_a_mend_that_names_a_command_is_for_the_command_line() -> None:
    assert by_hand("write it like 14:05")
    assert not by_hand("name it with --cut")
    assert not by_hand("begin one with `cookbook log start RECIPE`")
    assert not by_hand(None)


def test_one_is_one() -> None:
    assert [many(0, "cook"), many(1, "cook"), many(2, "entry", "entries")] == ["0 cooks", "1 cook", "2 entries"]


def test_words_from_a_form_stay_on_one_line_and_are_what_a_keyboard_writes() -> None:
    assert tidy("  a\tsplit\r\n on\x00\x1b[31m \u202e ½ – é 🔥 ") == "a split on [31m ½ – é 🔥"
    assert tidy("x" * 5000, 40) == "x" * 40


def test_a_part_of_an_address_stays_one_part() -> None:
    assert to("recipe", "../a b?c#d/é") == "/recipe/..%2Fa%20b%3Fc%23d%2F%C3%A9"


def test_nothing_that_was_written_is_markup(small: Visitor) -> None:
    """Titles, items, steps, notes, aspects, names, captions, pieces, search words: shown as they are written."""
    evil = "<script>alert(1)</script>"
    for name, title in (("loin", "Loin over cherry"), ("walnut-paste", "Walnut and thyme paste")):
        path = small.root / f"recipes/{name}.yaml"
        text = path.read_text().replace(title, f"'{title} {evil}'").replace("Pound it all.", f"Pound {evil} it all.")
        path.write_text(text.replace("item: walnuts", f"item: 'walnuts {evil}'") + f"notes: 'with {evil}'\n")
    assert evil in small.kitchen.recipe("loin").title
    pieces = {f"big {evil}": {"weight": "2 kg"}, "small": {"weight": "1 kg"}}
    entry = logbook.start(small.kitchen, "loin", pieces, now())
    cook = f"/cook/{entry.name}"
    small.do(f"{cook}/log", send=f"line {evil}", words=f"it went {evil}")
    small.do(f"{cook}/log", send=f"event {evil}")
    small.do(f"{cook}/made", item=f"salt {evil}", how="amount", value="9 g", into="walnut-paste")
    small.do(f"{cook}/score", aspect=f"crust {evil}", score="7", by=f"Ada {evil}")
    small.do(f"{cook}/photos", photo=(evil, PIXEL, "image/png"), caption=f"crust {evil}")
    link = linked(small, entry.name)
    token = small.page.keys.token(f"guest {link.rpartition('/')[2]}")
    guest: dict[str, Any] = {f"score crust {evil}": "8", "id": "phone-000001", "name": f"Ben {evil}", "token": token}
    pages = [small.do(link, 200, **guest).text, small.do("/new", 200, title=evil, kind="rub").text]
    small.do(f"{cook}/finish", next=f"less {evil}")
    asked = quote(evil, safe="")
    pages += [small.see(link), small.see(f"/?words={asked}"), small.see(f"/recipe/{asked}", 404)]
    for name in ("loin", "walnut-paste"):
        parts = ("", "/start", "/text", "/compare", f"/plan?who={asked}&eat={asked}")
        pages += [small.see(f"/recipe/{name}{part}") for part in parts]
    pages += [small.see("/"), small.see(cook)]
    pages += [small.see(f"{cook}/{part}") for part in ("after", "made", "adopt", "state")]
    for page in pages:
        assert "<script>alert" not in page
    assert sum("&lt;script&gt;alert" in page for page in pages) >= len(pages) - 3
