"""The depth to which crop models let roots grow: a parameter of the model, never an observation."""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate, read_text, rows_of_text
from kb.model import Source, SourceKey
from kb.names import fold


def _source(
    key: str, citation: str, identifier: str | None, licence: str, how_read: str, year: str | None = None
) -> Source:
    return Source(
        key=SourceKey(key),
        citation=citation,
        identifier=identifier,
        year=year,
        licence=licence,
        licence_iri=None,
        tier="B",
        how_read=how_read,
        credit=citation,
    )


SOURCES = {
    "swatplus": _source(
        "swatplus",
        "Bieger, K., Arnold, J.G., Rathjens, H., et al. (2017) Introduction to SWAT+, a completely "
        "restructured version of the Soil and Water Assessment Tool. JAWRA 53:115-130; plant data base "
        "plants.plt of SWAT+ 60.5.4",
        "https://doi.org/10.1111/1752-1688.12482",
        "LGPL 2.1 (repository); single facts are cited",
        "whole file (refdata/Osu_1hru/plants.plt of swat-model/swatplus, commit cb442f7c)",
        "2017",
    ),
    "wofost": _source(
        "wofost",
        "de Wit, A. (2022-2025) WOFOST crop parameter sets, parameter RDMCR",
        "https://github.com/ajwdewit/WOFOST_crop_parameters",
        "European Union Public Licence",
        "numbers taken from the parameter files (ajwdewit/WOFOST_crop_parameters, commit 4fd5f9a3); "
        "the printed numbers, in cm, read again in other stored states of them",
    ),
    "aquacrop": _source(
        "aquacrop",
        "Kelly, T.D., Foster, T. (2021) AquaCrop-OSPy. Agricultural Water Management 254:106976; crop "
        "parameters "
        "after the AquaCrop reference manual, Annex I",
        "https://doi.org/10.1016/j.agwat.2021.106976",
        "MIT or Apache 2.0 (the package says both)",
        "numbers taken from crop_params.py of aquacrop 3.1.0",
        "2021",
    ),
    "daisy": _source(
        "daisy",
        "Daisy crop library, parameter MaxPen (daisy-model/daisy, lib/*.dai)",
        "https://github.com/daisy-model/daisy",
        "GPL 2 (repository); single facts are cited",
        "numbers taken from the parameter files (daisy-model/daisy, commit 2e98cdcc); names and printed "
        "numbers, in cm, read again in another stored state of them (commit 96659eab)",
    ),
    "monica": _source(
        "monica",
        "MONICA crop parameters, CropSpecificMaxRootingDepth (zalf-rpm/monica-parameters)",
        "https://github.com/zalf-rpm/monica-parameters",
        "MPL 2.0 (repository)",
        "numbers taken from the parameter files (zalf-rpm/monica-parameters, commit fb0f4785); names and "
        "printed numbers read again in other stored states of them",
    ),
}
PARAMETER = {"daisy": "MaxPen", "monica": "CropSpecificMaxRootingDepth"}
KNOWN_WRONG = {("monica", "alfalfa"): "0.30 m is a placeholder; lucerne roots far deeper"}
FILES = {
    "swatplus": "swatplus/plants.plt",
    "wofost": "wofost/WOFOST_RDMCR.csv",
    "aquacrop": "aquacrop/aquacrop_crop_params_extract.csv",
    "others": "other_models/daisy_monica_max_root_depth.csv",
}


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@cache
def _printed() -> Mapping[tuple[str, str, str], Mapping[str, str]]:
    """What the parameter file itself prints for a model, a label and a depth of the extract: name and number.

    The extract turned centimetres (Daisy, WOFOST) into metres and named some crops in its own words.
    Where a file prints the parameter more than once, ``where`` names its block.
    """
    table = (files(__package__) / "printed.csv").read_text(encoding="utf-8").splitlines()
    return {(row["model"], row["label"], row["depth"]): row for row in csv.DictReader(table)}


@dataclass(frozen=True)
class CropModelsImporter:
    """The importer ``crop-models``: a folder with one folder per model."""

    key: str = "crop-models"
    title: str = "rooting limits of five crop models (parameters, never depths)"
    files: tuple[PublishedFile, ...] = tuple(PublishedFile(name) for name in FILES.values())
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return tuple(SOURCES.values())

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from _swat(locate(folder, FILES["swatplus"]))
        for row in csv_rows(locate(folder, FILES["wofost"]), ("wofost_crop", "RDMCR_m"), name="wofost_crop"):
            yield _common(row, "wofost", row["RDMCR_m"], f"{row['wofost_crop']}.yaml, RDMCR")
        for row in csv_rows(
            locate(folder, FILES["aquacrop"]), ("aquacrop_name", "Zmax"), name="aquacrop_name"
        ):
            yield _common(row, "aquacrop", row["Zmax"], f"crop_params.py, {row.name}, Zmax")
        wanted = ("model", "path", "model_crop", "max_root_depth_m")
        for row in csv_rows(locate(folder, FILES["others"]), wanted, name="model_crop"):
            model = row["model"].lower()
            yield _common(row, model, row["max_root_depth_m"], f"{row['path']}, {PARAMETER[model]}")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:  # noqa: ARG002
        model, depth = row["model"], number(row["depth"])
        wrong = KNOWN_WRONG.get((model, row.name))
        if wrong:
            return [refuse(row, wrong, "leave it out")]
        decided = _mapping().get(fold(f"{model} | {row.name}"))
        if decided is None or decided[0].plant is None:
            return [unmatched(row)]
        if depth is None or depth <= 0:
            return [refuse(row, f"'{row['depth']}' is no depth", "look at the parameter file")]
        several = {"scope": "group"} if len(decided) > 1 else {}
        printed = _printed().get((model, row.name, row["depth"]), {})
        remark = f"; {printed['note']}" if printed.get("note") else ""
        return [
            draft(
                row,
                one.plant,
                "model-rooting-limit",
                likely=depth,
                kind="model-limit",
                conditions={"model": model} | several,
                verbatim=printed.get("words", row["depth"]),
                name=printed.get("name"),
                source=SOURCES[model].key,
                locator=printed.get("where") or row["where"],
                basis="read-in-source" if model == "swatplus" else "read-in-transcription",
                note="how deep the model lets roots grow; not an observation" + remark,
            )
            for one in decided
            if one.plant is not None
        ]


def _common(row: Row, model: str, depth: str, where: str) -> Row:
    return replace(row, values={"model": model, "depth": depth, "where": where})


def _swat(path: Path) -> Iterator[Row]:
    """plants.plt: a title line (file name, colon, what wrote it and when), then columns parted by spaces."""
    title, _, table = read_text(path).partition("\n")
    lines = [",".join(line.split()[:16]) for line in table.splitlines() if line.strip()]
    wanted = ("name", "rt_dp_max")
    for row in rows_of_text("\n".join(lines), wanted, file=path.name, name="name"):
        moved = replace(row, number=row.number + 1)
        where = f"plants.plt ({title.partition(':')[2].strip()}), {row.name}, rt_dp_max"
        yield _common(moved, "swatplus", row["rt_dp_max"], where)


IMPORTER = CropModelsImporter()
