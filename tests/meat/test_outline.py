"""What a scan told, in a line of a file: it reads back, makes the same piece, and nonsense is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import PieceError, RequestError
from cookbook.meat import Cut
from cookbook.meat.outline import LIKE, Outline
from cookbook.meat.shapes import Ellipsoid

LOIN = Cut.named("pork loin, boneless")
EGG = Ellipsoid(22, 6.5, 4.5)
TOLD = Outline("loin.ply", EGG.area_cm2, 0.042, 86.4, EGG.volume_cm3, (44.0, 13.0, 9.0))
HALF = st.floats(2, 40)


@given(HALF, HALF, HALF, st.floats(0.005, 0.5), st.floats(0.01, 0.5), st.text("ab: ,2\u00e9", max_size=9))
def test_its_line_reads_back_to_a_tenth(a: float, b: float, c: float, doubt: float, under: float,
                                      file: str) -> None:
    egg = Ellipsoid(a, b, c)
    told = Outline(file, egg.area_cm2, doubt, under * egg.area_cm2, egg.volume_cm3, (2 * a, 2 * b, 2 * c))
    again = Outline.parse(told.text())
    assert again.area_cm2 == pytest.approx(told.area_cm2, abs=0.06)
    assert again.underside_cm2 == pytest.approx(told.underside_cm2, abs=0.06)
    assert again.volume_cm3 == pytest.approx(told.volume_cm3, abs=0.06, rel=1e-5)
    assert again.size_cm == pytest.approx(told.size_cm, abs=0.06)
    assert again.doubt == pytest.approx(doubt, abs=0.0006)
    assert again.text() == Outline.parse(again.text()).text()


def test_the_piece_has_the_scans_surface_volume_and_sizes() -> None:
    piece = LOIN.piece(scan=TOLD, mass_g=2800)
    assert piece.area_cm2.mid == pytest.approx(EGG.area_cm2)
    assert piece.area_cm2.high / piece.area_cm2.mid == pytest.approx(1.042)
    assert piece.volume_cm3.mid == pytest.approx(EGG.volume_cm3)
    assert (piece.outline, piece.scan, piece.weighed_g) == (TOLD, None, 2800)
    assert piece.json()["scan"] == TOLD.json()
    assert any(line.startswith("scanned: loin.ply: ") for line in piece.why())


def test_a_weight_that_is_another_pieces_is_refused() -> None:
    with pytest.raises(PieceError, match="the scale says 4 kg") as caught:
        LOIN.piece(scan=TOLD, mass_g=4000)
    assert caught.value.measurement == "scan"


@pytest.mark.parametrize("line", [
    "roast.ply", "", "roast.ply: 1520 cm2", LIKE.replace("1520", "15"), LIKE.replace("2890", "0"),
    LIKE.replace("310", "1520"), LIKE.replace("34 x", "0 x"), LIKE.replace("1520", "1e999"), LIKE + " more",
    LIKE.replace("4.4 %", "400 %"), LIKE.replace("2890", "9" * 400),
])
def test_what_no_scan_told_is_refused(line: str) -> None:
    with pytest.raises(RequestError):
        Outline.parse(line)


def test_the_example_reads() -> None:
    assert Outline.parse(LIKE).text() == LIKE
