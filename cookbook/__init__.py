"""A cook journal and recipe-scaling library for large pieces of meat over live fire.

The rooms, from the ground up: table, quantity, meat, files, picture, recipe, journal, heat, safety, kitchen, plan,
compare, publish, cli, page. An import only ever points down; DEVELOPERS.md draws the house.
"""

__version__ = "0.1.0"
