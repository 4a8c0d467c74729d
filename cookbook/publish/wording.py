"""Words that every form of a card shares: clean text, pieces, both scales, which cups are meant."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.errors import AmountError
from cookbook.quantity import Temperature
from cookbook.quantity.number import VULGAR
from cookbook.quantity.unit import POUND_G, unit

if TYPE_CHECKING:
    from cookbook.meat import Piece

_HIDDEN = {chr(code) for code in (0x061C, 0x200B, 0x2060, 0xFEFF, *range(0x202A, 0x202F), *range(0x2066, 0x206A))}
"""Signs that turn or hide the text around them; joiners stay, emoji and several scripts need them."""

_NO_TEXT = ("Cc", "Cs", "Co", "Cn")
"""Categories of signs that are no text: controls, halves of pairs, private ones, unassigned ones."""

_NUMBER = r"\d{1,4}(?:[.,]\d+)?"
_DEGREES = re.compile(rf"(?<![\w.,(/])({_NUMBER}(?:\s?(?:[-–]|to)\s?{_NUMBER})?)\s?°\s?([CF])\b(?!\s?[(/])")
_DIFFERENCE_BEFORE = re.compile(
    r"\b(by|another|further|within|plus|minus|rises?|climbs?|gains?|drops?|falls?|loses?)\s+"
    r"(about\s+|some\s+|up to\s+)?$", re.IGNORECASE)
_DIFFERENCE_AFTER = re.compile(
    r"\s*(hotter|warmer|cooler|colder|higher|lower|more|less|apart|either|over|under|above|below)\b", re.IGNORECASE)
_LEAST_C, _LEAST_F = 20, 60
"""Below these a figure in a sentence may well be a difference, and is left as written."""

_FIGURE = re.compile(r"(?<=\d) (?=(?:°[CF]|kg|g|lb|oz|ml|min|mm|cm|h|%)(?!\w))")
_FRACTION = re.compile(r"(?:(?<![\w.,/])(\d+) )?(?<![\w.,/])(\d)/(\d)(?![\d/])")
_VULGAR = {f"{value.numerator}/{value.denominator}": sign for sign, value in VULGAR.items()}

_SYSTEMS = {"us": "US", "us-label": "US label", "metric": "metric", "au": "Australian", "uk": "UK", "jp": "Japanese"}


def spoken(text: str) -> str:
    """Text fit for any form: NFC, one line, no control signs and none that turn the direction of what follows."""
    spaced = "".join(" " if sign.isspace() else sign for sign in unicodedata.normalize("NFC", text))
    kept = "".join(sign for sign in spaced if sign not in _HIDDEN and unicodedata.category(sign) not in _NO_TEXT)
    return " ".join(unicodedata.normalize("NFC", kept).split())


def bound(text: str) -> str:
    """With figures held to their units, so that no line ends between them."""
    return _FIGURE.sub("\u00a0", text)


def capital(text: str) -> str:
    """With a capital at the front."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """With a capital at the front and a stop at the end."""
    text = text.strip()
    return capital(text) + ("" if text.endswith((".", "!", "?", "…")) else ".") if text else ""


def listed(words: Sequence[str], last: str = "and") -> str:
    """`a, b and c`."""
    *more, end = words
    return f"{', '.join(more)} {last} {end}" if more else end


def row(words: Sequence[str]) -> str:
    """In a row, set apart by what stands in none of them: `sage, fresh; garlic`."""
    return ("; " if any("," in one for one in words) else ", ").join(words)


def typographic(amount: str) -> str:
    """An amount as files write it, as cards print it: `1 1/2 cups + 3-4 tsp` with signs and whole lines."""
    def sign(found: re.Match[str]) -> str:
        part = _VULGAR.get(f"{found.group(2)}/{found.group(3)}")
        return f"{found.group(1) or ''}{part}" if part else found.group()
    shown = re.sub(r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞])-(?=\d)", "–", _FRACTION.sub(sign, amount))
    return re.sub(r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞]) (?=[^\W\d_]|%)", "\u00a0", shown)


def mass(grams: float) -> tuple[str, str]:
    """A weight of meat in both systems: `2.2 kg`, `4.9 lb`."""
    kilograms = f"{grams / 1000:.2f}".rstrip("0").rstrip(".")
    return f"{kilograms}\u00a0kg", f"{grams / float(POUND_G):.1f}".removesuffix(".0") + "\u00a0lb"


def piece_mass(piece: Piece) -> tuple[str, str]:
    """The weight of a piece in both systems; `about` and to 100 g where nobody weighed it."""
    if piece.known.mass_g is not None:
        return mass(piece.mass_g.mid)
    metric, us = mass(100 * round(piece.mass_g.mid / 100))
    return f"about {metric}", us


def made(grams: float) -> tuple[str, str]:
    """A weight of paste or rub in both systems: `283 g`, `10 oz`."""
    ounces = 16 * grams / float(POUND_G)
    shown = f"{ounces:.0f}" if ounces >= 10 else f"{ounces:.1f}".removesuffix(".0")
    return f"{grams:.0f}\u00a0g", f"{shown}\u00a0oz"


def degrees(temperature: Temperature) -> tuple[str, str]:
    """A temperature as written and on the other scale: `130 °C`, `266 °F`."""
    written, _, other = temperature.both().partition(" (")
    return written.replace(" ", "\u00a0"), other.removesuffix(")").replace(" ", "\u00a0")


def scales(celsius_: float, digits: int = 0) -> tuple[str, str]:
    """A computed temperature on both scales, to whole degrees: `60 °C`, `140 °F`."""
    return (f"{round(celsius_, digits):g}\u00a0°C", f"{round(celsius_ * 1.8 + 32):g}\u00a0°F")


def celsius(celsius_: float) -> str:
    """`60 °C (140 °F)`."""
    value, other = scales(celsius_)
    return f"{value} ({other})"


def clock(minutes: float, towards: int = 0) -> str:
    """`2:05` for two hours and five minutes."""
    hour, rest = divmod(_five(minutes, towards), 60)
    return f"{hour}:{rest:02d}"


def _five(minutes: float, towards: int) -> int:
    steps = minutes / 5
    return 5 * int(steps if towards < 0 else -(-steps // 1) if towards > 0 else steps + 0.5)


def both_scales(text: str) -> str:
    """A sentence with the other scale behind each of its temperatures; differences of temperature stay as written."""
    def also(found: re.Match[str]) -> str:
        if _DIFFERENCE_BEFORE.search(text[:found.start()]) or _DIFFERENCE_AFTER.match(text, found.end()):
            return found.group()
        try:
            read = Temperature.parse(f"{found.group(1).replace('–', '-')} °{found.group(2)}")
        except AmountError:
            return found.group()
        least = _LEAST_C if found.group(2) == "C" else _LEAST_F
        return found.group() if read.low < least else f"{found.group()} ({degrees(read)[1]})"
    return _DEGREES.sub(also, text)


def ribs(number: int) -> str:
    """`1 rib`, `3 ribs`."""
    return f"{number}\u00a0rib{'' if number == 1 else 's'}"


def piece_words(piece: Piece) -> str:
    """`rib roast, bone in, of 3 ribs, 3.9 kg (8.6 lb)`."""
    return f"{piece.cut.name}, of {size_words(piece)}"


def size_words(piece: Piece) -> str:
    """`3 ribs, 3.9 kg (8.6 lb)`."""
    metric, us = piece_mass(piece)
    return f"{f'{ribs(piece.ribs)}, ' if piece.ribs else ''}{metric} ({us})"


def name_words(piece: Piece) -> str:
    """The piece by its own name and size, or by its size."""
    return f"{spoken(piece.name)}, {size_words(piece)}" if piece.name else size_words(piece)


def faces_words(piece: Piece) -> str:
    """Where the coat goes: `on every face`, or on the faces by name."""
    coated = [face.name for face in piece.faces if face.coated]
    if len(coated) == len(piece.faces):
        return "on every face"
    bare = [face.name for face in piece.faces if not face.coated]
    if len(bare) < len(coated):
        return f"on every face but the {listed(bare, 'and')}"
    return f"on the {listed(coated)}"


def measures_words(measures: str) -> str:
    """Which cups and spoons a card means, with their sizes: `Cups and spoons are US: 1 cup is 237 ml, …`."""
    sizes = []
    for name in ("cup", "tbsp", "tsp"):
        known = unit(name, measures)
        if known is not None and known.size is not None:
            sizes.append(f"1\u00a0{name} is {float(known.size):.3g}\u00a0ml")
    what = "Cups and spoons" if len(sizes) == 3 else "Spoons"
    return f"{what} are {_SYSTEMS[measures]}, level: {', '.join(sizes)}."
