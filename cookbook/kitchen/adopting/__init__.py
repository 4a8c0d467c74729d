"""A good cook becomes the written recipe.

What went in is restated for the recipe's own piece, and how it was done with it: of one cook, or several averaged;
of what had no recipe, the first revision. May be imported by the command line and the page.
"""
