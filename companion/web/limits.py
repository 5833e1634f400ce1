"""How often something may be tried. A limit only ever says "later"; it drops nothing.

Counts live in this process and begin anew with it: there is one worker, and who can restart it
owns the machine. The asker is counted by address, so that a stranger can lock out nobody else;
only wrong pairing codes have a limit of their own for all askers together.
"""

import math
import time
from dataclasses import dataclass, field

from flask import Response
from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from .problems import problem

#: A log file that a person brings: years of one phone.
MAX_FILE_BYTES = 32 * 1024 * 1024

PAIRING_TRIES = parse("5/minute")
WRONG_PAIRINGS_OF_ALL = parse("30/hour")
#: The longer windows are the back-off: who goes on guessing waits longer.
LOGIN_TRIES = (parse("5/15minute"), parse("10/2hour"), parse("20/day"))
PHONE_REQUESTS = parse("120/minute")


@dataclass(frozen=True, slots=True)
class Limits:
    """Counters of one running application."""

    counters: MovingWindowRateLimiter = field(
        default_factory=lambda: MovingWindowRateLimiter(MemoryStorage())
    )

    def wait_s(self, *limits: RateLimitItem, of: str) -> int:
        """Seconds until the next try is taken; 0 where it may be made now."""
        full = [limit for limit in limits if not self.counters.test(limit, of)]
        ends = [self.counters.get_window_stats(limit, of).reset_time for limit in full]
        return max((math.ceil(end - time.time()) for end in ends), default=0)

    def count(self, *limits: RateLimitItem, of: str) -> None:
        """Count one try."""
        for limit in limits:
            self.counters.hit(limit, of)


def later(wait_s: int) -> Response:
    """The answer to a try that comes too soon."""
    response = problem(429, "too_often", "wait", f"{wait_s} s", "fewer tries")
    response.headers["Retry-After"] = str(wait_s)
    return response
