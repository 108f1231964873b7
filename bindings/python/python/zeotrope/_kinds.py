"""Columns of pandas and polars on the way in and out; imported when one is met."""

from __future__ import annotations

from typing import Any


def pandas_values(name: str, column: Any) -> tuple[Any, bool]:
    """The numbers of a Series or Index, and whether they are Arrow's."""
    import pandas

    if not isinstance(column, (pandas.Series, pandas.Index)):
        raise TypeError(f"{name} is a {type(column).__name__}; give one of its columns")
    dtype = column.dtype
    if isinstance(dtype, pandas.ArrowDtype):
        return _arrow_of(column), True
    if isinstance(dtype, pandas.api.extensions.ExtensionDtype):
        if not pandas.api.types.is_numeric_dtype(dtype) or pandas.api.types.is_bool_dtype(dtype):
            raise TypeError(f"{name} is a column of {dtype}; give a column of numbers")
        return column.to_numpy(dtype="float64", na_value=float("nan")), False
    return column.to_numpy(), False


def pandas_names(column: Any) -> tuple[Any, bool]:
    """The names of a Series or Index, and whether they are Arrow's."""
    import pandas

    if not isinstance(column, (pandas.Series, pandas.Index)):
        raise TypeError(f"refrigerant is a {type(column).__name__}; give one of its columns")
    if isinstance(column.dtype, pandas.CategoricalDtype):
        try:
            import pyarrow
        except ImportError:
            return _listed(column), False
        return pyarrow.array(column, from_pandas=True), True
    if isinstance(column.dtype, pandas.ArrowDtype):
        return _arrow_of(column), True
    return _listed(column), False


def _listed(column: Any) -> list[Any]:
    import pandas

    return [None if name is pandas.NA else name for name in column]


def _arrow_of(column: Any) -> Any:
    import pyarrow

    found = column.array.__arrow_array__()
    return found if isinstance(found, pyarrow.ChunkedArray) else pyarrow.chunked_array([found])


def _index_and_name(given: Any) -> tuple[Any, Any]:
    import pandas

    return (given.index if isinstance(given, pandas.Series) else given), given.name


def pandas_series(given: Any, values: Any) -> Any:
    """Numbers as a Series with the index and name of the one that was given, in its kind."""
    import pandas

    index, name = _index_and_name(given)
    is_masked = isinstance(given.dtype, pandas.api.extensions.ExtensionDtype) and (
        pandas.api.types.is_numeric_dtype(given.dtype)
    )
    if is_masked:
        mask = values != values
        values = pandas.arrays.FloatingArray(values, mask)
    return pandas.Series(values, index=index, name=name, copy=False)


def pandas_codes(given: Any, codes: Any) -> Any:
    """Codes as a Series with the index of the column that was given."""
    import pandas

    return pandas.Series(codes, index=_index_and_name(given)[0], name="code", copy=False)


def pandas_frame(given: Any, columns: dict[str, Any]) -> Any:
    """States as a DataFrame with the index of the column that was given."""
    import pandas

    return pandas.DataFrame(columns, index=_index_and_name(given)[0], copy=False)


def phases(names: list[str], codes: Any) -> Any:
    """Names of phases, None where there is no state."""
    import numpy

    texts = numpy.array([name or None for name in names], dtype=object)
    return texts[codes]


def check_same_index(one: Any, other: Any) -> None:
    """Series are answered row by row, so that their rows have to be the same."""
    if not _index_and_name(one)[0].equals(_index_and_name(other)[0]):
        raise ValueError("the Series have different indexes; align them first")


def like(given: Any, column: Any, name: str) -> Any:
    """A column of Arrow as polars or pandas has it, as `given` is."""
    if type(given).__module__.split(".")[0] == "polars":
        import polars

        return polars.Series(column).alias(name or given.name)
    import pandas
    import pyarrow

    found = pyarrow.chunked_array(column)
    index, own = _index_and_name(given)
    if pyarrow.types.is_struct(found.type):
        parts = found.combine_chunks()
        if isinstance(parts, pyarrow.ChunkedArray):
            parts = parts.chunk(0) if parts.num_chunks else pyarrow.array([], found.type)
        fields = zip(found.type.names, parts.flatten())
        frame = {field: pandas.arrays.ArrowExtensionArray(values) for field, values in fields}
        return pandas.DataFrame(frame, index=index)
    return pandas.Series(pandas.arrays.ArrowExtensionArray(found), index=index, name=own)
