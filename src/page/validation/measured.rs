//! Measured points beside the model: bubble points, vapors, azeotropes, three components, dew
//! points.

use crate::page::words::Phrase;
use crate::page::words::validation::*;
use crate::page::{Document, Figures, Style};
use crate::validation::{
    AzeotropeDistance, DewDistance, PairDistance, Report, TernaryDistance, VaporDistance,
};

/// Adds a table a kind of measurement, each with what to know about it.
pub(super) fn sections(document: &mut Document, report: &Report, style: &Style) {
    document.title(style.word(MEASURED));
    document.rows(1, rows(&report.pairs, style, bubble_points));
    document.lines(vec![style.word(FITTED), style.word(KELVIN)]);

    document.title(style.word(MEASURED_VAPORS));
    document.rows(1, rows(&report.vapors, style, vapors));
    let all = report.vapors();
    let fraction =
        |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |one| style.fixed(one, 4));
    let blanks = [
        ("points", all.points.to_string()),
        ("pairs", all.pairs.to_string()),
        ("median", fraction(all.median_y)),
        ("most", fraction(all.within_95_percent_y)),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    document.lines(vec![
        style.say(ALL_VAPORS, &blanks),
        style.word(VAPORS_SUSPECT),
    ]);

    document.title(style.word(MEASURED_AZEOTROPES));
    document.rows(1, rows(&report.azeotropes, style, azeotropes));
    document.lines(vec![style.word(AZEOTROPES_WHERE)]);

    document.title(style.word(MEASURED_TERNARIES));
    document.rows(1, rows(&report.ternaries, style, ternaries));
    document.lines(vec![style.word(TERNARIES_PREDICTED)]);

    document.title(style.word(MEASURED_DEW_POINTS));
    document.rows(1, rows(&report.dew_points, style, dew_points));
    document.lines(vec![style.word(DEW_POINTS_LOWER)]);
}

fn rows<One>(all: &[One], style: &Style, row: fn(&mut Row<'_>, &One)) -> Vec<Figures> {
    let each = all.iter().enumerate().map(|(at, one)| {
        let mut figures = Row {
            figures: Figures::default(),
            at,
            style,
        };
        row(&mut figures, one);
        figures.figures
    });
    each.collect()
}

/// A row under way.
struct Row<'a> {
    figures: Figures,
    at: usize,
    style: &'a Style,
}

impl Row<'_> {
    fn field(&self, list: &str, key: &str) -> String {
        format!("{list}/{}/{key}", self.at)
    }

    fn names(&mut self, names: &[&str], refitted: bool) {
        let names = names.join(" + ");
        let names = match refitted {
            true => self.style.say(REFITTED, &[("pair", &names)]),
            false => names,
        };
        self.figures.remark(self.style.word(PAIR), names);
    }

    fn counts(&mut self, list: &str, counts: &[(Phrase, &str, usize)]) {
        for (label, key, value) in counts {
            let (label, field) = (self.style.word(*label), self.field(list, key));
            self.figures.add(label, value.to_string(), field, *value);
        }
    }

    fn points(&mut self, list: &str, points: usize, papers: usize) {
        self.counts(
            list,
            &[(POINTS, "points", points), (PAPERS, "papers", papers)],
        );
    }

    fn percent(&mut self, list: &str, bias: Option<f64>, rms: Option<f64>) {
        let numbers = [
            (BIAS_PERCENT, "bias_percent", bias),
            (RMS_PERCENT, "rms_percent", rms),
        ];
        self.numbers(list, 2, &numbers);
    }

    fn numbers(&mut self, list: &str, decimals: usize, numbers: &[(Phrase, &str, Option<f64>)]) {
        for (label, key, value) in numbers {
            let text =
                value.map_or_else(|| "-".to_owned(), |value| self.style.fixed(value, decimals));
            let (label, field) = (self.style.word(*label), self.field(list, key));
            self.figures.add(label, text, field, *value);
        }
    }
}

fn bubble_points(row: &mut Row<'_>, one: &PairDistance) {
    let list = "measured_bubble_points";
    row.names(&[&one.first, &one.second], one.refitted);
    row.points(list, one.points, one.papers);
    row.percent(list, one.bias_percent, one.rms_percent);
    let numbers = [
        (BIAS_K, "bias_K", one.bias_kelvin),
        (RMS_K, "rms_K", one.rms_kelvin),
    ];
    row.numbers(list, 2, &numbers);
    let counts = [
        (UNANSWERED, "unanswered", one.unanswered),
        (SUSPECT, "suspect", one.suspect),
    ];
    row.counts(list, &counts);
}

fn vapors(row: &mut Row<'_>, one: &VaporDistance) {
    let list = "measured_vapors";
    row.names(&[&one.first, &one.second], one.refitted);
    row.points(list, one.points, one.papers);
    let numbers = [(BIAS_Y, "bias_y", one.bias), (RMS_Y, "rms_y", one.rms)];
    row.numbers(list, 4, &numbers);
    let volatility = one.relative_volatility_percent;
    let numbers = [(VOLATILITY, "relative_volatility_percent", volatility)];
    row.numbers(list, 1, &numbers);
    let counts = [
        (NEAR_CRITICAL, "near_critical", one.near_critical),
        (UNANSWERED, "unanswered", one.unanswered),
        (SUSPECT, "suspect", one.suspect),
    ];
    row.counts(list, &counts);
}

fn azeotropes(row: &mut Row<'_>, one: &AzeotropeDistance) {
    let list = "measured_azeotropes";
    row.names(&[&one.first, &one.second], false);
    let counts = [
        (POINTS, "points", one.points),
        (NOT_FOUND, "not_found", one.not_found),
        (PAPERS, "papers", one.papers),
    ];
    row.counts(list, &counts);
    for (label, key, pascal) in [(FROM_BAR, "from_Pa", one.from), (TO_BAR, "to_Pa", one.to)] {
        let field = row.field(list, key);
        let (label, text) = (row.style.word(label), row.style.fixed(pascal / 1e5, 2));
        row.figures.add(label, text, field, pascal);
    }
    let numbers = [(BIAS_X, "bias_x", one.bias_x), (RMS_X, "rms_x", one.rms_x)];
    row.numbers(list, 3, &numbers);
    row.percent(list, one.bias_percent, one.rms_percent);
}

fn ternaries(row: &mut Row<'_>, one: &TernaryDistance) {
    let list = "measured_ternaries";
    let names: Vec<&str> = one.refrigerants.iter().map(String::as_str).collect();
    row.names(&names, false);
    row.points(list, one.points, one.papers);
    row.percent(list, one.bias_percent, one.rms_percent);
    row.counts(list, &[(VAPORS, "vapors", one.vapors)]);
    row.numbers(list, 4, &[(RMS_Y, "rms_y", one.rms_y)]);
    let counts = [
        (ESTIMATED_PAIRS, "estimated_pairs", one.estimated_pairs),
        (NEAR_CRITICAL, "near_critical", one.near_critical),
        (UNANSWERED, "unanswered", one.unanswered),
        (SUSPECT, "suspect", one.suspect),
    ];
    row.counts(list, &counts);
}

fn dew_points(row: &mut Row<'_>, one: &DewDistance) {
    let list = "measured_dew_points";
    row.names(&[&one.first, &one.second], false);
    row.points(list, one.points, one.papers);
    row.percent(list, one.bias_percent, one.rms_percent);
    let counts = [
        (NEAR_CRITICAL, "near_critical", one.near_critical),
        (UNANSWERED, "unanswered", one.unanswered),
        (SUSPECT, "suspect", one.suspect),
    ];
    row.counts(list, &counts);
}
