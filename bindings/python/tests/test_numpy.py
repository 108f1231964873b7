"""Arrays of NumPy."""

import os
import subprocess
import sys

import numpy as np
import pytest

import zeotrope

R = zeotrope.Refrigerant("R-407C")


def one_by_one(pressures: np.ndarray) -> np.ndarray:
    answers = [R.dew_temperature_K(float(p), errors="null") for p in pressures.ravel()]
    return np.array(answers).reshape(pressures.shape)


def test_an_array_gives_an_array_of_its_shape() -> None:
    pressures = np.linspace(1e5, 4e6, 3000).reshape(2, 50, 30)
    answers = R.dew_temperature_K(pressures)
    assert answers.dtype == np.float64 and answers.shape == pressures.shape
    assert np.array_equal(answers, one_by_one(pressures))
    assert R.dew_temperature_K(np.array([])).shape == (0,)
    assert R.dew_temperature_K(np.empty((0, 3))).shape == (0, 3)


@pytest.mark.parametrize(
    "pressures",
    [
        np.linspace(1e5, 4e6, 100)[::3],
        np.linspace(1e5, 4e6, 100)[::-1],
        np.linspace(1e5, 4e6, 100).reshape(10, 10).T,
        np.asfortranarray(np.linspace(1e5, 4e6, 100).reshape(10, 10)),
        np.linspace(1e5, 4e6, 100).reshape(10, 10)[:, 3],
        np.linspace(1e5, 4e6, 100).astype(np.float32),
        np.linspace(1e5, 4e6, 100).astype(np.int32),
        np.linspace(1e5, 4e6, 100).astype(">f8"),
        np.frombuffer(b"\0" + np.linspace(1e5, 4e6, 8).tobytes(), np.uint8)[1:].view(np.float64),
    ],
)
def test_any_layout_and_any_number_will_do(pressures: np.ndarray) -> None:
    assert np.array_equal(R.dew_temperature_K(pressures), one_by_one(pressures))


def test_nan_stays_and_a_row_without_an_answer_becomes_nan() -> None:
    pressures = np.array([5e5, np.nan, 1e12, -1.0, 6e5, np.inf])
    answers, codes = R.dew_temperature_K(pressures, errors="codes")
    assert np.array_equal(np.isnan(answers), [False, True, True, True, False, True])
    assert codes.dtype == np.uint8 and codes.tolist() == [0, 1, 2, 2, 0, 2]
    assert np.array_equal(answers, R.dew_temperature_K(pressures), equal_nan=True)
    with pytest.raises(zeotrope.OutOfRange, match="^row 2: ") as raised:
        R.dew_temperature_K(pressures, errors="raise")
    assert raised.value.row == 2
    # what was missing is still missing, and no error
    assert np.isnan(R.dew_temperature_K(np.array([np.nan]), errors="raise")).all()
    with pytest.raises(ValueError, match="errors"):
        R.dew_temperature_K(pressures, errors="ignore")


def test_raised_is_the_first_row_whatever_the_threads() -> None:
    pressures = np.full(200_000, 5e5)
    pressures[[1_000, 1_001, 150_000]] = 1e12
    for threads in (1, 2, 7):
        with pytest.raises(zeotrope.OutOfRange) as raised:
            R.dew_temperature_K(pressures, errors="raise", threads=threads)
        assert raised.value.row == 1_000


def test_into_an_array_that_is_there() -> None:
    pressures = np.linspace(1e5, 4e6, 1000)
    expected = R.dew_temperature_K(pressures)
    out = np.empty(1000)
    assert R.dew_temperature_K(pressures, out=out) is out
    assert np.array_equal(out, expected)
    # in place, and into a part that overlaps
    same = pressures.copy()
    assert R.dew_temperature_K(same, out=same) is same
    assert np.array_equal(same, expected)
    both = np.concatenate([pressures, [0.0]])
    R.dew_temperature_K(both[:-1], out=both[1:])
    assert np.array_equal(both[1:], expected)
    read_only = np.empty(1000)
    read_only.flags.writeable = False
    for wrong in (np.empty(999), np.empty(1000, np.float32), np.empty(2000)[::2], read_only, [0.0]):
        with pytest.raises(ValueError, match="out"):
            R.dew_temperature_K(pressures, out=wrong)
    with pytest.raises(ValueError, match="out"):
        R.dew_temperature_K(5e5, out=out)


def test_two_properties_are_brought_to_one_shape() -> None:
    temperatures, pressures = np.linspace(300, 320, 5), np.linspace(1e5, 2e5, 4)
    grid = R.density_kg_m3(temperatures[:, None], pressures[None, :])
    assert grid.shape == (5, 4)
    assert grid[3, 2] == R.density_kg_m3(float(temperatures[3]), float(pressures[2]))
    assert np.array_equal(R.density_kg_m3(temperatures, 1e5), grid[:, 0])
    with pytest.raises(ValueError):
        R.density_kg_m3(temperatures, pressures)


def test_lists_are_arrays_as_numpy_reads_them() -> None:
    assert np.array_equal(R.dew_temperature_K([5e5, 600_000]), one_by_one(np.array([5e5, 6e5])))


@pytest.mark.parametrize(
    "array",
    [
        np.array([True, False]),
        np.array(["280"]),
        np.array([1 + 2j]),
        np.array([280.0], dtype=object),
        np.array(["2020-01-01"], dtype="datetime64[s]"),
        np.ma.masked_array([5e5, 6e5], [True, False]),
    ],
)
def test_elements_that_are_no_numbers_are_type_errors(array: np.ndarray) -> None:
    with pytest.raises(TypeError, match="pressure_Pa"):
        R.dew_temperature_K(array)


def test_threads_change_no_bit() -> None:
    pressures = np.random.default_rng(1).uniform(1e4, 5e6, 100_000)
    alone = R.dew_temperature_K(pressures)
    for threads in (2, 3, 16):
        assert np.array_equal(alone, R.dew_temperature_K(pressures, threads=threads), equal_nan=True)
    for wrong in (0, -1):
        with pytest.raises((ValueError, OverflowError)):
            R.dew_temperature_K(pressures, threads=wrong)


def test_the_variable_says_how_many_threads(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ZEOTROPE_THREADS", "2")
    assert R.dew_temperature_K(np.array([5e5])).shape == (1,)
    monkeypatch.setenv("ZEOTROPE_THREADS", "many")
    with pytest.raises(ValueError, match="ZEOTROPE_THREADS"):
        R.dew_temperature_K(np.array([5e5]))


def test_states_are_a_dict_of_arrays() -> None:
    pressures = np.array([5e5, 5e5, np.nan, 5e5])
    enthalpies = np.array([250e3, 450e3, 300e3, 1e9])
    states = R.state(pressure_Pa=pressures, enthalpy_J_kg=enthalpies)
    assert list(states)[:2] == ["temperature_K", "pressure_Pa"]
    assert states["phase"].tolist() == ["two-phase", "vapor", None, None]
    alone = R.state(pressure_Pa=5e5, enthalpy_J_kg=450e3)
    assert {"isothermal_compressibility_1_Pa", "isentropic_exponent"} < set(states)
    for key in set(states) - {"phase", "quality"}:
        # rows are read next to the curves, a number's state is solved: within what curves keep to
        assert states[key][1] == pytest.approx(alone[key], rel=1e-9), key
        assert np.isnan(states[key][2:]).all()
    w, density = states["speed_of_sound_m_s"][1], states["density_kg_m3"][1]
    # rho w^2 / p
    assert states["isentropic_exponent"][1] == pytest.approx(density * w**2 / 5e5, rel=1e-12)
    assert np.isnan(states["cp_J_kg_K"][0]) and 0 < states["quality"][0] < 1
    _, codes = R.state(pressure_Pa=pressures, enthalpy_J_kg=enthalpies, errors="codes")
    assert codes.tolist()[:3] == [0, 0, 1] and codes[3] > 1
    grid = R.state(temperature_K=np.full((2, 3), 300.0), pressure_Pa=1e5)
    assert grid["phase"].shape == grid["density_kg_m3"].shape == (2, 3)


def test_numpy_is_loaded_when_it_is_needed() -> None:
    code = (
        "import sys, zeotrope; r = zeotrope.Refrigerant('R-134a'); r.dew_pressure_Pa(280.0); "
        "print('numpy' in sys.modules, 'pyarrow' in sys.modules)"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.split() == ["False", "False"]


def test_import_is_quick() -> None:
    code = (
        "import time; t = time.process_time(); import zeotrope; print(time.process_time() - t)"
    )
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    taken = []
    for _ in range(7):
        found = subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env=environment,
        )
        taken.append(float(found.stdout))
    assert min(taken) < 0.050
