"""The words of the pit as cooks type them: what was done, where a probe sits."""

from __future__ import annotations

from cookbook.journal.keepwords import KEEPING

PROBE_WORDS = {
    "core": ("core", "inside", "internal", "middle", "centre", "center", "thickest part", "meat"),
    "surface": ("surface",),
    "pit": ("pit", "grate", "air", "ambient", "chamber", "fire", "lid"),
}
"""What cooks call the three places where a temperature is read."""

_WOOD = r"(?:splits?|logs?|chunks?|sticks?|chips|wood|oak|cherry|apple|beech|hickory|maple|pear|plum|vine|alder)"
_COAL = r"(?:coals?|charcoal|briquettes?|embers?|fuel|gas|chimney)"
_SOME = r"(?:(?:a|an|one|two|three|four|half|\d+|some|more|another|fresh|new|the|of|handful|small|big) )*"
_MORE = r"(?:(?:one|two|three|four|half|a|an|\d+|some) )*(?:more|another|fresh|new) " + _SOME
_COALS = rf"(?:{_COAL} of )?{_COAL}"
_FIRE = r"(?: the (?:fire|heat|pit|grate|grill|drum|smoker|cooker|kettle|oven|offset|kamado|rack))?"
_IT = r"(?: (?:it|the meat|the roast|them|all))?"
_WITH = r"(?: (?:with|w/) ?.*)?"
_WAS = r"(?: (?:was|is|left|stayed))?"
_LONG = r"(?: (?:for )?(?:about )?(?:a|an|\d+|one|two|five|ten) ?(?:s|secs?|seconds?|min|minutes?|minute|h|hours?))?"
EVENTS = (
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
    *KEEPING,
)
"""What was done, by the word that the journal has for it, as the whole of a clause in small letters.

Patterns are compiled when they are first needed: most lines hold nothing but readings.
"""
