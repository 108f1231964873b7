//! `moist-air`: air from its dry bulb and one more reading; the heat between two states.

use serde_json::{Value, json};

use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::figures::Figures;
use crate::cli::page;
use crate::cli::transition::NO_VERDICT;
use crate::output::{number, optional, warnings};
use crate::page::{Block, Document, Table};
use crate::refrigerant::Warning;
use crate::service::air::moist_air::{AirSide, Humidity, MoistAir, air_side};
use crate::units::{
    Atmosphere, AtmosphereSource, KG_PER_POUND, M3_PER_CUBIC_FOOT, Temperature, TemperatureUnit,
    Typed, UnitSet, WATT_PER_BTU_PER_HOUR, fixed, parse_percent, parse_temperature,
    parse_volume_flow, significant,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope moist-air --dry-bulb 80F --relative-humidity 50%\n  \
                  zeotrope moist-air --dry-bulb 75F --wet-bulb 62F --elevation 5280ft\n  \
                  zeotrope moist-air --dry-bulb 27C --wet-bulb 19C --leaving-dry-bulb 14C \\\n      \
                  --leaving-wet-bulb 13C --flow 2000m3/h --elevation 1600m"
)]
pub(crate) struct MoistAirArgs {
    /// Dry bulb, for example 80F
    #[arg(long, value_name = "TEMPERATURE")]
    dry_bulb: String,
    #[command(flatten)]
    moisture: MoistureArgs,
    /// Dry bulb of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_dry_bulb: Option<String>,
    /// Wet bulb of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_wet_bulb: Option<String>,
    /// Relative humidity of the air that leaves
    #[arg(long, value_name = "PERCENT")]
    leaving_relative_humidity: Option<String>,
    /// Dew point of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_dew_point: Option<String>,
    /// Flow of air where it enters, for example 1200cfm or 2000m3/h
    #[arg(long, value_name = "FLOW")]
    flow: Option<String>,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// One reading of moisture.
#[derive(Debug, Clone, Default, clap::Args)]
pub(crate) struct MoistureArgs {
    /// Wet bulb, for example 67F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) wet_bulb: Option<String>,
    /// Relative humidity, for example 50%
    #[arg(long, value_name = "PERCENT")]
    pub(crate) relative_humidity: Option<String>,
    /// Dew point, below 0 °C the frost point
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) dew_point: Option<String>,
}

const SOURCE: &str = "ASHRAE Handbook Fundamentals 2017, chapter 1: saturation by its equations 5 \
                      and 6 (over ice below 0 °C), mixture of ideal gases, enhancement left out";

pub(crate) fn answer(args: &MoistAirArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let dry = temperature("--dry-bulb", &args.dry_bulb)?;
    let units = meant::units(&args.units, Some(dry.unit), None)?;
    let entering = (dry.value, humidity(&args.moisture, "")?);
    let leaving = leaving(args)?;
    let flow = args
        .flow
        .as_deref()
        .map(parse_volume_flow)
        .transpose()
        .map_err(|error| Failure::from(error).of_option("--flow"))?;
    let air_of = |(dry, humidity): (Temperature, Humidity), air: &Atmosphere| {
        MoistAir::new(dry, humidity, air.pressure())
            .map_err(|error| Failure::in_units(error, &units, &site))
    };
    let page = Page {
        units: &units,
        site: &site,
    };
    let first = air_of(entering, &site)?;
    let found = match (leaving, flow) {
        (None, None) => return Ok(page.one(&first, &site_warnings)),
        (Some(leaving), Some(flow)) => {
            let second = air_of(leaving, &site)?;
            // What the same readings and the same flow would give at sea level.
            let sea = Atmosphere::SEA_LEVEL;
            let at_sea = match site.source() {
                AtmosphereSource::SeaLevel => None,
                _ => Some(air_side(
                    &air_of(entering, &sea)?,
                    &air_of(leaving, &sea)?,
                    flow,
                )),
            };
            page.two([&first, &second], flow, at_sea, &site_warnings)
        }
        (Some(_), None) => {
            return Err(Failure::usage(
                "two states of air need a flow to give heat",
                "add --flow 1200cfm or --flow 2000m3/h",
            ));
        }
        (None, Some(_)) => {
            return Err(Failure::usage(
                "a flow needs the air that leaves",
                "add --leaving-dry-bulb and one of --leaving-wet-bulb, \
                 --leaving-relative-humidity, --leaving-dew-point",
            ));
        }
    };
    Ok(found)
}

pub(crate) fn temperature(
    option: &str,
    text: &str,
) -> Result<Typed<Temperature, TemperatureUnit>, Failure> {
    parse_temperature(text).map_err(|error| Failure::from(error).of_option(option))
}

/// The one reading of moisture among those that may be given.
pub(crate) fn humidity(args: &MoistureArgs, prefix: &str) -> Result<Humidity, Failure> {
    let name = |option: &str| format!("--{prefix}{option}");
    let mut found = Vec::new();
    if let Some(text) = &args.wet_bulb {
        found.push(Humidity::WetBulb(
            temperature(&name("wet-bulb"), text)?.value,
        ));
    }
    if let Some(text) = &args.relative_humidity {
        found.push(Humidity::Relative(
            parse_percent("relative humidity", text)
                .map_err(|error| Failure::from(error).of_option(&name("relative-humidity")))?,
        ));
    }
    if let Some(text) = &args.dew_point {
        found.push(Humidity::DewPoint(
            temperature(&name("dew-point"), text)?.value,
        ));
    }
    match found.as_slice() {
        [one] => Ok(*one),
        _ => Err(Failure::usage(
            format!(
                "{} of the air's moisture {} given",
                if found.is_empty() {
                    "no reading"
                } else {
                    "more than one reading"
                },
                if found.is_empty() { "was" } else { "were" }
            ),
            format!(
                "give one of {}, {}, {}",
                name("wet-bulb"),
                name("relative-humidity"),
                name("dew-point")
            ),
        )),
    }
}

fn leaving(args: &MoistAirArgs) -> Result<Option<(Temperature, Humidity)>, Failure> {
    let moisture = MoistureArgs {
        wet_bulb: args.leaving_wet_bulb.clone(),
        relative_humidity: args.leaving_relative_humidity.clone(),
        dew_point: args.leaving_dew_point.clone(),
    };
    let Some(dry) = &args.leaving_dry_bulb else {
        let any = [
            &moisture.wet_bulb,
            &moisture.relative_humidity,
            &moisture.dew_point,
        ];
        if any.iter().any(|text| text.is_some()) {
            return Err(Failure::usage(
                "the air that leaves has no dry bulb",
                "add --leaving-dry-bulb 55F",
            ));
        }
        return Ok(None);
    };
    let dry = temperature("--leaving-dry-bulb", dry)?;
    Ok(Some((dry.value, humidity(&moisture, "leaving-")?)))
}

struct Page<'a> {
    units: &'a UnitSet,
    site: &'a Atmosphere,
}

impl Page<'_> {
    fn figures(&self, air: &MoistAir) -> Figures {
        let feet = self.units.feet;
        let shown = |value: Temperature| page::temperature(value, self.units);
        let kelvin = |value: Option<Temperature>| optional(value.map(Temperature::in_kelvin));
        let mut list = Figures::default();
        list.number(
            "dry bulb",
            shown(air.dry_bulb),
            "dry_bulb_K",
            air.dry_bulb.in_kelvin(),
        );
        list.number(
            "wet bulb",
            shown(air.wet_bulb),
            "wet_bulb_K",
            air.wet_bulb.in_kelvin(),
        );
        list.add(
            if air.frozen_wet_bulb.is_some() {
                "wet bulb, frozen wick"
            } else {
                ""
            },
            air.frozen_wet_bulb.map(shown).unwrap_or_default(),
            "frozen_wet_bulb_K",
            kelvin(air.frozen_wet_bulb),
        );
        list.add(
            "dew point",
            air.dew_point.map_or_else(|| "none".to_owned(), shown),
            "dew_point_K",
            kelvin(air.dew_point),
        );
        list.number(
            "relative humidity",
            format!("{} %", fixed(air.relative_humidity * 100.0, 2)),
            "relative_humidity",
            air.relative_humidity,
        );
        let ratio = match feet {
            true => format!(
                "{} lb/lb, {} gr/lb",
                fixed(air.humidity_ratio, 5),
                fixed(air.humidity_ratio * 7000.0, 1)
            ),
            false => format!("{} g/kg", fixed(air.humidity_ratio * 1e3, 2)),
        };
        list.number(
            "humidity ratio",
            ratio,
            "humidity_ratio",
            air.humidity_ratio,
        );
        // Tables in °F count dry air from 0 °F, those in °C from 0 °C.
        let enthalpy = match feet {
            true => format!(
                "{} Btu/lb",
                fixed((air.enthalpy + 1006.0 * 32.0 / 1.8) / 2326.0, 2)
            ),
            false => format!("{} kJ/kg", fixed(air.enthalpy / 1e3, 2)),
        };
        list.number("enthalpy", enthalpy, "enthalpy_J_kg_dry_air", air.enthalpy);
        let volume = match feet {
            true => format!(
                "{} ft3/lb",
                fixed(air.specific_volume * KG_PER_POUND / M3_PER_CUBIC_FOOT, 3)
            ),
            false => format!("{} m3/kg", fixed(air.specific_volume, 4)),
        };
        list.number(
            "specific volume",
            volume,
            "specific_volume_m3_kg_dry_air",
            air.specific_volume,
        );
        list
    }

    fn foot(&self, warnings: &[Warning]) -> Vec<Block> {
        let mut lines: Vec<String> = warnings
            .iter()
            .map(|warning| format!("warning: {} ({})", warning.text, warning.code))
            .collect();
        lines.push(format!("Air pressure {}.", self.site.in_words()));
        let zero = if self.units.feet { "0 °F" } else { "0 °C" };
        lines.push(format!(
            "Humidity ratio, enthalpy and specific volume are per mass of dry air; enthalpy \
             counts from dry air at {zero} and liquid water at 0 °C. Relative humidity, dew point \
             and wet bulb below 0 °C are those over ice."
        ));
        lines.push(format!("Source: {SOURCE}."));
        vec![
            Block::Lines(lines),
            Block::Lines(vec![NO_VERDICT.to_owned()]),
        ]
    }

    fn one(&self, air: &MoistAir, site_warnings: &[Warning]) -> Document {
        let list = self.figures(air);
        let mut blocks = vec![Block::Title("Moist air".into()), list.block()];
        blocks.extend(self.foot(site_warnings));
        let mut object = list.object();
        object.extend(self.common(site_warnings));
        Document {
            blocks,
            sheet: list.sheet(),
            json: Value::Object(object),
            warnings: site_warnings.to_vec(),
            ..Document::default()
        }
    }

    fn common(&self, site_warnings: &[Warning]) -> serde_json::Map<String, Value> {
        let mut object = serde_json::Map::new();
        object.insert(
            "atmosphere_Pa".into(),
            number(self.site.pressure().in_pascal()),
        );
        object.insert("source".into(), SOURCE.into());
        object.insert("warnings".into(), warnings(site_warnings));
        object.insert("cautions".into(), json!([NO_VERDICT]));
        object
    }

    fn heat(&self, watt: f64) -> String {
        match self.units.feet {
            true => format!("{} Btu/h", fixed(watt / WATT_PER_BTU_PER_HOUR, 0)),
            false => format!("{} kW", significant(watt / 1e3, 4)),
        }
    }

    fn two(
        &self,
        [entering, leaving]: [&MoistAir; 2],
        flow: f64,
        at_sea: Option<AirSide>,
        site_warnings: &[Warning],
    ) -> Document {
        let sides = [self.figures(entering), self.figures(leaving)];
        let [first, second] = &sides;
        let second_pairs = second.pairs();
        let rows = first
            .pairs()
            .into_iter()
            .map(|(name, text)| {
                let other = second_pairs
                    .iter()
                    .find(|(other, _)| *other == name)
                    .map(|(_, text)| text.clone())
                    .unwrap_or_default();
                vec![name, text, other]
            })
            .collect();
        let found = air_side(entering, leaving, flow);
        let mut heat = Figures::default();
        heat.number("", "", "flow_m3_s", flow);
        let mass = |kg_per_s: f64| match self.units.feet {
            true => format!("{} lb/h", significant(kg_per_s * 3600.0 / KG_PER_POUND, 4)),
            false => format!("{} kg/h", significant(kg_per_s * 3600.0, 4)),
        };
        heat.number(
            "dry air",
            mass(found.dry_air),
            "dry_air_kg_s",
            found.dry_air,
        );
        heat.number(
            "water taken out",
            mass(found.water),
            "water_kg_s",
            found.water,
        );
        heat.number(
            "capacity",
            self.heat(found.total),
            "capacity_W",
            found.total,
        );
        heat.number(
            "of it sensible",
            self.heat(found.sensible),
            "sensible_W",
            found.sensible,
        );
        heat.number(
            "of it latent",
            self.heat(found.latent),
            "latent_W",
            found.latent,
        );
        match at_sea {
            Some(sea) => {
                heat.number(
                    "same readings at sea level",
                    self.heat(sea.total),
                    "sea_level_capacity_W",
                    sea.total,
                );
                heat.number(
                    "the altitude's part",
                    self.heat(found.total - sea.total),
                    "altitude_part_W",
                    found.total - sea.total,
                );
            }
            None => heat.add("", "", "sea_level_capacity_W", Value::Null),
        }
        // The rules of thumb 4.5 and 1.08 Btu/h per cfm stand for dry air of 0.075 lb/ft3.
        let standard = 0.075 * KG_PER_POUND / M3_PER_CUBIC_FOOT;
        let share = 1.0 / entering.specific_volume / standard;
        heat.number("", "", "density_over_standard_air", share);
        let mut blocks = vec![
            Block::Title("Moist air, entering and leaving".into()),
            Block::Table(Table {
                groups: Vec::new(),
                heads: ["", "entering", "leaving"].map(str::to_owned).to_vec(),
                rows,
                words: 1,
            }),
            heat.block(),
            Block::Lines(vec![
                "Capacity = flow x (h1 - h2) / v1, the flow measured where the air enters; what \
                 the condensate carries away is left in. Below zero: the air takes up heat."
                    .into(),
                format!(
                    "The rule-of-thumb factors 4.5 and 1.08 (Btu/h per cfm; common practice, no \
                     source) are for sea-level air of 0.075 lb/ft3; this air has {} times that \
                     density, so {} and {}.",
                    fixed(share, 3),
                    fixed(4.5 * share, 2),
                    fixed(1.08 * share, 3)
                ),
            ]),
        ];
        blocks.extend(self.foot(site_warnings));
        let mut object = serde_json::Map::new();
        object.insert("entering".into(), Value::Object(first.object()));
        object.insert("leaving".into(), Value::Object(second.object()));
        object.extend(heat.object());
        object.extend(self.common(site_warnings));
        Document {
            blocks,
            sheet: heat.sheet(),
            json: Value::Object(object),
            warnings: site_warnings.to_vec(),
            ..Document::default()
        }
    }
}
