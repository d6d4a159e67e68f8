# SPDX-License-Identifier: Apache-2.0
"""Every public computation is described, in its docstring and in docs/computation.md, and names its check."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tallywright import computation

REPOSITORY = Path(__file__).parents[3]
PAGE = (REPOSITORY / "docs" / "computation.md").read_text(encoding="utf-8")
HEADINGS = ("**When.**", "**Formula and source.**", "**Assumes.**", "**Cannot say.**")


def _modules() -> dict[str, Any]:
    names = [info.name for info in pkgutil.iter_modules(computation.__path__)]
    found = {name: importlib.import_module(f"{computation.__name__}.{name}") for name in names}
    return {name: module for name, module in found.items() if hasattr(module, "__all__")}


def _functions() -> dict[str, Callable[..., Any]]:
    return {
        f"{module}.{name}": getattr(held, name)
        for module, held in _modules().items()
        for name in held.__all__
        if inspect.isfunction(getattr(held, name))
    }


@pytest.mark.parametrize("module", _modules())
def test_a_module_has_a_page_with_its_four_parts(module: str) -> None:
    section = PAGE.partition(f"\n## {module}\n")[2].partition("\n## ")[0]
    assert [heading for heading in HEADINGS if heading not in section] == []


@pytest.mark.parametrize("name", _functions())
def test_a_function_is_named_on_the_page_of_its_module(name: str) -> None:
    module, _, function = name.partition(".")
    section = PAGE.partition(f"\n## {module}\n")[2].partition("\n## ")[0]
    assert f"`{function}`" in section


@pytest.mark.parametrize("name", _functions())
def test_a_docstring_says_every_parameter_and_where_it_is_checked(name: str) -> None:
    function = _functions()[name]
    lines = inspect.getdoc(function) or ""
    for word in (*inspect.signature(function).parameters, "returns", "valid", "formula", "source", "checked"):
        assert re.search(rf"^{word} {{2,}}\S", lines, re.MULTILINE), word
    checks = re.findall(r"tests/\S+\.py", lines)
    assert checks
    for check in checks:
        assert (REPOSITORY / check).is_file(), check
