"""Units: QUDT IRI, UCUM code and conversion factor of each, and exact conversion between them.

Factors and offsets are those of the QUDT units vocabulary (to the base unit of each kind:
``base = (value + offset) * factor``); g/m2 was not in the part of QUDT that was read and follows from
kg/m2. A kilometre on each square metre is the reciprocal millimetre (it and the
degree day are named by QUDT's pattern, from memory).
Months are left out on purpose: the code ``mo`` means the month of the moon in one published table and a
twelfth of a year in another.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kb.errors import BadParameter, ParameterFault
from kb.namespaces import UNIT

PLACES = 9
"""Decimal places of a result that no finite decimal can hold (degrees Fahrenheit, years)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit. ``kind`` groups units that convert into each other; factor None never converts."""

    name: str
    ucum: str
    label: str
    kind: str
    factor: Fraction | None
    offset: Fraction = Fraction(0)

    @property
    def iri(self) -> str:
        return str(UNIT[self.name])


def _unit(name: str, ucum: str, label: str, kind: str, factor: str | None, offset: str = "0") -> Unit:
    return Unit(name, ucum, label, kind, None if factor is None else Fraction(factor), Fraction(offset))


UNITS: tuple[Unit, ...] = (
    _unit("M", "m", "m", "length", "1"),
    _unit("CentiM", "cm", "cm", "length", "0.01"),
    _unit("MilliM", "mm", "mm", "length", "0.001"),
    _unit("FT", "[ft_i]", "ft", "length", "0.3048"),
    _unit("IN", "[in_i]", "in", "length", "0.0254"),
    _unit("DEG_C", "Cel", "degC", "temperature", "1", "273.15"),
    _unit("DEG_F", "[degF]", "degF", "temperature", "5/9", "459.67"),
    _unit("K", "K", "K", "temperature", "1"),
    _unit("PH", "[pH]", "pH", "acidity", None),
    _unit("UNITLESS", "1", "1", "ratio", "1"),
    _unit("PERCENT", "%", "percent", "ratio", "0.01"),
    _unit("HR", "h", "hour", "time", "3600"),
    _unit("DAY", "d", "day", "time", "86400"),
    _unit("WK", "wk", "week", "time", "604800"),
    _unit("YR", "a", "year", "time", "31557600"),
    _unit("GM-PER-M2", "g.m-2", "g/m2", "mass per area", "0.001"),
    _unit("KiloGM-PER-M2", "kg.m-2", "kg/m2", "mass per area", "1"),
    _unit("KiloGM-PER-HA", "kg.har-1", "kg/ha", "mass per area", "0.0001"),
    _unit("PER-MilliM", "mm-1", "km/m2", "length per area", "1000"),
    _unit("K-DAY", "K.d", "degree days", "temperature times time", "86400"),
)

_BY_NAME: dict[str, Unit] = {
    called: unit for unit in UNITS for called in (unit.iri, unit.ucum, unit.label, unit.name)
}


def unit(called: str) -> Unit:
    """The unit of that IRI, UCUM code or label. Raises BadParameter where there is none."""
    found = _BY_NAME.get(called)
    if found is None:
        known = ", ".join(one.label for one in UNITS)
        raise BadParameter((ParameterFault("unit", f"'{called}' is not a unit known here. Known: {known}."),))
    return found


def convert(value: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """The same quantity in another unit, exact wherever a finite decimal can hold it.

    Raises BadParameter for unknown units, units of different kinds, pH (a logarithm that has no
    factor) and values that are not finite.

    >>> convert(Decimal("4"), "ft", "m")
    Decimal('1.2192')
    >>> convert(Decimal("-40"), "degF", "degC")
    Decimal('-40')
    """
    source, target = unit(from_unit), unit(to_unit)
    if not value.is_finite():
        raise BadParameter((ParameterFault("value", f"{value} is not a finite number"),))
    if source == target:
        return value
    if source.kind != target.kind or source.factor is None or target.factor is None:
        raise BadParameter(
            (
                ParameterFault(
                    "unit",
                    f"{source.label} ({source.kind}) cannot be turned into {target.label} ({target.kind})",
                ),
            )
        )
    base = (Fraction(value) + source.offset) * source.factor
    return _decimal(base / target.factor - target.offset)


def _decimal(exact: Fraction) -> Decimal:
    """The decimal of a fraction: exact where its denominator has no prime but 2 and 5."""
    rest = exact.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    places = PLACES
    if rest == 1:
        places = 0
        while (exact * 10**places).denominator != 1:
            places += 1
    return Decimal(round(exact * 10**places)).scaleb(-places)
