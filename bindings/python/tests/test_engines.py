"""On an engine: DataFusion, polars, Dask."""

from pathlib import Path

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

import zeotrope
import zeotrope.datafusion
import zeotrope.polars as zp

ROWS = 20_000


@pytest.fixture(scope="module")
def plant() -> pa.Table:
    random = np.random.default_rng(7)
    pressures = random.uniform(2e5, 3e6, ROWS)
    names = random.choice(["R-407C", "R-134a", "R-454B"], ROWS).tolist()
    names[5], names[6] = "R-000", None
    pressures[7] = np.nan
    return pa.table(
        {
            "refrigerant": pa.array(names).dictionary_encode(),
            "pressure_pa": pa.array(pressures, mask=np.arange(ROWS) == 8),
            "temperature_k": random.uniform(250, 400, ROWS),
        }
    )


@pytest.fixture(scope="module")
def parquet(plant: pa.Table, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("plant") / "plant.parquet"
    pq.write_table(plant, path, row_group_size=6_000)
    return path


@pytest.fixture(scope="module")
def expected(plant: pa.Table) -> list[float | None]:
    found = zeotrope.dew_temperature_K(plant["refrigerant"], plant["pressure_pa"])
    return found.to_pylist()


def test_datafusion_reads_and_writes_parquet_in_one_statement(
    parquet: Path, expected: list[float | None], tmp_path: Path
) -> None:
    import datafusion

    ctx = datafusion.SessionContext()
    zeotrope.datafusion.register(ctx)
    ctx.register_parquet("plant", str(parquet))
    out = tmp_path / "answers.parquet"
    ctx.sql(
        f"""COPY (
            SELECT refrigerant, pressure_pa,
                zeotrope_dew_temperature_k(refrigerant, pressure_pa) AS dew_k,
                zeotrope_dew_temperature_k_code(refrigerant, pressure_pa) AS code,
                temperature_k - zeotrope_dew_temperature_k('R-407C', pressure_pa) AS superheat_k,
                zeotrope_density_kg_m3(refrigerant, temperature_k, pressure_pa) AS density
            FROM plant
        ) TO '{out}' STORED AS PARQUET"""
    ).collect()
    answers = pq.read_table(out)
    order = {
        (row["refrigerant"], row["pressure_pa"]): row for row in answers.to_pylist()
    }
    plant = pq.read_table(parquet)
    rows = zip(plant["refrigerant"].to_pylist(), plant["pressure_pa"].to_pylist(), expected)
    for name, pressure, answer in rows:
        if pressure == pressure:
            assert order[name, pressure]["dew_k"] == answer
    codes = answers["code"].value_counts().to_pylist()
    codes = {row["values"]: row["counts"] for row in codes}
    assert codes["unknown_refrigerant"] == 1 and codes["missing"] == 3
    assert answers["superheat_k"].null_count == 2
    assert answers["density"].null_count >= 3


def test_every_function_of_sql_is_there() -> None:
    import datafusion

    ctx = datafusion.SessionContext()
    zeotrope.datafusion.register(ctx)
    found = ctx.sql(
        """SELECT zeotrope_bubble_pressure_pa('R-407C', 280.0) AS a,
            zeotrope_dew_pressure_pa('R-407C', 280.0) AS b,
            zeotrope_bubble_temperature_k('R-407C', 5e5) AS c,
            zeotrope_dew_temperature_k('R-407C', 500000) AS d,
            zeotrope_glide_k('R-407C', 5e5) AS e,
            zeotrope_density_kg_m3('R-407C', 300.0, 1e5) AS f,
            zeotrope_glide_k_code('R-407C', 1e12) AS g"""
    ).to_pydict()
    r = zeotrope.Refrigerant("R-407C")
    assert [found[key][0] for key in "abcdefg"] == [
        r.bubble_pressure_Pa(280.0),
        r.dew_pressure_Pa(280.0),
        r.bubble_temperature_K(5e5),
        r.dew_temperature_K(5e5),
        r.glide_K(5e5),
        r.density_kg_m3(300.0, 1e5),
        "out_of_range",
    ]


def test_expressions_of_polars(parquet: Path, expected: list[float | None]) -> None:
    lazy = pl.scan_parquet(parquet).with_columns(
        dew=zp.dew_temperature_K(pl.col("refrigerant"), pl.col("pressure_pa")),
        of_one=zp.dew_temperature_K("R-407C", "pressure_pa"),
        superheat=pl.col("temperature_k") - zp.dew_temperature_K("R-407C", "pressure_pa"),
        density=zp.density_kg_m3(zeotrope.Refrigerant("R-407C"), "temperature_k", 1e5),
    )
    for engine in ("in-memory", "streaming"):
        frame = lazy.collect(engine=engine)
        assert frame["dew"].to_list() == expected
        assert frame["of_one"].null_count() == 2
        assert frame["density"][0] == zeotrope.density_kg_m3("R-407C", frame["temperature_k"][0], 1e5)
        assert frame["superheat"][0] == frame["temperature_k"][0] - frame["of_one"][0]
    grouped = (
        pl.scan_parquet(parquet)
        .group_by("refrigerant")
        .agg(zp.glide_K("R-407C", pl.col("pressure_pa").min()))
        .collect()
    )
    assert grouped.height == 5


def test_partitions_of_dask(plant: pa.Table, expected: list[float | None]) -> None:
    import dask
    import dask.dataframe as dd

    frame = plant.to_pandas()
    frame["refrigerant"] = frame["refrigerant"].astype("category")

    def answered(part: pd.DataFrame) -> pd.DataFrame:
        dew = zeotrope.dew_temperature_K(part["refrigerant"], part["pressure_pa"])
        return part.assign(dew=dew, of_one=R407C.dew_temperature_K(part["pressure_pa"]))

    R407C = zeotrope.Refrigerant("R-407C")
    parts = dd.from_pandas(frame, npartitions=4)
    meta = parts._meta.assign(dew=0.0, of_one=0.0)
    with dask.config.set(scheduler="threads"):
        found = parts.map_partitions(answered, meta=meta).compute()
    assert [None if one != one else one for one in found["dew"]] == expected
    assert found["of_one"].isna().sum() == 2
