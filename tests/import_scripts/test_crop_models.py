"""Root depths of crop models: limits of the models, not what was measured.

All rows are cited facts of the set unless the test says invented; what is expected stands in the data notes
(data.md).
"""

import csv
from decimal import Decimal
from pathlib import Path

from tests.import_scripts.stated import Stated, Written, drafts, refused


def test_the_printed_numbers_of_the_models_are_the_depths() -> None:
    """Daisy (MaxPen) and WOFOST (RDMCR) print centimetres, MONICA metres in single precision."""
    per_metre = {"daisy": 100, "wofost": 100, "monica": 1}
    table = Path("import_scripts/crop_models/printed.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(table))

    assert 33 == len(rows)
    for row in rows:
        number = Decimal(row["words"].strip("()").removeprefix("MaxPen "))
        assert Decimal(row["depth"]) == round(number / per_metre[row["model"]], 2), row


def test_a_parameter_printed_twice_in_a_file_is_told_by_its_block(written: Written, stated: Stated) -> None:
    """maize.yaml of WOFOST prints RDMCR of a tropical maize (75 cm) and of a temperate one (100 cm)."""
    table = "wofost_crop,RDMCR_m\nmaize,0.75\nmaize,1.0\nbarley,1.25\n"
    columns = [f"c{n}" for n in range(1, 15)]
    others = {
        "swatplus/plants.plt": f"plants.plt: x\nname {' '.join(columns)} rt_dp_max\ncabg {'0 ' * 14}0.6\n",
        "aquacrop/aquacrop_crop_params_extract.csv": "aquacrop_name,Zmax\nDryBean,1.7\n",
        "other_models/daisy_monica_max_root_depth.csv": "model,path,model_crop,max_root_depth_m\n"
        "Daisy,lib/wclover.dai,white clover,1.0\n",
    }
    found = stated("crop-models", written({"wofost/WOFOST_RDMCR.csv": table} | others))

    assert [
        (Decimal("0.75"), "maize.yaml, EcoTypes: tropical_maize, RDMCR"),
        (Decimal("1.0"), "maize.yaml, EcoTypes: temperate_maize, RDMCR"),
        (Decimal("1.25"), "barley.yaml, RDMCR"),
    ] == [(d.likely, d.locator) for d in drafts(found, "model-rooting-limit") if d.source == "wofost"]


def test_model_limits_are_limits_and_a_placeholder_is_refused(written: Written, stated: Stated) -> None:
    """Daisy white clover 1.0 m, cabbage 2.40 m; SWAT+ cabbage 0.6; MONICA alfalfa 0.30 m refused."""
    columns = [f"c{n}" for n in range(1, 15)]
    found = stated(
        "crop-models",
        written(
            {
                "swatplus/plants.plt": "plants.plt: written on 2023-03-22 04:25\n"
                f"name {' '.join(columns)} rt_dp_max\n"
                f"cabg {'0 ' * 14}0.6\n",
                "wofost/WOFOST_RDMCR.csv": "wofost_crop,RDMCR_m\npotato,0.5\n",
                "aquacrop/aquacrop_crop_params_extract.csv": "aquacrop_name,Zmax\nDryBean,1.7\n",
                "other_models/daisy_monica_max_root_depth.csv": "model,path,model_crop,max_root_depth_m\n"
                "Daisy,lib/wclover.dai,white clover,1.0\nDaisy,lib/whitecabbage.dai,White cabbage,2.4\n"
                "MONICA,crops/alfalfa/.json,alfalfa,0.3\n",
            }
        ),
    )

    limits = {(d.source, d.plant): d.likely for d in drafts(found, "model-rooting-limit")}
    assert Decimal("1.0") == limits["daisy", "trifolium-repens"]  # type: ignore[index]
    assert Decimal("2.4") == limits["daisy", "brassica-oleracea.capitata-group"]  # type: ignore[index]
    assert Decimal("0.6") == limits["swatplus", "brassica-oleracea.capitata-group"]  # type: ignore[index]
    printed = {d.source: (d.name_as_printed, d.verbatim) for d in drafts(found, "model-rooting-limit")}
    assert ("White cabbage", "(MaxPen 240)") == printed["daisy"]  # type: ignore[index]
    assert ("potato", "50.0") == printed["wofost"]  # type: ignore[index]
    assert ["0.30 m is a placeholder; lucerne roots far deeper"] == refused(found)
    assert {"model-limit"} == {d.number_kind for d in drafts(found, "model-rooting-limit")}
    assert {"plants.plt (written on 2023-03-22 04:25), cabg, rt_dp_max"} == {
        d.locator for d in drafts(found, "model-rooting-limit") if d.source == "swatplus"
    }
