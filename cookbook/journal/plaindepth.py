"""How deep a probe sits, as cooks put it beside its number: `56 at 3 cm`, `56C 3 cm deep`, `core 56 an inch down`."""

from __future__ import annotations

import re

from cookbook.quantity import Length

DEEPEST_CM = 20.0
"""Half as thick as the thickest piece; a longer length beside a number is something else."""

_COUNT = r"\d+(?:[.,]\d+)?(?: \d/\d)?|\d/\d|half an|an?"
_SURFACE = r"(?:(?:the|its) )?(?:surface|outside|skin|crust|bark|face|edge)"
_BELOW = rf"(?: (?:deep|down|in(?= {_SURFACE})|(?:deep )?(?:below|beneath|under|from|inside)))(?: {_SURFACE})?"
_DEPTH = re.compile(
    rf"(?:^|[\s,]+|(?<=\d)(?=\())(?P<at>(?:at|@|only|just)\s+)*\(?(?:(?:a )?depth(?: of)? )?"
    rf"(?P<count>{_COUNT})\s?(?P<unit>mm|cm|centimet(?:er|re)s?|millimet(?:er|re)s?|inch(?:es)?|in\b|[\"″])"
    rf"(?P<below>{_BELOW})?\)?(?=$|[\s:,])[\s:,]*",
    re.I,
)
_WORDS = {"a": "1", "an": "1", "half an": "1/2"}
BEHIND = re.compile(rf",\s+(?=(?:only |just )?(?:{_COUNT})\s?(?:mm|cm|inch(?:es)?|in)\b{_BELOW}\s*(?:$|[,;]))", re.I)
"""A comma before a depth, which parts nothing."""


def split(words: str) -> tuple[str, Length | None]:
    """What is left of `words` without the depth that stands in them, and the depth; None where none does."""
    found = list(_DEPTH.finditer(words))
    if len(found) != 1:
        return words, None
    (hit,) = found
    if hit["unit"].casefold() == "in" and not (hit["below"] or (hit["at"] and hit.end() == len(words))):
        return words, None
    count = _WORDS.get(hit["count"].casefold(), hit["count"].replace(",", "."))
    letter = hit["unit"][0].casefold()
    unit = "in" if letter in 'i"″' else "mm" if hit["unit"].casefold().startswith(("mm", "milli")) else "cm"
    depth = Length.parse(f"{count} {unit}")
    if depth.cm > DEEPEST_CM:
        return words, None
    return " ".join(f"{words[:hit.start()]} {words[hit.end():]}".split()), depth
