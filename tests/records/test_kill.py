"""Real SIGKILL between request and answer: no acknowledged row is lost, no body is half kept."""

import random
import threading
import time
import urllib.error
import urllib.request

from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.running import RunningServer
from tests.sample_rows import fresh_log_id, row

ROUNDS = 12
ROWS_A_BODY = 7


def post(url: str, log_id: str, first: int) -> bool:
    """Send one body; true if it was acknowledged."""
    rows = [row(n, log_id=log_id) for n in range(first, first + ROWS_A_BODY)]
    body = write_log(rows).encode()
    request = urllib.request.Request(
        f"{url}/api/v1/logs/{log_id}/rows",
        body,
        {
            "Content-Type": "text/csv",
            "Content-Digest": content_digest(body),
            "Row-Count": str(ROWS_A_BODY),
            "Origin": url,
        },
    )
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return bool(answer.status == 200)
    except OSError:
        return False


def test_a_killed_server_has_kept_all_it_acknowledged(own_server: RunningServer) -> None:
    dice = random.Random(7)
    log_id = fresh_log_id()
    next_row = 1
    for _ in range(ROUNDS):
        acknowledged: list[int] = []
        stop = threading.Event()

        def send(start: int, done: list[int] = acknowledged, over: threading.Event = stop) -> None:
            while not over.is_set():
                if not post(own_server.url, log_id, start):
                    return
                done.append(start)
                start += ROWS_A_BODY

        sender = threading.Thread(target=send, args=(next_row,))
        sender.start()
        time.sleep(dice.uniform(0.02, 0.25))
        own_server.kill()
        stop.set()
        sender.join()
        own_server.start()
        exported = own_server.command("export", "--log", log_id).stdout
        held = sorted(int(line.split(",")[2]) for line in exported.splitlines()[1:])
        # Whole bodies only, one after the other, and at least all that were acknowledged.
        assert held == list(range(1, len(held) + 1))
        assert len(held) % ROWS_A_BODY == 0
        if acknowledged:
            assert held[-1] >= acknowledged[-1] + ROWS_A_BODY - 1
        next_row = len(held) + 1
    assert next_row > ROWS_A_BODY
    assert '"sound": true' in own_server.command("health", "--json").stdout
