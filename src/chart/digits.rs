//! How many digits a cell needs, and what error is left when it is read back.
//!
//! A figure printed to the last digit u is off by up to u/2; along the line that is a temperature
//! of (u/2)/(dp/dT). Digits are added until it is no larger than the resolution asked for, so that a
//! reader of the card misses by no more than that, whatever the row.

use super::cell::{Cell, RowAt, Solved, VACUUM};
use super::{ColumnLine, Request};
use crate::units::{Pressure, PressureUnit, Temperature, TemperatureDifference, fixed};

/// More digits than these no gauge and no equation has.
const MOST_DIGITS: usize = 6;

/// Where a chart is off most, and by how much.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Errors {
    /// The largest error of a printed cell when it is read back, K, and where.
    pub cell: Option<(f64, Spot)>,
    /// The largest error when reading linearly halfway between two rows, K, and where.
    pub between: Option<(f64, Spot)>,
    /// Whether every cell keeps to the resolution.
    pub kept: bool,
}

/// A cell of a chart, or the gap between it and the one below.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Designation of the refrigerant.
    pub refrigerant: String,
    /// Which of its lines.
    pub line: ColumnLine,
    /// Place of the row.
    pub row: usize,
    /// Whether it lies between this row and the next.
    pub is_between: bool,
}

/// Digits behind the decimal sign so that half the last one is at most `most`, both in one unit.
fn enough(most: f64) -> usize {
    (0..MOST_DIGITS)
        .find(|digits| 0.5 * 10f64.powi(-(*digits as i32)) <= most * (1.0 + 1e-9))
        .unwrap_or(MOST_DIGITS)
}

/// The unit in which a pressure is shown: inches of mercury where a psig gauge is in vacuum.
fn shown_in(pressure: Pressure, request: &Request) -> PressureUnit {
    let is_vacuum = request.pressure_unit == PressureUnit::PsiGauge
        && PressureUnit::InchesOfMercuryVacuum.read(pressure, &request.site) >= 0.05;
    if is_vacuum {
        PressureUnit::InchesOfMercuryVacuum
    } else {
        request.pressure_unit
    }
}

/// Digits that one cell needs; `None` where its line has no slope to judge by.
fn needed(solved: &Solved, half_glide: f64, request: &Request) -> Option<usize> {
    // Half the glide of one column for two lines takes its share; where it takes nearly all,
    // more digits would only feign what is not there.
    let asked = request.choices.resolution.in_kelvin();
    let left = asked - half_glide;
    let resolution = if left < asked / 4.0 { asked } else { left };
    match solved {
        Solved::Pressure(pressure, slope) => {
            let unit = shown_in(*pressure, request);
            slope.map(|slope| enough(resolution * slope / unit.pascal()))
        }
        Solved::Temperature(_) => {
            let difference = TemperatureDifference::kelvin(resolution);
            Some(enough(request.temperature_unit.read_difference(difference)))
        }
        Solved::Gap(_) => None,
    }
}

/// Turns a column to text, each cell once.
pub(super) fn column(solved: &[Solved], half_glide: f64, request: &Request) -> Vec<Cell> {
    let each: Vec<Option<usize>> = solved
        .iter()
        .map(|one| needed(one, half_glide, request))
        .collect();
    let all = each.iter().flatten().max().copied();
    solved
        .iter()
        .zip(each)
        .map(|(one, own)| {
            let digits = if request.choices.uniform_digits {
                all
            } else {
                own
            };
            Cell {
                text: text(one, digits, request),
                value: one.value(),
                gap: match one {
                    Solved::Gap(gap) => Some(*gap),
                    _ => None,
                },
            }
        })
        .collect()
}

fn text(solved: &Solved, digits: Option<usize>, request: &Request) -> String {
    match solved {
        Solved::Gap(gap) => gap.name().to_owned(),
        Solved::Temperature(temperature) => fixed(
            request.temperature_unit.read(*temperature),
            digits.unwrap_or(1),
        ),
        Solved::Pressure(pressure, _) => {
            let unit = shown_in(*pressure, request);
            let value = unit.read(*pressure, &request.site);
            let Some(digits) = digits else {
                let (plain, vacuum) = request.pressure_unit.cell(*pressure, &request.site);
                return if vacuum {
                    format!("{plain}{VACUUM}")
                } else {
                    plain
                };
            };
            let shown = fixed(value, digits);
            let is_nothing = shown.bytes().all(|byte| matches!(byte, b'0' | b'.'));
            if unit != request.pressure_unit && !is_nothing {
                return format!("{shown}{VACUUM}");
            }
            // What rounds to no vacuum at all is no vacuum.
            shown
        }
    }
}

/// Reads a printed cell back, K or Pa, as its reader would.
fn read_back(cell: &Cell, request: &Request, is_pressure: bool) -> Option<f64> {
    cell.value?;
    let (figure, unit) = match cell.text.strip_suffix(VACUUM) {
        Some(figure) => (figure, PressureUnit::InchesOfMercuryVacuum),
        None => (cell.text.as_str(), request.pressure_unit),
    };
    let number: f64 = figure.parse().ok()?;
    Some(if is_pressure {
        unit.write(number, &request.site).in_pascal()
    } else {
        request.temperature_unit.write(number).in_kelvin()
    })
}

/// One column with what is needed to judge it.
pub(super) struct Judged<'a> {
    pub(super) name: &'a str,
    pub(super) line: ColumnLine,
    pub(super) solved: &'a [Solved],
    pub(super) cells: &'a [Cell],
    /// The line halfway between two rows, at each but the last.
    pub(super) between: &'a [Solved],
    /// Half the largest glide where one column stands for two lines, K.
    pub(super) half_glide: f64,
}

/// Measures the print of a column and keeps the worst.
pub(super) fn judge(errors: &mut Errors, column: &Judged<'_>, labels: &[Cell], request: &Request) {
    let is_pressure = matches!(request.rows, super::Rows::Temperatures(_));
    let mut keep = |error: f64, row: usize, is_between: bool| {
        let worst = match is_between {
            true => &mut errors.between,
            false => &mut errors.cell,
        };
        if error.is_finite() && worst.as_ref().is_none_or(|(most, _)| error > *most) {
            let spot = Spot {
                refrigerant: column.name.to_owned(),
                line: column.line,
                row,
                is_between,
            };
            *worst = Some((error, spot));
        }
    };
    let printed: Vec<Option<f64>> = column
        .cells
        .iter()
        .map(|cell| read_back(cell, request, is_pressure))
        .collect();
    for (row, (solved, printed)) in column.solved.iter().zip(&printed).enumerate() {
        let (Some(value), Some(printed)) = (solved.value(), *printed) else {
            continue;
        };
        let error = match solved {
            Solved::Pressure(_, Some(slope)) => (printed - value).abs() / slope,
            Solved::Temperature(_) => (printed - value).abs(),
            _ => continue,
        };
        keep(error + column.half_glide, row, false);
    }
    for (index, middle) in column.between.iter().enumerate() {
        let (Some(first), Some(second)) = (printed[index], printed[index + 1]) else {
            continue;
        };
        let (from, to) = (labels[index].value, labels[index + 1].value);
        let (Some(from), Some(to)) = (from, to) else {
            continue;
        };
        let error = match middle {
            // A pressure is read, the temperature sought between the rows.
            Solved::Pressure(pressure, _) => {
                let share = (pressure.in_pascal() - first) / (second - first);
                (from + share * (to - from) - (from + to) / 2.0).abs()
            }
            Solved::Temperature(temperature) => {
                ((first + second) / 2.0 - temperature.in_kelvin()).abs()
            }
            Solved::Gap(_) => continue,
        };
        keep(error + column.half_glide, index, true);
    }
}

/// The rows' middle: where reading between two of them is farthest off.
pub(super) fn middle(first: &Cell, second: &Cell, is_temperature: bool) -> Option<RowAt> {
    let middle = (first.value? + second.value?) / 2.0;
    Some(if is_temperature {
        RowAt::Temperature(Temperature::kelvin(middle))
    } else {
        RowAt::Pressure(Pressure::pascal(middle))
    })
}
