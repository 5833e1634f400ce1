"""The office pages: what stands on them, what they take, what they refuse and in which words."""

import io
import re
from dataclasses import fields, is_dataclass, replace
from typing import get_type_hints

import pytest
from flask import Flask
from flask.testing import FlaskClient
from flask_babel import force_locale
from sqlalchemy import update
from werkzeug.test import TestResponse

from companion.records import catalogue, labels, log, plans
from companion.records.catalogue import put
from companion.records.schema import logs
from companion.records.store import Store
from companion.trade.cards import CupType, ScaleCard, SystemCard
from companion.trade.cup.story import tell
from companion.trade.rows import COLUMNS, Row
from companion.trade.section import height_share, layers
from companion.trade.weighing import Pour
from companion.web.languages import COOKIE
from companion.web.office import context, figures, label_context, plan_context
from companion.web.office.language import same_site_path
from companion.wire.log_csv import write_log
from tests.sample_rows import CUP, LOG_ID, OTHER_LOG_ID, event_id, lines, row
from tests.web.cards import form_of, make_newest

PAGES = ("/", "/plan", "/jobs", "/labels", "/exchange", "/aside", "/phones", "/cups/NOPE")
GOOD = {"system": "RES-L+HRD-S@3", "total": "146,4", "count": "2"}


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


def judged_cup() -> list[Row]:
    """A cup whose A was read again, whose B was struck, read anew, and corrected."""
    reading = {"kind": "weighed", "typed": ""}
    return [
        row(1, kind="cup_started", component="", value="146.4", typed=""),
        row(2, component="cup", value="8.4", typed="8,4"),
        row(3, **reading, value="121.5", target="121.0"),
        row(4, **reading, value="121.4", refers_to=event_id(3)),
        row(5, kind="lot_used", component="b", value="", lot="HL-2104", container="HRD4SG"),
        row(6, kind="deviation", component="", value="", refers_to=event_id(5), note="tested"),
        row(7, **reading, component="b", value="185.5", target="155.4", shown="out"),
        row(8, kind="voided", component="", value="", refers_to=event_id(7), note="slip of a key"),
        row(9, **reading, component="b", value="158.5", target="155.4", shown="out"),
        row(10, **reading, value="168.6", target="168.7", shown="in"),
    ]


def bring(client: FlaskClient, body: bytes, name: str = "phone.csv") -> TestResponse:
    answer = client.post("/import", data={"file": (io.BytesIO(body), name)})
    # The client spools a large body into a file and leaves it open.
    answer.request.environ["wsgi.input"].close()
    return answer


def bring_rows(client: FlaskClient, rows: list[Row]) -> TestResponse:
    return bring(client, write_log(rows).encode())


def text_of(response: TestResponse) -> str:
    """Words of a page, with single spaces."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.text))


@pytest.mark.parametrize("path", PAGES)
def test_it_says_demo_in_words_on_every_page(client: FlaskClient, path: str) -> None:
    page = client.get(path)
    assert "<strong>DEMO</strong>" in page.text
    assert "<title>DEMO" in page.text


@pytest.mark.parametrize("path", PAGES)
def test_it_needs_no_script_and_no_inline_style(client: FlaskClient, path: str) -> None:
    page = client.get(path).text
    assert "<script" not in page
    assert not re.search(r"\s(style|on[a-z]+)=", page)
    assert '<a class="skip" href="#main">' in page
    assert len(re.findall(r"<h1", page)) == 1


def test_it_lists_planned_cups_with_both_targets(client: FlaskClient) -> None:
    page = text_of(client.get("/"))
    assert "Hatch cover 14 ply 1 RES-L+HRD-S@3 hardener SLOW 146.4 112.6 33.8 C250" in page


def test_it_lists_weighed_cups_with_sign_verdict_and_state(client: FlaskClient) -> None:
    page = text_of(client.get("/"))
    assert "+0.6 % hardener-rich In used, leftover weighed" in page
    assert "A weighed, waiting" in page


def test_it_says_so_when_there_is_nothing_to_list(client: FlaskClient, store: Store) -> None:
    for plan in plans.every(store):
        plans.withdraw(store, plan.code, "2026-03-07T10:00:00.000Z")
    assert "No cup waits to be weighed" in client.get("/").text


def test_it_withdraws_a_cup_and_puts_it_back(client: FlaskClient, store: Store) -> None:
    code = plans.every(store)[0].code
    answer = client.post(f"/cups/{code}/withdraw", follow_redirects=True)
    assert f"Cup {code} is off the list" in answer.text
    assert code not in [plan.code for plan in plans.every(store)]
    assert client.post(f"/cups/{code}/restore").status_code == 303
    assert code in [plan.code for plan in plans.every(store)]


@pytest.mark.parametrize("act", ["withdraw", "restore"])
def test_it_answers_404_for_a_cup_that_is_not_planned(client: FlaskClient, act: str) -> None:
    assert client.post(f"/cups/{CUP}/{act}").status_code == 404


@pytest.mark.parametrize(("path", "data"), [("/plan", GOOD), ("/import", {}), ("/language", {})])
def test_it_refuses_forms_of_another_origin(
    client: FlaskClient, path: str, data: dict[str, str]
) -> None:
    answer = client.post(path, data=data, headers={"Origin": "http://elsewhere.example"})
    assert answer.status_code == 403
    assert "another page" in answer.text


def test_it_plans_cups_and_shows_their_codes(client: FlaskClient, store: Store) -> None:
    before = {plan.code for plan in plans.every(store)}
    data = {**GOOD, "job": "14@2", "step": " ply 4 ", "cup_type": "C250"}
    answer = client.post("/plan", data=data)
    assert answer.status_code == 303
    page = client.get(answer.headers["Location"])
    new = [plan for plan in plans.every(store) if plan.code not in before]
    assert "2 cups are planned" in page.text
    assert all(plan.code in page.text for plan in new)
    assert [(p.total, p.step, p.job, p.cup_type) for p in new] == [
        ("146.4", "ply 4", "14@2", "C250")
    ] * 2
    assert "112.6 33.8" in text_of(page)


def test_a_second_click_plans_nothing_more(client: FlaskClient, store: Store) -> None:
    before = len(plans.every(store))
    mark = form_of(client.get("/plan"))["mark"]
    sent = {**GOOD, "mark": mark}
    first = client.post("/plan", data=sent)
    second = client.post("/plan", data=sent)
    assert second.headers["Location"] == first.headers["Location"] + "?again=yes"
    assert "no more were planned" in client.get(second.headers["Location"]).text
    assert len(plans.every(store)) == before + 2
    # Whoever goes back and changes something asks for other cups; a mistake keeps the mark.
    client.post("/plan", data={**sent, "total": "120"})
    assert len(plans.every(store)) == before + 4
    assert form_of(client.post("/plan", data={**sent, "count": "x"}))["mark"] == mark


def test_it_keeps_the_mass_of_one_known_cup(client: FlaskClient, store: Store) -> None:
    data = {**GOOD, "count": "1", "cup_type": "C250", "cup_mass": "8,55"}
    assert client.post("/plan", data=data).status_code == 303
    assert "8.55" in {plan.cup_mass for plan in plans.every(store)}


def test_it_warns_of_a_cup_the_scale_proves_in_part(client: FlaskClient) -> None:
    data = {**GOOD, "total": "30"}
    page = client.post("/plan", data=data, follow_redirects=True)
    assert "proves a cup of this size only in part: below 62.6 g" in page.text


def test_it_says_of_heat_and_missing_pot_life_what_a_job_says(
    client: FlaskClient, store: Store
) -> None:
    # 146.4 g of a system whose pot life was tested with 100 g.
    page = client.post("/plan", data=GOOD, follow_redirects=True)
    assert "larger than the test mass of its pot life" in page.text
    assert "No pot life on a card" not in page.text
    small = client.post("/plan", data={**GOOD, "total": "90"}, follow_redirects=True)
    assert "larger than the test mass" not in small.text
    put(store, SystemCard("NO-POT", 1, "RES-N", "HRD-N", "SLOW", 30, 2, 150), "2026-03-07")
    for asked in (
        client.get("/plan?system=NO-POT@1"),
        client.post("/plan", data={**GOOD, "system": "NO-POT@1", "count": "0"}),
        client.post("/plan", data={**GOOD, "system": "NO-POT@1"}, follow_redirects=True),
    ):
        assert "No pot life on a card" in asked.text


def test_a_scale_too_weak_for_cup_and_content_is_named(client: FlaskClient, store: Store) -> None:
    make_newest(
        store,
        *(replace(card, capacity_g=150.0) for card in catalogue.latest(store, ScaleCard)),
        CupType("C250", 1, 8.4, 250, "PP"),
    )
    answer = client.post("/plan", data={**GOOD, "cup_type": "C250"})
    assert answer.status_code == 422
    assert "146.4 g is more than scale S1 carries beside the empty cup" in answer.text
    assert "At most 141.6 g is allowed" in answer.text
    assert (
        client.post("/plan", data={**GOOD, "cup_type": "C250", "total": "141.6"}).status_code == 303
    )


BAD_ORDERS = [
    ("system", "", "none is chosen"),
    ("system", "RES-L+HRD-S@2", "not on the list"),
    ("system", "<b>x</b>", "&lt;b&gt;x&lt;/b&gt;"),
    ("total", "", "Total is empty"),
    ("total", "abc", "not a figure"),
    ("total", "1.131,5", "two marks"),
    ("total", "-5", "below zero"),
    ("total", "0", "More than 0 g"),
    ("total", "0,0", "More than 0 g"),
    ("total", "12345678", "too many digits"),
    ("total", "1e2", "not a figure"),
    ("total", "180", "largest cup of RES-L+HRD-S@3, 150 g"),
    ("total", "20", "scale S1 can judge is 20.9 g"),
    ("count", "", "whole number from 1 to 24"),
    ("count", "0", "whole number from 1 to 24"),
    ("count", "25", "whole number from 1 to 24"),
    ("count", "2.5", "whole number from 1 to 24"),
    ("job", "99@1", "not on the list"),
    ("step", "x" * 81, "longer than 80 characters"),
    ("step", "a\x00b", "cannot be printed"),
    ("step", "ply\u202e4", "cannot be printed"),
    ("cup_type", "C999", "not on the list"),
    ("cup_mass", "8.4", "one cup only"),
    ("cup_mass", "-1", "below zero"),
    ("cup_mass", "8.4.1", "two marks"),
]


@pytest.mark.parametrize(("field", "value", "words"), BAD_ORDERS)
def test_it_refuses_a_bad_order_field_by_field(
    client: FlaskClient, store: Store, field: str, value: str, words: str
) -> None:
    before = len(plans.every(store))
    answer = client.post("/plan", data={**GOOD, field: value})
    assert answer.status_code == 422
    assert words in answer.text
    assert f'<a href="#{field}">' in answer.text
    assert f'aria-describedby="{field}-error' in answer.text
    assert answer.text.count('aria-invalid="true"') == 1
    assert len(plans.every(store)) == before


@pytest.mark.parametrize(
    ("cup_type", "cup_mass", "words"),
    [
        ("C250", "84", "type C250, which weighs 8.4 g"),
        ("", "501", "too heavy"),
        ("C250", "0", "0 g"),
    ],
)
def test_it_refuses_a_mass_no_empty_cup_has(
    client: FlaskClient, cup_type: str, cup_mass: str, words: str
) -> None:
    data = {**GOOD, "count": "1", "cup_type": cup_type, "cup_mass": cup_mass}
    answer = client.post("/plan", data=data)
    assert answer.status_code == 422
    assert words in answer.text


def test_it_keeps_what_was_typed_beside_the_error(client: FlaskClient) -> None:
    answer = client.post("/plan", data={**GOOD, "total": '1.131,5"'})
    assert 'value="1.131,5&#34;"' in answer.text
    assert '<option value="RES-L+HRD-S@3" selected>' in answer.text


def test_it_shows_what_each_scale_can_judge(client: FlaskClient, store: Store) -> None:
    put(store, ScaleCard("S3", 1, "0.01", 200), "2026-03-07T10:00:00.000Z")
    page = text_of(client.get("/plan"))
    assert "S1 from the display step only 0.1 g 20.9 g 62.6 g" in page
    assert "S2 from the display step only 1 g 208.6 g 625.8 g" in page
    assert "S3 from the display step only 0.01 g 2.1 g 6.3 g" in page


def test_it_tells_the_story_of_a_cup(client: FlaskClient) -> None:
    bring_rows(client, judged_cup())
    page = text_of(client.get(f"/cups/{CUP}"))
    assert "Weighed, begun Mar 7, 2026, 11:01:00, UTC+01:00" in page
    assert "+0.5 % ± 0.3 %, hardener-rich" in page
    assert "typed “8,4”" in page
    assert "read again, in place of row 3" in page
    assert "replaced by row 4" in page
    assert "struck by row 8: slip of a key" in page
    assert "part B (hardener) HL-2104 used all the same: “tested” HRD4SG" in page
    assert "10 part A read 168.7 168.6 g In 11:10:00" in page


def test_it_strikes_voided_rows_but_shows_them(client: FlaskClient) -> None:
    bring_rows(client, judged_cup())
    assert "<s>185.5 g</s>" in client.get(f"/cups/{CUP}").text


def test_it_draws_hatch_and_letters_never_colour_alone(client: FlaskClient) -> None:
    bring_rows(client, judged_cup())
    page = client.get(f"/cups/{CUP}").text
    assert 'fill="url(#hatch)"' in page
    assert re.search(r'class="letter letter-resin"[^>]*>A<', page)
    assert re.search(r'class="letter letter-hardener"[^>]*>B<', page)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({2: {"kind": "note", "value": ""}}, "was not read before the first part"),
        ({9: {"value": "100.0"}}, "lower than the one before"),
        (
            {4: {"kind": "note", "value": ""}, 8: {"refers_to": event_id(3)}},
            "a reading between two parts is missing",
        ),
        (
            {
                2: {"kind": "note", "value": ""},
                3: {"kind": "scale_restarted", "component": "", "value": "50.0"},
            },
            "the mass of the empty cup is not on record",
        ),
        (
            {5: {"kind": "pour_opened"}, 6: {"kind": "pour_opened", "refers_to": ""}},
            "opened for this cup more than once",
        ),
        ({6: {"kind": "poured", "refers_to": ""}}, "changed after the cup was poured"),
        ({1: {"kind": "note", "value": ""}}, "has not arrived yet"),
        ({10: {"scale": "S2@1"}}, "names another scale"),
        ({1: {"scale": "S9@1"}}, "readings are kept, not judged"),
    ],
)
def test_it_says_in_words_what_to_look_at(
    client: FlaskClient, changes: dict[int, dict[str, str]], words: str
) -> None:
    rows = [
        replace(one, **changes.get(one.seq, {}))  # type: ignore[arg-type]
        for one in judged_cup()
    ]
    bring_rows(client, rows)
    assert words in text_of(client.get(f"/cups/{CUP}"))


def test_it_flags_a_double_fill(client: FlaskClient) -> None:
    other = row(4, log_id=OTHER_LOG_ID, event_id=event_id(99), after=event_id(3), value="122.0")
    bring_rows(client, [*judged_cup()[:3], row(4, component="b", value="155.0"), other])
    assert "two phones filled this cup" in client.get(f"/cups/{CUP}").text
    assert "look at its story" in client.get("/").text


def test_it_keeps_two_cups_under_one_label_apart(client: FlaskClient) -> None:
    second = row(11, kind="cup_started", component="", value="60.0", after="", step="ply 2")
    bring_rows(client, [*judged_cup(), second])
    page = client.get(f"/cups/{CUP}").text
    assert "This label was used for 2 cups" in page
    assert page.count('<section class="story"') == 2


def test_it_shows_the_plan_of_a_cup_nobody_weighed(client: FlaskClient, store: Store) -> None:
    code = plans.every(store)[0].code
    page = client.get(f"/cups/{code}").text
    assert "Not weighed yet" in page
    assert "Export this cup" not in page


def test_it_forgives_how_a_code_is_typed(client: FlaskClient, store: Store) -> None:
    code = plans.every(store)[0].code
    answer = client.get(f"/cups/{code.lower()}")
    assert answer.headers["Location"] == f"/cups/{code}"


@pytest.mark.parametrize("code", [CUP, "7K2QMT", "%3Cscript%3E", "x" * 300])
def test_it_says_in_words_that_a_cup_is_not_known(client: FlaskClient, code: str) -> None:
    answer = client.get(f"/cups/{code}")
    assert answer.status_code == 404
    assert "Not known here" in answer.text
    assert "<script" not in answer.text


def test_it_shows_strange_text_inert(client: FlaskClient) -> None:
    rows = [replace(one, step="<script>alert(1)</script>") for one in judged_cup()]
    bring_rows(client, rows)
    for path in ("/", f"/cups/{CUP}"):
        assert "&lt;script&gt;" in client.get(path).text
        assert "<script" not in client.get(path).text


def test_it_exports_a_cup_byte_for_byte(client: FlaskClient) -> None:
    rows = [
        row(1, kind="cup_started", component="", value="146.4", typed=""),
        row(2, component="cup", value="8.4", typed="8,4", note='said "fine"'),
    ]
    bring_rows(client, rows)
    answer = client.get(f"/export.csv?cup={CUP}")
    assert answer.headers["Content-Type"] == "text/csv; charset=utf-8; header=present"
    assert re.fullmatch(
        rf'attachment; filename="companion-log-{CUP}-\d{{4}}-\d\d-\d\d\.csv"',
        answer.headers["Content-Disposition"],
    )
    assert answer.data.decode() == (
        "format,log_id,seq,event_id,after,recorded_at,utc_offset_min,kind,cup,job,step,component,"
        "lot,container,value,unit,typed,target,shown,scale,person,refers_to,note,system,"
        "app_version\r\n"
        "1,11111111-2222-4333-8444-555555555555,1,019abcde-0000-7000-8000-000000000001,,"
        "2026-03-07T10:01:00.000Z,60,cup_started,7K2QMS,14@2,ply 1,,,,146.4,g,,,,S1@1,O,,,"
        "RES-L+HRD-S@3,0.1.0+test\r\n"
        "1,11111111-2222-4333-8444-555555555555,2,019abcde-0000-7000-8000-000000000002,"
        "019abcde-0000-7000-8000-000000000001,2026-03-07T10:02:00.000Z,60,weighed,7K2QMS,14@2,"
        'ply 1,cup,,,8.4,g,"8,4",,,S1@1,O,,"said ""fine""",RES-L+HRD-S@3,0.1.0+test\r\n'
    )


def test_it_exports_the_whole_log_and_one_phone(client: FlaskClient, store: Store) -> None:
    bring_rows(client, judged_cup())
    assert client.get("/export.csv").text == log.export(store)
    assert client.get(f"/export.csv?log={LOG_ID}").text == write_log(judged_cup())


@pytest.mark.parametrize(
    ("query", "status", "words"),
    [
        ("cup=abc", 422, "six characters"),
        ("log=abc", 422, "lower-case UUID"),
        (f"cup={CUP}", 404, "Not known here"),
        (f"log={OTHER_LOG_ID}", 404, "Not known here"),
    ],
)
def test_it_refuses_to_export_what_is_not_there(
    client: FlaskClient, query: str, status: int, words: str
) -> None:
    answer = client.get(f"/export.csv?{query}")
    assert answer.status_code == status
    assert words in answer.text


def test_it_imports_a_file_and_twice_is_harmless(client: FlaskClient, store: Store) -> None:
    assert "stored 10 already here 0" in text_of(bring_rows(client, judged_cup()))
    assert "stored 0 already here 10" in text_of(bring_rows(client, judged_cup()))
    assert len(log.all_rows(store, log_id=LOG_ID)) == 10


def test_it_imports_what_it_exports_and_forgives_a_mark_of_order(client: FlaskClient) -> None:
    everything = client.get("/export.csv").data
    answer = bring(client, b"\xef\xbb\xbf" + everything)
    assert answer.status_code == 200
    assert "stored 0 already here" in text_of(answer)


def test_it_lists_the_rows_it_sets_aside(client: FlaskClient) -> None:
    bring_rows(client, judged_cup())
    strange = [replace(judged_cup()[1], value="8.9"), row(11, value="heavy")]
    page = text_of(bring_rows(client, strange))
    assert "in conflict 1 quarantined 1" in page
    assert "2 2 in conflict a row with this id is stored with other content" in page
    assert "3 11 quarantined the column “value” does not hold what it should" in page
    aside = client.get("/aside").text
    assert "2 rows wait for a decision" in aside
    assert "heavy" in aside


HEADER = ",".join(COLUMNS)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "The file is empty"),
        (b"\xff\xfe", "not UTF-8"),
        (b"a\x00b", "NUL"),
        (b"hello\r\n", "is missing. The columns of a log are: format,"),
        (f"{HEADER},seq\r\n".encode(), "stands in the header twice"),
        (f'{HEADER}\r\n"open\r\n'.encode(), "not CSV"),
        (b"\r\n", "A log starts with a row of column names"),
    ],
)
def test_it_says_what_is_wrong_with_a_file(
    client: FlaskClient, store: Store, body: bytes, words: str
) -> None:
    before = log.export(store)
    answer = bring(client, body)
    assert answer.status_code == 422
    assert words in answer.text
    assert "Nothing was stored." in answer.text
    assert 'aria-describedby="file-error"' in answer.text
    assert log.export(store) == before


def test_it_asks_for_a_file_where_none_was_chosen(client: FlaskClient) -> None:
    answer = client.post("/import", data={})
    assert answer.status_code == 422
    assert "No file is chosen" in answer.text


def test_it_takes_a_file_larger_than_a_phone_may_send(client: FlaskClient) -> None:
    rows = [row(number, note="x" * 900) for number in range(1, 1401)]
    assert "stored 1400" in text_of(bring_rows(client, rows))


def test_it_leads_from_the_import_address_to_its_form(client: FlaskClient) -> None:
    assert client.get("/import").headers["Location"] == "/exchange"


@pytest.mark.parametrize(
    ("offset_ms", "words"),
    [
        (None, "not measured"),
        (119_000, "right to within 2 min"),
        (247_000, "4 min slow"),
        (-247_000, "4 min fast"),
    ],
)
def test_it_says_how_far_a_clock_is_off(
    client: FlaskClient, store: Store, offset_ms: int | None, words: str
) -> None:
    bring_rows(client, judged_cup())
    with store.write() as connection:
        connection.execute(
            update(logs).where(logs.c.log_id == LOG_ID).values(clock_offset_ms=offset_ms)
        )
    assert words in text_of(client.get("/phones"))


def test_it_names_the_rows_a_phone_still_holds(client: FlaskClient) -> None:
    kept = [one for one in judged_cup() if one.seq not in (2, 5, 6)]
    bring_rows(client, kept)
    assert "7 not said 2, 5 to 6" in text_of(client.get("/phones"))


def test_it_remembers_the_language_for_a_year(client: FlaskClient) -> None:
    answer = client.post("/language", data={"language": "en", "return_to": "/cups/7K2QMS?a=1"})
    assert answer.status_code == 303
    assert answer.headers["Location"] == "/cups/7K2QMS?a=1"
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith(f"{COOKIE}=en;")
    for part in ("HttpOnly", "SameSite=Lax", "Max-Age=31536000", "Path=/"):
        assert part in cookie


def test_it_refuses_a_language_it_does_not_speak(client: FlaskClient) -> None:
    answer = client.post("/language", data={"language": "xx"})
    assert answer.status_code == 422
    assert "language" in answer.text


@pytest.mark.parametrize(
    "wanted",
    [
        "",
        "https://elsewhere.example/",
        "//elsewhere.example",
        "/\\elsewhere.example",
        "\\\\elsewhere.example",
        "/\t/elsewhere.example",
        "/\r\nSet-Cookie: a=b",
        "javascript:alert(1)",
        "cups",
    ],
)
def test_it_goes_back_to_its_own_pages_only(wanted: str) -> None:
    assert same_site_path(wanted) == "/"


@pytest.mark.parametrize(
    ("path", "status", "words"),
    [("/nowhere", 404, "There is no such page"), ("/import?x=1", 303, "Redirecting")],
)
def test_it_answers_with_a_page_in_words(
    client: FlaskClient, path: str, status: int, words: str
) -> None:
    answer = client.get(path)
    assert answer.status_code == status
    assert words in answer.text


@pytest.mark.parametrize(
    ("text", "locale", "shown"),
    [
        ("146.40", "en", "146.40"),
        ("146.40", "de", "146,40"),
        ("-2.6", "de", "\u22122,6"),
        ("1131.5", "de", "1131,5"),
        ("007", "en", "7"),
        ("not a figure", "de", "not a figure"),
    ],
)
def test_it_keeps_the_digits_and_changes_the_sign(
    app: Flask, text: str, locale: str, shown: str
) -> None:
    with app.test_request_context(), force_locale(locale):
        assert figures.figure(text) == shown


@pytest.mark.parametrize(
    ("error", "shown"), [(0.09, "+9.0"), (-0.0256, "\u22122.6"), (0.0004, "0.0"), (-0.0004, "0.0")]
)
def test_it_shows_the_sign_of_a_ratio_error(app: Flask, error: float, shown: str) -> None:
    with app.test_request_context():
        assert figures.signed_percent(error) == shown


@pytest.mark.parametrize(
    ("offset_min", "shown"),
    [("60", "11:14:00, UTC+01:00"), ("-210", "06:44:00, UTC-03:30"), ("", "10:14:00, UTC")],
)
def test_it_shows_the_time_of_the_bench(app: Flask, offset_min: str, shown: str) -> None:
    with app.test_request_context():
        assert figures.moment("2026-03-07T10:14:00.000Z", offset_min).endswith(shown)


def test_it_shows_a_time_that_is_none_as_it_is(app: Flask) -> None:
    with app.test_request_context():
        assert figures.moment("yesterday") == "yesterday"


def test_it_explains_every_field_a_page_is_rendered_from() -> None:
    kinds = {**vars(context), **vars(label_context), **vars(plan_context)}
    for name, kind in kinds.items():
        if not is_dataclass(kind) or not kind.__module__.startswith("companion.web"):
            continue
        hints = get_type_hints(kind, include_extras=True)
        for field in fields(kind):
            assert hints[field.name].__metadata__[0], f"{name}.{field.name}"


def test_it_draws_a_full_cup_at_its_mark_and_merges_like_pours() -> None:
    assert height_share(1.0) == pytest.approx(0.92)
    assert height_share(0.0) == 0.0
    assert height_share(5.0) == height_share(1.06)
    drawn = layers([Pour("a", 50, True), Pour("a", 30), Pour("b", 24)], 150)
    assert [(layer.component, layer.net_g) for layer in drawn] == [("a", 80), ("b", 24)]


def test_it_tells_which_row_did_what_to_which() -> None:
    told = tell(judged_cup())
    assert [(line.number, line.replaced_by) for line in told if line.replaced_by] == [(3, 4)]
    assert [(line.number, line.struck_by) for line in told if line.struck_by] == [(7, 8)]
    assert [line.number for line in told if line.correction] == [10]


def test_it_gives_every_planned_cup_a_code_of_its_own(store: Store) -> None:
    cup = plans.PlannedCup("", "", "", "RES-L+HRD-S@3", "100")
    made = plans.order(store, cup, 24, "2026-03-07T10:00:00.000Z")
    assert len({one.code for one in made}) == 24
    assert not {one.code for one in made} & set(labels.take(store, 100, "", "2026"))


def test_it_keeps_rows_as_they_came_off_the_wire(store: Store, client: FlaskClient) -> None:
    bring_rows(client, judged_cup())
    assert log.all_rows(store, log_id=LOG_ID) == [line.row for line in lines(judged_cup())]
