"""What the documents say is what the program does."""

import re
from pathlib import Path

import pytest
from flask import Flask

from companion.cli import parser
from companion.trade.rows import COLUMNS, KINDS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, paragraph = README.split("\n\n")[:2]
    assert title == "# Scale Companion"
    assert paragraph.startswith("Scale Companion helps") and "\n" not in paragraph


def test_every_column_and_kind_of_the_log_is_documented() -> None:
    assert f"`{', '.join(COLUMNS)}`" in DEVELOPERS
    for kind in KINDS:
        assert re.search(rf"\b{kind}\b", DEVELOPERS)


def test_every_route_is_documented(app: Flask) -> None:
    for rule in app.url_map.iter_rules():
        if rule.endpoint != "static":
            assert re.search(rf"[`, (]{re.escape(rule.rule)}[`,]", DEVELOPERS) or (
                f" {rule.rule}`" in DEVELOPERS
            ), rule.rule


def test_every_command_and_option_is_documented(capsys: pytest.CaptureFixture[str]) -> None:
    actions = [action for action in parser()._actions if action.choices]
    for name, command in dict(actions[0].choices or {}).items():
        assert f"companion {name}" in README
        for option in command._actions:
            long = [text for text in option.option_strings if text.startswith("--")]
            assert not long or long[0] in ("--help", "--output") or long[0] in README, long


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_link_to_a_file_leads_to_one(document: str) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", document):
        if "://" not in target:
            assert (ROOT / target).is_file(), target


def test_the_tree_holds_only_what_it_should() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"}
    allowed |= {"companion", "static", "templates", "tests"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - {"build", "dist"} <= allowed
