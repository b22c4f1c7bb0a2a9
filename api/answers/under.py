"""The answer to 'what fits under or near this tree': by ring, side and year."""

from api.answers.candidates import others_for
from api.answers.cautions import Reader, left_out_notes, plant_cautions, site_work
from api.answers.ground_history import history_notes
from api.answers.knowledge import Answer
from api.answers.rows import all_cautions, pair_row, shared_notes, shown_names
from api.answers.site_rules import gate_notes, with_rules
from api.answers.site_words import site_notes
from api.answers.standing import tree_dict, tree_standing
from api.answers.stocks import stock_notes, tree_named
from api.questions import UnderQuestion
from kb.mixture.bodies.growth import grow
from kb.mixture.bodies.trained import on_its_frame
from kb.mixture.lists.under import RingAnswer, plants_under
from kb.mixture.profile import Profile
from kb.mixture.site import Tree
from kb.model import PlantId
from kb.snapshot import Snapshot

LIGHT_BY = "month, January to December: share of the light on open ground"


def under_answer(snapshot: Snapshot, question: UnderQuestion) -> Answer:
    """Light, root draw and ranked plants in each ring, on each side, in each year asked for."""
    subject = tree_named(snapshot, question.tree, question.measure.stock)
    profile = on_its_frame(snapshot.profile(subject))
    site = with_rules(snapshot, question.site.site, question.site.history)
    reader = Reader(site.audience, site.place)
    tree, assumed = tree_standing(profile, question.measure, parameter="plant")
    others, left_out = others_for(snapshot, subject, question.leaving)
    rings = plants_under(
        profile,
        tree,
        others,
        site,
        years=question.years,
        sides=None if question.side is None else (question.side,),
        given=frozenset(question.given),
        limit=question.limit,
        book=snapshot.enemy_book,
    )
    shown = list(dict.fromkeys(PlantId(row.b) for ring in rings for row, _ in ring.plants))
    understood = tree_dict(profile, tree, question.measure)
    return {
        "question": {
            "kind": "under",
            "tree": understood,
            "side": question.side,
            "years": list(question.years),
            "site": question.site.as_dict(),
            "given": list(question.given),
            "include": list(question.leaving.include),
            "exclude": list(question.leaving.exclude),
            "group": list(question.leaving.group),
            "limit": question.limit,
        },
        "dataset_version": snapshot.version,
        "cautions": [*site_work(), *all_cautions(snapshot, [subject, *shown], reader)],
        "names": shown_names(snapshot, [subject, *shown]),
        "tree": understood,
        "later": [_size(year, grow(tree, profile, year)) for year in question.years],
        "light_by": LIGHT_BY,
        "rings": [_ring(snapshot, ring, reader) for ring in rings],
        "reasons": _tree_reasons(profile, tree),
        "notes": [
            *shared_notes([row for ring in rings for row, _ in ring.plants]),
            *assumed,
            *stock_notes(snapshot, profile, question.measure),
            *left_out,
            *site_notes(question.site),
            *history_notes(snapshot, question.site.history, [subject, *shown]),
            *gate_notes(site),
            *left_out_notes(snapshot, [subject, *shown], reader),
        ],
    }


def _size(year: float, tree: Tree) -> Answer:
    return {
        "year": year,
        "height_m": round(tree.height_m, 2),
        "crown_radius_m": round(tree.crown_radius_m, 2),
        "crown_base_m": round(tree.crown_base_m, 2),
    }


def _ring(snapshot: Snapshot, ring: RingAnswer, reader: Reader) -> Answer:
    return {
        "ring": ring.ring,
        "side": ring.side,
        "year": ring.year,
        "from_m": round(ring.from_m, 2),
        "to_m": round(ring.to_m, 2),
        "light": [round(float(share), 3) for share in ring.light],
        "root_draw": round(ring.root_draw, 3),
        "total": ring.total,
        "plants": [
            {
                **pair_row(row, plant_cautions(snapshot, PlantId(row.b), reader)),
                "stops_fitting_year": stops,
            }
            for row, stops in ring.plants
        ],
    }


def _tree_reasons(profile: Profile, tree: Tree) -> list[Answer]:
    """What the light and the root draw of this tree rest on."""
    leaf = "evergreen" if profile.leaf.evergreen else "the weeks in which it is in leaf"
    crown = dict.fromkeys(
        (*profile.leaf.records, *profile.leaf_area_index.records, *profile.crown_width_m.records)
    )
    roots = dict.fromkeys(profile.root_records)
    return [
        {
            "kind": "light",
            "text": (
                f"Light below a leaf dome {tree.height_m:.1f} m high and {2 * tree.crown_radius_m:.1f} m "
                f"wide, leaf area index {tree.leaf_area_index:.2g} (m² of leaf over each m² of ground), "
                f"{leaf}."
            ),
            "records": list(crown),
        },
        {
            "kind": "roots",
            "text": (
                f"Root draw falls from the trunk outwards; the depth of the tree's roots is taken as "
                f"{profile.root_d95_m.likely:.2g} m ({profile.root_d95_m.low:.2g} to "
                f"{profile.root_d95_m.high:.2g})."
            ),
            "records": list(roots),
        },
    ]
