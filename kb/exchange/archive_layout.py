"""The tables of our Darwin Core Archive: files, row types, columns with the term of each.

Terms are those of the open standards wherever one fits (Darwin Core, Dublin Core, GBIF's reference and
vernacular-name extensions, SKOS, PROV); the others are ours (``tb:``) and are explained in the
archive's README.txt. Writer and reader share this module, so a column has one name and one term.
"""

from dataclasses import dataclass

from kb.model import Caution, Record
from kb.namespaces import BASE, PREFIXES
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.enemy_model import EmissionStatement, HostStatement
from kb.statements.search_model import Search

DWC = PREFIXES["dwc"]
DWCIRI = PREFIXES["dwciri"]
DCTERMS = PREFIXES["dcterms"]
GBIF = "http://rs.gbif.org/terms/1.0/"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name in the header line, its term, and the field that it holds.

    ``field`` is empty for a column that says again, for other tools, what other columns hold;
    ``distance_m.0`` is the first of a pair.
    """

    name: str
    term: str
    field: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """One file of the archive; the first column names the taxon that a row is about."""

    file: str
    row_type: str
    columns: tuple[Column, ...]
    says: str
    holds: type | None = None


def _own(name: str, field: str = "") -> Column:
    return Column(name, BASE + name, field)


CITED = (
    _own("sourceKey", "source"),
    Column("bibliographicCitation", f"{DCTERMS}bibliographicCitation"),
    Column("rights", f"{DCTERMS}rights"),
    _own("locator", "locator"),
    _own("verbatim", "verbatim"),
    _own("nameAsPrinted", "name_as_printed"),
    _own("basis", "basis"),
    _own("standing", "standing"),
    _own("enteredBy", "entered_by"),
    _own("enteredOn", "entered_on"),
)
"""What every statement has: source and licence, place in it, printed words, how it was read, entry."""

TAXA = Layout(
    "taxon.csv",
    f"{DWC}Taxon",
    (
        Column("taxonID", f"{DWC}taxonID"),
        Column("acceptedNameUsageID", f"{DWC}acceptedNameUsageID"),
        Column("parentNameUsageID", f"{DWC}parentNameUsageID"),
        Column("scientificName", f"{DWC}scientificName"),
        Column("scientificNameAuthorship", f"{DWC}scientificNameAuthorship"),
        Column("taxonRank", f"{DWC}taxonRank"),
        Column("taxonomicStatus", f"{DWC}taxonomicStatus"),
        Column("nameAccordingTo", f"{DWC}nameAccordingTo"),
        Column("nomenclaturalCode", f"{DWC}nomenclaturalCode"),
        _own("plantingGroup"),
        _own("sourceKey"),
    ),
    "Every plant (status accepted), and every synonym as a row of its own that points at its plant.",
)
NAMES = Layout(
    "vernacularname.csv",
    f"{GBIF}VernacularName",
    (
        Column("taxonID", f"{DWC}taxonID"),
        Column("vernacularName", f"{DWC}vernacularName"),
        Column("language", f"{DCTERMS}language"),
        Column("isPreferredName", f"{GBIF}isPreferredName"),
    ),
    "Common names with their language (BCP 47); the preferred one comes first.",
)
RECORDS = Layout(
    "measurementorfact.csv",
    f"{DWC}MeasurementOrFact",
    (
        Column("taxonID", f"{DWC}taxonID"),
        Column("measurementID", f"{DWC}measurementID"),
        Column("measurementType", f"{DWC}measurementType"),
        Column("measurementTypeIRI", f"{DWCIRI}measurementType"),
        Column("openTerm", f"{PREFIXES['skos']}exactMatch"),
        Column("measurementValue", f"{DWC}measurementValue"),
        Column("measurementUnit", f"{DWC}measurementUnit"),
        Column("measurementUnitIRI", f"{DWCIRI}measurementUnit"),
        Column("measurementMethod", f"{DWC}measurementMethod"),
        Column("measurementRemarks", f"{DWC}measurementRemarks", "note"),
        _own("minValue"),
        _own("likelyValue"),
        _own("maxValue"),
        _own("startWeek"),
        _own("likelyWeek"),
        _own("endWeek"),
        _own("concept", "concepts"),
        _own("numberKind", "number_kind"),
        _own("condition", "conditions"),
        *CITED,
        Column("revises", f"{PREFIXES['prov']}wasRevisionOf"),
    ),
    "One record a row: what one source says of one trait of one plant.",
    Record,
)
CAUTIONS = Layout(
    "caution.csv",
    f"{BASE}Caution",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("caution", "id"),
        _own("cautionKind", "kind"),
        _own("text", "text"),
        _own("part", "part"),
        _own("agent", "agent"),
        _own("affectedGroup", "group"),
        _own("place", "place"),
        _own("asOf", "as_of"),
        _own("lookalike", "lookalike"),
        *CITED,
    ),
    "Warnings: poison, look-alikes, skin, allergy, thorns, livestock, invasive or prohibited plants. None on "
    "record for a plant is not the same as safe.",
    Caution,
)
DECISIONS = Layout(
    "decision.csv",
    f"{BASE}Decision",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("decision"),
        Column("measurementTypeIRI", f"{DWCIRI}measurementType"),
        _own("decidedBy"),
        _own("decidedOn"),
        _own("why"),
        _own("place"),
        _own("record"),
        _own("role"),
    ),
    "A curator's choice between records, one row a record weighed, in order of place, with its role.",
)
HOSTS = Layout(
    "enemyhost.csv",
    f"{BASE}HostStatement",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("statement", "id"),
        _own("enemy", "enemy"),
        _own("enemyName"),
        _own("organism"),
        _own("enemyKind"),
        _own("attacks"),
        _own("hostRole", "role"),
        _own("severity", "severity"),
        _own("travelsBy", "route"),
        _own("minDistance", "distance_m.0"),
        _own("maxDistance", "distance_m.1"),
        _own("distanceMeaning", "distance_meaning"),
        _own("minYears", "years.0"),
        _own("maxYears", "years.1"),
        _own("yearsMeaning", "years_meaning"),
        _own("yearsAsPrinted", "years_as_printed"),
        _own("region", "region"),
        _own("statementScope", "scope"),
        _own("enemyAsPrinted", "enemy_as_printed"),
        *CITED,
        _own("note", "note"),
        Column("revises", f"{PREFIXES['prov']}wasRevisionOf", "revises"),
    ),
    "Named pests and diseases of a plant, one statement a row (distances in metres).",
    HostStatement,
)
EMISSIONS = Layout(
    "emission.csv",
    f"{BASE}EmissionStatement",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("statement", "id"),
        _own("emission", "emission"),
        _own("emissionName"),
        _own("emitter"),
        _own("strength"),
        _own("actsThrough"),
        _own("minReach"),
        _own("maxReach"),
        _own("listedAs", "listed_as"),
        _own("evidenceGrade", "grade"),
        _own("statementScope", "scope"),
        *CITED,
        _own("note", "note"),
        Column("revises", f"{PREFIXES['prov']}wasRevisionOf", "revises"),
    ),
    "Plants that are listed as sensitive to, or tolerant of, what another plant (the emitter) gives off.",
    EmissionStatement,
)
OBSERVATIONS = Layout(
    "observation.csv",
    f"{BASE}Observation",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("observation", "id"),
        _own("trait", "trait"),
        _own("lowEnd", "low"),
        _own("likely", "likely"),
        _own("highEnd", "high"),
        _own("concept", "concepts"),
        _own("verbatim", "verbatim"),
        _own("observer", "observer"),
        _own("observedOn", "observed_on"),
        _own("place", "place"),
        _own("ageYears", "age_years"),
        _own("stock", "stock"),
        _own("procedure", "procedure"),
        _own("quality", "quality"),
        _own("qualityNote", "quality_note"),
        _own("enteredOn", "entered_on"),
    ),
    "What observers saw or measured on plants of their own, in the unit of the trait.",
    Observation,
)
WITHDRAWALS = Layout(
    "withdrawal.csv",
    f"{BASE}Withdrawal",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("withdrawal", "id"),
        _own("withdraws", "withdraws"),
        _own("decidedBy", "decided_by"),
        _own("decidedOn", "decided_on"),
        _own("why", "why"),
    ),
    "Observations (or withdrawals) that were taken back; they stay in the tables and no longer count.",
    Withdrawal,
)
REVIEWS = Layout(
    "review.csv",
    f"{BASE}Review",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("review", "id"),
        _own("caution", "caution"),
        _own("verdict", "verdict"),
        _own("decidedBy", "decided_by"),
        _own("decidedOn", "decided_on"),
        _own("why", "why"),
    ),
    "Reviewers' verdicts on cautions; two who would retire one, neither its author, retire it.",
    Review,
)
SEARCHES = Layout(
    "search.csv",
    f"{BASE}Search",
    (
        Column("taxonID", f"{DWC}taxonID"),
        _own("search", "id"),
        _own("searchedBy", "searched_by"),
        _own("searchedOn", "searched_on"),
        _own("queries", "queries"),
        _own("pages", "pages"),
        _own("outcome", "outcome"),
        _own("note", "note"),
    ),
    "Searches for cautions, with what was asked and read. Nothing found is not the same as safe.",
    Search,
)
CURATED = (OBSERVATIONS, WITHDRAWALS, REVIEWS, SEARCHES)
"""Tables whose columns are the fields of their class, and nothing else."""
REFERENCES = Layout(
    "reference.csv",
    f"{GBIF}Reference",
    (
        Column("taxonID", f"{DWC}taxonID"),
        Column("identifier", f"{DCTERMS}identifier", "identifier"),
        Column("bibliographicCitation", f"{DCTERMS}bibliographicCitation", "citation"),
        Column("date", f"{DCTERMS}date", "year"),
        Column("rights", f"{DCTERMS}rights", "licence"),
        Column("license", f"{DCTERMS}license", "licence_iri"),
        _own("sourceKey", "key"),
        _own("creditLine", "credit"),
        _own("tier", "tier"),
        _own("howRead", "how_read"),
    ),
    "The works cited for each plant, with licence and the line of credit that a user must carry on.",
)
EXTENSIONS = (NAMES, RECORDS, REFERENCES, CAUTIONS, DECISIONS, HOSTS, EMISSIONS, *CURATED)
