"""SQL functions for DataFusion.

    import datafusion, zeotrope.datafusion

    ctx = datafusion.SessionContext()
    zeotrope.datafusion.register(ctx)
    ctx.sql("SELECT zeotrope_dew_temperature_k('R-407C', pressure_pa) FROM plant")

One rule makes the names: `zeotrope_`, then the function of this module in small letters:
zeotrope_bubble_pressure_pa(name, temperature_k), zeotrope_dew_pressure_pa(name, temperature_k),
zeotrope_bubble_temperature_k(name, pressure_pa), zeotrope_dew_temperature_k(name, pressure_pa),
zeotrope_glide_k(name, pressure_pa), zeotrope_density_kg_m3(name, temperature_k, pressure_pa).
Pressures are absolute. A row without an answer is null; the same name with `_code` behind it says
why, and is null where there is an answer: missing, out_of_range, unknown_refrigerant, ...
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import datafusion
import pyarrow
import pyarrow.compute

from ._functions import CODE_NAMES, QUESTIONS, question


def register(ctx: datafusion.SessionContext, *, threads: int = 1) -> None:
    """Registers the functions in a session.

    The engine has threads of its own and asks in batches, so that `threads` of one call is best
    left at 1.
    """
    for name, properties in QUESTIONS.items():
        types = [pyarrow.string_view()] + [pyarrow.float64()] * len(properties)
        lower = f"zeotrope_{name.lower()}"
        for made, kind, ending in (
            (_answers(name, threads), pyarrow.float64(), ""),
            (_codes(name, threads), pyarrow.string(), "_code"),
        ):
            # DataFusion's own rule: immutable means one answer for one question
            udf = datafusion.udf(made, types, kind, "immutable", lower + ending)
            ctx.register_udf(udf)


def _answers(name: str, threads: int) -> Callable[..., Any]:
    asked = question(name)

    def answers(names: Any, *values: Any) -> Any:
        return asked(names, *values, errors="null", threads=threads)

    return answers


def _codes(name: str, threads: int) -> Callable[..., Any]:
    asked = question(name)
    words = pyarrow.array(CODE_NAMES)

    def codes(names: Any, *values: Any) -> Any:
        found = asked(names, *values, errors="codes", threads=threads)[1]
        return words.take(found)

    return codes
