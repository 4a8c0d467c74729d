"""A good cook becomes the written recipe.

What went in is restated for the recipe's own piece, and how it was done with it: of one cook, or several averaged;
of what had no recipe, the first revision. May be imported by the command line and the page.
"""

from __future__ import annotations

from cookbook.kitchen.adopting.adopt import adoptions, write
from cookbook.kitchen.adopting.adopted import Adopted, Adoption, Keep, line_words, sure
from cookbook.kitchen.adopting.averaging import averages
from cookbook.kitchen.adopting.method import Method

__all__ = ["Adopted", "Adoption", "Keep", "Method", "adoptions", "averages", "line_words", "sure", "write"]
