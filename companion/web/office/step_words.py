"""Steps of a lay-up sheet in the reader's words; the log names them alike in every language."""

import re

from .phrases import _

_NUMBERED = re.compile(r"(release|ply|prepare ply) ([1-9][0-9]{0,3})\Z")


def step_words(name: str) -> str:
    """A step by its name in the log; a text somebody typed stays as it is."""
    numbered = _NUMBERED.match(name)
    if numbered is None:
        return _plain().get(name, name)
    word, number = numbered.groups()
    if word == "release":
        return _("release coat %(number)s", number=number)
    if word == "ply":
        return _("ply %(number)s", number=number)
    return _("preparation for ply %(number)s", number=number)


def _plain() -> dict[str, str]:
    return {
        "mould": _("mould check"),
        "surface coat": _("surface coat"),
        "tack": _("finger test"),
        "peel ply": _("peel ply"),
        "trim": _("trim"),
        "cure": _("cure"),
        "demould": _("demould"),
    }
