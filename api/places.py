"""Countries by their ISO 3166-1 codes, and which of them are in the European Union.

The codes are the officially assigned ones; ``EU`` (reserved) is taken too, since rules are
published for the Union as a whole. A test compares them with the list of the time-zone database.
"""

_CODES = """AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR
    BS BT BV BW BY BZ CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC
    EE EG EH ER ES ET FI FJ FK FM FO FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK
    HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB
    LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ
    NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU
    RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN
    TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW EU"""
COUNTRIES = frozenset(_CODES.split())

_UNION = "AT BE BG HR CY CZ DE DK EE ES FI FR GR HU IE IT LT LU LV MT NL PL PT RO SE SI SK"
EUROPEAN_UNION = frozenset(_UNION.split())
"""The 27 member states since 2020-02-01."""

_STATES = """AL Alabama;AK Alaska;AZ Arizona;AR Arkansas;CA California;CO Colorado;CT Connecticut;DE Delaware;
FL Florida;GA Georgia;HI Hawaii;ID Idaho;IL Illinois;IN Indiana;IA Iowa;KS Kansas;KY Kentucky;LA Louisiana;
ME Maine;MD Maryland;MA Massachusetts;MI Michigan;MN Minnesota;MS Mississippi;MO Missouri;MT Montana;
NE Nebraska;NV Nevada;NH New Hampshire;NJ New Jersey;NM New Mexico;NY New York;NC North Carolina;
ND North Dakota;OH Ohio;OK Oklahoma;OR Oregon;PA Pennsylvania;RI Rhode Island;SC South Carolina;
SD South Dakota;TN Tennessee;TX Texas;UT Utah;VT Vermont;VA Virginia;WA Washington;WV West Virginia;
WI Wisconsin;WY Wyoming"""
_CODE_OF = {
    **{
        entry.split(maxsplit=1)[1]: f"US-{entry.split()[0]}" for entry in _STATES.replace("\n", "").split(";")
    },
    "England": "GB-ENG",
    "Wales": "GB-WLS",
    "Scotland": "GB-SCT",
    "Northern Ireland": "GB-NIR",
    "UK": "GB",
    "United Kingdom": "GB",
    "Great Britain": "GB",
    "USA": "US",
    "United States": "US",
    "European Union": "EU",
    "Switzerland": "CH",
    "New Zealand": "NZ",
    "Canada": "CA",
    "Australia": "AU",
    "Germany": "DE",
    "France": "FR",
    "Ireland": "IE",
    "Denmark": "DK",
}
"""Names of countries and parts of them, as sources print them -> ISO 3166 code."""


def codes_of(printed: str) -> frozenset[str] | None:
    """The ISO 3166 codes of places as a source prints them; None where one of them is not known.

    A country named after its parts only says where they are.

    >>> sorted(codes_of("Maine, Ohio, USA"))
    ['US-ME', 'US-OH']
    """
    names = [name.strip() for name in printed.replace(" and ", ", ").split(",") if name.strip()]
    codes = {name if name.partition("-")[0] in COUNTRIES else _CODE_OF.get(name) for name in names}
    known = {code for code in codes if code is not None}
    if not names or len(known) < len(codes):
        return None
    parts = {code.partition("-")[0] for code in known if "-" in code}
    return frozenset(known - parts)


def named_in(printed: str) -> frozenset[str]:
    """The codes of those places that are known by name; vaguer words ("North America") are left out.

    For a warning that names a country beside vaguer regions.

    >>> sorted(named_in("New Zealand and parts of North America"))
    ['NZ']
    """
    whole = codes_of(printed)
    if whole is not None:
        return whole
    names = (name.strip().removeprefix("parts of ") for name in printed.replace(" and ", ", ").split(","))
    return frozenset(_CODE_OF[name] for name in names if name in _CODE_OF)


def holds_in(rule: str, place: str) -> bool:
    """Whether a rule of the place ``rule`` may hold in ``place`` (both codes).

    A rule of a country holds in its parts, one of the Union in its member states. A rule of a part
    is taken to hold where only the country was said.
    """
    if rule == "EU" or place == "EU":
        one, other = (place, rule) if rule == "EU" else (rule, place)
        return one == other or one.partition("-")[0] in EUROPEAN_UNION
    return rule == place or rule.startswith(f"{place}-") or place.startswith(f"{rule}-")
