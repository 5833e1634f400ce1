"""A phone with Firefox in it."""

import contextlib
import os
import signal
from pathlib import Path

from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page

from tests.bench.phone import LONGEST_WAIT_MS, PHONE, Phone

#: Whatever is not this machine goes to a proxy that is not there.
NOWHERE = {
    "network.proxy.type": 1,
    "network.proxy.http": "127.0.0.1",
    "network.proxy.http_port": 9,
    "network.proxy.ssl": "127.0.0.1",
    "network.proxy.ssl_port": 9,
}


class FoxPhone(Phone):
    """The journeys' phone, in Firefox; its driver has no touch, so it is clicked."""

    def switch_on(self) -> Page:
        """Start the browser on this phone's storage."""
        self.context = self._playwright.firefox.launch_persistent_context(
            str(self.profile),
            channel="moz-firefox",
            executable_path=self._browser,
            viewport=PHONE,  # type: ignore[arg-type]
            locale="en-GB",
            firefox_user_prefs=NOWHERE,
        )
        self.context.set_default_timeout(LONGEST_WAIT_MS)
        self.page = self.context.pages[0]
        self.watch(self.page)
        return self.page

    def press(self, locator: Locator) -> None:
        """Click."""
        locator.click()

    def pull_the_battery(self) -> None:
        """SIGKILL to the browser of this profile; its other processes end with it."""
        marker = f"--profile\0{self.profile}\0".encode()
        for entry in Path("/proc").iterdir():
            with contextlib.suppress(OSError):
                if entry.name.isdigit() and marker in (entry / "cmdline").read_bytes():
                    os.kill(int(entry.name), signal.SIGKILL)
        with contextlib.suppress(PlaywrightError):
            self.switch_off()
        self.context = None
