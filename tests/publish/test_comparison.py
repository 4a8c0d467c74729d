"""The page of a comparison: its first line first, nothing asked of anybody, every word escaped."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib

from cookbook.compare import compare_versions
from cookbook.compare.charts import score_chart
from cookbook.compare.headline import headline
from cookbook.publish.forms.comparison import comparison_page
from tests.compare.journals import Told, kitchen_of

COOKS = [
    Told(1, {"crust": {'"<b>&Ada"': 6}}),
    Told(1, {"crust": {'"<b>&Ada"': 7}}),
    Told(2, {'"<i>crust"': {"Ben": 8}}),
]


def test_the_page_is_valid_escaped_and_self_contained(tmp_path: Path) -> None:
    found = compare_versions(kitchen_of(tmp_path, COOKS), "loin")
    page = comparison_page(found, "<script>loin", [score_chart(found)], ["<script>: coat 186 mg/cm²"])
    html5lib.HTMLParser(strict=True).parse(page)
    assert "<script" not in page
    assert "&lt;script&gt;: coat 186" in page
    assert "<i>crust" not in page
    assert "&lt;i&gt;crust" in page
    assert not re.findall(r"(?:src|href)=|@import|url\(", page)


def test_the_first_line_and_the_verdict_stand_on_it(tmp_path: Path) -> None:
    cooks = [Told(1, {"crust": {"Ada": s}}) for s in (5, 5.5, 6, 5.5)] + [Told(2, {"crust": {"Ada": 8}})] * 4
    found = compare_versions(kitchen_of(tmp_path, cooks), "loin")
    page = comparison_page(found, "loin")
    assert f"<h1>{headline(found)}</h1>" in page
    assert "<td>better</td>" in page
    assert "pull at: 63 °C, now 60 °C" in page
