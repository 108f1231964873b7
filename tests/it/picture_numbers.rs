//! The numbers behind pictures, for a spreadsheet and for programs.

use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::chart::Rows;
use zeotrope::chart::picture::{Picture, PictureKind};
use zeotrope::units::Pressure;
use zeotrope::{ReferenceState, Refrigerant};

use crate::picture_points::request;
use crate::program::answer;

/// Numbers behind each kind of picture: CSV has the keys of the JSON and as many rows as it has points.
#[test]
fn numbers_behind_pictures() {
    let asked = [
        "R-454B --picture lens --pressures 5bara",
        "R-407C --picture triangle --pressures 5bara",
        "R-407C --picture coil --pressures 5bara --liquid 40C",
        "R-290 --picture dome --from -40C --to 60C --plane ts",
        "R-290 --picture curves --from -40C --to 60C",
    ];
    for one in asked {
        let words: Vec<&str> = ["chart"].into_iter().chain(one.split(' ')).collect();
        let csv = answer(&[&words[..], &["--format", "csv"]].concat());
        let json = crate::program::json(&words);
        let heads = csv.lines().next().unwrap();
        let axes = [&json["axes"]["across"], &json["axes"]["up"]].map(|key| key.as_str().unwrap());
        assert_eq!(
            heads,
            format!("curve,line,{},{}", axes[0], axes[1]),
            "{one}"
        );
        let curves = json["curves"].as_array().unwrap();
        let points: usize = curves
            .iter()
            .map(|curve| curve["points"].as_array().unwrap().len())
            .sum();
        let marks = json["marks"].as_array().unwrap().len();
        assert_eq!(csv.lines().count(), 1 + points + marks, "{one}");
    }
}

/// The same behind pictures of other answers. What each point is comes from the solver: the bubble line of
/// a cycle's dome, the states of the cycle, and what is left of a blend before anything is lost.
#[test]
fn numbers_behind_cycles_and_losses() {
    let cycle = [
        "cycle",
        "R-407C",
        "--evaporating",
        "0C",
        "--condensing",
        "40C",
        "--picture",
        "ph",
    ];
    let leak = ["leak", "R-407C", "--temperature", "20C", "--picture"];
    let leak = |kind| [&leak[..], &[kind]].concat();
    let asked: [(Vec<&str>, [&str; 2]); 4] = [
        (cycle.to_vec(), ["enthalpy_J_kg", "pressure_Pa"]),
        (leak("composition"), ["lost_mass_fraction", "mass_fraction"]),
        (leak("lines"), ["lost_mass_fraction", "pressure_Pa"]),
        (leak("path"), ["mass_fraction_R-32", "mass_fraction_R-125"]),
    ];
    for (words, axes) in &asked {
        let csv = answer(&[&words[..], &["--format", "csv"]].concat());
        let json = crate::program::json(words);
        let picture = &json["picture"];
        assert_eq!(picture["axes"]["across"], axes[0]);
        let heads = format!("curve,line,{},{}", axes[0], axes[1]);
        assert_eq!(csv.lines().next().unwrap(), heads);
        let curves = picture["curves"].as_array().unwrap();
        let points = curves
            .iter()
            .map(|one| one["points"].as_array().unwrap().len());
        let marks = picture["marks"].as_array().unwrap().len();
        assert_eq!(csv.lines().count(), 1 + points.sum::<usize>() + marks);
    }
    let one = Refrigerant::named("R-407C").unwrap();
    let csv = answer(&[&cycle[..], &["--format", "csv"]].concat());
    let mut bubbles = 0;
    for row in csv.lines().filter(|row| row.starts_with("R-407C,bubble,")) {
        let figures: Vec<f64> = row
            .split(',')
            .skip(2)
            .map(|text| text.parse().unwrap())
            .collect();
        if figures[1] > 0.95 * one.critical_point().unwrap().pressure.in_pascal() {
            continue;
        }
        let pressure = Pressure::pascal(figures[1]);
        let own = one
            .saturation_at_pressure(pressure, ReferenceState::Usual)
            .unwrap();
        let own = own.bubble.unwrap().liquid.enthalpy;
        assert!((own - figures[0]).abs() < 1.0, "{row}: {own}");
        bubbles += 1;
    }
    assert!(bubbles > 10, "{bubbles}");
    let left = answer(&[&leak("composition")[..], &["--format", "csv"]].concat());
    let row = left
        .lines()
        .find(|row| row.starts_with("R-134a,remaining,0"))
        .unwrap();
    let share: f64 = row.rsplit(',').next().unwrap().parse().unwrap();
    assert!((share - 0.52).abs() < 1e-9, "{row}");
}

/// A test of consistency: lines that were kept are those that are found anew, as with a catalogue of
/// which nothing is kept, whatever was asked between.
#[test]
fn kept_lines_are_those_found_anew() {
    let own = "
- designation: R-9403
  components:
    - {refrigerant: R-32, mass_percent: 60}
    - {refrigerant: R-1234yf, mass_percent: 40}
";
    let anew = Catalogue::with_texts(&[("blends.yaml", own)]).unwrap();
    let known = Catalogue::embedded();
    let published = (known.with_published_pairs(), anew.with_published_pairs());
    let lens = |name: &str, pressures: &[f64], basis| {
        let mut asked = request(&[name], Rows::Pressures(pressures.to_vec()));
        asked.choices.picture.basis = basis;
        (PictureKind::Lens, asked)
    };
    let triangle = |name: &str, pressure| {
        let asked = request(&[name], Rows::Pressures(vec![pressure]));
        (PictureKind::Triangle, asked)
    };
    let mut questions = Vec::new();
    for share in 0..3 {
        let blend = |names: &str| format!("{names} ({}/{})", 40 + share, 60 - share);
        let blend_of_three = format!("R-32/R-125/R-134a ({}/25/{})", 20 + share, 55 - share);
        questions.extend([
            lens(&blend("R-32/R-1234yf"), &[10.0], Basis::Mass),
            lens(&blend("R-1234yf/R-32"), &[10.0], Basis::Mass),
            lens(&blend("R-32/R-1234yf"), &[10.0], Basis::Mole),
            lens(&blend("R-32/R-1234yf"), &[5.0, 10.0], Basis::Mass),
            lens(&blend("R-744/R-1234yf"), &[40.0], Basis::Mass),
            lens(&blend("R-134a/R-717"), &[3.0], Basis::Mass),
            triangle(&blend_of_three, 5.0),
            triangle(&blend_of_three, 6.0),
        ]);
    }
    for (kind, asked) in &questions {
        for (kept, anew) in [(&known, &anew), (&published.0, &published.1)] {
            let [kept, anew] = [kept, anew].map(|from| Picture::new(*kind, asked, from).unwrap());
            assert_eq!(kept, anew);
        }
    }
}

/// A lens is drawn with the parameters of pairs that were asked for: its line passes through what the same
/// parameters answer beside it (consistency).
#[test]
fn a_lens_has_the_pairs_that_were_asked_for() {
    let bubbles = ["refitted", "published"].map(|pairs| {
        let words = |text: &'static str| text.split(' ').chain(["--pairs", pairs]);
        let lens: Vec<&str> = ["chart", "R-717/R-134a (50/50)"]
            .into_iter()
            .chain(words("--picture lens --pressures 5bara --format csv"))
            .collect();
        let csv = answer(&lens);
        let row = csv
            .lines()
            .find_map(|line| line.strip_prefix("5 bara,bubble,0.0125,"));
        let drawn: f64 = row.unwrap().parse().unwrap();
        let beside: Vec<&str> = ["saturation", "R-717/R-134a (1.25/98.75)"]
            .into_iter()
            .chain(words("--pressure 5bara"))
            .collect();
        let json = crate::program::json(&beside);
        let answered = json["bubble"]["temperature_K"].as_f64().unwrap();
        assert!(
            (drawn - answered).abs() < 1e-3,
            "{pairs}: {drawn} {answered}"
        );
        answered
    });
    assert!((bubbles[0] - bubbles[1]).abs() > 0.05, "{bubbles:?}");
}

/// A lens has no gap where its compositions are answered one by one, though neighbors do not lead there:
/// beside the azeotrope of R-134a and R-600a.
#[test]
fn a_lens_is_whole_beside_its_azeotrope() {
    let words = ["chart", "R-134a/R-600a (50/50)", "--picture", "lens"];
    let json = crate::program::json(&[&words[..], &["--pressures", "1bara"]].concat());
    let curves = json["curves"].as_array().unwrap();
    for line in ["bubble", "dew"] {
        let runs = curves.iter().filter(|curve| curve["line"] == line).count();
        assert_eq!(runs, 1, "{line}");
    }
}
