"""The kitchens of the card tests."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.kitchen import Kitchen
from tests.publish.kitchens import FILES
from tests.publish.more import MORE, png


@pytest.fixture(autouse=True)
def quick(short_table: None) -> None:
    """Every card by the short table of times."""


@pytest.fixture
def kitchen(make_kitchen: Callable[..., Kitchen]) -> Kitchen:
    return make_kitchen(FILES)


@pytest.fixture
def fuller(make_kitchen: Callable[..., Kitchen]) -> Kitchen:
    """The small kitchen with a private rub, links, a film, questions, and a picture that holds words."""
    made = make_kitchen(MORE)
    (made.root / "pictures").mkdir()
    (made.root / "pictures" / "the-loin.png").write_bytes(png(b"taken at plum-cellar"))
    return made
