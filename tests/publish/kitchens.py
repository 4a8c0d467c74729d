"""A small kitchen for cards: a paste, a rub, two cooks and a sauce."""

from __future__ import annotations

PASTE = """\
kind: paste
title: Walnut and sage paste
revision: 2
made_for:
  cut: pork loin, boneless
  weight: 2.2 kg
ingredients:
  - item: garlic
    amount: 60 g
    prep: minced
  - item: walnuts
    amount: 3/4 cup
    or: [hazelnuts, pecans]
  - item: black pepper, ground
    amount: 2 tsp
    hold_back: 1/2 tsp
  - item: olive oil
    amount: 80 ml
    until: it drops slowly from the spoon
  - item: fine salt
    amount: 1.1 % of meat
steps:
  - Toast the walnuts at 160 °C, then crush them with garlic and salt.
  - Loosen with the oil and coat the meat.
"""

RUB = """\
kind: rub
title: Pepper rub
made_for:
  cut: rib roast, bone in
  ribs: 3
  weight: 3.9 kg
  faces: no-bone
ingredients:
  - item: black pepper, ground
    amount: 1/3 cup
  - item: fine salt
    amount: 39 g
steps: Mix.
"""

COOK = """\
kind: cook
title: Loin over cherry
revision: 4
cut: pork loin, boneless
serves: 8
coats:
  - recipe: walnut-paste
  - item: yellow mustard
    amount: 2 tbsp
pit:
  temperature: 130 °C
  cooker: drum
  wood: cherry
  wrap: paper
  wrap_at: 50 °C
pull_at: 60 °C
rest:
  time: 25 min
  cover: tented
steps:
  - Pull at 60 °C in the middle.
"""

ROAST = """\
kind: cook
title: Rib roast on oak
cut: rib roast, bone in
coats:
  - recipe: pepper-rub
pit:
  temperature: 230F
  cooker: oven
pull_at: 50 °C
"""

SAUCE = """\
kind: sauce
title: Green sauce
serves: 6
ingredients:
  - item: parsley
    amount: 30 g
  - item: lemon juice
    amount: to taste
steps: Chop and stir.
"""

SHARED = """\
name: The hall kitchen
measures: us
units: both
author: The supper club
licence: CC BY 4.0
address: https://example.org/cards
"""

FILES = {
    "recipes/walnut-paste.yaml": PASTE, "recipes/pepper-rub.yaml": RUB, "recipes/loin.yaml": COOK,
    "recipes/roast.yaml": ROAST, "recipes/green-sauce.yaml": SAUCE, "shared/kitchen.yaml": SHARED,
}
