"""From checked parameters to a frozen question.

What one parameter alone cannot show (a crown base above the tree's top, frost dates that leave no
summer) is checked here.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import cast

from api.params import QuestionKind
from api.parsing import Given
from api.questions import (
    CandidatesQuestion,
    ExportQuestion,
    HistoryQuestion,
    Leaving,
    Page,
    PairQuestion,
    PlantQuestion,
    PlantsQuestion,
    Question,
    RecordQuestion,
    RecordsQuestion,
    SettingAsked,
    SiteAsked,
    SourcesQuestion,
    TraitsQuestion,
    TreeAsked,
    UnderQuestion,
)
from api.values import month_day
from kb.errors import BadParameter, ParameterFault
from kb.mixture.site import REFERENCE_SITE, Audience, Setting, Side, Site, Stand

PLANTS_ON_A_PAGE = 100
CANDIDATES_ON_A_PAGE = 20
PLANTS_IN_A_PLACE = 5
MIDSUMMER_NORTH = 172
MIDSUMMER_SOUTH = 355
"""Days of the year of the solstices (21 June, 21 December)."""

SITE_NAMES = (
    "latitude",
    "last_frost",
    "first_frost",
    "soil_depth_m",
    "soil_ph",
    "moisture",
    "open_light",
    "place",
    "audience",
)


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def ask_site(given: Given) -> SiteAsked:
    """The site; raises BadParameter where its frost dates leave no summer.

    Without frost dates those of the reference site stand in, half a year on in the south; between
    the tropics there are none.
    """
    from kb.mixture.season import reference_frost_days  # noqa: PLC0415 - loads numpy

    said = tuple(name for name in SITE_NAMES if name in given)
    base = REFERENCE_SITE
    latitude = _or(given.number("latitude"), base.latitude)
    assumed_last, assumed_first = reference_frost_days(latitude)
    last = given.whole("last_frost") or assumed_last
    first = given.whole("first_frost") or assumed_first
    _refuse_no_summer(latitude, last, first, "last_frost" if "last_frost" in given else "first_frost")
    site = Site(
        latitude=latitude,
        last_frost_day=last,
        first_frost_day=first,
        soil_depth_m=_or(given.number("soil_depth_m"), base.soil_depth_m),
        soil_ph=given.number("soil_ph"),
        moisture=_or(given.number("moisture"), base.moisture),
        open_light=_or(given.number("open_light"), base.open_light),
        place=given.text("place"),
        audience=cast("Audience", given.text("audience") or base.audience),
    )
    return SiteAsked(site, said)


def _refuse_no_summer(latitude: float, last: float | None, first: float | None, culprit: str) -> None:
    """Raises BadParameter where the frost-free time leaves out midsummer, or one date is missing."""
    if last is None and first is None:
        return
    if last is None or first is None:
        missing = "last_frost" if last is None else "first_frost"
        detail = "is missing: between the tropics give both frost dates, or none where there is no frost."
        raise BadParameter((ParameterFault(missing, detail),))
    middle = MIDSUMMER_SOUTH if latitude < 0 else MIDSUMMER_NORTH
    if not (middle - last) % 365 < (first - last) % 365:
        detail = (
            f"the frost-free time from {month_day(last)} to {month_day(first)} leaves out midsummer "
            f"({month_day(middle)} at latitude {latitude:g}); check both frost dates."
        )
        raise BadParameter((ParameterFault(culprit, detail),))


def ask_tree(given: Given) -> TreeAsked:
    """The tree's measures; raises BadParameter where they cannot all be true."""
    tree = TreeAsked(
        height_m=given.number("height_m"),
        crown_radius_m=given.number("crown_radius_m"),
        crown_base_m=given.number("crown_base_m"),
        age_years=given.number("age_years"),
        leaf_area_index=given.number("leaf_area_index"),
        stand=cast("Stand", given.text("stand") or "lone"),
    )
    if tree.height_m is not None and tree.crown_base_m is not None and tree.crown_base_m >= tree.height_m:
        detail = f"the lowest leaves ({tree.crown_base_m:g} m) must be below the top ({tree.height_m:g} m)."
        raise BadParameter((ParameterFault("crown_base_m", detail),))
    return tree


def ask_setting(given: Given) -> SettingAsked:
    """How the plants stand; raises BadParameter where two parameters say the same thing twice."""
    faults = [
        ParameterFault(f"spacing_{plant}_m", f"says the same as share_{plant}; give one of them.")
        for plant in ("a", "b")
        if f"spacing_{plant}_m" in given and f"share_{plant}" in given
    ]
    if faults:
        raise BadParameter(tuple(faults))
    asked = SettingAsked(
        setting=cast("Setting", given.text("setting") or "bed"),
        distance_m=given.number("distance_m"),
        side=cast("Side | None", given.text("side")),
        share_a=given.number("share_a"),
        share_b=given.number("share_b"),
        spacing_a_m=given.number("spacing_a_m"),
        spacing_b_m=given.number("spacing_b_m"),
        sow_week_a=given.whole("sow_week_a"),
        sow_week_b=given.whole("sow_week_b"),
        age_a_years=given.number("age_a_years"),
        age_b_years=given.number("age_b_years"),
        given=given.names("given"),
    )
    return replace(asked, tree=ask_tree(given))


def _leaving(given: Given) -> Leaving:
    return Leaving(given.names("include"), given.names("exclude"), given.names("group"))


def _page(given: Given, limit: int) -> Page:
    return Page(given.whole("limit") or limit, given.text("after"))


def _plants(given: Given) -> PlantsQuestion:
    page = _page(given, PLANTS_ON_A_PAGE)
    return PlantsQuestion(given.text("q"), given.texts("trait"), given.text("family"), page)


def _plant(given: Given) -> PlantQuestion:
    audience = cast("Audience", given.text("audience") or REFERENCE_SITE.audience)
    return PlantQuestion(given.needed("plant"), given.text("place"), audience)


def _records(given: Given) -> RecordsQuestion:
    return RecordsQuestion(given.needed("plant"), given.text("trait"))


def _record(given: Given) -> RecordQuestion:
    return RecordQuestion(given.needed("record"))


def _history(given: Given) -> HistoryQuestion:
    return HistoryQuestion(given.needed("plant"), given.text("record"))


def _pair(given: Given) -> PairQuestion:
    return PairQuestion(given.needed("a"), given.needed("b"), ask_site(given), ask_setting(given))


def _candidates(given: Given) -> CandidatesQuestion:
    page = _page(given, CANDIDATES_ON_A_PAGE)
    return CandidatesQuestion(
        given.needed("plant"), ask_site(given), ask_setting(given), _leaving(given), page
    )


def _under(given: Given) -> UnderQuestion:
    return UnderQuestion(
        tree=given.needed("plant"),
        site=ask_site(given),
        measure=ask_tree(given),
        side=cast("Side | None", given.text("side")),
        years=given.wholes("years") or (0,),
        given=given.names("given"),
        leaving=_leaving(given),
        limit=given.whole("limit") or PLANTS_IN_A_PLACE,
    )


def _sources(given: Given) -> SourcesQuestion:
    return SourcesQuestion(given.text("source"))


def _traits(given: Given) -> TraitsQuestion:
    return TraitsQuestion(given.text("trait"))


def _export(given: Given) -> ExportQuestion:
    return ExportQuestion(adopted=given.yes("adopted"))


_ASKED: Mapping[QuestionKind, Callable[[Given], Question]] = {
    "plants": _plants,
    "plant": _plant,
    "records": _records,
    "record": _record,
    "history": _history,
    "pair": _pair,
    "candidates": _candidates,
    "under": _under,
    "sources": _sources,
    "source": _sources,
    "traits": _traits,
    "trait": _traits,
    "export": _export,
}


def ask(given: Given) -> Question:
    """The frozen question behind the parameters. Raises BadParameter."""
    return _ASKED[given.question](given)
