"""The kitchen of the card tests."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.kitchen import Kitchen
from tests.publish.kitchens import FILES
from tests.publish.more import MORE, png


@pytest.fixture(scope="session")
def kept_forecasts(tmp_path_factory: pytest.TempPathFactory) -> str:
    """One cache for all card tests: what was once worked out is not worked out again."""
    return str(tmp_path_factory.mktemp("forecasts"))


@pytest.fixture(autouse=True)
def own_cache(kept_forecasts: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing that a test remembers reaches the cache of whoever runs it."""
    monkeypatch.setenv("XDG_CACHE_HOME", kept_forecasts)


@pytest.fixture(autouse=True)
def short_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """Times for one other cooker and two lengths, by few members: the same code in a fraction of the time."""
    monkeypatch.setattr("cookbook.heat.timetable.MEMBERS", 12)
    monkeypatch.setattr("cookbook.kitchen.timetables.READERS", ("oven",))
    monkeypatch.setattr("cookbook.kitchen.timetables.ALONG", (0.0, 1.0))


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
