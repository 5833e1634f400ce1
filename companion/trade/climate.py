"""Air and mould: the dew point, and how far the mould is above it.

Magnus formula over water with the constants of WMO-No. 8, Annex 4.B. Blush of an amine hardener
can come above the dew point; the margin is a rule against water on the mould, not against blush.
"""

from math import exp, log

from .errors import OutOfRange

# WMO-No. 8, Annex 4.B: hPa, 1 and degrees Celsius.
_AT_ZERO_HPA, _SLOPE, _OFFSET_C = 6.112, 17.62, 243.12
# Mould above dew point, as ISO 8502-4 and ISO 12944-7 ask of painting (quoted at second hand).
LEAST_MARGIN_K = 3.0
# Where nobody laminates and the formula is not asked.
_COLDEST_C, _WARMEST_C = 0.0, 50.0


def saturation_hpa(air_c: float) -> float:
    """Pressure of saturated water vapour.

    :param air_c: degrees Celsius, 0 to 50.
    :raises OutOfRange: outside of that.
    :source: WMO-No. 8, Annex 4.B; CU-12.
    """
    require_temperature("air_c", air_c)
    return _AT_ZERO_HPA * exp(_SLOPE * air_c / (_OFFSET_C + air_c))


def dew_point_c(air_c: float, humidity_pct: float) -> float:
    """Temperature at which this air wets a surface.

    :param air_c: degrees Celsius, 0 to 50.
    :param humidity_pct: relative humidity, above 0 and at most 100.
    :raises OutOfRange: outside of that; 0.6 for 60 % is.
    :source: WMO-No. 8, Annex 4.B; CU-04 to CU-11, and psychrolib and metpy in the tests.
    """
    require_temperature("air_c", air_c)
    require_humidity(humidity_pct)
    g = log(humidity_pct / 100) + _SLOPE * air_c / (_OFFSET_C + air_c)
    return _OFFSET_C * g / (_SLOPE - g)


def margin_k(mould_c: float, air_c: float, humidity_pct: float) -> float:
    """How far the mould is above the dew point, kelvin.

    :param mould_c: measured on the mould, not taken from the air, 0 to 50 degrees Celsius.
    :raises OutOfRange: a figure outside its range.
    :source: CU-13.
    """
    require_temperature("mould_c", mould_c)
    return mould_c - dew_point_c(air_c, humidity_pct)


def may_lay_up(margin: float) -> bool:
    """Whether the mould is far enough above the dew point; the guard keeps binary noise out."""
    return margin >= LEAST_MARGIN_K - 1e-9


def largest_humidity_pct(mould_c: float, air_c: float, margin: float = LEAST_MARGIN_K) -> float:
    """Humidity up to which the mould keeps its margin, at most 100.

    :raises OutOfRange: a figure outside its range.
    :source: the formula solved for the humidity; CU-15.
    """
    require_temperature("mould_c", mould_c)
    allowed_c = mould_c - margin
    require_temperature("mould_c", allowed_c)
    return min(100.0, 100 * saturation_hpa(allowed_c) / saturation_hpa(air_c))


def require_temperature(field: str, value_c: float) -> None:
    """Refuse a temperature no workshop has.

    :raises OutOfRange: below 0 or above 50 degrees Celsius.
    """
    if not _COLDEST_C <= value_c <= _WARMEST_C:
        raise OutOfRange(field, value_c, f"{_COLDEST_C:g} to {_WARMEST_C:g} degrees Celsius")


def require_humidity(humidity_pct: float) -> None:
    """Refuse a humidity that is none; a share in place of a percentage is one of them.

    :raises OutOfRange: not above 1 and at most 100.
    """
    if not 1 < humidity_pct <= 100:
        raise OutOfRange("humidity_pct", humidity_pct, "above 1 and at most 100, in percent")
