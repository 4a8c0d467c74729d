"""Amounts written out: in ASCII as files hold them, with printed fractions and dashes as cards show them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from cookbook.quantity.number import ascii_number, decimal, sign_number
from cookbook.quantity.unit import PERCENT
from cookbook.quantity.words import DEGREES, FREE_WORDS, SIZES, UNCOUNTED

if TYPE_CHECKING:
    from cookbook.quantity.package import Beside
    from cookbook.quantity.reader import Read

_METRIC = frozenset(("g", "kg", "mg", "ml", "cl", "dl", "l"))
_ENDINGS = frozenset(FREE_WORDS.values())
_FULL = frozenset(word for word in DEGREES.values() if word)


def ascii_text(found: Read) -> str:
    """As files hold it; reads back as the same amount."""
    return _written(found, ascii_number, "-", " ")


def card_text(found: Read) -> str:
    """As cards show it, `1½ cups`, `3–4 tbsp`, with blanks that keep number and unit on one line."""
    return _written(found, sign_number, "–", "\u00a0")


def _written(found: Read, number: Callable[[Fraction], str], dash: str, blank: str) -> str:
    low, high, unit, words = found.low, found.high, found.unit, found.words
    if low is None or high is None or unit is None:
        return " ".join(words)
    before = ["about"] if "about" in words else []
    if unit.kind == PERCENT:
        share = f"{span(low, high, decimal, dash)}{blank}% {unit.name.removeprefix('percent ')}"
        return " ".join([*before, share, *(word for word in words if word in _ENDINGS)])
    show = decimal if unit.name in _METRIC else number
    before += [word for word in words if word.endswith(" of") and word not in UNCOUNTED]
    behind = [word for word in words if _behind(word)]
    if found.beside is not None:
        behind.append(_again(found.beside, dash, blank))
    behind += [word for word in words if word in _ENDINGS]
    return " ".join([*before, blank.join(_counted(found, show, dash, blank)), *behind])


def _counted(found: Read, show: Callable[[Fraction], str], dash: str, blank: str) -> list[str]:
    """Number, package, size, degree and unit."""
    low, high, unit = found.low, found.high, found.unit
    assert low is not None
    assert high is not None
    assert unit is not None
    if unit.name == "few grains" and low == high == 1 and not any(word in SIZES for word in found.words):
        return ["a", unit.name]
    vague = next((word for word in found.words if UNCOUNTED.get(word) == (low, high)), "")
    parts = [vague or span(low, high, show, dash)]
    if found.each is not None:
        held = f"{decimal(found.each.written)}{blank}{found.each.unit}"
        parts.append(f"({held})" if unit.name else f"x {held}")
    parts += [word for word in found.words if word in SIZES]
    parts += [word for word in found.words if word in _FULL]
    name = unit.name if high <= 1 and show is not decimal else unit.plural
    return [*parts, name] if name else parts


def _behind(word: str) -> bool:
    """Whether a word stands behind the unit: how it is packed, what fills it."""
    elsewhere = word == "about" or word.endswith(" of") or word in SIZES or word in _FULL or word in _ENDINGS
    return not elsewhere and word not in UNCOUNTED


def _again(beside: Beside, dash: str, blank: str) -> str:
    about = "about " if beside.about else ""
    return f"({about}{span(*beside.written, decimal, dash)}{blank}{beside.unit})"


def span(low: Fraction, high: Fraction, show: Callable[[Fraction], str], dash: str = "-") -> str:
    """One number, or two with a dash between."""
    return show(low) if low == high else f"{show(low)}{dash}{show(high)}"
