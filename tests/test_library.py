"""The library as a programmer meets it: README's Python runs as it stands, and what a notebook shows is true."""

from __future__ import annotations

import doctest
import re
import subprocess
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import html5lib
import pytest

import cookbook
from cookbook import Cut, Kitchen, forecast
from cookbook.compare import compare_versions
from cookbook.kitchen.forecasting import outlook
from cookbook.kitchen.starter import new
from cookbook.picture import Chart, Drawing, Line, Table
from cookbook.picture.notebook import shown

README = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
PYTHON = re.findall(r"```python\n(.*?)```", README, re.DOTALL)


@pytest.fixture(scope="module")
def kitchen(tmp_path_factory: pytest.TempPathFactory) -> Kitchen:
    """The demonstration kitchen; nothing is written to it."""
    return Kitchen.open(new(tmp_path_factory.mktemp("library") / "my-kitchen", example=True))


def test_readmes_python_gives_what_stands_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    new(tmp_path / "my-kitchen", example=True)
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    told: list[str] = []
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS)
    for place, text in enumerate(PYTHON):
        test = doctest.DocTestParser().get_doctest(text, names, f"README python {place + 1}", "README.md", 0)
        runner.run(test, out=told.append, clear_globs=False)
        names = test.globs
    assert runner.summarize(verbose=False).failed == 0, "".join(told)
    assert runner.tries > 15


def test_the_examples_in_docstrings_give_what_stands_there(kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(kitchen.root.parent)
    package = Path(cookbook.__file__).parent
    paths = (path for path in sorted(package.rglob("*.py")) if "    >>> " in path.read_text(encoding="utf-8"))
    modules = [".".join(path.relative_to(package.parent).with_suffix("").parts) for path in paths]
    modules = [name.removesuffix(".__init__") for name in modules]
    found = {name: doctest.testmod(import_module(name), optionflags=doctest.ELLIPSIS) for name in modules}
    assert {name: done.failed for name, done in found.items() if done.failed} == {}
    assert len(modules) > 5


@pytest.mark.long
def test_a_users_script_passes_strict_types(tmp_path: Path) -> None:
    lines = (line[4:] for text in PYTHON for line in text.splitlines() if line.startswith((">>> ", "... ")))
    script = tmp_path / "script.py"
    script.write_text("\n".join(lines), encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--no-incremental", "--config-file=", str(script)]
    root = Path(cookbook.__file__).parents[1]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=root)
    assert done.returncode == 0, done.stdout + done.stderr


LOIN = Cut.named("pork loin, boneless")
SHOWN: dict[str, Callable[[Kitchen], object]] = {
    "recipe": lambda kitchen: kitchen.recipe("fennel-sage-paste"),
    "cook": lambda kitchen: kitchen.recipe("pork-loin-over-cherry"),
    "scaled": lambda kitchen: kitchen.scaled("pork-loin-over-cherry", weight="4.4 kg")[0],
    "piece": lambda _: Cut.named("rib roast, bone in").piece(ribs=3, bones="tied"),
    "comparison": lambda kitchen: compare_versions(kitchen, "fennel-sage-paste"),
    "forecast": lambda _: forecast(LOIN.piece(mass_g=2000), pit_c=130, pull_c=60, members=20),
    "nothing to forecast": lambda _: forecast(LOIN.piece(mass_g=2000), pit_c=80, pull_c=90),
}
TELL = {
    "recipe": ("59 g", "sage, fresh, chopped (or thyme, fresh)", "pork loin, boneless, 2.2 kg"),
    "cook": ("coat: fennel-sage-paste", "pull at 60 °C (140 °F)"),
    "scaled": ("110 g", "1.86 times (1.80 to 1.92)", "8% too much paste"),
    "piece": ("3 ribs", "bones cut off and tied back", "<svg"),
    "comparison": ("can't tell yet", "+1.9 points", "revision 3", "<svg"),
    "forecast": ("pull at 60 °C after", "check from", "rests on:", "<svg"),
    "nothing to forecast": ("never reaches 90 °C",),
}


@pytest.mark.parametrize("what", SHOWN)
def test_a_notebook_shows_it_as_html_and_a_terminal_in_one_line(kitchen: Kitchen, what: str) -> None:
    thing = SHOWN[what](kitchen)
    found = thing._repr_html_()  # type: ignore[attr-defined]  # a notebook asks any object for it
    html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parseFragment(found)
    plain = found.replace("&#x27;", "'").replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\N{NO-BREAK SPACE}", " ")
    assert [words for words in TELL[what] if words not in plain] == []
    assert not re.search(r"(?<!font-)(color|background)\s*[:=]|#[0-9a-f]{3,6}\b(?!-)", found), "the reader's colours"
    assert len(repr(thing)) < 200
    assert "\n" not in repr(thing)


def test_short_forms_of_the_rest(kitchen: Kitchen) -> None:
    entry = kitchen.entry("2026-10-17")
    paste = kitchen.recipe("fennel-sage-paste")
    found = compare_versions(kitchen, "fennel-sage-paste")
    assert repr(entry) == "<Entry 2026-10-17-pork-loin-over-cherry: pork-loin-over-cherry, finished>"
    assert repr(paste.ingredients[0]) == "<Ingredient 59 g garlic, minced>"
    assert repr(paste.scaled_to().ingredients[0]) == "<Line 59 g garlic: follows surface, 1.00 times>"
    assert repr(kitchen).endswith("kitchen: 10 recipes, 12 entries>")
    assert repr(found.groups[0]) == "<Group revision 1 (18 Jan 2025): 2 cooks>"
    assert repr(found.differences[0]).startswith("<Difference crust: +1.9 points (+0.5 to +3.3), can't tell yet")


def test_every_word_is_escaped() -> None:
    bad = "<script>alert(1)</script>"
    table = Table((bad, bad), ((bad, bad),))
    line = Line(bad, ((0.0, 0.0), (1.0, 1.0)))
    pictures = (Chart(bad, bad, bad, bad, (line,), table), Drawing(bad, bad, (), table, bad))
    for found in (shown(bad, bad, [bad], table), pictures[0]._repr_html_()):
        assert "<script" not in found
        assert "&lt;script&gt;" in found


def test_two_pictures_of_one_page_have_ids_of_their_own() -> None:
    def chart(to: float) -> str:
        line = Line("core", ((0.0, 0.0), (1.0, to)))
        return Chart("Core", "", "minutes", "°C", (line,), Table((), ()))._repr_html_()

    def ident(found: str) -> str:
        return found.partition('<title id="')[2].partition('"')[0]

    assert ident(chart(1.0)) == ident(chart(1.0)) != ident(chart(2.0))


def test_what_is_empty_is_left_out() -> None:
    assert shown("Title", None, (), Table(("a",), ())) == (
        '<div style="text-align:left"><p><strong>Title</strong></p></div>'
    )


def test_the_kitchen_scales_as_the_command_line_does(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> None:
    import json

    from cookbook.cli import main

    assert main(["scale", "fennel-sage-paste", "--weight", "4.4kg", "--json", "--kitchen", str(kitchen.root)]) == 0
    told = json.loads(capsys.readouterr().out)
    own = kitchen.scaled("fennel-sage-paste", weight="4.4 kg")[0]
    by_piece = kitchen.scaled("fennel-sage-paste", Cut.named("pork loin, boneless").piece(mass_g=4400))[0]
    for found in (own, by_piece):
        assert [line.grams.mid for line in found.ingredients if line.grams] == [
            line["grams"]["mid"] for line in told["ingredients"] if line["grams"]
        ]
        assert list(found.notes) == told["notes"]


def test_the_kitchen_forecasts_a_recipe_and_an_entry(kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[outlook.Wanted] = []
    monkeypatch.setattr(outlook, "run", lambda *said: asked.append(said[1]))
    kitchen.forecast("pork-loin-over-cherry", weight="1.5 kg", pit_c=150)
    kitchen.forecast("pork-loin-over-cherry", Cut.named("pork loin, boneless").piece(mass_g=1500), pull_c=61)
    kitchen.forecast("2026-10-17")
    by_words, by_piece, entry = asked
    assert (by_words.pit_c, by_words.piece.mass_g.mid) == (150, 1500)
    assert (by_piece.pull_c, by_piece.piece.mass_g.mid, by_piece.pit_c) == (61, 1500, 130)
    assert entry.readings
    with pytest.raises(cookbook.CookbookError, match="an entry has its own piece"):
        kitchen.forecast("2026-10-17", weight="3 kg")


def test_what_is_here_by_name_is_offered_before_it_is_loaded() -> None:
    import pydoc

    import cookbook

    assert set(cookbook.__all__) <= set(dir(cookbook))
    told = pydoc.plain(pydoc.render_doc(cookbook))
    for word in ("class Kitchen", "class Cut", "forecast(", "card("):
        assert word in told
    assert repr(cookbook.Cut.named("brisket, flat")).startswith("<Cut brisket, flat: beef, usually ")
