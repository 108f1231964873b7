//! A table for instruments: the fewest points of a saturation line from which the rest is read.
//!
//! Between two nodes T is linear in ln p. The line bends one way, so that the error of a chord grows
//! with its length: the longest chord that still keeps to the error, again and again, needs the
//! fewest nodes of all that lie on the line.

use serde::{Serialize, Serializer};

use super::{Line, Request, Rows};
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};

/// Distance of the points between which the error is watched, K.
const STEP: f64 = 0.05;

/// A node of a saturation line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Node {
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure, to six digits.
    pub pressure: Pressure,
    /// The largest error found on a dense scan between the node before and this one, K.
    pub largest_error: f64,
}

/// The nodes of one line.
#[derive(Debug, Clone, PartialEq)]
pub struct NodeLine {
    /// Designation of the refrigerant.
    pub refrigerant: String,
    /// Which of its lines.
    pub line: Line,
    /// Its nodes, upwards; temperatures and errors to 1e-6 K.
    pub nodes: Vec<Node>,
}

/// The nodes of all lines of a request.
#[derive(Debug, Clone, PartialEq)]
pub struct NodeTable {
    /// The lowest temperature.
    pub from: Temperature,
    /// The highest.
    pub to: Temperature,
    /// A list for each line.
    pub lines: Vec<NodeLine>,
}

impl NodeTable {
    /// The nodes between the first and the last row of a request, to its resolution.
    ///
    /// # Errors
    /// As [`nodes`]; [`Error::Value`] where the rows are pressures.
    pub fn new(request: &Request) -> Result<Self> {
        let Rows::Temperatures(values) = &request.rows else {
            return Err(Error::Value {
                quantity: "nodes",
                text: "pressures".into(),
                problem: "nodes lie between two temperatures".into(),
                hint: "give rows by temperature, for example from -40C to 60C".into(),
            });
        };
        let ends = super::rows::ends(values).map(|end| request.temperature_unit.write(end));
        let [from, to] = ends;
        let mut found = Vec::new();
        for refrigerant in &request.refrigerants {
            let chosen: &[Line] = if refrigerant.is_pure() {
                &[Line::Saturation]
            } else {
                &[Line::Bubble, Line::Dew]
            };
            for line in chosen {
                let mut nodes = nodes(refrigerant, *line, from, to, request.choices.resolution)?;
                for node in &mut nodes {
                    // Without the noise of the scan's sums.
                    let kelvin = (node.temperature.in_kelvin() * 1e6).round() / 1e6;
                    node.temperature = Temperature::kelvin(kelvin);
                    node.largest_error = (node.largest_error * 1e6).ceil() / 1e6;
                }
                found.push(NodeLine {
                    refrigerant: refrigerant.designation().to_owned(),
                    line: *line,
                    nodes,
                });
            }
        }
        Ok(Self {
            from,
            to,
            lines: found,
        })
    }
}

impl Serialize for NodeTable {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct One<'a> {
            refrigerant: &'a str,
            line: &'static str,
            #[serde(rename = "temperature_K")]
            temperature: Temperature,
            #[serde(rename = "pressure_Pa")]
            pressure: Pressure,
            #[serde(rename = "largest_error_K")]
            largest_error: f64,
        }
        #[derive(Serialize)]
        struct Keys<'a> {
            nodes: Vec<One<'a>>,
        }
        let mut nodes = Vec::new();
        for line in &self.lines {
            for node in &line.nodes {
                nodes.push(One {
                    refrigerant: &line.refrigerant,
                    line: line.line.name(),
                    temperature: node.temperature,
                    pressure: node.pressure,
                    largest_error: node.largest_error,
                });
            }
        }
        Keys { nodes }.serialize(serializer)
    }
}

/// The fewest nodes between two temperatures, T read linearly in ln p between them, that keep to an
/// error; they end early where the line does.
///
/// # Errors
/// [`Error::NoState`] where the line has no answer at the lower temperature;
/// [`Error::Value`] where the error is not above 0.002 K or the range is empty or above 500 K.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::chart::{Line, nodes};
/// use zeotrope::units::{Temperature, TemperatureDifference};
/// let r134a = Refrigerant::named("R-134a")?;
/// let (from, to) = (Temperature::celsius(-40.0), Temperature::celsius(60.0));
/// let found = nodes(&r134a, Line::Saturation, from, to, TemperatureDifference::kelvin(0.05))?;
/// assert!(found.len() < 40);
/// assert!(found.iter().all(|node| node.largest_error <= 0.05));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn nodes(
    refrigerant: &Refrigerant,
    line: Line,
    from: Temperature,
    to: Temperature,
    error: TemperatureDifference,
) -> Result<Vec<Node>> {
    let wrong = |text: String, problem: &str| Error::Value {
        quantity: "nodes",
        text,
        problem: problem.into(),
        hint: "for example -40C to 60C with 0.05K".into(),
    };
    let most = error.in_kelvin();
    if most <= 0.002 {
        return Err(wrong(
            format!("{most} K"),
            "is finer than the digits of the table; ask for more than 0.002 K",
        ));
    }
    let (first, last) = (from.in_kelvin(), to.in_kelvin());
    if last <= first || last - first > 500.0 {
        return Err(wrong(
            format!("{} K", last - first),
            "is not a range of temperatures up to 500 K",
        ));
    }
    let at = |kelvin: f64| -> Option<f64> {
        let temperature = Temperature::kelvin(kelvin);
        let found = match line {
            Line::Dew => refrigerant.dew_pressure(temperature),
            _ => refrigerant.bubble_pressure(temperature),
        };
        let pressure = found.ok()?.in_pascal();
        (pressure.is_finite() && pressure > 0.0).then_some(pressure)
    };
    let count = ((last - first) / STEP).round().max(1.0) as usize;
    let step = (last - first) / count as f64;
    let points: Vec<(f64, f64)> = (0..=count)
        .map(|index| first + index as f64 * step)
        .map_while(|kelvin| Some((kelvin, at(kelvin)?)))
        .collect();
    if points.len() < 2 {
        return Err(Error::NoState {
            reason: format!(
                "the saturation line of {} is not answered at the lower end",
                refrigerant.designation()
            ),
            hint: "begin at another temperature".into(),
        });
    }
    // Rounding a node's pressure and reading on the scan's finer points take a share of the error.
    let allowed = most * 0.98 - 0.0005;
    let fits = |start: usize, end: usize| {
        let chord = Chord::new(points[start], points[end]);
        // The error is largest near the middle; ends have none.
        let stride = ((end - start) / 64).max(1);
        points[start..=end]
            .iter()
            .step_by(stride)
            .all(|point| chord.error(*point) <= allowed)
    };
    let mut found = vec![Node {
        temperature: Temperature::kelvin(points[0].0),
        pressure: Pressure::pascal(rounded(points[0].1)),
        largest_error: 0.0,
    }];
    let mut start = 0;
    while start + 1 < points.len() {
        let (mut good, mut bad) = (start + 1, points.len());
        while bad - good > 1 {
            let middle = (good + bad) / 2;
            if fits(start, middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        let ends = [points[start], points[good]].map(|(kelvin, pascal)| (kelvin, rounded(pascal)));
        let chord = Chord::new(ends[0], ends[1]);
        let scan = points[start..=good].iter().copied();
        let between = points[start..good].iter().filter_map(|(kelvin, _)| {
            let halfway = kelvin + step / 2.0;
            Some((halfway, at(halfway)?))
        });
        let largest_error = scan
            .chain(between)
            .map(|point| chord.error(point))
            .fold(0.0, f64::max);
        found.push(Node {
            temperature: Temperature::kelvin(ends[1].0),
            pressure: Pressure::pascal(ends[1].1),
            largest_error,
        });
        start = good;
    }
    Ok(found)
}

/// T linear in ln p between two points.
struct Chord {
    from: (f64, f64),
    slope: f64,
}

impl Chord {
    fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        Self {
            from,
            slope: (to.0 - from.0) / (to.1 / from.1).ln(),
        }
    }

    fn error(&self, (kelvin, pascal): (f64, f64)) -> f64 {
        (self.from.0 + self.slope * (pascal / self.from.1).ln() - kelvin).abs()
    }
}

/// A pressure to six digits.
fn rounded(pascal: f64) -> f64 {
    let scale = 10f64.powf(5.0 - pascal.log10().floor());
    (pascal * scale).round() / scale
}
