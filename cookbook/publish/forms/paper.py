"""The card on paper: a tagged PDF by typst, its fonts in it, large enough to read at arm's length from the fire."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import FileError, Place, Problem, RequestError, UnknownName
from cookbook.kitchen.shared import is_address
from cookbook.publish.content import Batch, Content, Grid, Item
from cookbook.publish.rendering import FOLDER, own_templates, refuse_outside

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen


class Paper(NamedTuple):
    """A size in mm, its margin, the size of its text in points, and whether it has room for method and tables."""

    width: float
    height: float
    margin: float
    body: float
    whole: bool


PAPERS = {
    "A4": Paper(210, 297, 14, 13.5, True),
    "A5": Paper(148, 210, 10, 13.5, True),
    "A6": Paper(105, 148, 7, 12.5, False),
    "4x6": Paper(152.4, 101.6, 7, 12.5, False),
    "5x7": Paper(127, 177.8, 8, 13, True),
}
"""Sheets and cards. Text of 13.5 points in this face has letters without strokes 2 mm high, which read at 60 cm."""
MOST_SIGNS = 60
"""So many signs that no font has are left out, one by one, before a card is given up."""
_RARE = re.compile(r"[^\0-\u024f\u2000-\u206f\u2150-\u215f]")
"""Signs that the program's own fonts may not have: none of Latin, of punctuation, of fractions."""
_JOINERS = ("\u200d", "\ufe0f")
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")
_UNSHOWN = re.compile(r'the text `"(.+?)"` could not be displayed')
_POINTED = re.compile(r"┌─ [^\n]*:(\d+):(\d+)\n")
MOST_ROWS = 14
"""So many ingredients make a table that is never broken."""
MOST_WHOLE = 450
"""So many characters of a story or a step stay together on one card."""
SHEET = (210.0, 297.0)
"""What several cards are cut from, upright or lying."""


def paper(kitchen: Kitchen, card: Content, size: str = "A4", each: int = 1,
          told: Callable[[str], None] = lambda _signs: None) -> bytes:
    """The card as PDF/UA in one of `PAPERS`; `each` (1, 2 or 4) so many cards on a sheet of A4, with crop marks.

    `told` hears of the signs that are left out, since no font here has them.

    Raises UnknownName for a size, RequestError where they don't fit or typst is missing.
    """
    if size not in PAPERS:
        raise UnknownName("size of paper", size, list(PAPERS))
    chosen = PAPERS[size]
    data = {**_data(card, chosen), "each": each, **_sheet(size, chosen, each)}
    own = own_templates(kitchen.root) / "card.typ"
    template = own if own.is_file() else FOLDER / "card.typ"
    refuse_outside(own.parent, template)
    made, left_out = _compiled(template, data, kitchen.shown(template) if template == own else template.name)
    if left_out:
        told(" ".join(left_out))
    return made


def left_out(kitchen: Kitchen, card: Content) -> list[str]:
    """The signs of a card that no font has, here, so that paper leaves them out. Raises as `paper` does."""
    own = (own_templates(kitchen.root) / "card.typ").is_file()
    if not own and not _RARE.search(json.dumps(_data(card, PAPERS["A4"]), ensure_ascii=False)):
        return []
    found: list[str] = []
    paper(kitchen, card, told=lambda signs: found.extend(signs.split()))
    return found


def _sheet(name: str, size: Paper, each: int) -> dict[str, Any]:
    """The sheet, turned so that the cards fit, and how many lie side by side."""
    ways = {1: (1,), 2: (2, 1), 4: (2,)}.get(each)
    if ways is None:
        raise RequestError(f"{each} cards on a sheet: it can be 1, 2 or 4")
    for across in ways:
        for wide, high in (SHEET, SHEET[::-1]):
            if each == 1 or (across * size.width <= wide + 0.1 and each // across * size.height <= high + 0.1):
                return {"sheet": (wide, high), "across": across}
    raise RequestError(
        f"{each} cards of {name} don't fit on a sheet of A4", mend="`--paper A6 --each-sheet 4`, or A5 with 2, do"
    )


def _compiled(template: Path, data: dict[str, Any], shown: str) -> tuple[bytes, list[str]]:
    """The PDF, and the signs that it had to leave out."""
    try:
        import typst
    except ImportError:
        raise RequestError(
            "a card on paper needs the extra `pdf`",
            mend="pip install 'carryover-cookbook[pdf]'",
            code="missing-extra",
        ) from None
    said, place, left_out = "", Place(shown, 1, 1), list[str]()
    for turn in range(MOST_SIGNS):
        try:
            # The second turn may take this machine's fonts; after it, signs that no font of ours has are left out.
            made = typst.compile(template.read_bytes(), sys_inputs={"card": json.dumps(data)}, format="pdf",
                                 pdf_standards="ua-1", ignore_system_fonts=turn != 1)
            assert isinstance(made, bytes)
            return made, left_out
        except RuntimeError as fault:
            said, place = str(fault).strip(), _place(fault, template, shown)
            if turn != 1:
                hidden = _unshown(said)
                if not hidden:
                    break
                if turn:
                    left_out += [sign for sign in hidden if sign not in _JOINERS]
                    data = _without(data, (*hidden, *_JOINERS))
                    data["title"] = data["title"] or data["name"]
    told = f"this template can't be set: {(said.splitlines() or ['no reason given'])[0]}"
    mend = "mend it, or remove it: the program's own takes its place"
    raise FileError([Problem("error", "template", told, place, mend)])


def _place(fault: Exception, template: Path, shown: str) -> Place:
    """Where typst says that the template is at fault; it counts columns from nought."""
    found = _POINTED.search(str(getattr(fault, "diagnostic", "")))
    if found is None:
        return Place(shown, 1, 1)
    line, column = int(found.group(1)), int(found.group(2)) + 1
    lines = template.read_text(encoding="utf-8", errors="replace").splitlines()
    return Place(shown, line, column, 1, lines[line - 1] if line <= len(lines) else "")


def _without(data: Any, signs: Sequence[str]) -> Any:
    """The same data without these signs, and without the blanks that stood beside them."""
    if isinstance(data, str):
        if not any(sign in data for sign in signs):
            return data
        for sign in signs:
            data = data.replace(sign, "")
        return re.sub(r" {2,}", " ", data).strip()
    if isinstance(data, dict):
        return {key: _without(value, signs) for key, value in data.items()}
    return [_without(one, signs) for one in data] if isinstance(data, list | tuple) else data


def _unshown(said: str) -> list[str]:
    """The signs that typst has no letter for, by what it says."""
    found = _UNSHOWN.search(said)
    signs = _ESCAPED.sub(lambda one: chr(int(one.group(1), 16)), found.group(1)) if found else ""
    return [sign for sign in signs if not sign.isascii()]


def _data(card: Content, size: Paper) -> dict[str, Any]:
    """The words of a card as the template takes them."""
    title = card.title or card.name
    return {
        "width": size.width,
        "height": size.height,
        "margin": size.margin,
        "body": size.body,
        "name": card.name,
        "title": title,
        "title-scale": 1.9 if len(title) <= 40 else 1.4 if len(title) <= 90 else 1.05,
        "author": card.author,
        "keywords": [card.kind, *([card.cut] if card.cut else [])],
        "kicker": card.revision,
        "disclosures": list(card.disclosures),
        "lead": card.lead,
        "story": _parts(card.story),
        "facts": [fact._asdict() for fact in card.facts if fact.value],
        "sections": _sections(card, size),
        "tables": _tables(card) if size.whole else [],
        "cautions": [{"head": one.head, "text": one.text} for one in card.cautions],
        "keeping": list(card.keeping) if size.whole else [],
        "measures": card.measures,
        "credit": " · ".join(card.credit),
        **_code(card.address),
    }


def _sections(card: Content, size: Paper) -> list[dict[str, Any]]:
    cook = card.kind == "cook"
    found = [_section(batch, cook or place > 0, size.whole) for place, batch in enumerate(card.batches)]
    if card.items:
        found.append(
            {
                "head": "Also needed" if card.batches else "Needed",
                "under": "",
                "steps": [],
                "items": [_item(item) for item in card.items],
            }
        )
    if card.steps and size.whole:
        found.append({"head": "Method", "under": "", "items": [], "steps": _numbered(card.steps)})
    return found


def _section(batch: Batch, named: bool, whole: bool) -> dict[str, Any]:
    under = f"{batch.lead} {batch.coat}".strip() if named and whole else batch.lead if batch.whole else ""
    return {
        "head": batch.title if named else "Ingredients",
        "under": under,
        "items": [_item(item) for item in batch.items],
        "steps": _numbered(batch.steps) if whole else [],
    }


def _numbered(steps: Sequence[str]) -> list[tuple[str, str]]:
    return [("" if part else str(place), words) for place, step in enumerate(steps, 1)
            for part, words in enumerate(_parts(step))]


def _parts(words: str) -> list[str]:
    """A text in parts of `MOST_WHOLE` characters at most, cut between words: a card may end between them."""
    import textwrap

    return textwrap.wrap(words, MOST_WHOLE, break_on_hyphens=False)


def _item(item: Item) -> dict[str, Any]:
    first, *others = item.amounts or ("some",)
    return {"amount": first, "other": ", ".join(others), "words": item.words, "asides": list(item.asides)}


def _tables(card: Content) -> list[dict[str, Any]]:
    """Amounts for other sizes, where they fit on one card, then the times."""
    found = []
    for order, batch in enumerate(card.batches):
        if batch.sizes and len(batch.items) <= MOST_ROWS:
            rows = [
                [item.item, *(one.amounts[place] for one in batch.sizes)] for place, item in enumerate(batch.items)
            ]
            if all(one.total for one in batch.sizes):
                rows.append(["in all", *(one.total for one in batch.sizes)])
            own = 1 + next(place for place, one in enumerate(batch.sizes) if one.own)
            title = f"{batch.title} for other sizes" if card.kind == "cook" or order else "Other sizes"
            heads = ["\n".join(one.heads) for one in batch.sizes]
            found.append({"title": title, "heads": heads, "rows": rows, "own": own, "note": batch.rule})
    return found + [_grid(one) for one in card.grids]


def _grid(grid: Grid) -> dict[str, Any]:
    """A table with its own row or column told; -1 where it has none among its columns."""
    heads = ["\n".join(head) for head in grid.heads]
    own = grid.own + 1 if grid.across and grid.own is not None else -1
    rows = [[name, *cells] for name, cells in grid.rows]
    return {"title": grid.title, "heads": heads, "rows": rows, "own": own, "note": grid.note}


def _code(address: str) -> dict[str, Any]:
    """The QR code to the page, where it has a whole address."""
    if not is_address(address) or len(address) > 300:
        return {"address": "", "qr": "", "qr-size": 0}
    import segno

    return {"address": address, "qr": segno.make(address, error="m").svg_inline(border=1), "qr-size": 24}
