//! Flow in a pipe and the head of a column, beside figures computed by hand from properties of
//! CoolProp 8.0.0, a cross-check.

use approx::assert_relative_eq;
use zeotrope::Refrigerant;
use zeotrope::process::pipe::{PipeLine, PipeQuestion, pipe_flow};
use zeotrope::process::riser::{RiserQuestion, riser};
use zeotrope::units::{Pressure, Temperature};

/// 10 kW between 0 °C with 5 K of superheat and 40 °C with 5 K of subcooling in 20 mm:
/// m = Q/(h1 - h3), v = m/(rho pi d^2/4).
#[test]
fn flow_and_velocity_in_a_suction_line() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let asked = PipeQuestion {
        line: PipeLine::Suction,
        capacity: 10_000.0,
        diameter: 0.02,
        low: Pressure::pascal(292_803.2),
        high: Pressure::pascal(1_016_593.0),
        suction: Temperature::celsius(5.0),
        liquid: Temperature::celsius(35.0),
        discharge: None,
    };
    let found = pipe_flow(&r134a, asked).unwrap();
    assert_relative_eq!(found.mass_flow, 0.064_902_6, max_relative = 1e-5);
    assert_relative_eq!(found.density, 14.066_04, max_relative = 1e-5);
    assert_relative_eq!(found.velocity, 14.687_24, max_relative = 2e-5);
}

/// 6 m of liquid at 30 °C, 10 bar at the bottom: rho g h = 69.96 kPa; bubble minus liquid temperature
/// at both ends.
#[test]
fn a_riser_takes_its_head_off_the_pressure() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let asked = RiserQuestion {
        liquid: Temperature::celsius(30.0),
        pressure: Some(Pressure::bar(10.0)),
        height: 6.0,
    };
    let found = riser(&r134a, asked).unwrap();
    assert_relative_eq!(found.head, 69_960.7, max_relative = 1e-5);
    assert_relative_eq!(
        found.top.unwrap().in_pascal(),
        930_039.3,
        max_relative = 1e-5
    );
    let [bottom, top] = found.subcooling.unwrap();
    assert!((bottom - 9.3876).abs() < 1e-3 && (top - 6.7186).abs() < 1e-3);
}
