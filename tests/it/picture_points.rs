//! Points of pictures against the solver, azeotropes against measurements, names against lines, and
//! printed working against its own figures.

use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::chart::picture::{Isoline, Name, Part, Picture, PictureKind, PictureSubject, Plane};
use zeotrope::chart::{Choices, Request, Rows};
use zeotrope::units::{Atmosphere, Pressure, PressureUnit, Temperature, TemperatureUnit};
use zeotrope::{Given, ReferenceState, Refrigerant};

use crate::program::{answer, zeotrope};

fn named(name: &str) -> Refrigerant {
    Refrigerant::named(name).unwrap()
}

pub(crate) fn request(names: &[&str], rows: Rows) -> Request {
    Request {
        refrigerants: names.iter().map(|name| named(name)).collect(),
        rows,
        temperature_unit: TemperatureUnit::Celsius,
        pressure_unit: PressureUnit::BarAbsolute,
        site: Atmosphere::SEA_LEVEL,
        choices: Choices::default(),
    }
}
pub(crate) fn drawn(kind: PictureKind, request: &Request) -> Picture {
    Picture::new(kind, request, &Catalogue::embedded()).unwrap()
}
fn line(picture: &Picture, part: Part) -> &[(f64, f64)] {
    let found = picture.curves.iter().find(|curve| curve.part == part);
    &found.unwrap().points
}

/// The dome of each closes in one point, which is the critical point; no chord of its lines is longer than
/// an eighth of the field, and none turns sharply: no corners, no flat top.
#[test]
fn domes_close_without_corners() {
    let names = [
        "R-744", "R-407C", "R-134a", "R-717", "R-290", "R-600a", "R-32", "R-454B", "R-454C",
        "R-455A", "R-410A", "R-404A", "R-448A", "R-513A", "R-22", "R-23", "R-1234yf", "R-427A",
        "R-508B", "R-170",
    ];
    for name in names {
        for plane in [Plane::PressureEnthalpy, Plane::TemperatureEntropy] {
            let mut asked = request(&[name], Rows::Temperatures(vec![-60.0, 20.0]));
            asked.choices.picture.plane = plane;
            asked.choices.picture.isolines = Some(Vec::new());
            let found = drawn(PictureKind::Dome, &asked);
            let (bubble, dew) = (line(&found, Part::Bubble), line(&found, Part::Dew));
            let top = found.marks[0].1;
            assert_eq!(
                (bubble.last(), dew.last()),
                (Some(&top), Some(&top)),
                "{name}"
            );
            let critical = named(name).critical_point().unwrap();
            let wanted = match plane {
                Plane::PressureEnthalpy => critical.pressure.in_bar(),
                Plane::TemperatureEntropy => critical.temperature.in_celsius(),
            };
            assert!(
                (top.1 - wanted).abs() < 1e-6 * wanted.abs().max(100.0),
                "{name}"
            );
            let whole: Vec<(f64, f64)> = bubble
                .iter()
                .chain(dew.iter().rev().skip(1))
                .copied()
                .collect();
            let place = |at: &(f64, f64)| {
                (
                    1.5 * found.x.share_along(at.0).unwrap(),
                    found.y.share_along(at.1).unwrap(),
                )
            };
            let places: Vec<(f64, f64)> = whole.iter().map(place).collect();
            for three in places.windows(3) {
                let step = |a: (f64, f64), b: (f64, f64)| (b.0 - a.0, b.1 - a.1);
                let (first, second) = (step(three[0], three[1]), step(three[1], three[2]));
                let (one, two) = (first.0.hypot(first.1), second.0.hypot(second.1));
                if one.min(two) < 1e-4 {
                    continue;
                }
                let turn = (first.0 * second.0 + first.1 * second.1) / (one * two);
                assert!(
                    turn > 0.9,
                    "{name} {plane:?}: a corner of {turn} at {three:?}"
                );
                assert!(one.max(two) < 0.25, "{name}: a chord of {one} or {two}");
            }
        }
    }
}

/// Each point of the lines of a dome is a saturated state: at its temperature and density the solver has
/// that pressure and enthalpy. Each point of an isoline has its value.
#[test]
fn points_of_a_dome_are_states() {
    for name in ["R-744", "R-407C", "R-454B", "R-717"] {
        let one = named(name).exact();
        let mut asked = request(&[name], Rows::Temperatures(vec![-40.0, 60.0]));
        let kinds = [
            Isoline::Temperature,
            Isoline::Entropy,
            Isoline::Quality,
            Isoline::Density,
        ];
        asked.choices.picture.isolines = Some(kinds.to_vec());
        let found = drawn(PictureKind::Dome, &asked);
        let critical = one.critical_point().unwrap().pressure.in_bar();
        let mut checked = 0;
        for (part, is_bubble) in [(Part::Bubble, true), (Part::Dew, false)] {
            for (enthalpy, bar) in line(&found, part).iter().step_by(4) {
                if *bar > 0.97 * critical {
                    continue;
                }
                let own = one
                    .saturation_at_pressure(Pressure::bar(*bar), ReferenceState::Usual)
                    .unwrap();
                let own = match is_bubble {
                    true => own.bubble.unwrap().liquid.enthalpy,
                    false => own.dew.unwrap().vapor.enthalpy,
                };
                assert!(
                    (own / 1e3 - enthalpy).abs() < 1e-3,
                    "{name} {bar}: {own} {enthalpy}"
                );
                checked += 1;
            }
        }
        for curve in &found.curves {
            let Name::Isoline(kind, value) = curve.name else {
                continue;
            };
            for (enthalpy, bar) in curve.points.iter().step_by(5) {
                let given = Given::PressureEnthalpy(Pressure::bar(*bar), 1e3 * enthalpy);
                let Ok(states) = one.state(given, ReferenceState::Usual) else {
                    continue;
                };
                let state = &states[0];
                let (own, within) = match kind {
                    Isoline::Temperature => (state.properties.temperature.in_celsius(), 0.01),
                    Isoline::Entropy => (state.properties.entropy / 1e3, 1e-4),
                    Isoline::Density => (state.properties.density, 1e-3 * value),
                    _ => (state.quality.unwrap_or(value), 1e-4),
                };
                let is_near = *bar > 0.9 * critical && *bar < 1.1 * critical;
                assert!(
                    is_near || (own - value).abs() < within,
                    "{name} {kind:?} {value}: {own}"
                );
                checked += 1;
            }
        }
        assert!(checked > 150, "{name}: {checked}");
    }
}

/// Isotherms and lines of quality of two refrigerants in one picture, each a state of its own refrigerant;
/// programs read whose they are.
#[test]
fn isolines_of_several_are_states_of_their_own() {
    let names = ["R-32", "R-454B"];
    let mut asked = request(&names, Rows::Temperatures(vec![-40.0, 60.0]));
    asked.choices.picture.isolines = Some(vec![Isoline::Temperature, Isoline::Quality]);
    let found = drawn(PictureKind::Dome, &asked);
    for name in names {
        let one = named(name);
        let mut checked = 0;
        for curve in &found.curves {
            let Name::IsolineOf(own, kind, value) = &curve.name else {
                continue;
            };
            for (enthalpy, bar) in curve.points.iter().step_by(4).filter(|_| own == name) {
                let given = Given::PressureEnthalpy(Pressure::bar(*bar), 1e3 * enthalpy);
                let Ok(states) = one.state(given, ReferenceState::Usual) else {
                    continue;
                };
                let (found, within) = match kind {
                    Isoline::Temperature => (states[0].properties.temperature.in_celsius(), 0.01),
                    _ => (states[0].quality.unwrap_or(*value), 1e-4),
                };
                let near_critical = *bar > 0.85 * one.critical_point().unwrap().pressure.in_bar();
                let is_near = (found - value).abs() < within;
                assert!(near_critical || is_near, "{name} {kind:?} {value}: {found}");
                checked += 1;
            }
        }
        assert!(checked > 30, "{name}: {checked}");
    }
    let json = crate::program::json(&[
        "chart",
        "R-32",
        "R-454B",
        "--picture",
        "dome",
        "--from",
        "-40C",
        "--to",
        "60C",
        "--isolines",
        "quality",
    ]);
    let curves = json["curves"].as_array().unwrap();
    let of = |name: &str| {
        curves
            .iter()
            .filter(|one| one["refrigerant"] == name)
            .count()
    };
    // two lines of saturation and four of quality each
    assert_eq!((of("R-32"), of("R-454B")), (6, 6));
}

/// R-744 + R-1234yf at 40 bar: both lines end in one point, whose mixture has its critical pressure there.
/// The critical pressure of R-1234yf is 33.82 bar (published, from memory).
#[test]
fn an_open_end_is_explained() {
    let found = drawn(
        PictureKind::Lens,
        &request(&["R-744", "R-1234yf"], Rows::Pressures(vec![40.0])),
    );
    let (bubble, dew) = (line(&found, Part::Bubble), line(&found, Part::Dew));
    assert_eq!(bubble[0], dew[0]);
    let (percent, _) = bubble[0];
    let literal = format!("R-744/R-1234yf ({percent:.4}/{:.4})", 100.0 - percent);
    let critical = named(&literal).critical_point().unwrap();
    assert!(
        (critical.pressure.in_bar() - 40.0).abs() < 0.02,
        "{critical:?}"
    );
    assert!((critical.temperature.in_celsius() - bubble[0].1).abs() < 0.05);
    let PictureSubject::Lens { open, .. } = &found.subject else {
        panic!("a lens")
    };
    assert_eq!(open[0].refrigerant, "R-1234yf");
    assert!((open[0].critical.unwrap() / 1e5 - 33.82).abs() < 0.1);
    let page = answer(&[
        "chart",
        "R-744",
        "R-1234yf",
        "--picture",
        "lens",
        "--pressures",
        "40bara",
        "--format",
        "svg",
    ]);
    assert!(
        page.contains("above its critical pressure") && !page.contains("Dots:"),
        "{page}"
    );
}

/// A lens above the critical temperature or pressure of one component, where lines end in a critical point:
/// its points are in equilibrium by the refrigerant of each composition (consistency, not a reference), of
/// a dew line that turns by one of the two dew points there.
#[test]
fn points_beside_a_tip_are_bubble_and_dew_points() {
    let catalogue = Catalogue::embedded();
    let mut compared = 0;
    for (first, second, celsius) in [
        ("R-744", "R-134a", 40.0),
        ("R-744", "R-1234yf", 27.0),
        ("R-32", "R-290", 85.0),
    ] {
        let asked = request(&[first, second], Rows::Temperatures(vec![celsius]));
        let found = drawn(PictureKind::Lens, &asked);
        let at = Temperature::celsius(celsius);
        for part in [Part::Bubble, Part::Dew] {
            for (percent, bar) in line(&found, part).iter().step_by(5) {
                if *percent < 0.1 || *percent > 99.9 {
                    continue;
                }
                let literal = format!("{first}/{second} ({percent:.6}/{:.6})", 100.0 - percent);
                let one = Refrigerant::from_catalogue(&catalogue, &literal, Basis::Mass).unwrap();
                let own = one
                    .exact()
                    .saturation_at_temperature(at, ReferenceState::IdealGas);
                let Ok(own) = own else { continue };
                let points = [&own.bubble, &own.dew, &own.retrograde];
                let own = points
                    .into_iter()
                    .flatten()
                    .map(|own| own.pressure.in_bar());
                let off = own
                    .map(|own| (own / bar - 1.0).abs())
                    .fold(f64::INFINITY, f64::min);
                assert!(
                    off < 1e-5,
                    "{literal} at {celsius} °C: {bar} bar, {off:e} off"
                );
                compared += 1;
            }
        }
    }
    assert!(compared > 80, "{compared}");
}

/// Points of a lens by mole at a temperature and by mass at a pressure, each by the refrigerant of its own
/// composition.
#[test]
fn points_of_a_lens_are_bubble_and_dew_points() {
    for (first, second) in [
        ("R-32", "R-1234yf"),
        ("R-134a", "R-600a"),
        ("R-290", "R-744"),
    ] {
        for basis in [Basis::Mass, Basis::Mole] {
            let mut asked = request(&[first, second], Rows::Temperatures(vec![0.0]));
            asked.choices.picture.basis = basis;
            let found = drawn(PictureKind::Lens, &asked);
            let catalogue = Catalogue::embedded();
            for (part, is_bubble) in [(Part::Bubble, true), (Part::Dew, false)] {
                for (percent, bar) in line(&found, part).iter().step_by(7) {
                    if *percent < 0.01 || *percent > 99.99 {
                        continue;
                    }
                    let literal = format!("{first}/{second} ({percent:.8}/{:.8})", 100.0 - percent);
                    let one = Refrigerant::from_catalogue(&catalogue, &literal, basis)
                        .unwrap()
                        .exact();
                    let at = Temperature::celsius(0.0);
                    let own = match is_bubble {
                        true => one.bubble_pressure(at),
                        false => one.dew_pressure(at),
                    };
                    let own = own.unwrap().in_bar();
                    assert!((own / bar - 1.0).abs() < 1e-6, "{literal}: {own} {bar}");
                }
            }
        }
    }
}

fn inside(at: (f64, f64), [left, top, right, bottom]: [f64; 4]) -> bool {
    at.0 > left && at.0 < right && at.1 > top && at.1 < bottom
}
fn passes(curve: &[(f64, f64)], rect: [f64; 4]) -> bool {
    curve.windows(2).any(|pair| {
        (0..=40).any(|step| {
            let share = f64::from(step) / 40.0;
            let mean = |a: f64, b: f64| a + share * (b - a);
            inside(
                (mean(pair[0].0, pair[1].0), mean(pair[0].1, pair[1].1)),
                rect,
            )
        })
    })
}

/// On the domes of 40 refrigerants no name crosses a foreign line: a name of an isotherm stands on its own
/// line and on no other, all others on none.
#[test]
fn names_cross_no_foreign_line() {
    let names = [
        "R-11",
        "R-12",
        "R-22",
        "R-23",
        "R-32",
        "R-41",
        "R-113",
        "R-114",
        "R-115",
        "R-116",
        "R-123",
        "R-124",
        "R-125",
        "R-134a",
        "R-143a",
        "R-152a",
        "R-161",
        "R-170",
        "R-227ea",
        "R-236fa",
        "R-245fa",
        "R-290",
        "R-600",
        "R-600a",
        "R-717",
        "R-744",
        "R-1150",
        "R-1270",
        "R-1234yf",
        "R-1234ze(E)",
        "R-404A",
        "R-407C",
        "R-410A",
        "R-448A",
        "R-452B",
        "R-454B",
        "R-454C",
        "R-455A",
        "R-507A",
        "R-513A",
    ];
    let mut seen = 0;
    for name in names {
        let rows = Rows::Temperatures(vec![-40.0, 60.0]);
        let found = drawn(PictureKind::Dome, &request(&[name], rows));
        let svg = answer(&[
            "chart",
            name,
            "--picture",
            "dome",
            "--from",
            "-40C",
            "--to",
            "60C",
            "--pressure-unit",
            "bara",
            "--format",
            "svg",
        ]);
        let curves = crate::print_pictures::curves(&svg);
        assert_eq!(curves.len(), found.curves.len(), "{name}");
        for (rect, text) in crate::print_pictures::names(&svg) {
            let text = text.replace('\u{2212}', "-");
            let own = found.curves.iter().position(|curve| match &curve.name {
                Name::Isoline(_, value) => text == format!("{value} \u{b0}C"),
                _ => false,
            });
            for (place, curve) in curves.iter().enumerate() {
                let crossed = passes(curve, rect);
                assert!(
                    !crossed || own == Some(place),
                    "{name}: '{text}' on line {place}"
                );
            }
            seen += 1;
        }
    }
    assert!(seen > 240, "{seen}");
}

/// Whether a line of working that ends in a result leads to it by its printed figures: sums, differences,
/// products and quotients in the order in which they are printed.
fn leads(formula: &str, printed: &str) -> bool {
    let decimals = printed.split('.').nth(1).map_or(0, str::len);
    let value = evaluated(formula);
    format!("{value:.decimals$}") == printed
}

/// A formula of numbers, `+ - x /` and parentheses.
fn evaluated(text: &str) -> f64 {
    let signs: Vec<char> = text.chars().filter(|one| !one.is_whitespace()).collect();
    let (value, end) = sum(&signs, 0);
    assert_eq!(end, signs.len(), "{text}");
    value
}
fn sum(signs: &[char], from: usize) -> (f64, usize) {
    let (mut value, mut at) = product(signs, from);
    while let Some(sign) = signs.get(at).filter(|sign| matches!(sign, '+' | '-')) {
        let (next, end) = product(signs, at + 1);
        value += if *sign == '+' { next } else { -next };
        at = end;
    }
    (value, at)
}
fn product(signs: &[char], from: usize) -> (f64, usize) {
    let (mut value, mut at) = factor(signs, from);
    while let Some(sign) = signs.get(at).filter(|sign| matches!(sign, 'x' | '/')) {
        let (next, end) = factor(signs, at + 1);
        value = if *sign == 'x' {
            value * next
        } else {
            value / next
        };
        at = end;
    }
    (value, at)
}
fn factor(signs: &[char], from: usize) -> (f64, usize) {
    if signs[from] == '(' {
        let (value, end) = sum(signs, from + 1);
        assert_eq!(signs[end], ')');
        return (value, end + 1);
    }
    if signs[from] == '-' {
        let (value, end) = factor(signs, from + 1);
        return (-value, end);
    }
    let mut end = from;
    while end < signs.len() && (signs[end].is_ascii_digit() || signs[end] == '.') {
        end += 1;
    }
    let text: String = signs[from..end].iter().collect();
    (
        text.parse()
            .unwrap_or_else(|_| panic!("'{text}' in {signs:?}")),
        end,
    )
}

/// Every formula of a glide's working leads to the digits printed behind it.
#[test]
fn working_leads_to_its_printed_digits() {
    let questions = [
        "R-454C --pressure 4.1barg --liquid 38C",
        "R-455A --pressure 64.7psig --liquid 100F",
        "R-407C --pressure 63.2psig --liquid 100F",
        "R-448A --pressure 71.2psig",
        "R-454B --pressure 107.5psig --liquid 99F",
        "R-410A --pressure 16barg --coil condenser",
        "R-407C --pressure 16barg --coil condenser",
        "R-427A --pressure 3.3barg --liquid 31C",
    ];
    let mut checked = 0;
    for question in questions {
        let words: Vec<&str> = ["glide"].into_iter().chain(question.split(' ')).collect();
        let page = crate::program::json(&[&words[..], &["--explain"]].concat());
        let mut lines: Vec<&str> = Vec::new();
        for at in ["/working", "/evaporator/working", "/condenser/working"] {
            let told = page.pointer(at).and_then(serde_json::Value::as_array);
            lines.extend(
                told.into_iter()
                    .flatten()
                    .filter_map(serde_json::Value::as_str),
            );
        }
        for line in lines {
            for part in line.split([',', ';', ':']) {
                let sides: Vec<&str> = part.split(" = ").collect();
                for two in sides.windows(2) {
                    let printed = two[1]
                        .trim_start_matches('(')
                        .split([' ', ')'])
                        .next()
                        .unwrap();
                    let printed = printed.trim_end_matches('.');
                    let formula = two[0]
                        .trim()
                        .trim_start_matches("liquid ")
                        .trim_start_matches("vapor ");
                    let is_formula = |text: &str| {
                        let known = |one: char| one.is_ascii_digit() || " .+-x/()".contains(one);
                        text.chars().all(known) && text.contains(['+', '-', 'x', '/'])
                    };
                    if is_formula(formula) && printed.parse::<f64>().is_ok() {
                        assert!(leads(formula, printed), "{question}: {formula} = {printed}");
                        checked += 1;
                    }
                }
            }
        }
    }
    assert!(checked > 60, "{checked}");
}

/// R-22 + R-600a rests on an estimated pair: every picture of it and its numbers say so.
#[test]
fn estimated_pairs_are_told() {
    let asked = [
        "R-22/R-600a (60/40) --picture lens --pressures 5bara",
        "R-22/R-600a (60/40) --picture coil --pressures 5bara",
        "R-22/R-600a (60/40) --picture dome --from -40C --to 60C",
        "R-22/R-600a (60/40) --picture curves --from -40C --to 60C",
        "R-406A --picture triangle --pressures 5bara",
    ];
    for one in asked {
        let (name, rest) = one.split_once(" --").unwrap();
        let rest = format!("--{rest}");
        let words: Vec<&str> = ["chart", name].into_iter().chain(rest.split(' ')).collect();
        let svg = answer(&[&words[..], &["--format", "svg"]].concat());
        assert!(
            svg.contains("R-22 + R-600a: estimated") && svg.contains('\u{b1}'),
            "{one}"
        );
        let json = crate::program::json(&words);
        let pairs = json["estimated_pairs"].as_array().unwrap();
        assert!(
            pairs
                .iter()
                .any(|pair| pair["first"] == "R-22" && pair["second"] == "R-600a"),
            "{one}"
        );
    }
}

/// A second fluid in counterflow: R-134a boils at one temperature, so that the approach is where the air
/// leaves; by hand 15 degC minus the boiling temperature. Lines that cross are told.
#[test]
fn approach_of_a_second_fluid() {
    let mut asked = request(&["R-134a"], Rows::Pressures(vec![3.4966]));
    let air = zeotrope::chart::picture::FluidKind::Air;
    asked.choices.picture.second =
        zeotrope::chart::picture::SecondFluid::typed(air, "27C,15C").ok();
    let found = drawn(PictureKind::Coil, &asked);
    let PictureSubject::Coil { approaches, .. } = &found.subject else {
        panic!("a coil")
    };
    // 349.66 kPa is 5 degC (handbook table, from memory)
    assert!((approaches[0].least.in_kelvin() - 10.0).abs() < 0.05 && approaches[0].share == 0.0);
    let crossed = answer(&[
        "chart",
        "R-455A",
        "--picture",
        "coil",
        "--pressures",
        "65psig",
        "--liquid",
        "100F",
        "--water",
        "40F,26F",
        "--format",
        "svg",
    ]);
    assert!(crossed.contains("the lines cross"));
    let wrong = zeotrope(&[
        "chart",
        "R-455A",
        "--picture",
        "coil",
        "--pressures",
        "65psig",
        "--air",
        "80F",
    ]);
    assert_eq!(wrong.code, 2, "{}", wrong.err);
    assert!(wrong.err.contains("is not two different temperatures"));
}
