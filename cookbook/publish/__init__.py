"""What gets published: one card content, computed once by library calls, and the forms that arrange it.

Holds the content's records, how it is gathered, its forms (text, description, reply, page, paper, label …), the site.
May be imported by the command line and the local page; it computes no amount, and only `site` writes files.
"""

from __future__ import annotations

from cookbook.publish.forms import FORMS, card

__all__ = ["FORMS", "card"]
