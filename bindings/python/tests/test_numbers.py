"""Numbers in, numbers out."""

import math
import pickle
import warnings

import numpy as np
import pytest

import zeotrope


def test_a_number_gives_a_float_in_si() -> None:
    r134a = zeotrope.Refrigerant("R-134a")
    pressure = r134a.dew_pressure_Pa(278.15)
    assert type(pressure) is float
    # Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    assert pressure == pytest.approx(349_660, abs=10)
    assert r134a.dew_temperature_K(pressure) == pytest.approx(278.15, abs=1e-6)
    # the same table: saturated liquid at 5 °C 1278.1 kg/m3
    liquid = r134a.state(temperature_K=278.15, quality=0)
    assert liquid["density_kg_m3"] == pytest.approx(1278.1, abs=0.1)
    assert r134a.density_kg_m3(278.15, 349_700) == pytest.approx(1278.1, abs=0.1)


def test_bubble_and_dew_of_a_blend_differ_by_its_glide() -> None:
    r407c = zeotrope.Refrigerant("R-407C")
    bubble, dew = r407c.bubble_temperature_K(500_000), r407c.dew_temperature_K(500_000)
    assert r407c.glide_K(500_000) == dew - bubble
    # common practice, no source: about 6 K for R-407C near 5 bar
    assert 5 < dew - bubble < 7
    assert r407c.bubble_pressure_Pa(bubble) == pytest.approx(500_000, rel=1e-9)
    assert zeotrope.Refrigerant("R-134a").glide_K(500_000) == 0


def test_whole_numbers_and_numbers_of_numpy_are_numbers() -> None:
    r = zeotrope.Refrigerant("R-134a")
    expected = r.dew_pressure_Pa(280.0)
    for value in (280, np.float64(280), np.int64(280), np.array(280.0)):
        answer = r.dew_pressure_Pa(value)
        assert answer == expected
        assert type(answer) is float
    assert r.dew_pressure_Pa(np.float32(280.5)) == r.dew_pressure_Pa(280.5)


@pytest.mark.parametrize(
    "value", [True, np.True_, "280", b"280", None, 280j, object(), {"a": 1}, [280, None], ["280"]]
)
def test_what_is_no_number_is_a_type_error(value: object) -> None:
    r = zeotrope.Refrigerant("R-134a")
    with pytest.raises(TypeError, match="temperature_K"):
        r.dew_pressure_Pa(value)
    with pytest.raises(TypeError, match="temperature_K"):
        zeotrope.dew_pressure_Pa("R-134a", value)


def test_a_number_without_an_answer_raises_with_a_hint() -> None:
    r = zeotrope.Refrigerant("R-134a")
    with pytest.raises(zeotrope.OutOfRange) as raised:
        r.dew_pressure_Pa(500.0)
    assert "K" in raised.value.hint
    assert raised.value.row is None
    assert isinstance(raised.value, ValueError)
    assert math.isnan(r.dew_pressure_Pa(500.0, errors="null"))
    value, code = r.dew_pressure_Pa(500.0, errors="codes")
    assert math.isnan(value) and code is zeotrope.Code.OUT_OF_RANGE
    assert r.dew_pressure_Pa(280.0, errors="codes") == (r.dew_pressure_Pa(280.0), 0)
    copy = pickle.loads(pickle.dumps(raised.value))
    assert (str(copy), copy.hint) == (str(raised.value), raised.value.hint)
    with pytest.raises(zeotrope.UnknownRefrigerant, match="R-134a"):
        zeotrope.Refrigerant("R-134")
    with pytest.raises(zeotrope.NoState):
        r.state(pressure_Pa=1e5, enthalpy_J_kg=1e9)
    with pytest.raises(zeotrope.NoAnswer, match="no liquid state"):
        r.state(temperature_K=300, pressure_Pa=1e5, phase="liquid")


def test_gauge_pressures_only_with_the_atmosphere() -> None:
    r = zeotrope.Refrigerant("R-407C")
    absolute = r.dew_temperature_K(500_000)
    assert r.dew_temperature_K(500_000 - 101_325, atmosphere_Pa=101_325) == absolute
    assert r.state(pressure_Pa=398_675, quality=1, atmosphere_Pa=101_325)[
        "temperature_K"
    ] == pytest.approx(absolute, abs=1e-6)
    with pytest.raises(zeotrope.Error, match="station pressure"):
        r.dew_temperature_K(500_000, atmosphere_Pa=1.0)
    with pytest.raises(TypeError):
        r.dew_pressure_Pa(280.0, atmosphere_Pa=101_325)


def test_states_are_asked_by_two_properties() -> None:
    r = zeotrope.Refrigerant("R-134a")
    state = r.state(temperature_K=300, pressure_Pa=100_000)
    assert state["phase"] == "vapor" and state["quality"] is None
    again = r.state(pressure_Pa=100_000, enthalpy_J_kg=state["enthalpy_J_kg"])
    assert again["temperature_K"] == pytest.approx(300, abs=1e-6)
    two = r.state(pressure_Pa=349_660, quality=0.5)
    assert two["phase"] == "two-phase" and set(two) >= {"liquid", "vapor"}
    with pytest.raises(TypeError, match="two of"):
        r.state(temperature_K=300)
    with pytest.raises(TypeError, match="two of"):
        r.state(temperature_K=300, pressure_Pa=1e5, quality=1)
    with pytest.raises(ValueError, match="reference_state"):
        r.state(temperature_K=300, pressure_Pa=1e5, reference_state="mine")
    iir = r.state(temperature_K=273.15, quality=0, reference_state="iir")
    assert iir["enthalpy_J_kg"] == pytest.approx(200_000, abs=1e-3)
    assert zeotrope.state("R-134a", temperature_K=300, pressure_Pa=100_000) == state


def test_a_state_has_the_slopes_of_the_pressure() -> None:
    nitrogen = zeotrope.Refrigerant("R-728").state(temperature_K=300.0, pressure_Pa=1e5)
    # nearly an ideal gas: 1/p, 1/T, RT/M, p/T and 7/5
    gas_constant = 8.314462618 / 28.0134e-3
    assert nitrogen["isothermal_compressibility_1_Pa"] * 1e5 == pytest.approx(1, abs=1e-3)
    assert nitrogen["thermal_expansion_1_K"] * 300 == pytest.approx(1, abs=3e-3)
    assert nitrogen["dp_drho_T_Pa_m3_kg"] == pytest.approx(gas_constant * 300, rel=3e-3)
    assert nitrogen["dp_dT_rho_Pa_K"] == pytest.approx(1e5 / 300, rel=3e-3)
    assert nitrogen["isentropic_exponent"] == pytest.approx(1.4, abs=3e-3)
    two = zeotrope.Refrigerant("R-134a").state(pressure_Pa=349_660, quality=0.5)
    assert two["isentropic_exponent"] is None
    assert two["vapor"]["isentropic_exponent"] > 0


def test_saturation_is_both_lines_at_once() -> None:
    r407c = zeotrope.Refrigerant("R-407C")
    found = r407c.saturation(pressure_Pa=500_000)
    bubble, dew = found["bubble"], found["dew"]
    assert dew["temperature_K"] == pytest.approx(r407c.dew_temperature_K(500_000), abs=1e-6)
    assert found["glide_K"] == pytest.approx(r407c.glide_K(500_000), abs=1e-6)
    # y of the vapor over x of the liquid
    for point in (bubble, dew):
        both = zip(point["vapor"]["mole_fractions"], point["liquid"]["mole_fractions"])
        assert point["k_values"] == pytest.approx([y / x for y, x in both], rel=1e-12)
        assert point["vapor"]["dp_dT_rho_Pa_K"] > 0
    # the slope of a line against the line itself, 0.02 K apart
    for point, line in ((bubble, r407c.bubble_pressure_Pa), (dew, r407c.dew_pressure_Pa)):
        at = point["temperature_K"]
        slope = (line(at + 0.01) - line(at - 0.01)) / 0.02
        assert point["dp_dT_line_Pa_K"] == pytest.approx(slope, rel=1e-6)
    gauge = r407c.saturation(pressure_Pa=398_675, atmosphere_Pa=101_325)
    assert gauge["dew"] == dew
    pure = zeotrope.Refrigerant("R-134a").saturation(temperature_K=273.15, reference_state="iir")
    assert pure["bubble"]["k_values"] == [1.0]
    assert pure["bubble"]["liquid"]["enthalpy_J_kg"] == pytest.approx(200_000, abs=1e-3)
    with pytest.raises(zeotrope.OutOfRange):
        r407c.saturation(temperature_K=500)
    with pytest.raises(ValueError, match="reference_state"):
        r407c.saturation(temperature_K=280, reference_state="mine")
    for wrong in ({}, {"temperature_K": 280, "pressure_Pa": 1e5}, {"temperature_K": [280]}):
        with pytest.raises(TypeError, match="temperature_K"):
            r407c.saturation(**wrong)
    for value in (True, "280", None, np.array([280.0, 281.0])):
        with pytest.raises(TypeError):
            r407c.saturation(temperature_K=value)


def test_a_blend_by_fractions() -> None:
    listed = zeotrope.blend({"R-32": 0.23, "R-125": 0.25, "R-134a": 0.52})
    assert listed == zeotrope.Refrigerant("R-407C")
    assert hash(listed) == hash(zeotrope.Refrigerant("r407c"))
    own = zeotrope.blend({"R-32": 0.7, "R-125": 0.3}, basis="mole")
    assert own.composition[0]["mole_fraction"] == pytest.approx(0.7)
    with pytest.raises(zeotrope.CompositionError):
        zeotrope.blend({"R-32": 0.7, "R-125": 0.2})
    with pytest.raises(TypeError):
        zeotrope.blend({"R-32": True})
    assert repr(listed) == "Refrigerant('R-407C')"


def test_what_a_refrigerant_says_of_itself() -> None:
    r = zeotrope.Refrigerant("R-454B")
    assert r.designation == "R-454B" and not r.is_pure
    assert r.safety_class == "A2L"
    assert sum(one["mass_fraction"] for one in r.composition) == pytest.approx(1)
    assert r.limits["temperature_min_K"] < 230 < r.limits["temperature_max_K"]
    assert r.critical_point is not None and 340 < r.critical_point["temperature_K"] < 360
    assert r.model["equations"]
    assert 0.05 < r.molar_mass_kg_mol < 0.07
    exact = r.exact()
    assert exact != r
    assert exact.dew_pressure_Pa(280.0) == pytest.approx(r.dew_pressure_Pa(280.0), rel=1e-9)


@pytest.mark.parametrize(
    "made",
    [
        zeotrope.Refrigerant("R-407C"),
        zeotrope.Refrigerant("R-32/R-125 (33.3/66.7)", basis="mole"),
        zeotrope.blend({"R-32": 1 / 3, "R-1234yf": 2 / 3}),
        zeotrope.Refrigerant("R-134a").exact(),
    ],
)
def test_pickled_it_answers_the_same_bits(made: zeotrope.Refrigerant) -> None:
    copy = pickle.loads(pickle.dumps(made))
    assert copy == made
    for temperature in (250.0, 281.3, 320.7):
        assert copy.dew_pressure_Pa(temperature) == made.dew_pressure_Pa(temperature)


def test_pickled_by_another_version_it_says_so() -> None:
    made, args = zeotrope.Refrigerant("R-134a").__reduce__()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made(*args)
    with pytest.warns(UserWarning, match="0.0.9"):
        made(*args[:-1], "0.0.9")
