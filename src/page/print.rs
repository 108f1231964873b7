//! What a user puts around a chart: own words, a logo, the paper; and an exercise's blanks.

use super::words::charts::{CARD_TITLE, CARD_TITLE_OF_MANY};
use super::{About, Block, Document, Form, Logo, Style};
use crate::chart::Chart;

/// How a chart or picture is printed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Print {
    /// Own title, above the usual one.
    pub title: Option<String>,
    /// Own lines below the table.
    pub notes: Vec<String>,
    /// The shop's line, above the title.
    pub shop: Option<String>,
    /// The shop's logo.
    pub logo: Option<Logo>,
    /// The form, where pages are made.
    pub form: Option<Form>,
    /// Whether the cells are left blank, with the full tables behind them.
    pub blank: bool,
    /// Whether a CSV sheet begins with what stands around the table.
    pub csv_header: bool,
}

impl Print {
    /// What stands above a page: paper, logo, shop.
    pub(super) fn head(&self, document: &mut Document) {
        document.blocks.extend(self.form.map(Block::Paper));
        document.blocks.extend(self.logo.clone().map(Block::Logo));
        document.lines(self.shop.iter().cloned().collect());
    }

    /// Own title with the usual one as a line, since that says what the figures are.
    pub(super) fn titled(&self, document: &mut Document, usual: String) {
        match &self.title {
            Some(title) => {
                document.title(title);
                document.lines(vec![usual]);
            }
            None => document.title(usual),
        }
    }

    /// What the file says about itself.
    pub(super) fn about(&self, style: &Style) -> Block {
        Block::About(About {
            words: style.words.clone(),
            date: style.day,
            csv_header: self.csv_header,
        })
    }

    /// The title of a card, where there is room for names and units only.
    pub(super) fn card_title(&self, chart: &Chart, style: &Style) -> Option<String> {
        self.form.filter(|form| form.shape.is_card())?;
        let units = [chart.pressure_unit.typed(), chart.temperature_unit.symbol()];
        let [cells, rows] = match chart.by_temperature {
            true => units,
            false => [units[1], units[0]],
        };
        let names: Vec<&str> = chart
            .subjects
            .iter()
            .map(|one| one.refrigerant.designation())
            .collect();
        let phrase = match names.len() {
            0..=2 => CARD_TITLE,
            _ => CARD_TITLE_OF_MANY,
        };
        let names = names.join(", ");
        let blanks = [
            ("refrigerants", names.as_str()),
            ("cells", cells),
            ("rows", rows),
        ];
        Some(style.say(phrase, &blanks))
    }
}

/// Which program made a page, and on which day.
pub(super) fn signature(style: &Style) -> String {
    let version = concat!("zeotrope ", env!("CARGO_PKG_VERSION"));
    match style.day {
        Some(day) => format!("{version}, {}", crate::service::date::written(day)),
        None => version.to_owned(),
    }
}
