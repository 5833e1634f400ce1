"""The house: arrows point one way, and each room keeps to its work."""

import ast
import re
import sys
from pathlib import Path

import pytest

from companion.trade.rows import COLUMNS

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "companion"
STATIC = ROOT / "static"

#: Room -> rooms it may import from.
ARROWS = {
    "trade": {"trade"},
    "errors": {"trade"},
    "config": {"errors"},
    "certificate": set(),
    "translations": {"trade"},
    "wire": {"wire", "errors", "trade"},
    "records": {"records", "wire", "errors", "trade"},
    "demo": {"demo", "records", "wire", "trade"},
    "paper": {"paper", "wire", "errors", "trade"},
    "web": {
        "web",
        "paper",
        "records",
        "wire",
        "config",
        "translations",
        "certificate",
        "errors",
        "trade",
    },
    "app": {"web", "records", "demo", "config"},
    "lan": {
        "lan",
        "app",
        "web",
        "paper",
        "records",
        "config",
        "translations",
        "certificate",
        "errors",
        "trade",
    },
    "cli": {
        "cli",
        "lan",
        "app",
        "paper",
        "records",
        "wire",
        "config",
        "translations",
        "certificate",
        "errors",
        "trade",
    },
    "__main__": {"cli"},
    "build_hook": set(),
}
#: Library -> rooms that may import it.
OWNERS = {
    "flask": {"web", "app", "lan"},
    "flask_babel": {"web"},
    "werkzeug": {"web"},
    "sqlalchemy": {"records", "web", "cli"},
    "alembic": {"records"},
    "cryptography": {"lan", "certificate"},
    "argon2": {"records"},
    "limits": {"web"},
    "granian": {"cli", "lan"},
    "zeroconf": {"lan"},
    "ifaddr": {"lan"},
    "waitress": {"lan"},
    "fpdf": {"paper"},
    "qrcode": {"paper"},
    "uharfbuzz": {"paper"},
}
#: What the web and the commands may know of the database: that it failed.
ERRORS_ONLY = {"web", "cli"}

MODULES = sorted(path for path in PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    return parts[0].removesuffix(".py") if parts[0] != "__init__.py" else "__init__"


def imports(path: Path) -> list[tuple[str, str]]:
    """(absolute module, imported name) of every import of a module."""
    package = path.relative_to(ROOT).with_suffix("").parts[:-1]
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, "") for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*base, *([node.module] if node.module else [])])
            found += [(module, alias.name) for alias in node.names]
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_arrows_point_downward_only(path: Path) -> None:
    room = room_of(path)
    if room == "__init__":
        assert imports(path) == []
        return
    for module, name in imports(path):
        parts = module.split(".")
        if parts[0] != "companion":
            continue
        target = parts[1] if len(parts) > 1 else name
        assert target in ARROWS[room] or target == "__version__", f"{room} -> {target}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_libraries_stay_in_their_rooms(path: Path) -> None:
    room = room_of(path)
    for module, _ in imports(path):
        library = module.split(".")[0]
        assert room in OWNERS.get(library, {room}), f"{room} imports {library}"
        if library == "sqlalchemy" and room in ERRORS_ONLY:
            assert module == "sqlalchemy.exc"


IMPURE = {"os", "logging", "random", "secrets", "time", "socket", "io", "pathlib", "subprocess"}


@pytest.mark.parametrize(
    "path", sorted((PACKAGE / "trade").rglob("*.py")), ids=lambda path: path.name
)
def test_the_trade_is_pure(path: Path) -> None:
    for module, _ in imports(path):
        library = module.split(".")[0]
        assert library == "companion" or library in sys.stdlib_module_names
        assert library not in IMPURE
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"\b(open|print)\(|\.now\(|\.utcnow\(|\.today\(", text)


UNITS = "g g2 g_cm3 ml min s ms c k pct phr pbw utc".split()
#: Plain words that are ratios, counts, texts or values of their own kind.
PHYSICAL = re.compile(r"(mass|total|display|weight|time|volume|temperature|density)(_[a-z0-9]+)*$")


def _names(tree: ast.AST) -> list[str]:
    names = []
    for node in ast.walk(tree):
        if isinstance(node, ast.arg) and _is_float(node.annotation):
            names.append(node.arg)
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names += [node.target.id] if _is_float(node.annotation) else []
    return names


def _is_float(annotation: ast.expr | None) -> bool:
    return annotation is not None and "float" in ast.unparse(annotation)


@pytest.mark.parametrize(
    "path", sorted((PACKAGE / "trade").rglob("*.py")), ids=lambda path: path.name
)
def test_every_physical_name_ends_in_its_unit(path: Path) -> None:
    for name in _names(ast.parse(path.read_text(encoding="utf-8"))):
        if PHYSICAL.match(name.removeprefix("planned_").removeprefix("mixed_")):
            assert any(name.endswith(f"_{unit}") for unit in UNITS), name


def test_two_applications_live_side_by_side(tmp_path: Path) -> None:
    from companion.app import create_app
    from companion.config import Config

    apps = [
        create_app(Config(tmp_path / name, demo=demo)) for name, demo in (("a", True), ("b", False))
    ]
    answers = [
        app.test_client().get("/api/v1/bundle", base_url="http://127.0.0.1").get_json()
        for app in apps
    ]
    assert [answer["demo"] for answer in answers] == [True, False]
    assert answers[1]["systems"] == []
    assert answers[0]["server_id"] != answers[1]["server_id"]
    for app in apps:
        app.extensions["companion"].store.close()


SCRIPTS = sorted(
    path for path in STATIC.rglob("*.js") if "vendor" not in path.relative_to(STATIC).parts
)
IMPURE_JS = (
    r"\bdocument\b|\bwindow\.[a-zA-Z]+\(|\bfetch\b|indexedDB|Date\.now|Math\.random|new Date\(\)"
)
JS_OWNERS = {
    r"\bindexedDB\b": {"bench/log/store.js", "bench/rescue.js"},
    r"\bfetch\(": {"bench/network.js", "worker.js", "trust/check.js"},
    r"\bXMLHttpRequest\b|\bsendBeacon\b": set(),
    r"\blocalStorage\b|\bsessionStorage\b": set(),
    r"\binnerHTML\b|\bouterHTML\b|\binsertAdjacentHTML\b|\bdocument\.write\b|\beval\(": set(),
    r"export default|\bwindow\.[a-zA-Z_]+ = ": set(),
}


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: str(path.relative_to(STATIC)))
def test_scripts_keep_to_their_work(path: Path) -> None:
    name = path.relative_to(STATIC).as_posix()
    text = path.read_text(encoding="utf-8")
    for pattern, owners in JS_OWNERS.items():
        assert name in owners or not re.search(pattern, text), pattern
    if name.startswith("bench/trade/"):
        assert not re.search(IMPURE_JS, text)


def js_imports(path: Path) -> list[Path]:
    found = re.findall(r"(?:from|import)\s+'(\.[^']+)'", path.read_text(encoding="utf-8"))
    return [(path.parent / address).resolve() for address in found]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: str(path.relative_to(STATIC)))
def test_every_import_of_a_script_is_a_file_the_worker_keeps(path: Path) -> None:
    from companion.web.assembly import file_list

    kept = set(file_list())
    for target in js_imports(path):
        assert target.is_file(), target
        assert f"/static/{target.relative_to(STATIC).as_posix()}" in kept


def test_light_and_dark_name_the_same_roles() -> None:
    text = (STATIC / "style" / "tokens.css").read_text(encoding="utf-8")
    light, dark = re.findall(r":root \{(.*?)\}", text, flags=re.S)[:2]
    colours = re.compile(r"--([a-z-]+): #")
    assert set(colours.findall(light)) == set(colours.findall(dark))


@pytest.mark.parametrize("path", sorted(STATIC.rglob("*.css")), ids=lambda path: path.name)
def test_no_raw_colour_outside_the_tokens(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    if path.name != "tokens.css":
        assert not re.search(r"#[0-9a-fA-F]{3,8}\b(?![^{]*\{)|rgba?\(|hsla?\(", text)
    assert "!important" not in text


def test_the_rescue_page_writes_the_columns_of_the_log() -> None:
    text = (STATIC / "bench" / "rescue.js").read_text(encoding="utf-8")
    assert ",".join(COLUMNS) in text
