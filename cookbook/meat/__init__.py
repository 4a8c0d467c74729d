"""The piece in front of the cook: solids, cuts, one actual piece with its surface, and what sticks to it.

In it: shapes with exact area, the table of cuts, a piece from whatever was measured, coat arithmetic.
May be imported from floor 2 up; knows no recipe and no temperature.
"""

from __future__ import annotations

from cookbook.meat.coat import coat_density, thickness_mm
from cookbook.meat.cut import Composition, Cut
from cookbook.meat.piece import Face, Piece

__all__ = ["Composition", "Cut", "Face", "Piece", "coat_density", "thickness_mm"]
