"""Refrigerant properties over numbers, NumPy arrays and Arrow columns.

    import zeotrope

    r = zeotrope.Refrigerant("R-407C")
    r.dew_temperature_K(500_000)                  # a number gives a float
    r.dew_temperature_K(pressures)                # a column gives a column of its own kind
    r.state(temperature_K=300, pressure_Pa=1e5)   # every property, by name
    zeotrope.dew_temperature_K(names, pressures)  # a refrigerant in each row

Units are SI and stand in every name: K, Pa (absolute unless `atmosphere_Pa` is given), kg/m3, J/kg,
J/(kg K). Null stays null, NaN stays NaN. A number without an answer raises a subclass of
`zeotrope.Error`; a row without one becomes null or NaN, and errors="codes" says why.

These are calculations, not a judgement of the equipment. Local codes, the manufacturer's
instructions and licensed people decide.
"""

from __future__ import annotations

import warnings as _warnings

from ._errors import (
    Code,
    CompositionError,
    Error,
    NoAnswer,
    NoReferenceState,
    NoState,
    NotConverged,
    OutOfRange,
    RefusedRefrigerant,
    UnknownRefrigerant,
)
from ._zeotrope import (
    Document,
    Refrigerant,
    __version__,
    blend,
    bubble_pressure_Pa,
    bubble_temperature_K,
    chart,
    cycle,
    density_kg_m3,
    dew_pressure_Pa,
    dew_temperature_K,
    draw,
    glide_K,
    leak,
    state,
)
from ._zeotrope import restored as _made_again

__all__ = [
    "Code",
    "CompositionError",
    "Document",
    "Error",
    "NoAnswer",
    "NoReferenceState",
    "NoState",
    "NotConverged",
    "OutOfRange",
    "Refrigerant",
    "RefusedRefrigerant",
    "UnknownRefrigerant",
    "__version__",
    "blend",
    "bubble_pressure_Pa",
    "bubble_temperature_K",
    "chart",
    "cycle",
    "density_kg_m3",
    "dew_pressure_Pa",
    "dew_temperature_K",
    "draw",
    "glide_K",
    "leak",
    "state",
]


def _restored(recipe: object, basis: str, is_exact: bool, version: str) -> Refrigerant:
    """A refrigerant as it was pickled, here."""
    if version != __version__:
        _warnings.warn(
            f"a refrigerant pickled by zeotrope {version} is answered by {__version__}: "
            "answers may differ where equations or data have changed",
            stacklevel=3,
        )
    return _made_again(recipe, basis, is_exact)
