"""The day: from who is coming to how much meat, when to light the fire, what to buy and who gets which slice.

Holds eaters, portions, buying, timeline, slices, shopping, cost, calendar and their charts; it prints nothing.
Floor 5 beside compare, which it doesn't know: publish, the command line and the page may import it.
"""
