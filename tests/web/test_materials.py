"""Materials: the lists, the card pages, and the forms that make revisions."""

from dataclasses import fields, is_dataclass, replace
from typing import get_type_hints

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import catalogue, log, plans, stock
from companion.records.store import Store
from companion.trade import card_forms
from companion.trade.cards import Cloth, Container, Lot, SystemCard
from companion.trade.codes import is_label
from companion.trade.rows import Row
from companion.web.office import card_context, scale_context
from companion.web.office.card_kinds import CARD_TYPES
from tests.web.cards import SYSTEM, change, form_of, make_newest, save, value_of, words

SLOW = "RES-L+HRD-S"
AT = "2026-03-08T09:00:00.000Z"


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


def newest(store: Store, kind: type, code: str):
    return catalogue.revisions(store, kind, code)[-1].card


def drawn_from_can(store: Store, material: str, code: str) -> float:
    """What the cups of the demo drew from a can, grams; how that is folded is tested elsewhere."""
    cans = stock.by_material(store)[material].containers
    (found,) = [one.stock for one in cans if one.card.code == code]
    return round(found.drawn_g, 1)


def rest_of_can(store: Store, material: str, code: str) -> float:
    """What is left in a can, grams."""
    cans = stock.by_material(store)[material].containers
    (found,) = [one.stock for one in cans if one.card.code == code]
    return round(found.rest_g, 1)


def weighed_in_the_office(store: Store) -> list[Row]:
    own = log.all_rows(store, log_id=catalogue.identity(store).log_id)
    return [one for one in own if one.kind == "container_weighed"]


def card(client: FlaskClient, kind: str, code: str, **more: str):
    return client.get(f"/cards/{kind}", query_string={"code": code, **more})


def test_it_lists_everything_that_is_bought(client: FlaskClient) -> None:
    page = words(client.get("/materials"))
    assert f"{SLOW} revision 3 RES-L HRD-S SLOW 30 2 150 45" in page
    assert "HL-2104 revision 1 HRD-S" in page
    for title in ("Stock", "Containers", "Cloths", "Release agents", "Additives", "Cup types"):
        assert title in page


def test_it_marks_what_is_expired_quarantined_and_nearly_empty(
    client: FlaskClient, store: Store
) -> None:
    lot = newest(store, Lot, "SA-0733")
    change(client, "lot", lot, quarantined="yes", quarantine_reason="cloudy")
    # Nobody has weighed this can since it was opened.
    drawn_g = drawn_from_can(store, "SRF-A", "SA7CA4")
    content = f"{drawn_g + 7.8:.1f}"
    change(client, "container", newest(store, Container, "SA7CA4"), content_g=content, empty_g="60")
    change(client, "container", newest(store, Container, "HRD7FU"), content_g="", empty_g="")
    page = words(client.get("/materials"))
    assert "expired" in page
    assert "in quarantine: cloudy" in page
    assert f"{content} {drawn_g:.1f} 7.8 lot in quarantine · nearly empty" in page
    assert "not counted, for nobody weighed them: HRD7FU" in page


def test_a_weighed_can_shows_its_balance(client: FlaskClient, store: Store) -> None:
    drawn_g = drawn_from_can(store, "RES-L", "RES3LS")
    content, rest_g = f"{drawn_g + 529:.1f}", 505
    change(client, "container", newest(store, Container, "RES3LS"), content_g=content, empty_g="85")
    answer = client.post(
        "/cards/container/weigh?code=RES3LS", data={"gross_g": "590,0", "weighed_by": "O"}
    )
    assert answer.status_code == 303
    (written,) = weighed_in_the_office(store)
    assert (written.container, written.value, written.unit, written.lot, written.person) == (
        *("RES3LS", "590.0", "g", "RL-1180", "O"),
    )
    page = words(client.get(answer.headers["Location"]))
    # As in T9: 24 g of what was opened were neither drawn nor found again.
    share_pct = 100 * 24 / float(content)
    assert f"Drawn by cups {drawn_g:.1f} g Left now {rest_g}.0 g" in page
    assert f"Unaccounted for 24.0 g, {share_pct:.1f} % of what was opened" in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"gross_g": "80"}, "Can with lid and content, g: “80”. 85 to 350000 is allowed."),
        ({"gross_g": ""}, "Can with lid and content, g is empty."),
        ({"weighed_by": "X"}, "Who weighed it: “X” is not on the list."),
    ],
)
def test_a_wrong_weighing_is_named_and_writes_nothing(
    client: FlaskClient, store: Store, typed: dict[str, str], said: str
) -> None:
    change(client, "container", newest(store, Container, "RES3LS"), empty_g="85")
    sound = {"gross_g": "900", "weighed_by": "O"}
    answer = client.post("/cards/container/weigh?code=RES3LS", data={**sound, **typed})
    assert answer.status_code == 422
    assert said in words(answer)
    assert value_of(answer, "gross_g") == {**sound, **typed}["gross_g"]
    assert weighed_in_the_office(store) == []


@pytest.mark.parametrize(
    ("gross", "said"),
    [
        ("4616", "Content and can weigh at most 598.5 g by the card. Is it 461.6 g?"),
        ("598.6", "At most 598.5 is allowed."),
        ("598.5", ""),
    ],
)
def test_a_weighing_that_cannot_be_asks_for_the_tenth_of_it(
    client: FlaskClient, store: Store, gross: str, said: str
) -> None:
    # Content 500 g, can 70 g, a twentieth more.
    change(client, "container", newest(store, Container, "RES3LS"), content_g="500", empty_g="70")
    answer = client.post(
        "/cards/container/weigh?code=RES3LS", data={"gross_g": gross, "weighed_by": "O"}
    )
    assert answer.status_code == (422 if said else 303)
    assert said in words(answer)
    assert len(weighed_in_the_office(store)) == (0 if said else 1)


def test_a_wrong_weighing_is_struck_with_a_reason(client: FlaskClient, store: Store) -> None:
    change(client, "container", newest(store, Container, "RES3LS"), content_g="2000", empty_g="85")
    before = rest_of_can(store, "RES-L", "RES3LS")
    client.post("/cards/container/weigh?code=RES3LS", data={"gross_g": "590", "weighed_by": "O"})
    assert rest_of_can(store, "RES-L", "RES3LS") == 505
    (wrong,) = weighed_in_the_office(store)
    sent = {"weighing": wrong.event_id, "why_struck": "lid was off", "struck_by": "O"}
    for bad in ({"why_struck": " "}, {"struck_by": "X"}, {"weighing": "elsewhere"}):
        answer = client.post("/cards/container/strike?code=RES3LS", data={**sent, **bad})
        assert answer.status_code == 422 and f'href="#{next(iter(bad))}"' in answer.text
    assert client.post("/cards/container/strike?code=NONE", data=sent).status_code == 404
    # The weighing of this can is none of another one.
    assert client.post("/cards/container/strike?code=HRD4SG", data=sent).status_code == 422
    answer = client.post("/cards/container/strike?code=RES3LS", data=sent)
    assert answer.status_code == 303
    page = words(client.get(answer.headers["Location"]))
    assert "The weighing was struck." in page and "“lid was off”" in page
    assert rest_of_can(store, "RES-L", "RES3LS") == before
    # Nothing is struck twice, and the row is still there.
    assert client.post("/cards/container/strike?code=RES3LS", data=sent).status_code == 422
    assert weighed_in_the_office(store) == [wrong]


@pytest.mark.parametrize(
    ("kind", "first"),
    [
        ("system", "System,Revision,Resin,Hardener,Word"),
        ("stock", "Material,Containers,"),
        ("lot", "Lot,Revision,Material,Expires,To look at"),
        ("container", "Code,Revision,Material,Lot,Opened"),
        ("cup_type", 'Cup type,Revision,"Empty, g"'),
        ("cloth", "Cloth,Revision,Fibre"),
        ("scale", 'Scale,Revision,"Step, g"'),
        ("checks", "Checked (UTC),Scale"),
    ],
)
def test_every_list_is_a_file(client: FlaskClient, kind: str, first: str) -> None:
    answer = client.get(f"/materials/{kind}.csv")
    assert answer.text.removeprefix("\ufeff").startswith(first)
    assert answer.headers["Content-Disposition"].startswith(
        f'attachment; filename="companion-{kind}-'
    )
    assert client.get(f"/materials/{kind}.csv?separator=pipe").status_code == 422


def test_there_is_no_list_of_anything_else(client: FlaskClient) -> None:
    assert client.get("/materials/person.csv").status_code == 404
    assert client.get("/cards/job?code=14").status_code == 404
    assert client.get("/cards/system?code=NONE").status_code == 404
    assert card(client, "system", SLOW, revision="99").status_code == 404


def test_a_new_system_is_revision_one(client: FlaskClient, store: Store) -> None:
    answer = save(client, "system", SYSTEM)
    assert answer.status_code == 303
    page = words(client.get(answer.headers["Location"]))
    assert "Saved as revision 1." in page
    assert "Parts B per 100 parts A by mass 100:30 from: data sheet, table 1" in page
    assert newest(store, SystemCard, "RES-M+HRD-S").part_b_pbw == 30


def test_a_change_is_the_next_revision_and_the_old_one_stays(
    client: FlaskClient, store: Store
) -> None:
    before = newest(store, SystemCard, SLOW)
    assert change(client, "system", before, part_b_pbw="32,5").status_code == 303
    after = newest(store, SystemCard, SLOW)
    assert after == replace(before, revision=4, part_b_pbw=32.5)
    old = words(card(client, "system", SLOW, revision="3"))
    assert "Revision 3; the newest is 4." in old
    assert "100:30 " in old
    assert "100:32.5" in words(card(client, "system", SLOW))


@pytest.mark.parametrize("kind", CARD_TYPES)
def test_nothing_changed_makes_no_revision(client: FlaskClient, store: Store, kind: str) -> None:
    known = catalogue.latest(store, CARD_TYPES[kind])
    for one in known:
        answer = change(client, kind, one)
        assert "Nothing was changed" in client.get(answer.headers["Location"]).text
    assert catalogue.latest(store, CARD_TYPES[kind]) == known


def test_a_race_loses_nothing_that_was_typed(client: FlaskClient, store: Store) -> None:
    before = newest(store, SystemCard, SLOW)
    change(client, "system", before, largest_cup_g="120")
    answer = change(client, "system", before, largest_cup_g="90", mix_min="5")
    assert answer.status_code == 409
    assert "Somebody else saved revision 4 of RES-L+HRD-S meanwhile." in words(answer)
    assert value_of(answer, "largest_cup_g") == "90"
    assert newest(store, SystemCard, SLOW).largest_cup_g == 120
    again = change(client, "system", replace(before, revision=4), largest_cup_g="90", mix_min="5")
    assert again.status_code == 303
    assert newest(store, SystemCard, SLOW).revision == 5


def test_a_race_never_lifts_a_quarantine(client: FlaskClient, store: Store) -> None:
    save(client, "lot", {"code": "RL-Q", "material": "RES-L"})
    before = newest(store, Lot, "RL-Q")
    stopped = {"quarantined": "yes", "quarantine_reason": "cloudy"}
    change(client, "lot", before, **stopped, expires_on="2027-01-31")
    # Somebody who had the form open changes something else.
    answer = change(client, "lot", before, material="RES-M")
    assert answer.status_code == 409
    said = words(answer)
    assert "Material: “RES-L” in revision 2, you have “RES-M”." in said
    assert "Taken over from it: Expires on, In quarantine, Why it is in quarantine." in said
    sent = form_of(answer)
    assert sent["revision"] == "2" and sent["quarantined"] == "yes"
    assert client.post("/cards/lot/edit", data=sent).status_code == 303
    assert newest(store, Lot, "RL-Q") == Lot("RL-Q", 3, "RES-M", "2027-01-31", True, "cloudy")
    # Whoever lifted one themselves is asked to say so again.
    opened = newest(store, Lot, "RL-Q")
    change(client, "lot", opened, quarantine_reason="cloudy, lid loose")
    lifted = change(client, "lot", opened, quarantined="", quarantine_reason="")
    assert lifted.status_code == 409
    assert "In quarantine: yes in revision 4, and it stays so. You had chosen no;" in words(lifted)
    sent = form_of(lifted)
    assert (sent["quarantined"], sent["quarantine_reason"]) == ("yes", "cloudy, lid loose")
    client.post("/cards/lot/edit", data=sent)
    assert newest(store, Lot, "RL-Q").quarantined
    del sent["quarantined"]
    sent["quarantine_reason"] = ""
    assert client.post("/cards/lot/edit", data=sent).status_code == 303
    assert not newest(store, Lot, "RL-Q").quarantined


def test_a_name_that_is_taken_is_refused(client: FlaskClient) -> None:
    answer = save(client, "lot", {"code": "HL-2291", "material": "HRD-S"})
    assert answer.status_code == 409
    assert "“HL-2291” is on record already." in words(answer)


def test_it_says_what_is_wrong_with_each_field_and_keeps_what_was_typed(
    client: FlaskClient, store: Store
) -> None:
    typed = {**SYSTEM, "part_b_pbw": "3O", "source_part_b_pbw": "", "tack_opens_h": "2"}
    answer = save(client, "system", typed)
    assert answer.status_code == 422
    page = words(answer)
    assert "4 fields need another look" in page
    assert "Parts B per 100 parts A by mass: “3O” is not a figure." in page
    assert "Source: mix ratio is empty. It is needed." in page
    assert "Next layer bonds until, h is empty." in page
    assert value_of(answer, "part_b_pbw") == "3O"
    for name in ("part_b_pbw", "source_part_b_pbw", "tack_closes_h"):
        assert f'id="{name}"' in answer.text
    assert "RES-M+HRD-S" not in [one.code for one in catalogue.latest(store, SystemCard)]


def test_a_revision_nobody_made_is_refused(client: FlaskClient, store: Store) -> None:
    before = newest(store, SystemCard, SLOW)
    assert change(client, "system", replace(before, revision=9)).status_code == 404
    assert client.get("/cards/system/edit?code=NONE").status_code == 404


def test_a_ratio_that_seems_copied_wrongly_is_pointed_out(
    client: FlaskClient, store: Store
) -> None:
    before = newest(store, SystemCard, SLOW)
    volumes = {"part_b_pbv": "30", "density_a": "1.16", "density_b": "0.97"}
    change(client, "system", before, **volumes, eew="190", ahew="80")
    page = words(card(client, "system", SLOW))
    assert "are the same figure, 100:30. With these densities the volumes mean 100:25.09" in page
    # 100 x 80 / 190 = 42.11.
    assert "the equivalent weights mean 100:42.11 (−28.8 %)" in page
    assert "Ratio by chemistry 100:42.11" in page


def test_a_can_gets_its_code_and_the_material_of_its_lot(client: FlaskClient, store: Store) -> None:
    known = {can.code for can in catalogue.latest(store, Container)}
    answer = save(client, "container", {"lot": "HL-2291", "content_g": "500", "empty_g": "40"})
    assert answer.status_code == 303
    (can,) = [can for can in catalogue.latest(store, Container) if can.code not in known]
    assert is_label(can.code)
    assert (can.material, can.revision, can.content_g) == ("HRD-S", 1, 500)
    page = client.get(answer.headers["Location"])
    assert "/labels?what=containers" in page.text
    assert can.code in client.get("/labels?what=containers").text


def test_a_can_that_was_used_changes_its_lot_for_a_reason(
    client: FlaskClient, store: Store
) -> None:
    can = newest(store, Container, "RES3LS")
    save(client, "lot", {"code": "RL-NEW", "material": "RES-L"})
    refused = change(client, "container", can, lot="RL-NEW")
    assert refused.status_code == 422 and 'href="#reason"' in refused.text
    assert "cups have drawn from RES3LS. Write why its lot is another one now." in words(refused)
    assert newest(store, Container, "RES3LS") == can
    moved = change(client, "container", can, lot="RL-NEW", reason="label misread")
    assert moved.status_code == 303
    assert "label misread" in words(client.get(moved.headers["Location"]))
    assert "Under another lot now RES3LS" in words(client.get(f"/trace?code={can.lot}"))
    # The reason of the first change is none for the next; a change of something else needs none.
    again = newest(store, Container, "RES3LS")
    assert change(client, "container", again, lot=can.lot).status_code == 422
    assert change(client, "container", again, empty_g="80").status_code == 303


def test_the_material_of_a_lot_stays_while_there_are_cans_of_it(
    client: FlaskClient, store: Store
) -> None:
    lot = newest(store, Lot, newest(store, Container, "RES3LS").lot)
    refused = change(client, "lot", lot, material="HRD-S")
    assert refused.status_code == 422
    assert "Cans of this lot are on record as RES-L: " in words(refused)
    assert "RES3LS" in words(refused)
    assert newest(store, Lot, lot.code) == lot
    save(client, "lot", {"code": "FREE", "material": "RES-L"})
    assert change(client, "lot", newest(store, Lot, "FREE"), material="HRD-S").status_code == 303


def test_a_second_click_makes_no_second_can(client: FlaskClient, store: Store) -> None:
    known = len(catalogue.latest(store, Container))
    opened = form_of(client.get("/cards/container/edit"))
    sent = {**opened, "lot": "HL-2291", "content_g": "500"}
    first, second = (client.post("/cards/container/edit", data=sent) for _ in range(2))
    assert first.status_code == second.status_code == 303
    assert first.headers["Location"].replace("saved", "again") == second.headers["Location"]
    assert "no other was made" in client.get(second.headers["Location"]).text
    assert len(catalogue.latest(store, Container)) == known + 1
    # Another content, or a form opened anew, is another can.
    client.post("/cards/container/edit", data={**sent, "content_g": "400"})
    anew = {**sent, "mark": form_of(client.get("/cards/container/edit"))["mark"]}
    client.post("/cards/container/edit", data=anew)
    assert len(catalogue.latest(store, Container)) == known + 3


def test_a_form_shows_figures_as_the_language_writes_them(client: FlaskClient) -> None:
    client.post("/language", data={"language": "de", "return_to": "/"})
    page = client.get("/cards/cup_type/edit?code=C250")
    assert value_of(page, "mass_g") == "8,4"


def test_materials_of_a_lot_are_suggested(client: FlaskClient, store: Store) -> None:
    make_newest(store, Cloth("C200", 1, "carbon", 200, 1.8, 1.27))
    page = client.get("/cards/lot/edit").text
    for material in ("RES-L", "HRD-F", "C200"):
        assert f'<option value="{material}"></option>' in page


def test_every_kind_of_form_says_what_each_field_is(client: FlaskClient) -> None:
    for kind in CARD_TYPES:
        page = client.get(f"/cards/{kind}/edit").text
        for name in set(card_forms.FORMS[kind].fields) - {"reason"}:
            assert (
                f'<label for="{name}"' in page
                or f'id="{name}" name="{name}" type="checkbox"' in page
            )


def test_it_explains_every_field_a_page_is_rendered_from() -> None:
    for name, kind in {**vars(card_context), **vars(scale_context)}.items():
        if not is_dataclass(kind) or not kind.__module__.startswith("companion.web"):
            continue
        hints = get_type_hints(kind, include_extras=True)
        for field in fields(kind):
            assert hints[field.name].__metadata__[0], f"{name}.{field.name}"


def test_cups_that_wait_by_an_older_revision_are_marked(client: FlaskClient, store: Store) -> None:
    made = save(client, "system", {**SYSTEM, "code": "RES-M+HRD-S"})
    assert made.status_code == 303
    order = {"system": "RES-M+HRD-S@1", "total": "130", "count": "2"}
    planned = client.post("/plan", data=order).headers["Location"]
    mark = "planned by this revision; the newest is RES-M+HRD-S@2"
    assert mark not in client.get(planned).text
    first = newest(store, SystemCard, "RES-M+HRD-S")
    told = client.get(change(client, "system", first, part_b_pbw="33").headers["Location"])
    assert "2 cups wait that were planned by an older revision" in told.text
    for page in (planned, "/"):
        assert client.get(page).text.count(mark) == 2
    (code, _) = [cup.code for cup in plans.waiting(store) if cup.system == "RES-M+HRD-S@1"]
    client.post(f"/cups/{code}/withdraw")
    assert (
        "1 cup waits that was planned by an older revision"
        in card(client, "system", "RES-M+HRD-S").text
    )
    assert "an older revision" not in card(client, "system", "SRF-A+SRF-B").text
