"""The piece in front of the cook: cuts, shapes with exact surfaces, a piece from whatever is known, coats on faces.

In it: shapes and their faces, the cuts' table, pieces by weighted least squares, coat arithmetic, drawings, scans.
May import quantity, files, picture, table and errors; recipe, journal, heat and everything above may import it.
"""

from __future__ import annotations

from cookbook.meat.coat import coat_density, thickness_mm
from cookbook.meat.composition import Composition
from cookbook.meat.cut import Cut
from cookbook.meat.faces import Face
from cookbook.meat.piece import Piece

__all__ = ["Composition", "Cut", "Face", "Piece", "coat_density", "thickness_mm"]
