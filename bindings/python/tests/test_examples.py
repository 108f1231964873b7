"""The examples run, and the notebook to its last cell."""

import doctest
import inspect
import sys
from pathlib import Path

import nbformat
import pyarrow.parquet as pq
import pytest
from nbclient import NotebookClient

import zeotrope

EXAMPLES = Path(__file__).parent.parent / "examples"


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> str:
    sys.path.insert(0, str(EXAMPLES))
    import plant as module

    path = tmp_path_factory.mktemp("examples") / "plant.parquet"
    module.write(str(path), 20_000)
    return str(path)


def test_parquet_through_datafusion(plant: str, tmp_path: Path) -> None:
    import datafusion_parquet

    target = tmp_path / "answers.parquet"
    assert datafusion_parquet.run(plant, str(target)) == 20_000
    answers = pq.read_table(target)
    assert answers["dew_temperature_k"].null_count == 1
    assert answers["code"].null_count == 19_999


def test_expressions_of_polars(plant: str) -> None:
    import polars_expressions

    found = polars_expressions.run(plant)
    assert found.height == 4
    assert found["without"].sum() == 2
    assert found["superheat_k"].is_between(-30, 60).all()


@pytest.mark.parametrize("scheduler", ["threads", "processes"])
def test_partitions_of_dask(plant: str, scheduler: str) -> None:
    import dask_partitions

    found = dask_partitions.run(plant, scheduler)
    assert len(found) == 4 and found.between(220, 320).all()


def test_batches_of_spark_without_spark(plant: str) -> None:
    import spark_arrow

    batches = pq.read_table(plant).to_batches(max_chunksize=3_000)
    found = list(spark_arrow.answered(iter(batches)))
    assert sum(len(batch) for batch in found) == 20_000
    assert sum(batch["dew_temperature_k"].null_count for batch in found) == 1


def test_the_notebook_runs() -> None:
    notebook = nbformat.read(EXAMPLES / "suction_lines.ipynb", as_version=4)
    NotebookClient(notebook, timeout=120, kernel_name="python3").execute()
    shown = [
        kind
        for cell in notebook.cells
        for output in cell.get("outputs", [])
        for kind in output.get("data", {})
    ]
    assert shown.count("text/html") >= 5 and "image/svg+xml" in shown


@pytest.mark.parametrize("where", ["README.md", "Refrigerant", "blend"])
def test_what_is_shown_is_what_is_answered(where: str) -> None:
    page = Path(__file__).parent.parent / where
    text = page.read_text() if page.exists() else inspect.getdoc(getattr(zeotrope, where)) or ""
    text = "\n".join("" if line.startswith("```") else line for line in text.splitlines())
    asked = doctest.DocTestParser().get_doctest(text, {"zeotrope": zeotrope}, where, None, None)
    assert asked.examples
    found = doctest.DocTestRunner().run(asked)
    assert found.failed == 0
