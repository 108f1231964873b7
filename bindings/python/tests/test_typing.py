"""Stubs say what the module does, and the examples pass a strict check."""

import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import zeotrope

FOLDER = Path(__file__).parent.parent


def run(*command: str) -> None:
    found = subprocess.run(
        [sys.executable, "-m", *command], capture_output=True, text=True, cwd=FOLDER
    )
    assert found.returncode == 0, found.stdout + found.stderr


def test_stubs_agree_with_the_module() -> None:
    run("mypy.stubtest", "--mypy-config-file", "pyproject.toml", "zeotrope")


def test_examples_pass_a_strict_check() -> None:
    run("mypy", "--strict", "python/zeotrope", "tests/typed.py", "examples")


@pytest.mark.parametrize("name", [name for name in zeotrope.__all__ if name != "__version__"])
def test_everything_has_a_text(name: str) -> None:
    text = inspect.getdoc(getattr(zeotrope, name))
    assert text and len(text) > 20
    if callable(getattr(zeotrope, name)) and not inspect.isclass(getattr(zeotrope, name)):
        assert "Raises" in text
        assert inspect.signature(getattr(zeotrope, name)).parameters


@pytest.mark.parametrize("name", [name for name in dir(zeotrope.Refrigerant) if name[0] != "_"])
def test_every_method_has_a_text(name: str) -> None:
    assert inspect.getdoc(getattr(zeotrope.Refrigerant, name))
