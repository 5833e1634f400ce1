"""Firefox: weigh a cup with the server gone, come home, nothing twice."""

import csv
import io

from playwright.sync_api import expect

from tests.engines.fox import FoxPhone
from tests.engines.pattern import READ, drawn
from tests.running import RunningServer


def test_it_weighs_with_the_server_dead_and_brings_the_rows_home(
    own_server: RunningServer, fox_phone: FoxPhone
) -> None:
    phone = fox_phone
    phone.install()
    expect(phone.page.locator("#banner")).to_be_empty()
    own_server.kill()
    phone.page.reload()
    code = phone.take("ply 1")
    phone.say_who()
    phone.read("8.4")
    assert phone.figure() == "121.0"
    phone.read("121.5")
    phone.open_hardener("HRD2SM")
    assert phone.figure() == "155.4"

    # Dies between two readings, with the server still gone: the same step stands there again.
    phone.pull_the_battery()
    phone.switch_on()
    phone.open(f"#/weigh/{code}")
    assert phone.figure() == "155.4"
    phone.read("155.5")
    phone.does_say("and this scale proves it")
    before = phone.rows()
    assert [row["value"] for row in before if row["kind"] == "weighed"] == ["8.4", "121.5", "155.5"]

    phone.switch_off()
    phone.switch_on()
    phone.open()
    assert phone.rows() == before

    own_server.start()
    phone.send_now()
    phone.send_now()
    sent = list(csv.DictReader(io.StringIO(exported(own_server, phone), newline="")))
    assert [row["event_id"] for row in sent] == [row["event_id"] for row in before]


def exported(server: RunningServer, phone: FoxPhone) -> str:
    return server.command("export", "--log", phone.fact("log_id")).stdout


def test_the_reader_of_patterns_starts_without_a_server(
    own_server: RunningServer, fox_phone: FoxPhone
) -> None:
    fox_phone.install()
    own_server.kill()
    fox_phone.page.reload()
    assert fox_phone.page.evaluate(READ, drawn("7K2QMS")) == ["7K2QMS"]
