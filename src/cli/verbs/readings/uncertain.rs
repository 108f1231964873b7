//! What pages of readings share: uncertainty, verdict and meaning in words and for programs.

use serde_json::{Map, Value, json};

use crate::cli::verbs::readings::instruments::{difference, difference_unit};
use crate::output::{number, optional};
use crate::page::{Block, Table};
use crate::service::measurement::decision::{Deciding, Target, Verdict};
use crate::service::measurement::uncertainty::{DRAWS, Method, SEED, Uncertainty};
use crate::service::reading::superheat_subcooling::{Meaning, Measure, Reading};
use crate::units::{TemperatureDifference, UnitSet, fixed, significant};

/// A difference of temperatures with a count of decimals and its unit.
pub(crate) fn degrees(kelvin: f64, units: &UnitSet, decimals: usize) -> String {
    let value = units
        .temperature
        .read_difference(TemperatureDifference::kelvin(kelvin));
    format!(
        "{} {}",
        fixed(value, decimals),
        units.temperature.difference_symbol()
    )
}

/// Decimals of a superheat or subcooling: a tenth where it is known how little the rest means.
pub(crate) const fn decimals(with_uncertainty: bool) -> usize {
    if with_uncertainty { 1 } else { 2 }
}

/// `±1.3 °F`, or `+1.3 / -1.6 °F` where the sides differ as shown.
pub(crate) fn sides([below, above]: [f64; 2], units: &UnitSet) -> String {
    let (down, up) = (degrees(below, units, 1), degrees(above, units, 1));
    if down == up {
        format!("±{up}")
    } else {
        let bare = up.split(' ').next().unwrap_or_default();
        format!("+{bare} / -{down}")
    }
}

/// The table of what each source does.
pub(crate) fn table(found: &Uncertainty, units: &UnitSet) -> Block {
    let mut rows: Vec<Vec<String>> = found
        .contributions
        .iter()
        .map(|one| {
            let figure = |text: Option<String>| text.unwrap_or_else(|| "not counted".to_owned());
            vec![
                one.source.to_owned(),
                figure(one.sides.map(|pair| sides(pair, units))),
                one.standard
                    .map_or_else(|| "-".to_owned(), |value| degrees(value, units, 2)),
            ]
        })
        .collect();
    rows.push(vec![
        "together".to_owned(),
        format!("{} at worst", sides(found.worst, units)),
        degrees(found.standard, units, 2),
    ]);
    Block::Table(Table {
        groups: Vec::new(),
        heads: ["uncertainty from", "limits", "standard"]
            .map(str::to_owned)
            .to_vec(),
        rows,
        words: 1,
    })
}

/// How the expanded figure was made.
pub(crate) fn method(found: &Uncertainty, units: &UnitSet) -> String {
    let expanded = sides(found.expanded, units);
    match found.method {
        Method::Squares => format!(
            "Expanded uncertainty {expanded}: twice the standard one, never above the worst case \
             (GUM, JCGM 100:2008)."
        ),
        Method::MonteCarlo => format!(
            "Expanded uncertainty {expanded}: the sides differ, so this is the interval that holds \
             95 % of {DRAWS} draws with seed {SEED} (GUM Supplement 1, JCGM 101:2008)."
        ),
    }
}

/// What the reading says about the clamp.
pub(crate) fn meaning(reading: &Reading, expanded: Option<[f64; 2]>, units: &UnitSet) -> String {
    let value = degrees(reading.value.abs(), units, decimals(expanded.is_some()));
    let (phase, place) = match reading.measure {
        Measure::Superheat => ("vapour", "above"),
        Measure::Subcooling => ("liquid", "below"),
    };
    let branch = reading.measure.branch_word();
    match reading.meaning(expanded) {
        Meaning::OnePhase => format!(
            "The {phase} at the clamp is {value} {place} its {branch} temperature: {} at the \
             clamp, the pressure taken as that of the same place.",
            reading.measure.word()
        ),
        Meaning::AtSaturation => "Zero within the uncertainty: at saturation at the clamp, the \
                                  pressure taken as that of the same place."
            .to_owned(),
        Meaning::TwoPhase => "The line is between bubble and dew temperature: two phases at the \
                              clamp."
            .to_owned(),
        Meaning::NotPossible => format!(
            "{value} on the other side of the {branch} temperature: not possible at equilibrium \
             for a {phase} line. Look at the gauge's zero and kind, the site, the refrigerant, the \
             clamp's contact, and whether tap and clamp are in different places.",
        ),
    }
}

/// A meaning's word for programs.
pub(crate) const fn meaning_word(meaning: Meaning) -> &'static str {
    match meaning {
        Meaning::OnePhase => "one_phase",
        Meaning::AtSaturation => "at_saturation",
        Meaning::TwoPhase => "two_phase",
        Meaning::NotPossible => "not_possible",
    }
}

/// A verdict with what it rests on.
pub(crate) struct Judged {
    pub(crate) target: Target,
    /// `None` where nothing is known of the accuracy.
    pub(crate) verdict: Option<Verdict>,
    /// What would have decided, where it is not decidable.
    pub(crate) deciding: Option<Deciding>,
    /// Span of the gauge, Pa, where it is known.
    pub(crate) span: Option<f64>,
}

impl Judged {
    /// The words of it.
    pub(crate) fn lines(
        &self,
        reading: &Reading,
        found: Option<&Uncertainty>,
        units: &UnitSet,
    ) -> Vec<String> {
        let (value, target) = (reading.value, &self.target);
        let what = format!(
            "{} {} against {} ± {}",
            reading.measure.word(),
            degrees(value, units, 1),
            degrees(target.value, units, 1),
            degrees(target.band, units, 1)
        );
        let (Some(verdict), Some(found)) = (self.verdict, found) else {
            return vec![format!(
                "{what}: not decidable, the accuracy of the gauge is not known. The figure alone \
                 lies {} the band.",
                if (value - target.value).abs() <= target.band {
                    "inside"
                } else {
                    "outside"
                }
            )];
        };
        let mut lines = vec![format!(
            "{what}: {} (JCGM 106:2012; uncertainty {}).",
            verdict.words(),
            sides(found.expanded, units)
        )];
        let open: Vec<_> = found
            .not_counted()
            .into_iter()
            .filter(|source| *source != "equation" && *source != "composition")
            .collect();
        if !open.is_empty() {
            lines.push(format!(
                "Not counted, since its accuracy was not given: {}.",
                open.join(", ")
            ));
        }
        if let Some(deciding) = &self.deciding {
            lines.push(self.what_decides(deciding, units));
        }
        if verdict == Verdict::Outside {
            lines.push(causes(reading.measure, value > target.value).to_owned());
        }
        lines
    }

    fn what_decides(&self, deciding: &Deciding, units: &UnitSet) -> String {
        let mut ways = Vec::new();
        if let Some(limit) = deciding.gauge {
            let (size, word) = difference_unit(units.absolute);
            // Rounded down, so that what is printed does decide.
            let floor = floor_significant(limit / size, 2);
            let of_span = self.span.map_or_else(String::new, |span| {
                format!(
                    " ({} % of this span)",
                    significant(floor_significant(100.0 * limit / span, 2), 2)
                )
            });
            ways.push(format!(
                "a gauge within ±{} {word}{of_span}",
                significant(floor, 2)
            ));
        }
        if let Some(limit) = deciding.clamp {
            let value = units
                .temperature
                .read_difference(TemperatureDifference::kelvin(limit));
            ways.push(format!(
                "a clamp within ±{} {}, contact counted",
                significant(floor_significant(value, 2), 2),
                units.temperature.difference_symbol()
            ));
        }
        if let Some(part) = deciding.both {
            ways.push(format!(
                "gauge and clamp with {} of their limits",
                percent(part)
            ));
        }
        if ways.is_empty() {
            return "No gauge or clamp would decide it: the figure is too near the edge of the \
                    band, or what is left is too unsure by itself."
                .to_owned();
        }
        format!(
            "This would decide it, at this reading: {}.",
            ways.join("; or ")
        )
    }

    /// For programs.
    pub(crate) fn json(&self) -> Value {
        json!({
            "target_K": number(self.target.value),
            "band_K": number(self.target.band),
            "verdict": self.verdict.map(|verdict| match verdict {
                Verdict::Within => "within",
                Verdict::Outside => "outside",
                Verdict::NotDecidable => "not_decidable",
            }),
            "deciding_gauge_limit_Pa": optional(self.deciding.and_then(|one| one.gauge)),
            "deciding_clamp_limit_K": optional(self.deciding.and_then(|one| one.clamp)),
            "deciding_part_of_both": optional(self.deciding.and_then(|one| one.both)),
        })
    }
}

fn percent(part: f64) -> String {
    format!("{} %", significant(floor_significant(100.0 * part, 2), 2))
}

/// Rounds down to a count of significant digits.
fn floor_significant(value: f64, digits: i32) -> f64 {
    let scale = 10f64.powi(digits - 1 - value.abs().log10().floor() as i32);
    if scale.is_finite() && scale > 0.0 {
        (value * scale).floor() / scale
    } else {
        value
    }
}

/// What is usually behind a figure outside its band. Common practice, no source.
const fn causes(measure: Measure, high: bool) -> &'static str {
    match (measure, high) {
        (Measure::Superheat, true) => {
            "Common practice, usual causes of high superheat: a starved evaporator (metering \
             device, restriction, little refrigerant), or more heat than usual."
        }
        (Measure::Superheat, false) => {
            "Common practice, usual causes of low superheat: little air or heat at the evaporator, \
             a metering device that feeds too much, much refrigerant."
        }
        (Measure::Subcooling, true) => {
            "Common practice, usual causes of high subcooling: liquid held back by a restriction \
             or metering device, cold air at the condenser, much refrigerant."
        }
        (Measure::Subcooling, false) => {
            "Common practice, usual causes of low subcooling: little refrigerant, little air or \
             hot air at the condenser, a metering device that feeds too much."
        }
    }
}

/// Puts the keys of an uncertainty into an object; all null where there is none.
pub(crate) fn insert(object: &mut Map<String, Value>, found: Option<&Uncertainty>) {
    let mut put = |key: &str, value: Option<f64>| {
        object.insert(key.into(), optional(value));
    };
    put("standard_uncertainty_K", found.map(|one| one.standard));
    put(
        "expanded_uncertainty_K",
        found.map(Uncertainty::expanded_half),
    );
    put("expanded_below_K", found.map(|one| one.expanded[0]));
    put("expanded_above_K", found.map(|one| one.expanded[1]));
    put("worst_case_K", found.map(Uncertainty::worst_case));
    put("worst_case_below_K", found.map(|one| one.worst[0]));
    put("worst_case_above_K", found.map(|one| one.worst[1]));
    let contributions = found.map_or_else(Vec::new, |one| {
        one.contributions
            .iter()
            .map(|one| {
                json!({
                    "source": one.source,
                    "standard_K": optional(one.standard),
                    "below_K": optional(one.sides.map(|sides| sides[0])),
                    "above_K": optional(one.sides.map(|sides| sides[1])),
                })
            })
            .collect()
    });
    object.insert("contributions".into(), contributions.into());
    object.insert(
        "uncertainty_method".into(),
        found.map_or(Value::Null, |one| match one.method {
            Method::Squares => "squares".into(),
            Method::MonteCarlo => "monte_carlo".into(),
        }),
    );
}

/// A limit of pressure with its unit.
pub(crate) fn gauge_limit(pascal: f64, units: &UnitSet) -> String {
    format!("±{}", difference(pascal, units.absolute))
}
