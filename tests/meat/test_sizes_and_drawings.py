"""How weight misleads, as a table and a chart; a piece drawn to scale, coated faces hatched."""

from __future__ import annotations

import pytest

from cookbook.meat import Cut
from cookbook.meat.drawing import chart, drawing, size_rows
from cookbook.meat.size_table import usual_masses_g
from cookbook.picture import text

RIB = Cut.named("rib roast, bone in")


def area(points: tuple[tuple[float, float], ...]) -> float:
    """What an outline encloses."""
    turned = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(x_1 * y_2 - x_2 * y_1 for (x_1, y_1), (x_2, y_2) in turned)) / 2


def test_ribs_two_to_seven_against_weight() -> None:
    sizes = RIB.table(faces="all")
    assert [size.label for size in sizes] == [f"{count} ribs" for count in range(2, 8)]
    last = sizes[-1]
    assert last.by_weight == pytest.approx(3.5)
    assert last.by_surface == pytest.approx(2.467, abs=0.001)
    assert last.excess_percent == pytest.approx(100 * (3.5 / 2.467 - 1), abs=0.1)
    assert sizes[0].excess_percent == pytest.approx(0)


def test_a_table_for_a_card_of_chosen_sizes() -> None:
    sizes = RIB.table(ribs=(2, 3, 4, 5, 7), bones="tied")
    assert [size.piece.ribs for size in sizes] == [2, 3, 4, 5, 7]
    assert sizes[1].json()["factor"] == {"surface": sizes[1].by_surface, "weight": pytest.approx(1.5)}
    assert RIB.table(ribs=[1])[0].label == "1 rib"
    butt = Cut.named("pork shoulder").table(masses_g=(2000, 4000))
    assert butt[1].label == "4 kg"
    assert butt[1].by_surface == pytest.approx(2 ** (2 / 3))


@pytest.mark.parametrize("name", Cut.names())
def test_usual_sizes_rise_and_weight_always_overstates(name: str) -> None:
    cut = Cut.named(name)
    masses = usual_masses_g(cut)
    assert masses == sorted(masses)
    assert masses[0] >= 1000 * cut.usual_kg[0]
    assert masses[-1] <= 1000 * cut.usual_kg[1]
    sizes = cut.table()
    assert len(sizes) >= 3
    assert all(size.by_weight >= size.by_surface >= 1 for size in sizes)


def test_the_chart_tells_its_answer_in_words() -> None:
    found = chart(RIB.table(faces="all"))
    assert found.description == "From 2 ribs to 7 ribs the coated surface grows 2.47 times, the weight 3.50 times."
    assert [line.name for line in found.lines] == ["by surface", "by weight"]
    assert found.x_label == "ribs"
    assert chart(Cut.named("pork shoulder").table()).x_label == "weight, kg"
    assert size_rows(RIB.table()).rows[-1][-1] == "+58 %"


@pytest.mark.parametrize("name", Cut.names())
def test_every_face_is_drawn_once_and_labelled(name: str) -> None:
    piece = Cut.named(name).piece(mass_g=2000)
    panels = [panel for row in drawing(piece).rows for panel in row]
    assert sorted(panel.caption[0].split(",")[0] for panel in panels) == sorted(face.name for face in piece.faces)
    for panel in panels:
        face = piece.face(panel.caption[0].split(",")[0])
        assert panel.outlines[0].hatched == face.coated
        assert f"{face.area_cm2.mid:.0f} cm²" in panel.caption[1]
        for outline in panel.outlines:
            assert all(-1e-9 <= x <= panel.width + 1e-9 and -1e-9 <= y <= panel.height + 1e-9
                       for x, y in outline.points)


def test_the_drawing_is_to_scale() -> None:
    piece = RIB.piece(ribs=3)
    above, end = drawing(piece).rows[0]
    assert [above.width, above.height] == pytest.approx([16.5, 20])
    assert area(end.outlines[0].points) == pytest.approx(piece.face("large end").area_cm2.mid, rel=0.005)
    leg = drawing(Cut.named("leg of lamb, bone in").piece(mass_g=2500))
    ends = [row[-1] for row in leg.rows]
    assert ends[1].width / ends[0].width == pytest.approx(0.444)


def test_ribs_show_on_a_bare_bone_side() -> None:
    below = drawing(RIB.piece(ribs=4)).rows[1][0]
    assert len(below.outlines) == 1 + 4
    assert len(drawing(RIB.piece(ribs=4, bones="off")).rows[1][0].outlines) == 1
    tied = drawing(RIB.piece(ribs=4, bones="tied")).rows[1][0]
    assert tied.caption[1].endswith("coated, under the bones")


def test_an_oval_leg_is_drawn_with_oval_ends() -> None:
    piece = Cut.named("leg of lamb, bone in").piece(mass_g=2500, width_cm=17, thickness_cm=13)
    end = drawing(piece).rows[0][1]
    assert end.width > end.height
    assert area(end.outlines[0].points) == pytest.approx(piece.face("chump end").area_cm2.mid, rel=0.005)


def test_the_terminal_shows_faces_and_a_scale() -> None:
    shown = text(drawing(RIB.piece(ribs=3)), 78)
    assert shown.startswith("rib roast, bone in, 3.98 kg, 3 ribs\n")
    for words in ("fat side, from above", "bone side, from below", "640 cm², coated", "330 cm², bare", "5 cm"):
        assert words in shown
    assert max(map(len, shown.splitlines())) <= 78
    assert len(shown.splitlines()) < 45
