"""A phone with WebKit in it: WebKitGTK, near to the browser of an iPhone and not the same."""

import os
import shutil
from pathlib import Path
from types import TracebackType
from typing import Any

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait
from selenium.webdriver.webkitgtk.options import Options
from selenium.webdriver.webkitgtk.service import Service

LONGEST_WAIT_S = 15
#: The scripts a page runs for a test have the form of promises; a failure comes back as text.
AWAIT = """const answer = arguments[arguments.length - 1];
({0})(...[...arguments].slice(0, -1)).then(
  (value) => answer({{ value }}), (error) => answer({{ error: String(error) }}));"""
RECORDS = """(store) => new Promise((resolve, reject) => {
  const open = indexedDB.open('companion-bench');
  open.onerror = () => reject(open.error);
  open.onsuccess = () => {
    const all = open.result.transaction(store).objectStore(store).getAll();
    all.onsuccess = () => { open.result.close(); resolve(all.result); };
  };
})"""


class WebKitPhone:
    """One session: its storage is gone when it ends."""

    def __init__(self, display: str, url: str) -> None:
        driver = shutil.which("WebKitWebDriver")
        assert driver, "install webkit2gtk-driver: see the test command in README.md"
        (browser,) = Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser")
        options = Options()
        options.binary_location = str(browser)
        options.add_argument("--automation")
        service = Service(driver, env={**os.environ, "DISPLAY": display})
        self.url = url
        self.driver = webdriver.WebKitGTK(options=options, service=service)
        self.driver.set_script_timeout(LONGEST_WAIT_S)
        self._wait = WebDriverWait(
            self.driver, LONGEST_WAIT_S, 0.02, ignored_exceptions=[StaleElementReferenceException]
        )

    def __enter__(self) -> "WebKitPhone":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.driver.quit()

    def run(self, script: str, *arguments: object) -> Any:
        """Value of an asynchronous function run in the page."""
        answer = self.driver.execute_async_script(AWAIT.format(script), *arguments)
        assert "error" not in answer, answer
        return answer.get("value")

    def open(self, address: str = "") -> None:
        """Open the bench and wait until it has drawn."""
        self.driver.get(f"{self.url}/bench/{address}")
        self.shown("html[data-started]")

    def install(self) -> None:
        """Open the bench, let its worker install, let bundle and codes arrive."""
        self.open()
        self.run("() => navigator.serviceWorker.ready.then(() => true)")
        self._wait.until(lambda _: {"bundle", "codes"} <= self.facts().keys())
        self.shown(".card")

    def rows(self) -> list[dict[str, Any]]:
        """The log as it lies in the phone's storage."""
        found: list[dict[str, Any]] = self.run(RECORDS, "rows")
        return found

    def facts(self) -> dict[str, Any]:
        """The facts of the phone's storage."""
        return {one["name"]: one.get("value") for one in self.run(RECORDS, "facts")}

    def shown(self, selector: str, text: str = "") -> WebElement:
        """The first element that is there and holds this text."""

        def find(_: object) -> WebElement | None:
            found = self.driver.find_elements(By.CSS_SELECTOR, selector)
            return next((one for one in found if text in one.text), None)

        element: WebElement = self._wait.until(find, f"{selector} with {text!r}")
        return element

    def press(self, selector: str, text: str = "") -> None:
        """Click what is shown."""

        def click(_: object) -> bool:
            self.shown(selector, text).click()
            return True

        self._wait.until(click)

    def does_say(self, text: str) -> None:
        """The screen says this."""
        self.shown("body", text)

    def read(self, figure: str) -> None:
        """Type a figure on the keypad and read it; waits until the screen has gone on."""
        for character in figure:
            keys = self.driver.find_elements(By.CSS_SELECTOR, ".keys .key")
            next(key for key in keys if key.text == character).click()
        before = self.shown("#screen").text
        self.press(".read")
        self._wait.until(lambda _: self.shown("#screen").text != before)

    def send_now(self) -> None:
        """Send what is unsent, and see that nothing is left."""
        self.open("#/phone")
        self.press("#screen button", "Send now")
        self.shown("dl dd:first-of-type", "none")
