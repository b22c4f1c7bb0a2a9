"""The flora set as a source, and the two authors of indicator values that it quotes."""

from dataclasses import replace

from import_scripts.base import PublishedFile
from kb.model import Source, SourceKey

_SET = (
    "Henniges, M.C., Powell, R.F., Mian, S., Stace, C.A., Walker, K.J., Gornall, R.J., Christenhusz, M.J.M., "
    "Brown, M.R., Twyford, A.D., Hollingsworth, P.M., Jones, L., De Vere, N., Antonelli, A., Leitch, A.R., "
    "Leitch, I.J. (2022) A taxonomic, genetic and ecological data resource for the vascular plants of "
    "Britain and Ireland. Scientific Data 9:1; data set (2021), NERC Environmental Information Data Centre"
)
BIFLORA = Source(
    key=SourceKey("biflora"),
    citation=_SET,
    identifier="https://doi.org/10.5285/9f097d82-7560-4ed2-af13-604a9110cf6d",
    year="2022",
    licence="Open Government Licence v3; the copy read is also under the MIT licence",
    licence_iri="http://www.nationalarchives.gov.uk/doc/open-government-licence/version/3/",
    tier="A",
    how_read="whole data file (BI_MAIN.csv of RBGKew/BIFloraExplorer, commit 08d210ea)",
    credit="Henniges et al. (2022), contains data under the Open Government Licence",
)
PLANTATT = replace(
    BIFLORA,
    key=SourceKey("biflora-plantatt"),
    citation="Hill, M.O., Preston, C.D., Roy, D.B. (2004) PLANTATT. Attributes of British and Irish plants: "
    "status, size, life history, geography and habitats "
    f"(indicator values after Ellenberg, for Britain), as given by {_SET}",
    how_read="as transcribed in the columns *_PLANTATT of BI_MAIN.csv "
    "(RBGKew/BIFloraExplorer, commit 08d210ea)",
    credit="PLANTATT (Hill et al. 2004) through Henniges et al. (2022)",
)
DORING = replace(
    BIFLORA,
    key=SourceKey("biflora-doring"),
    citation=f"Döring (indicator values after Ellenberg, for central Europe), as given by {_SET}",
    how_read="as transcribed in the columns *_Doring of BI_MAIN.csv "
    "(RBGKew/BIFloraExplorer, commit 08d210ea); neither file nor description tells title or year",
    credit="Döring through Henniges et al. (2022)",
)
FILE = PublishedFile(
    "BI_MAIN.csv",
    "https://raw.githubusercontent.com/RBGKew/BIFloraExplorer/08d210ea779c4c19fe64aff71d69800fb4cb4b83/"
    "data-raw/BI_MAIN.csv",
    "89cbc9cb6b6651b847e65bcf6155856fbf41dbf1a85bc39aed78bed6161c20b7",
)
