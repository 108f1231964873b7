//! What `superheat` and `subcooling` share: one reading on the branch that it belongs to.

use serde_json::{Value, json};

use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::reading::MeasureArgs;
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::cli::transition::cautions;
use crate::cli::verbs::readings::instruments::{self, Read};
use crate::cli::verbs::readings::uncertain::{self, Judged, degrees};
use crate::output::{identity, model, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet};
use crate::refrigerant::{Refrigerant, Warning, Zero};
use crate::service::facts::Facts;
use crate::service::measurement::decision::{Target, Verdict, deciding};
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Limits, Uncertainty};
use crate::service::reading::superheat_subcooling::{Measure, Reading};
use crate::units::{
    Atmosphere, TemperatureDifference, UnitSet, parse_pressure_difference, parse_temperature,
    parse_temperature_difference,
};

/// Everything that one page tells.
struct Page<'a> {
    refrigerant: &'a Refrigerant,
    reading: Reading,
    read: Read,
    drop: Option<f64>,
    /// Whether the line was computed from a wanted figure.
    wanted: bool,
    kit: Kit,
    instrument: Instrument,
    found: Option<Uncertainty>,
    judged: Option<Judged>,
    units: UnitSet,
    site: Atmosphere,
    warnings: Vec<Warning>,
}

pub(crate) fn answer(measure: Measure, args: &MeasureArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let kit = instruments::kit(&args.gauge, &args.accuracy)?;
    let instrument = match measure {
        Measure::Superheat => kit.low.clone(),
        Measure::Subcooling => kit.high.clone(),
    };
    let read = instruments::read(&args.pressure, &instrument, &site)
        .map_err(|error| Failure::from(error).of_option("--pressure"))?;
    let drop = option(
        "--pressure-drop",
        args.pressure_drop.as_deref(),
        parse_pressure_difference,
    )?;
    let line = option("--line", args.line.as_deref(), parse_temperature)?;
    let wanted = option(
        "--wanted",
        args.wanted.as_deref(),
        parse_temperature_difference,
    )?;
    let target = target(args)?;
    let typed = line
        .map(|line| line.unit)
        .or(wanted.map(|wanted| wanted.unit));
    let units = meant::units(&args.units, typed, Some(read.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;

    let pressure = read.at_clamp(drop)?;
    let in_units = |error| Failure::in_units(error, &units, &site);
    let saturation = measure
        .saturation(&refrigerant, pressure)
        .map_err(in_units)?;
    let line = match (line, wanted) {
        (Some(line), _) => line.value,
        (None, Some(wanted)) => measure.line_with(wanted.value, saturation),
        (None, None) => {
            return Err(Failure::usage(
                "neither a line's temperature nor what is wanted was given",
                "add --line 52F, or --wanted 10F for the line's temperature",
            ));
        }
    };
    let reading = Reading::new(measure, &refrigerant, pressure, line).map_err(in_units)?;
    let limits = instruments::limits(&kit, &read);
    let limits = reading.with_refrigerant(&refrigerant, limits, args.accuracy.nominal_composition);
    let mut all = standing(&refrigerant, &reading, &site_warnings);
    let found = uncertainty(&refrigerant, &reading, &limits, &mut all);
    let judged = match target {
        Some(target) => Some(judge(
            &refrigerant,
            &reading,
            &limits,
            found.as_ref(),
            target,
            instrument.span,
        )),
        None => None,
    };
    Ok(Page {
        refrigerant: &refrigerant,
        reading,
        read,
        drop,
        wanted: args.line.is_none(),
        kit,
        instrument,
        found,
        judged,
        units,
        site,
        warnings: all,
    }
    .answer())
}

/// The wanted value and its band, where they were given.
fn target(args: &MeasureArgs) -> Result<Option<Target>, Failure> {
    let target = option(
        "--target",
        args.target.as_deref(),
        parse_temperature_difference,
    )?;
    let band = option("--band", args.band.as_deref(), parse_temperature_difference)?;
    let (Some(target), Some(band)) = (target, band) else {
        return Ok(None);
    };
    let band = band.value.in_kelvin();
    if band <= 0.0 {
        return Err(Failure::usage(
            "--band: a band is wider than nothing",
            "give how far from the target is still within, for example 3F",
        ));
    }
    Ok(Some(Target {
        value: target.value.in_kelvin(),
        band,
    }))
}

/// What to know about the refrigerant, about a point at this pressure and about the site.
fn standing(refrigerant: &Refrigerant, reading: &Reading, site: &[Warning]) -> Vec<Warning> {
    let here = refrigerant
        .saturation_at_pressure(reading.pressure, Zero::IdealGas)
        .map(|saturation| saturation.warnings)
        .unwrap_or_default();
    page::all_warnings(refrigerant, &here, site)
}

/// The uncertainty where any accuracy is known; a warning where nothing bounds it.
pub(crate) fn uncertainty(
    refrigerant: &Refrigerant,
    reading: &Reading,
    limits: &Limits,
    warnings: &mut Vec<Warning>,
) -> Option<Uncertainty> {
    if !limits.any_instrument() {
        return None;
    }
    match reading.uncertainty(refrigerant, limits) {
        Ok(found) => Some(found),
        Err(error) => {
            warnings.push(Warning {
                code: "uncertainty_unbounded",
                text: format!("no uncertainty of the {}: {error}", reading.measure.word()),
            });
            None
        }
    }
}

/// Judges a reading by its band; without the gauge's accuracy there is no verdict.
pub(crate) fn judge(
    refrigerant: &Refrigerant,
    reading: &Reading,
    limits: &Limits,
    found: Option<&Uncertainty>,
    target: Target,
    span: Option<f64>,
) -> Judged {
    let verdict = found
        .filter(|_| limits.pressure.is_some())
        .map(|found| target.judge(reading.value, found.expanded));
    let deciding = (verdict == Some(Verdict::NotDecidable))
        .then(|| {
            reading
                .on_branch(refrigerant, |branch| {
                    deciding(branch, limits, reading.value, &target)
                })
                .ok()
        })
        .flatten();
    Judged {
        target,
        verdict,
        deciding,
        span,
    }
}

impl Page<'_> {
    fn answer(self) -> Document {
        let facts = Facts::of(self.refrigerant);
        let mut blocks = vec![Block::Title(self.title()), Block::Pairs(self.figures())];
        let expanded = self.found.as_ref().map(|found| found.expanded);
        let mut lines = Vec::new();
        if !self.wanted {
            lines.push(uncertain::meaning(&self.reading, expanded, &self.units));
        }
        if let Some(judged) = &self.judged {
            lines.extend(judged.lines(&self.reading, self.found.as_ref(), &self.units));
        }
        if !lines.is_empty() {
            blocks.push(Block::Lines(lines));
        }
        match &self.found {
            Some(found) => {
                blocks.push(uncertain::table(found, &self.units));
                blocks.push(Block::Lines(vec![uncertain::method(found, &self.units)]));
            }
            None => blocks.push(Block::Lines(vec![
                "How sure this is cannot be said: no accuracy of gauge or clamp is known."
                    .to_owned(),
            ])),
        }
        blocks.extend(page::foot(
            self.refrigerant,
            &facts,
            None,
            &self.warnings,
            &self.site,
        ));
        let json = self.json(&facts);
        Document {
            blocks,
            sheet: self.sheet(),
            json,
            warnings: self.warnings,
            ..Document::default()
        }
    }

    fn title(&self) -> String {
        let measure = self.reading.measure.word();
        let name = self.refrigerant.designation();
        if self.wanted {
            format!("{name}, line temperature for a {measure}")
        } else {
            format!("{name}, {measure} at the clamp")
        }
    }

    fn figures(&self) -> Vec<(String, String)> {
        let (reading, units) = (&self.reading, &self.units);
        let measure = reading.measure;
        let decimals = uncertain::decimals(self.found.is_some());
        let mut value = degrees(reading.value, units, decimals);
        if let Some(found) = &self.found {
            value.push_str(&format!(", {}", uncertain::sides(found.expanded, units)));
        }
        let line = page::temperature(reading.line, units);
        let mut pairs = vec![(measure.word().to_owned(), value)];
        let line = ("line".to_owned(), line);
        if self.wanted {
            pairs[0].0 = format!("{} wanted", measure.word());
            pairs.insert(0, line);
        } else {
            pairs.push(line);
        }
        pairs.push((
            format!("{} temperature", measure.branch_word()),
            page::temperature(reading.saturation, units),
        ));
        pairs.push((
            "pressure".to_owned(),
            instruments::sum(&self.read, &self.instrument, self.drop, units),
        ));
        if let Some(limit) = self.read.limit {
            pairs.push((
                "gauge's limits".to_owned(),
                uncertain::gauge_limit(limit, units),
            ));
        }
        if let Some(wrong) = self.wrong_branch() {
            let text = if self.wanted {
                let line = reading.other.map(|other| {
                    let wanted = TemperatureDifference::kelvin(reading.value);
                    page::temperature(measure.line_with(wanted, other), units)
                });
                format!("would ask for a line at {}", line.unwrap_or_default())
            } else {
                format!("would have read {}", degrees(wrong, units, decimals))
            };
            pairs.push((
                format!("on {}, the wrong branch", measure.other_branch_word()),
                text,
            ));
        }
        if let Some(words) = instruments::kit_words(&self.kit, &self.instrument) {
            pairs.push(("kit".to_owned(), words));
        }
        pairs
    }

    fn wrong_branch(&self) -> Option<f64> {
        self.reading
            .wrong_branch(self.found.as_ref().map(Uncertainty::expanded_half))
    }

    fn json(&self, facts: &Facts) -> Value {
        let reading = &self.reading;
        let measure = reading.measure;
        let mut object = identity(self.refrigerant);
        let key = format!("{}_K", measure.word());
        let mut put = |key: &str, value: Value| {
            object.insert(key.to_owned(), value);
        };
        put("pressure_Pa", number(reading.pressure.in_pascal()));
        put("line_temperature_K", number(reading.line.in_kelvin()));
        put(
            "saturation_temperature_K",
            number(reading.saturation.in_kelvin()),
        );
        put("branch", measure.branch_word().into());
        put(&key, number(reading.value));
        put(
            "other_branch",
            json!({
                "branch": measure.other_branch_word(),
                "saturation_temperature_K":
                    optional(reading.other.map(|other| other.in_kelvin())),
                key: optional(reading.other.map(|other| measure.between(reading.line, other))),
                "differs": self.wrong_branch().is_some(),
            }),
        );
        let expanded = self.found.as_ref().map(|found| found.expanded);
        put(
            "meaning",
            uncertain::meaning_word(reading.meaning(expanded)).into(),
        );
        put("atmosphere_Pa", number(self.site.pressure().in_pascal()));
        put("added_Pa", number(self.read.added.pascal()));
        put("shown_Pa", number(self.read.shown));
        put("corrected_Pa", number(self.read.corrected));
        put("pressure_drop_Pa", optional(self.drop));
        put("gauge_limit_Pa", optional(self.read.limit));
        put(
            "kit",
            if self.kit.name.is_empty() {
                Value::Null
            } else {
                self.kit.name.as_str().into()
            },
        );
        put(
            "checked",
            self.instrument
                .correction
                .as_ref()
                .map_or(Value::Null, |one| one.checked.as_str().into()),
        );
        put(
            "decision",
            self.judged.as_ref().map_or(Value::Null, Judged::json),
        );
        put("model", model(facts));
        put("cautions", cautions(&[(self.refrigerant, facts)]).into());
        put("warnings", warnings(&self.warnings));
        uncertain::insert(&mut object, self.found.as_ref());
        Value::Object(object)
    }

    fn sheet(&self) -> Sheet {
        let reading = &self.reading;
        let found = self.found.as_ref();
        let heads = [
            "refrigerant".to_owned(),
            "pressure_Pa".to_owned(),
            "line_temperature_K".to_owned(),
            "branch".to_owned(),
            "saturation_temperature_K".to_owned(),
            format!("{}_K", reading.measure.word()),
            "standard_uncertainty_K".to_owned(),
            "expanded_uncertainty_K".to_owned(),
            "worst_case_K".to_owned(),
        ];
        let row = vec![
            self.refrigerant.designation().to_owned(),
            number_cell(Some(reading.pressure.in_pascal())),
            number_cell(Some(reading.line.in_kelvin())),
            reading.measure.branch_word().to_owned(),
            number_cell(Some(reading.saturation.in_kelvin())),
            number_cell(Some(reading.value)),
            number_cell(found.map(|one| one.standard)),
            number_cell(found.map(Uncertainty::expanded_half)),
            number_cell(found.map(Uncertainty::worst_case)),
        ];
        Sheet {
            heads: heads.to_vec(),
            rows: vec![row],
        }
    }
}
