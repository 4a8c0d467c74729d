"""Tests of the files room: reading, the five edits, saving, locking."""
