"""The same on partitions of Dask, in processes of their own: python dask_partitions.py IN."""

from __future__ import annotations

import sys
from typing import Any

import dask.dataframe as dd

import zeotrope

R407C = zeotrope.Refrigerant("R-407C")


def answered(part: Any) -> Any:
    """A partition with its dew temperatures; `R407C` travels to the workers by pickling."""
    return part.assign(
        dew_temperature_k=zeotrope.dew_temperature_K(part["refrigerant"], part["pressure_pa"]),
        glide_of_r407c_k=R407C.glide_K(part["pressure_pa"]),
    )


def run(source: str, scheduler: str = "processes") -> Any:
    """The mean dew temperature of each refrigerant, K."""
    plant = dd.read_parquet(source).repartition(npartitions=4)
    meta = plant._meta.assign(dew_temperature_k=0.0, glide_of_r407c_k=0.0)
    found = plant.map_partitions(answered, meta=meta)
    means = found.groupby("refrigerant", observed=True)["dew_temperature_k"].mean()
    return means.compute(scheduler=scheduler)


if __name__ == "__main__":
    print(run(sys.argv[1]))
