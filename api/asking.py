"""From checked parameters to a frozen question.

What one parameter alone cannot show (a crown base above the tree's top) is checked here; of the site
in ``api.site_asking``.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import cast

from api.param_kinds import QuestionKind, SettingName
from api.parsing import Given
from api.questions import (
    CandidatesQuestion,
    ExportQuestion,
    FollowAsked,
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
    SourcesQuestion,
    TraitsQuestion,
    UnderQuestion,
    WorklistQuestion,
)
from api.site_asking import ask_site
from api.tree_asking import ask_tree
from kb.errors import BadParameter, ParameterFault
from kb.mixture.site import REFERENCE_SITE, Audience, Side, Use

PLANTS_ON_A_PAGE = 100
CANDIDATES_ON_A_PAGE = 20
PLANTS_IN_A_PLACE = 5
TASKS_ON_A_PAGE = 20
PARTNERS = 2


def ask_setting(given: Given) -> SettingAsked:
    """How the plants stand; raises BadParameter where two parameters say the same thing twice."""
    faults = [
        ParameterFault(f"spacing_{plant}_m", f"says the same as share_{plant}; give one of them.")
        for plant in ("a", "b")
        if f"spacing_{plant}_m" in given and f"share_{plant}" in given
    ]
    faults += _follow_faults(given)
    if faults:
        raise BadParameter(tuple(faults))
    asked = SettingAsked(
        setting=cast("SettingName", given.text("setting") or "bed"),
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
        follow=FollowAsked(
            clear_week_a=given.whole("clear_week_a"),
            gap_weeks=given.number("gap_weeks"),
            gap_years=given.number("gap_years"),
            use_a=cast("Use | None", given.text("use_a")),
        ),
    )
    return replace(asked, tree=ask_tree(given))


WHEN_B_STARTS = ("sow_week_b", "gap_weeks", "gap_years")


def _follow_faults(given: Given) -> list[ParameterFault]:
    """What one plant after another cannot mean: a start said twice, things that do not act on it."""
    if given.text("setting") != "follow":
        return []
    said = [name for name in WHEN_B_STARTS if name in given]
    faults = [
        ParameterFault(name, f"says when B starts, as {said[0]} does; give one of them.") for name in said[1:]
    ]
    idle = [word for word in given.names("given") if word not in ("clean-ground", "irrigated")]
    if idle:
        text = f"'{idle[0]}' changes nothing where B follows A; clean-ground and irrigated do."
        faults.append(ParameterFault("given", text))
    return faults


def _leaving(given: Given) -> Leaving:
    return Leaving(given.names("include"), given.names("exclude"), given.names("group"))


def _page(given: Given, limit: int) -> Page:
    return Page(given.whole("limit") or limit, given.text("after"))


def _plants(given: Given) -> PlantsQuestion:
    page = _page(given, PLANTS_ON_A_PAGE)
    return PlantsQuestion(given.text("q"), given.texts("trait"), given.text("family"), page)


def _plant(given: Given) -> PlantQuestion:
    audience = cast("Audience", given.text("audience") or REFERENCE_SITE.audience)
    return PlantQuestion(given.needed("plant"), given.text("place"), audience, given.text("observed_at"))


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
    form, adopted = given.needed("format"), given.yes("adopted")
    if adopted and form != "csv":
        detail = f"has no place in {form}: adopted values are computed from the records; ask for csv."
        raise BadParameter((ParameterFault("adopted", detail),))
    return ExportQuestion(form, adopted=adopted)


def _judge(given: Given) -> Question:
    from api.plans import ask_planting  # noqa: PLC0415 - loaded where a planting is asked about

    return ask_planting(given)


def _worklist(given: Given) -> WorklistQuestion:
    partners = given.whole("partners") or PARTNERS
    return WorklistQuestion(given.text("kind"), partners, _page(given, TASKS_ON_A_PAGE))


_ASKED: Mapping[QuestionKind, Callable[[Given], Question]] = {
    "plants": _plants,
    "plant": _plant,
    "records": _records,
    "record": _record,
    "history": _history,
    "pair": _pair,
    "candidates": _candidates,
    "under": _under,
    "judge": _judge,
    "sources": _sources,
    "source": _sources,
    "traits": _traits,
    "trait": _traits,
    "export": _export,
    "worklist": _worklist,
}


def ask(given: Given) -> Question:
    """The frozen question behind the parameters. Raises BadParameter."""
    return _ASKED[given.question](given)
