"""A text as tokens with their places, and the numbers in it, read exactly.

Numbers stand as cookbooks print them: `1 1/2`, `1½`, `1-1/2`, `2.5`, `1,5`, `1,000`, `half a`, `two dozen`.
"""

from __future__ import annotations

import re
from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity.number import VULGAR

MOST_LETTERS = 200
"""No amount is longer; a longer text is refused before it is read."""
MOST_DIGITS = 9
"""No amount in a kitchen needs more digits; more are refused before any arithmetic."""
MOST_PLACES, MOST_PARTS = 6, 999
"""Nor more places behind the point, nor smaller parts: what is read can be written again exactly."""

_SAME = str.maketrans({
    "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "\u2044": "/", "\u2215": "/", "\u2010": "-",
    "\u2011": "-",
    "\u2013": "-", "\u2014": "-", "\u2212": "-", "×": "x", "″": '"', "”": '"', "’": "'", "º": "°",
})
_SIGNS = "".join(VULGAR)
_TOKEN = re.compile(rf"[0-9]+|[{_SIGNS}]|[^\W\d_{_SIGNS}]+(?:'[^\W\d_{_SIGNS}]+)*|\S")
"""Digits, a printed fraction, a word, or one sign. Each branch begins with another character: time grows with
length."""

_CARDINALS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
              "thirteen",
              "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty")
WHOLES = {word: Fraction(number) for number, word in enumerate(_CARDINALS, 1)}
PARTS = {"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
         "fifth": 5,
         "fifths": 5, "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8}
ARTICLES = ("a", "an")
_BEGINNERS = {*WHOLES, *ARTICLES, "half", "quarter", "dozen", "."}
DIGITS = frozenset("0123456789")
_SMALL = tuple(Fraction(number) for number in range(101))


def writable(value: Fraction) -> bool:
    """Whether a number of a file says `value` exactly."""
    return value.denominator <= MOST_PARTS or (value * 10**MOST_PLACES).denominator == 1


def plain(text: str) -> str:
    """Typographic blanks, dashes and fraction bars as ASCII, character for character so that places stay."""
    return text.translate(_SAME)


class Scanner:
    """A text read from left to right. `word` is the token at hand in small letters, '' at the end."""

    __slots__ = ("at", "ends", "raw", "starts", "text", "words")

    def __init__(self, text: str) -> None:
        self.raw = text
        self.at = 0
        if len(text) > MOST_LETTERS:
            raise AmountError(f"{len(text)} letters are no amount, time or length", text=text, offset=MOST_LETTERS,
                              length=len(text) - MOST_LETTERS, mend="keep to a number and a unit")
        self.text = text.translate(_SAME)
        self.words: list[str] = []
        self.starts: list[int] = []
        self.ends: list[int] = []
        for found in _TOKEN.finditer(self.text):
            self.words.append(found.group().casefold())
            self.starts.append(found.start())
            self.ends.append(found.end())
        self.words += ("", "", "", "", "")
        self.starts.append(len(text))
        self.ends.append(len(text))

    @property
    def word(self) -> str:
        """The token at hand."""
        return self.words[self.at]

    @property
    def done(self) -> bool:
        """Whether nothing is left."""
        return not self.words[self.at]

    def letters(self, at: int) -> str:
        """A token as it was written."""
        return self.text[self.starts[at]:self.ends[at]]

    def joined(self, at: int) -> bool:
        """Whether no blank stands before a token."""
        return at > 0 and bool(self.words[at]) and self.ends[at - 1] == self.starts[at]

    def took(self, *phrase: str) -> bool:
        """Pass the words of `phrase` if they stand here."""
        at = self.at
        for word in phrase:
            if self.words[at] != word:
                return False
            at += 1
        self.at = at
        return True

    def rest(self, at: int | None = None) -> str:
        """What is left, as it was written."""
        return self.raw[self.starts[self.at if at is None else at]:].strip()

    def fault(self, message: str, mend: str | None = None, *, first: int | None = None,
              last: int | None = None) -> AmountError:
        """An error that points at the token at hand, or at those from `first` to `last`."""
        one = self.at if first is None else first
        two = one if last is None else last
        start = min(self.starts[one], max(0, len(self.raw) - 1))
        return AmountError(message, text=self.raw, offset=start, length=self.ends[two] - start, mend=mend)

    def number_at(self, at: int) -> bool:
        """Whether a number begins at a token."""
        word = self.words[at]
        if word == ".":
            return self.joined(at + 1) and self.words[at + 1][:1] in DIGITS
        return word[:1] in DIGITS or word in VULGAR or word in _BEGINNERS


def number(scan: Scanner) -> Fraction | None:
    """The number that stands here, passed; None where none does."""
    word = scan.words[scan.at]
    if word[:1] in DIGITS:
        value = _from_digits(scan)
    elif word in VULGAR:
        scan.at += 1
        value = VULGAR[word]
    elif word == "." and scan.number_at(scan.at):
        scan.at += 1
        value = _decimals(scan)
    elif word in _BEGINNERS and word != ".":
        return _in_words(scan)
    else:
        return None
    if scan.word in ARTICLES and value < 1:
        scan.at += 1
    return value * 12 if scan.took("dozen") else value


def _digits(scan: Scanner, at: int) -> int:
    found = scan.words[at]
    if len(found) > MOST_DIGITS:
        raise scan.fault(f"a number of {len(found)} digits is no kitchen amount", "write it in a bigger unit",
                         first=at)
    return int(found)


def _decimals(scan: Scanner) -> Fraction:
    """The digits behind a point, as a part of one; passed."""
    part = scan.words[scan.at]
    if len(part) > MOST_PLACES:
        raise scan.fault(f"{len(part)} digits behind the point are no kitchen amount", "write it in a smaller unit")
    value = Fraction(_digits(scan, scan.at), 10 ** len(part))
    scan.at += 1
    return value


def _over(scan: Scanner, above: int) -> Fraction:
    """`/2` behind a number, passed."""
    below = _digits(scan, scan.at + 1)
    if below == 0:
        raise scan.fault("nothing can be divided by 0", "write it like `1/2`", first=scan.at + 1)
    if below > MOST_PARTS:
        raise scan.fault(f"nobody measures parts as small as 1/{below}", "write it as a decimal", first=scan.at + 1)
    scan.at += 2
    return Fraction(above, below)


def _bar_at(scan: Scanner, at: int) -> bool:
    """Whether `/2` stands at a token."""
    return scan.words[at] == "/" and scan.words[at + 1][:1] in DIGITS


def _from_digits(scan: Scanner) -> Fraction:
    """A number that begins with digits: decimal, thousands, a fraction or a mixed number."""
    whole = _digits(scan, scan.at)
    scan.at += 1
    follows = scan.words[scan.at]
    if not follows or follows.isalpha():
        return _whole(whole) if follows != "and" else _and_part(scan, _whole(whole))
    if follows == "/" and _bar_at(scan, scan.at):
        return _over(scan, whole)
    if follows in (".", ",") and _digits_joined(scan):
        return _with_decimals(scan, whole)
    part = _mixed(scan, whole)
    return whole + part if part else _whole(whole)


def _whole(number: int) -> Fraction:
    return _SMALL[number] if number < len(_SMALL) else Fraction(number)


def _with_decimals(scan: Scanner, whole: int) -> Fraction:
    """`2.5`, `1,5`, `1,000`, `1,000,000`: a comma and exactly three digits are thousands."""
    value = Fraction(whole)
    while scan.word == "," and _digits_joined(scan) and len(scan.words[scan.at + 1]) == 3:
        scan.at += 1
        value = value * 1000 + _digits(scan, scan.at)
        if value >= 10 ** MOST_DIGITS:
            raise scan.fault("a number of so many digits is no kitchen amount", "write it in a bigger unit")
        scan.at += 1
    if (scan.word == "." or (scan.word == "," and value == whole)) and _digits_joined(scan):
        scan.at += 1
        value += _decimals(scan)
    return value


def _digits_joined(scan: Scanner) -> bool:
    """Whether the sign at hand stands between a number and digits without a blank."""
    return scan.joined(scan.at) and scan.joined(scan.at + 1) and scan.words[scan.at + 1][:1] in DIGITS


def _mixed(scan: Scanner, whole: int) -> Fraction:
    """The fraction below one of a mixed number, `1 1/2`, `1½`, `1-1/2`, passed; 0 where something else follows."""
    start = scan.at
    if scan.word == "&":
        return _and_part(scan, _SMALL[0])
    if scan.word == "-":
        if not (whole and scan.joined(start) and scan.joined(start + 1)):
            return _SMALL[0]
        scan.at += 1
    if scan.word in VULGAR:
        scan.at += 1
        return VULGAR[scan.words[scan.at - 1]]
    if scan.word[:1] in DIGITS and _bar_at(scan, scan.at + 1):
        above = _digits(scan, scan.at)
        scan.at += 1
        part = _over(scan, above)
        if part < 1:
            return part
    scan.at = start
    return _SMALL[0]


def _and_part(scan: Scanner, whole: Fraction) -> Fraction:
    """`and a half`, `and 1/2` behind a whole number without a unit, passed and added."""
    start = scan.at
    scan.at += 1
    part = number(scan) if scan.number_at(scan.at) else None
    if part is not None and part < 1:
        return whole + part
    scan.at = start
    return whole


def _in_words(scan: Scanner) -> Fraction:
    """`half a`, `a dozen`, `three quarters`, `one and a half`."""
    word = scan.word
    scan.at += 1
    if word == "dozen":
        return Fraction(12)
    if word in ("half", "quarter"):
        value = Fraction(1, PARTS[word])
        if scan.word in ARTICLES:
            scan.at += 1
        return value * 12 if scan.took("dozen") else value
    value = WHOLES.get(word, Fraction(1))
    if scan.took("dozen"):
        return value * 12
    skip = 1 if scan.word == "-" and scan.words[scan.at + 1] in PARTS else 0
    part = scan.words[scan.at + skip]
    if part in PARTS:
        scan.at += skip + 1
        return value / PARTS[part] * (12 if scan.took("dozen") else 1)
    return _and_part(scan, value) if scan.word == "and" and word in WHOLES else value
