//! What a user puts around a chart: own words, a logo, the paper; and an exercise's blanks.

use super::words::Phrase;
use super::words::print::{BOX_SUBCOOLING, BOX_SUPERHEAT};
use super::{About, Block, Document, Form, Logo, Style};
use crate::catalogue::{Basis, Catalogue};
use crate::chart::Chart;
use crate::refrigerant::Refrigerant;
use crate::units::{AtmosphereSource, TemperatureDifference};
use crate::{Error, Result};

/// How much stands below a table about its sources.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Footer {
    /// One line of the papers, and where to see the rest.
    Short,
    /// All of it.
    #[default]
    Full,
}

/// A figure of a system that a shop notes on a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Target {
    /// Superheat to be met.
    Superheat,
    /// Subcooling to be met.
    Subcooling,
}

impl Target {
    pub(super) const fn phrase(self) -> Phrase {
        match self {
            Target::Superheat => BOX_SUPERHEAT,
            Target::Subcooling => BOX_SUBCOOLING,
        }
    }
}

/// What a QR code says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Code {
    /// How the card itself is made again.
    Recipe,
    /// A text of the shop's.
    Text(String),
}

/// How a chart or picture is printed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Print {
    /// Own title, above the usual one: it heads every form.
    pub title: Option<String>,
    /// A name for a composition of one's own, in place of its notation.
    pub name: Option<String>,
    /// Own lines below the table.
    pub notes: Vec<String>,
    /// The shop's line, above the title.
    pub shop: Option<String>,
    /// The shop's logo.
    pub logo: Option<Logo>,
    /// The form, where pages are made.
    pub form: Option<Form>,
    /// Whether cells have short marks that are explained once, and what is read first stands above
    /// them: on paper and in a browser.
    pub compact: bool,
    /// How much stands below about sources.
    pub footer: Footer,
    /// Boxes on the face, with a value or to write in.
    pub boxes: Vec<(Target, Option<TemperatureDifference>)>,
    /// How many lines to write on.
    pub writing_lines: usize,
    /// A light tint of the bands: red, green, blue.
    pub tint: Option<[u8; 3]>,
    /// What a QR code says.
    pub code: Option<Code>,
    /// Whether a last page lists the cards.
    pub contents: bool,
    /// Whether the cells are left blank, with the full tables behind them.
    pub blank: bool,
    /// Whether a CSV sheet begins with what stands around the table.
    pub csv_header: bool,
}

impl Print {
    /// What stands above a page: paper and logo.
    pub(super) fn head(&self, document: &mut Document) {
        document.blocks.extend(self.form.map(Block::Paper));
        document.blocks.extend(self.logo.clone().map(Block::Logo));
    }

    /// The text of the QR code of a chart.
    pub(super) fn code_of(&self, chart: &Chart) -> Option<String> {
        match self.code.as_ref()? {
            Code::Text(text) => Some(text.clone()),
            Code::Recipe => Some(recipe(chart, self.form)),
        }
    }

    /// Gives a composition of one's own a name.
    ///
    /// # Errors
    /// [`Error::Value`](crate::Error::Value) for a name that spells a listed designation, and where
    /// not exactly one of the refrigerants is a composition of one's own.
    pub fn named(
        mut self,
        name: &str,
        refrigerants: &[Refrigerant],
        catalogue: &Catalogue,
    ) -> Result<Self> {
        let wrong = |problem: &str, hint: &str| Error::Value {
            quantity: "name",
            text: name.into(),
            problem: problem.into(),
            hint: hint.into(),
        };
        let own = refrigerants
            .iter()
            .filter(|one| one.composition().designation().is_none());
        if own.count() != 1 {
            let problem = "is for one mixture of your own, and not exactly one is here";
            return Err(wrong(
                problem,
                "give a composition, or a title in its place",
            ));
        }
        let found = Refrigerant::from_catalogue(catalogue, name.trim(), Basis::Mass);
        if !matches!(
            found,
            Err(Error::UnknownRefrigerant { .. } | Error::Composition { .. })
        ) {
            let problem = "spells a refrigerant that standards list";
            return Err(wrong(
                problem,
                "give a name that cannot be taken for another's",
            ));
        }
        self.name = Some(name.trim().to_owned());
        Ok(self)
    }

    /// What the file says about itself.
    pub(super) fn about(&self, style: &Style) -> Block {
        Block::About(About {
            words: style.words.clone(),
            date: style.day,
            csv_header: self.csv_header,
        })
    }
}

/// How a card is made again, as it is typed.
fn recipe(chart: &Chart, form: Option<Form>) -> String {
    let mut words = vec!["zeotrope chart".to_owned()];
    for subject in &chart.subjects {
        let name = subject.refrigerant.designation();
        words.push(match name.contains(' ') {
            true => format!("\"{name}\""),
            false => name.to_owned(),
        });
    }
    let unit = match chart.by_temperature {
        true => chart.temperature_unit.typed(),
        false => chart.pressure_unit.typed(),
    };
    let mut rows = chart.rows.iter().map(|row| row.label.text.as_str());
    let label = |text: Option<&str>| text.map(|text| format!("{text}{unit}"));
    let (first, second) = (rows.next(), rows.next());
    if let (Some(from), Some(to)) = (label(first), label(rows.next_back().or(second))) {
        words.push(format!("--from {from} --to {to}"));
    }
    let number = |text: Option<&str>| text.and_then(|text| text.parse::<f64>().ok());
    if let (Some(first), Some(second)) = (number(first), number(second)) {
        let unit = match chart.by_temperature {
            true => unit.to_owned(),
            false => chart.pressure_unit.difference_symbol().to_owned(),
        };
        let step = crate::units::short(second - first, 6);
        words.push(format!("--step {step}{unit}"));
    }
    words.push(format!("--pressure-unit {}", chart.pressure_unit.typed()));
    match chart.site.source() {
        AtmosphereSource::SeaLevel => {}
        AtmosphereSource::Elevation(metres) => {
            words.push(format!("--elevation {}m", crate::units::short(metres, 6)));
        }
        AtmosphereSource::Station => {
            let pressure = crate::units::short(chart.site.pressure().in_kilopascal(), 6);
            words.push(format!("--station-pressure {pressure}kPaa"));
        }
    }
    words.extend(form.map(|form| format!("--form {}", form.shape.name())));
    words.join(" ")
}

/// Which program made a page, and on which day.
pub(super) fn signature(style: &Style) -> String {
    let version = concat!("zeotrope ", env!("CARGO_PKG_VERSION"));
    match style.day {
        Some(day) => format!("{version}, {}", crate::service::date::written(day)),
        None => version.to_owned(),
    }
}
