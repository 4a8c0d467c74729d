"""One recipe as read: plain records, each with the nodes its values were written in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.meat import Cut, Piece
from cookbook.meat.field import piece_from
from cookbook.quantity import Amount, Duration, Temperature

if TYPE_CHECKING:
    from cookbook.files import Document, Node
    from cookbook.files.record import Fields
    from cookbook.recipe.scaling import Scaled

DEFAULT_FOLLOWS = {"paste": "surface", "rub": "surface", "brine": "volume", "sauce": "volume", "cook": "fixed"}


MEASURES_WORDS = {
    "us": "US cups and spoons",
    "us-label": "US label cups and spoons",
    "metric": "metric cups and spoons",
    "au": "Australian cups and spoons",
    "uk": "UK spoons",
    "jp": "Japanese cups and spoons",
}


class Ingredient(NamedTuple):
    """One line of a recipe; `item` is the name of the used recipe where the line takes another recipe."""

    item: str
    amount: Amount
    follows: str
    recipe: str | None = None
    prep: str | None = None
    alternatives: tuple[str, ...] = ()
    until: str | None = None
    hold_back: Amount | None = None
    follows_written: bool = False
    nodes: Mapping[str, Node] = {}

    @property
    def words(self) -> str:
        """The item with its preparation, as a shopping list or a card says it."""
        return f"{self.item}, {self.prep}" if self.prep else self.item

    def __repr__(self) -> str:
        return f"<Ingredient {self.amount} {self.words}>"


class Coat(NamedTuple):
    """What goes on a piece: another recipe, or one thing in one line; on which faces."""

    recipe: str | None = None
    item: str | None = None
    amount: Amount | None = None
    faces: str | None = None


class MadeFor(NamedTuple):
    """The piece that the amounts as written are for; `known` is what the file says of it."""

    cut: str
    known: Mapping[str, object]
    nodes: Mapping[str, Node]
    cuts: tuple[Cut, ...] = ()

    def piece(self, faces: str | None = None) -> Piece:
        """The piece; `faces` wins over the ones written. Raises UnknownName or PieceError."""
        return piece_from(self.cut, self.known, faces, cuts=self.cuts)


class Pit(NamedTuple):
    """The fire as the recipe wants it."""

    temperature: Temperature | None = None
    cooker: str | None = None
    fuel: str | None = None
    wood: str | None = None
    water: str | None = None
    wrap: str | None = None
    wrap_at: Temperature | None = None


class Rest(NamedTuple):
    """The wait after the pull."""

    time: Duration | None = None
    cover: str | None = None


class Link(NamedTuple):
    """An address; `terms` are those of given, paid and commission that hold."""

    what: str
    address: str
    kind: str | None = None
    terms: tuple[str, ...] = ()


class Recipe(NamedTuple):
    """A recipe as one file says it. `measures` is its own word for cups and spoons, or the kitchen's."""

    name: str
    kind: str
    title: str
    measures: str
    measures_written: bool
    revision: int | None
    ingredients: tuple[Ingredient, ...]
    made_for: MadeFor | None
    cut: str | None
    serves: int | None
    coats: tuple[Coat, ...]
    pit: Pit | None
    pull_at: Temperature | None
    rest: Rest | None
    steps: tuple[str, ...]
    after: str | None
    notes: tuple[str, ...]
    links: tuple[Link, ...]
    formerly: tuple[str, ...]
    private: bool
    stand_in: str | None
    story: str | None
    keeping: str | None
    photos: tuple[str, ...]
    document: Document
    fields: Fields

    def ingredient(self, item: str) -> Ingredient | None:
        """The line of `item`, matched without regard to case and inner blanks."""
        wanted = " ".join(item.split()).casefold()
        for line in self.ingredients:
            if " ".join(line.item.split()).casefold() == wanted:
                return line
        return None

    @property
    def uses(self) -> tuple[str, ...]:
        """Names of the recipes inside this one, in order, each once."""
        inside = [coat.recipe for coat in self.coats] + [line.recipe for line in self.ingredients]
        return tuple(dict.fromkeys(name for name in inside if name))

    @property
    def meat(self) -> str | None:
        """The cut it is about: its own, or the one it was made for."""
        if self.cut is not None:
            return self.cut
        return self.made_for.cut if self.made_for else None

    def scaled_to(self, pieces: Piece | Sequence[Piece] | None = None, **wishes: Any) -> Scaled:
        """The recipe for one or several pieces; see `cookbook.recipe.scaling.scaled_to` for the wishes."""
        from cookbook.recipe.scaling import scaled_to

        return scaled_to(self, pieces, **wishes)

    @property
    def measures_words(self) -> str:
        """How its cups and spoons are called on screens."""
        return MEASURES_WORDS[self.measures]

    def label(self) -> str:
        """`revision 3`, or `no revision` where the cook gave none."""
        return f"revision {self.revision}" if self.revision else "no revision"

    def __repr__(self) -> str:
        return f"<Recipe {self.name}: {self.kind}, {self.label()}, {len(self.ingredients)} ingredients>"

    def _repr_html_(self) -> str:
        from cookbook.recipe.shown import recipe_shown

        return recipe_shown(self)
