"""A cook's own templates: they win, nothing runs in them, and a broken one is told with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from cookbook.cli import main
from cookbook.errors import FileError
from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.overriding import template_faults
from cookbook.publish.rendering import plain


def own(kitchen: Kitchen, text: str, name: str = "page.html.j2") -> Kitchen:
    folder = kitchen.root / "shared" / "templates"
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return Kitchen.open(kitchen.root)


def test_a_template_of_the_kitchen_wins_and_the_others_stay(kitchen: Kitchen) -> None:
    assert card(own(kitchen, "<p>{{ card.title }}</p>"), "walnut-paste", "page") == "<p>Walnut and sage paste</p>"


def test_one_that_comes_or_goes_while_the_program_runs_is_seen(kitchen: Kitchen) -> None:
    before = card(kitchen, "walnut-paste", "page")
    assert card(own(kitchen, "mine"), "walnut-paste", "page") == "mine"
    (kitchen.root / "shared" / "templates" / "page.html.j2").unlink()
    assert card(kitchen, "walnut-paste", "page") == before


def test_every_text_in_it_is_escaped(kitchen: Kitchen) -> None:
    path = kitchen.root / "recipes" / "walnut-paste.yaml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("Walnut and sage paste", "<b>{{ 7 * 7 }}"), encoding="utf-8"
    )
    shown = card(own(kitchen, "<p>{{ card.title }}</p>"), "walnut-paste", "page")
    assert shown == "<p>&lt;b&gt;{{ 7 * 7 }}</p>"


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("<p>\n{{ crad.title }}", 2, "asks for `crad`, which is not known here"),
        ("<p>\n\n{% if %}", 3, "Expected an expression"),
        ("{{ card.titel }}", 1, "asks for `titel`, which is not known here"),
        ("\n{% include 'nothing.j2' %}", 2, "no template is called `nothing.j2`"),
        ("\n{{ card.film.address }}", 2, "asks for `address` of something that this card doesn't have"),
        ("{{ card.__class__.__mro__ }}", 1, "unsafe"),
        ("\n{{ 1 / 0 }}", 2, "division by zero"),
        ("\n{{ card.title | uper }}", 2, "asks for a filter `uper`, which is not known"),
        ("\n{{ card.title is defind }}", 2, "asks for a test `defind`, which is not known"),
    ],
)
def test_a_broken_one_gives_file_line_and_name(kitchen: Kitchen, text: str, line: int, said: str) -> None:
    with pytest.raises(FileError) as caught:
        card(own(kitchen, text), "walnut-paste", "page")
    (problem,) = caught.value.problems
    assert problem.place is not None
    assert (problem.place.file, problem.place.line) == ("shared/templates/page.html.j2", line)
    assert said in problem.message


@pytest.mark.parametrize(
    ("text", "column", "mend"),
    [
        ("<p>{{ crad.title }}", 7, "did you mean `card`?"),
        ("<p>{{ card.titel }}", 12, "did you mean `title`?"),
        ("{{ weather }}", 4, "mend it, or remove it: the program's own takes its place"),
    ],
)
def test_the_name_that_is_missing_has_its_column_and_the_names_that_are_near(
    kitchen: Kitchen, text: str, column: int, mend: str
) -> None:
    with pytest.raises(FileError) as caught:
        card(own(kitchen, text), "walnut-paste", "page")
    (problem,) = caught.value.problems
    assert problem.place is not None
    assert problem.place.column == column
    assert problem.mend == mend


def test_check_knows_a_template_whose_name_no_form_takes_and_one_that_breaks_off(kitchen: Kitchen) -> None:
    texts = {"page.html.j": "x", "scaler.js": "x", "page.html.j2": '{% include "mine.html" %}', "mine.html": "x",
             "index.html.j2": "\n{{ 1", "page.css": "", ".hidden": "x"}
    for name, text in texts.items():
        own(kitchen, text, name)
    (kitchen.root / "shared" / "templates" / "search.js").write_bytes("é\nab".encode() + b"\xe9")
    found = {path.name: problem for path, problem in template_faults(kitchen.root)}
    assert found.keys() == {"page.html.j", "scaler.js", "index.html.j2", "search.js"}
    for name, nearest in (("page.html.j", "page.html.j2, "), ("scaler.js", "scaler/")):
        assert found[name].severity == "warning"
        assert str(found[name].mend).startswith(f"the names that are taken, nearest first: {nearest}")
    assert found["index.html.j2"].place is not None
    assert found["index.html.j2"].place.source == "{{ 1"
    for name, at in (("index.html.j2", (2, 1)), ("search.js", (2, 3))):
        place = found[name].place
        assert place is not None
        assert (found[name].severity, place.line, place.column) == ("error", *at)
    with pytest.raises(FileError, match="the byte 0xe9 is not UTF-8"):
        plain("search.js", kitchen.root)


def test_check_tells_of_a_template_that_a_link_brings_from_elsewhere(kitchen: Kitchen, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.css").write_text("x", encoding="utf-8")
    (own(kitchen, "x").root / "shared" / "templates" / "page.css").symlink_to(tmp_path / "elsewhere.css")
    ((path, problem),) = template_faults(kitchen.root)
    assert (path.name, problem.code) == ("page.css", "outside")


def test_a_filter_that_nobody_knows_is_marked_and_the_nearest_named(kitchen: Kitchen) -> None:
    ((_, problem),) = template_faults(own(kitchen, "<p>\n  {{ card.title | uper }}").root)
    assert problem.place is not None
    assert problem.place[1:4] == (2, 19, 4)
    assert problem.mend == "did you mean `upper`?"


def test_check_tells_of_templates_with_the_rest(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> None:
    own(kitchen, "x", "page.html.j")
    assert main(["check", "--kitchen", str(kitchen.root)]) == 0
    assert "shared/templates/page.html.j:1:1: warning: page.html.j is the name of no" in capsys.readouterr().out
    assert main(["check", str(kitchen.root / "recipes"), "--kitchen", str(kitchen.root)]) == 0
    assert "page.html.j" not in capsys.readouterr().out
