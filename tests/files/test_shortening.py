"""A long list read short, by law: an edit of the short text is the same edit of the whole, byte for byte."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import FileError, RequestError
from cookbook.files import Document, Edit, parse, short
from cookbook.files.shortening import KEPT, LONG

from .handwriting import FEW, Page, at
from .test_editing_laws import Task, done, edited_pages, make

PAIRS = ("core: 48 °C", "pit: 121 °C", "did: lid open", 'note: "14:05 core 48: it\'s late"', "depth: 3 cm")
RUN = [f'- {{at: "2026-11-21T{n // 60:02}:{n % 60:02}:00+01:00", {PAIRS[n % len(PAIRS)]}}}' for n in range(LONG + 9)]


def lines(indent: int, newline: str = "\n") -> str:
    return "".join(f"{' ' * indent}{line}{newline}" for line in RUN)


@st.composite
def long_pages(draw: st.DrawFn) -> tuple[bytes, Task]:
    """A page in some handwriting with a long list somewhere before, behind or around it, and a task for the page."""
    page, _, task = draw(edited_pages())
    assert isinstance(page, Page)
    newline = "\r\n" if "\r\n" in page.text else "\n"
    indent = draw(st.integers(0, 4))
    head = draw(st.sampled_from(["events:", "events:  # by hand", "events:" + newline + " " * indent + "- first"]))
    rest = draw(st.sampled_from(["", f"{' ' * indent}- last{newline}", f"{' ' * indent}# no more{newline}"]))
    block = head + newline + lines(indent, newline) + rest
    text = page.text if page.text.endswith(newline) else page.text + newline
    if text.startswith("---"):
        text = text.partition(newline)[2]
    text = draw(st.sampled_from([block + text, text + block]))
    return (b"\xef\xbb\xbf" if page.bom else b"") + text.encode(), task


@FEW
@given(long_pages())
def test_an_edit_of_the_short_text_is_the_same_edit_of_the_whole(case: tuple[bytes, Task]) -> None:
    data, task = case
    whole = parse(data, "page")
    part = short(data, "page")
    if whole.problems:
        assert part is None
        return
    if part is None:
        return
    assert len(part.document.data) < len(data)
    try:
        wanted: Document | None = done(whole, task)
    except FileError:
        wanted = None
    edit = Edit(part.document)
    try:
        make(edit, task)
    except FileError:
        assert wanted is None
        return
    found = part.whole(edit)
    assert found is None or (wanted is not None and found == wanted.data)


@pytest.mark.parametrize("indent", [0, 2, 5])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_line_goes_behind_the_last_of_a_long_list(indent: int, newline: str) -> None:
    data = f"date: today{newline}events:{newline}{lines(indent, newline)}notes:{newline}  - wind{newline}".encode()
    part = short(data, "page")
    assert part is not None
    root = part.document.root
    assert root is not None
    assert [len(node.items) for _, node in root.pairs] == [0, KEPT, 1]
    edit = Edit(part.document).add_item(at(root, ("events",)), {"did": "pulled"}, flow=True)
    edit.add_item(at(root, ("notes",)), "rain").replace(at(root, ("date",)), "another day")
    whole = Edit(parse(data, "page"))
    other = whole.document.root
    assert other is not None
    whole.add_item(at(other, ("events",)), {"did": "pulled"}, flow=True)
    whole.add_item(at(other, ("notes",)), "rain").replace(at(other, ("date",)), "another day")
    assert part.whole(edit) == whole.bytes()


NO_LISTS = {
    "words in single quotes": f"said: 'so\nevents:\n{lines(0)}'\nlast: one\n",
    "a text block": f"said: |\n{lines(2)}last: one\n",
    "words that go on": f"said:\n  - some words\n{lines(4)}last: one\n",
    "few lines": f"events:\n{lines(2)[: 9 * len(RUN[0])].rpartition(chr(10))[0]}\n",
    "a fault elsewhere": f"events:\n{lines(2)}date: one\ndate: two\n",
    "a duplicate list": f"events:\n{lines(2)}events:\n{lines(2)}",
    "a sign too many": f"events:\n{lines(2)}last: [one\n",
}


@pytest.mark.parametrize("text", NO_LISTS.values(), ids=NO_LISTS)
def test_what_only_looks_like_a_long_list_is_read_whole(text: str) -> None:
    assert short(text.encode(), "page") is None


ODD = ("note: 'it''s'", "note: &a x", "note: [1, 2]", 'note: "a\\tb"', "note: x\u2028y", "note: yes: no")


@pytest.mark.parametrize("odd", ODD)
def test_a_line_out_of_the_ordinary_is_never_set_aside(odd: str) -> None:
    part = short(f"events:\n{lines(2)}  - {{{odd}}}\n{lines(2)}".encode(), "page")
    assert part is None or odd in part.document.text


def test_what_would_grow_over_the_limit_is_refused_as_ever() -> None:
    data = ("events:\n" + lines(2) * (((1 << 20) - 200) // len(lines(2).encode()))).encode()
    data += b"  - {did: x}\n" * (((1 << 20) - len(data) - 5) // 13)
    part = short(data, "page")
    assert part is not None
    root = part.document.root
    assert root is not None
    edit = Edit(part.document).add_item(at(root, ("events",)), {"note": "a line that is too long by far"}, flow=True)
    assert part.whole(edit) is None
    with pytest.raises(RequestError):
        Edit(parse(data, "page")).add_item(at(parse(data, "page").root, ("events",)), "x")
