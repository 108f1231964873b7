//! `show`: what is known about one refrigerant, each fact with its source.

use serde_json::{Map, Value, json};

use crate::catalogue::records::{PureRecord, WarmingPotential};
use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::output::{identity, model, number, optional, warnings};
use crate::page::{Block, Document, Sheet};
use crate::refrigerant::Refrigerant;
use crate::service::distance::BlendDistance;
use crate::service::facts::Facts;
use crate::service::hazard::gwp::{Bound, Gwp, by_mass};
use crate::units::{
    Atmosphere, DensityUnit, Pressure, Temperature, TemperatureDifference, TemperatureUnit,
    UnitSet, fixed, significant,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope show R-134a\n  zeotrope show propane --units ip\n  zeotrope show R-744 --format json"
)]
pub(crate) struct ShowArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// A fact: name, text, key and value for programs.
struct Fact {
    name: String,
    text: String,
    key: &'static str,
    value: Value,
}

pub(crate) fn answer(args: &ShowArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let units = meant::units(&args.units, None::<TemperatureUnit>, None)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let facts = Facts::of(&refrigerant);
    let shown = Shown {
        refrigerant: &refrigerant,
        units: &units,
        site: &site,
    };
    let mut list = shown.common(&facts);
    let mut title = refrigerant.designation().to_owned();
    if let [record] = refrigerant.records().as_slice() {
        title = format!("{title}, {}", record.name);
        list.extend(shown.pure(record));
    } else {
        list.extend(shown.blend(&facts));
    }
    let all = page::all_warnings(&refrigerant, &[], &site_warnings);

    let mut object: Map<String, Value> = identity(&refrigerant);
    for fact in list.iter().filter(|fact| !fact.key.is_empty()) {
        object.insert(fact.key.into(), fact.value.clone());
    }
    object.insert("model".into(), model(&facts));
    object.insert("warnings".into(), warnings(&all));
    let pairs: Vec<(String, String)> = list
        .into_iter()
        .filter(|fact| !fact.name.is_empty())
        .map(|fact| (fact.name, fact.text))
        .collect();
    let mut blocks = vec![Block::Title(title), Block::Pairs(pairs.clone())];
    blocks.extend(page::foot_without_class(&refrigerant, &facts, &all, &site));
    Ok(Document {
        blocks,
        sheet: Sheet {
            heads: ["fact", "value"].map(str::to_owned).to_vec(),
            rows: pairs
                .into_iter()
                .map(|(name, text)| vec![name, text])
                .collect(),
        },
        json: Value::Object(object),
        warnings: all,
        ..Document::default()
    })
}

struct Shown<'a> {
    refrigerant: &'a Refrigerant,
    units: &'a UnitSet,
    site: &'a Atmosphere,
}

impl Shown<'_> {
    fn temperature(&self, value: Temperature) -> String {
        page::temperature(value, self.units)
    }

    fn pressure(&self, value: Pressure) -> String {
        page::pressure(value, self.units.absolute, self.site)
    }

    fn density(&self, kg_per_m3: f64) -> String {
        let unit = match self.units.density {
            DensityUnit::PoundPerCubicFoot => DensityUnit::PoundPerCubicFoot,
            _ => DensityUnit::KilogramPerCubicMetre,
        };
        let figure = unit.read(kg_per_m3, self.refrigerant.molar_mass());
        format!("{} {}", significant(figure, 5), unit.typed())
    }

    fn point(&self, at: (Temperature, Pressure, f64)) -> (String, Value) {
        let text = format!(
            "{}, {}, {}",
            self.temperature(at.0),
            self.pressure(at.1),
            self.density(at.2)
        );
        let value = json!({
            "temperature_K": number(at.0.in_kelvin()),
            "pressure_Pa": number(at.1.in_pascal()),
            "density_kg_m3": number(at.2),
        });
        (text, value)
    }

    fn common(&self, facts: &Facts) -> Vec<Fact> {
        let class = facts.safety_class.as_ref();
        let mut list = vec![
            Fact {
                name: "class".into(),
                text: class.map_or_else(
                    || facts.class_text().to_owned(),
                    |class| format!("{} ({})", class.value, class.source),
                ),
                key: "safety_class",
                value: class.map_or(
                    Value::Null,
                    |class| json!({"value": class.value, "source": class.source}),
                ),
            },
            Fact {
                name: "molar mass".into(),
                text: format!(
                    "{} g/mol",
                    significant(self.refrigerant.molar_mass() * 1e3, 7)
                ),
                key: "molar_mass_kg_mol",
                value: number(self.refrigerant.molar_mass()),
            },
        ];
        if let Some(critical) = self.refrigerant.critical_point() {
            let at = (critical.temperature, critical.pressure, critical.density);
            let (text, value) = self.point(at);
            list.push(Fact {
                name: "critical point of the model".into(),
                text,
                key: "critical_point",
                value,
            });
        }
        let limits = self.refrigerant.limits();
        list.push(Fact {
            name: "range".into(),
            text: format!(
                "{} to {}, up to {}",
                self.temperature(limits.temperature_min),
                self.temperature(limits.temperature_max),
                self.pressure(limits.pressure_max)
            ),
            key: "range",
            value: json!({
                "temperature_min_K": number(limits.temperature_min.in_kelvin()),
                "temperature_max_K": number(limits.temperature_max.in_kelvin()),
                "pressure_max_Pa": number(limits.pressure_max.in_pascal()),
            }),
        });
        list
    }

    fn pure(&self, record: &PureRecord) -> Vec<Fact> {
        let published = &record.critical_point.published;
        let (text, value) = self.point((
            Temperature::kelvin(published.temperature_k),
            Pressure::pascal(published.pressure_pa),
            published.density_mol_m3 * record.molar_mass_kg_mol,
        ));
        let word = |name: &str, key, text: &str| Fact {
            name: name.into(),
            text: text.to_owned(),
            key,
            value: text.into(),
        };
        let mut list = vec![
            Fact {
                name: "critical point as published".into(),
                text,
                key: "critical_point_published",
                value,
            },
            word("", "name", &record.name),
            word("formula", "formula", &record.formula),
            word("CAS number", "cas", &record.cas),
        ];
        if !record.spellings.is_empty() {
            list.push(Fact {
                name: "found also as".into(),
                text: record.spellings.join(", "),
                key: "spellings",
                value: record.spellings.clone().into(),
            });
        }
        list.extend(warming(&record.gwp));
        let sourced = |name: &str,
                       key,
                       fact: &Option<crate::catalogue::records::Sourced<f64>>,
                       unit: &str| {
            Fact {
                name: name.into(),
                text: fact.as_ref().map_or_else(
                    || "not on record here".to_owned(),
                    |fact| {
                        format!("{} {unit}", fact.value).trim_end().to_owned()
                            + &format!(" ({})", fact.source)
                    },
                ),
                key,
                value: fact.as_ref().map_or(
                    Value::Null,
                    |fact| json!({"value": optional(Some(fact.value)), "source": fact.source}),
                ),
            }
        };
        list.push(sourced("ODP, R-11 = 1", "odp", &record.odp, ""));
        list.push(sourced(
            "lower flammability limit",
            "lfl_kg_m3",
            &record.lfl_kg_m3,
            "kg/m3",
        ));
        if let Some(remark) = &record.remark {
            list.push(word("remark", "remark", remark));
        }
        list
    }

    fn blend(&self, facts: &Facts) -> Vec<Fact> {
        let record = self.refrigerant.blend();
        let mut list = Vec::new();
        for component in self.refrigerant.components() {
            let tolerance = record
                .as_ref()
                .and_then(|record| {
                    let mut all = record.components.iter();
                    all.find(|one| one.refrigerant == component.designation)
                })
                .map(|one| match one.tolerance_mass_percent {
                    Some([below, above]) => format!(", tolerance +{above}/-{below}"),
                    None => ", no tolerance on record".to_owned(),
                })
                .unwrap_or_default();
            list.push(Fact {
                name: component.designation.clone(),
                text: format!(
                    "{} % by mass, {} % by mole{tolerance}",
                    significant(component.mass_fraction * 100.0, 5),
                    significant(component.mole_fraction * 100.0, 5)
                ),
                key: "",
                value: Value::Null,
            });
        }
        for one in &facts.model.distances {
            list.push(Fact {
                name: format!("{} point at 101.325 kPa as published", one.branch.name()),
                text: format!(
                    "{} ({}); {}",
                    self.temperature(Temperature::celsius(one.published)),
                    one.source,
                    self.model_beside(one)
                ),
                key: match one.branch.name() {
                    "bubble" => "bubble_C_published",
                    _ => "dew_C_published",
                },
                value: json!({"value": number(one.published), "source": one.source}),
            });
        }
        list.extend(warming_of_blend(&by_mass(self.refrigerant)));
        list
    }

    /// The model's distance from a published point, in words.
    fn model_beside(&self, one: &BlendDistance) -> String {
        let Some(kelvin) = one.difference() else {
            return "not answered by the model".into();
        };
        let unit = self.units.temperature;
        let difference = unit.read_difference(TemperatureDifference::kelvin(kelvin));
        let mut text = format!(
            "model less published {} {}",
            fixed(difference, 2),
            unit.difference_symbol()
        );
        if one.fitted_to_these_values {
            text.push_str(", fitted to these values: no check");
        }
        text
    }
}

/// Warming potentials of a blend by mass, a line a report.
fn warming_of_blend(potentials: &[Gwp]) -> Vec<Fact> {
    let mut list: Vec<Fact> = potentials
        .iter()
        .map(|one| {
            let mut text = format!(
                "{} {}",
                match one.bound() {
                    Bound::AtLeast => "at least",
                    Bound::AtMost => "at most",
                    Bound::Exact => "",
                },
                significant(one.value, 4)
            )
            .trim_start()
            .to_owned();
            text.push_str(&format!(" by mass ({}", one.report));
            if !one.missing.is_empty() {
                text.push_str(&format!("; no value of {}", one.missing.join(", ")));
            } else if !one.bounded.is_empty() {
                let names = one.bounded.join(", ");
                text.push_str(&format!("; an upper bound of {names}"));
            }
            Fact {
                name: format!("GWP over {} years", one.horizon_years.unwrap_or_default()),
                text: text + ")",
                key: "",
                value: Value::Null,
            }
        })
        .collect();
    let reports = potentials.iter().map(|one| {
        json!({
            "report": one.report,
            "horizon_years": one.horizon_years,
            "value": number(one.value),
            "at_least": !one.missing.is_empty(),
            "below": one.missing.is_empty() && !one.bounded.is_empty(),
            "missing": one.missing,
        })
    });
    let reports = reports.collect();
    list.extend(no_warming(list.is_empty()));
    list.push(Fact {
        name: String::new(),
        text: String::new(),
        key: "gwp",
        value: reports,
    });
    list
}

/// Where no report has a value, that is told.
fn no_warming(none: bool) -> Option<Fact> {
    none.then(|| Fact {
        name: "GWP".into(),
        text: "not on record here".into(),
        key: "",
        value: Value::Null,
    })
}

/// Warming potentials, a line a report.
fn warming(potentials: &[WarmingPotential]) -> Vec<Fact> {
    let mut list: Vec<Fact> = potentials
        .iter()
        .map(|one| Fact {
            name: format!("GWP over {} years", one.horizon_years),
            text: format!(
                "{}{} ({})",
                if one.below { "below " } else { "" },
                one.value,
                one.report
            ),
            key: "",
            value: Value::Null,
        })
        .collect();
    list.extend(no_warming(list.is_empty()));
    list.push(Fact {
        name: String::new(),
        text: String::new(),
        key: "gwp",
        value: potentials
            .iter()
            .map(|one| {
                json!({
                    "report": one.report,
                    "horizon_years": one.horizon_years,
                    "value": number(one.value),
                    "below": one.below,
                })
            })
            .collect(),
    });
    list
}
