"""Superheat by refrigerant, with expressions of polars: python polars_expressions.py IN."""

from __future__ import annotations

import sys

import polars as pl

import zeotrope.polars as zp


def run(source: str) -> pl.DataFrame:
    """The median superheat of each refrigerant, K, and how many rows have none."""
    dew = zp.dew_temperature_K(pl.col("refrigerant"), "pressure_pa")
    superheat = pl.col("temperature_k").fill_nan(None) - dew
    return (
        pl.scan_parquet(source)
        .with_columns(superheat_k=superheat)
        .group_by("refrigerant")
        .agg(
            pl.col("superheat_k").median(),
            pl.col("superheat_k").null_count().alias("without"),
        )
        .sort(pl.col("refrigerant").cast(pl.String))
        .collect(engine="streaming")
    )


if __name__ == "__main__":
    print(run(sys.argv[1]))
