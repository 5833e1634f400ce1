"""Renewing the certificate while it is served: looked at every hour, no stop, no new trust."""

import sys
import threading
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from ..certificate import certificate_until
from ..errors import CompanionError
from .authority import Authority
from .leaf import CERTIFICATE, fits_its_key, renew_if_due

LOOK_EVERY_S = 3600.0


def now_utc() -> datetime:
    """The computer's clock."""
    return datetime.now(UTC)


class Renewal:
    """Keeps the leaf of one name fresh.

    :param clock: tells the time.
    :param every_s: seconds between two looks.
    """

    def __init__(
        self,
        folder: Path,
        authority: Authority,
        name: str,
        *,
        clock: Callable[[], datetime] = now_utc,
        every_s: float = LOOK_EVERY_S,
    ) -> None:
        self._folder = folder
        self._authority = authority
        self._name = name
        self._clock = clock
        self._every_s = every_s
        self._one_at_a_time = threading.Lock()
        self._stopped = threading.Event()

    def prepare(self) -> None:
        """Have a certificate to serve.

        :raises CompanionError: there is none that still counts, and none can be made.
        """
        if not self._can_still_be_served():
            renew_if_due(self._folder, self._authority, self._name, self._clock())
        self.renew()

    def renew(self) -> bool:
        """Renew where it is due; what cannot be renewed now is said, and served on.

        :return: whether there is a new certificate.
        """
        try:
            with self._one_at_a_time:
                return renew_if_due(self._folder, self._authority, self._name, self._clock())
        except (CompanionError, OSError) as error:
            until = certificate_until(self._folder / CERTIFICATE)
            end = f"it ends on {until:%Y-%m-%d}" if until else "there is none to serve"
            print(
                f"companion serve: the certificate cannot be renewed ({error}); {end}",
                file=sys.stderr,
                flush=True,
            )
            return False

    def watch(self, reload: Callable[[], None]) -> None:
        """Look from now on in a thread; call ``reload`` after each renewal."""
        threading.Thread(target=self._look, args=(reload,), name="renewal", daemon=True).start()

    def close(self) -> None:
        """Look no more."""
        self._stopped.set()

    def _look(self, reload: Callable[[], None]) -> None:
        while not self._stopped.wait(self._every_s):
            if self.renew():
                reload()

    def _can_still_be_served(self) -> bool:
        until = certificate_until(self._folder / CERTIFICATE)
        fits = fits_its_key(self._folder, self._authority, self._name)
        return fits and until is not None and until > self._clock()
