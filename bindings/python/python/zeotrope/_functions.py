"""The questions with one number as their answer, for engines that want them by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from . import _zeotrope
from ._errors import Code

# The properties that each question takes, next to the refrigerant.
QUESTIONS: dict[str, tuple[str, ...]] = {
    "bubble_pressure_Pa": ("temperature_K",),
    "dew_pressure_Pa": ("temperature_K",),
    "bubble_temperature_K": ("pressure_Pa",),
    "dew_temperature_K": ("pressure_Pa",),
    "glide_K": ("pressure_Pa",),
    "density_kg_m3": ("temperature_K", "pressure_Pa"),
}

# What a row's code is called in a table; none for a row that is answered.
CODE_NAMES: list[str | None] = [
    None if code is Code.ANSWERED else code.name.lower() for code in Code
]


def question(name: str) -> Callable[..., Any]:
    """The function of the module that asks it."""
    found: Callable[..., Any] = getattr(_zeotrope, name)
    return found
