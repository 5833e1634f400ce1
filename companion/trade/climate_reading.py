"""Checks on a typed figure of air or mould before it is taken.

Slips of the unit are named: a share typed in place of a percentage is asked about, degrees
Fahrenheit are refused; nothing is put right silently.
"""

from dataclasses import dataclass

from .climate import require_humidity, require_temperature
from .errors import OutOfRange
from .numbers import fixed, parse_entry

# Zero and step of the Fahrenheit scale; exact by definition.
_ZERO_F, _C_PER_F = 32.0, 5 / 9
# No thermometer of a workshop shows more; higher figures are slips of the keys.
_WARMEST_F = 122.0


@dataclass(frozen=True, slots=True)
class ClimateCheck:
    """A figure that may be taken, or what is wrong with it.

    ``problem`` empty: take it. ``ask`` true: take it only after the person has confirmed that the
    ``proposal`` is meant.
    """

    value: str = ""
    problem: str = ""
    ask: bool = False
    proposal: str = ""


def check_climate(component: str, typed: str, confirmed: bool = False) -> ClimateCheck:
    """Judge a typed figure.

    :param component: ``air`` or ``mould`` in degrees Celsius, ``humidity`` in per cent.
    :param typed: what the person entered.
    :param confirmed: true once the person has said that the proposal is meant.
    :return: the value to record, or the problem: those of ``parse_entry``, ``share``,
        ``fahrenheit``, ``range``.
    :source: ranges of ``climate``; slips common practice, no source.
    """
    entry = parse_entry(typed)
    if entry.problem:
        return ClimateCheck(problem=entry.problem)
    if component == "humidity":
        return _humidity(entry.value, confirmed)
    try:
        require_temperature(component, entry.number)
    except OutOfRange:
        return _too_warm(entry.number)
    return ClimateCheck(entry.value)


def _humidity(value: str, confirmed: bool) -> ClimateCheck:
    number = float(value)
    if 0.01 < number <= 1:
        decimals = max(0, len(value.partition(".")[2]) - 2)
        meant = fixed(number * 100, decimals)
        if confirmed:
            return ClimateCheck(meant)
        return ClimateCheck(problem="share", ask=True, proposal=meant)
    try:
        require_humidity(number)
    except OutOfRange:
        return ClimateCheck(problem="range")
    return ClimateCheck(value)


def _too_warm(number: float) -> ClimateCheck:
    if number > _WARMEST_F:
        return ClimateCheck(problem="range")
    return ClimateCheck(problem="fahrenheit", proposal=fixed((number - _ZERO_F) * _C_PER_F, 1))
