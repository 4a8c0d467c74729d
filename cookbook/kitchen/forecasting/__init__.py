"""The roast of this kitchen: what the heat room needs, gathered from recipe, entry and what earlier cooks taught.

`outlook.py` asks, `standing.py` says it by the clock, `expecting.py` holds a finished cook against it, `findings.py`
tells the safety room, `timetables.py` a card's readers. May be imported by finding, and by all above the kitchen.
"""
