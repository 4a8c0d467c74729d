"""Tests of pictures made from marks."""
