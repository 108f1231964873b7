"""The same questions through program, crate, numbers, NumPy, Arrow, DataFusion and polars: equal
bits.

`test.sh` builds the program and the crate's own answers, and names them by two variables.
"""

import csv
import io
import os
import struct
import subprocess
from collections.abc import Callable

import numpy as np
import polars as pl
import pyarrow as pa
import pytest

import zeotrope
import zeotrope.datafusion
import zeotrope.polars as zp

LINES = ["bubble_pressure_Pa", "dew_pressure_Pa", "bubble_temperature_K", "dew_temperature_K"]
NAMES = ["R-134a", "R-407C", "R-454B", "R-717", "R-32/R-125 (60/40)"]
ROWS = 100


def values(question: str) -> np.ndarray:
    # some below the lines, some above them
    random = np.random.default_rng(len(question))
    if question.endswith("K"):
        return np.exp(random.uniform(np.log(5e3), np.log(2e7), ROWS))
    return random.uniform(190, 420, ROWS)


QUESTIONS = [(name, line) for name in NAMES for line in LINES]


def bits(answers: object) -> list[str]:
    found = np.asarray(answers, dtype=np.float64)
    return ["-" if np.isnan(one) else f"{struct.unpack('<Q', one.tobytes())[0]:016x}" for one in found]


@pytest.fixture(scope="module")
def one_by_one() -> dict[tuple[str, str], list[str]]:
    return {
        (name, line): bits(
            [getattr(zeotrope, line)(name, float(value), errors="null") for value in values(line)]
        )
        for name, line in QUESTIONS
    }


def with_numpy(name: str, line: str) -> object:
    return getattr(zeotrope.Refrigerant(name), line)(values(line))


def with_threads(name: str, line: str) -> object:
    return getattr(zeotrope.Refrigerant(name), line)(values(line), threads=3)


def with_arrow(name: str, line: str) -> object:
    return getattr(zeotrope, line)(name, pa.array(values(line))).to_numpy(zero_copy_only=False)


def with_names(name: str, line: str) -> object:
    # every second row is another refrigerant
    names = pa.array([name, "R-290"] * ROWS).dictionary_encode()
    doubled = pa.array(np.repeat(values(line), 2))
    return getattr(zeotrope, line)(names, doubled).to_numpy(zero_copy_only=False)[::2]


def with_datafusion(name: str, line: str) -> object:
    import datafusion

    ctx = datafusion.SessionContext()
    zeotrope.datafusion.register(ctx)
    table = pa.table({"value": values(line), "row": range(ROWS)})
    ctx.register_record_batches("asked", [table.to_batches()])
    sql = f"SELECT zeotrope_{line.lower()}('{name}', value) AS x FROM asked ORDER BY row"
    return ctx.sql(sql).to_arrow_table()["x"].to_numpy()


def with_polars(name: str, line: str) -> object:
    frame = pl.DataFrame({"value": values(line)})
    return frame.select(getattr(zp, line)(name, "value"))[line].to_numpy()


@pytest.mark.parametrize(
    "way",
    [with_numpy, with_threads, with_arrow, with_names, with_datafusion, with_polars],
    ids=lambda way: way.__name__,
)
def test_every_way_gives_the_same_bits(
    way: Callable[[str, str], object], one_by_one: dict[tuple[str, str], list[str]]
) -> None:
    for question in QUESTIONS:
        assert bits(way(*question)) == one_by_one[question], question
    answered = sum(one != "-" for rows in one_by_one.values() for one in rows)
    assert 1000 < answered < 2000


@pytest.mark.skipif("ZEOTROPE_ANSWERS" not in os.environ, reason="test.sh builds what answers")
def test_the_crate_gives_the_same_bits(one_by_one: dict[tuple[str, str], list[str]]) -> None:
    asked = [(n, l, float(v)) for n, l in QUESTIONS for v in values(l)]
    found = subprocess.run(
        [os.environ["ZEOTROPE_ANSWERS"]],
        input="".join(f"{name}\t{line}\t{value!r}\n" for name, line, value in asked),
        capture_output=True,
        text=True,
        check=True,
    )
    assert found.stdout.split() == [one for q in QUESTIONS for one in one_by_one[q]]


@pytest.mark.skipif("ZEOTROPE_PROGRAM" not in os.environ, reason="test.sh builds the program")
def test_the_program_gives_the_same_bits(one_by_one: dict[tuple[str, str], list[str]]) -> None:
    for name, line in QUESTIONS:
        given = "pressure_Pa" if line.endswith("K") else "temperature_K"
        rows = f"{given}\n" + "".join(f"{float(value)!r}\n" for value in values(line))
        found = subprocess.run(
            [os.environ["ZEOTROPE_PROGRAM"], "saturation", name, "--csv", "-"],
            input=rows,
            capture_output=True,
            text=True,
            check=True,
        )
        answers = [row[line] or "nan" for row in csv.DictReader(io.StringIO(found.stdout))]
        assert bits([float(one) for one in answers]) == one_by_one[name, line], (name, line)
