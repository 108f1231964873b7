//! Target superheat: the estimate by hand, its refusals, and the manufacturer's chart from a CSV.

use zeotrope::service::air::target_superheat::{SuperheatChart, estimate};
use zeotrope::units::{Temperature, TemperatureDifference};

use crate::program::{answer, json, zeotrope};

fn fahrenheit(wet: f64, outdoor: f64) -> Option<f64> {
    let target = estimate(
        Temperature::fahrenheit(wet),
        Temperature::fahrenheit(outdoor),
    );
    target.ok().map(|one| one.superheat.in_fahrenheit_degrees())
}

/// By hand: (3 WB - 80 - DB)/2, common practice, no source.
#[test]
fn the_estimate_is_the_field_formula() {
    for (wet, outdoor, by_hand) in [(64.0, 96.0, 8.0), (67.0, 95.0, 13.0), (70.0, 70.0, 30.0)] {
        let found = fahrenheit(wet, outdoor).unwrap();
        assert!((found - by_hand).abs() < 1e-9, "{wet} {outdoor}: {found}");
    }
}

/// Corners in which printed charts forbid charging though the formula gives 5 °F or more (from
/// memory), what is as dry and as hot beyond them, and the limits of the method.
#[test]
fn the_estimate_refuses() {
    for (wet, outdoor) in [
        (60.0, 85.0),
        (60.0, 90.0),
        (62.0, 95.0),
        (64.0, 100.0),
        (59.0, 85.0),
        (61.0, 96.0),
        (63.0, 101.0),
    ] {
        assert_eq!(fahrenheit(wet, outdoor), None, "{wet} {outdoor}");
    }
    // Below 5 °F; outdoors below 55 °F; beyond the charts.
    for (wet, outdoor) in [
        (65.0, 105.5),
        (64.0, 54.9),
        (49.0, 60.0),
        (77.0, 90.0),
        (76.0, 116.0),
    ] {
        assert_eq!(fahrenheit(wet, outdoor), None, "{wet} {outdoor}");
    }
    // Just this side of each.
    for (wet, outdoor) in [
        (60.0, 84.9),
        (62.1, 95.0),
        (64.1, 100.0),
        (65.0, 105.0),
        (64.0, 55.0),
    ] {
        assert!(fahrenheit(wet, outdoor).is_some(), "{wet} {outdoor}");
    }
}

/// A degree of either bulb moves the estimate as much as its sensitivity says.
#[test]
fn the_sensitivity_is_that_of_the_formula() {
    let at = |wet, outdoor| fahrenheit(wet, outdoor).unwrap();
    let target = estimate(Temperature::fahrenheit(68.0), Temperature::fahrenheit(90.0)).unwrap();
    assert!((at(69.0, 90.0) - at(68.0, 90.0) - target.per_wet_bulb).abs() < 1e-9);
    assert!((at(68.0, 91.0) - at(68.0, 90.0) - target.per_outdoor).abs() < 1e-9);
}

#[test]
fn a_wet_bulb_is_computed_at_the_site() {
    let question = |elevation: &'static str| {
        json(&[
            "target-superheat",
            "--indoor-dry-bulb",
            "75F",
            "--indoor-relative-humidity",
            "50%",
            "--outdoor-dry-bulb",
            "85F",
            "--elevation",
            elevation,
        ])
    };
    let wet_bulb =
        |answer: &serde_json::Value| answer["indoor_wet_bulb_K"].as_f64().unwrap() * 1.8 - 459.67;
    // Computed with CoolProp 8.0.0, a cross-check: 62.55 °F at sea level, 61.71 °F at 5280 ft.
    let (low, high) = (question("0ft"), question("5280ft"));
    assert!((wet_bulb(&low) - 62.55).abs() < 0.03, "{}", wet_bulb(&low));
    assert!(
        (wet_bulb(&high) - 61.71).abs() < 0.03,
        "{}",
        wet_bulb(&high)
    );
    // 0.84 °F of wet bulb are 1.26 °F of target.
    let target = |answer: &serde_json::Value| answer["target_superheat_K"].as_f64().unwrap();
    assert!(((target(&low) - target(&high)) * 1.8 - 1.26).abs() < 0.06);
}

/// A chart invented for the test: rises by 3 a column, falls by 2 a row, one corner forbidden.
const CHART: &str = "# invented\n\
    outdoor_dry_bulb_F, 60, 62, 64, 66\n\
    80, 10, 13, 16, 19\n\
    85, 8, 11, 14, 17\n\
    90, , 9, 12, 15\n";

fn with_chart(text: &str, wet: &str, outdoor: &str) -> crate::program::Run {
    static COUNT: std::sync::atomic::AtomicUsize = std::sync::atomic::AtomicUsize::new(0);
    let count = COUNT.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
    let name = format!("zeotrope-chart-{}-{count}.csv", std::process::id());
    let path = std::env::temp_dir().join(name);
    std::fs::write(&path, text).unwrap();
    let run = zeotrope(&[
        "target-superheat",
        "--indoor-wet-bulb",
        wet,
        "--outdoor-dry-bulb",
        outdoor,
        "--chart",
        path.to_str().unwrap(),
        "--format",
        "json",
    ]);
    std::fs::remove_file(&path).unwrap();
    run
}

#[test]
fn a_chart_is_read_and_interpolated_inside_alone() {
    let run = with_chart(CHART, "63F", "82.5F");
    assert_eq!(run.code, 0, "{}", run.err);
    let found: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    // By hand: 13.5 between the columns, 1 less half a row down.
    let degrees = found["target_superheat_K"].as_f64().unwrap() * 1.8;
    assert!((degrees - 13.5).abs() < 1e-9, "{degrees}");
    assert_eq!(found["method"], "chart");
    assert!((found["per_wet_bulb_K_K"].as_f64().unwrap() - 1.5).abs() < 1e-9);
    assert!((found["per_outdoor_dry_bulb_K_K"].as_f64().unwrap() - -0.4).abs() < 1e-9);
    for (wet, outdoor, word) in [
        ("61F", "88F", "empty"),
        ("67F", "85F", "outside the chart"),
        ("62F", "91F", "outside the chart"),
        ("59.9F", "82F", "outside the chart"),
    ] {
        let run = with_chart(CHART, wet, outdoor);
        assert_eq!(run.code, 1, "{wet} {outdoor}");
        assert!(run.err.contains(word), "{}", run.err);
    }
    // At a node the node itself, if its neighbours are numbers.
    let run = with_chart(CHART, "66F", "90F");
    let found: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert!((found["target_superheat_K"].as_f64().unwrap() * 1.8 - 15.0).abs() < 1e-9);
}

#[test]
fn a_chart_that_is_none_is_refused() {
    for (text, word) in [
        ("", "holds no chart"),
        ("DB,60,62\n80,1,2\n85,0,1\n", "first cell is 'DB'"),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,9\n85,8,7\n",
            "does not rise with the wet bulb",
        ),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,10\n85,8,9\n",
            "does not rise with the wet bulb",
        ),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,12\n85,10,11\n",
            "does not fall with the outdoor",
        ),
        (
            "outdoor_dry_bulb_F,60,62,64\n80,10,,9\n85,8,9,10\n",
            "does not rise with the wet bulb",
        ),
        (
            "outdoor_dry_bulb_F,62,60\n80,10,12\n85,8,9\n",
            "do not rise",
        ),
        ("outdoor_dry_bulb_F,60,62\n80,10,12\n", "at least two rows"),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,12\n85,8\n",
            "not of one length",
        ),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,x\n85,8,9\n",
            "row 2, column 3: 'x'",
        ),
        (
            "outdoor_dry_bulb_F,60,62\n80,10,nan\n85,8,9\n",
            "not a number",
        ),
        (
            "outdoor_dry_bulb_F,60,62\n80,-2,12\n85,-3,9\n",
            "below zero",
        ),
    ] {
        let run = with_chart(text, "61F", "82F");
        assert_eq!(run.code, 1, "{text}");
        assert!(run.err.contains(word), "{text}: {}", run.err);
        assert!(run.err.contains("hint: "), "{}", run.err);
        assert_eq!(run.out, "");
    }
}

#[test]
fn the_page_calls_it_an_estimate_and_names_the_conditions() {
    let page = answer(&[
        "target-superheat",
        "--indoor-wet-bulb",
        "64F",
        "--outdoor-dry-bulb",
        "96F",
        "--thermometer-accuracy",
        "1F",
    ]);
    // A line may be broken anywhere.
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "an estimate",
        "8.0 °F",
        "15 minutes",
        "thermometers, root-sum-square ± 1.6 °F",
        "thermometers, worst case ± 2.0 °F",
        "outdoor air at least 55.0 °F",
        "return air at least 70.0 °F",
        "follow the manufacturer's charging procedure",
        "-7.5 °F to +3.0 °F",
        "no source",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

proptest::proptest! {
    /// Inside a monotone chart the target lies between the cells around it.
    #[test]
    fn a_target_lies_between_its_cells(x in 0.0f64..1.0, y in 0.0f64..1.0) {
        let heads = |values: [f64; 2]| values.map(Temperature::fahrenheit).to_vec();
        let row = |values: [f64; 2]| {
            values.map(|value| Some(TemperatureDifference::fahrenheit_degrees(value))).to_vec()
        };
        let chart = SuperheatChart::new(
            heads([80.0, 90.0]),
            heads([60.0, 64.0]),
            vec![row([9.0, 20.0]), row([5.0, 12.0])],
        ).unwrap();
        let target = chart.target(
            Temperature::fahrenheit(60.0 + 4.0 * x),
            Temperature::fahrenheit(80.0 + 10.0 * y),
        ).unwrap();
        let found = target.superheat.in_fahrenheit_degrees();
        proptest::prop_assert!((5.0 - 1e-9..=20.0 + 1e-9).contains(&found));
        // By hand: the mean of the four cells, weighted by the opposite areas.
        let by_hand = (1.0 - x) * (1.0 - y) * 9.0 + x * (1.0 - y) * 20.0 + (1.0 - x) * y * 5.0
            + x * y * 12.0;
        proptest::prop_assert!((found - by_hand).abs() < 1e-6);
    }
}
