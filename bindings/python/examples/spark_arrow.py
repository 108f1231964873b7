"""On Spark, batches of Arrow: python spark_arrow.py IN OUT.

Needs pyspark and Java: `apt-get install openjdk-17-jre-headless; pip install pyspark` (850 MB), and
the wheel on every worker.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import pyarrow as pa

import zeotrope


def answered(batches: Iterator[Any]) -> Iterator[Any]:
    """Each batch with its dew temperatures; a bad row is null and has a code."""
    for batch in batches:
        dew, code = zeotrope.dew_temperature_K(
            batch["refrigerant"], batch["pressure_pa"], errors="codes"
        )
        columns = [*batch.columns, dew, code.cast(pa.int16())]
        names = [*batch.schema.names, "dew_temperature_k", "code"]
        yield pa.RecordBatch.from_arrays(columns, names)


def run(source: str, target: str) -> int:
    """Writes the answers; returns the rows."""
    from pyspark.sql import SparkSession

    spark = SparkSession.builder.master("local[2]").getOrCreate()
    plant = spark.read.parquet(source)
    schema = "refrigerant string, pressure_pa double, temperature_k double, " + (
        "dew_temperature_k double, code smallint"
    )
    found = plant.mapInArrow(answered, schema)
    found.write.mode("overwrite").parquet(target)
    return int(spark.read.parquet(target).count())


if __name__ == "__main__":
    print(run(sys.argv[1], sys.argv[2]), "rows")
