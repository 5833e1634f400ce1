"""A backup is put back: the phones fill the hole by themselves, and no code comes twice."""

import json
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from companion.trade.codes import is_label
from tests.bench.conftest import MakePhone
from tests.bench.phone import Phone
from tests.faulty_line import FaultyLine
from tests.running import RunningServer


def weigh_a(phone: Phone) -> None:
    """A cup up to its part A, from the next plan there is."""
    phone.open()
    phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    phone.read("121.5")


def start_without_a_plan(phone: Phone) -> str:
    """A cup under the next code of the phone's own; returns that code."""
    phone.open()
    phone.page.get_by_role("link", name="Start a cup without a plan").tap()
    phone.page.locator(".start .card", has_text="RES-L + SLOW").tap()
    phone.read("130")
    expect(phone.page.locator(".screen.crew, .screen.weigh")).to_be_visible()
    if phone.page.locator(".screen.crew").count():
        phone.say_who()
    phone.read("8.4")
    return str(phone.rows()[-1]["cup"])


def back_up(server: RunningServer) -> Path:
    made = server.command("backup", "--json")
    assert made.returncode == 0, made.stderr
    return Path(json.loads(made.stdout)["file"])


def restore(server: RunningServer, file: Path) -> dict[str, Any]:
    server.stop()
    done = server.command("restore", str(file), "--json")
    assert done.returncode == 0, done.stderr
    server.start()
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def held(server: RunningServer, log_id: str) -> list[str]:
    """Ids of the rows the server holds of a phone, in their order."""
    lines = server.command("export", "--log", log_id).stdout.splitlines()
    at = lines[0].split(",").index("event_id")
    return [line.split(",")[at] for line in lines[1:]]


def epoch_of(server: RunningServer) -> str:
    return str(json.loads(server.get("/api/v1/health"))["epoch"])


def test_the_phone_fills_the_hole_by_itself_and_takes_new_codes(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    phone = make_phone(own_server).install()
    log_id, before = phone.fact("log_id"), epoch_of(own_server)
    weigh_a(phone)
    phone.send_now()
    file = back_up(own_server)
    then = held(own_server, log_id)
    own_plan = start_without_a_plan(phone)
    phone.send_now()
    weighed = [row["event_id"] for row in phone.rows()]
    assert held(own_server, log_id) == weighed and len(weighed) > len(then) > 0
    old_codes = set(phone.fact("codes"))

    answer = restore(own_server, file)
    assert held(own_server, log_id) == then
    assert epoch_of(own_server) == answer["epoch"] != before
    # Nobody taps anything: opening the app is enough.
    phone.open()
    phone.page.wait_for_function(
        """async ([epoch, count]) => {
          const { facts, unsent } = await import('/static/bench/log/bench-log.js');
          const { holdings, codes_epoch } = await facts('holdings', 'codes_epoch');
          const told = holdings?.epoch === epoch && holdings.highest === count;
          return told && codes_epoch === epoch && (await unsent(1)).total === 0;
        }""",
        arg=[answer["epoch"], len(weighed)],
    )
    assert held(own_server, log_id) == weighed
    assert [row["event_id"] for row in phone.rows()] == weighed
    new_codes = set(phone.fact("codes"))
    assert len(new_codes) == 500 and not new_codes & (old_codes | {own_plan})
    late = start_without_a_plan(phone)
    assert late in new_codes and is_label(late)
    phone.send_now()
    assert held(own_server, log_id) == [row["event_id"] for row in phone.rows()]
    health = json.loads(own_server.command("health", "--json").stdout)
    assert health["sound"] and [one["missing"] for one in health["phones"]] == [[], []]
    # The next turns change nothing more.
    phone.send_now()
    assert set(phone.fact("codes")) == new_codes - {late}


def test_codes_that_do_not_come_leave_the_phone_those_it_has(
    own_server: RunningServer, make_phone: MakePhone
) -> None:
    with FaultyLine(own_server.port).running() as line:
        phone = make_phone(own_server)
        phone.url = line.url
        phone.install()
        phone.expect_complaint("status of 503")
        old_codes = set(phone.fact("codes"))
        answer = restore(own_server, back_up(own_server))
        line.refused_path = "/api/v1/codes"
        phone.page.wait_for_function(
            """async (epoch) => {
              const { facts } = await import('/static/bench/log/bench-log.js');
              const { sync } = await import('/static/bench/sync.js');
              await sync('test', true);
              const { bundle, last_turn } = await facts('bundle', 'last_turn');
              return bundle.epoch === epoch && last_turn.problem === 'unknown_answer';
            }""",
            arg=answer["epoch"],
        )
        assert line.faults_done > 0 and set(phone.fact("codes")) == old_codes
        line.refused_path = ""
        phone.send_now()
        assert phone.fact("codes_epoch") == answer["epoch"]
        assert not set(phone.fact("codes")) & old_codes
