"""Intervals that stand in for missing records, by growth form. Nothing here is a record.

They are our judgement, shaped on `trade` 4.1 (root forms) and 3.2 (usual ranges). They are always
labelled ``form`` or ``assumed`` in a profile, so that an answer can say so and never profits from
them. Lengths m; leaf area m2/m2; weeks of the reference site; nitrogen g/m2.
"""

from dataclasses import dataclass

ROOT_FORM_DEPTHS_M: dict[str, tuple[float, float]] = {
    "bulb": (0.10, 0.32),
    "corm": (0.10, 0.32),
    "fibrous-shallow": (0.13, 0.55),
    "stolon": (0.13, 0.55),
    "rhizome": (0.12, 0.55),
    "tuber": (0.18, 0.70),
    "tap": (0.28, 1.10),
    "primary-root": (0.19, 0.69),
    "fibrous-deep": (0.28, 1.10),
    "surface": (0.15, 0.75),
    "suckering": (0.20, 0.90),
    "spreading": (0.25, 1.20),
    "heart": (0.25, 1.20),
    "sinker": (0.25, 1.20),
    "tap-then-spreading": (0.38, 2.00),
}
"""Root form -> depth above which 50 % and 95 % of the roots lie (`trade` 4.1, judgement)."""

HALF_SHARE: dict[str, float] = {
    "bulb": 0.32,
    "corm": 0.32,
    "fibrous-shallow": 0.28,
    "stolon": 0.28,
    "rhizome": 0.28,
    "surface": 0.20,
    "suckering": 0.22,
    "spreading": 0.23,
    "heart": 0.23,
    "sinker": 0.20,
    "tap-then-spreading": 0.18,
}
"""Root form -> D50 as a share of D95 where only D95 is known; 0.25 for the others (`trade` 4.1)."""

DUG_FOR_ORGAN_M: dict[str, tuple[float, float, float]] = {
    "tuber": (0.10, 0.20, 0.30),
    "storage-root": (0.15, 0.25, 0.35),
}
"""How deep is dug for a crop of tubers or storage roots of which no source says it, low, likely, high:
potatoes are dug to a spade's depth, about 25 cm (judgement)."""
TROPICAL_GROUP = "tropical-crop"
FOOD_GROUPS = frozenset({"annual-vegetable", "perennial-vegetable", "field-crop", TROPICAL_GROUP})
ORCHARD_GROUP = "fruit-tree"
"""Trees that are raised on a clear stem (common practice); those with nuts are forest trees as often."""
FRUIT_GROUPS = frozenset({ORCHARD_GROUP, "nut-tree", "berry-shrub"})
"""Groups of plants of which a store below ground is the crop, and of which it is not."""

ROOT_FORM_LOG_SD = 0.7
GENUS_LOG_SD = 0.89
HALF_LOG_SD = 0.4
"""Doubt of a depth known only by root form; by genus (`trade` section 0); of D50 from D95."""

GENUS_HEIGHT_LOG_SD = 0.5
"""Doubt of a height known only by genus and growth form: the widest that `trade` 4.14 gives for heights."""

HANDBOOK_WEIGHT = 0.6
"""Weight of a handbook depth beside roots that were dug for, which weigh 1 (`data` section 2)."""

DEEPEST_TO_D95 = 0.75
"""D95 as a share of the deepest root found, where only that is known (judgement)."""


@dataclass(frozen=True, slots=True)
class FormDefaults:
    """What to assume of a growth form: (low, likely, high) each.

    Leaf area of herbs and grasses lies by the middles of the crops on record
    (`tests/reference/test_leaf_area.py`): grasses carry more; that legumes do is too little to part them.
    Extinction of herbs is that of cropland, 0.62 (Zhang et al. 2014); of grasses that of those on record
    (0.42 to 0.48: upright leaves, `trade` 4.4; grassland with its herbs has 0.50); of woody plants judgement.
    """

    root_form: str
    height_m: tuple[float, float, float]
    crown_to_height: tuple[float, float, float]
    base_share: float
    leaf_area_index: tuple[float, float, float]
    extinction: float
    weeks: tuple[float, float, float, float]


FORMS: dict[str, FormDefaults] = {
    "tree": FormDefaults("spreading", (5, 10, 20), (0.7, 0.95, 1.2), 0.2, (2, 3.2, 5), 0.6, (15, 20, 41, 45)),
    "shrub": FormDefaults("surface", (1, 2, 4), (0.6, 0.9, 1.3), 0.05, (2, 3, 4.5), 0.6, (13, 18, 40, 45)),
    "subshrub": FormDefaults(
        "spreading", (0.2, 0.4, 0.9), (0.7, 1, 1.6), 0, (1.5, 2.5, 4), 0.6, (10, 16, 42, 48)
    ),
    "cane": FormDefaults(
        "suckering", (1.2, 1.7, 2.5), (0.3, 0.45, 0.9), 0.05, (2, 3, 4.5), 0.6, (13, 20, 38, 44)
    ),
    "herb": FormDefaults(
        "fibrous-shallow", (0.2, 0.5, 1.1), (0.5, 0.8, 1.4), 0, (1.5, 3, 4.5), 0.62, (12, 19, 38, 43)
    ),
    "graminoid": FormDefaults(
        "fibrous-deep", (0.3, 0.7, 1.3), (0.2, 0.4, 0.8), 0, (2, 3.5, 5), 0.45, (11, 19, 31, 38)
    ),
    "climber-woody": FormDefaults(
        "spreading", (3, 6, 12), (0.3, 0.6, 1), 0.1, (2, 3.5, 5), 0.6, (15, 21, 40, 45)
    ),
    "climber-herbaceous": FormDefaults(
        "fibrous-deep", (1.5, 2.5, 5), (0.1, 0.25, 0.5), 0.05, (2, 3, 4.5), 0.62, (16, 24, 37, 42)
    ),
    "fern": FormDefaults(
        "rhizome", (0.3, 0.6, 1.2), (0.6, 0.9, 1.3), 0, (1.5, 3, 4.5), 0.6, (16, 21, 41, 46)
    ),
}
UNKNOWN_FORM = "herb"

LEAF_AREA_BY_SHADE: tuple[tuple[float, tuple[float, float, float]], ...] = (
    (0.07, (3.0, 4.8, 7.0)),
    (0.20, (2.0, 3.7, 5.8)),
    (1.00, (1.3, 3.1, 5.4)),
)
"""Up to which share of open light a tree lives on -> its leaf area index. Trees that bear deep shade cast it.

Middles: medians of the kinds measured tree by tree in the open (city trees, the source ``urban-trees``):
beech, sugar and Norway maple; then lime, horse chestnut, hackberry, redbud, plum, oaks, loquat; then the
fourteen that want more light. Ends: their usual tenth and nine tenths, the densest up to the 7 of beech
(`trade` 3.2)."""
NEEDLES_OF_DEEP_SHADE = (3.5, 6.0, 8.5)
"""Leaf area index of evergreen conifers that live in deep shade: they hold the needles of several years
(judgement; none of them has been measured here). Pines and larch, which want light, are as the others are."""
CONIFERS = frozenset({"Araucariaceae", "Cupressaceae", "Pinaceae", "Podocarpaceae", "Taxaceae"})

LIGHT_TO_SURVIVE = (0.05, 0.20, 0.40)
LIGHT_TO_CROP_ZERO = (0.04, 0.10, 0.20)
LIGHT_TO_CROP_FULL = (0.50, 0.75, 0.92)
NITROGEN_DEMAND_G_M2 = (5.0, 10.0, 18.0)
WOODY_NITROGEN_G_M2 = (4.0, 7.0, 12.0)
"""Of wood, which draws back more than a third from its leaves: of 139 kg/ha a year that a cool-temperate wood
needs 84 % is for the trees and 37 % drawn back (Forests 2024, 15: 725, abstract), 7.3 g/m2 from the soil."""
WATER_USE_KC = (0.85, 1.0, 1.15)
SOIL_PH = (5.5, 7.5)
SOIL_PH_ENDS = (3.0, 9.0)
"""How far down or up soils go (`trade` 3.2)."""
LIMY_GROUND_TO_PH = ((8.5, SOIL_PH_ENDS[1]), (7.5, 8.4), (6.5, 7.8), (5.5, 7.3))
ACID_GROUND_TO_PH = ((3.5, SOIL_PH_ENDS[0]), (4.5, 5.1))
"""From (or up to) which class of reaction on the usual pH closes no earlier than where such ground ends.

The classes in the words of their authors: 7 from weakly acid to weakly basic, 8 between that and 9,
always on lime; 3 acid, 5 moderately acid, 4 and 6 between (Hill et al. 1999, after Ellenberg; from memory).
Where ground of such words ends: neutral 7.3, slightly alkaline 7.8, moderately alkaline 8.4, strongly acid
5.1 (classes of reaction of the United States soil survey, NRCS 1998). Half a class either way, and to lay the
one wording on the other, is judgement."""
ZERO_TO_SURVIVE = (0.5, 1.0, 2.0)
FULL_TO_SURVIVE = (5.0, 8.0, 12.0)
"""Light at which a crop begins to be worth it, and light of full growth, as multiples of the light lived on,
for plants with a light class and no more: of plants of the woodland floor with both on record the second
is 2.5 to 8 (ramsons, ivy, yew, periwinkle, holly, woodruff), and the usual one here the most of theirs."""
HALF_SHADE_CLASS = 5.0
FULL_IN_HALF_SHADE = (0.25, 0.60, 0.75)
"""Up to which class of light (5 half shade, rarely in full light) a herb, grass or fern is at full growth in
no more than this. The middle is the most of the fourteen plants of the base with such a class and their light
on record (0.15 to 0.60, fruit bushes among them; `tests/kb/profiles/test_stand_ins.py`); the ends are
judgement."""
FULL_OF_SPRING_WOODS = (0.15, 0.25, 0.60)
"""Light of full growth of such a herb that is up before the trees are in leaf and down by midsummer: that of
woodland herbs (.15-.25, `trade` 4.4), at most that of half shade. It closes its year as the crowns close."""
CLINGER_TO_SURVIVE = (0.02, 0.05, 0.10)
"""Light on which a root-clinger lives of which none is on record: that of the shade-tolerant of the three
classes in words (`kb/adoption/indicators.py`). What climbs by roots on the trunk is a plant of the inside of
woods, as ivy is; what climbs by tendrils is one of their edge (judgement)."""
MOISTURE = (4.0, 6.0)
DATES_DOUBT_WEEKS = 4.0
KNOWN_DATES_DOUBT_WEEKS = 2.0
CROWN_SLOWS_ABOVE_M = 6.0
"""Above this height crowns widen more slowly than trees rise (width as height to the 0.7): a tree
survey gives a width of 1.0-1.1 heights for apple and cherry at 6-8 m (`trade` 3.2); judgement."""
CHILL_BELOW_C = -15.0
"""Woody plants that drop their leaves and bear this much frost are taken to need a winter before they
break bud, as the fruit and nut trees of cold countries do (common practice; the limit is judgement)."""
HERBS = frozenset({"herb", "graminoid", "climber-herbaceous"})
SPACING_TO_CROWN = 0.8
SPACING_OF_FAMILY_M = {
    "Amaranthaceae": 0.17,
    "Amaryllidaceae": 0.08,
    "Apiaceae": 0.15,
    "Asteraceae": 0.25,
    "Brassicaceae": 0.22,
    "Cucurbitaceae": 0.75,
    "Fabaceae": 0.20,
    "Poaceae": 0.10,
    "Solanaceae": 0.37,
}
"""Spacing of a full stand of a herb of one season that has none on record: the middle one of those on record
in its family, of four and more (this base, 2026). Fields are sown by yield, not by the width of a plant."""
SPACING_OF_ONE_SEASON_M, SPACING_DOUBT = 0.20, (0.4, 1.0, 2.5)
"""The same in other families, the middle one of all that are on record; and how far single crops lie off."""
EXTINCTION_SHARE = 0.2
"""The interval round the extinction coefficient, as a share of it (`computation-notes` 5)."""


def crown_of(height_m: float, form: FormDefaults) -> tuple[float, float, float]:
    """The usual crown width (low, likely, high, m) of a plant of this form at this height."""
    grown = height_m * min(1.0, (CROWN_SLOWS_ABOVE_M / height_m) ** 0.3)
    low, likely, high = form.crown_to_height
    return grown * low, grown * likely, grown * high
