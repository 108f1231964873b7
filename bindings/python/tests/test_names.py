"""A column of names next to columns of values."""

from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import zeotrope

NAMES = ["R-134a", "R-407C", None, "R-000", "r134a", "R-32/R-125 (50/50)"]
PRESSURES = [5e5, 5e5, 5e5, 5e5, 1e12, 6e5]
ANSWERS = [
    zeotrope.dew_temperature_K("R-134a", 5e5),
    zeotrope.dew_temperature_K("R-407C", 5e5),
    None,
    None,
    None,
    zeotrope.dew_temperature_K("R-32/R-125 (50/50)", 6e5),
]
CODES = [0, 0, 1, 6, 2, 0]


def encoded(key: pa.DataType, value: pa.DataType = pa.string()) -> pa.Array:
    names = pa.array(NAMES).dictionary_encode()
    kind = pa.dictionary(key, value)
    return pa.DictionaryArray.from_arrays(
        names.indices.cast(key), names.dictionary.cast(value)
    ).cast(kind)


@pytest.mark.parametrize(
    "names",
    [
        pa.array(NAMES),
        pa.array(NAMES, pa.large_string()),
        pa.array(NAMES, pa.string_view()),
        pa.array(["x", *NAMES])[1:],
        *[encoded(key) for key in (pa.int8(), pa.uint8(), pa.int32(), pa.uint64(), pa.int64())],
        encoded(pa.int16(), pa.large_string()),
        encoded(pa.int32())[0:],
        pa.chunked_array([NAMES[:2], NAMES[2:]]),
        pa.chunked_array([encoded(pa.int32())[:2], encoded(pa.int32())[2:]]),
    ],
    ids=lambda names: str(names.type),
)
def test_names_of_arrow(names: Any) -> None:
    found, codes = zeotrope.dew_temperature_K(names, pa.array(PRESSURES), errors="codes")
    assert found.to_pylist() == ANSWERS
    assert codes.to_pylist() == CODES


@pytest.mark.parametrize(
    "names",
    [
        np.array(NAMES, dtype=object),
        NAMES,
        pl.Series(NAMES),
        pl.Series(NAMES, dtype=pl.Categorical),
        pl.Series(NAMES, dtype=pl.Enum([name for name in NAMES if name])),
        pd.Series(NAMES),
        pd.Series(NAMES, dtype="category"),
        pd.Series(NAMES, dtype="string"),
        pd.Series(NAMES, dtype=object),
        pd.Series(NAMES, dtype=pd.ArrowDtype(pa.string())),
    ],
    ids=lambda names: f"{type(names).__module__}.{getattr(names, 'dtype', 'list')}",
)
def test_names_of_other_kinds(names: Any) -> None:
    found, codes = zeotrope.dew_temperature_K(names, np.array(PRESSURES), errors="codes")
    assert isinstance(found, np.ndarray)
    assert [None if one != one else one for one in found.tolist()] == ANSWERS
    assert codes.tolist() == CODES
    # with one pressure for all, the answer is of the names' kind
    alone = zeotrope.dew_temperature_K(names, 5e5)
    kind = {list: np.ndarray}.get(type(names), type(names))
    assert isinstance(alone, kind) and len(alone) == len(NAMES)
    assert alone[0] == ANSWERS[0]


def test_text_arrays_of_numpy_are_names() -> None:
    names = np.array(["R-134a", "R-407C"])
    assert zeotrope.dew_temperature_K(names, 5e5).tolist() == ANSWERS[:2]


def test_what_is_no_column_of_names_is_a_type_error() -> None:
    for wrong in (None, 5, True, b"R-134a", [1.0], np.array([1.0]), pa.array([1]), object()):
        with pytest.raises(TypeError, match="refrigerant"):
            zeotrope.dew_temperature_K(wrong, 5e5)


def test_an_unknown_name_raises_where_it_is_asked_to() -> None:
    with pytest.raises(zeotrope.UnknownRefrigerant):
        zeotrope.dew_temperature_K("R-000", 5e5)
    with pytest.raises(zeotrope.UnknownRefrigerant):
        zeotrope.dew_temperature_K("R-000", np.array([5e5]), errors="raise")
    with pytest.raises(zeotrope.UnknownRefrigerant, match="row 3"):
        zeotrope.dew_temperature_K(NAMES, PRESSURES, errors="raise")
    assert np.isnan(zeotrope.dew_temperature_K("R-000", np.array([5e5]))).all()


def test_many_names_in_any_order_answer_as_one_by_one() -> None:
    random = np.random.default_rng(3)
    listed = ["R-134a", "R-407C", "R-410A", "R-290", "R-717", "R-454B", "R-32"]
    names = random.choice(listed, 5000)
    pressures = random.uniform(1e5, 3e6, 5000)
    expected = [
        zeotrope.dew_temperature_K(str(name), float(p), errors="null")
        for name, p in zip(names, pressures)
    ]
    for threads in (1, 3):
        found = zeotrope.dew_temperature_K(pa.array(names), pressures, threads=threads)
        assert np.array_equal(found, expected, equal_nan=True)
    encoded = pa.array(names).dictionary_encode()
    found = zeotrope.dew_temperature_K(encoded, pa.array(pressures))
    assert np.array_equal(found.to_numpy(zero_copy_only=False), expected, equal_nan=True)


def test_states_of_named_rows() -> None:
    found = zeotrope.state(pa.array(NAMES), temperature_K=300.0, pressure_Pa=1e5)
    assert [row and row["phase"] for row in found.to_pylist()] == [
        "vapor", "vapor", None, None, "vapor", "vapor",
    ]  # fmt: skip
    assert found[1]["density_kg_m3"].as_py() == zeotrope.density_kg_m3("R-407C", 300.0, 1e5)
