//! Every public entry that takes a number refuses what is not finite, and says which argument.

use zeotrope::chart::Rows;
use zeotrope::equilibrium::bubble_dew::Branch;
use zeotrope::process::coil::{Coil, LiquidFeed};
use zeotrope::process::cycle::{Cycle, GasCoolerPressure, Level};
use zeotrope::process::shift::{LossQuestion, loss};
use zeotrope::refrigerant::Wanted;
use zeotrope::service::air::moist_air::{Humidity, MoistAir, TwoStates};
use zeotrope::service::reading::superheat_subcooling::{Measure, Reading, subcooling, superheat};
use zeotrope::service::vessel::{at_rest, cylinder, evacuation};
use zeotrope::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};
use zeotrope::{Basis, Error, Given, ReferenceState, Refrigerant};

type Entry = (
    &'static str,
    Vec<f64>,
    Box<dyn Fn(&[f64]) -> Result<(), Error>>,
);

fn kelvin(value: f64) -> Temperature {
    Temperature::kelvin(value)
}

fn pascal(value: f64) -> Pressure {
    Pressure::pascal(value)
}

fn entry<T: 'static>(
    name: &'static str,
    good: &[f64],
    ask: impl Fn(&[f64]) -> Result<T, Error> + 'static,
) -> Entry {
    (name, good.to_vec(), Box::new(move |at| ask(at).map(drop)))
}

/// A pair of properties as a question.
type Ask = fn(f64, f64) -> Given;

/// All pairs with a state of R-134a near 300 K that has them: 10 bar, 1202.3 kg/m3.
fn pairs() -> Vec<(&'static str, [f64; 2], Ask)> {
    vec![
        ("T,p", [300.0, 1e6], |a, b| {
            Given::TemperaturePressure(kelvin(a), pascal(b))
        }),
        ("T,rho", [300.0, 1202.0], |a, b| {
            Given::TemperatureDensity(kelvin(a), b)
        }),
        ("T,h", [300.0, 300e3], |a, b| {
            Given::TemperatureEnthalpy(kelvin(a), b)
        }),
        ("T,s", [300.0, 1.5e3], |a, b| {
            Given::TemperatureEntropy(kelvin(a), b)
        }),
        ("T,q", [300.0, 0.5], |a, b| {
            Given::TemperatureQuality(kelvin(a), b)
        }),
        ("p,rho", [5e5, 100.0], |a, b| {
            Given::PressureDensity(pascal(a), b)
        }),
        ("p,h", [5e5, 300e3], |a, b| {
            Given::PressureEnthalpy(pascal(a), b)
        }),
        ("p,s", [5e5, 1.5e3], |a, b| {
            Given::PressureEntropy(pascal(a), b)
        }),
        ("p,q", [5e5, 0.5], |a, b| {
            Given::PressureQuality(pascal(a), b)
        }),
        ("rho,h", [100.0, 300e3], Given::DensityEnthalpy),
        ("rho,s", [100.0, 1.5e3], Given::DensityEntropy),
        ("rho,q", [100.0, 0.3], Given::DensityQuality),
        ("h,s", [300e3, 1.4e3], Given::EnthalpyEntropy),
        ("h,q", [300e3, 0.5], Given::EnthalpyQuality),
        ("s,q", [1.4e3, 0.5], Given::EntropyQuality),
    ]
}

fn lines_and_states() -> Vec<Entry> {
    let mut entries = Vec::new();
    for name in ["R-134a", "R-407C"] {
        let own = |ask: fn(&Refrigerant, &[f64]) -> Result<(), Error>| {
            let refrigerant = Refrigerant::named(name).unwrap();
            move |at: &[f64]| ask(&refrigerant, at)
        };
        let t: &[f64] = &[280.0];
        let p: &[f64] = &[5e5];
        entries.push(entry(
            "bubble_pressure",
            t,
            own(|r, at| r.bubble_pressure(kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "dew_pressure",
            t,
            own(|r, at| r.dew_pressure(kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "exact",
            t,
            own(|r, at| r.exact().dew_pressure(kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "bubble_temperature",
            p,
            own(|r, at| r.bubble_temperature(pascal(at[0])).map(drop)),
        ));
        entries.push(entry(
            "dew_temperature",
            p,
            own(|r, at| r.dew_temperature(pascal(at[0])).map(drop)),
        ));
        entries.push(entry(
            "bubble_point",
            t,
            own(|r, at| r.bubble_point(kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "dew_point",
            t,
            own(|r, at| r.dew_point(kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "saturation_at_temperature",
            t,
            own(|r, at| {
                r.saturation_at_temperature(kelvin(at[0]), ReferenceState::Iir)
                    .map(drop)
            }),
        ));
        entries.push(entry(
            "saturation_at_pressure",
            p,
            own(|r, at| {
                r.saturation_at_pressure(pascal(at[0]), ReferenceState::Iir)
                    .map(drop)
            }),
        ));
        entries.push(entry(
            "ideal_at_temperature",
            t,
            own(|r, at| r.ideal_at_temperature(Branch::Dew, kelvin(at[0])).map(drop)),
        ));
        entries.push(entry(
            "ideal_at_pressure",
            p,
            own(|r, at| r.ideal_at_pressure(Branch::Dew, pascal(at[0])).map(drop)),
        ));
        entries.push(entry(
            "density",
            &[300.0, 1e6],
            own(|r, at| r.density(kelvin(at[0]), pascal(at[1])).map(drop)),
        ));
        entries.push(entry(
            "temperature_at_enthalpy",
            &[8e5, 300e3],
            own(|r, at| {
                r.temperature_at_enthalpy(pascal(at[0]), at[1], ReferenceState::Iir)
                    .map(drop)
            }),
        ));
        entries.push(entry(
            "entropy_at_enthalpy",
            &[8e5, 300e3],
            own(|r, at| {
                r.entropy_at_enthalpy(pascal(at[0]), at[1], ReferenceState::Iir)
                    .map(drop)
            }),
        ));
    }
    for (name, good, ask) in pairs() {
        let r134a = Refrigerant::named("R-134a").unwrap();
        entries.push(entry(name, &good, move |at: &[f64]| {
            r134a.state(ask(at[0], at[1]), ReferenceState::Iir)?;
            Ok(())
        }));
        let r134a = Refrigerant::named("R-134a").unwrap();
        entries.push(entry(name, &good, move |at: &[f64]| {
            // of two states that have both, the answer is that there are two
            match r134a.number(Wanted::Pressure, ask(at[0], at[1]), ReferenceState::Iir) {
                Err(Error::NoState { .. }) => Ok(()),
                other => other.map(drop),
            }
        }));
    }
    entries
}

fn services() -> Vec<Entry> {
    let r = || Refrigerant::named("R-407C").unwrap();
    let site = Atmosphere::SEA_LEVEL;
    let (a, b, c, d) = (r(), r(), r(), r());
    let mut entries = vec![
        entry("superheat", &[5e5, 290.0], move |at| {
            superheat(&a, pascal(at[0]), kelvin(at[1]))
        }),
        entry("subcooling", &[15e5, 300.0], move |at| {
            subcooling(&b, pascal(at[0]), kelvin(at[1]))
        }),
        entry("Reading", &[5e5, 290.0], move |at| {
            Reading::new(Measure::Superheat, &c, pascal(at[0]), kelvin(at[1]))
        }),
        entry("at_rest", &[8e5, 290.0], move |at| {
            at_rest::at_rest(&d, pascal(at[0]), kelvin(at[1]), None)
        }),
        entry("MoistAir", &[300.0, 0.5, 1e5], |at| {
            MoistAir::new(kelvin(at[0]), Humidity::Relative(at[1]), pascal(at[2]))
        }),
        entry("MoistAir by wet bulb", &[300.0, 290.0], move |at| {
            MoistAir::new(kelvin(at[0]), Humidity::WetBulb(kelvin(at[1])), pascal(1e5))
        }),
        entry("MoistAir by dew point", &[300.0, 285.0], move |at| {
            MoistAir::new(
                kelvin(at[0]),
                Humidity::DewPoint(kelvin(at[1])),
                pascal(1e5),
            )
        }),
        entry("TwoStates", &[300.0, 285.0, 1.0], move |at| {
            let (warm, cold) = (Humidity::Relative(0.5), Humidity::Relative(0.9));
            TwoStates::new((kelvin(at[0]), warm), (kelvin(at[1]), cold), at[2], &site)
        }),
        entry("sublimation_pressure", &[250.0], |at| {
            evacuation::sublimation_pressure(kelvin(at[0]))
        }),
        entry("atmosphere at an elevation", &[1600.0], |at| {
            Atmosphere::standard_at_elevation(at[0])
        }),
        entry("atmosphere as measured", &[9e4], |at| {
            Atmosphere::from_station_pressure(pascal(at[0]))
        }),
        entry("Rows", &[-40.0, 60.0, 5.0], |at| {
            Rows::temperatures(at[0], at[1], Some(at[2]))
        }),
        entry("from_fractions", &[0.4, 0.6], |at| {
            Refrigerant::from_fractions(&[("R-32", at[0]), ("R-125", at[1])], Basis::Mass)
        }),
        entry("normalized", &[4.0, 6.0], |at| {
            zeotrope::catalogue::normalized(&[("R-32", at[0]), ("R-125", at[1])])
                .map(|found| found.len())
        }),
    ];
    let r134a = Refrigerant::named("R-134a").unwrap();
    entries.push(entry("cylinder::rules", &[0.02, 0.75], move |at| {
        cylinder::rules(&r134a, at[0], Some(at[1]))
    }));
    let r134a = Refrigerant::named("R-134a").unwrap();
    entries.push(entry("cylinder::filled", &[800.0, 300.0], move |at| {
        cylinder::filled(&r134a, at[0], kelvin(at[1]))
    }));
    entries
}

fn processes() -> Vec<Entry> {
    let (a, b, c, d) = (
        Refrigerant::named("R-407C").unwrap(),
        Refrigerant::named("R-407C").unwrap(),
        Refrigerant::named("R-744").unwrap(),
        Refrigerant::named("R-407C").unwrap(),
    );
    vec![
        entry("Coil", &[5e5, 300.0, 15e5], move |at| {
            let liquid = LiquidFeed {
                temperature: kelvin(at[1]),
                pressure: Some(pascal(at[2])),
            };
            Coil::evaporator(&a, pascal(at[0]), Some(liquid), ReferenceState::Iir)
        }),
        entry(
            "Cycle",
            &[270.0, 310.0, 5.0, 3.0, 0.7, 0.3, 1e4, 1e4, 1e4],
            move |at| {
                Cycle::between(Level::dew(kelvin(at[0])), Level::mean(kelvin(at[1])))
                    .useful_superheat(TemperatureDifference::kelvin(at[2]))
                    .subcooling(TemperatureDifference::kelvin(at[3]))
                    .efficiency(at[4])
                    .suction_line_exchanger(at[5])
                    .evaporator_drop(at[6])
                    .condenser_drop(at[7])
                    .capacity(at[8])
                    .solve(&b)
            },
        ),
        entry("transcritical Cycle", &[265.0, 95e5, 308.0], move |at| {
            let pressure = GasCoolerPressure::At(pascal(at[1]));
            Cycle::transcritical(Level::dew(kelvin(at[0])), pressure, kelvin(at[2])).solve(&c)
        }),
        entry("loss", &[297.0], move |at| {
            loss(&d, &LossQuestion::vapor(kelvin(at[0])))
        }),
    ]
}

#[test]
fn what_is_not_finite_is_refused_by_name() {
    let (mut asked, mut wrong) = (0, Vec::new());
    for (name, good, ask) in lines_and_states()
        .into_iter()
        .chain(services())
        .chain(processes())
    {
        ask(&good).unwrap_or_else(|error| panic!("{name} {good:?}: {error}"));
        for place in 0..good.len() {
            for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let mut at = good.clone();
                at[place] = bad;
                match ask(&at) {
                    Ok(()) => wrong.push(format!("{name} {at:?} is answered")),
                    Err(error) => {
                        // the message shows what was given, or the hint says what to give
                        let told = error.to_string();
                        let shown = told.contains("NaN") || told.contains("inf");
                        if !shown && error.hint().is_none() {
                            wrong.push(format!("{name} {at:?}: {told}"));
                        }
                    }
                }
                asked += 1;
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(asked > 300, "{asked}");
}
