"""Parquet in, Parquet out, in one statement of SQL: python datafusion_parquet.py IN OUT."""

from __future__ import annotations

import sys
import time

import datafusion

import zeotrope.datafusion


def run(source: str, target: str) -> int:
    """Writes dew temperature and superheat of every row; returns the rows written."""
    ctx = datafusion.SessionContext()
    zeotrope.datafusion.register(ctx)
    ctx.register_parquet("plant", source)
    written = ctx.sql(
        f"""
        COPY (
            SELECT *,
                zeotrope_dew_temperature_k(refrigerant, pressure_pa) AS dew_temperature_k,
                temperature_k - zeotrope_dew_temperature_k(refrigerant, pressure_pa)
                    AS superheat_k,
                zeotrope_dew_temperature_k_code(refrigerant, pressure_pa) AS code
            FROM plant
        ) TO '{target}' STORED AS PARQUET
        """
    ).to_pydict()
    return int(written["count"][0])


if __name__ == "__main__":
    begun = time.perf_counter()
    rows = run(sys.argv[1], sys.argv[2])
    print(f"{rows} rows in {time.perf_counter() - begun:.2f} s")
