"""The wheel: complete, and running from an empty folder."""

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.running import RunningServer

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout."""
    target = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(target), str(ROOT)],
        check=True,
        capture_output=True,
    )
    (built,) = target.glob("*.whl")
    return built


def test_it_holds_all_the_program_needs(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("static", "templates"):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file():
                assert f"companion/{path.relative_to(ROOT).as_posix()}" in names
    assert "companion/demo/workshop.json" in names
    for name in ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf", "LICENSE"):
        assert f"companion/paper/fonts/{name}" in names
    assert "companion/locale/de/LC_MESSAGES/messages.mo" in names
    assert any(name.startswith("companion/records/migrations/versions/0001") for name in names)
    assert any(name.endswith("licenses/LICENSE") for name in names)
    assert not [name for name in names if name.startswith(("tests/", "static/", "templates/"))]


def test_it_runs_from_an_empty_folder(
    wheel: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    venv = tmp_path / "venv"
    subprocess.run([sys.executable, "-m", "venv", str(venv)], check=True)
    python = venv / "bin" / "python"
    install = [str(python), "-m", "pip", "install", "--quiet", str(wheel)]
    subprocess.run(install, check=True, capture_output=True)
    empty = tmp_path / "empty"
    empty.mkdir()
    monkeypatch.chdir(empty)
    server = RunningServer(tmp_path / "data", python=str(python)).start()
    try:
        assert "DEMO" in server.get("/bench/")
        assert "RES-L+HRD-S" in server.get("/api/v1/bundle")
        assert "FILES" in server.get("/worker.js")
        assert "--paper" in server.get("/static/style/tokens.css")
        assert json.loads(server.get("/bench/words/de.json"))["Next cups"] == "Nächste Becher"
    finally:
        server.stop()
    mixed = subprocess.run(
        [str(venv / "bin" / "companion"), "mix", "--ratio", "100:30", "--total", "146.4"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "part A 112.6 g" in mixed.stdout
    assert list(empty.iterdir()) == []
