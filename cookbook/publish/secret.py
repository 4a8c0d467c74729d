"""A formula of one's own: which words are its own, and where they stand in others."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cookbook.recipe import Recipe


def words_of(recipe: Recipe) -> set[str]:
    """What goes into a recipe, what does as well, and how it is made."""
    lines = recipe.ingredients
    return {line.item for line in lines if line.recipe is None} | {
        word for line in lines for word in line.alternatives
    } | set(recipe.steps)


def names(text: str, words: Iterable[str]) -> bool:
    """Whether one of these stands in a text, as whole words and in whatever letters."""
    return any(_pattern(word).search(text) for word in words)


def unnamed(text: str, words: Iterable[str]) -> str:
    """The text with `an ingredient` for each of these, the longest first."""
    for word in sorted(words, key=len, reverse=True):
        text = _pattern(word).sub("an ingredient", text)
    return text


def _pattern(word: str) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){re.escape(word.strip().rstrip('.'))}(?!\w)", re.IGNORECASE)
