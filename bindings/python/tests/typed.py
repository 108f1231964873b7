"""What a type checker has to find out; it is checked, not run."""

from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl
from typing_extensions import assert_type

import zeotrope
import zeotrope.polars as zp

r = zeotrope.Refrigerant("R-407C")
pressures = np.linspace(1e5, 2e6, 5)
series = pl.Series([1e5, 2e5])

assert_type(r.dew_temperature_K(5e5), float)
assert_type(r.dew_temperature_K(500_000), float)
assert_type(r.dew_temperature_K(np.float64(5e5)), float)
assert_type(r.dew_temperature_K(pressures), npt.NDArray[np.float64])
assert_type(r.dew_temperature_K(np.arange(5), out=pressures), npt.NDArray[np.float64])
assert_type(r.dew_temperature_K(series), pl.Series)
assert_type(r.dew_temperature_K(5e5, errors="codes"), tuple[float, zeotrope.Code])
assert_type(
    r.dew_temperature_K(pressures, errors="codes"),
    tuple[npt.NDArray[np.float64], npt.NDArray[np.uint8]],
)
assert_type(r.density_kg_m3(300.0, 1e5), float)
assert_type(r.density_kg_m3(300.0, pressures), npt.NDArray[np.float64])
assert_type(r.density_kg_m3(series, 1e5), pl.Series)
assert_type(r.state(temperature_K=300.0, pressure_Pa=1e5), dict[str, Any])
assert_type(zeotrope.dew_temperature_K("R-407C", 5e5), float)
assert_type(zeotrope.dew_temperature_K(pl.Series(["R-32", None]), series), pl.Series)
assert_type(zeotrope.dew_temperature_K(["R-32"], 5e5), Any)
assert_type(zeotrope.blend({"R-32": 0.5, "R-125": 0.5}).glide_K(1e6), float)
assert_type(zp.dew_temperature_K("R-407C", pl.col("p")), pl.Expr)
zeotrope.chart("R-454B", r, units="ip").save("card.pdf")
