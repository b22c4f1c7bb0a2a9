"""What templates may call: filters and words, all of them from the modules of pages."""

from functools import cache

from jinja2 import Environment, PackageLoader

from api.pages import (
    bench,
    caution_words,
    cautions,
    cited,
    crediting,
    gists,
    judged_words,
    on_page,
    row_words,
    terms,
    views,
    words,
)
from api.pages.asked import LABELS
from api.param_kinds import AUDIENCES, GIVEN, GROUPS, TEXTURES
from kb.errors import other_name_hint
from kb.mixture.counting import so_many
from kb.mixture.relatedness import ENEMY_WEIGHT


@cache
def environment() -> Environment:
    """The templates with their filters, made once."""
    env = Environment(
        loader=PackageLoader("api", "pages"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters.update(
        {
            "about": words.about,
            "caution_text": caution_words.caution_text,
            "caution_url": words.record_url,
            "concept_words": words.concept_words,
            "conditions_text": words.conditions_text,
            "span_text": words.span_text,
            "field": words.field,
            "before_bent": bench.before_bent,
            "local_name": bench.local_name,
            "moment": bench.moment,
            "doer": bench.doer,
            "after_words": bench.after_words,
            "day_words": words.day_words,
            "takes_back": bench.takes_back,
            "thing_label": crediting.in_context(bench.thing_label),
            "value_or_none": bench.value_or_none,
            "metres": words.metres,
            "number": words.number,
            "on_page": on_page.on_page,
            "percent": words.percent,
            "plain": words.plain,
            "plant_url": words.plant_url,
            "all_evidence": crediting.in_context(crediting.all_evidence),
            "source_numbers": cited.numbers_in_context,
            "halves": words.halves,
            "record_gist": gists.record_gist,
            "lower_first": gists.lower_first,
            "record_label": crediting.in_context(crediting.record_label),
            "source_name": crediting.in_context(crediting.source_name),
            "record_id": words.record_id,
            "record_url": words.record_url,
            "scientific": words.scientific,
            "so_many": so_many,
            "tidy": words.tidy,
            "tint": words.tint,
            "upfirst": words.upfirst,
            "value_text": words.value_text,
            "years": words.years,
        }
    )
    env.globals.update(
        {
            "basis_words": words.BASIS,
            "botanical_of": views.botanical_of,
            "caution_kinds": words.CAUTION_KIND,
            "confidence_words": words.CONFIDENCE,
            "field_labels": LABELS,
            "kinds": words.KIND,
            "kinds_of": cautions.kinds_of,
            "name_of": views.name_of,
            "number_kinds": words.NUMBER_KIND,
            "held_alike": row_words.held_alike,
            "lifted_alike": row_words.lifted_alike,
            "pair_path": views.pair_path,
            "planting_groups": GROUPS,
            "row_said": row_words.row_said,
            "provided": GIVEN,
            "soil_textures": TEXTURES,
            "audiences": AUDIENCES,
            "side_words": words.SIDE,
            "source_words": cautions.source_words,
            "job_origin": words.job_origin,
            "rule_words": terms.RULE,
            "standings": words.STANDING,
            "unit_words": terms.UNIT,
            "trait_label": views.trait_label,
            "other_name_hint": other_name_hint,
            "rule_alone": words.rule_alone,
            "beside_numbers": judged_words.beside_numbers,
            "changing": judged_words.changing,
            "idle": judged_words.idle,
            "idle_words": judged_words.idle_words,
            "most_idle": judged_words.MOST_IDLE,
            "shut_out": judged_words.shut_out,
            "conflicts_at_once": judged_words.conflicts_at_once,
            **gists.GISTS,
            "worth_naming": judged_words.worth_naming,
            "verdicts": words.VERDICT,
            "enemy_weight": ENEMY_WEIGHT,
        }
    )
    return env
