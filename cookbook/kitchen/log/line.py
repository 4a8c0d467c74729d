"""One line for an entry, before it is written."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from cookbook.files import Edit
from cookbook.quantity import Amount, read_mass_g


class LogLine(NamedTuple):
    """A change to an entry's text, what it says in plain words, what of it is open, and whether nothing was read."""

    change: Callable[[Edit], Edit]
    words: str
    doubts: tuple[str, ...] = ()
    unread: bool = False


def mass_written(words: str) -> str:
    """A weight as files hold it. Raises AmountError where `words` are no weight."""
    read_mass_g(words)
    return Amount.parse(words).ascii()
