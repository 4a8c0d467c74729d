"""The journal written: entries begun, lines added, files taken in, the last step taken back. All under the lock.

Words become lines in `loglines.py` and `plainlines.py`, lines go into the entry in `logbook.py`.
May be imported by adopting, checking and finding beside it, the command line and the page.
"""
