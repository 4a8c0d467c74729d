"""`card`, `releases`, `site` on the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen
from cookbook.publish import FORMS
from tests.publish.kitchens import FILES

pytestmark = pytest.mark.usefixtures("short_table")


@pytest.fixture
def kitchen(make_kitchen: Callable[..., Kitchen]) -> Kitchen:
    """Pastes and rubs alone: nothing has to be worked out."""
    cooks = ("recipes/loin.yaml", "recipes/roast.yaml")
    return make_kitchen({name: text for name, text in FILES.items() if name not in cooks})


def said(kitchen: Kitchen, *words: str) -> list[str]:
    return [*words, "--kitchen", str(kitchen.root)]


def test_every_form_is_offered_and_none_besides() -> None:
    from cookbook.cli import publishing

    assert publishing.FORMS == FORMS


def test_check_lists_what_is_missing_and_ends_with_one(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(said(kitchen, "card", "walnut-paste", "--check", "--json")) == 1
    assert json.loads(capsys.readouterr().out)["missing"] == [
        "walnut-paste as it stands is not cooked yet; 1 asked for"
    ]


def test_a_reply_a_label_and_paper_come_out(
    kitchen: Kitchen, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(said(kitchen, "card", "walnut-paste", "--as", "reply", "--weight", "1.4kg", "--json")) == 0
    assert len(json.loads(capsys.readouterr().out)["text"]) <= 701
    assert main(said(kitchen, "card", "pepper-rub", "--as", "label", "--net", "71g", "--lot", "L7")) == 0
    shown = capsys.readouterr().out
    assert "Net wt 2.5 oz (71 g)" in shown
    assert "Batch: L7" in shown
    out = tmp_path / "card.pdf"
    assert (
        main(
            said(
                kitchen, "card", "pepper-rub", "--as", "pdf", "--paper", "A6", "--each-sheet", "4", "--out", str(out)
            )
        )
        == 0
    )
    assert out.read_bytes().startswith(b"%PDF-")


def test_a_fault_is_told_with_its_mend(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(said(kitchen, "card", "pepper-rub", "--as", "chapters")) == 2
    assert "has no chapters" in capsys.readouterr().err
    assert main(said(kitchen, "card", "pepper-rub", "--as", "correction")) == 2
    assert "has no release that is out" in capsys.readouterr().err
    assert main(said(kitchen, "card", "pepper-rub", "--as", "pdf", "--paper", "A5", "--each-sheet", "4")) == 2
    assert "don't fit" in capsys.readouterr().err


def test_an_option_that_says_nothing_on_this_card_is_told(
    kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
) -> None:
    card = ["card", "walnut-paste", "--kitchen", str(kitchen.root)]
    assert main([*card, "--paper", "A5", "--net", "100g", "--want", "medium"]) == 0
    said = capsys.readouterr().err
    assert "--paper says nothing here: it is for `--as pdf`" in said
    assert "--net says nothing here: it is for `--as label`" in said
    assert "--want says nothing here: walnut-paste is no cook" in said
    assert main([*card, "--as", "label", "--net", "100g"]) == 0
    assert not capsys.readouterr().err


def test_a_place_that_takes_no_file_is_told_with_its_own_mend(
    kitchen: Kitchen, capsys: pytest.CaptureFixture[str]
) -> None:
    for out, mend in ((kitchen.root / "none" / "card.txt", "make its folder first"), (kitchen.root, "name a file")):
        assert main(["card", "walnut-paste", "--kitchen", str(kitchen.root), "--out", str(out)]) == 2
        assert mend in capsys.readouterr().err


def test_releases_and_site_answer_in_json(
    kitchen: Kitchen, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(said(kitchen, "releases", "--json")) == 0
    assert json.loads(capsys.readouterr().out) == {"releases": []}
    assert main(said(kitchen, "site", str(tmp_path / "site"), "--json")) == 0
    assert "recipes/pepper-rub.html" in json.loads(capsys.readouterr().out)["pages"]


def test_what_a_release_keeps_of_a_text_is_told_with_it(kitchen: Kitchen, capsys: pytest.CaptureFixture[str]) -> None:
    """Put into `shared/releases.yaml`, it says that the text as sent is the one that would be sent now."""
    assert main(said(kitchen, "card", "walnut-paste", "--as", "description", "--json")) == 0
    sent = json.loads(capsys.readouterr().out)
    path = kitchen.root / "shared" / "releases.yaml"
    path.write_text(
        f'- {{recipe: walnut-paste, out: "2026-05-01", version: {sent["version"]}, digest: {sent["digest"]}}}\n',
        encoding="utf-8",
    )
    assert main(said(kitchen, "releases", "--json")) == 0
    assert json.loads(capsys.readouterr().out)["releases"][0]["sent_otherwise"] is False
    recipe = kitchen.root / "recipes" / "walnut-paste.yaml"
    recipe.write_text(recipe.read_text(encoding="utf-8").replace("minced", "crushed"), encoding="utf-8")
    assert main(said(kitchen, "releases", "--json")) == 0
    assert json.loads(capsys.readouterr().out)["releases"][0]["sent_otherwise"] is True
