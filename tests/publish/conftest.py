"""The kitchen of the card tests."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.kitchen import Kitchen
from tests.publish.kitchens import FILES


@pytest.fixture
def kitchen(make_kitchen: Callable[..., Kitchen]) -> Kitchen:
    return make_kitchen(FILES)
