"""A real cup on a real scale, two phones beside it, and whatever people do, for hypothesis.

The cup holds true masses in hundredths of a gram; the scale shows tenths, from its own zero. Each
phone writes rows after the last one it knows; now and then they tell each other. After every step
the cup is folded as the phone that acted sees it, and what must always hold is asserted.
"""

from dataclasses import asdict
from math import isfinite
from typing import Any, ClassVar

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from companion.trade.cards import PotLife, ScaleCard, SystemCard
from companion.trade.cup import Action, Advice, Cup, CupState, advise, fold
from companion.trade.cup.readings import unfinished_part
from companion.trade.numbers import to_step
from companion.trade.rows import Row, voided_ids
from companion.trade.times import seconds_between
from companion.trade.weighing import Verdict

SYSTEM = SystemCard(
    "RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150, pot_life=PotLife(45, 100, 25), mix_min=3
)
SCALE = ScaleCard("S1", 1, "0.1", 3000)
STEP_G = 0.1
#: The second phone's clock is four minutes fast.
FAST_MIN = (0, 4)
GOOD = (Verdict.IN, Verdict.IN_UNPROVEN)
PARTS = st.sampled_from(["a", "b"])
PHONES = st.sampled_from([0, 1])


class CupOnScale(RuleBasedStateMachine):
    """What people do with one cup, in any order."""

    #: Views of the cup and the moment, to be told to the other language; filled where wished.
    views: ClassVar[list[tuple[list[Row], str]] | None] = None
    #: people who strike nothing and pour nothing they do not read: they get further.
    careful: ClassVar[bool] = False

    def __init__(self) -> None:
        super().__init__()
        self.load_cg = 840
        self.zero_cg = 0
        self.content_cg = {"a": 0, "b": 0, "paste": 0}
        self.unread: set[str] = set()
        self.rows: list[Row] = []
        self.known: list[set[str]] = [set(), set()]
        self.minute = 0.0
        self.bases = 1
        #: nothing was struck, tared away unread, or written by a phone that did not know better.
        self.honest = True
        #: readings that mend a slip of the keys; struck, the false figure stands again.
        self.mends: set[str] = set()
        self.falsified = False
        self.acted = 0
        self.before: Advice | None = None

    # What a phone sees and writes.

    def view(self, phone: int) -> list[Row]:
        return [row for row in self.rows if row.event_id in self.known[phone]]

    def cup(self, phone: int) -> Cup:
        return fold(self.view(phone), SYSTEM, SCALE)

    def now(self, phone: int) -> str:
        minute = self.minute + FAST_MIN[phone]
        hour, rest = 10 + int(minute // 60), minute % 60
        return f"2026-03-07T{hour:02d}:{int(rest):02d}:{int(rest % 1 * 60):02d}.000Z"

    def advice(self, phone: int) -> Advice:
        return advise(self.cup(phone), SYSTEM, SCALE, self.now(phone), None, None, None)

    def write(self, phone: int, kind: str, **columns: str) -> None:
        seen = self.view(phone)
        number = len(self.rows)
        after = fold(seen, SYSTEM, SCALE).last_event_id if seen else ""
        unknown_to_it = {row.event_id for row in self.rows} - self.known[phone]
        self.honest = self.honest and not unknown_to_it
        row = Row(
            log_id=f"phone {phone}",
            seq=number + 1,
            event_id=f"e{number:03d}",
            after=after,
            recorded_at=self.now(phone),
            kind=kind,
            cup="7K2QMS",
            **columns,
        )
        self.rows.append(row)
        self.known[phone].add(row.event_id)
        self.acted = phone
        self.minute += 0.1

    def display(self) -> str:
        cg = self.load_cg - self.zero_cg
        tenths = (abs(cg) + 5) // 10
        return f"{'-' if cg < 0 and tenths else ''}{tenths // 10}.{tenths % 10}"

    # What people do.

    @initialize(
        phone=PHONES, planned=st.sampled_from(["146.4", "60.0", ""]), steps=st.integers(0, 3)
    )
    def start(self, phone: int, planned: str, steps: int) -> None:
        self.write(phone, "cup_started", value=planned, system=SYSTEM.name, scale=SCALE.name)
        self.write(phone, "weighed", component="cup", value=self.display())
        self.known = [set(self.known[phone]), set(self.known[phone])]
        if self.careful:
            self.follow(phone, steps, 0)

    @rule()
    def tell_each_other(self) -> None:
        both = self.known[0] | self.known[1]
        self.known = [set(both), set(both)]

    @rule(minutes=st.sampled_from([0.5, 2.0, 4.0, 16.0]))
    def time_passes(self, minutes: float) -> None:
        self.minute += minutes

    @precondition(lambda self: not self.careful)
    @rule(part=st.sampled_from(["a", "b", "paste"]), cg=st.integers(0, 3000))
    def pour(self, part: str, cg: int) -> None:
        self.load_cg += cg
        self.content_cg[part] += cg
        self.unread.add(part)

    @rule(phone=PHONES)
    def read(self, phone: int) -> None:
        part = sorted(self.unread)[0] if self.unread else "a"
        # A person who poured two things without a reading names one of them.
        self.honest = self.honest and len(self.unread) <= 1
        self.unread = set()
        self.write(phone, "weighed", component=part, value=self.display())

    @rule(phone=PHONES, slip=st.sampled_from(["", "999.9", "0.5"]))
    def read_again(self, phone: int, slip: str) -> None:
        last = self.cup(phone)
        if not last.last_reading_id or self.unread:
            return
        if slip:
            again = {"component": last.last_reading_component, "refers_to": last.last_reading_id}
            self.write(phone, "weighed", value=slip, **again)
        last = self.cup(phone)
        again = {"component": last.last_reading_component, "refers_to": last.last_reading_id}
        self.write(phone, "weighed", value=self.display(), **again)
        if slip:
            self.mends.add(self.rows[-1].event_id)

    @precondition(lambda self: not self.careful or self.cup(self.acted).state != "empty_read")
    @rule(phone=PHONES)
    def tare(self, phone: int) -> None:
        self.honest = self.honest and not self.unread
        self.zero_cg, self.unread = self.load_cg, set()
        self.bases += 1
        self.write(phone, "rezeroed", value=self.display())

    @rule(phone=PHONES)
    def restart(self, phone: int) -> None:
        self.zero_cg = 0
        self.bases += 1
        part = next(iter(self.unread)) if len(self.unread) == 1 else ""
        self.unread = set()
        self.write(phone, "scale_restarted", component=part, value=self.display())

    @precondition(lambda self: not self.careful)
    @rule(phone=PHONES, place=st.integers(0, 40))
    def strike(self, phone: int, place: int) -> None:
        seen = [row for row in self.view(phone) if row.kind not in ("cup_started", "voided")]
        if not seen:
            return
        struck = seen[place % len(seen)].event_id
        self.falsified = self.falsified or struck in self.mends
        self.honest = False
        self.write(phone, "voided", refers_to=struck)

    @precondition(lambda self: not self.careful)
    @rule(
        phone=PHONES,
        kind=st.sampled_from("pour_opened mix_started scraped mixed poured felt_warm".split()),
    )
    def act(self, phone: int, kind: str) -> None:
        self.write(phone, kind, component="b" if kind == "pour_opened" else "")

    @precondition(lambda self: not self.careful)
    @rule(phone=PHONES)
    def let_it_pass(self, phone: int) -> None:
        self.write(phone, "deviation", refers_to=self.cup(phone).last_reading_id, note="trial")

    @precondition(lambda self: self.cup(self.acted).state in (CupState.MIXED, CupState.IN_USE))
    @rule(phone=PHONES, end=st.sampled_from(["scrapped", "leftover", "divided", "divided"]))
    def end(self, phone: int, end: str) -> None:
        self.write(phone, end, value="1.0" if end == "leftover" else "")
        self.write(phone, "setting", note="tray")

    @rule(phone=PHONES, steps=st.integers(1, 6), jitter_cg=st.integers(-4, 4))
    def follow(self, phone: int, steps: int, jitter_cg: int) -> None:
        """Do literally what the app says, some times over."""
        for _ in range(steps):
            self.do_as_told(phone, self.advice(phone), jitter_cg)

    @rule(phone=PHONES, jitter_cg=st.integers(-4, 4))
    def follow_once(self, phone: int, jitter_cg: int) -> None:
        """The same, one thing at a time."""
        self.do_as_told(phone, self.advice(phone), jitter_cg)

    @rule(phone=PHONES, share=st.sampled_from([0.5, 0.9, 1.03, 1.09, 1.3]))
    def pour_about_as_told(self, phone: int, share: float) -> None:
        """Pour too little or too much of what was asked for, and read it."""
        advice = self.advice(phone)
        if advice.add_g is None or advice.component not in ("a", "b") or self.unread:
            return
        if advice.action is Action.OPEN_HARDENER:
            self.write(phone, "pour_opened", component="b")
        self.pour(advice.component, round(advice.add_g * share * 100))
        self.read(phone)

    @rule(phone=PHONES, share=st.sampled_from([0.2, 0.6, 1.0]))
    def scale_dies_while_pouring(self, phone: int, share: float) -> None:
        advice = self.advice(phone)
        if advice.add_g is None or advice.component not in ("a", "b") or self.unread:
            return
        self.pour(advice.component, round(advice.add_g * share * 100))
        self.restart(phone)

    def do_as_told(self, phone: int, advice: Advice, jitter_cg: int) -> None:
        acts = {Action.MIX: ("mix_started",), Action.USE: ("poured",)}
        acts[Action.FINISH_MIXING] = ("scraped", "mixed")
        for kind in acts.get(advice.action, ()):
            self.write(phone, kind)
        told = advice.action in (Action.POUR, Action.OPEN_HARDENER, Action.CORRECT)
        if told and advice.display_stop_g is not None and "over_capacity" not in advice.cautions:
            self.pour_to_the_stop(phone, advice, jitter_cg)

    def pour_to_the_stop(self, phone: int, advice: Advice, jitter_cg: int) -> None:
        """Pour until the display shows the stop, rounded as it shows it, and read."""
        stop_g = to_step(advice.display_stop_g or 0.0, STEP_G)
        load_cg = round(stop_g * 100) + self.zero_cg + jitter_cg
        if load_cg < self.load_cg or self.unread:
            return
        if advice.action is Action.OPEN_HARDENER:
            self.write(phone, "pour_opened", component="b")
        self.content_cg[advice.component] += load_cg - self.load_cg
        self.load_cg = load_cg
        assert self.display() == f"{stop_g:.1f}"
        self.write(phone, "weighed", component=advice.component, value=self.display())
        self.ends_in(advice, stop_g, self.cup(phone))

    def ends_in(self, advice: Advice, stop_g: float, cup: Cup) -> None:
        """Followed to the letter it is in, and proven so wherever the scale allows it."""
        window = advice.window
        # Broken off by a restart beyond its target, a pour ends where it stands, and is corrected.
        if (
            not advice.add_g
            or window is None
            or cup.unknown
            or not (cup.part_a_g > 0 and cup.part_b_g > 0)
        ):
            return
        # Half a step of the part that is poured fits the tolerance: then a step lies inside.
        wanted_g = SYSTEM.ratio * cup.part_a_g if advice.component == "b" else cup.part_b_g / 0.3
        if SYSTEM.tolerance * wanted_g / (1 + SYSTEM.tolerance) >= STEP_G / 2 + 1e-9:
            assert window.accept_low_g - 1e-9 <= stop_g <= window.accept_high_g + 1e-9
            assert cup.verdict in GOOD
            rounding = STEP_G / 2 / min(cup.part_a_g, cup.part_b_g)
            if (cup.uncertainty or 1.0) + rounding <= SYSTEM.tolerance:
                assert cup.verdict is Verdict.IN

    # What must always hold.

    @invariant()
    def nothing_impossible_is_said(self) -> None:
        if not self.rows:
            return
        phone = self.acted
        seen, now = self.view(phone), self.now(phone)
        cup, advice = fold(seen, SYSTEM, SCALE), self.advice(phone)
        if self.views is not None:
            self.views.append((seen, now))
        self.masses(cup)
        self.uses(cup)
        self.corrections(cup, advice, now)
        self.shares(cup)
        figures = (advice.add_g, advice.display_stop_g, advice.display_limit_g, advice.total_g)
        assert all(figure is None or isfinite(figure) for figure in figures)
        assert advice.add_g is None or advice.add_g >= 0
        if advice.action is Action.SCRAP:
            assert advice.reason

    def masses(self, cup: Cup) -> None:
        if cup.unknown:
            return
        assert all(pour.net_g >= 0 for pour in cup.pours)
        # Each base is two roundings of half a step.
        bound_g = STEP_G * (self.bases + 1) + 1e-9
        true_g = sum(self.content_cg.values()) / 100
        told_true = not self.falsified and "double_fill" not in cup.flags
        if told_true and self.knows_all(self.acted):
            assert cup.total_g <= true_g + bound_g
        if self.honest and not self.unread:
            assert abs(cup.total_g - true_g) <= bound_g

    def knows_all(self, phone: int) -> bool:
        forks = [row.after for row in self.rows]
        return len(self.known[phone]) == len(self.rows) and len(set(forks)) == len(forks)

    def uses(self, cup: Cup) -> None:
        if cup.usable:
            assert cup.part_b_g > 0
            assert cup.part_a_g > 0
            assert not cup.unknown
            assert cup.verdict in GOOD or cup.deviation

    def corrections(self, cup: Cup, advice: Advice, now: str) -> None:
        if advice.action is not Action.CORRECT:
            return
        assert cup.corrections < 2
        assert not cup.felt_warm
        assert not unfinished_part(cup.pours)
        assert cup.state not in (CupState.MIXED, CupState.IN_USE, CupState.CLOSED)
        if cup.mix_started_at:
            assert seconds_between(cup.mix_started_at, now) <= 180
        if cup.first_contact_at:
            assert seconds_between(cup.first_contact_at, now) <= 15 * 60

    def shares(self, mix: Cup) -> None:
        """A share holds no mass of its own, and is no better than its mix."""
        start = Row(event_id="s1", kind="cup_started", cup="9B3XWT", refers_to="x", target="7K2QMS")
        for known in (mix, None):
            share = fold([start], SYSTEM, SCALE, known)
            assert share.total_g == 0
            assert share.pours == ()
            if share.usable:
                assert known is not None
                assert known.ending == "divided"
                assert known.mixed_at
                assert not known.unknown
                assert known.verdict in GOOD or known.deviation

    def teardown(self) -> None:
        """Struck rows stay; nothing is ever taken out of the log."""
        assert [row.seq for row in self.rows] == list(range(1, len(self.rows) + 1))
        assert voided_ids(self.rows) <= {row.event_id for row in self.rows} | {""}


class CarefulCup(CupOnScale):
    """Careful people, whose cups are judged, corrected, mixed, divided and used."""

    careful = True


def calls_of(views: list[tuple[list[Row], str]]) -> list[dict[str, Any]]:
    """What one language is asked about a view, to compare it with the other."""
    system, scale = asdict(SYSTEM), asdict(SCALE)
    made: list[dict[str, Any]] = []
    for seen, now in views:
        rows = {"$rows": [_plain(row) for row in seen]}
        folded = {"call": "fold", "args": [rows, system, scale]}
        made.append({"module": "cup", **folded})
        made.append(
            {"module": "cup", "call": "advise", "args": [{"$call": folded}, system, scale, now]}
        )
    return made


def _plain(row: Row) -> dict[str, Any]:
    return {name: value for name, value in asdict(row).items() if value not in ("", 0, ())}
