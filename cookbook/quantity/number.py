"""Numbers as cookbooks print them, read exactly: `1 1/2`, `1½`, `1-1/2`, `2.5`, `1,5`, `1,000`, `half a`, `two`."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError

VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}
BY_VALUE = {value: sign for sign, value in VULGAR.items()}
WORDS = {word: Fraction(number) for number, word in enumerate(
    ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1)}
MOST_DIGITS = 9
"""No amount in a kitchen needs more digits; more are refused before any arithmetic."""

_SAME = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2044": "/", "\u2013": "-", "\u2014": "-",
                       "\u2212": "-", "\t": " "})


def plain(text: str) -> str:
    """Typographic blanks, dashes and fraction bars as ASCII, character for character so that places stay."""
    return text.translate(_SAME)


class Scanner:
    """A text read from left to right; nothing is ever read twice, so time grows with length only."""

    def __init__(self, text: str) -> None:
        self.raw = text
        self.text = plain(text)
        self.at = 0

    def blanks(self) -> None:
        """Pass blanks."""
        while self.at < len(self.text) and self.text[self.at] == " ":
            self.at += 1

    @property
    def done(self) -> bool:
        """Whether nothing but blanks is left."""
        self.blanks()
        return self.at >= len(self.text)

    def peek(self, ahead: int = 0) -> str:
        """The character `ahead` of the place, '' past the end."""
        place = self.at + ahead
        return self.text[place] if place < len(self.text) else ""

    def word(self) -> str:
        """The letters that stand here (with `%`, `#` or `~` as words of their own), without passing them."""
        if self.peek() in ("%", "#", "~"):
            return self.peek()
        end = self.at
        while end < len(self.text) and (self.text[end].isalpha() or (self.text[end] in "'" and end > self.at)):
            end += 1
        return self.text[self.at:end]

    def take(self, word: str) -> None:
        """Pass a word, its dot and the blanks behind it."""
        self.at += len(word)
        if self.peek() == "." and word.isalpha():
            self.at += 1
        self.blanks()

    def took(self, phrase: str) -> bool:
        """Pass `phrase` if it stands here as whole words, whatever its case."""
        end = self.at + len(phrase)
        here = self.text[self.at:end]
        if here.casefold() != phrase or (end < len(self.text) and self.text[end].isalpha() and phrase[-1].isalpha()):
            return False
        self.at = end
        self.blanks()
        return True

    def fault(self, message: str, length: int = 1, mend: str | None = None, at: int | None = None) -> AmountError:
        """An error that points here, or at `at`."""
        place = self.at if at is None else at
        return AmountError(message, text=self.raw, offset=place, length=length, mend=mend)


def digits(scan: Scanner) -> str:
    """The ASCII digits that stand here, passed; too many are refused."""
    start = scan.at
    while scan.peek().isascii() and scan.peek().isdigit():
        scan.at += 1
    found = scan.text[start:scan.at]
    if len(found) > MOST_DIGITS:
        raise scan.fault(f"a number of {len(found)} digits is no kitchen amount", len(found),
                         "write it in a bigger unit", at=start)
    return found


def number(scan: Scanner) -> Fraction | None:
    """The number that stands here, passed; None where none does."""
    sign = scan.peek()
    if sign in VULGAR:
        scan.at += 1
        scan.blanks()
        return VULGAR[sign]
    if scan.peek() == "." and scan.peek(1).isdigit():
        scan.at += 1
        part = digits(scan)
        return Fraction(int(part), 10 ** len(part))
    if not (sign.isascii() and sign.isdigit()):
        return _in_words(scan)
    whole = digits(scan)
    return _after_whole(scan, whole)


def _after_whole(scan: Scanner, whole: str) -> Fraction:
    """What follows the first digits: a decimal part, thousands, a fraction, a vulgar sign."""
    if scan.peek() == "/" and scan.peek(1).isdigit():
        scan.at += 1
        below = digits(scan)
        return _over(scan, int(whole), below)
    if scan.peek() in (".", ",") and scan.peek(1).isascii() and scan.peek(1).isdigit():
        comma = scan.peek() == ","
        scan.at += 1
        part = digits(scan)
        if comma and len(part) == 3:
            return Fraction(int(whole + part))
        return int(whole) + Fraction(int(part), 10 ** len(part))
    value = Fraction(int(whole))
    place = scan.at
    if scan.peek() in VULGAR:
        value += VULGAR[scan.peek()]
        scan.at += 1
        return value
    joined = scan.peek() == "-"
    if joined or scan.peek() == " ":
        mixed = _mixed(scan, joined)
        if mixed is not None:
            return value + mixed
    scan.at = place
    return value


def _mixed(scan: Scanner, joined: bool) -> Fraction | None:
    """The fraction below one of a mixed number, `1 1/2` or `1-1/2`; None where something else follows."""
    scan.at += 1
    if not joined:
        scan.blanks()
    if scan.peek() in VULGAR:
        found = VULGAR[scan.peek()]
        scan.at += 1
        return found
    above = digits(scan)
    if above and scan.peek() == "/" and scan.peek(1).isdigit():
        scan.at += 1
        part = _over(scan, int(above), digits(scan))
        return part if part < 1 else None
    return None


def _over(scan: Scanner, above: int, below: str) -> Fraction:
    if int(below) == 0:
        raise scan.fault("nothing can be divided by 0", len(below), at=scan.at - len(below))
    return Fraction(above, int(below))


def _in_words(scan: Scanner) -> Fraction | None:
    word = scan.word().casefold()
    if word == "half":
        scan.take(word)
        if scan.word().casefold() in ("a", "an"):
            scan.take(scan.word())
        return Fraction(1, 2)
    if word in ("a", "an"):
        scan.take(word)
        return Fraction(12) if _took_dozen(scan) else Fraction(1)
    if word in WORDS:
        scan.take(word)
        return WORDS[word] * (12 if _took_dozen(scan) else 1)
    if word == "dozen":
        scan.take(word)
        return Fraction(12)
    return None


def _took_dozen(scan: Scanner) -> bool:
    if scan.word().casefold() == "dozen":
        scan.take("dozen")
        return True
    return False


def ascii_number(value: Fraction) -> str:
    """A number as files hold it: `1 1/2` where the fraction is one of a spoon drawer, else a decimal."""
    whole, part = divmod(value, 1)
    if part in BY_VALUE:
        return f"{whole} {part.numerator}/{part.denominator}" if whole else f"{part.numerator}/{part.denominator}"
    return decimal(value)


def decimal(value: Fraction) -> str:
    """The shortest decimal that gives the value back where it has one within six digits, else a plain fraction."""
    if value.denominator == 1:
        return str(value.numerator)
    rounded = round(value, 6)
    if rounded == value:
        return f"{float(value):.6f}".rstrip("0")
    return f"{value.numerator}/{value.denominator}"
