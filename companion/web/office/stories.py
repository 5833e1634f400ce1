"""One cup's story as a section of its page."""

from collections.abc import Iterable

from ...records.aside import SETTLED
from ...records.trace import CupStory
from ...trade.cup import Cup
from ...trade.cup.additive import Added, added
from ...trade.cup.story import StoryLine, tell
from ...trade.cup.unidentified import fold_unidentified
from ...trade.rows import Row
from . import words
from .context import Fact, LotLine, RowLine, StorySection
from .figures import (
    day_and_offset,
    figure,
    grams,
    moment,
    percent,
    signed_percent,
    time_of_day,
)
from .lines import drawing, judged
from .phrases import _
from .shop import Shop
from .step_words import step_words


def story_section(story: CupStory, shop: Shop) -> StorySection:
    """Everything about one cup."""
    first, cup = story.rows[0], story.cup
    lots = cup.lots if cup else ()
    return StorySection(
        id=story.id,
        started=moment(first.recorded_at, first.utc_offset_min),
        facts=tuple(fact for fact in _facts(story, shop) if fact.text),
        drawing=drawing(story),
        judged=judged(story),
        sentence=_sentence(story),
        warnings=tuple(words.flag(flag) for flag in cup.flags) if cup else (),
        lots=tuple(LotLine(use.component, use.lot, use.container, use.reason) for use in lots),
        rows=tuple(_row_line(line, shop) for line in tell(story.rows)),
    )


def _sentence(story: CupStory) -> str:
    cup = story.cup
    if fold_unidentified(story.rows) is not None:
        return _("Unidentified: nobody could say which cup it is. Not into a part.")
    if cup is None:
        return _("Its system or scale is not on record here: readings are kept, not judged.")
    if cup.unknown:
        reason = words.unknown_reason(cup.unknown)
        return _(
            "No verdict is possible: %(reason)s. Not into a part. Masses and drawing show what "
            "the readings still tell.",
            reason=reason,
        )
    return {
        "in": _("inside the tolerance, and this scale proves it"),
        "in_unproven": _("inside the tolerance, but this scale cannot prove it"),
        "out_unproven": _("outside the tolerance, but this scale cannot prove it"),
        "out": _("outside the tolerance, and this scale proves it"),
    }.get(str(cup.verdict or ""), _("Not both parts are weighed yet."))


def _facts(story: CupStory, shop: Shop) -> Iterable[Fact]:
    first, cup = story.rows[0], story.cup
    yield Fact(_("Part"), shop.part(first.job))
    yield Fact(_("Job"), first.job)
    yield Fact(_("Step"), step_words(first.step))
    yield Fact(_("System"), first.system)
    yield Fact(_("Scale"), first.scale)
    yield Fact(_("Person"), _with_code(first.person, shop))
    if first.kind == "cup_started" and first.value:
        yield Fact(_("Planned total"), _in_grams(figure(first.value)))
    if cup and story.scale:
        yield from _masses(cup, story.scale.decimals)
        yield from _course(cup, story, shop)


def _masses(cup: Cup, decimals: int) -> Iterable[Fact]:
    for term, mass_g in (
        (_("Empty cup"), cup.cup_g),
        (_("Part A"), cup.part_a_g or None),
        (_("Part B"), cup.part_b_g or None),
        (_("Total in the cup"), cup.total_g or None),
        (_("Leftover"), cup.leftover_g),
    ):
        if mass_g is not None:
            yield Fact(term, _in_grams(grams(mass_g, decimals)))
    for one in added(cup):
        yield Fact(_("Paste %(code)s", code=one.code), _added(one, decimals))
    if cup.ratio_error is not None and cup.uncertainty is not None:
        text = _(
            "%(error)s %% ± %(uncertainty)s %%",
            error=signed_percent(cup.ratio_error),
            uncertainty=percent(cup.uncertainty),
        )
        side = words.direction(cup.ratio_error)
        yield Fact(_("Ratio error"), f"{text}, {side}" if side else text)


def _added(one: Added, decimals: int) -> str:
    mass = grams(one.net_g, decimals)
    if one.share is None:
        return _in_grams(mass)
    return _("%(mass)s g, %(share)s %% of part A", mass=mass, share=percent(one.share))


def _course(cup: Cup, story: CupStory, shop: Shop) -> Iterable[Fact]:
    offsets = {row.recorded_at: row.utc_offset_min for row in story.rows}

    def local(at: str) -> str:
        return moment(at, offsets.get(at, "0")) if at else ""

    yield Fact(_("State"), words.state(cup))
    yield Fact(_("Corrections"), str(cup.corrections) if cup.corrections else _("none"))
    yield Fact(_("First hardener contact"), local(cup.first_contact_at))
    yield Fact(_("Mixed"), local(cup.mixed_at))
    for use in cup.uses:
        place = " · ".join(text for text in (shop.part(use.job), step_words(use.step)) if text)
        yield Fact(
            _("Poured"), _("%(place)s, %(time)s", place=place or _("no job"), time=local(use.at))
        )
    yield Fact(_("Felt warm"), _("yes") if cup.felt_warm else "")
    yield Fact(_("Let pass in writing"), cup.deviation)
    yield Fact(_("Used past its pot life"), cup.pot_life_reason)
    yield Fact(_("Mixed before its time"), cup.mix_reason)
    yield Fact(_("Share of the mix in"), cup.share_of)
    yield Fact(_("Left to set"), " · ".join(filter(None, (local(cup.set_at), cup.set_where))))
    yield Fact(_("Cold and hard"), local(cup.disposed_at))


#: Kinds whose target is no display that was asked for.
_TARGET_IN_WORDS = frozenset({"labelled", SETTLED, "cup_started", "away", "unidentified"})


def _row_line(line: StoryLine, shop: Shop) -> RowLine:
    row = line.row
    figure_shown = row.kind not in ("lot_used", "divided")
    return RowLine(
        number=line.number,
        time=time_of_day(row.recorded_at, row.utc_offset_min),
        day=day_and_offset(row.recorded_at, row.utc_offset_min),
        what=words.kind(row.kind, row.component),
        value=row.value if figure_shown else "",
        unit=words.unit(row.unit or ("g" if row.kind == "cup_started" and row.value else "")),
        typed=row.typed if row.typed != row.value else "",
        target=row.target if row.kind not in _TARGET_IN_WORDS else "",
        shown=words.outcome(row.shown) if row.kind == SETTLED else words.verdict(row.shown),
        person=shop.person(row.person),
        scale=row.scale,
        remarks=tuple(_remarks(line)),
        struck=line.struck_by > 0,
        replaced=line.replaced_by > 0,
    )


def _of_kind(row: Row) -> Iterable[str]:
    """What a row says in its target."""
    if row.kind == "labelled":
        yield _("label %(code)s in place of %(before)s", code=row.cup, before=row.target)
    if row.kind == "cup_started" and row.target:
        yield _("share of the mix in %(code)s", code=row.target)
    if row.kind == "away" and row.target:
        yield _("since %(time)s", time=moment(row.target, row.utc_offset_min))
    if row.kind == "unidentified":
        yield _("letters left: %(letters)s", letters=row.target)


def _remarks(line: StoryLine) -> Iterable[str]:
    row = line.row
    yield from _of_kind(row)
    if row.lot or row.container:
        yield _("lot %(lot)s, container %(container)s", lot=row.lot, container=row.container)
    if line.correction:
        yield _("correction")
    if line.refers_to and row.kind == "weighed":
        yield _("read again, in place of row %(number)s", number=line.refers_to)
    elif line.refers_to and row.kind != "cup_started":
        yield _("about row %(number)s", number=line.refers_to)
    if line.replaced_by:
        yield _("replaced by row %(number)s", number=line.replaced_by)
    if line.struck_by:
        yield _(
            "struck by row %(number)s: %(reason)s",
            number=line.struck_by,
            reason=line.struck_reason or _("no reason written"),
        )
    if row.note:
        yield _("“%(note)s”", note=row.note)


def _with_code(code: str, shop: Shop) -> str:
    name = shop.person(code)
    return name if name == code else _("%(name)s (%(code)s)", name=name, code=code)


def _in_grams(text: str) -> str:
    return _("%(mass)s g", mass=text)
