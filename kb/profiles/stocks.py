"""A tree on a named stock: what it has no record of its own for follows its size.

Height: on record for the stock, else that of a full-sized orchard tree times the vigour of the stock
(``trade`` 3.2, row Stock). A full-sized orchard tree is as high as the stocks of the species with both on
record make it, else as an apple on seedlings: the height of the species is that of a wild tree in the wood.
The crown then goes with the height as it does in trees at large. The depth of the roots is left as the
species has it, with a lower low end: dwarfing stocks were dug to 0.4 to 0.6 m (records of apple on M9), far
more than their share of the height.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import geometric_mean

from kb.mixture.profile import Estimate, Profile
from kb.model import Adopted, TraitId
from kb.profiles import defaults

ON_STOCK = "on-stock"
"""The rank of a tree on a named stock."""
ORCHARD_TREE_M = 9.1
"""An apple on seedlings, the one full-sized orchard tree on record here (30 feet, extension.org)."""
ORCHARD_DOUBT = (0.75, 1.0, 1.33)
SHALLOWEST = 0.5
"""How far the low end of the roots' depth is lowered at most (our judgement)."""


def fitted_to_stock(
    profile: Profile,
    parent: Profile,
    adopted: Mapping[TraitId, Adopted],
    stocks: Sequence[Mapping[TraitId, Adopted]],
) -> Profile:
    """The profile with inherited sizes fitted to the stock; those on record for it stay as they are.

    ``parent`` is the profile of the species, ``adopted`` the values of the tree on the stock, ``stocks``
    those of the species on all of its stocks. What is fitted stands in for a record (origin ``form``).
    """
    if _own(adopted, "mature-height"):
        height: Estimate | None = profile.height_m
    else:
        height = _by_vigour(_orchard_tree(parent.height_m, stocks), adopted)
    if height is None:
        return profile
    form = defaults.FORMS[profile.growth_form.value or defaults.UNKNOWN_FORM]
    crown, base, spacing = profile.crown_width_m, profile.crown_base_m, profile.sole_spacing_m
    if not _own(adopted, "crown-width"):
        crown = Estimate(*defaults.crown_of(height.likely, form), "form")
    if not _own(adopted, "crown-base"):
        base = _times(height.likely * form.base_share, (0.5, 1.0, 1.5))
    if not _own(adopted, "sole-spacing"):
        spacing = _times(crown.likely, (defaults.SPACING_TO_CROWN,) * 3)
    d95, d50 = profile.root_d95_m, profile.root_d50_m
    if not (_own(adopted, "effective-rooting-depth") or _own(adopted, "rooting-depth")):
        share = max(SHALLOWEST, min(1.0, height.likely / parent.height_m.likely))
        d95, d50 = (replace(depth, low=depth.low * share, origin="form") for depth in (d95, d50))
    return replace(
        profile,
        height_m=height,
        crown_width_m=crown,
        crown_base_m=base,
        sole_spacing_m=spacing,
        root_d95_m=d95,
        root_d50_m=d50,
    )


def _own(adopted: Mapping[TraitId, Adopted], trait: str) -> bool:
    value = adopted.get(TraitId(trait))
    return value is not None and value.inherited_from is None


def _orchard_tree(wild: Estimate, stocks: Sequence[Mapping[TraitId, Adopted]]) -> Estimate:
    """The height of the species in an orchard on a stock that leaves it its full size."""
    full: list[float] = []
    records: list[str] = []
    for stock in stocks:
        height, vigour = (stock.get(TraitId(trait)) for trait in ("mature-height", "stock-vigour"))
        if height is None or vigour is None or height.likely is None or not vigour.likely:
            continue
        if _own(stock, "mature-height") and _own(stock, "stock-vigour"):
            full.append(height.likely / vigour.likely)
            records += [*height.records, *vigour.records]
    likely = min(geometric_mean(full) if full else ORCHARD_TREE_M, wild.likely)
    low, middle, high = (likely * times for times in ORCHARD_DOUBT)
    return Estimate(low, middle, high, wild.origin if full else "form", tuple(records))


def _by_vigour(whole: Estimate, adopted: Mapping[TraitId, Adopted]) -> Estimate | None:
    """The height of the whole tree times the vigour of the stock; None where no vigour is on record."""
    vigour = adopted.get(TraitId("stock-vigour"))
    if vigour is None or vigour.likely is None or not _own(adopted, "stock-vigour"):
        return None
    low, high = vigour.low or vigour.likely, vigour.high or vigour.likely
    records = (*vigour.records, *whole.records)
    return Estimate(whole.low * low, whole.likely * vigour.likely, whole.high * high, whole.origin, records)


def _times(size: float, factors: tuple[float, float, float]) -> Estimate:
    low, likely, high = factors
    return Estimate(size * low, size * likely, size * high, "form")
