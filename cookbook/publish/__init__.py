"""What gets published: one card content, computed once by library calls, and the forms that arrange it.

Holds the content's records, how it is gathered, and its forms: text, video description, page, structured data.
May be imported by the command line and the local page; it computes no amount and writes no file.
"""

from __future__ import annotations

from cookbook.publish.forms import FORMS, card

__all__ = ["FORMS", "card"]
