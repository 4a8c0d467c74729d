"""Options that several verbs share: the pieces of meat, the time of a log line."""

from __future__ import annotations

import argparse
from typing import Any

from cookbook.cli.running import filled
from cookbook.errors import RequestError

_HELP = {
    "weight": ("4.4kg", "as it lies on the scale"),
    "ribs": ("4", "how many ribs"),
    "bones": ("on|tied|off", "bones on, tied back on, or off"),
    "frenched": ("18cm", "length of bare bone shafts"),
    "length": ("34cm", "along the roast"),
    "girth": ("41cm", "the tape once round the middle"),
    "girth-ends": ("36cm,30cm", "two more turns of the tape, a hand's width from each end"),
    "width": ("20cm", "across, lying"),
    "thickness": ("12cm", "from the board up"),
    "scan": ("FILE", "its surface as a PLY, STL, OBJ or GLB file"),
    "faces": ("all|no-bone|no-ends|NAME,…", "which faces are coated"),
}


class _PieceOption(argparse.Action):
    """Collects piece options in order; `--piece NAME` begins another piece."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option_string: str | None = None,
    ) -> None:
        pieces: list[dict[str, str]] = getattr(namespace, "pieces", None) or []
        if self.dest == "piece":
            if any(piece.get("name") == values for piece in pieces):
                raise RequestError(f"two pieces are called '{values}'", mend="give each its own name")
            pieces = [*pieces, {"name": values}]
        else:
            if not pieces:
                pieces = [{}]
            pieces[-1][self.dest] = values
        namespace.pieces = pieces


def piece_options(parser: argparse.ArgumentParser) -> None:
    """Add the piece options; they collect in `pieces`."""
    parser.set_defaults(pieces=[])
    group = parser.add_argument_group("the piece")
    for word, (like, about) in _HELP.items():
        group.add_argument(
            f"--{word}",
            dest=word.replace("-", "_"),
            metavar=like,
            type=filled if like == "FILE" else str,
            action=_PieceOption,
            default=argparse.SUPPRESS,
            help=about,
        )
    group.add_argument(
        "--piece",
        metavar="NAME",
        action=_PieceOption,
        default=argparse.SUPPRESS,
        help="begin another piece; the options after it are its own",
    )


def said(arguments: argparse.Namespace) -> dict[str, dict[str, str]]:
    """What the options say of each piece, by its name; empty where they say nothing."""
    return {
        piece.get("name", ""): {word: value for word, value in piece.items() if word != "name"}
        for piece in arguments.pieces
    }
