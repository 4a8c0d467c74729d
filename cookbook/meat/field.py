"""How recipes, entries and commands write what is known of a piece: the fields, and the piece they make."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError
from cookbook.files.record import WORDS, Choice, Field, Scalar
from cookbook.meat import Cut, Piece
from cookbook.quantity import Duration, Temperature, read_length_cm, read_mass_g

if TYPE_CHECKING:
    from cookbook.meat.outline import Outline


def whole(words: str) -> int:
    """A whole number from 1 to 9999."""
    words = words.strip()
    if not (words.isascii() and words.isdigit() and len(words) <= 4 and int(words) >= 1):
        raise RequestError(f"'{words}' is no whole number from 1 to 9999", mend="write it like 4")
    return int(words)


def two_lengths_cm(words: str) -> tuple[float, float]:
    """Two lengths with a comma between, in cm. Raises RequestError."""
    parts = words.split(",")
    if len(parts) != 2:
        raise RequestError(f"'{words.strip()}' are no two lengths", mend="write them like 36 cm, 30 cm")
    return read_length_cm(parts[0].strip()), read_length_cm(parts[1].strip())


def told(words: str) -> Outline:
    """What a scan told, as a file keeps it. Raises RequestError."""
    from cookbook.meat.outline import Outline

    return Outline.parse(words)


MASS = Scalar("mass", read_mass_g, "2.2 kg")
LENGTH = Scalar("length", read_length_cm, "34 cm")
TEMPERATURE = Scalar("temperature", lru_cache(maxsize=2048)(Temperature.parse), "130 °C")
COUNT = Scalar("count", whole, "4", number=True)
TIME = Scalar("time", Duration.parse, "25 min")

PIECE_FIELDS = {
    "weight": Field(MASS, "before the cook, as it lies on the scale"),
    "ribs": Field(COUNT, "how many ribs"),
    "length": Field(LENGTH, "along the roast"),
    "girth": Field(LENGTH, "the tape once round the middle"),
    "girth_ends": Field(
        Scalar("two-lengths", two_lengths_cm, "36 cm, 30 cm"),
        "two more turns of the tape, a hand's width from each end",
    ),
    "width": Field(LENGTH, "across, lying"),
    "thickness": Field(LENGTH, "from the board up"),
    "bones": Field(Choice(("on", "tied", "off")), "on, tied back on, or off"),
    "frenched": Field(LENGTH, "length of the bare bone shafts"),
    "scan": Field(
        Scalar(
            "scan",
            told,
            "roast.ply: 1520 cm2 give or take 4.4 %, 310 cm2 of it underneath, 2890 cm3, 34 x 20 x 14 cm",
        ),
        "what a scan told of its surface; the program writes it",
    ),
    "faces": Field(WORDS, "which faces are coated: all, no-bone, no-ends, or their names"),
}

_CALL = {
    "weight": "mass_g",
    "ribs": "ribs",
    "length": "length_cm",
    "girth": "girth_cm",
    "width": "width_cm",
    "thickness": "thickness_cm",
    "bones": "bones",
    "frenched": "frenched_cm",
    "girth_ends": "girth_ends_cm",
    "scan": "scan",
    "faces": "faces",
}


def piece_from(
    cut: str,
    known: Mapping[str, object],
    faces: str | None = None,
    name: str | None = None,
    cuts: Sequence[Cut] = (),
) -> Piece:
    """The piece that `known` describes in the files' own words; `faces` wins over the ones written there.

    `cuts` are the kitchen's own. Raises UnknownName for the cut, PieceError for what cannot be.
    """
    said: dict[str, Any] = {call: known.get(word) for word, call in _CALL.items()}
    said["faces"] = faces or said["faces"]
    return Cut.named(cut, cuts).piece(name=name, **{key: value for key, value in said.items() if value is not None})


def typed(said: Mapping[str, str]) -> dict[str, object]:
    """What is said of a piece in the files' words, each value read by its field; `scan` may be the path of a mesh.

    Raises RequestError.
    """
    known: dict[str, object] = {}
    for word, value in said.items():
        if word not in PIECE_FIELDS:
            known_words = ", ".join(PIECE_FIELDS)
            raise RequestError(f"'{word}' is nothing that is said of a piece", mend=f"it can be {known_words}")
        if not isinstance(value, str):
            raise RequestError(f"{word}: {value!r} is no text", mend="write it with its unit, like '2.2 kg'")
        if word == "scan" and " cm2 give or take " not in value:
            known[word] = value
            continue
        kind = PIECE_FIELDS[word].kind
        if isinstance(kind, Choice):
            if value not in kind.words:
                raise RequestError(f"{word} is '{value}'; it can be {', '.join(kind.words[:-1])} or {kind.words[-1]}")
            known[word] = value
        else:
            try:
                known[word] = kind.read(value)
            except RequestError as fault:
                fault.message = f"{word}: {fault.message}"
                raise
    return known
