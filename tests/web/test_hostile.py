"""Texts that mean harm, in every field there is: shown as what they are, on screen and on paper.

Expected (common practice, OWASP ASVS 5.0 chapter 1, from memory): nothing runs, and nothing even
tries to, so that the content policy never has to step in.
"""

import csv
import io
import json
import subprocess
import urllib.error
import urllib.parse
import urllib.request
from email.message import Message
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from playwright.sync_api import Error as PlaywrightError

from companion.records import aside, trace
from companion.records.store import Store
from companion.wire.log_csv import read_log
from tests.running import RunningServer
from tests.web.hostile import HARMFUL, IMAGE, SHORTER, TOO_LONG, HostileShop, Watch, is_inert


def cups(store: Store) -> list[str]:
    """Cups that somebody meant harm with; those of the demo come before them."""
    told = trace.all_stories(store)
    return [story.code for story in told if story.rows[0].person in HARMFUL]


def test_the_watch_would_see_it(browser: Browser, server: RunningServer) -> None:
    context = browser.new_context()
    watch = Watch(context)
    page = context.new_page()
    page.goto(f"{server.url}/")
    with pytest.raises(PlaywrightError, match="Trusted"):
        page.evaluate("(text) => { document.body.innerHTML = text; }", IMAGE)
    page.evaluate(
        """() => {
          const link = document.createElement('a');
          link.href = 'javascript:window.__xss=1';
          document.body.append(link);
          link.click();
        }"""
    )
    while len(watch.violations) < 2:
        page.wait_for_timeout(20)
    with pytest.raises(AssertionError):
        is_inert(page)
    context.close()


def test_what_was_sent_is_on_record_as_it_was(hostile_shop: HostileShop) -> None:
    server = hostile_shop.server
    with urllib.request.urlopen(f"{server.url}/export.csv?log={hostile_shop.sent}") as answer:
        lines = read_log(answer.read())
    notes = [line.row.note for line in lines if line.row and line.row.kind == "note"]
    assert notes == list(HARMFUL)
    # What does not fit its column was set aside whole, and the text that is too long.
    reasons = {stray.reason for stray in aside.all_strays(hostile_shop.store)}
    assert {"field_too_long", "kind"} <= reasons or {"field_too_long", "utc_offset_min"} <= reasons


PAGES = [
    "/",
    "/plan",
    "/jobs",
    "/new-job",
    "/labels",
    "/labels?what=containers&shown=1",
    "/labels?what=parts&shown=1",
    "/trace",
    "/exchange",
    "/aside",
    "/aside?page=2",
    "/phones",
    "/phones/pair",
    "/access",
    "/passphrase",
    "/materials",
    "/scales",
    "/people",
    "/cards/lot/edit",
    "/cards/container/edit",
]
CARDS = "system cloth release_agent additive cup_type lot scale".split()


def test_no_office_page_runs_a_text_on_record(
    hostile_shop: HostileShop, watched: tuple[Page, Watch]
) -> None:
    page, watch = watched
    seen = ""
    strays = [f"/aside/{stray.number}" for stray in aside.all_strays(hostile_shop.store)]
    stories = [f"/cups/{code}" for code in cups(hostile_shop.store)]
    # Every text is on several of these; each of the first ones and a choice of the others.
    for path in [*PAGES, *strays[:20], *stories[: len(HARMFUL) + 1]]:
        page.goto(f"{hostile_shop.server.url}{path}")
        seen += is_inert(page)
    # The texts were there to be seen.
    for text in (*HARMFUL[:8], TOO_LONG[:60]):
        assert text[:60] in seen, text
    watch.is_clean()


@pytest.mark.parametrize(
    "path",
    [
        "/trace?code={}",
        "/plan?system={}",
        "/labels?what={0}&plan={0}&codes={0}&count={0}&preset={0}&shown=1&start={0}",
        "/?withdrawn={}",
        "/export.csv?cup={0}",
        "/export.csv?log={0}",
        "/export/people.csv?table={0}",
        "/export/people.csv?separator={0}",
        "/aside?page={}",
        "/login?then={}",
        "/planned/{}",
        "/cups/{}",
        "/C/{}",
        "/bench/words/{}.json",
        "/none/{}",
        "/materials/{}.csv",
        "/cards/{}",
        "/cards/{}/edit",
        "/cards/lot?code={0}&revision={0}&did={0}",
        "/people?did={}",
        "/people/{}/new",
        "/people/customers/rename?code={}",
    ],
)
def test_no_office_page_runs_a_text_of_its_address(
    hostile_shop: HostileShop, watched: tuple[Page, Watch], path: str
) -> None:
    page, watch = watched
    for text in HARMFUL if path == "/trace?code={}" else SHORTER:
        page.goto(hostile_shop.server.url + path.format(urllib.parse.quote(text, safe="")))
        is_inert(page)
    watch.is_clean()


FILL = """([number, text]) => {
  const form = [...document.forms].filter((one) => !one.matches('.language, .find'))[number];
  if (!form) return false;
  for (const field of form.elements) {
    if (field.matches('select')) field.add(new Option(text, text, true, true));
    else if (field.matches('[type=checkbox]')) { field.value = text; field.checked = true; }
    else if (field.matches('input:not([type=file]), textarea')) {
      field.removeAttribute('maxlength');
      if (field.name !== 'what') field.value = text;
    }
  }
  return true;
}"""
SUBMIT = """(number) => {
  const form = [...document.forms].filter((one) => !one.matches('.language, .find'))[number];
  form.noValidate = true;
  form.requestSubmit(form.querySelector('button:not([disabled])'));
}"""


@pytest.mark.parametrize("text", [HARMFUL[2], HARMFUL[11], TOO_LONG[:300]])
@pytest.mark.parametrize("path", ["/plan", "/labels?what=cups", "/labels?what=parts", "/exchange"])
def test_no_office_page_runs_what_was_typed_into_its_forms(
    hostile_shop: HostileShop, watched: tuple[Page, Watch], path: str, text: str
) -> None:
    page, watch = watched
    for number in range(9):
        page.goto(f"{hostile_shop.server.url}{path}")
        if not page.evaluate(FILL, [number, text]):
            break
        with page.expect_navigation():
            page.evaluate(SUBMIT, number)
        is_inert(page)
    assert number > 0
    watch.is_clean()


@pytest.mark.parametrize("text", [HARMFUL[2], HARMFUL[11], TOO_LONG])
def test_no_page_runs_the_name_of_a_phone_or_the_reason_of_a_decision(
    hostile_shop: HostileShop, watched: tuple[Page, Watch], text: str
) -> None:
    page, watch = watched
    page.goto(f"{hostile_shop.server.url}/phones/pair")
    page.evaluate(FILL, [0, text])
    with page.expect_navigation():
        page.evaluate(SUBMIT, 0)
    is_inert(page)
    number = next(one.number for one in aside.all_strays(hostile_shop.store) if not one.decision)
    for button in ("Leave it out", "Take it in"):
        page.goto(f"{hostile_shop.server.url}/aside/{number}")
        page.locator("#decided_by").select_option(index=1)
        page.locator("#reason").fill(text)
        asked = page.get_by_role("button", name=button)
        if asked.count():
            with page.expect_navigation():
                asked.click()
            is_inert(page)
    page.goto(f"{hostile_shop.server.url}/aside")
    is_inert(page)
    watch.is_clean()


#: As ``FILL``, but what a form carries unseen stays.
FILL_SEEN = FILL.replace("input:not([type=file])", "input:not([type=file], [type=hidden])")


@pytest.mark.parametrize("kind", [*CARDS, "container"])
def test_no_card_runs_what_is_on_record_or_was_typed(
    hostile_shop: HostileShop, watched: tuple[Page, Watch], kind: str
) -> None:
    page, watch = watched
    url = f"{hostile_shop.server.url}/cards/{kind}"
    for text in SHORTER[:2] if kind in CARDS else ():
        quoted = urllib.parse.quote(text, safe="")
        for path in (f"?code={quoted}", f"/edit?code={quoted}"):
            assert page.goto(url + path).ok  # type: ignore[union-attr]
            is_inert(page)
    for text in (HARMFUL[2], HARMFUL[11]):
        page.goto(f"{url}/edit")
        page.evaluate(FILL_SEEN, [0, text])
        with page.expect_navigation():
            page.evaluate(SUBMIT, 0)
        is_inert(page)
    watch.is_clean()


@pytest.mark.parametrize("path", ["/scales", "/people/people/new", "/people/customers/new"])
def test_no_name_and_no_check_runs_what_was_typed(
    hostile_shop: HostileShop, watched: tuple[Page, Watch], path: str
) -> None:
    page, watch = watched
    for text in (HARMFUL[2], HARMFUL[11], "<b>x</b>"):
        page.goto(f"{hostile_shop.server.url}{path}")
        page.evaluate(FILL_SEEN, [0, text])
        with page.expect_navigation():
            page.evaluate(SUBMIT, 0)
        is_inert(page)
    watch.is_clean()


def test_a_language_that_is_none_is_not_kept(
    hostile_shop: HostileShop, watched: tuple[Page, Watch]
) -> None:
    page, watch = watched
    for text in SHORTER:
        value = urllib.parse.quote(text[:200], safe="")
        page.context.add_cookies(
            [{"name": "companion_language", "value": value, "url": hostile_shop.server.url}]
        )
        page.goto(f"{hostile_shop.server.url}/")
        is_inert(page)
        assert page.locator("html").get_attribute("lang") == "en"
        form = urllib.parse.urlencode({"language": text, "return_to": text}).encode()
        status, headers = posted(hostile_shop, "/language", form)
        assert status == 422 and "Set-Cookie" not in headers
        form = urllib.parse.urlencode({"language": "en", "return_to": text}).encode()
        status, headers = posted(hostile_shop, "/language", form)
        # Led back to a path of this server, and to no other place.
        assert headers["Location"] == "/"
        assert headers.get_all("Set-Cookie")[0].startswith("companion_language=en;")
        assert len(headers.get_all("Set-Cookie")) == 1
    page.context.clear_cookies()
    watch.is_clean()


class _Stay(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_: object) -> None:
        return None


def posted(hostile_shop: HostileShop, path: str, form: bytes) -> tuple[int, Message]:
    request = urllib.request.Request(
        hostile_shop.server.url + path, form, {"Origin": hostile_shop.server.url}
    )
    try:
        with urllib.request.build_opener(_Stay).open(request, timeout=10) as answer:
            return answer.status, answer.headers
    except urllib.error.HTTPError as refusal:
        return refusal.code, refusal.headers


def test_labels_print_the_texts_and_nothing_else(hostile_shop: HostileShop, tmp_path: Path) -> None:
    bundle = json.loads(hostile_shop.server.get("/api/v1/bundle"))
    wanted = {
        "--cups": [one["code"] for one in bundle["planned_cups"] if "=" in one["step"]],
        "--parts": [one["code"] for one in bundle["parts"]],
    }
    for option, codes in wanted.items():
        file = tmp_path / f"labels{option}.pdf"
        done = hostile_shop.server.command("labels", option, *codes, "-o", str(file))
        assert done.returncode == 0, done.stderr
        body = file.read_bytes()
        for sign in (b"/JavaScript", b"/JS", b"/URI", b"/Launch", b"/OpenAction /", b"/AA"):
            assert sign not in body
    text = subprocess.run(
        ["pdftotext", "-raw", str(tmp_path / "labels--parts.pdf"), "-"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert "<script>" in text and "<img" in text


def test_tables_hold_no_cell_that_computes(hostile_shop: HostileShop) -> None:
    for table in ("cups", "readings"):
        text = hostile_shop.server.get(f"/export/people.csv?table={table}").removeprefix("\ufeff")
        cells = [cell for line in csv.reader(io.StringIO(text, newline="")) for cell in line]
        assert any("HYPERLINK" in cell for cell in cells)
        for cell in cells:
            starts = cell[:1] in ("=", "+", "@", "\t", "\r", "\n") or cell.startswith("-cmd")
            assert not starts, cell[:40]


def test_nothing_is_stored_where_it_should_not_be(hostile_shop: HostileShop) -> None:
    data = hostile_shop.server.data_dir
    kept = {path.relative_to(data).as_posix() for path in data.rglob("*") if path.is_file()}
    database = {"companion.sqlite3", "companion.sqlite3-journal"}
    assert kept - database == {"journal/requests.log", "serving.lock"}
    for line in (data / "journal" / "requests.log").read_text(encoding="utf-8").splitlines():
        assert json.loads(line)["at"]
