"""One process serves a folder."""

import subprocess
import sys
from pathlib import Path

import pytest

from companion.errors import Taken
from companion.records import lock

HOLDER = (
    "import sys, pathlib\n"
    "from companion.records import lock\n"
    "with lock.hold(pathlib.Path(sys.argv[1])):\n"
    "    print('held', flush=True)\n"
    "    sys.stdin.read()\n"
)


def test_a_folder_is_held_by_one(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    assert not lock.is_held(folder)
    with lock.hold(folder):
        assert lock.is_held(folder)
        with pytest.raises(Taken, match="taken by a server that is running"), lock.hold(folder):
            pass
        assert lock.is_held(folder)
    assert not lock.is_held(folder)


def test_the_lock_of_a_killed_process_is_gone(tmp_path: Path) -> None:
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(tmp_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert holder.stdout is not None and holder.stdin is not None
    assert holder.stdout.readline() == "held\n"
    assert lock.is_held(tmp_path)
    holder.kill()
    holder.wait()
    assert not lock.is_held(tmp_path)
    with lock.hold(tmp_path):
        pass
    holder.stdout.close()
    holder.stdin.close()
