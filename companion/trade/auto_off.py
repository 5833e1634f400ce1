"""Scales that switch themselves off when their reading stands still."""

from .cards import ScaleCard
from .constants import AUTO_OFF_NAG_SHARE


def nag_after_s(scale: ScaleCard) -> float | None:
    """Seconds after the last change of its reading at which a scale is to be touched.

    :return: seconds; None for a scale that stays on, or whose card does not say.
    :source: 70 % of the auto-off time, common practice, no source; tests/cases/auto_off.json.
    """
    return None if scale.auto_off_s is None else AUTO_OFF_NAG_SHARE * scale.auto_off_s
