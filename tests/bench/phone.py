"""A phone beside the scale: a real Chromium at phone size, worked by touch."""

import contextlib
import os
import signal
import time
from pathlib import Path
from types import TracebackType
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, Playwright, expect
from playwright.sync_api import Error as PlaywrightError

from tests.conftest import CHROMIUM_FLAGS

LONGEST_WAIT_MS = 15_000
PHONE = {"width": 412, "height": 915}


def phone_options(playwright: Playwright, locale: str = "en-GB") -> dict[str, Any]:
    """Options of a context: touch, phone size, language."""
    device = dict(playwright.devices["Pixel 7"])
    device.pop("default_browser_type", None)
    return {**device, "viewport": PHONE, "screen": PHONE, "locale": locale}


#: What a browser says of a server that was killed, in the middle of an answer or before.
SERVER_AWAY = ("net::ERR_CONNECTION_", "net::ERR_EMPTY_RESPONSE")


class Phone:
    """One phone with a storage of its own that outlives its browser."""

    def __init__(
        self, playwright: Playwright, browser: str, profile: Path, url: str, **options: Any
    ) -> None:
        self._playwright = playwright
        self._browser = browser
        self.profile = profile
        self.url = url
        self._flags = [*CHROMIUM_FLAGS, *options.pop("flags", ())]
        self._options = {**phone_options(playwright), **options}
        self._complaints: list[str] = []
        self._expected: set[str] = set()
        self.context: BrowserContext | None = None
        self.page: Page = self.switch_on()

    def __enter__(self) -> "Phone":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.switch_off()

    def switch_on(self) -> Page:
        """Start the browser on this phone's storage."""
        self.context = self._playwright.chromium.launch_persistent_context(
            str(self.profile), executable_path=self._browser, args=self._flags, **self._options
        )
        self.context.set_default_timeout(LONGEST_WAIT_MS)
        self.page = self.context.pages[0]
        self.watch(self.page)
        return self.page

    def watch(self, page: Page) -> None:
        """Keep what a page complains of, but for a server that is away."""

        def note(text: str) -> None:
            if not any(sign in text for sign in SERVER_AWAY):
                self._complaints.append(text)

        page.on("pageerror", lambda error: note(str(error)))
        page.on("console", lambda line: note(line.text) if line.type == "error" else None)

    @property
    def complaints(self) -> list[str]:
        """What no test has said it expects."""
        return [
            text for text in self._complaints if not any(sign in text for sign in self._expected)
        ]

    def expect_complaint(self, *signs: str) -> None:
        """A complaint that holds one of these is what the test provokes, early or late."""
        self._expected.update(signs)

    def switch_off(self) -> None:
        """Close the browser."""
        if self.context is not None:
            self.context.close()
            self.context = None

    def pull_the_battery(self) -> None:
        """SIGKILL to every process of the browser, as when the phone dies."""
        marker = f"--user-data-dir={self.profile}".encode()
        for entry in Path("/proc").iterdir():
            if not entry.name.isdigit():
                continue
            try:
                if marker in (entry / "cmdline").read_bytes():
                    os.kill(int(entry.name), signal.SIGKILL)
            except (OSError, ProcessLookupError):
                continue
        with contextlib.suppress(PlaywrightError):
            self.switch_off()
        self.context = None
        for lock in self.profile.glob("Singleton*"):
            lock.unlink()

    def open(self, address: str = "") -> "Phone":
        """Open the bench and wait until it has drawn."""
        self.page.goto(f"{self.url}/bench/{address}")
        expect(self.page.locator("html[data-started]")).to_be_attached()
        return self

    def install(self) -> "Phone":
        """Open the bench, let its worker install, let the bundle and codes arrive."""
        self.open()
        self.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")
        self.page.wait_for_function(
            """() => new Promise((resolve) => {
              const open = indexedDB.open('companion-bench');
              open.onsuccess = () => {
                const facts = open.result.transaction('facts').objectStore('facts');
                const bundle = facts.get('bundle');
                const codes = facts.get('codes');
                codes.onsuccess = () => {
                  open.result.close();
                  resolve(Boolean(bundle.result && codes.result));
                };
              };
            })"""
        )
        expect(self.page.locator(".card").first).to_be_visible()
        return self

    def rows(self) -> list[dict[str, Any]]:
        """The log as it lies in the phone's storage."""
        found: list[dict[str, Any]] = self.page.evaluate(
            """() => new Promise((resolve, reject) => {
              const open = indexedDB.open('companion-bench');
              open.onsuccess = () => {
                const all = open.result.transaction('rows').objectStore('rows').getAll();
                all.onsuccess = () => { open.result.close(); resolve(all.result); };
              };
              open.onerror = () => reject(open.error);
            })"""
        )
        return found

    def fact(self, name: str) -> Any:
        """A fact of the phone's storage."""
        return self.page.evaluate(
            """(name) => new Promise((resolve) => {
              const open = indexedDB.open('companion-bench');
              open.onsuccess = () => {
                const one = open.result.transaction('facts').objectStore('facts').get(name);
                one.onsuccess = () => { open.result.close(); resolve(one.result?.value); };
              };
            })""",
            name,
        )

    def press(self, locator: Locator) -> None:
        """Touch something; an engine whose driver cannot touch overrides this."""
        locator.tap()

    def comes_to_know(self, name: str, value: Any) -> None:
        """Wait until a fact has this value; the page writes it after it has drawn."""
        deadline = time.monotonic() + LONGEST_WAIT_MS / 1000
        while self.fact(name) != value:
            assert time.monotonic() < deadline, f"{name} is {self.fact(name)!r}"
            self.page.wait_for_timeout(50)

    def take(self, words: str) -> str:
        """Tap a cup on Next cups by what stands on its card; returns its code."""
        card = self.page.locator(".next-cups .card", has_text=words).first
        code = card.locator(".code").inner_text()
        self.press(card)
        return code

    def say_who(self, person: str = "O", scale: str = "S1") -> None:
        """Answer who weighs, and on which scale; the weighing goes on."""
        self.say_crew(person, scale)
        expect(self.page.locator(".weigh")).to_be_visible()

    def say_crew(self, person: str = "O", scale: str = "S1") -> None:
        """Answer who weighs, and on which scale."""
        for choice in (person, scale):
            named = self.page.get_by_text(choice, exact=True)
            self.press(self.page.locator(".choice label", has=named))
        self.press(self.page.locator(".crew .action"))

    def type(self, figure: str) -> None:
        """Type a figure on the keypad."""
        for character in figure:
            self.press(self.page.locator(".keys .key").get_by_text(character, exact=True))

    def read(self, figure: str) -> None:
        """Type a figure and read it; waits until the screen has gone on or has complained."""
        self.type(figure)
        before = self.page.locator("#screen").inner_text()
        self.press(self.page.locator(".read"))
        self.page.wait_for_function(
            """(before) => document.querySelector('#screen').innerText !== before
              || document.querySelector('dialog[open]')""",
            arg=before,
        )

    def read_as_it_stands(self, figure: str) -> None:
        """Read a figure that the app asks about: it does stand there."""
        self.read(figure)
        self.press(self.page.locator("dialog[open] .second"))
        expect(self.page.locator("dialog[open]")).to_have_count(0)

    def open_hardener(self, can: str) -> None:
        """Tap a can of hardener by its code."""
        self.press(self.page.locator(".cans .card", has_text=can))

    def pass_time(self, seconds: float) -> None:
        """Set the clock of the page forward; it stands still from then on, its timers go on."""
        now_ms = self.page.evaluate("Date.now()")
        self.page.clock.set_fixed_time((now_ms / 1000) + seconds)

    def mix(self, minutes: float = 3) -> None:
        """Mix a cup as its card says: scrape it half way, and until the time is over."""
        self.press(self.page.get_by_role("button", name="Start mixing"))
        self.does_say("Scrape half way, at")
        self.pass_time(minutes * 30)
        self.press(self.page.get_by_role("button", name="Scraped"))
        self.does_say("Mix on until")
        self.pass_time(minutes * 30)
        self.press(self.page.get_by_role("button", name="Mixed, no streaks"))
        expect(self.page.locator(".mix-clock")).to_have_count(0)

    def clear(self, figure: str) -> None:
        """Take a figure that was typed off the keypad again."""
        for _ in figure:
            self.page.keyboard.press("Backspace")

    def listen(self) -> None:
        """Count from now on what this page sounds and how often it shakes the phone."""
        self.page.evaluate(
            """() => { window.shaken = 0; navigator.vibrate = () => { window.shaken += 1; };
              window.tones = 0; const start = OscillatorNode.prototype.start;
              OscillatorNode.prototype.start = function (...at) {
                window.tones += 1; return start.apply(this, at); }; }"""
        )

    def answer(self, text: str, reason: str = "") -> None:
        """Answer a question or a stop."""
        dialog = self.page.locator("dialog[open]")
        if reason:
            dialog.locator("textarea").fill(reason)
        self.press(dialog.get_by_role("button", name=text))

    def send_now(self) -> None:
        """Send what is unsent, and see that nothing is left."""
        self.open("#/phone")
        # The screen is drawn anew when the turn is over.
        self.page.locator("dl").evaluate("(list) => list.classList.add('before')")
        self.press(self.page.get_by_role("button", name="Send now"))
        expect(self.page.locator("dl.before")).to_have_count(0, timeout=LONGEST_WAIT_MS)
        expect(self.page.locator("dd").first).to_have_text("none")

    def does_say(self, text: str) -> None:
        """The screen or the question on it says this."""
        expect(self.page.locator("body")).to_contain_text(text)

    def figure(self) -> str:
        """The giant figure."""
        return self.page.locator(".giant-figure").inner_text()
