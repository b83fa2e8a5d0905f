"""What is computed is also used: a capability reached by tests alone is none.

Every public function and class of the rooms that compute must be named somewhere in the program
outside its own definition. An import is no use, nor is a list of what a package offers. There are
no exceptions.
"""

import ast
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ROOMS = frozenset({"trade", "analysis", "figures", "reasoning", "custody"})
Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


@dataclass
class Read:
    """What one module says: names it imports, what it defines, and what each part of it names.

    A name before a dot stands with what follows it: ("curing", "tempered").
    """

    imported: dict[str, str] = field(default_factory=dict)
    defined: list[str] = field(default_factory=list)
    named: dict[str, set[tuple[str, str]]] = field(default_factory=lambda: defaultdict(set))

    @classmethod
    def of(cls, tree: ast.Module) -> "Read":
        read = cls()
        for statement in tree.body:
            part = statement.name if isinstance(statement, Definition) else ""
            read.defined += [part] if part and not part.startswith("_") else []
            nodes = list(ast.walk(statement))
            own = {node.arg for node in nodes if isinstance(node, ast.arg)}
            own |= {n.id for n in nodes if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)}
            for node in nodes:
                if not (part and isinstance(node, ast.Name) and node.id in own):
                    read._take(node, part)
        return read

    def _take(self, node: ast.AST, part: str) -> None:
        if isinstance(node, ast.Name):
            self.named[part].add((node.id, ""))
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            self.named[part].add((node.value.id, node.attr))
        elif isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                self.imported[one.asname or one.name] = f"{node.module}.{one.name}"


def unused(top: Path, rooms: frozenset[str]) -> list[str]:
    """Return the whole names of public functions and classes that nothing else names."""
    read = {
        ".".join(path.relative_to(top.parent).with_suffix("").parts).removesuffix(
            ".__init__"
        ): Read.of(ast.parse(path.read_text("utf-8")))
        for path in sorted(top.rglob("*.py"))
    }

    def whole(name: str) -> str:
        """Follow a name through what packages offer to where it is defined."""
        module, _, last = name.rpartition(".")
        further = read[module].imported.get(last, name) if module in read else name
        return name if further == name else whole(further)

    used: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for module, said in read.items():
        for part, names in said.named.items():
            for name, after in names:
                meant = whole(said.imported.get(name, f"{module}.{name}"))
                used[whole(f"{meant}.{after}") if after else meant].add((module, part))
    return [
        f"{module}.{name}"
        for module, said in read.items()
        if rooms.intersection(module.split(".")[1:2])
        for name in said.defined
        if used[f"{module}.{name}"] <= {(module, name)}
    ]


def test_every_public_function_and_class_of_the_rooms_that_compute_is_used() -> None:
    left = unused(ROOT / "workbench", ROOMS)
    assert not left, (
        f"nothing in the program uses {', '.join(left)}: show it where a person looks for it (a "
        "calculator, a page, a table of the report), or remove it with its tests"
    )


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("def lone() -> int:\n    return 1\n", ["lone"]),
        ("def calls_itself(n: int) -> int:\n    return calls_itself(n - 1)\n", ["calls_itself"]),
        ("def shared() -> int:\n    return 1\n", []),
        ("def by_module() -> int:\n    return 1\n", []),
        ("def inside() -> int:\n    return 1\n\n\nTABLE = {1: inside}\n", []),
        ("def word():\n    return 1\n\n\nshared = [word for word in 'ab']\n", []),
        ("def word():\n    return 1\n\n\ndef shared(word):\n    return word\n", ["word"]),
        ("class Alone:\n    pass\n", ["Alone"]),
        ("def _own() -> int:\n    return 1\n", []),
    ],
)
def test_a_function_that_only_an_import_names_is_found(
    text: str, left: list[str], tmp_path: Path
) -> None:
    house = {
        "trade/rules.py": text,
        "trade/__init__.py": 'from house.trade.rules import shared\n\n__all__ = ["shared"]\n',
        "desk/page.py": "from house.trade import lone, rules, shared\n\n"
        "print(shared(), rules.by_module())\n",
    }
    for name, said in house.items():
        path = tmp_path / "house" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(said, "utf-8")
    assert unused(tmp_path / "house", ROOMS) == [f"house.trade.rules.{name}" for name in left]
