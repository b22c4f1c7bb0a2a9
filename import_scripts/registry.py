"""All importers by key. Each lives in a package of its own beside this file."""

from importlib import import_module

from import_scripts.base import Importer

MODULES = (
    "taxa.importer",
    "fao56.importer",
    "biflora.importer",
    "taxonomy.importer",
    "nfix.importer",
    "groot.importer",
    "published_facts.importer",
    "published_facts.cautions",
    "enemies.importer",
    "zanne.importer",
    "floraveg.importer",
    "tyler.importer",
    "clopla.importer",
    "phenobs.importer",
    "brot.importer",
    "urban_trees.importer",
    "globtherm.importer",
    "crop_models.importer",
    "readings.importer",
    "common_practice.importer",
    "recalled_cautions.importer",
    "read_cautions.importer",
)


def importers() -> dict[str, Importer]:
    """Key -> importer, in the order in which they are best run (taxa first)."""
    found: dict[str, Importer] = {}
    for name in MODULES:
        module = import_module(f"import_scripts.{name}")
        every: tuple[Importer, ...] = getattr(module, "IMPORTERS", None) or (module.IMPORTER,)
        found.update({importer.key: importer for importer in every})
    return found
