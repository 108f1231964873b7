"""An invented plant: a file of Parquet with a refrigerant, a pressure and a temperature a row."""

from __future__ import annotations

import sys

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq


def write(path: str, rows: int = 100_000) -> None:
    """Suction lines of four systems: 4 to 16 K above the dew temperature, two bad sensors."""
    random = np.random.default_rng(5)
    names = random.choice(["R-407C", "R-134a", "R-454B", "R-290"], rows)
    pressures = random.uniform(3e5, 8e5, rows)
    temperatures = random.uniform(262.0, 300.0, rows)
    pressures[10] = 0.0
    temperatures[11] = np.nan
    table = pa.table(
        {
            "refrigerant": pa.array(names).dictionary_encode(),
            "pressure_pa": pressures,
            "temperature_k": temperatures,
        }
    )
    pq.write_table(table, path)


if __name__ == "__main__":
    write(sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 100_000)
