"""``python -m tests.lan.announce NAME PORT``: answer for a name until the input ends."""

import sys

from companion.lan import multicast


def main(name: str, port: str) -> None:
    """As the server does, but looking for new networks more often."""
    multicast.CHECK_EVERY_S = 0.2
    announcer = multicast.Announcer(name, int(port))
    announcer.start()
    print("answering", flush=True)
    sys.stdin.read()
    announcer.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
