"""The checks every change must pass: style, types of Python, types of JavaScript."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOOLS = Path(sys.executable).parent


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


@pytest.mark.parametrize(
    "command",
    [("ruff", "check"), ("ruff", "format", "--check"), ("mypy",)],
    ids=["ruff check", "ruff format", "mypy"],
)
def test_python_is_clean(command: tuple[str, ...]) -> None:
    done = run(str(TOOLS / command[0]), *command[1:])
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.fixture(scope="session")
def tsc() -> Path:
    """The type checker, installed as tests/package-lock.json says."""
    found = ROOT / "tests" / "node_modules" / ".bin" / "tsc"
    if not found.exists():
        npm = shutil.which("npm", path=str(TOOLS)) or shutil.which("npm")
        assert npm, "npm comes with the test requirements: see README.md"
        done = subprocess.run(
            [npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund"],
            cwd=ROOT / "tests",
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout + done.stderr
    return found


@pytest.mark.parametrize("config", ["tsconfig.json", "tsconfig.worker.json"])
def test_javascript_is_clean(tsc: Path, config: str) -> None:
    node = shutil.which("node", path=str(TOOLS)) or shutil.which("node") or "node"
    done = run(node, str(tsc.resolve()), "-p", f"static/{config}")
    assert done.returncode == 0, done.stdout + done.stderr
