"""The root-trait data base and the nodulation list as sources."""

from import_scripts.base import PublishedFile
from kb.model import Source, SourceKey

GROOT = Source(
    key=SourceKey("groot"),
    citation="Guerrero-Ramirez, N.R., Mommer, L., Freschet, G.T., Iversen, C.M., McCormack, M.L., "
    "Kattge, J., "
    "Poorter, H., van der Plas, F., et al. (2021) Global root traits (GRooT) database. Global Ecology and "
    "Biogeography 30:25-37; full version, rooting depth. Each record names the study that it quotes",
    identifier="https://doi.org/10.1111/geb.13179",
    year="2021",
    licence="publicly available, to be cited; no formal licence",
    licence_iri=None,
    tier="B",
    how_read="rooting-depth rows of the species on the target list, and of two more species in the extract "
    "by genus, as their records say (GRooT-Database/GRooT-Data, commit 6816dab4)",
    credit="Guerrero-Ramirez et al. (2021), GRooT, and the study named in the record",
)
NODDB = Source(
    key=SourceKey("noddb"),
    citation="Tedersoo, L., Laanisto, L., Rahimlou, S., Toussaint, A., Hallikma, T., Pärtel, M. (2018) "
    "Global "
    "database of plants with root-symbiotic nitrogen fixation: NodDB. Journal of Vegetation Science "
    "29:560-568; "
    "genus labels as given by GRooT",
    identifier="https://doi.org/10.1111/jvs.12627",
    year="2018",
    licence="to be cited; no formal licence seen",
    licence_iri=None,
    tier="B",
    how_read="genus labels in the column nitrogenFixationNodDB of GRooT "
    "(GRooT-Database/GRooT-Data, commit 6816dab4)",
    credit="Tedersoo et al. (2018), NodDB",
)
EXTRACT = "GRooT_full_Rooting_depth_target_rows.csv"
GENERA = "NodDB_genus_labels_in_GRooT.csv"
FILE = PublishedFile(
    "GRooTFullVersion.zip",
    "https://raw.githubusercontent.com/GRooT-Database/GRooT-Data/"
    "6816dab453eb40382f44bb2e51dffef1c9b4a217/DataFiles/GRooTFullVersion.zip",
)
