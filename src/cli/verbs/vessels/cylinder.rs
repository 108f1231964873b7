//! `cylinder`: three figures for a filling, and what warmth does to one.

use serde_json::{Value, json};

use crate::chart::plot::{Axis, Curve, Mark, Plot, Stroke};
use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, System, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::page;
use crate::cli::transition::{CYLINDER, cautions};
use crate::output::{identity, model, number, number_cell, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::vessel::cylinder::{
    Filled, Rule, WARMED_TO, filled, liquid_full, rules, smallest,
};
use crate::units::{
    Atmosphere, KG_PER_POUND, Temperature, TemperatureDifference, UnitSet, fixed, parse_mass,
    parse_volume, significant,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope cylinder R-22 --water-capacity 47.7lb\n  \
                  zeotrope cylinder R-134a --water-capacity 27.2L --contents 20kg\n  \
                  zeotrope cylinder R-744 --water-capacity 10L --filling-ratio 0.66\n  \
                  zeotrope cylinder R-404A --water-capacity 20L --format svg"
)]
pub(crate) struct CylinderArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Water capacity on the cylinder's collar, for example 47.7lb, 21.6kg or 21.6L
    #[arg(long, value_name = "CAPACITY")]
    water_capacity: Option<String>,
    /// Mass in the cylinder, to see what warmth does to it; without it the smallest figure
    #[arg(long, value_name = "MASS")]
    contents: Option<String>,
    /// Filling ratio of the law that applies, kg a litre of water capacity, for example 0.94
    #[arg(long, value_name = "RATIO")]
    filling_ratio: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// Kilograms of water in a litre, by which a capacity in mass becomes a volume.
const WATER_KG_M3: f64 = 1000.0;

/// What stands below the tables.
const NOTES: [&str; 2] = [
    "None of these figures says that a filling is permitted. 80 %: AHRI Guideline K, for recovered \
     halocarbons that do not burn; 55 °C: common practice, no source. 80 % is not safe for every \
     refrigerant: see at what temperature it is full of liquid.",
    "Above that temperature the pressure is that of liquid in a vessel that does not stretch. 1 kg \
     of water capacity counts as 1 L. Oil counts as contents.",
];

pub(crate) fn answer(args: &CylinderArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let (volume, in_pounds) = capacity(args)?;
    let contents = args
        .contents
        .as_deref()
        .map(parse_mass)
        .transpose()
        .map_err(|error| Failure::from(error).of_option("--contents"))?;
    let what = "the kilograms that the law allows in a litre of water capacity";
    let ratio = args
        .filling_ratio
        .as_deref()
        .map(|text| meant::bare_number("--filling-ratio", text, what))
        .transpose()?;
    // The answer comes in the units of the capacity.
    let mut shown = args.units.clone();
    if shown.units.is_none() && in_pounds {
        shown.units = Some(System::Ip);
    }
    let units = meant::units(&shown, None, None)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let facts = Facts::of(&refrigerant);
    let found = rules(&refrigerant, volume, ratio)?;
    let least = smallest(&found);
    let Some(mass) = contents.or(least.map(|(_, mass)| mass)) else {
        let reasons: Vec<String> = found
            .iter()
            .filter_map(|rule| Some(format!("{}: {}", rule.name, rule.mass.as_ref().err()?)))
            .collect();
        return Err(Failure::no_answer(
            format!(
                "no figure for {}: {}",
                refrigerant.designation(),
                reasons.join("; ")
            ),
            "the filling ratio of the law that applies, --filling-ratio, and --contents are \
             answered",
        ));
    };
    let page = Page {
        refrigerant: &refrigerant,
        units: &units,
        site: &site,
        volume,
    };
    let all = page::all_warnings(&refrigerant, &[], &site_warnings);
    let mut list = Figures::default();
    list.number("water capacity", page.capacity(), "volume_m3", volume);
    list.add(
        "smallest figure",
        least.map_or_else(
            || "none".to_owned(),
            |(rule, mass)| format!("{}, {}", page.mass(mass), rule.name),
        ),
        "smallest",
        least.map(|(rule, _)| rule.key),
    );
    list.number(
        match contents {
            Some(_) => "contents, as given",
            None => "contents, for the table",
        },
        page.mass(mass),
        "contents_kg",
        mass,
    );
    let full = liquid_full(&refrigerant, mass / volume)
        .map_err(|error| Failure::in_units(error, &units, &site))?;
    list.add(
        "full of liquid at",
        page.full(full),
        "liquid_full_K",
        optional(full.map(Temperature::in_kelvin)),
    );
    let hot = filled(&refrigerant, mass / volume, WARMED_TO).ok();
    list.add(
        "pressure at 55 °C",
        page.hot(hot),
        "pressure_at_55C_Pa",
        optional(hot.map(|hot| hot.pressure.in_pascal())),
    );
    let rows = page.warming(mass);
    let words: Vec<String> = cautions(&[(&refrigerant, &facts)])
        .into_iter()
        .chain(CYLINDER.map(str::to_owned))
        .collect();
    let mut object = identity(&refrigerant);
    object.insert("figures".into(), page.rules_json(&found));
    object.extend(list.object());
    object.insert("warming".into(), rows.iter().map(row_json).collect());
    object.insert("atmosphere_Pa".into(), number(site.pressure().in_pascal()));
    object.insert("model".into(), model(&facts));
    object.insert("warnings".into(), warnings(&all));
    object.insert("cautions".into(), json!(words));
    let refusals = found.iter().filter_map(|rule| {
        let reason = rule.mass.as_ref().err()?;
        Some(format!("Refused, {}: {reason}.", rule.name))
    });
    let notes: Vec<String> = refusals.chain(NOTES.map(str::to_owned)).collect();
    let mut blocks = vec![
        Block::Title(format!("{} in a cylinder", refrigerant.designation())),
        Block::Table(page.rules(&found)),
        list.block(),
        Block::Table(page.table(&rows)),
        Block::Picture(page.picture(mass, full, &notes)),
        Block::Lines(notes),
    ];
    blocks.extend(page::foot(&refrigerant, &facts, None, &all, &site));
    blocks.push(Block::Lines(CYLINDER.map(str::to_owned).to_vec()));
    Ok(Document {
        blocks,
        sheet: Sheet {
            heads: [
                "temperature_K",
                "pressure_Pa",
                "liquid_share",
                "space_share",
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: rows
                .iter()
                .map(|(at, found)| {
                    let share = found.and_then(|found| found.liquid_share);
                    vec![
                        number_cell(Some(at.in_kelvin())),
                        number_cell(found.map(|found| found.pressure.in_pascal())),
                        number_cell(share),
                        number_cell(share.map(|share| 1.0 - share)),
                    ]
                })
                .collect(),
        },
        json: Value::Object(object),
        warnings: all,
        ..Document::default()
    })
}

/// The water capacity in m3, and whether it was given in pounds.
fn capacity(args: &CylinderArgs) -> Result<(f64, bool), Failure> {
    let Some(text) = &args.water_capacity else {
        return Err(Failure::usage(
            "the cylinder's water capacity was not given, and without it there is no figure",
            "read the water capacity (WC) on the cylinder's collar and add --water-capacity \
             47.7lb; a cylinder of unknown capacity is not filled",
        ));
    };
    let in_pounds = text.to_ascii_lowercase().contains("lb");
    match (parse_mass(text), parse_volume(text)) {
        (Ok(mass), _) => Ok((mass / WATER_KG_M3, in_pounds)),
        (_, Ok(volume)) => Ok((volume, text.contains("ft") || text.contains("in"))),
        _ => Err(Failure::usage(
            format!("--water-capacity: '{text}' is no mass of water and no volume"),
            "read the water capacity (WC) on the cylinder's collar and write 47.7lb, 21.6kg or \
             21.6L; a cylinder of unknown capacity is not filled",
        )),
    }
}

/// A temperature and the filling there, where there is an answer.
type Row = (Temperature, Option<Filled>);

fn row_json((at, found): &Row) -> Value {
    json!({
        "temperature_K": number(at.in_kelvin()),
        "pressure_Pa": optional(found.map(|found| found.pressure.in_pascal())),
        "liquid_share": optional(found.and_then(|found| found.liquid_share)),
    })
}

struct Page<'a> {
    refrigerant: &'a Refrigerant,
    units: &'a UnitSet,
    site: &'a Atmosphere,
    volume: f64,
}

impl Page<'_> {
    fn mass(&self, kg: f64) -> String {
        match self.units.feet {
            true => format!("{} lb", significant(kg / KG_PER_POUND, 4)),
            false => format!("{} kg", significant(kg, 4)),
        }
    }

    fn capacity(&self) -> String {
        let litres = format!("{} L", significant(self.volume * 1e3, 4));
        match self.units.feet {
            true => format!(
                "{} of water, {litres}",
                self.mass(self.volume * WATER_KG_M3)
            ),
            false => litres,
        }
    }

    fn full(&self, full: Option<Temperature>) -> String {
        full.map_or_else(
            || "never below the critical temperature".to_owned(),
            |at| page::temperature(at, self.units),
        )
    }

    fn hot(&self, hot: Option<Filled>) -> String {
        hot.map_or_else(
            || "beyond the equation".to_owned(),
            |hot| {
                let full = match hot.liquid_share {
                    Some(1.0) => ", full of liquid",
                    _ => "",
                };
                page::pressure(hot.pressure, self.units.gauge, self.site) + full
            },
        )
    }

    fn rules(&self, found: &[Rule]) -> Table {
        let rows = found.iter().map(|rule| {
            let mut row = vec![rule.name.clone()];
            match &rule.mass {
                Err(_) => row.extend(["refused", "-", "-"].map(str::to_owned)),
                Ok(mass) => {
                    let filling = mass / self.volume;
                    let full = liquid_full(self.refrigerant, filling).ok();
                    row.extend([
                        self.mass(*mass),
                        full.map_or_else(|| "does not fit".into(), |full| self.full(full)),
                        self.hot(filled(self.refrigerant, filling, WARMED_TO).ok()),
                    ]);
                }
            }
            row
        });
        Table {
            groups: Vec::new(),
            heads: ["figure", "mass", "full of liquid at", "pressure at 55 °C"]
                .map(str::to_owned)
                .to_vec(),
            rows: rows.collect(),
            words: 1,
        }
    }

    fn rules_json(&self, found: &[Rule]) -> Value {
        found
            .iter()
            .map(|rule| {
                let filling = rule.mass.as_ref().ok().map(|mass| mass / self.volume);
                let full = filling
                    .and_then(|filling| liquid_full(self.refrigerant, filling).ok())
                    .flatten();
                let hot =
                    filling.and_then(|filling| filled(self.refrigerant, filling, WARMED_TO).ok());
                json!({
                    "figure": rule.key,
                    "mass_kg": optional(rule.mass.as_ref().ok().copied()),
                    "refused": rule.mass.as_ref().err(),
                    "liquid_full_K": optional(full.map(Temperature::in_kelvin)),
                    "pressure_at_55C_Pa": optional(hot.map(|hot| hot.pressure.in_pascal())),
                })
            })
            .collect()
    }

    /// What warmth does to a mass: steps of 10 degrees.
    fn warming(&self, mass: f64) -> Vec<Row> {
        let temperatures: Vec<Temperature> = match self.units.feet {
            true => (0..=15)
                .map(|step| Temperature::fahrenheit(10.0 * f64::from(step)))
                .collect(),
            false => (-2..=7)
                .map(|step| Temperature::celsius(10.0 * f64::from(step)))
                .collect(),
        };
        temperatures
            .into_iter()
            .map(|at| (at, filled(self.refrigerant, mass / self.volume, at).ok()))
            .collect()
    }

    /// Space left against temperature, for formats that draw.
    fn picture(&self, mass: f64, full: Option<Temperature>, notes: &[String]) -> Plot {
        let unit = self.units.temperature;
        let filling = mass / self.volume;
        let coldest = Temperature::celsius(-20.0);
        // Down to no space at all, where that is on the picture, and no farther.
        let end = match full {
            Some(full) if full > coldest => full,
            _ => WARMED_TO,
        };
        let points: Vec<(f64, f64)> = (0..=45)
            .map(|step| {
                let along = f64::from(step) / 45.0 * (end - coldest).in_kelvin();
                coldest + TemperatureDifference::kelvin(along)
            })
            .filter_map(|at| {
                let share = filled(self.refrigerant, filling, at).ok()?.liquid_share?;
                Some((unit.read(at), (1.0 - share) * 100.0))
            })
            .collect();
        let marks = full.map(|full| Mark {
            label: format!("full of liquid at {}", page::temperature(full, self.units)),
            at: (unit.read(full), 0.0),
        });
        let ends = points.iter().map(|point| point.0);
        let shares = points.iter().map(|point| point.1).chain([0.0]);
        Plot {
            title: format!(
                "Space left over {} of {} in {}",
                self.mass(mass),
                self.refrigerant.designation(),
                self.capacity()
            ),
            x: Axis::around(
                format!("temperature, {}", unit.symbol()),
                ends.chain([unit.read(end)]),
            ),
            y: Axis::around("space left, % of the volume", shares),
            curves: vec![Curve {
                label: self.refrigerant.designation().to_owned(),
                points,
                stroke: Stroke::Solid,
            }],
            marks: marks.into_iter().collect(),
            notes: notes
                .iter()
                .cloned()
                .chain(CYLINDER.map(str::to_owned))
                .collect(),
        }
    }

    fn table(&self, rows: &[Row]) -> Table {
        let percent = |share: Option<f64>| {
            share.map_or_else(|| "-".to_owned(), |share| fixed(share * 100.0, 1))
        };
        let rows = rows.iter().map(|(at, found)| {
            let share = found.and_then(|found| found.liquid_share);
            vec![
                page::temperature(*at, self.units),
                found.map_or_else(
                    || "no answer".to_owned(),
                    |found| page::pressure(found.pressure, self.units.gauge, self.site),
                ),
                percent(share),
                percent(share.map(|share| 1.0 - share)),
            ]
        });
        Table {
            groups: Vec::new(),
            heads: ["temperature", "pressure", "liquid, %", "space left, %"]
                .map(str::to_owned)
                .to_vec(),
            rows: rows.collect(),
            words: 0,
        }
    }
}
