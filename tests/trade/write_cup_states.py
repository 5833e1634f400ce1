"""Write the diagram of cup states: ``python -m tests.trade.write_cup_states``."""

import re
from pathlib import Path

from companion.trade.cup.progress import diagram

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"
DIAGRAM = re.compile(r"(?<=```mermaid\n).*?(?=\n```)", re.S)


def main() -> None:
    """Put the table's diagram in the place of the one that stands there."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    DEVELOPERS.write_text(DIAGRAM.sub(lambda _: diagram(), text, count=1), encoding="utf-8")


if __name__ == "__main__":
    main()
