"""Kitchen words: what is fresh low-acid produce, what is dried, what is a fat it could lie under."""

import pytest

from cookbook.safety.produce import fats, fresh_produce, under_fat

FRESH = {
    "garlic": "garlic", "garlic cloves": "garlic", "cloves of garlic": "garlic", "Garlic, minced": "garlic",
    "roasted garlic": "garlic", "garlic confit": "garlic", "garlic paste": "garlic", "black garlic": "garlic",
    "garlic, ground to a paste": "garlic", "garlic, crushed with salt": "garlic", "wild garlic": "wild garlic",
    "garlic scapes": "garlic", "ramps": "wild garlic", "onion": "onion", "red onions, sliced": "onion",
    "spring onions": "spring onion", "scallions": "scallion", "shallots": "shallot", "leeks": "leek",
    "chives": "chive", "ginger": "ginger", "fresh ginger, grated": "ginger", "root ginger": "ginger",
    "turmeric, fresh": "turmeric", "horseradish, grated": "horseradish", "lemon grass": "lemongrass",
    "chilli": "chilli", "chillies": "chilli", "chilies": "chilli", "chile": "chilli", "red chiles": "chilli",
    "chili peppers": "chilli", "jalapeño": "jalapeno", "jalapeños, seeded": "jalapeno", "habanero": "habanero",
    "red bell pepper": "bell pepper", "roasted peppers": "peppers", "red pepper": "red pepper",
    "ancho chillies, soaked": "ancho", "dried chillies, soaked": "chilli", "dried mushrooms, rehydrated": "mushroom",
    "sage": "sage", "sage, fresh": "sage", "sage leaves": "sage", "fresh rosemary": "rosemary",
    "rosemary sprigs": "rosemary", "thyme, fresh": "thyme", "oregano": "oregano", "flat-leaf parsley": "parsley",
    "parsley, washed and dried": "parsley", "basil, patted dry": "basil", "mint leaves": "mint", "dill": "dill",
    "cilantro": "cilantro", "coriander leaves": "coriander", "tarragon": "tarragon", "herbs": "herb",
    "fresh bay leaves": "bay", "bay leaf, fresh": "bay", "thyme, fresh or dried": "thyme", "fennel bulb": "fennel",
    "curry leaves": "curry leaves", "summer savory": "savory", "mushrooms": "mushroom", "carrots": "carrot",
    "celery sticks": "celery", "dried thyme or fresh thyme": "thyme", "basil pesto": "basil", "potatoes": "potato",
    "capsicum": "capsicum", "spearmint": "spearmint", "savory, fresh": "savory",
}
NOT_FRESH = (
    "garlic powder", "granulated garlic", "garlic granules", "garlic, granulated", "dried garlic", "garlic salt",
    "garlic flakes", "garlic pepper", "onion powder", "onion salt", "dried onion flakes", "onion soup mix",
    "crispy fried onions", "onion seed", "sage, dried", "dried sage", "rubbed sage", "sage, rubbed", "ground sage",
    "dried thyme", "oregano (dried)", "freeze-dried chives", "sun-dried tomatoes", "bay leaves", "bay leaf",
    "ground ginger", "ginger, ground", "ginger powder", "ginger ale", "ginger beer", "ginger snaps",
    "ginger biscuits", "crystallised ginger in syrup, ground", "turmeric", "ground turmeric", "chilli powder",
    "chili powder", "chilli flakes", "dried chillies", "red pepper flakes", "crushed red pepper",
    "ground red pepper", "cayenne", "cayenne pepper", "smoked paprika", "chipotle", "ancho chile powder",
    "black pepper", "black pepper, freshly ground", "white peppercorns", "coriander seed", "coriander seeds",
    "ground coriander", "fennel seed", "fennel seeds", "fennel pollen", "dill seed", "mustard seed", "celery seed",
    "celery salt", "cumin", "cloves", "ground cloves", "allspice", "mint sauce", "mint tea", "hot pepper sauce",
    "tarragon vinegar", "tarragon mustard", "herb salt", "dried mixed herbs", "Italian seasoning", "mushroom powder",
    "dried porcini", "truffle salt", "truffle oil", "chilli oil", "avocado oil", "corn oil", "potato starch",
    "savory", "pumpkin pie spice", "peppers, sweet, freeze-dried", "dill pickles",
    "fine salt", "brown sugar", "honey", "lemon juice", "orange zest", "water", "olive oil", "sausage", "message",
    "garlic-free seasoning", "butternuts", "", "kosher salt", "apple cider vinegar", "Worcestershire-type sauce",
    "smoked salt", "soy sauce", "tomato paste", "mustard", "bread crumbs", "pimento wood chips",
)
FATS = (
    "olive oil", "extra virgin olive oil", "EVOO", "rapeseed oil", "canola", "sunflower oil", "neutral oil",
    "sesame oil", "garlic oil", "chilli oil", "truffle oil", "avocado oil", "oil", "vegetable oil or lard", "butter",
    "unsalted butter, melted", "clarified butter", "ghee", "lard", "beef dripping", "pan drippings", "tallow",
    "beef tallow", "duck fat", "goose fat", "bacon grease", "schmaltz", "suet", "margarine", "vegetable shortening",
    "peanut butter", "coconut oil", "cocoa butter", "anchovies in oil", "chimichurri", "pesto", "pork back fat",
)
NO_FATS = (
    "foil", "broiler", "boiled water", "oil-free dressing", "low-fat yoghurt", "full-fat milk", "fat-free yoghurt",
    "fat cap", "pork shoulder, fat trimmed", "butter beans", "buttermilk", "butternut squash", "apple butter",
    "fruit butters, apple",
    "butter lettuce", "olives", "avocado", "garlic", "mustard", "drip pan", "soil", "coconut milk", "rapeseed", "",
)


@pytest.mark.parametrize(("item", "name"), FRESH.items())
def test_fresh_produce_is_known_by_its_kitchen_words(item: str, name: str) -> None:
    assert name in fresh_produce(item)


@pytest.mark.parametrize("item", NOT_FRESH)
def test_dried_powdered_and_merely_similar_words_are_no_fresh_produce(item: str) -> None:
    assert fresh_produce(item) == ()


@pytest.mark.parametrize("item", FATS)
def test_every_kind_of_kitchen_fat_counts_as_fat(item: str) -> None:
    assert fats(item)


@pytest.mark.parametrize("item", NO_FATS)
def test_words_that_only_sound_like_fat_are_none(item: str) -> None:
    assert fats(item) == ()


def test_garlic_under_oil_needs_both_in_the_same_recipe() -> None:
    both = under_fat(["garlic", "sage, fresh", "fine salt", "olive oil", "garlic, sliced"])
    assert both is not None
    assert both.produce == ("garlic", "sage")
    assert both.fats == ("oil",)
    assert under_fat(["garlic", "sage, fresh", "fine salt"]) is None
    assert under_fat(["garlic powder", "dried sage", "olive oil"]) is None


def test_two_ingredients_in_one_line_are_judged_each_by_its_own_words() -> None:
    assert fresh_produce("garlic, dried oregano") == ("garlic",)
    assert fresh_produce("dried oregano and garlic") == ("garlic",)
    assert fresh_produce("garlic, ground pepper") == ("garlic",)
    assert fresh_produce("fresh thyme/dried sage") == ("thyme",)


def test_oil_that_was_steeped_with_herbs_is_both() -> None:
    assert under_fat(["rosemary-infused olive oil"]) is not None
    assert under_fat(["pesto"]) is not None
