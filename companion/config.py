"""Where things are and how this program was started. Read once, passed on."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import platformdirs

#: Names a browser may call this server by while it only listens on this machine.
LOOPBACK_HOSTS = ("127.0.0.1", "localhost", "[::1]")


def folder(name: str) -> Path:
    """Folder ``static`` or ``templates``: beside this package in a checkout, inside it in a wheel.

    Looked up by this file's own place, never by the working folder.
    """
    here = Path(__file__).parent
    beside = here.parent / name
    return beside if (here.parent / "pyproject.toml").is_file() and beside.is_dir() else here / name


@dataclass(frozen=True, slots=True)
class Config:
    """Settings of one run."""

    data_dir: Path
    demo: bool = False
    hosts: tuple[str, ...] = LOOPBACK_HOSTS

    @property
    def database_file(self) -> Path:
        """File the records are in."""
        return self.data_dir / "companion.sqlite3"

    @property
    def database_url(self) -> str:
        """SQLAlchemy URL of the records."""
        return f"sqlite:///{self.database_file}"

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] = os.environ) -> "Config":
        """Settings as the serving process hands them to its workers."""
        demo = environment.get("COMPANION_DEMO", "") == "1"
        given = environment.get("COMPANION_DATA", "")
        return cls(data_dir=Path(given) if given else default_data_dir(demo), demo=demo)


def default_data_dir(demo: bool) -> Path:
    """The user's own data folder; the demo workshop has one of its own."""
    base = Path(platformdirs.user_data_dir("scale-companion", appauthor=False))
    return base / ("demo" if demo else "shop")
