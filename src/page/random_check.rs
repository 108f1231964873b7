//! Random questions: counts by class and kind of fault.

use std::collections::BTreeMap;

use serde::Serialize;

use super::words::validation::*;
use super::{Document, Figures, Style};
use crate::validation::random::{Class, Counts, Fault, RandomReport};

/// What programs read of a report, in the order of its classes.
#[derive(Serialize)]
struct Keys<'a> {
    questions: usize,
    seed: u64,
    classes: Vec<ClassKeys<'a>>,
    findings: Vec<String>,
}

#[derive(Serialize)]
struct ClassKeys<'a> {
    class: &'a str,
    questions: usize,
    answered: usize,
    refused: &'a BTreeMap<String, usize>,
    two_liquids: usize,
    faults: BTreeMap<String, usize>,
}

/// The page of random questions asked with a seed.
pub fn random_check(report: &RandomReport, seed: u64, style: &Style) -> Document {
    let counts = || report.counts.iter().enumerate();
    let findings = report.findings.iter();
    let findings: Vec<String> = findings
        .map(|one| format!("{}: {}", one.fault.name(), one.text))
        .collect();
    let keys = Keys {
        questions: report.questions(),
        seed,
        classes: counts()
            .map(|(_, (class, counts))| class_keys(class, counts))
            .collect(),
        findings: findings.clone(),
    };
    let mut document = Document::new(&keys, Vec::new(), Vec::new());
    let blanks = [
        ("questions", report.questions().to_string()),
        ("seed", seed.to_string()),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    document.title(style.say(RANDOM_QUESTIONS, &blanks));
    document.rows(1, counts().map(|(at, one)| row(at, one, style)).collect());
    document.sheet_of_rows();
    document.title(style.word(RANDOM_REFUSED));
    let refused = report.counts.iter().flat_map(|(class, counts)| {
        counts.refused.iter().map(|(reason, count)| {
            let count = count.to_string();
            let blanks = [
                ("class", class.name()),
                ("count", &count),
                ("reason", reason),
            ];
            style.say(RANDOM_REASON, &blanks)
        })
    });
    document.lines(refused.collect());
    document.title(style.word(RANDOM_FAULTS));
    document.lines(if findings.is_empty() {
        vec![style.word(NONE)]
    } else {
        findings
    });
    document
}

fn key(fault: Fault) -> String {
    fault.name().replace(' ', "_")
}

fn class_keys<'a>(class: &'a Class, counts: &'a Counts) -> ClassKeys<'a> {
    ClassKeys {
        class: class.name(),
        questions: counts.questions,
        answered: counts.answered,
        refused: &counts.refused,
        two_liquids: counts.warned,
        faults: Fault::ALL
            .iter()
            .map(|&fault| (key(fault), counts.count(fault)))
            .collect(),
    }
}

fn row(at: usize, (class, counts): (&Class, &Counts), style: &Style) -> Figures {
    let mut figures = Figures::default();
    let field = |key: &str| format!("classes/{at}/{key}");
    figures.named(
        style,
        RANDOM_CLASS,
        class.name(),
        field("class"),
        class.name(),
    );
    for (label, key, count) in [
        (RANDOM_ASKED, "questions", counts.questions),
        (RANDOM_ANSWERED, "answered", counts.answered),
        (RANDOM_TWO_LIQUIDS, "two_liquids", counts.warned),
    ] {
        figures.named(style, label, count.to_string(), field(key), count);
    }
    figures.remark(style.word(RANDOM_REFUSALS), counts.refusals().to_string());
    for &fault in Fault::ALL {
        let count = counts.count(fault);
        let place = field(&format!("faults/{}", key(fault)));
        figures.add(fault.name(), count.to_string(), place, count);
    }
    figures
}
