"""The words of the pit as cooks type them: what was done, where a probe sits, times of day."""

from __future__ import annotations

import re

PROBE_WORDS = {
    "core": ("core", "inside", "internal", "middle", "centre", "center", "thickest part", "meat"),
    "surface": ("surface",),
    "pit": ("pit", "grate", "air", "chamber", "fire", "lid"),
}
"""What cooks call the three places where a temperature is read."""

_HOURS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PARTS = {"five": 5, "ten": 10, "quarter": 15, "a quarter": 15, "twenty": 20, "twenty-five": 25, "half": 30}
_WORDED = (
    rf"(?:(?:{'|'.join(reversed(_PARTS))}) (?:past|to) (?:{'|'.join(_HOURS)}|\d{{1,2}})"
    rf"|(?:{'|'.join(_HOURS)}|\d{{1,2}}) o'?clock)"
)
TIME = (
    rf"(?:(?:(?:yesterday|today) (?:at )?)?"
    rf"(?:\d{{1,2}}[:h]\d{{2}}(?: ?[ap]m)?|\d{{1,2}} ?[ap]m|noon|midnight|{_WORDED})"
    r"|\d{1,4} ?(?:min(?:ute)?s?|h(?:(?:ou)?rs?)?) ago|(?:just |right )?now)"
)
"""A time of day as a line may begin or end with it; `clock.moment` reads it."""


def worded(said: str) -> tuple[int, int] | None:
    """Hour from 1 to 12 and minute of `half past two`, `quarter to 3`, `two o'clock`; None for other words."""
    words = said.casefold().replace("o'clock", "oclock")
    found = re.fullmatch(r"(?:(?P<part>.+) (?P<way>past|to) )?(?P<hour>[\w]+)(?P<sharp> oclock)?", words)
    if found is None or (found["part"] is None) == (found["sharp"] is None):
        return None
    hour = _HOURS.index(found["hour"]) + 1 if found["hour"] in _HOURS else int(found["hour"]) if (
        found["hour"].isdecimal()) else 0
    minute = _PARTS.get(found["part"] or "", None if found["part"] else 0)
    if not 1 <= hour <= 12 or minute is None:
        return None
    return (((hour - 2) % 12 + 1), 60 - minute) if found["way"] == "to" else (hour, minute)


_WOOD = r"(?:splits?|logs?|chunks?|sticks?|chips|wood|oak|cherry|apple|beech|hickory|maple|pear|plum|vine|alder)"
_COAL = r"(?:coals?|charcoal|briquettes?|embers?|fuel|gas|chimney)"
_SOME = r"(?:(?:a|an|one|two|three|four|half|\d+|some|more|another|fresh|new|the|of|handful|small|big) )*"
_MORE = r"(?:(?:one|two|three|four|half|a|an|\d+|some) )*(?:more|another|fresh|new) " + _SOME
_COALS = rf"(?:{_COAL} of )?{_COAL}"
_FIRE = r"(?: the (?:fire|pit|grate|grill|drum|smoker|cooker|kettle|oven|offset|kamado|rack))?"
_IT = r"(?: (?:it|the meat|the roast|them|all))?"
_WITH = r"(?: (?:with|w/) ?.*)?"
_WAS = r"(?: (?:was|is|left|stayed))?"
_LONG = r"(?: (?:for )?(?:about )?(?:a|an|\d+|one|two|five|ten) ?(?:s|secs?|seconds?|min|minutes?|minute|h|hours?))?"
EVENTS = tuple(
    (did, re.compile(pattern))
    for did, pattern in (
        (
            "wood added",
            (
                rf"{_SOME}(?:{_WOOD} (?:of )?)*{_WOOD} (?:on|in|added)"
                rf"|(?:added|put on|threw on|threw in) {_SOME}(?:{_WOOD}(?: of)? ?)+"
                rf"|{_MORE}(?:{_WOOD} (?:of )?)*{_WOOD}"
            ),
        ),
        (
            "fuel added",
            (
                rf"{_SOME}{_COALS} (?:on|in|added)|(?:added|put on|put in|threw on|threw in) {_SOME}{_COALS}"
                rf"|{_MORE}{_COALS}|{_SOME}chimney of {_COAL}"
            ),
        ),
        ("lit", rf"lit(?: it|{_FIRE})?|(?:the )?fire(?:'s| is| was)? lit"),
        ("relit", rf"re-?lit(?: it|{_FIRE})?|lit{_IT}{_FIRE} again"),
        ("on", rf"on|(?:it'?s |its |went |put )?(?:meat |the meat |it |all )?(?:went )?on{_FIRE}"),
        (
            "pulled",
            (
                rf"pulled{_IT}(?: off)?{_FIRE}|(?:(?:meat|it'?s|its|came|taken) )?off{_FIRE}"
                rf"|(?:took|taken|pulled|lifted){_IT} (?:off|out){_FIRE}|out of the (?:oven|pit|smoker)"
            ),
        ),
        ("moved", r"moved .*|turned (?:it )?round"),
        ("turned", rf"(?:turned|flipped|rotated){_IT}(?: (?:over|around|180°?|once|half way))?"),
        ("sprayed", rf"(?:sprayed|spritzed|mopped|basted|misted){_IT}{_WITH}"),
        ("unwrapped", rf"unwrapped{_IT}|wrap off"),
        ("wrapped", rf"(?:re)?wrapped{_IT}(?: up)?(?: (?:in|with) .*)?|wrap(?:ped)? on|into the (?:foil|paper)"),
        ("lid open", rf"(?:the )?lid{_WAS} (?:open|off|up){_LONG}|opened(?: the)? lid{_LONG}|peeked{_LONG}"),
        ("lid shut", rf"(?:the )?lid{_WAS} (?:shut|closed|on|down|back on)|(?:shut|closed)(?: the)? lid"),
        ("vents", r"(?:(?:opened|shut|closed|set|choked)(?: .*)? )?(?:vents?|dampers?)(?: .*)?"),
        ("rested", r"rest(?:ed|ing)(?: .*)?|into the rest|tented(?: it)?(?: .*)?"),
        ("sliced", rf"(?:sliced|carved){_IT}(?: up)?|cut{_IT}(?: up| open)?"),
        ("tasted", r"tasted?(?:: ?.*| .*)?"),
        ("stalled", r"(?:it |core )?(?:stall(?:ed|s|ing)?|the stall)"),
        ("probe out", r"(?:the )?probe (?:(?:is|was|fell|came|slipped|pulled|popped) )?out|pulled the probe"),
        ("probe in", r"(?:put |stuck )?(?:the )?probe (?:went )?(?:back )?in"),
        ("coated", rf"(?:coated|rubbed|salted|seasoned|pasted)(?: .*)?|(?:rub|paste|salt)(?: went| is)? on{_IT}"),
    )
)
"""What was done, by the word that the journal has for it, as the whole of a clause in small letters."""
