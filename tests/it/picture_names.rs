//! Names on pictures against lines: a name crosses no line, but that of a thin line its own.

use crate::print_pictures::{attribute, check_names, names};
use crate::program::answer;

fn check(words: &str) {
    let words: Vec<&str> = words.split(' ').chain(["--format", "svg"]).collect();
    let svg = answer(&words);
    check_names(&svg, &[]);
}

/// Leaders, each from its point to its name; where a dot hides it, it is left out.
fn leaders(svg: &str) -> Vec<[(f64, f64); 2]> {
    let group = "<g stroke=\"black\" stroke-width=\"0.7\">\n";
    let Some((_, from)) = svg.split_once(group) else {
        return Vec::new();
    };
    let (inside, _) = from.split_once("</g>").unwrap();
    let ends = |line: &str| {
        let [x, y, to_x, to_y] = ["x1", "y1", "x2", "y2"].map(|key| attribute(line, key).unwrap());
        let hidden = 4.0 / (to_x - x).hypot(to_y - y);
        [
            (x + hidden * (to_x - x), y + hidden * (to_y - y)),
            (to_x, to_y),
        ]
    };
    inside.lines().map(ends).collect()
}

/// No leader crosses another or a name.
pub(crate) fn check_leaders(svg: &str) {
    let leaders = leaders(svg);
    let names = names(svg);
    for (index, [from, to]) in leaders.iter().enumerate() {
        let side = |a: &(f64, f64), b: &(f64, f64), c: &(f64, f64)| {
            (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
        };
        for [other, end] in &leaders[index + 1..] {
            let cross = side(from, to, other) * side(from, to, end) < 0.0
                && side(other, end, from) * side(other, end, to) < 0.0;
            assert!(!cross, "leaders from {from:?} and {other:?} cross");
        }
        for ([left, top, right, bottom], text) in &names {
            let passes = (0..=50).any(|step| {
                let share = f64::from(step) / 50.0;
                let x = from.0 + share * (to.0 - from.0);
                let y = from.1 + share * (to.1 - from.1);
                x > *left && x < *right && y > *top && y < *bottom
            });
            assert!(!passes, "the leader from {from:?} passes through '{text}'");
        }
    }
}

const PURES: [&str; 20] = [
    "R-22",
    "R-23",
    "R-32",
    "R-41",
    "R-124",
    "R-125",
    "R-134a",
    "R-143a",
    "R-152a",
    "R-161",
    "R-170",
    "R-227ea",
    "R-290",
    "R-600a",
    "R-717",
    "R-744",
    "R-1150",
    "R-1270",
    "R-1234yf",
    "R-1234ze(E)",
];
const BLENDS: [&str; 20] = [
    "R-401A", "R-404A", "R-407A", "R-407C", "R-407F", "R-410A", "R-417A", "R-422D", "R-427A",
    "R-438A", "R-448A", "R-449A", "R-450A", "R-452A", "R-452B", "R-454B", "R-454C", "R-455A",
    "R-507A", "R-513A",
];

#[test]
fn coils_and_temperature_entropy_domes() {
    for name in BLENDS {
        check(&format!(
            "chart {name} --picture coil --pressures 5bara,10bara --liquid 30C"
        ));
    }
    for name in PURES.iter().chain(&BLENDS) {
        check(&format!(
            "chart {name} --picture dome --plane ts --isolines quality --from -40C --to 60C"
        ));
    }
}

#[test]
fn curves_and_domes_of_several() {
    for pair in PURES.chunks(2).chain(BLENDS.chunks(2)) {
        let names = pair.join(" ");
        check(&format!(
            "chart {names} --picture curves --from -40C --to 15C"
        ));
        check(&format!(
            "chart {names} --picture dome --isolines temperature --from -40C --to 15C"
        ));
    }
}

#[test]
fn lenses_of_twenty_pairs() {
    for (at, first) in PURES.iter().enumerate() {
        let second = PURES[(at + 7) % PURES.len()];
        check(&format!(
            "chart {first} {second} --picture lens --temperatures -20C --mole"
        ));
    }
    for name in ["R-407A", "R-407C", "R-407F", "R-404A"] {
        check(&format!(
            "chart {name} --picture triangle --pressures 5bara"
        ));
    }
}

#[test]
fn cycles_and_losses() {
    for name in BLENDS {
        for plane in ["ph", "ts"] {
            check(&format!(
                "cycle {name} --evaporating -5C --condensing 40C --superheat 6K --picture {plane}"
            ));
        }
        for picture in ["composition", "lines"] {
            check(&format!(
                "leak {name} --temperature 20C --picture {picture}"
            ));
        }
    }
}

/// A path has two or three components: in a lens and in a triangle.
#[test]
fn paths_of_losses() {
    let of_two = [
        "R-410A", "R-410B", "R-415A", "R-415B", "R-420A", "R-421A", "R-423A", "R-431A", "R-433A",
        "R-433C", "R-436A", "R-450A", "R-451A", "R-454A", "R-454B", "R-454C", "R-500", "R-507A",
        "R-513A", "R-515B",
    ];
    let of_three = [
        "R-401A", "R-402A", "R-404A", "R-406A", "R-407A", "R-407C", "R-407F", "R-407H", "R-408A",
        "R-409A", "R-411A", "R-417A", "R-422D", "R-439A", "R-444A", "R-447A", "R-452A", "R-455A",
        "R-457A", "R-459A",
    ];
    for name in of_two.iter().chain(&of_three) {
        check(&format!("leak {name} --temperature 20C --picture path"));
    }
}

/// Points that crowd: both lines of a blend near its azeotrope, at two temperatures.
#[test]
fn lenses_near_azeotropes() {
    for name in [
        "R-410A", "R-500", "R-502", "R-507A", "R-513A", "R-515B", "R-450A", "R-454B",
    ] {
        for at in [
            "--pressures 5bara",
            "--temperatures=-20C,10C --mole",
            "--pressures 2bara,8bara",
        ] {
            check(&format!("chart {name} --picture lens {at}"));
        }
    }
}

/// Domes with three families of lines, where names are many.
#[test]
fn domes_full_of_lines() {
    for name in PURES.iter().chain(&BLENDS).filter(|name| **name != "R-744") {
        for isolines in [
            "ph --isolines temperature,entropy,quality",
            "ts --isolines pressure,quality,enthalpy",
        ] {
            check(&format!(
                "chart {name} --picture dome --plane {isolines} --from=-40C --to 25C"
            ));
        }
    }
}
