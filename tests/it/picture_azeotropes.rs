//! Azeotropes of lenses against `tests/data/measured_azeotropes.csv`; where they differ, which side it is, by the
//! liquids and vapors that the same paper measured.

use zeotrope::catalogue::Basis;
use zeotrope::chart::Rows;
use zeotrope::chart::picture::{Name, PictureKind};

use crate::picture_points::{drawn, request};

/// Why a printed azeotrope and ours differ.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Cause {
    /// The printed one lies farther from where the paper's own y - x changes its sign than ours does.
    Print,
    /// Ours lies farther: parameters of our pair.
    Pair,
    /// The paper's own y - x is too flat to tell: 0.002 in y is more than 0.02 in x.
    Open,
}

/// A row of the file.
struct Printed {
    pair: [String; 2],
    temperature: Option<f64>,
    pressure: f64,
    share: f64,
    doi: String,
}

fn printed() -> Vec<Printed> {
    let text = include_str!("../data/measured_azeotropes.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows = reader.records().map(Result::unwrap);
    let sound = rows.filter(|row| row[6].is_empty());
    sound
        .map(|row| Printed {
            pair: [row[0].to_owned(), row[1].to_owned()],
            temperature: row[2].parse().ok(),
            pressure: row[3].parse().unwrap(),
            share: row[4].parse().unwrap(),
            doi: row[5].to_owned(),
        })
        .collect()
}

/// Share of the first and pressure of the azeotrope marked on our lens, at the temperature where one is printed,
/// else at the pressure.
fn ours(one: &Printed) -> Option<(f64, f64)> {
    let rows = match one.temperature {
        Some(kelvin) => Rows::Temperatures(vec![kelvin - 273.15]),
        None => Rows::Pressures(vec![one.pressure / 1e5]),
    };
    let [first, second] = &one.pair;
    let mut asked = request(&[first, second], rows);
    asked.choices.picture.basis = Basis::Mole;
    let found = drawn(PictureKind::Lens, &asked);
    found.marks.iter().find_map(|(name, at)| match name {
        Name::Azeotrope(..) => Some((
            at.0 / 100.0,
            one.temperature.map_or(one.pressure, |_| at.1 * 1e5),
        )),
        _ => None,
    })
}

/// Where y - x of the paper's own points changes its sign, on the isotherm of the printed azeotrope: share,
/// pressure, and the slope of y - x. The steepest, where scatter makes several.
fn measured(one: &Printed) -> Option<(f64, f64, f64)> {
    let papers = include_str!("../data/measured_papers.csv");
    let mut papers = csv::Reader::from_reader(papers.as_bytes());
    let mut papers = papers.records().map(Result::unwrap);
    let paper = papers.find(|row| row[1] == one.doi)?[0].to_owned();
    let vapors = include_str!("../data/measured_vapors.csv");
    let mut vapors = csv::Reader::from_reader(vapors.as_bytes());
    // temperature, pressure, x, y - x
    let mut points: Vec<[f64; 4]> = Vec::new();
    for row in vapors.records().map(Result::unwrap) {
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let (x, y) = (number(4), number(5));
        let (x, y) = match [&row[0], &row[1]] {
            [a, b] if a == one.pair[0] && b == one.pair[1] => (x, y),
            [a, b] if a == one.pair[1] && b == one.pair[0] => (1.0 - x, 1.0 - y),
            _ => continue,
        };
        if row[6] == paper {
            points.push([number(2), number(3), x, y - x]);
        }
    }
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[2].total_cmp(&b[2])));
    let crossings = points.windows(2).filter_map(|pair| {
        let ([from, p, x, d], [to, p2, x2, d2]) = (pair[0], pair[1]);
        let is_asked = one.temperature.is_none_or(|own| (from - own).abs() < 0.25);
        if from != to || !is_asked || d * d2 > 0.0 || d == d2 {
            return None;
        }
        let share = d / (d - d2);
        let pressure = p + share * (p2 - p);
        let is_near = (pressure / one.pressure - 1.0).abs() < 0.015;
        let slope = ((d2 - d) / (x2 - x)).abs();
        is_near.then_some((x + share * (x2 - x), pressure, slope))
    });
    crossings.max_by(|a, b| a.2.total_cmp(&b.2))
}

/// Within 0.02 in composition and, where a temperature is printed, 1 % in pressure.
fn is_near(one: &Printed, (share, pressure): (f64, f64)) -> bool {
    let is_same = (pressure / one.pressure - 1.0).abs() <= 0.01;
    (share - one.share).abs() <= 0.02 && (one.temperature.is_none() || is_same)
}

fn cause(one: &Printed, ours: Option<(f64, f64)>) -> Cause {
    let Some((share, pressure)) = ours else {
        return Cause::Pair;
    };
    let Some((x, p, _)) = measured(one).filter(|found| found.2 >= 0.1) else {
        return Cause::Open;
    };
    let [print, own] = match (share - one.share).abs() > 0.02 {
        true => [(one.share - x).abs(), (share - x).abs()],
        false => [(one.pressure - p).abs(), (pressure - p).abs()],
    };
    if print > own {
        Cause::Print
    } else {
        Cause::Pair
    }
}

/// 42 of 60 printed azeotropes, 28 of 39 at a temperature and 14 of 21 at a pressure, are met. Of the rest each has
/// its cause: three are not what the paper's own points say, three those points leave open, twelve are our pairs'
/// parameters, those of Bell & Lemmon, J. Chem. Eng. Data 61 (2016) 3752, two constants a pair.
#[test]
fn azeotropes_of_lenses_are_those_measured() {
    let (mut met, mut far) = ([0, 0], Vec::new());
    for one in printed() {
        let found = ours(&one);
        if found.is_some_and(|found| is_near(&one, found)) {
            met[usize::from(one.temperature.is_none())] += 1;
            continue;
        }
        let at = one.temperature.unwrap_or(one.pressure);
        far.push((one.pair.join(" + "), at, cause(&one, found)));
    }
    use Cause::{Open, Pair, Print};
    let expected = [
        // doi 10.1016/j.fluid.2013.12.015: 0.9262 printed, y - x changes its sign at 0.902; ours 0.897.
        ("R-1234yf + R-600a", 323.15, Print),
        // doi 10.1016/j.fluid.2014.04.015: 0.2395 printed, but y - x is 0.0013 at 0.197 and -0.0050 at 0.293;
        // ours 0.212.
        ("R-152a + R-1234yf", 283.15, Open),
        // 0.2725 printed, sign changes at 0.316; ours 0.298.
        ("R-152a + R-1234yf", 313.15, Print),
        // 0.2904 printed, sign changes at 0.310; ours 0.321.
        ("R-152a + R-1234yf", 323.15, Print),
        // doi 10.1016/j.fluid.2007.07.010: 396 kPa printed, 395 kPa the highest measured; ours 391.4 kPa.
        ("R-152a + R-600", 283.15, Pair),
        // doi 10.1021/je0601107: sign changes at 0.586, 0.581, 0.572; ours 0.564, 0.558, 0.552. The pair's other
        // paper, doi 10.1016/j.fluid.2017.07.002, has vapors that differ from these.
        ("R-170 + R-23", 188.31, Pair),
        ("R-170 + R-23", 193.28, Pair),
        ("R-170 + R-23", 198.66, Pair),
        // doi 10.1021/je0497698: sign changes at 0.698, 0.714, 0.745; ours 0.670, 0.682, 0.694.
        ("R-32 + R-1270", 1.7362e6, Pair),
        ("R-32 + R-1270", 2.2238e6, Pair),
        ("R-32 + R-1270", 2.824e6, Pair),
        // doi 10.1016/j.fluid.2007.06.012: printed 0.829. Our critical line passes 290.3 K at 0.80 and 291.3 K at
        // 0.82, so that no azeotrope is left at 291.22 K; measured vapors are leaner up to 294 K.
        ("R-744 + R-116", 291.22, Pair),
        // doi 10.1021/je0301242: 0.065 and 0.060 printed; |y - x| is 0.0001 from 0.014 to 0.038 and 0.0032 at
        // 0.093; ours 0.087.
        ("R-E170 + R-290", 313.1, Open),
        ("R-E170 + R-290", 313.39, Open),
        // doi 10.1016/j.fluid.2011.11.026: sign changes at 0.766 to 0.778; ours 0.727 to 0.736.
        ("R-E170 + R-31-10", 1.06e6, Pair),
        ("R-E170 + R-31-10", 1.53e6, Pair),
        ("R-E170 + R-31-10", 2.11e6, Pair),
        ("R-E170 + R-31-10", 3.31e6, Pair),
    ];
    let expected = expected.map(|(pair, at, cause)| (pair.to_owned(), at, cause));
    assert_eq!(met, [28, 14]);
    assert_eq!(far, expected);
}
