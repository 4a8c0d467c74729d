"""Measurements reconciled: every one shrinks the interval, contradictions are named, intervals hold the truth."""

from __future__ import annotations

import random
import re
from itertools import combinations
from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import PieceError
from cookbook.meat import Cut, Piece
from cookbook.meat.body import body
from cookbook.meat.measuring import SCALE_SIGMA, TAPE_SIGMA
from cookbook.quantity import Interval

RIB, LOIN, LEG, BUTT, FLAT = (Cut.named(name) for name in (
    "rib roast, bone in", "pork loin, boneless", "leg of lamb, bone in", "pork shoulder", "brisket, flat"))


def width(interval: Interval) -> float:
    """How wide an interval is, as a ratio."""
    return interval.high / interval.low


def consistent(cut: Cut, kilos: float) -> dict[str, float]:
    """Every measurement of a piece that is exactly as the cut's table has it."""
    piece = cut.piece(mass_g=1000 * kilos)
    sizes = {name: size.mid for name, size in piece.dimensions_cm.items()}
    return {"mass_g": piece.mass_g.mid, "length_cm": sizes["length"], "width_cm": sizes["width"],
            "thickness_cm": sizes["height"], "girth_cm": piece.shape.girth_cm}


@pytest.mark.parametrize("cut", [RIB, LOIN, LEG, BUTT, FLAT], ids=lambda cut: cut.name)
@pytest.mark.parametrize("first", ["mass_g", "length_cm"])
def test_each_measurement_shrinks_the_interval(cut: Cut, first: str) -> None:
    known = consistent(cut, 2.5)
    for count in range(len(known)):
        for more in combinations([word for word in known if word != first], count):
            before = cut.piece(**{word: known[word] for word in (first, *more)})  # type: ignore[arg-type] # no ribs
            for added in set(known) - {first, *more}:
                after = cut.piece(**{word: known[word] for word in (first, *more, added)})  # type: ignore[arg-type]
                assert width(after.area_cm2) < width(before.area_cm2) * (1 + 1e-9)
                assert width(after.coated_cm2) < width(before.coated_cm2) * (1 + 1e-9)
                assert width(after.volume_cm3) < width(before.volume_cm3) * (1 + 1e-9)
                assert after.area_cm2.mid == pytest.approx(before.area_cm2.mid, rel=1e-6)
                assert after.notes == before.notes


def test_ribs_then_weight_then_tape_on_a_rib_roast() -> None:
    known: list[dict[str, float]] = [{"ribs": 3}, {"mass_g": 3980.0}, {"length_cm": 16.5}, {"girth_cm": 55.0},
                                     {"width_cm": 20.0}]
    widths = []
    so_far: dict[str, float] = {}
    for one in known:
        so_far |= one
        widths.append(width(RIB.piece(**so_far).area_cm2))  # type: ignore[arg-type] # three ribs is whole
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] < widths[0] ** 0.6


def test_a_light_rib_roast_has_a_smaller_section() -> None:
    """With ribs and weight both, the section gives way more than the pitch, the pitch more than the count."""
    plain, light = RIB.piece(ribs=4), RIB.piece(ribs=4, mass_g=4700)
    section = light.face("large end").area_cm2.mid / plain.face("large end").area_cm2.mid
    length = light.dimensions_cm["length"].mid / plain.dimensions_cm["length"].mid
    assert section < length < 1
    assert section * length == pytest.approx(4700 / plain.mass_g.mid, rel=0.01)


CONTRADICTIONS: list[tuple[Cut, dict[str, float], str]] = [
    (RIB, {"ribs": 6, "mass_g": 2000}, "6 ribs at 2 kg: is the weight right?"),
    (RIB, {"ribs": 3, "mass_g": 2300}, "3 ribs at 2.3 kg: is the weight right?"),
    (RIB, {"ribs": 3, "length_cm": 33, "mass_g": 7900}, "is the number of ribs right?"),
    (RIB, {"ribs": 6, "length_cm": 33, "mass_g": 3000}, "is the weight right?"),
    (RIB, {"ribs": 6, "length_cm": 15, "mass_g": 7900}, "is the length right?"),
    (LOIN, {"mass_g": 2200, "length_cm": 60}, "is the weight right?"),
    (LOIN, {"mass_g": 2200, "girth_cm": 50}, "is the girth right?"),
    (LEG, {"mass_g": 2500, "length_cm": 28, "width_cm": 15, "thickness_cm": 40}, "is the thickness right?"),
    (FLAT, {"mass_g": 2500, "thickness_cm": 12}, "is the thickness right?"),
]


def said(cut: Cut, known: dict[str, float]) -> list[str]:
    """What is noted, or the message of the refusal."""
    try:
        return cut.piece(**known).notes  # type: ignore[arg-type] # counts of ribs above are whole
    except PieceError as fault:
        return [fault.message]


@pytest.mark.parametrize(("cut", "known", "words"), CONTRADICTIONS)
def test_a_contradiction_is_named(cut: Cut, known: dict[str, float], words: str) -> None:
    assert any(words in one and "would be usual" in one for one in said(cut, known))


def test_what_would_be_usual_says_its_unit_once() -> None:
    six, tall = said(RIB, {"mass_g": 2000, "ribs": 6}), said(FLAT, {"mass_g": 2500, "thickness_cm": 12})
    assert re.search(r"right\? \d[\d.]* to \d[\d.]* kg would be usual", six[0])
    assert re.search(r"right\? \d[\d.]* to \d[\d.]* cm of thickness would be usual", tall[0])


@pytest.mark.parametrize(("cut", "words"), [(LOIN, "say its weight or length"),
                                            (RIB, "say its weight, length or ribs")])
def test_what_suffices_is_asked_for(cut: Cut, words: str) -> None:
    with pytest.raises(PieceError, match="how big is the") as caught:
        cut.piece()
    assert caught.value.mend == words


def test_a_gross_contradiction_is_refused_and_names_the_measurement() -> None:
    with pytest.raises(PieceError, match=r"6 ribs at 2 kg: is the weight right\?") as caught:
        RIB.piece(ribs=6, mass_g=2000)
    assert caught.value.measurement == "weight"


def test_a_doubted_piece_gets_a_wider_interval() -> None:
    fine, doubted = RIB.piece(ribs=3, mass_g=3900), RIB.piece(ribs=3, mass_g=2100)
    assert not fine.notes
    assert doubted.notes
    assert width(doubted.area_cm2) > width(fine.area_cm2)


@given(st.sampled_from([RIB, LOIN, LEG, BUTT, FLAT]), st.floats(1, 8))
def test_measurements_that_fit_exactly_leave_nothing_to_say(cut: Cut, kilos: float) -> None:
    assert not any("right?" in note for note in cut.piece(**consistent(cut, kilos)).notes)  # type: ignore[arg-type]


class Truth:
    """A piece as it might lie on the board: every assumption drawn from its own interval."""

    def __init__(self, cut: Cut, kilos: float, dice: random.Random) -> None:
        def drawn(interval: Interval) -> float:
            return interval.mid * exp(dice.gauss(0, log(interval.high / interval.mid) / 1.2816))

        self.ribs = dice.randint(2, 6) if cut.ribs else None
        length, across, up = drawn(cut.length_cm), drawn(cut.width_cm), drawn(cut.height_cm)
        if cut.ribs and self.ribs:
            length = (self.ribs + dice.gauss(0, 0.2)) * drawn(cut.ribs.pitch_cm)
        density = drawn(cut.density)
        if not self.ribs:
            follows = {"longer": (1, 0, 0), "wider": (1, 1, 0), "bigger": (1, 1, 1)}[cut.growth]
            grown = 1000 * kilos / (density * body(cut, length, across, up, cut.taper).volume_cm3)
            length, across, up = (size * grown ** (follow / sum(follows))
                                  for size, follow in zip((length, across, up), follows, strict=True))
        self.shape = body(cut, length, across, up, cut.taper)
        self.volume_cm3 = self.shape.volume_cm3
        self.mass_g = density * self.volume_cm3
        rough = exp(dice.gauss(0, cut.area_spread / 1.2816))
        faces = {part.name: rough * sum(self.shape.faces[one] for one in part.parts) for part in cut.face_parts}
        self.area_cm2 = sum(faces.values())
        self.coated_cm2 = sum(faces[name] for name in cut.coated_by_default)
        self.boneless_mass_g = self.mass_g * (1 - drawn(cut.bone_share)) if cut.bone_share.mid else self.mass_g

    def measured(self, dice: random.Random) -> dict[str, float]:
        """Some of what a cook would measure, as far off as a scale and a tape are."""
        length, across, up = self.shape.outer_cm
        tape = {"length_cm": (length, "length"), "width_cm": (across, "width"), "thickness_cm": (up, "thickness"),
                "girth_cm": (self.shape.girth_cm, "girth")}
        known = {"mass_g": self.mass_g * exp(dice.gauss(0, SCALE_SIGMA))}
        if self.ribs:
            known = {"ribs": self.ribs} if dice.random() < 0.5 else {"ribs": self.ribs, **known}
        known |= {word: size * exp(dice.gauss(0, TAPE_SIGMA[name])) for word, (size, name) in tape.items()
                  if dice.random() < 0.35}
        return known


@pytest.mark.long
@pytest.mark.parametrize("cut", [RIB, LOIN, LEG, BUTT, FLAT], ids=lambda cut: cut.name)
def test_intervals_hold_the_truth_in_four_of_five_pieces(cut: Cut) -> None:
    dice = random.Random(cut.name)
    counted: dict[str, int] = dict.fromkeys(("area_cm2", "coated_cm2", "volume_cm3", "mass_g", "boneless_mass_g"), 0)
    pieces = 800
    for _ in range(pieces):
        truth = Truth(cut, dice.uniform(*cut.usual_kg), dice)
        piece: Piece = cut.piece(**truth.measured(dice))  # type: ignore[arg-type] # ribs are whole
        for name in counted:
            found: Interval = getattr(piece, name)
            counted[name] += found.low * (1 - 1e-9) <= getattr(truth, name) <= found.high * (1 + 1e-9)
    for name, count in counted.items():
        assert count / pieces >= 0.80, name
