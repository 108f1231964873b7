//! The columns of a chart: which lines each refrigerant shows, solved and turned to text.

use super::cell::RowAt;
use super::cell::{self, Cell, Notes, Solved};
use super::digits::{self, Errors, Judged};
use super::{ColumnLine, Request, Rows, Within};
use crate::refrigerant::Refrigerant;

/// A column with its cells.
pub(super) struct FilledColumn {
    /// Place of the refrigerant in the request.
    pub(super) refrigerant: usize,
    pub(super) line: ColumnLine,
    pub(super) within: Within,
    pub(super) cells: Vec<Cell>,
}

/// What was found for all columns.
pub(super) struct Found {
    pub(super) columns: Vec<FilledColumn>,
    pub(super) errors: Errors,
    /// For each refrigerant, the largest glide where one column stands for two lines, K.
    pub(super) one_column: Vec<Option<f64>>,
    /// For each refrigerant, how far apart the ends of its band lie at most, K.
    pub(super) band: Vec<Option<f64>>,
}

/// Bubble and dew of one refrigerant at the rows and between them.
struct Lines {
    bubble: Vec<Solved>,
    dew: Vec<Solved>,
}

impl Lines {
    fn solve(
        refrigerant: &Refrigerant,
        (places, needs_slope): (&[RowAt], bool),
        notes: &mut Notes,
    ) -> Self {
        let mut along = |is_dew: bool| -> Vec<Solved> {
            places
                .iter()
                .map(|at| cell::solve(refrigerant, (is_dew, needs_slope), *at, notes))
                .collect()
        };
        let bubble = along(false);
        // Both lines of a pure refrigerant are one.
        let dew = if refrigerant.is_pure() {
            bubble.clone()
        } else {
            along(true)
        };
        Self { bubble, dew }
    }

    fn line(&self, line: ColumnLine) -> Vec<Solved> {
        match line {
            ColumnLine::Saturation | ColumnLine::Bubble => self.bubble.clone(),
            ColumnLine::Dew => self.dew.clone(),
            ColumnLine::Mean => self
                .bubble
                .iter()
                .zip(&self.dew)
                .map(|(bubble, dew)| cell::halfway(bubble, dew))
                .collect(),
        }
    }

    /// The largest glide, K; from a difference of pressures by the slope of the lines.
    fn glide(&self) -> Option<f64> {
        self.bubble
            .iter()
            .zip(&self.dew)
            .filter_map(|(bubble, dew)| match (bubble, dew) {
                (Solved::Pressure(first, Some(slope)), Solved::Pressure(second, _)) => {
                    Some((first.in_pascal() - second.in_pascal()) / slope)
                }
                (Solved::Temperature(first), Solved::Temperature(second)) => {
                    Some(second.in_kelvin() - first.in_kelvin())
                }
                _ => None,
            })
            .reduce(f64::max)
    }
}

pub(super) fn compute(request: &Request, labels: &[(Cell, RowAt)], notes: &mut Notes) -> Found {
    let is_temperature = matches!(request.rows, Rows::Temperatures(_));
    let places: Vec<RowAt> = labels.iter().map(|(_, at)| *at).collect();
    let texts: Vec<Cell> = labels.iter().map(|(label, _)| label.clone()).collect();
    let middles: Vec<RowAt> = texts
        .windows(2)
        .filter_map(|pair| digits::middle(&pair[0], &pair[1], is_temperature))
        .collect();
    let mut found = Found {
        columns: Vec::new(),
        errors: Errors::default(),
        one_column: Vec::new(),
        band: Vec::new(),
    };
    for (index, refrigerant) in request.refrigerants.iter().enumerate() {
        let rows = Lines::solve(refrigerant, (&places, true), notes);
        // What lies between rows needs no word of its own.
        let between = Lines::solve(refrigerant, (&middles, false), &mut Notes::default());
        let glide = rows.glide();
        let threshold = request.choices.one_column_below.in_kelvin();
        let is_one = !refrigerant.is_pure()
            && request.choices.lines.is_empty()
            && !request.choices.tolerance
            && glide.is_some_and(|glide| glide < threshold);
        let lines: Vec<ColumnLine> = match &request.choices.lines {
            _ if refrigerant.is_pure() => vec![ColumnLine::Saturation],
            chosen if !chosen.is_empty() => chosen.clone(),
            _ if is_one => vec![ColumnLine::Mean],
            _ => vec![ColumnLine::Bubble, ColumnLine::Dew],
        };
        found.one_column.push(glide.filter(|_| is_one));
        let mut widest: Option<f64> = None;
        for line in lines {
            let solved = rows.line(line);
            let half_glide = glide.filter(|_| is_one).unwrap_or(0.0).max(0.0) / 2.0;
            let cells = digits::column(&solved, half_glide, request);
            let judged = Judged {
                name: refrigerant.designation(),
                line,
                solved: &solved,
                cells: &cells,
                between: &between.line(line),
                half_glide,
            };
            digits::judge(&mut found.errors, &judged, &texts, request);
            found.columns.push(FilledColumn {
                refrigerant: index,
                line,
                within: Within::Nominal,
                cells,
            });
            // A pure refrigerant has no contents that could vary.
            if !request.choices.tolerance || refrigerant.is_pure() || line == ColumnLine::Mean {
                continue;
            }
            let ends = [Within::Lowest, Within::Highest].map(|within| {
                let along = places.iter().zip(&solved);
                let end: Vec<Solved> = along
                    .map(|(at, nominal)| {
                        cell::band_end(refrigerant, line, within, (*at, nominal), notes)
                    })
                    .collect();
                (within, end)
            });
            widest = widest_band(&ends[0].1, &ends[1].1, widest);
            for (within, end) in ends {
                found.columns.push(FilledColumn {
                    refrigerant: index,
                    line,
                    within,
                    cells: digits::column(&end, 0.0, request),
                });
            }
        }
        found.band.push(widest);
    }
    let resolution = request.choices.resolution.in_kelvin();
    let cell = found.errors.cell.as_ref().map_or(0.0, |(error, _)| *error);
    found.errors.kept = cell <= resolution * (1.0 + 1e-9);
    found
}

/// How far apart the two ends of a band lie at most, K.
fn widest_band(lowest: &[Solved], highest: &[Solved], before: Option<f64>) -> Option<f64> {
    lowest
        .iter()
        .zip(highest)
        .filter_map(|(low, high)| match (low, high) {
            (Solved::Pressure(low, Some(slope)), Solved::Pressure(high, _)) => {
                Some((high.in_pascal() - low.in_pascal()) / slope)
            }
            (Solved::Temperature(low), Solved::Temperature(high)) => {
                Some(high.in_kelvin() - low.in_kelvin())
            }
            _ => None,
        })
        .chain(before)
        .reduce(f64::max)
}
