"""Which of what was said a form shows again, and which it sends along unseen."""

from api.site_asking import SITE_NAMES

TREE_NAMES = frozenset({"height_m", "crown_radius_m", "crown_base_m", "leaf_area_index", "stand"})
"""Measures of a tree that a question on one pair under it takes as they are."""

TREE_SIZES = ("crown_radius_m", "crown_base_m", "leaf_area_index")
"""Sizes of a tree that a form shows again where they were said."""

UNDER_FIELDS = ("latitude", "soil_depth_m", "side", "stand", "stock", "given", "include")
"""What was said of a pair under a tree and is no field of its form."""

SITE_FIELDS = (*(name for name in SITE_NAMES if name not in {"latitude", "soil_depth_m"}), "observed_at")
"""What the forms ask of the site under "More about the site"; an empty field is not said."""

SEASON_FIELDS = (
    "latitude",
    "last_frost",
    "first_frost",
    "soil_ph",
    "moisture",
    "place",
    "audience",
    "history",
)
"""What was said of the site and acts where one plant follows another."""

FOLLOW_FIELDS = ("use_a", "sow_week_a", "clear_week_a", "sow_week_b", "gap_years")
"""What the form asks of two that follow each other."""

TREE_SAID = ("height_m", "age_years")
"""What the form asks of a tree as it stands."""

LIST_FIELDS = ("side", "given", "include", "exclude", "limit")
"""What was said of a ranked list and is no field of its form."""
