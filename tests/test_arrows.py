"""The imports point down: every import in the package is read against the table in DEVELOPERS.md."""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "foundation"


def allowed_arrows() -> dict[str, set[str]]:
    table = (ROOT / "DEVELOPERS.md").read_text().split("| part | may import |")[1].split("\n\n")[0]
    rows = re.findall(r"^\| ([a-z]+) \| ?([a-z, ]*) ?\|$", table, re.MULTILINE)
    return {part: {name.strip() for name in names.split(",") if name.strip()} for part, names in rows}


def imports(path: Path) -> set[str]:
    """Parts of the package that one file imports, anywhere in it."""
    parts = set()
    package = (*path.relative_to(ROOT).parent.parts,)
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join((*base, node.module) if node.module else base)
            names = [f"{module}.{alias.name}" for alias in node.names]
        else:
            continue
        parts |= {name.split(".")[1] for name in names if re.match(r"foundation\.[a-z]", name)}
    return parts - {"__version__"}


def test_imports_point_down() -> None:
    arrows = allowed_arrows()
    wrong = []
    for path in sorted(PACKAGE.rglob("*.py")):
        part = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if part in ("__init__", "__main__"):
            continue
        assert part in arrows, f"{part} has no row in DEVELOPERS.md"
        wrong += [f"{path.name}: {part} → {other}" for other in imports(path) - {part} - arrows[part]]
    assert not wrong


def test_the_table_has_no_circle() -> None:
    arrows = allowed_arrows()
    assert len(arrows) > 10
    done: set[str] = set()
    while len(done) < len(arrows):
        ready = {part for part, below in arrows.items() if part not in done and below <= done}
        assert ready, f"a circle among {sorted(set(arrows) - done)}"
        done |= ready
