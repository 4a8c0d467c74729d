"""Tests of the piece in front of the cook."""
