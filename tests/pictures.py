"""README's pictures, made by the program of the demonstration kitchen: `python -m tests.pictures` makes them anew."""

from __future__ import annotations

import tempfile
from pathlib import Path

from cookbook import Cut, Kitchen, forecast
from cookbook.compare import compare_versions
from cookbook.compare.charts import score_chart
from cookbook.heat import Rest
from cookbook.heat import drawing as roast_drawing
from cookbook.kitchen.starter import new
from cookbook.meat.drawing import chart, drawing
from cookbook.meat.size_table import size_table
from cookbook.picture import Chart, DotPlot, Drawing, svg

FOLDER = Path(__file__).resolve().parent.parent / ".pictures"
_PAPER = (
    "<style>svg{color:#222;background:#fff}"
    "@media(prefers-color-scheme:dark){svg{color:#ddd;background:#111}}</style>"
)
"""Seen by itself a picture has no page to take its colours from."""


def pictures() -> dict[str, str]:
    """Every picture of README by its file's name."""
    ribs = Cut.named("rib roast, bone in")
    with tempfile.TemporaryDirectory() as name:
        kitchen = Kitchen.open(new(Path(name) / "kitchen", example=True))
        scores = score_chart(compare_versions(kitchen, "fennel-sage-paste"))
    loin = Cut.named("pork loin, boneless").piece(mass_g=3100)
    told = forecast(loin, pit_c=130, pull_c=58, rest=Rest(25, "tented"))
    made: dict[str, Chart | Drawing | DotPlot] = {
        "piece": drawing(ribs.piece(ribs=3, bones="tied")),
        "surface-and-weight": chart(size_table(Cut.named("pork loin, boneless"))),
        "forecast": roast_drawing.curve(told),
        "scores": scores,
    }
    return {f"{name}.svg": alone(picture, name) for name, picture in made.items()}


def alone(picture: Chart | Drawing | DotPlot, name: str) -> str:
    """A picture that stands in a file of its own."""
    head, _, body = svg(picture, name).partition("<title")
    return f"{head}{_PAPER}<title{body}\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in pictures().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
