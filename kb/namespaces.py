"""The namespaces of the knowledge base, in one place.

Every IRI of our own is ``BASE`` followed by a dot-joined local name: ``plant.<id>``,
``record.<id>``, ``source.<key>``, ``trait.<id>``, ``caution.<id>``, ``decision.<id>``.
"""

from rdflib import Namespace

BASE = "https://w3id.org/traitbed/"

TB = Namespace(BASE)
DWC = Namespace("http://rs.tdwg.org/dwc/terms/")
DWCIRI = Namespace("http://rs.tdwg.org/dwc/iri/")
TCS = Namespace("http://rs.tdwg.org/tcs/terms/")
RANK = Namespace("http://rs.gbif.org/vocabulary/gbif/rank/")
UNIT = Namespace("http://qudt.org/vocab/unit/")
OBO = Namespace("http://purl.obolibrary.org/obo/")
APD = Namespace("https://w3id.org/APD/traits/")
ENVTHES = Namespace("http://vocabs.lter-europe.net/EnvThes/")

PREFIXES: dict[str, str] = {
    "apd": str(APD),
    "dcterms": "http://purl.org/dc/terms/",
    "dwc": str(DWC),
    "dwciri": str(DWCIRI),
    "envthes": str(ENVTHES),
    "obo": str(OBO),
    "prov": "http://www.w3.org/ns/prov#",
    "rank": str(RANK),
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "sh": "http://www.w3.org/ns/shacl#",
    "skos": "http://www.w3.org/2004/02/skos/core#",
    "tb": BASE,
    "tcs": str(TCS),
    "unit": str(UNIT),
    "xsd": "http://www.w3.org/2001/XMLSchema#",
}


def iri(kind: str, local: str) -> str:
    """The IRI of a thing of ours, e.g. ``iri("record", "malus-domestica.family.biflora")``."""
    return f"{BASE}{kind}.{local}"


def local(kind: str, value: str) -> str:
    """The local name behind an IRI of ours; a value that is no such IRI comes back as it is."""
    return value.removeprefix(f"{BASE}{kind}.")
