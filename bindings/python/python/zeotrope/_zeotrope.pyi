"""What `zeotrope._zeotrope`, written in Rust, holds."""

from collections.abc import Sequence
from os import PathLike
from typing import Any, Literal, Protocol, TypeAlias, TypeVar, final, overload, type_check_only

import numpy as np
import numpy.typing as npt

from ._errors import Code

__all__ = [
    "Document", "Refrigerant", "__version__", "blend", "bubble_pressure_Pa",
    "bubble_temperature_K", "chart", "cycle", "density_kg_m3", "dew_pressure_Pa",
    "dew_temperature_K", "draw", "glide_K", "leak", "restored", "state",
]

__version__: str

_Number: TypeAlias = float | np.floating[Any] | np.integer[Any]
_Floats: TypeAlias = npt.NDArray[np.float64]
_Codes: TypeAlias = npt.NDArray[np.uint8]
_Array: TypeAlias = npt.NDArray[np.floating[Any]] | npt.NDArray[np.integer[Any]] | Sequence[float]
_Basis: TypeAlias = Literal["mass", "mole"]
_Phase: TypeAlias = Literal["liquid", "vapor", "supercritical", "two-phase"]
_ReferenceState: TypeAlias = Literal[
    "usual", "iir", "ashrae", "boiling-point", "ideal-gas", "published"
]
_Errors: TypeAlias = Literal["null", "raise"] | None
_Units: TypeAlias = Literal["si", "ip"]
_Form: TypeAlias = Literal["wall", "folded", "wallet", "strip", "sheet"]
_Picture: TypeAlias = Literal["curves", "lens", "coil", "dome"]
_Kind: TypeAlias = Literal["inlet-mean", "mean", "dew", "bubble"]

@type_check_only
class _ArrowArray(Protocol):
    def __arrow_c_array__(self, requested_schema: Any = None) -> tuple[object, object]: ...

@type_check_only
class _ArrowStream(Protocol):
    def __arrow_c_stream__(self, requested_schema: Any = None) -> object: ...

_Arrow: TypeAlias = _ArrowArray | _ArrowStream
# A column of Arrow, polars or pandas: the answer is one of the same class.
_Column = TypeVar("_Column", bound=_Arrow)
_Names: TypeAlias = Sequence[str | None] | npt.NDArray[Any] | _Arrow

@final
class Refrigerant:
    def __new__(cls, name: str, *, basis: _Basis = "mass") -> Refrigerant: ...
    @property
    def designation(self) -> str: ...
    @property
    def composition(self) -> list[dict[str, Any]]: ...
    @property
    def model(self) -> dict[str, Any]: ...
    @property
    def molar_mass_kg_mol(self) -> float: ...
    @property
    def is_pure(self) -> bool: ...
    @property
    def safety_class(self) -> str | None: ...
    @property
    def limits(self) -> dict[str, float]: ...
    @property
    def critical_point(self) -> dict[str, float] | None: ...
    def exact(self) -> Refrigerant: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None) -> float: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[float, Code]: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None) -> _Column: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[_Column, Any]: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None) -> _Floats: ...
    @overload
    def bubble_pressure_Pa(
        self, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[_Floats, _Codes]: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None) -> float: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[float, Code]: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None) -> _Column: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[_Column, Any]: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None) -> _Floats: ...
    @overload
    def dew_pressure_Pa(
        self, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"]) -> tuple[_Floats, _Codes]: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
    @overload
    def bubble_temperature_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
    @overload
    def dew_temperature_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
    @overload
    def glide_K(
        self, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Array, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Array, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
    @overload
    def density_kg_m3(
        self, temperature_K: _Number, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
        errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
    @overload
    def state(
        self, *, temperature_K: _Number | None = None, pressure_Pa: _Number | None = None,
        density_kg_m3: _Number | None = None, enthalpy_J_kg: _Number | None = None, entropy_J_kg_K: _Number | None = None,
        quality: _Number | None = None, phase: _Phase | None = None,
        reference_state: _ReferenceState = "usual", errors: _Errors = None, threads: int | None = None,
        atmosphere_Pa: float | None = None,
    ) -> dict[str, Any]: ...
    @overload
    def state(
        self, *, temperature_K: Any = None, pressure_Pa: Any = None,
        density_kg_m3: Any = None, enthalpy_J_kg: Any = None, entropy_J_kg_K: Any = None,
        quality: Any = None, phase: _Phase | None = None,
        reference_state: _ReferenceState = "usual", errors: Literal["null", "raise", "codes"] | None = None, threads: int | None = None,
        atmosphere_Pa: float | None = None,
    ) -> Any: ...
    def saturation(
        self, *, temperature_K: _Number | None = None, pressure_Pa: _Number | None = None,
        atmosphere_Pa: float | None = None, reference_state: _ReferenceState = "usual",
    ) -> dict[str, Any]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[Any, ...]: ...

@final
class Document:
    def markdown(self) -> str: ...
    def csv(self) -> str: ...
    def html(self) -> str: ...
    def svg(self) -> str: ...
    @property
    def data(self) -> Any: ...
    def save(self, path: str | PathLike[str], *, overwrite: bool = False) -> None: ...
    def _repr_html_(self) -> str: ...
    def _repr_svg_(self) -> str | None: ...
    def _repr_markdown_(self) -> str: ...

def blend(parts: dict[str, float], *, basis: _Basis = "mass") -> Refrigerant: ...
def restored(recipe: object, basis: str, is_exact: bool) -> Refrigerant: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> float: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[float, Code]: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> _Column: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Column, Any]: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None) -> _Floats: ...
@overload
def bubble_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Floats, _Codes]: ...
@overload
def bubble_pressure_Pa(
    refrigerant: _Names, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> _Column: ...
@overload
def bubble_pressure_Pa(
    refrigerant: _Names, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Column, Any]: ...
@overload
def bubble_pressure_Pa(
    refrigerant: _Names, temperature_K: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None) -> Any: ...
@overload
def bubble_pressure_Pa(
    refrigerant: _Names, temperature_K: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[Any, Any]: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> float: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[float, Code]: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> _Column: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Column, Any]: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None) -> _Floats: ...
@overload
def dew_pressure_Pa(
    refrigerant: str | Refrigerant, temperature_K: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Floats, _Codes]: ...
@overload
def dew_pressure_Pa(
    refrigerant: _Names, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None) -> _Column: ...
@overload
def dew_pressure_Pa(
    refrigerant: _Names, temperature_K: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[_Column, Any]: ...
@overload
def dew_pressure_Pa(
    refrigerant: _Names, temperature_K: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None) -> Any: ...
@overload
def dew_pressure_Pa(
    refrigerant: _Names, temperature_K: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"]) -> tuple[Any, Any]: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
@overload
def bubble_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
@overload
def bubble_temperature_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def bubble_temperature_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def bubble_temperature_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> Any: ...
@overload
def bubble_temperature_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[Any, Any]: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
@overload
def dew_temperature_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
@overload
def dew_temperature_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def dew_temperature_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def dew_temperature_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> Any: ...
@overload
def dew_temperature_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[Any, Any]: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
@overload
def glide_K(
    refrigerant: str | Refrigerant, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
@overload
def glide_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def glide_K(
    refrigerant: _Names, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def glide_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> Any: ...
@overload
def glide_K(
    refrigerant: _Names, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[Any, Any]: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> float: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[float, Code]: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Column, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Array, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Array, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Floats: ...
@overload
def density_kg_m3(
    refrigerant: str | Refrigerant, temperature_K: _Number, pressure_Pa: _Array, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Floats, _Codes]: ...
@overload
def density_kg_m3(
    refrigerant: _Names, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> _Column: ...
@overload
def density_kg_m3(
    refrigerant: _Names, temperature_K: _Column, pressure_Pa: _Column | _Number, *, out: None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[_Column, Any]: ...
@overload
def density_kg_m3(
    refrigerant: _Names, temperature_K: _Array | _Number, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: _Errors = None, atmosphere_Pa: float | None = None) -> Any: ...
@overload
def density_kg_m3(
    refrigerant: _Names, temperature_K: _Array | _Number, pressure_Pa: _Array | _Number, *, out: _Floats | None = None, threads: int | None = None,
    errors: Literal["codes"], atmosphere_Pa: float | None = None) -> tuple[Any, Any]: ...
@overload
def state(
    refrigerant: str | Refrigerant, *, temperature_K: _Number | None = None, pressure_Pa: _Number | None = None,
    density_kg_m3: _Number | None = None, enthalpy_J_kg: _Number | None = None, entropy_J_kg_K: _Number | None = None,
    quality: _Number | None = None, phase: _Phase | None = None,
    reference_state: _ReferenceState = "usual", errors: _Errors = None, threads: int | None = None,
    atmosphere_Pa: float | None = None,
) -> dict[str, Any]: ...
@overload
def state(
    refrigerant: str | Refrigerant | _Names, *, temperature_K: Any = None, pressure_Pa: Any = None,
    density_kg_m3: Any = None, enthalpy_J_kg: Any = None, entropy_J_kg_K: Any = None,
    quality: Any = None, phase: _Phase | None = None,
    reference_state: _ReferenceState = "usual", errors: Literal["null", "raise", "codes"] | None = None, threads: int | None = None,
    atmosphere_Pa: float | None = None,
) -> Any: ...
def chart(
    *refrigerants: str | Refrigerant, from_K: float | None = None, to_K: float | None = None,
    step_K: float | None = None, temperatures_K: Sequence[float] | None = None,
    pressures_Pa: Sequence[float] | None = None, units: _Units = "si",
    temperature_unit: str | None = None, pressure_unit: str | None = None,
    atmosphere_Pa: float | None = None, form: _Form | None = None, paper: str = "a4",
    landscape: bool = False, picture: _Picture | None = None, tolerance: bool = False,
    title: str | None = None, notes: Sequence[str] | None = None,
) -> Document: ...
def cycle(
    *refrigerants: str | Refrigerant, evaporating_K: float | Sequence[float] | None = None,
    evaporating_Pa: float | None = None, condensing_K: float | Sequence[float] | None = None,
    condensing_Pa: float | None = None, evaporating_at: _Kind = "inlet-mean",
    condensing_at: _Kind = "mean", gas_cooler_outlet_K: float | None = None,
    gas_cooler_Pa: float | None = None, superheat_K: float | None = None,
    suction_K: float | None = None, useful_superheat_K: float | None = None,
    subcooling_K: float | None = None, liquid_K: float | None = None, efficiency: float = 1.0,
    suction_line_effectiveness: float | None = None, evaporator_drop_Pa: float = 0.0,
    condenser_drop_Pa: float = 0.0, stages: int = 1, economizer_approach_K: float | None = None,
    intermediate_Pa: float | None = None, capacity_W: float | None = None, explain: bool = False,
    picture: Literal["ph", "ts"] | None = None, units: _Units = "si",
    temperature_unit: str | None = None, pressure_unit: str | None = None,
    atmosphere_Pa: float | None = None,
) -> Document: ...
def leak(
    refrigerant: str | Refrigerant, temperature_K: float, *,
    phase: Literal["vapor", "liquid"] = "vapor", lost: Sequence[float] | None = None,
    filled: float | None = None, refill: str | Refrigerant | None = None, rounds: int = 5,
    mass_kg: float | None = None, suction_pressure_Pa: float | None = None,
    liquid_pressure_Pa: float | None = None, tolerance: bool = False, units: _Units = "si",
    temperature_unit: str | None = None, pressure_unit: str | None = None,
    atmosphere_Pa: float | None = None,
) -> Document: ...
def draw(
    refrigerant: str | Refrigerant, temperature_K: float, *,
    phase: Literal["vapor", "liquid"] = "liquid", lost: Sequence[float] | None = None,
    filled: float | None = None, refill: str | Refrigerant | None = None, rounds: int = 5,
    mass_kg: float | None = None, suction_pressure_Pa: float | None = None,
    liquid_pressure_Pa: float | None = None, tolerance: bool = False, units: _Units = "si",
    temperature_unit: str | None = None, pressure_unit: str | None = None,
    atmosphere_Pa: float | None = None,
) -> Document: ...
