"""Texts of labels in one language."""

from collections.abc import Callable

from .labels import Words


def label_words(
    _: Callable[[str], str], figure: Callable[[str], str], day: Callable[[str], str]
) -> Words:
    """Texts of a label.

    :param _: translates a message.
    :param figure: writes a recorded figure in the language.
    :param day: writes a day, ISO 8601, in the language.
    """
    return Words(
        target=_("A %(mass)s g"),
        paste=_("+ %(mass)s g paste %(code)s"),
        ratio=_("B = %(ratio)s × A poured"),
        cup=_("cup"),
        part_a=_("A"),
        part_b=_("B"),
        stop=_("stop"),
        initials=_("initials"),
        use_by=_("use by"),
        lot=_("Lot %(lot)s"),
        expires=_("Expires %(day)s"),
        opened=_("Opened"),
        job=_("Job %(job)s"),
        made_on=_("made on"),
        figure=figure,
        day=day,
    )
