"""Expressions for polars.

    import polars as pl, zeotrope.polars as zp

    frame.with_columns(
        superheat_K=pl.col("temperature_K") - zp.dew_temperature_K("R-407C", pl.col("pressure_Pa"))
    )

The functions are those of `zeotrope`, their arguments expressions or names of columns: a
refrigerant is a text or a `Refrigerant`; a column of names is an expression, `pl.col("refrigerant")`.
A row without an answer is null.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import polars

from . import _zeotrope
from ._functions import question

_Whose = str | _zeotrope.Refrigerant | polars.Expr
_Value = str | float | polars.Expr


def bubble_pressure_Pa(refrigerant: _Whose, temperature_K: _Value) -> polars.Expr:
    """Bubble pressure, Pa absolute, at a temperature in K."""
    return _asked("bubble_pressure_Pa", refrigerant, temperature_K)


def dew_pressure_Pa(refrigerant: _Whose, temperature_K: _Value) -> polars.Expr:
    """Dew pressure, Pa absolute, at a temperature in K."""
    return _asked("dew_pressure_Pa", refrigerant, temperature_K)


def bubble_temperature_K(refrigerant: _Whose, pressure_Pa: _Value) -> polars.Expr:
    """Bubble temperature, K, at a pressure in Pa absolute."""
    return _asked("bubble_temperature_K", refrigerant, pressure_Pa)


def dew_temperature_K(refrigerant: _Whose, pressure_Pa: _Value) -> polars.Expr:
    """Dew temperature, K, at a pressure in Pa absolute."""
    return _asked("dew_temperature_K", refrigerant, pressure_Pa)


def glide_K(refrigerant: _Whose, pressure_Pa: _Value) -> polars.Expr:
    """Dew minus bubble temperature, K, at a pressure in Pa absolute."""
    return _asked("glide_K", refrigerant, pressure_Pa)


def density_kg_m3(
    refrigerant: _Whose, temperature_K: _Value, pressure_Pa: _Value
) -> polars.Expr:
    """Density, kg/m3, of the one phase at a temperature in K and a pressure in Pa absolute."""
    return _asked("density_kg_m3", refrigerant, temperature_K, pressure_Pa)


def _asked(name: str, refrigerant: _Whose, *values: _Value) -> polars.Expr:
    asked = question(name)
    columns = [_expression(value) for value in values]
    if isinstance(refrigerant, polars.Expr):
        columns.insert(0, refrigerant)

        def answers(series: Sequence[polars.Series]) -> Any:
            return asked(*_of_one_length(series))

    else:

        def answers(series: Sequence[polars.Series]) -> Any:
            return asked(refrigerant, *_of_one_length(series))

    # the column of numbers comes first where polars names the answer
    found = polars.map_batches(
        columns, answers, return_dtype=polars.Float64, is_elementwise=True, returns_scalar=False
    )
    return found.alias(name)


def _expression(value: _Value) -> polars.Expr:
    if isinstance(value, str):
        return polars.col(value)
    if isinstance(value, polars.Expr):
        return value
    return polars.lit(float(value))


def _of_one_length(series: Sequence[polars.Series]) -> list[Any]:
    """A literal comes as a column of one row."""
    rows = max(len(one) for one in series)
    return [one if len(one) == rows else one.new_from_index(0, rows) for one in series]
