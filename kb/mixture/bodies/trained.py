"""A woody climber under which others are asked to stand: trained on its frame, as a low tree in a row.

Vineyards and pergolas keep their floors as orchards do; `trade` 4.10 gives a climber its frame once.
"""

from dataclasses import replace

from kb.mixture.profile import Choice, Estimate, Profile

TRAINED_FORM = "climber-woody"
FRAME_M = (1.6, 2.0, 3.0)
"""Height of a frame where none is on record for the crop: one is tied and picked standing (judgement)."""
BARE_SHARE = 0.4
"""Share of the frame's height that is kept clear of leaf below the lowest wire (judgement)."""


def on_its_frame(profile: Profile) -> Profile:
    """A woody climber with the height of its frame, no wider than that, and nothing more to climb.

    Every other plant as it is. The height is that of the managed crop where one is on record.
    """
    if profile.growth_form.value != TRAINED_FORM:
        return profile
    height = profile.grown_height_m or Estimate(*FRAME_M, "assumed")
    bare, width = BARE_SHARE * height.likely, profile.crown_width_m
    if width.likely > height.likely:
        width = replace(height, origin="assumed", records=width.records)
    return replace(
        profile,
        height_m=height,
        crown_width_m=width,
        crown_base_m=Estimate(bare * 0.7, bare, bare * 1.3, "assumed"),
        support_mode=Choice("none", "assumed", profile.support_mode.records),
        reach_m=None,
    )


def frame_note(profile: Profile) -> str:
    """What is taken of a climber that stands overhead."""
    return (
        f"{profile.name} is taken as trained on a frame of its own and cut every year: "
        f"{profile.height_m.likely:.1f} m high if no height is given, clear of leaf near the ground, in a "
        "row if nothing else is said."
    )
