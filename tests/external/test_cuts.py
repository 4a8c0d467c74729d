"""Cuts and pieces against the outside: the rib law, trade weights, carcass audits, government tables."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from cookbook.meat import Cut, Piece
from cookbook.meat.coat import holds_mm, layer_g
from cookbook.table import rows, source

DATA = Path(__file__).parent / "data"
RIB = Cut.named("rib roast, bone in")


def table(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def ribs(count: int, faces: str | None = None, bones: str | None = None) -> Piece:
    return RIB.piece(ribs=count, faces=faces, bones=bones)


@pytest.mark.parametrize("row", table("cuts_rib_law.csv"), ids=lambda row: f"{row['bones']} bones")
def test_the_rib_law_as_printed(row: dict[str, str]) -> None:
    count = int(row["bones"])
    assert ribs(count).mass_g.mid / 1000 == pytest.approx(float(row["kg"]), abs=0.0051)
    for faces, column in (("all", "all_faces"), (None, "bone_side_bare"), ("no-bone", "bone_side_bare"),
                          ("fat side,large end", "bare_and_one_end"), ("cap", "fat_side_only")):
        assert ribs(count, faces).coated_cm2.mid == pytest.approx(float(row[column]), abs=0.6)


@pytest.mark.parametrize("count", range(1, 8))
def test_every_rib_adds_the_same_surface(count: int) -> None:
    """A = 455.5 + 323.5 n all round, 455.5 + 213.5 n with the bone side bare."""
    assert ribs(count, "all").coated_cm2.mid == pytest.approx(455.5 + 323.5 * count, abs=0.05 * (count + 1))
    assert ribs(count).coated_cm2.mid == pytest.approx(455.5 + 213.5 * count, abs=0.05 * (count + 1))


def test_three_to_six_ribs_doubles_the_weight_and_not_the_surface() -> None:
    three, six = ribs(3, "all"), ribs(6, "all")
    assert six.mass_g.mid / three.mass_g.mid == pytest.approx(2)
    assert six.coated_cm2.mid / three.coated_cm2.mid == pytest.approx(1.681, abs=0.0005)
    assert ribs(6).coated_cm2.mid / ribs(3).coated_cm2.mid == pytest.approx(1.584, abs=0.0005)
    assert ribs(6, "cap").coated_cm2.mid / ribs(3, "cap").coated_cm2.mid == pytest.approx(2)


@pytest.mark.parametrize(("low", "high", "all_faces", "bare"), [(3, 4, 1.227, 1.195), (2, 7, 2.467, 2.210)])
def test_other_pairs_of_ribs_as_printed(low: int, high: int, all_faces: float, bare: float) -> None:
    assert ribs(high, "all").coated_cm2.mid / ribs(low, "all").coated_cm2.mid == pytest.approx(all_faces, abs=0.001)
    assert ribs(high).coated_cm2.mid / ribs(low).coated_cm2.mid == pytest.approx(bare, abs=0.001)


def test_tied_back_takes_a_third_more_paste_than_the_bone_side_bare() -> None:
    """The meat under the bones is seasoned too: 1.30 times (common practice)."""
    assert ribs(3, bones="tied").coated_cm2.mid / ribs(3, bones="on").coated_cm2.mid == pytest.approx(1.30, abs=0.005)


def test_a_rib_roast_cut_in_two_gains_two_ends() -> None:
    """456 cm², 19 % of a six-bone roast."""
    gain = 2 * ribs(3, "all").coated_cm2.mid - ribs(6, "all").coated_cm2.mid
    assert gain == pytest.approx(456, abs=1)
    assert gain / ribs(6, "all").coated_cm2.mid == pytest.approx(0.19, abs=0.002)


@pytest.mark.parametrize(("name", "ratio"), [
    ("leg of lamb, bone in", 1.587), ("pork shoulder", 1.587), ("fresh ham, bone in", 1.587),
    ("chicken, whole", 1.587), ("turkey, whole", 1.587)])
def test_what_grows_all_over_takes_the_two_thirds_power(name: str, ratio: float) -> None:
    cut = Cut.named(name)
    small, big = cut.piece(mass_g=3000), cut.piece(mass_g=6000)
    assert big.area_cm2.mid / small.area_cm2.mid == pytest.approx(ratio, abs=0.0005)


def test_a_boneless_pork_loin_from_half_to_whole() -> None:
    """1.847 times at 12.4 × 7.6 cm, 51.5 cm for the whole loin."""
    loin = Cut.named("pork loin, boneless")
    whole, half = loin.piece(length_cm=51.5), loin.piece(length_cm=25.75)
    assert whole.area_cm2.mid / half.area_cm2.mid == pytest.approx(1.847, abs=0.001)
    assert whole.mass_g.mid / half.mass_g.mid == pytest.approx(2)


def test_a_slab_grows_between_its_plane_and_its_edges() -> None:
    """A slab 5 cm thick: 1.821 times from 3 to 6 kg (printed for sharp edges)."""
    for name in ("brisket, whole", "brisket, flat", "pork belly"):
        cut = Cut.named(name)
        ratio = cut.piece(mass_g=6000).area_cm2.mid / cut.piece(mass_g=3000).area_cm2.mid
        assert ratio == pytest.approx(1.85, abs=0.05)


def test_trade_weights_of_seven_ribs() -> None:
    """Item 109A, seven ribs: 14 to 22 lb (IMPS Fresh Beef Series 100)."""
    assert 14 * 453.59237 < ribs(7).mass_g.mid < 22 * 453.59237
    for pounds in (14, 16, 19, 22):
        assert not any("right?" in note for note in RIB.piece(ribs=7, mass_g=pounds * 453.59237).notes)


def test_trade_counts_of_ribs_by_weight() -> None:
    """4-6 lb is two ribs, 8-10 lb four or five (trade guide): the default roast is at the heavy end of them."""
    for pounds, low, high in ((5, 1.5, 2.5), (9, 2.7, 5)):
        piece = RIB.piece(mass_g=pounds * 453.59237)
        assert low < piece.dimensions_cm["length"].high / 5.5
        assert piece.dimensions_cm["length"].low / 5.5 < high


def test_ribeye_areas_of_the_carcass_audits() -> None:
    """Audits 2011 to 2022 found 88.4 to 91.6 cm² of ribeye; the roast's whole section is 1.7 to 2.7 times that."""
    section = ribs(3).face("large end").area_cm2
    for ribeye in (88.4, 88.9, 91.0, 91.6):
        assert 1.7 < section.mid / ribeye < 2.7


def test_a_whole_boneless_pork_loin_weighs_what_1235_did() -> None:
    """4.1 kg in the mean, 2.4 to 6.1 (Journal of Animal Science 94:4903), at 51.5 cm long."""
    loin = Cut.named("pork loin, boneless").piece(length_cm=51.5)
    assert 2400 < loin.mass_g.low < 4100 < loin.mass_g.high < 6100
    assert loin.mass_g.mid == pytest.approx(4040, abs=10)
    section = loin.face("blade end").area_cm2.mid
    assert 61 < section < 76


def test_lamb_weights_of_the_trade_are_usual() -> None:
    """Leg chump-on 3.3 to 4.6 kg, 7-rib rack 1.0 to 1.3, square-cut shoulder 2.1 to 2.9 (weight guide, 20-28 kg)."""
    for name, kilos in (("leg of lamb, bone in", (3.3, 4.6)), ("rack of lamb", (1.0, 1.3)),
                        ("lamb shoulder, bone in", (2.1, 2.9))):
        for weight in kilos:
            assert not Cut.named(name).piece(mass_g=1000 * weight).notes
    rack = Cut.named("rack of lamb").piece(ribs=8, frenched_cm=5)
    assert rack.mass_g.low < 880 < rack.mass_g.high


BONES = {
    "rib roast, bone in": "13826", "beef back ribs": "23236", "short ribs, bone in": "13147",
    "pork loin, bone in": "10020", "fresh ham, bone in": "10008", "spareribs": "10088",
    "leg of lamb, bone in": "17230", "rack of lamb": "17029", "saddle of lamb": "17236",
    "lamb shoulder, bone in": "17035", "chicken, whole": "05006", "turkey, whole": "05165", "duck, whole": "05139",
    "goose, whole": "05146", "capon, whole": "05135", "poussin": "05307", "turkey breast, bone in": "05191",
}


def usda() -> dict[str, dict[str, str]]:
    return {row["ndb_no"]: row for row in table("cuts_usda_meats.csv")}


@pytest.mark.parametrize("name", BONES)
def test_bone_shares_are_the_governments(name: str) -> None:
    refuse = float(usda()[BONES[name]]["refuse_pct"])
    assert 100 * Cut.named(name).bone_share.mid == pytest.approx(refuse, abs=0.6)


@pytest.mark.parametrize("name", Cut.names())
def test_compositions_are_the_nutrient_tables_or_marked_memory(name: str) -> None:
    found = Cut.named(name).composition
    assert found is not None
    if found.memory:
        assert 0.9 < found.water + found.protein + found.fat + found.ash <= 1.02
        return
    row = usda()[found.ndb]
    assert row["description"] == found.row
    assert row["state"] == "raw"
    assert row["species"] == Cut.named(name).species
    shares = [100 * share for share in (found.water, found.protein, found.fat, found.ash)]
    assert shares == pytest.approx([float(row[part]) for part in ("water_g", "protein_g", "fat_g", "ash_g")])


def test_veal_and_venison_are_from_memory() -> None:
    """No row of the table was found for them."""
    marked = {name for name in Cut.names() if (made := Cut.named(name).composition) is not None and made.memory}
    assert {Cut.named(name).species for name in marked} >= {"veal", "venison"}
    assert all(name in marked for name in Cut.names() if Cut.named(name).species in ("veal", "venison"))


@pytest.mark.parametrize(("name", "ndb"), [
    ("rib roast, bone in", "13826"), ("leg of lamb, bone in", "17012"), ("saddle of lamb", "17025"),
    ("lamb shoulder, bone in", "17036"), ("chicken, whole", "05009"), ("turkey, whole", "05200")])
def test_yield_and_bone_give_the_edible_share_that_was_measured(name: str, ndb: str) -> None:
    """Raw weight × cooking yield × (1 - bone of the cooked piece) against edible weight measured (SR Legacy).

    A bird as bought has giblets and neck in its weight, so less of it is edible.
    """
    row, cut = usda()[ndb], Cut.named(name)
    cooked = float(row["refuse_pct"]) / 100
    measured = float(row["cooked_edible_per_raw_with_refuse"])
    edible = cut.yields[0].share * (1 - cooked)
    assert edible == pytest.approx(measured, rel=0.35 if cut.shape == "bird" else 0.08)


def test_yields_are_the_printed_ones() -> None:
    """USDA Table of Cooking Yields: 77, 79, 82 beef; 77 and 80 pork; 74 lamb; 78 (68 to 84) chicken; 71 turkey."""
    printed = {"rib roast, bone in": 77, "rib roast, boneless": 79, "beef tenderloin": 82, "pork loin, bone in": 77,
               "pork tenderloin": 80, "spareribs": 76, "leg of lamb, bone in": 74, "turkey, whole": 71}
    assert {name: round(100 * Cut.named(name).yields[0].share) for name in printed} == printed
    chicken = Cut.named("chicken, whole").yields[0]
    assert (chicken.low, chicken.share, chicken.high) == (0.68, 0.78, 0.84)


@pytest.mark.parametrize("kilos", [1.2, 1.8, 2.4])
def test_a_chickens_skin_by_two_laws(kilos: float) -> None:
    """K = 11.2 (mould method, 17 birds) and 8.19·W^0.705 (Mitchell 1930, from memory) agree within 5 %."""
    skin = Cut.named("chicken, whole").piece(mass_g=1000 * kilos).area_cm2
    mitchell = 8.19 * (1000 * kilos) ** 0.705
    assert skin.mid == pytest.approx(11.2 * (1000 * kilos) ** (2 / 3))
    assert skin.mid == pytest.approx(mitchell, rel=0.05)
    assert skin.low < mitchell < skin.high


@pytest.mark.parametrize(("stress", "layer"), [(10, 0.97), (20, 1.94), (30, 2.91), (50, 4.85), (80, 7.77)])
def test_what_an_upright_face_holds(stress: float, layer: float) -> None:
    """h = τ/(ρ g) at 1050 kg/m³ (printed)."""
    assert holds_mm(stress) == pytest.approx(layer, abs=0.006)


@pytest.mark.parametrize(("name", "size", "grams"), [
    ("rib roast, bone in", {"ribs": 3}, 115), ("rib roast, bone in", {"ribs": 6}, 182),
    ("chicken, whole", {"mass_g": 1800}, 174)])
def test_a_millimetre_of_paste(name: str, size: dict[str, float], grams: float) -> None:
    """0.105 g on each cm² (printed for these pieces)."""
    piece = Cut.named(name).piece(**size)  # type: ignore[arg-type] # ribs are whole in the cases above
    assert layer_g(1, piece.coated_cm2.mid, "paste") == pytest.approx(grams, abs=0.7)


def test_every_source_of_a_cut_is_in_the_bibliography() -> None:
    for name in Cut.names():
        for key in Cut.named(name).sources:
            assert source(key).title
    for row in rows("cut_yields"):
        assert source(row["source"]).title
