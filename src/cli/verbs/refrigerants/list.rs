//! `list`: the refrigerants that are carried.

use serde_json::{Value, json};

use crate::catalogue::Catalogue;
use crate::cli::args::meant;
use crate::cli::args::{DataArgs, OutputArgs};
use crate::cli::errors::Failure;
use crate::page::{Block, Document, Sheet, Table};
use crate::service::facts::CLASS_NOT_ASSIGNED;
use crate::units::short;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope list\n  zeotrope list A2L\n  zeotrope list propane --format json"
)]
pub(crate) struct ListArgs {
    /// Words that must all occur in the line: part of a name, a class, pure or blend
    #[arg(value_name = "WORD")]
    pub(crate) words: Vec<String>,
    #[command(flatten)]
    pub(crate) data: DataArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// One line of the list.
struct Entry {
    designation: String,
    name: String,
    class: Option<String>,
    kind: &'static str,
}

impl Entry {
    fn class_text(&self) -> &str {
        self.class.as_deref().unwrap_or(CLASS_NOT_ASSIGNED)
    }

    fn cells(&self) -> Vec<String> {
        vec![
            self.designation.clone(),
            self.class_text().to_owned(),
            self.kind.to_owned(),
            self.name.clone(),
        ]
    }

    /// Whether a word occurs: a class as a whole, anything else as a part.
    fn has(&self, word: &str) -> bool {
        let word = word.to_lowercase();
        self.class_text().to_lowercase() == word
            || self.kind == word
            || self.designation.to_lowercase().contains(&word)
            || self.name.to_lowercase().contains(&word)
    }
}

pub(crate) fn answer(args: &ListArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let catalogue = meant::catalogue(&args.data)?;
    let mut entries = entries(&catalogue)?;
    entries.retain(|entry| args.words.iter().all(|word| entry.has(word)));
    if entries.is_empty() {
        return Err(Failure::no_answer(
            format!("no refrigerant has all of: {}", args.words.join(" ")),
            "'zeotrope list' without words names every refrigerant carried",
        ));
    }
    let json: Vec<Value> = entries
        .iter()
        .map(|entry| {
            json!({
                "refrigerant": entry.designation,
                "safety_class": entry.class,
                "kind": entry.kind,
                "name": entry.name,
            })
        })
        .collect();
    let heads = ["designation", "class", "kind", "name"].map(str::to_owned);
    let rows: Vec<Vec<String>> = entries.iter().map(Entry::cells).collect();
    let heads_of_sheet = ["refrigerant", "safety_class", "kind", "name"].map(str::to_owned);
    Ok(Document {
        blocks: vec![
            Block::Table(Table {
                groups: Vec::new(),
                words: heads.len(),
                heads: heads.to_vec(),
                rows: rows.clone(),
            }),
            Block::Lines(vec![format!(
                "{} refrigerants. 'zeotrope show NAME' tells more about one.",
                entries.len()
            )]),
        ],
        sheet: Sheet {
            heads: heads_of_sheet.to_vec(),
            rows,
        },
        json: Value::Array(json),
        warnings: Vec::new(),
        ..Document::default()
    })
}

fn entries(catalogue: &Catalogue) -> Result<Vec<Entry>, Failure> {
    let mut entries = Vec::new();
    for designation in catalogue.pure_designations() {
        let record = catalogue.pure(&designation)?;
        entries.push(Entry {
            designation,
            name: record.name.clone(),
            class: record
                .safety_class
                .as_ref()
                .map(|class| class.value.clone()),
            kind: "pure",
        });
    }
    for designation in catalogue.blend_designations() {
        let record = catalogue.blend(&designation)?;
        let names: Vec<_> = record
            .components
            .iter()
            .map(|component| component.refrigerant.as_str())
            .collect();
        let amounts: Vec<_> = record
            .components
            .iter()
            .map(|component| short(component.mass_percent, 5))
            .collect();
        entries.push(Entry {
            designation,
            name: format!("{} ({})", names.join("/"), amounts.join("/")),
            class: record
                .safety_class
                .as_ref()
                .map(|class| class.value.clone()),
            kind: "blend",
        });
    }
    Ok(entries)
}
