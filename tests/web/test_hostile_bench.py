"""Texts that mean harm, at the bench: on its screens, before its camera, typed into it."""

import json
import urllib.parse

import segno
from playwright.sync_api import Page, expect

from tests.web.hostile import HARMFUL, IMAGE, SCRIPT, SHORTER, HostileShop, Watch, is_inert


def test_no_screen_of_the_bench_runs_a_text(
    hostile_shop: HostileShop, watched: tuple[Page, Watch]
) -> None:
    page, watch = watched
    url = f"{hostile_shop.server.url}/bench/"
    page.goto(url)
    expect(page.locator("html[data-started]")).to_be_attached()
    expect(page.locator(".card").first).to_be_visible()
    bundle = json.loads(hostile_shop.server.get("/api/v1/bundle"))
    # One cup of every text is enough; the other log holds the same.
    started = [cup["code"] for cup in bundle["open_cups"]][: len(HARMFUL) + 1]
    planned = [cup["code"] for cup in bundle["planned_cups"]]
    addresses = ["", "crew/phone", "phone", "start", "scan", "type", "none"]
    addresses += [f"{name}/{code}" for code in started for name in ("story", "weigh", "scrap")]
    addresses += [f"{name}/{code}" for code in planned for name in ("weigh", "found", "start")]
    addresses += [f"cans/b/{code}" for code in started]
    addresses += [f"found/{one['code']}" for one in [*bundle["containers"], *bundle["parts"]]]
    for text in SHORTER:
        coded = urllib.parse.quote(text, safe="")
        addresses += [f"{name}/{coded}" for name in ("weigh", "found", "scan", "type", "story")]
        addresses += [f"scan/label/{coded}", f"found/{started[0]}/{coded}", coded]
    seen = ""
    for address in addresses:
        page.evaluate(
            """(address) => {
              document.querySelector('#screen').replaceChildren();
              location.hash = `#/${address}`;
              window.dispatchEvent(new HashChangeEvent('hashchange'));
            }""",
            address,
        )
        page.wait_for_function("() => document.querySelector('#screen').childElementCount > 0")
        seen += is_inert(page)
    for text in (SCRIPT, IMAGE, HARMFUL[5]):
        assert text in seen, text
    assert page.evaluate("[localStorage.length, sessionStorage.length, document.cookie]") == [
        0,
        0,
        "",
    ]
    watch.is_clean()


def test_a_reason_typed_at_the_bench_comes_home_as_text(
    hostile_shop: HostileShop, watched: tuple[Page, Watch]
) -> None:
    page, watch = watched
    page.goto(f"{hostile_shop.server.url}/bench/")
    page.locator(".card").first.wait_for()
    page.goto(f"{hostile_shop.server.url}/bench/#/crew/phone")
    for text in (SCRIPT, IMAGE):
        named = page.locator("strong").get_by_text(text, exact=True)
        # People first, then scales.
        page.locator(".choice label", has=named).nth(0 if text == SCRIPT else -1).click()
    page.locator(".crew .action").click()
    page.locator(".phone").wait_for()
    page.goto(f"{hostile_shop.server.url}/bench/#/")
    card = page.locator(".next-cups .card", has_text="ply 1").first
    cup = card.locator(".code").inner_text()
    card.click()
    for figure, then in (("8.4", ".weigh .giant-figure"), ("121.5", ".cans")):
        for character in figure:
            page.locator(".keys .key").get_by_text(character, exact=True).click()
        page.locator(".read").click()
        page.locator(then).wait_for()
    page.locator(".cans .card", has_text="HRD4SG").click()
    page.locator("dialog[open] textarea").fill(HARMFUL[2])
    page.get_by_role("button", name="Use it for this reason").click()
    # The screen goes on once the rows are on disk.
    page.locator(".weigh .giant-figure").wait_for()
    page.goto(f"{hostile_shop.server.url}/bench/#/story/{cup}")
    expect(page.locator(".story")).to_contain_text(HARMFUL[2])
    is_inert(page)
    page.goto(f"{hostile_shop.server.url}/bench/#/phone")
    page.get_by_role("button", name="Send now").click()
    expect(page.locator("dd").first).to_have_text("none")
    page.goto(f"{hostile_shop.server.url}/cups/{cup}")
    said = is_inert(page)
    assert HARMFUL[2] in said and SCRIPT in said and IMAGE in said
    watch.is_clean()


CAMERA = """() => {
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = 720;
  let rows = [[0]];
  window.show = (given) => { rows = given; };
  // A stream of a canvas has a frame only when something is drawn.
  setInterval(() => {
    const context = canvas.getContext('2d');
    const px = Math.floor(700 / rows.length);
    context.fillStyle = 'white';
    context.fillRect(0, 0, 720, 720);
    context.fillStyle = 'black';
    rows.forEach((row, y) => row.forEach((on, x) => {
      if (on) context.fillRect(x * px, y * px, px, px);
    }));
  }, 50);
  navigator.mediaDevices.getUserMedia = async () => canvas.captureStream(15);
}"""


def test_a_pattern_that_is_not_ours_is_shown_and_never_opened(
    hostile_shop: HostileShop, watched: tuple[Page, Watch]
) -> None:
    page, watch = watched
    page.goto(f"{hostile_shop.server.url}/bench/#/phone")
    page.evaluate(CAMERA)
    page.evaluate("location.hash = '#/scan'")
    before = page.url
    for text in (*HARMFUL[:-1], "https://evil.example/C/7K2QMS#<script>", "PAIR:<script>"):
        rows = [list(row) for row in segno.make(text, error="l", micro=False).matrix_iter(border=4)]
        page.evaluate("(rows) => window.show(rows)", rows)
        # Signs that turn the direction of writing are not passed on.
        words = text[1:8] if text.startswith("\u202e") else " ".join(text.split())[:12].strip()
        expect(page.locator(".scan .problem")).to_contain_text(words)
        is_inert(page)
        assert page.url == before
    page.goto("about:blank")
    watch.is_clean()
