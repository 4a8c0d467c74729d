"""What cooks say of keeping food: bought, thawed, out and in the refrigerator, the paste made, leftovers eaten."""

from __future__ import annotations

_MIX = r"(?:paste|rub|marinade|brine)"
_COLD = r"(?:back )?(?:in|into) the (?:fridge|refrigerator)"
KEEPING = (
    ("bought", r"bought(?: it| the meat)?"),
    ("thawing", r"(?:thawing|out of the freezer)(?:,? (?:in|into|on|under) .*)?"),
    ("thawed", r"thawed(?: (?:in|on|under) .*)?"),
    ("paste made", rf"(?:the )?{_MIX} (?:made|mixed)|(?:made|mixed) (?:the )?{_MIX}"),
    ("paste in the refrigerator", rf"(?:the )?{_MIX} {_COLD}"),
    ("paste in the freezer", rf"(?:the )?{_MIX} (?:in|into) the freezer"),
    (
        "coated",
        (
            r"(?:coated|rubbed|salted|seasoned|pasted)(?: (?!.*\b(?:fridge|refrigerator)\b).*)?"
            rf"|(?:the )?(?:{_MIX}|salt)(?: went| is)? on(?: (?:it|the meat|the roast|them|all))?"
        ),
    ),
    (
        "out of the refrigerator",
        r"(?:meat |it |taken |took it )?out(?: of the (?:fridge|refrigerator))?|taken out",
    ),
    ("in the refrigerator", rf"(?:meat |it |back |coated,? )?{_COLD}|refrigerated"),
    ("leftovers in the refrigerator", rf"left-?overs? (?:{_COLD}|(?:put )?away)"),
    ("leftovers eaten", r"(?:the )?left-?overs? eaten|ate (?:the )?left-?overs?"),
    ("reheated", r"(?:(?:the )?left-?overs? )?reheated(?: it| them| the leftovers)?"),
)
"""What was done, as an event names it, and the whole of a clause that says so, in small letters."""
