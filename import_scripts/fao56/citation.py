"""The tables of FAO-56 as sources, and where the transcription that is read lies."""

from import_scripts.base import PublishedFile
from kb.model import Source, SourceKey

_WORK = (
    "Allen, R.G., Pereira, L.S., Raes, D., Smith, M. (1998) Crop evapotranspiration. Guidelines for "
    "computing crop water requirements. FAO Irrigation and Drainage Paper 56. FAO, Rome. {table}; "
    "transcription: Thorp, K.R., Ames, R., Pokoski, T., pyfao56, tools/tables.py (USDA-ARS)"
)
TABLES = {
    11: "Table 11, general lengths of crop development stages for types of climate and places",
    12: "Table 12, crop coefficients and heights of crops without stress, in a moderate climate",
    22: "Table 22, maximum effective rooting depth, and depletion fraction at a water use of some 5 mm a day",
}
_CHAPTER = "in a stored copy of its chapter 6 (www.fao.org/docrep/X0490E/x0490e0b.htm)"
READ = {
    11: f"; that the lengths are general ones, {_CHAPTER}",
    12: f"; that nothing limits the crop (water, salt, pests, weeds, feeding), {_CHAPTER};"
    " that the coefficients are for a least relative humidity of 45 % and a wind of 2 m/s, in the model of"
    " pyfao56, which corrects from there",
    22: "; its footnote 1 in two quotations; that the fraction is for 5 mm a day, in the model of pyfao56"
    " (p = pbase + 0.04 (5 - ETc), after page 162)",
}
"""What holds for every number of a table, and where that was read: the transcription has numbers alone."""


def _source(table: int) -> Source:
    return Source(
        key=SourceKey(f"fao56-t{table}"),
        citation=_WORK.format(table=TABLES[table]),
        identifier="http://www.fao.org/3/x0490e/x0490e00.htm",
        year="1998",
        licence="numbers are facts, cited; the transcription is in the public domain (CC0 1.0)",
        licence_iri="https://creativecommons.org/publicdomain/zero/1.0/",
        tier="A",
        how_read="whole table, in the transcription named; not compared with the printed paper" + READ[table],
        credit="FAO Irrigation and Drainage Paper 56 (Allen et al. 1998)",
    )


SOURCES = {table: _source(table) for table in TABLES}
ADDRESS = (
    "https://raw.githubusercontent.com/kthorp/pyfao56/2f0e64f35bb80d85fd3dd5590f33b7b7f66cec80/"
    "src/pyfao56/tools/tables.py"
)
FILE = PublishedFile("tables.py", ADDRESS)
