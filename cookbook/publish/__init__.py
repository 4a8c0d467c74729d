"""What gets published: one card content, computed once by library calls, and the forms that arrange it.

`content/` is what a card says, `forms/` how it is said (text, page, paper, label …), `site/` all of them in a folder;
here lie what forms and content share: words, pictures, templates, what is kept secret.
May be imported by the command line and the local page; it computes no amount, and only `site` writes files.
"""

from __future__ import annotations

from cookbook.publish.forms import FORMS, card

__all__ = ["FORMS", "card"]
