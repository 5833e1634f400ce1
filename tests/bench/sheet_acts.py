"""What a person does at the lay-up sheets of the phone."""

from datetime import UTC, datetime, time, timedelta

from tests.bench.phone import Phone

#: After everything else that was ever measured in this shop.
DAY = datetime.now(UTC).date() + timedelta(days=1)


def set_clock(phone: Phone, at: str, days: int = 0) -> None:
    """The phone's clock stands at this time of day; timers go on."""
    moment = datetime.combine(DAY + timedelta(days=days), time.fromisoformat(at), UTC)
    phone.page.clock.set_fixed_time(moment)


def write(phone: Phone, *rows: dict[str, str]) -> None:
    """Rows of no cup, as the app writes them."""
    phone.page.evaluate(
        "async (rows) => (await import('/static/bench/record.js')).writeOfShop(rows)", list(rows)
    )


def measure(phone: Phone, air: str, humidity: str, mould: str) -> None:
    """Air and mould."""
    read = (("air", air, "Cel"), ("humidity", humidity, "%"), ("mould", mould, "Cel"))
    write(phone, *({"kind": "climate", "component": c, "value": v, "unit": u} for c, v, u in read))


def tap(phone: Phone, name: str) -> None:
    """Tap a button or link of the step; say who stands here where that is asked."""
    before = phone.page.locator("#screen").inner_text()
    phone.page.locator(".actions").get_by_text(name, exact=False).first.tap()
    # Either the screen goes on, or a question stands before it.
    phone.page.wait_for_function(
        """(before) => document.querySelector('#screen').innerText !== before
          || document.querySelector('dialog[open]')""",
        arg=before,
    )
    if phone.page.locator(".screen.crew").count():
        phone.say_crew()
        tap(phone, name)
