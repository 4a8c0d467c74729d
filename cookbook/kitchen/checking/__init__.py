"""Every fault of a kitchen's files, in one run: what readers and schema refuse, what can hardly be, what lies about.

`examining.py` looks at one file, `checking.py` at all, `rewriting.py` at a text before it is saved.
May be imported by the command line and the page.
"""

from __future__ import annotations

from cookbook.kitchen.checking.checking import check, within
from cookbook.kitchen.checking.rewriting import faults_in, rewrite, text_of

__all__ = ["check", "faults_in", "rewrite", "text_of", "within"]
