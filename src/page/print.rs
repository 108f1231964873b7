//! What a user puts around a chart: own words, a logo, the paper; and an exercise's blanks.

use super::words::Phrase;
use super::words::print::{BOX_SUBCOOLING, BOX_SUPERHEAT};
use super::{About, Block, Document, Form, Logo, Style};
use crate::catalogue::{Basis, Catalogue};
use crate::chart::Chart;
use crate::refrigerant::Refrigerant;
use crate::units::{TemperatureDifference, parse_temperature_difference};
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
pub enum NotedTarget {
    /// Superheat to be met.
    Superheat,
    /// Subcooling to be met.
    Subcooling,
}

impl NotedTarget {
    /// The boxes for targets as they are asked for: superheat, then subcooling, each with its value
    /// or empty.
    ///
    /// # Errors
    /// As [`parse_temperature_difference`].
    pub fn boxes(
        superheat: Option<&str>,
        subcooling: Option<&str>,
    ) -> Result<Vec<(Self, Option<TemperatureDifference>)>> {
        let asked = [(Self::Superheat, superheat), (Self::Subcooling, subcooling)];
        let boxes = asked.into_iter().filter_map(|(target, text)| {
            let value = Some(text?).filter(|text| !text.is_empty());
            let value = value.map(parse_temperature_difference).transpose();
            Some(value.map(|value| (target, value.map(|typed| typed.value))))
        });
        boxes.collect()
    }

    pub(super) const fn phrase(self) -> Phrase {
        match self {
            NotedTarget::Superheat => BOX_SUPERHEAT,
            NotedTarget::Subcooling => BOX_SUBCOOLING,
        }
    }
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
    pub boxes: Vec<(NotedTarget, Option<TemperatureDifference>)>,
    /// How many lines to write on.
    pub writing_lines: usize,
    /// A light tint of the bands: red, green, blue.
    pub tint: Option<[u8; 3]>,
    /// What a QR code says; `{refrigerants}` in it becomes those of the card.
    pub code: Option<String>,
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
        let names = chart.subjects.iter().map(|subject| {
            let name = subject.refrigerant.designation();
            match name.contains(' ') {
                true => format!("\"{name}\""),
                false => name.to_owned(),
            }
        });
        let names: Vec<String> = names.collect();
        let text = self.code.as_ref()?;
        Some(text.replace("{refrigerants}", &names.join(" ")))
    }

    /// Refuses texts of one's own that are more than a line each.
    ///
    /// # Errors
    /// [`Error::Value`] with one that has a line end or another control character.
    pub fn check_texts<'a>(mut texts: impl Iterator<Item = &'a String>) -> Result<()> {
        let has_controls = |text: &&String| text.chars().any(char::is_control);
        match texts.find(has_controls) {
            None => Ok(()),
            Some(text) => Err(Error::Value {
                quantity: "text",
                text: text.chars().take(40).collect(),
                problem: "is more than one line".into(),
                hint: "leave out line ends and other control characters".into(),
            }),
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

/// Which program made a page, and on which day.
pub(super) fn signature(style: &Style) -> String {
    let version = concat!("zeotrope ", env!("CARGO_PKG_VERSION"));
    match style.day {
        Some(day) => format!("{version}, {day}"),
        None => version.to_owned(),
    }
}
