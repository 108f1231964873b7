"""Columns of Arrow, polars and pandas: the answer is of the kind that was given."""

from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import zeotrope

R = zeotrope.Refrigerant("R-407C")
PRESSURES = [5e5, None, 1e12, 6e5, float("nan"), 7e5]
ANSWERS = [R.dew_temperature_K(p) if p in (5e5, 6e5, 7e5) else None for p in PRESSURES]
CODES = [0, 1, 2, 0, 1, 0]


@pytest.mark.parametrize(
    "given",
    [
        pa.array(PRESSURES),
        pa.array([1.0, *PRESSURES, 2.0])[1:-1],
        pa.chunked_array([PRESSURES[:1], [], PRESSURES[1:4], PRESSURES[4:]], pa.float64()),
        pa.chunked_array([[0.0], PRESSURES], pa.float64())[1:],
        pl.Series("p", PRESSURES),
        pl.concat([pl.Series("p", PRESSURES[:2]), pl.Series("p", PRESSURES[2:])], rechunk=False),
        pd.Series(PRESSURES, dtype="float64", index=list("abcdef"), name="p"),
        pd.Series(PRESSURES, dtype=pd.ArrowDtype(pa.float64()), index=list("abcdef"), name="p"),
        pd.Series(pd.array(PRESSURES, dtype="Float64"), name="p"),
    ],
    ids=lambda given: f"{type(given).__module__}.{type(given).__name__}",
)
def test_a_column_gives_a_column_of_its_kind(given: Any) -> None:
    found = R.dew_temperature_K(given)
    assert type(found) is type(given)
    assert plain(found) == ANSWERS
    if isinstance(given, pa.ChunkedArray):
        assert [len(one) for one in found.chunks] == [len(one) for one in given.chunks]
    if isinstance(given, (pl.Series, pd.Series)):
        assert found.name == "p"
    if isinstance(given, pd.Series):
        assert found.index.equals(given.index) and found.dtype == given.dtype
    values, codes = R.dew_temperature_K(given, errors="codes")
    assert type(values) is type(given) and type(codes).__name__ in (type(given).__name__, "UInt8Array")
    assert plain(values) == ANSWERS and list(plain(codes)) == CODES
    with pytest.raises(zeotrope.OutOfRange, match="row 2"):
        R.dew_temperature_K(given, errors="raise")
    with pytest.raises(ValueError, match="out"):
        R.dew_temperature_K(given, out=np.empty(6))


def plain(column: Any) -> list[float | None]:
    if isinstance(column, (pa.Array, pa.ChunkedArray)):
        return column.to_pylist()
    found = column.to_list()
    return [None if one is pd.NA or one is None or one != one else one for one in found]


@pytest.mark.parametrize(
    "kind", [pa.int64(), pa.uint32(), pa.float32(), pa.decimal128(22, 1), pa.int8()]
)
def test_other_numbers_are_cast(kind: pa.DataType) -> None:
    given = pa.array([100, None, 120]).cast(kind)
    r = zeotrope.Refrigerant("R-744")
    found = zeotrope.Refrigerant("R-134a").dew_pressure_Pa(pa.array([280, 300]).cast(pa.int16()))
    assert found.to_pylist() == [
        zeotrope.dew_pressure_Pa("R-134a", 280),
        zeotrope.dew_pressure_Pa("R-134a", 300),
    ]
    assert r.dew_pressure_Pa(given).null_count == 3
    as_dictionary = pa.array([280.0, None, 280.0]).dictionary_encode()
    assert zeotrope.dew_pressure_Pa("R-134a", as_dictionary).null_count == 1
    assert zeotrope.dew_pressure_Pa("R-134a", pa.nulls(3)).null_count == 3


@pytest.mark.parametrize(
    "given",
    [
        pa.array([True, False]),
        pa.array(["280"]),
        pa.table({"p": [5e5]}),
        pa.record_batch({"p": [5e5]}),
        pa.array([{"p": 5e5}]),
        pa.scalar(5e5),
        pl.DataFrame({"p": [5e5]}),
        pl.Series(["280"]),
        pl.Series([True]),
        pd.DataFrame({"p": [5e5]}),
        pd.Series(["280"]),
        pd.Series([True]),
        pd.Series([5e5, None], dtype=object),
        pd.Series(pd.array([True, None], dtype="boolean")),
    ],
    ids=lambda given: type(given).__name__,
)
def test_what_is_no_column_of_numbers_is_a_type_error(given: Any) -> None:
    with pytest.raises(TypeError, match="pressure_Pa"):
        R.dew_temperature_K(given)


class Capsule:
    """Nothing but the PyCapsule interface."""

    def __init__(self, inner: Any) -> None:
        self.inner = inner

    def __arrow_c_stream__(self, requested_schema: object = None) -> object:
        return self.inner.__arrow_c_stream__(requested_schema)


def test_anything_with_the_capsule_interface_will_do() -> None:
    found = R.dew_temperature_K(Capsule(pa.chunked_array([PRESSURES])))
    assert pa.chunked_array(found).to_pylist() == ANSWERS


def test_inputs_are_read_where_they_lie() -> None:
    # 80 MB of pressures: the answer alone is allocated
    given = pa.array(np.full(10_000_000, 5e5))
    before = pa.total_allocated_bytes()
    found = zeotrope.Refrigerant("R-134a").dew_temperature_K(given)
    assert pa.total_allocated_bytes() == before
    assert len(found) == len(given) and found.null_count == 0


def test_states_are_structs_and_frames() -> None:
    temperatures, pressures = [300.0, None, 300.0], [1e5, 1e5, 2e5]
    density = R.density_kg_m3(300.0, 1e5)
    found = R.state(temperature_K=pa.array(temperatures), pressure_Pa=pa.array(pressures))
    assert isinstance(found, pa.StructArray)
    rows = found.to_pylist()
    assert rows[1] is None and rows[0]["phase"] == "vapor" and rows[0]["quality"] is None
    assert rows[0]["density_kg_m3"] == density
    chunked = pa.chunked_array([temperatures[:1], temperatures[1:]])
    found = R.state(temperature_K=chunked, pressure_Pa=pa.array(pressures))
    assert [len(chunk) for chunk in found.chunks] == [1, 2] and found.to_pylist() == rows
    series = R.state(temperature_K=pl.Series(temperatures), pressure_Pa=1e5)
    assert series.struct.field("density_kg_m3")[0] == density
    assert series.struct.unnest()["phase"].to_list() == ["vapor", None, "vapor"]
    frame = R.state(
        temperature_K=pd.Series(temperatures, index=[3, 4, 5]),
        pressure_Pa=pd.Series(pressures, index=[3, 4, 5]),
    )
    assert isinstance(frame, pd.DataFrame) and frame.index.tolist() == [3, 4, 5]
    assert frame["density_kg_m3"][3] == density
    arrow = R.state(
        temperature_K=pd.Series(temperatures, dtype=pd.ArrowDtype(pa.float64())), pressure_Pa=1e5
    )
    assert arrow["density_kg_m3"].tolist()[0] == density
    assert arrow["density_kg_m3"].isna().tolist() == [False, True, False]


def test_series_that_do_not_belong_together_are_refused() -> None:
    with pytest.raises(ValueError, match="index"):
        R.density_kg_m3(pd.Series([300.0]), pd.Series([1e5], index=[7]))
    with pytest.raises(ValueError, match="2 rows"):
        R.density_kg_m3(pa.array([300.0, 310.0]), pa.array([1e5]))
    with pytest.raises(ValueError, match="2 rows"):
        R.density_kg_m3(pa.array([300.0, 310.0]), np.array([1e5]))


def test_nulls_hide_what_lies_under_them() -> None:
    # under a null stands a good pressure
    values = pa.array([5e5, 6e5, 7e5, 8e5])
    masked = pa.Array.from_buffers(pa.float64(), 4, [pa.py_buffer(b"\x05"), values.buffers()[1]])
    assert R.dew_temperature_K(masked).is_null().to_pylist() == [False, True, False, True]
    assert R.dew_temperature_K(masked[1:]).is_null().to_pylist() == [True, False, True]
