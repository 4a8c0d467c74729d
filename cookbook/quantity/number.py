"""Exact numbers as people write them: vulgar fractions, and decimals no longer than they need to be."""

from __future__ import annotations

from fractions import Fraction

VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}
BY_VALUE = {value: sign for sign, value in VULGAR.items()}
_PRINTED = {value: sign for value, sign in BY_VALUE.items() if value.denominator != 5}
"""The fractions that a measure may bear; fifths are clearer as decimals."""
_SPOONED = (16, 32)
"""Parts without a sign of their own that a set of spoons, or an ounce in a pound, still has."""
LONGEST = 10**6
"""A fraction with a longer denominator is written as a rounded decimal; nothing that is read has one."""


def ascii_number(value: Fraction) -> str:
    """A number as files hold it: `1 1/2` where the fraction is one that cookbooks print, else a decimal."""
    whole, part = divmod(value, 1)
    if part in _PRINTED or part.denominator in _SPOONED:
        return f"{whole} {part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"
    return decimal(value)


def sign_number(value: Fraction) -> str:
    """A number as cards show it: `1½`."""
    whole, part = divmod(value, 1)
    if part in _PRINTED:
        return f"{whole or ''}{_PRINTED[part]}"
    return ascii_number(value) if part.denominator in _SPOONED else decimal(value)


def decimal(value: Fraction) -> str:
    """The decimal that gives the value back exactly where six places do, else a fraction, else six digits of it."""
    if value.denominator == 1:
        return str(value.numerator)
    places = value * 1000000
    if places.denominator == 1:
        sign = "-" if places < 0 else ""
        whole, part = divmod(abs(places.numerator), 1000000)
        return f"{sign}{whole}.{part:06d}".rstrip("0")
    if value.denominator < LONGEST:
        return f"{value.numerator}/{value.denominator}"
    rounded = round(value, 6) if abs(value) >= Fraction(1, 1000) else round(value, 9)
    if rounded.denominator == 1:
        return str(rounded.numerator)
    return f"{float(rounded):.9f}".rstrip("0")


def digits(value: float, many: int) -> str:
    """A plain number of so many digits, whatever its size: never with an exponent above nought."""
    if abs(value) < 10**many - 0.5:
        return f"{value:.{many}g}"
    return f"{round(value, many - len(str(int(abs(value))))):.0f}"


def tenth(value: float) -> str:
    """A plain number to a tenth, as degrees are told: 54.4 of a °F's 54.4444, 121 without a nought behind."""
    return f"{round(value, 1) + 0:.10g}"
