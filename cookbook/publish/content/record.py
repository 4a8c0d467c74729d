"""What a card says, as plain records: computed once, arranged by every form, changed by none.

All text is clean (`wording.spoken`) but not escaped: each form escapes for its own medium.
"""

from __future__ import annotations

from typing import NamedTuple


class Item(NamedTuple):
    """One ingredient. `amounts` say the same in several measures, the handiest first; `grams` where known."""

    amounts: tuple[str, ...]
    item: str
    prep: str
    asides: tuple[str, ...]
    grams: float | None

    @property
    def words(self) -> str:
        """The item with its preparation."""
        return f"{self.item}, {self.prep}" if self.prep else self.item


class Fact(NamedTuple):
    """One figure that a cook looks for: `60 °C`, the same in another measure, what it is."""

    key: str
    value: str
    other: str
    label: str

    @property
    def both(self) -> str:
        """`60 °C (140 °F)`."""
        return f"{self.value} ({self.other})" if self.other else self.value


class Size(NamedTuple):
    """A size of piece (`3 ribs`, `3.9 kg`, `8.6 lb`) and what each ingredient comes to, in the order of the items.

    `factor` is how much of what follows the surface, of the batch as written; `own` marks the card's own size.
    """

    heads: tuple[str, ...]
    factor: float
    amounts: tuple[str, ...]
    total: str
    own: bool


class Batch(NamedTuple):
    """One making of a paste, rub, brine or sauce: what goes in, how, on what, and the same for other sizes.

    `coat` tells thickness and salt in a sentence, `rule` what other sizes follow, `shares` how much of it belongs on
    each of several pieces, `whole` that it goes into another and nobody can tell which part of it, as `lead` says.
    """

    name: str
    kind: str
    title: str
    revision: str
    lead: str
    facts: tuple[Fact, ...]
    items: tuple[Item, ...]
    steps: tuple[str, ...]
    sizes: tuple[Size, ...]
    rule: str
    shares: tuple[str, ...]
    coat: str
    makes: str
    whole: bool = False

    @property
    def heading(self) -> str:
        """Its title with its revision, where it has one."""
        return f"{self.title}, {self.revision}" if self.revision else self.title


class Caution(NamedTuple):
    """A caution under its heading, with the title of what it rests on."""

    key: str
    head: str
    text: str
    source: str


class Grid(NamedTuple):
    """A table beside the amounts: times by size, by doneness, by cooker. `own` is the place of the card's own row or
    column among `heads` (`across`) or `rows`."""

    key: str
    title: str
    heads: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    own: int | None
    note: str
    across: bool = False


class Reference(NamedTuple):
    """An address beside the card; `disclosed` says what a reader has to be told of it, '' where nothing."""

    what: str
    address: str
    kind: str
    disclosed: str


class Chapter(NamedTuple):
    """A chapter of the finished film."""

    at_s: int
    name: str


class Film(NamedTuple):
    """The film of a cook: where, its picture, the day it came out, how long it is, its chapters."""

    address: str
    picture: str
    out: str
    length_s: int | None
    chapters: tuple[Chapter, ...]


class Picture(NamedTuple):
    """A picture of the kitchen: what it shows, its file under the root."""

    shows: str
    path: str


class Answer(NamedTuple):
    """A question that was asked and is answered on the card."""

    asked: str
    answer: str


class Timing(NamedTuple):
    """The times of the card's own piece: seconds and °C for what computes with them, words for what shows them."""

    takes: str
    check_from: str
    cook_s: float
    pull_c: float
    board: str
    rest_min: float


class Content(NamedTuple):
    """A whole card.

    `batches` are the recipe itself, or a cook's coats and what goes into them; `items` and `steps` are a cook's own.
    """

    name: str
    kind: str
    title: str
    lead: str
    facts: tuple[Fact, ...]
    batches: tuple[Batch, ...]
    items: tuple[Item, ...]
    steps: tuple[str, ...]
    cautions: tuple[Caution, ...]
    measures: str
    revision: str
    cooked: str
    cut: str
    serves: int | None
    rest_s: float | None
    live_fire: bool
    author: str
    licence: str
    kitchen: str
    address: str
    story: str = ""
    grids: tuple[Grid, ...] = ()
    timing: Timing | None = None
    keeping: tuple[str, ...] = ()
    links: tuple[Reference, ...] = ()
    film: Film | None = None
    pictures: tuple[Picture, ...] = ()
    answers: tuple[Answer, ...] = ()
    outcome: str = ""
    dated: str = ""

    @property
    def credit(self) -> tuple[str, ...]:
        """Which version this is, how often it was cooked, whose it is and under which terms."""
        cooked = f"{self.cooked}: {self.outcome}" if self.outcome else self.cooked
        said = (self.revision, cooked, self.author, self.kitchen, self.licence)
        return tuple(part for part in said if part)

    @property
    def disclosures(self) -> tuple[str, ...]:
        """What a reader has to be told before anything else, each sentence once."""
        return tuple(dict.fromkeys(link.disclosed for link in self.links if link.disclosed))

    @property
    def every_item(self) -> tuple[Item, ...]:
        """All that goes in, in the cook's order: of each batch, then the cook's own."""
        return tuple(item for batch in self.batches for item in batch.items) + self.items
