"""WebKit: weigh a cup with the server gone, come home, nothing twice.

A session of its driver keeps nothing, so the browser is not started again here.
"""

import csv
import io

import pytest

from tests.engines.pattern import READ, drawn
from tests.engines.web_kit import WebKitPhone
from tests.running import RunningServer

#: The driver's own class of this engine still calls itself in the old way.
pytestmark = pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")


def test_it_weighs_with_the_server_dead_and_brings_the_rows_home(
    own_server: RunningServer, webkit_phone: WebKitPhone
) -> None:
    phone = webkit_phone
    phone.install()
    assert phone.shown("#banner").text == ""
    own_server.kill()
    phone.driver.refresh()
    phone.press(".next-cups .card", "ply 1")
    for choice in ("value='O'", "value^='S1@'"):
        phone.press(f".choice label:has(input[{choice}])")
    phone.press(".crew .action")
    phone.shown(".weigh")
    phone.read("8.4")
    phone.shown(".giant-figure", "121.0")
    phone.read("121.5")
    phone.press(".cans .card", "HRD2SM")
    phone.shown(".giant-figure", "155.4")
    phone.driver.refresh()
    phone.shown(".giant-figure", "155.4")
    phone.read("155.5")
    phone.does_say("and this scale proves it")
    before = phone.rows()
    assert [row["value"] for row in before if row["kind"] == "weighed"] == ["8.4", "121.5", "155.5"]

    own_server.start()
    phone.send_now()
    phone.send_now()
    log_id = phone.facts()["log_id"]
    text = own_server.command("export", "--log", log_id).stdout
    sent = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [row["event_id"] for row in sent] == [row["event_id"] for row in before]
    assert phone.rows() == before


def test_the_reader_of_patterns_starts_without_a_server(
    own_server: RunningServer, webkit_phone: WebKitPhone
) -> None:
    webkit_phone.install()
    own_server.kill()
    webkit_phone.driver.refresh()
    webkit_phone.shown("html[data-started]")
    assert webkit_phone.run(READ, drawn("7K2QMS")) == ["7K2QMS"]


#: A page that draws for so long at a time hears of the worker's steps in other moments.
BUSY = """async (ms) => {
  const { watchWorker } = await import('/static/bench/update.js');
  const busy = setInterval(() => { for (const start = Date.now(); Date.now() - start < ms; ); }, 0);
  let offered = 0;
  await watchWorker(() => { offered += 1; });
  await navigator.serviceWorker.ready;
  await new Promise((resolve) => { setTimeout(resolve, 2 * ms); });
  clearInterval(busy);
  return offered;
}"""


@pytest.mark.parametrize("busy_ms", [20, 100])
def test_the_first_worker_is_never_offered_as_a_new_version(
    webkit_phone: WebKitPhone, busy_ms: int
) -> None:
    # A page of this origin without the app, and with its policy.
    webkit_phone.driver.get(f"{webkit_phone.url}/none")
    assert webkit_phone.run(BUSY, busy_ms) == 0
