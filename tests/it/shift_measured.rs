//! Composition shift beside measurement: vapors, azeotropes, mixtures of three, leaks integrated
//! from measured points; and what the deviation of the vapors leaves uncertain.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use zeotrope::Refrigerant;
use zeotrope::catalogue::Catalogue;
use zeotrope::chart::{Chart, Request};
use zeotrope::page::{self, Block, Document, Print, ShiftPicture, Style};
use zeotrope::process::azeotrope::{BlendKind, BlendSeries};
use zeotrope::process::shift::{Leaving, LossQuestion, Refill, Until, loss};
use zeotrope::service::hazard::hazards::Work;
use zeotrope::units::{Atmosphere, Temperature, UnitSet};
use zeotrope::validation::{self, VaporDistance};

fn named(text: &str) -> Refrigerant {
    Refrigerant::named(text).unwrap()
}

fn distances() -> &'static [VaporDistance] {
    static ONCE: OnceLock<Vec<VaporDistance>> = OnceLock::new();
    ONCE.get_or_init(|| validation::measured_vapors(&Catalogue::embedded()).unwrap())
}

/// The files say what is found today, each from the side of its own first component.
#[test]
fn the_files_say_how_far_vapors_lie() {
    let catalogue = Catalogue::embedded();
    let mut counted = 0;
    for one in distances().iter().filter(|one| one.points > 0) {
        let name = format!("{} + {}", one.first, one.second);
        let (record, turned) = catalogue.pair(&one.first, &one.second).unwrap().unwrap();
        let file = record.measured_vapors.unwrap_or_else(|| panic!("{name}"));
        let sign = if turned { -1.0 } else { 1.0 };
        assert_eq!(
            (file.points, file.papers),
            (one.points, one.papers),
            "{name}"
        );
        assert!(
            (file.bias_y - sign * one.bias.unwrap()).abs() < 0.51e-4,
            "{name}"
        );
        assert!((file.rms_y - one.rms.unwrap()).abs() < 0.51e-4, "{name}");
        let percent = one.relative_volatility_percent.unwrap();
        assert!(
            (file.relative_volatility_percent - percent).abs() < 0.0051,
            "{name}"
        );
        counted += 1;
    }
    let pairs = catalogue.pairs();
    let in_files = pairs.iter().filter(|(first, second)| {
        let found = catalogue.pair(first, second).unwrap();
        found.is_some_and(|(record, _)| record.measured_vapors.is_some())
    });
    assert_eq!(in_files.count(), counted);
}

/// The stated uncertainties of the papers have a median of 0.010 in mole fraction; 0.0065 was set
/// before the points were compared. A pair at a time: half of its points within 0.02, but for the
/// pairs named.
#[test]
fn vapors_are_met_pair_by_pair() {
    let all = validation::all_vapors(distances());
    assert!(all.points > 2900, "{all:?}");
    assert!(all.median_y.unwrap() < 0.0065, "{all:?}");
    let far: Vec<String> = distances()
        .iter()
        .filter(|one| validation::median(one.deviations.iter().map(|dy| dy.abs())) > Some(0.02))
        .map(|one| format!("{} + {}", one.first, one.second))
        .collect();
    assert_eq!(far, FAR);
}

/// Light gases above their critical temperature; R-218 with R-C318, where pressures and vapors of
/// the paper contradict one another (`tools/README.md`); R-143a with R-600, whose pressures are met.
const FAR: [&str; 5] = [
    "R-143a + R-600",
    "R-31-10 + R-50",
    "R-50 + R-601",
    "R-601a + R-744",
    "R-C318 + R-218",
];

/// Measured azeotropes (`tests/data/measured_azeotropes.csv`): the model has one at nearly each,
/// within 0.03 in mole fraction rms and 3 % of the pressure but for the pairs named.
#[test]
fn measured_azeotropes_are_found() {
    let found = validation::measured_azeotropes(&Catalogue::embedded()).unwrap();
    let rows: usize = found
        .iter()
        .map(|one| one.points + one.not_found + one.suspect)
        .sum();
    assert_eq!(rows, 60);
    let missing: usize = found.iter().map(|one| one.not_found).sum();
    assert!(missing <= 1, "{missing}");
    let far = found.iter().filter(|one| {
        one.rms_x.is_none_or(|rms| rms > 0.03) || one.rms_percent.is_some_and(|rms| rms > 3.0)
    });
    let far: Vec<String> = far
        .map(|one| format!("{} + {}", one.first, one.second))
        .collect();
    assert_eq!(far, FAR_AZEOTROPES);
}

const FAR_AZEOTROPES: [&str; 1] = ["R-32 + R-1270"];

/// No parameter was fitted to three components: within 3 % of the pressure and 0.02 in mole
/// fraction, rms, but for the two named: the one 10 % too high in pressure, why is not known, the
/// other 0.0225 in mole fraction.
#[test]
fn mixtures_of_three_are_predicted() {
    let found = validation::measured_ternaries(&Catalogue::embedded()).unwrap();
    let rows = |one: &validation::TernaryDistance| {
        one.points + one.suspect + one.unanswered + one.near_critical
    };
    assert_eq!(found.iter().map(rows).sum::<usize>(), 287);
    let far = found.iter().filter(|one| {
        one.rms_percent.is_some_and(|rms| rms > 3.0) || one.rms_y.is_some_and(|rms| rms > 0.02)
    });
    let far: Vec<String> = far.map(|one| one.refrigerants.join(" + ")).collect();
    assert_eq!(far, ["R-134a + R-1234yf + R-290", "R-32 + R-125 + R-290"]);
    let dew = validation::measured_dew_points(&Catalogue::embedded()).unwrap();
    let rows = dew
        .iter()
        .map(|one| one.points + one.suspect + one.unanswered + one.near_critical);
    assert_eq!(rows.sum::<usize>(), 392);
}

/// A measured isotherm of one paper: mole fractions of the first in liquid and vapor, by liquid.
struct Isotherm {
    pair: (String, String),
    temperature: f64,
    points: Vec<(f64, f64)>,
}

fn isotherms() -> Vec<Isotherm> {
    type Key = (String, String, String, String);
    let mut all: BTreeMap<Key, Vec<(f64, f64)>> = BTreeMap::new();
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/measured_vapors.csv"
    );
    for record in csv::Reader::from_path(path).unwrap().records() {
        let record = record.unwrap();
        let number = |k: usize| record[k].parse::<f64>().unwrap();
        if record[7].is_empty() && number(4) > 0.0 && number(4) < 1.0 {
            let key = [0, 1, 2, 6].map(|k| record[k].to_owned());
            let [first, second, temperature, paper] = key;
            let key = (first, second, paper, temperature);
            all.entry(key).or_default().push((number(4), number(5)));
        }
    }
    let mut found = Vec::new();
    for ((first, second, _, temperature), mut points) in all {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.dedup_by(|a, b| a.0 == b.0);
        let (low, high) = (points[0].0, points[points.len() - 1].0);
        let narrow = points.windows(2).all(|two| two[1].0 - two[0].0 < 0.2);
        if points.len() >= 8 && low < 0.2 && high > 0.8 && narrow {
            found.push(Isotherm {
                pair: (first, second),
                temperature: temperature.parse().unwrap(),
                points,
            });
        }
    }
    found
}

impl Isotherm {
    /// The measured vapor over a liquid: ln of the relative volatility in between by proportion.
    fn vapor(&self, x: f64) -> f64 {
        let log = |(x, y): (f64, f64)| (y / (1.0 - y)).ln() - (x / (1.0 - x)).ln();
        let place = self.points.partition_point(|point| point.0 < x);
        let place = place.clamp(1, self.points.len() - 1);
        let (a, b) = (self.points[place - 1], self.points[place]);
        let share = (x - a.0) / (b.0 - a.0);
        let alpha = (log(a) + share * (log(b) - log(a))).exp();
        alpha * x / (1.0 - x + alpha * x)
    }

    /// Mole fraction left after shares of the mass are lost, by Runge and Kutta's rule of four
    /// stages in steps of a thousandth; molar masses of both.
    fn left(&self, x: f64, masses: [f64; 2], lost: &[f64]) -> Vec<f64> {
        let whole = x * masses[0] + (1.0 - x) * masses[1];
        let slope = |n: [f64; 2]| {
            let y = self.vapor(n[0] / (n[0] + n[1]));
            let mass = y * masses[0] + (1.0 - y) * masses[1];
            [-y / mass, -(1.0 - y) / mass]
        };
        let moved = |n: [f64; 2], k: [f64; 2], h: f64| [n[0] + h * k[0], n[1] + h * k[1]];
        let mut n = [x / whole, (1.0 - x) / whole];
        let h = 1e-3;
        let mut found = Vec::new();
        let last = lost.last().copied().unwrap_or_default();
        for step in 1..=((last / h).round() as usize) {
            let a = slope(n);
            let b = slope(moved(n, a, 0.5 * h));
            let c = slope(moved(n, b, 0.5 * h));
            let d = slope(moved(n, c, h));
            let mean = [0, 1].map(|i| (a[i] + 2.0 * b[i] + 2.0 * c[i] + d[i]) / 6.0);
            n = moved(n, mean, h);
            if lost
                .iter()
                .any(|lost| ((lost / h).round() as usize) == step)
            {
                found.push(n[0] / (n[0] + n[1]));
            }
        }
        found
    }
}

/// Leaks integrated from measured vapors alone, no model in them, beside those of the model from
/// the same start. A vapor off by d all along moves what is left by d ln(1/(1 - lost)), to first
/// order: so counted, the bounds are those of the vapors, a median of 0.0065 and 0.03 for 95 %. Uncounted so,
/// 49 of 719 points lie more than 0.022 in mole fraction off.
#[test]
fn leaks_integrated_from_measured_vapors_are_met() {
    let lost = [0.1, 0.3, 0.5, 0.7, 0.9];
    let mut sizes = Vec::new();
    let (mut counted, mut small) = (0, 0);
    for one in isotherms() {
        let (first, second) = &one.pair;
        let start = 0.5 * (one.points[0].0 + one.points[one.points.len() - 1].0);
        let both = named(&format!("{first}/{second} (50/50)"));
        let masses = [0, 1].map(|k| both.components()[k].molar_mass);
        let mass = start * masses[0] / (start * masses[0] + (1.0 - start) * masses[1]) * 100.0;
        let blend = named(&format!("{first}/{second} ({mass:.8}/{:.8})", 100.0 - mass));
        let mut question = LossQuestion::vapor(Temperature::kelvin(one.temperature));
        question.lost = lost.to_vec();
        question.until = Until::Drawn;
        let Ok(found) = loss(&blend, &question) else {
            continue; // above the end of the model's bubble line
        };
        let range = one.points[0].0..one.points[one.points.len() - 1].0;
        for (lost, measured) in lost.iter().zip(one.left(start, masses, &lost)) {
            let row = found
                .rows
                .iter()
                .find(|row| row.lost_mass_fraction == *lost);
            let own = row.unwrap().liquid_mole_fractions.as_ref().unwrap()[0];
            if range.contains(&measured) {
                let off = (own - measured).abs();
                small += usize::from(off < 0.022);
                let name = format!("{first} + {second} {lost}");
                sizes.push((off / -(1.0 - lost).ln(), name));
            }
        }
        counted += 1;
    }
    sizes.sort_by(|a: &(f64, String), b| a.0.total_cmp(&b.0));
    let at = |share: f64| &sizes[(share * (sizes.len() - 1) as f64) as usize];
    let told = format!(
        "{counted} isotherms, {} points: {:?} {:?} {:?}; {} within 0.022 itself",
        sizes.len(),
        at(0.5),
        at(0.95),
        at(1.0),
        small
    );
    assert!(counted >= 150 && sizes.len() >= 700, "{told}");
    assert!(at(0.5).0 < 0.0065 && at(0.95).0 < 0.03, "{told}");
}

/// Of two components, before anything is lost: dy = y (1 - y) d ln(alpha), and nothing of what is
/// left is uncertain.
#[test]
fn the_uncertainty_begins_with_that_of_the_vapor() {
    let blend = named("R-32/R-134a (30/70)");
    let mut question = LossQuestion::vapor(Temperature::celsius(20.0));
    question.lost = vec![0.3, 0.6];
    let found = loss(&blend, &question).unwrap();
    let pair = blend.pairs()[0].measured_vapors().unwrap();
    let epsilon = pair.relative_volatility_percent / 100.0;
    let row = &found.rows[0];
    let own = row.vapor_uncertainty.as_ref().unwrap();
    let w = row.vapor_mass_fractions[0];
    let expected = w * (1.0 - w) * epsilon;
    assert!(
        (own.vapor_mass_fractions[0] / expected - 1.0).abs() < 0.05,
        "{own:?} {expected}"
    );
    assert_eq!(own.remaining_mass_fractions, [0.0, 0.0]);
    assert!(own.superheat_error.unwrap() < 1e-6);
    // what is left grows uncertain as more is lost
    let left = |k: usize| {
        found.rows[k]
            .vapor_uncertainty
            .as_ref()
            .unwrap()
            .remaining_mass_fractions[0]
    };
    assert!(
        0.0 < left(1) && left(1) < left(2),
        "{} {}",
        left(1),
        left(2)
    );
    // d w = -integral of dy over what is left: to first order for a small loss
    assert!(left(1) < 0.3 / 0.7 * own.vapor_mass_fractions[0] * 1.3);
    assert!(found.vapor_pairs.not_measured.is_empty());
}

#[test]
fn pairs_without_a_measured_vapor_are_named() {
    let found = loss(
        &named("R-448A"),
        &LossQuestion::vapor(Temperature::celsius(20.0)),
    )
    .unwrap();
    let pairs = &found.vapor_pairs;
    assert_eq!(pairs.measured.len() + pairs.not_measured.len(), 10);
    assert!(!pairs.not_measured.is_empty() && !pairs.measured.is_empty());
    assert!(found.rows.iter().all(|row| row.vapor_uncertainty.is_some()));
}

#[test]
fn rounds_of_top_up_have_their_uncertainty() {
    let blend = named("R-407C");
    let mut question = LossQuestion::vapor(Temperature::celsius(24.0));
    question.lost = vec![0.3];
    question.refill = Some(Refill::new(&Catalogue::embedded(), &blend, blend.clone(), 4).unwrap());
    let found = loss(&blend, &question).unwrap();
    let own = |k: usize| {
        let row: &zeotrope::process::shift::Row = &found.rounds[k].row;
        row.vapor_uncertainty
            .as_ref()
            .unwrap()
            .remaining_mass_fractions[0]
    };
    assert!(own(0) > 0.0 && own(3) > own(0));
    // one loss alone leaves more than its top-up with the listed blend does
    let lost = found.rows[1].vapor_uncertainty.as_ref().unwrap();
    let expected = 0.7 * lost.remaining_mass_fractions[0];
    assert!((own(0) / expected - 1.0).abs() < 1e-3);
}

/// Common practice: what circulates in a running system is nearer to the whole.
#[test]
fn a_loss_at_the_circulating_composition_shifts_nothing() {
    let blend = named("R-407C");
    let mut question = LossQuestion::vapor(Temperature::celsius(24.0));
    question.leaving = Leaving::Circulating;
    question.filled = Some(0.8);
    let found = loss(&blend, &question).unwrap();
    for row in &found.rows {
        for (own, listed) in row.remaining_mass_fractions.iter().zip(blend.components()) {
            assert!((own - listed.mass_fraction).abs() < 1e-9);
        }
        assert!(row.superheat_error.unwrap().abs() < 1e-6);
    }
    // the vapor space grows all the same, and the last liquid goes at the dew pressure
    let pressures: Vec<f64> = found
        .rows
        .iter()
        .map(|row| row.pressure.in_pascal())
        .collect();
    assert!(pressures.windows(2).all(|two| two[1] < two[0]));
}

/// R-507A, an azeotrope by its number; R-502's composition is the measured azeotrope of its two at
/// 19 °C (ASHRAE 34's note to its table of blends, from memory).
#[test]
fn the_kind_of_a_blend_is_told() {
    let kind = |name: &str| BlendKind::for_refrigerant(&named(name)).unwrap();
    assert_eq!(kind("R-507A").by_number, Some(BlendSeries::Azeotrope));
    assert_eq!(kind("R-407C").by_number, Some(BlendSeries::Zeotrope));
    assert_eq!(kind("R-290/R-134a (50/50)").by_number, None);
    let azeotropes = kind("R-290/R-134a (50/50)").azeotropes.unwrap();
    assert_eq!(azeotropes.len(), 1);
    assert!(kind("R-448A").azeotropes.is_none());
    assert!(kind("R-407C").azeotropes.unwrap().is_empty());
}

fn titles(document: &Document) -> Vec<&str> {
    let titles = document.blocks.iter().filter_map(|block| match block {
        Block::Title(title) => Some(title.as_str()),
        Block::Face(face) => face.title.as_deref(),
        _ => None,
    });
    titles.collect()
}

#[test]
fn a_card_of_what_is_left_is_not_the_listed_blends() {
    let blend = named("R-407C");
    let mut question = LossQuestion::vapor(Temperature::fahrenheit(75.0));
    question.lost = vec![0.3];
    let found = loss(&blend, &question).unwrap();
    let (left, was) = found.left(&question, &Catalogue::embedded()).unwrap();
    assert!(left.blend().is_none());
    let (site, units) = (Atmosphere::SEA_LEVEL, UnitSet::SI);
    let chart = Chart::new(&Request::of_card(left, &units, site).unwrap()).unwrap();
    let style = Style::new(units, site);
    let card = page::shift_card(&found, (&chart, was), &Print::default(), &[], &style);
    let headline = "Composition after a calculated loss, not R-407C";
    assert_eq!(titles(&card)[0], headline);
    let unlisted = "No safety class assigned: treat as flammable and toxic.";
    assert!(card.cautions.iter().any(|text| text.starts_with(unlisted)));

    question.lost.clear();
    assert!(found.left(&question, &Catalogue::embedded()).is_err());
}

#[test]
fn a_loss_is_drawn() {
    let style = Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL);
    let drawn = |name: &str, kind: ShiftPicture| {
        let blend = named(name);
        let question = LossQuestion::vapor(Temperature::celsius(24.0));
        let (more, marked) = question.for_picture();
        let found = loss(&blend, &more).unwrap();
        let print = (Work::Loss, None);
        page::shift_picture((&found, kind), &blend, &marked, print, &[], &style)
    };
    for (name, kind, curves) in [
        ("R-407C", ShiftPicture::Composition, 6),
        ("R-407C", ShiftPicture::Lines, 2),
        ("R-407C", ShiftPicture::Path, 3),
        // bubble, dew and four ties
        ("R-454B", ShiftPicture::Path, 6),
    ] {
        let found = drawn(name, kind).unwrap();
        let plot = found.blocks.iter().find_map(|block| match block {
            Block::Picture(plot) => Some(plot),
            _ => None,
        });
        let plot = plot.unwrap();
        assert_eq!(plot.curves.len(), curves, "{name} {kind:?}");
        assert!(plot.curves.iter().all(|curve| curve.points.len() > 1));
        assert!(!found.cautions.is_empty());
    }
    assert!(drawn("R-448A", ShiftPicture::Path).is_err());
}
