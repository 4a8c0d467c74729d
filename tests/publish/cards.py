"""Contents of cards made by hand, for tests of the forms."""

from __future__ import annotations

from cookbook.publish.content import Batch, Caution, Content, Fact, Item, Size

GARLIC = Item(("12 cloves", "about 62 g"), "garlic", "minced", (), 62.0)
SAGE = Item(("30 g", "1 cup + 2 tbsp"), "sage, fresh", "chopped", ("or thyme, fresh",), 30.0)
OIL = Item(("80 ml", "⅓ cup", "73 g"), "olive oil", "",
           ("until it drops slowly from the spoon", "keep back 10 ml of it, to add by taste"), 73.0)
SALT = Item(("24 g", "4 tsp"), "fine salt", "", (), 24.2)
ITEMS = (GARLIC, SAGE, OIL, SALT)


def size(heads: tuple[str, ...], factor: float, own: bool = False) -> Size:
    """A size of the paste below."""
    amounts = tuple(f"{(item.grams or 0) * factor:.0f} g" for item in ITEMS)
    return Size(heads, factor, amounts, f"{189 * factor:.0f} g", own)


PASTE = Batch(
    name="fennel-sage-paste", kind="paste", title="Fennel and sage paste",
    revision="Revision 3 (14 Nov 2026, more garlic)",
    lead="Makes about 189 g (6.7 oz): enough to coat pork loin, boneless, of 2.2 kg (4.9 lb), on every face.",
    facts=(Fact("makes", "189 g", "6.7 oz", "of paste"), Fact("piece", "2.2 kg", "4.9 lb", "pork loin, boneless"),
           Fact("coat", "1.4 mm", "", "thick, on every face"),
           Fact("salt", "1.1 %", "", "salt, of the piece as weighed")),
    items=ITEMS,
    steps=("Crush garlic and salt to a paste, work in the sage.",
           "Loosen with the oil, set a spoonful aside to taste, then coat the meat on every side."),
    sizes=(size(("1 kg", "2.2 lb"), .53), size(("1.5 kg", "3.3 lb"), .73), size(("2.2 kg", "4.9 lb"), 1.0, True),
           size(("3.5 kg", "7.7 lb"), 1.5), size(("4.5 kg", "9.9 lb"), 1.89)),
    rule="Amounts follow the surface of the meat, not its weight; fine salt follows the weight.",
    shares=(), coat="The coat is 1.4 mm thick on average; salt is 1.1 % of the piece as weighed.", makes="189 g",
)

CAUTIONS = (
    Caution("garlic-in-oil", "Keeping", "Fresh garlic in oil or fat: use within 2 days, refrigerated.", "a leaflet"),
    Caution("safe-temperature", "By the thermometer", "Safe for pork: 62.8 °C (145 °F) in the middle.", "a chart"),
    Caution("raw-meat", "Clean hands", "Keep raw meat away from other food.", "advice"),
    Caution("taste-first", "Tasting", "Taste before the bowl meets the meat.", "advice"),
    Caution("authority", "Local advice", "Follow your local food-safety authority.", "advice"),
)

PASTE_CARD = Content(
    name=PASTE.name, kind="paste", title=PASTE.title, lead=PASTE.lead, facts=PASTE.facts, batches=(PASTE,), items=(),
    steps=(), cautions=CAUTIONS, measures="Cups and spoons are US, level: 1 cup is 237 ml, 1 tbsp is 14.8 ml.",
    revision=PASTE.revision, cooked="cooked 4 times", cut="pork loin, boneless", serves=None, rest_s=None,
    live_fire=False, author="The supper club", licence="CC BY 4.0", kitchen="The hall kitchen",
    address="https://example.org/cards",
)

COOK_CARD = PASTE_CARD._replace(
    name="pork-loin-over-cherry", kind="cook", title="Pork loin over cherry wood",
    lead="Pork loin, boneless, of 2.2 kg (4.9 lb), for 8, on the drum.",
    facts=(Fact("piece", "2.2 kg", "4.9 lb", "pork loin, boneless"),
           Fact("pit", "130 °C", "266 °F", "pit, drum, charcoal, cherry"),
           Fact("pull", "60 °C", "140 °F", "pull, in the thickest part"), Fact("rest", "25 min", "", "rest, tented")),
    steps=("Coat the evening before.", "Pull at 60 °C (140 °F) in the middle.", "Tent loosely, slice after 25 min."),
    items=(Item(("2 chunks",), "cherry wood", "", (), None),),
    revision="Revision 2 (21 Nov 2026, hotter pit)", serves=8, rest_s=1500.0, live_fire=True,
)
