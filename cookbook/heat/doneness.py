"""The words by which eaters ask for a doneness: the trade's bands that are served, and words that mean them."""

from __future__ import annotations

from cookbook.errors import RequestError
from cookbook.table import rows

NOT_SERVED = ("raw", "underdone", "not done")
_SAME = {"well": "well done", "done well": "well done", "bloody": "very rare", "blue": "very rare"}


def served() -> tuple[str, ...]:
    """Every doneness that some meat is served at, in the table's order."""
    names = (row["name"] for row in rows("heat_bands") if row["scale"] == "trade")
    return tuple(dict.fromkeys(name for name in names if name not in NOT_SERVED))


def doneness(words: str) -> str:
    """The band's own name for what was said: `Medium-rare` is `medium rare`. Raises RequestError."""
    plain = " ".join(words.casefold().replace("-", " ").split())
    found = _SAME.get(plain, plain)
    if found not in served():
        raise RequestError(f"'{words.strip()}' is no doneness", mend=f"known are {', '.join(served())}")
    return found
