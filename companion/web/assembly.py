"""Putting the phone app together: its files, and a version that changes with any byte of them."""

import hashlib
import mimetypes
from pathlib import Path

from .. import __version__
from ..config import folder
from .headers import CONTENT_SECURITY_POLICY
from .languages import TRANSLATIONS, languages

#: What the bench needs of the static folder.
_PARTS = ("bench", "style", "vendor")
#: Style of the office lies beside that of the bench.
_OFFICE = "office"
_KINDS = (".js", ".css", ".woff2", ".png", ".svg", ".wasm")
#: Pages and words that are cached beside the static files.
SHELL, RESCUE, MANIFEST = "/bench/", "/rescue", "/manifest.webmanifest"

# The registry of some systems maps these to something else.
mimetypes.add_type("text/javascript", ".js")
mimetypes.add_type("application/wasm", ".wasm")
mimetypes.add_type("font/woff2", ".woff2")


def words_url(language: str) -> str:
    """Where the words of one language are served."""
    return f"/bench/words/{language}.json"


def bench_files() -> list[Path]:
    """Static files of the bench, sorted."""
    static = folder("static")
    found = (path for part in _PARTS for path in (static / part).rglob("*"))
    return sorted(
        path
        for path in found
        if path.is_file() and path.suffix in _KINDS and not path.name.startswith(_OFFICE)
    )


def file_list() -> list[str]:
    """Every address the worker keeps."""
    static = folder("static")
    files = [f"/static/{path.relative_to(static).as_posix()}" for path in bench_files()]
    return [SHELL, RESCUE, MANIFEST, *(words_url(code) for code in languages()), *files]


def app_version(demo: bool, trust_address: str = "") -> str:
    """Version of the app: the package's, and a hash of all that the worker keeps."""
    said = " ".join(
        [str(demo), CONTENT_SECURITY_POLICY, *([trust_address] if trust_address else [])]
    )
    sha256 = hashlib.sha256(said.encode())
    static, templates = folder("static"), folder("templates")
    sources = [
        *bench_files(),
        static / "worker.js",
        *sorted((templates / "bench").rglob("*.*")),
        *sorted(TRANSLATIONS.rglob("*.po")),
    ]
    for path in sources:
        sha256.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return f"{__version__}+{sha256.hexdigest()[:8]}"
