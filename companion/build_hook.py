"""Build step of the wheel: compile the translations."""

from io import BytesIO
from pathlib import Path
from typing import Any

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class TranslationsHook(BuildHookInterface[Any]):
    """Turn every catalogue into the form the program reads."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile before the files are collected."""
        for source in Path(self.root, "companion", "locale").glob("*/LC_MESSAGES/*.po"):
            with source.open("rb") as file:
                catalogue = read_po(file, locale=source.parent.parent.name)
            compiled = BytesIO()
            write_mo(compiled, catalogue)
            source.with_suffix(".mo").write_bytes(compiled.getvalue())
