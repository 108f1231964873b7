//! How a chart is printed, as meant: the form, the paper, the words around the table.

use std::collections::BTreeMap;
use std::path::Path;

use crate::cli::args::PrintArgs;
use crate::cli::errors::Failure;
use crate::output::Format;
use crate::page::{About, Block, Document, Form, Logo, Paper, Shape};
use crate::service::date::parse_date;

/// The name that asks for a table for instruments in place of a printed form.
const NODES: &str = "nodes";

/// Whether nodes are asked for in place of a printed form.
pub(crate) fn is_nodes(args: &PrintArgs) -> bool {
    let form = args.form.as_ref();
    form.is_some_and(|form| form.eq_ignore_ascii_case(NODES))
}

/// The form asked for; none where none is.
pub(crate) fn form(args: &PrintArgs) -> Result<Option<Form>, Failure> {
    let paper = match args.paper.as_deref().map(str::to_lowercase).as_deref() {
        None | Some("a4") => Paper::A4,
        Some("letter") => Paper::Letter,
        Some(other) => {
            return Err(Failure::usage(
                format!("'{other}' is no paper"),
                "use --paper a4 or --paper letter",
            ));
        }
    };
    let name = args.form.as_deref().map(str::to_lowercase);
    let Some(name) = name.filter(|name| name != NODES) else {
        return Ok((args.paper.is_some() || args.landscape).then_some(Form {
            paper,
            landscape: args.landscape,
            ..Form::default()
        }));
    };
    let shape = Shape::ALL
        .into_iter()
        .find(|shape| shape.name() == name)
        .ok_or_else(|| {
            Failure::usage(
                format!("'{name}' is no form"),
                format!("use {}, {NODES}", Shape::ALL.map(Shape::name).join(", ")),
            )
        })?;
    if args.landscape && shape != Shape::Wall {
        return Err(Failure::usage(
            format!("--landscape turns a wall chart, not {name}"),
            "leave --landscape out, or use --form wall",
        ));
    }
    Ok(Some(Form {
        shape,
        paper,
        landscape: args.landscape,
    }))
}

/// The date of the print: as typed, else SOURCE_DATE_EPOCH, else today where pages are made.
pub(crate) fn date(args: &PrintArgs, format: Format) -> Result<Option<(u16, u8, u8)>, Failure> {
    if let Some(text) = &args.date {
        return parse_date(text).map(Some).ok_or_else(|| {
            Failure::usage(
                format!("'{text}' is no date"),
                "write year, month and day: --date 2026-05-31",
            )
        });
    }
    if let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") {
        let seconds: Option<u64> = text.trim().parse().ok();
        return seconds.and_then(day).map(Some).ok_or_else(|| {
            Failure::usage(
                "SOURCE_DATE_EPOCH does not hold seconds since 1970",
                "set it to a whole number, or give --date",
            )
        });
    }
    if !matches!(format, Format::Html | Format::Pdf) {
        return Ok(None);
    }
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Ok(now.ok().and_then(|passed| day(passed.as_secs())))
}

/// Seconds since 1970 as a day of the Gregorian calendar, counted in eras of 400 years that begin
/// on the first of March.
fn day(seconds: u64) -> Option<(u16, u8, u8)> {
    let days = seconds / 86_400 + 719_468;
    let (era, of_era) = (days / 146_097, days % 146_097);
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let (month, later) = if month < 10 {
        (month + 3, 0)
    } else {
        (month - 9, 1)
    };
    let year = u16::try_from(era * 400 + year_of_era + later).ok()?;
    Some((year, month as u8, day as u8)).filter(|(year, _, _)| *year <= 9999)
}

/// A day as it is written.
pub(crate) fn written((year, month, day): (u16, u8, u8)) -> String {
    format!("{year:04}-{month:02}-{day:02}")
}

/// The shop's sign, read and looked at.
pub(crate) fn logo(path: &Path, format: Format) -> Result<Logo, Failure> {
    let shown = path.display();
    let hint = "give a PNG picture or an SVG document of at most 2 MB";
    let wrong = |problem: &str| Failure::no_answer(format!("--logo {shown}: {problem}"), hint);
    let bytes = std::fs::read(path).map_err(|problem| wrong(&problem.to_string()))?;
    if bytes.len() > 2_000_000 {
        return Err(wrong("is larger than 2 MB"));
    }
    let is_png = bytes.starts_with(b"\x89PNG\r\n\x1a\n");
    let is_svg = std::str::from_utf8(&bytes).is_ok_and(|text| text.contains("<svg"));
    if !is_png && !is_svg {
        return Err(wrong("is neither PNG nor SVG"));
    }
    let logo = Logo {
        bytes: bytes.into(),
        is_svg,
    };
    match logo.check(format) {
        Err(crate::Error::File { problem, hint, .. }) => Err(Failure::no_answer(
            format!("--logo {shown}: {problem}"),
            hint,
        )),
        other => Ok(other.map(|()| logo)?),
    }
}

/// Puts the user's own words, sign and date around a card.
pub(crate) fn dress(
    blocks: &mut Vec<Block>,
    args: &PrintArgs,
    format: Format,
    form: Form,
) -> Result<(), Failure> {
    for text in args.title.iter().chain(&args.shop).chain(&args.note) {
        if text.chars().any(char::is_control) {
            return Err(Failure::usage(
                "--title, --shop and --note take one line of text each",
                "leave out line ends and other control characters",
            ));
        }
    }
    let titled = |block: &Block| matches!(block, Block::Title(_) | Block::Picture(_));
    if let (Some(title), Some(at)) = (&args.title, blocks.iter().position(titled)) {
        match &mut blocks[at] {
            Block::Title(words) => {
                let usual = std::mem::replace(words, title.clone());
                // It says what the figures are.
                blocks.insert(at + 1, Block::Lines(vec![usual]));
            }
            Block::Picture(plot) => plot.title.clone_from(title),
            _ => {}
        }
    }
    if format == Format::Svg {
        // A picture alone: own words stand below it.
        for block in blocks.iter_mut() {
            if let Block::Picture(plot) = block {
                plot.notes
                    .splice(0..0, args.note.iter().chain(&args.shop).cloned());
            }
        }
        return Ok(());
    }
    if let Some(shop) = &args.shop {
        blocks.insert(0, Block::Lines(vec![shop.clone()]));
    }
    if let Some(path) = &args.logo {
        blocks.insert(0, Block::Logo(logo(path, format)?));
    }
    if !args.note.is_empty() {
        let last = blocks
            .iter()
            .rposition(|block| matches!(block, Block::Table(_) | Block::Picture(_)));
        blocks.insert(
            last.map_or(blocks.len(), |last| last + 1),
            Block::Lines(args.note.clone()),
        );
    }
    if format == Format::Pdf {
        blocks.insert(0, Block::Paper(form));
    }
    Ok(())
}

/// The words of another language, and the language's own name under `language`.
pub(crate) fn translate(
    answer: &mut Document,
    about: &mut About,
    path: &Path,
) -> Result<(), Failure> {
    let shown = path.display();
    let broken = |problem: String| {
        Failure::no_answer(
            format!("--words {shown}: {problem}"),
            "a file of words is YAML: 'language: de', then lines such as 'bubble: Siede'",
        )
    };
    let text = std::fs::read_to_string(path).map_err(|problem| broken(problem.to_string()))?;
    let words: BTreeMap<String, String> =
        serde_yaml::from_str(&text).map_err(|problem| broken(problem.to_string()))?;
    let mut pairs: Vec<(&String, &String)> = words
        .iter()
        .filter(|(ours, _)| ours.as_str() != "language" && !ours.is_empty())
        .collect();
    // The longest first, so that a sentence is not taken apart by a word in it.
    pairs.sort_by_key(|(ours, _)| std::cmp::Reverse(ours.len()));
    let change = |text: &mut String| {
        if let Some((_, theirs)) = pairs.iter().find(|(ours, _)| *ours == text) {
            text.clone_from(theirs);
            return;
        }
        for (ours, theirs) in &pairs {
            if ours.contains(' ') && text.contains(ours.as_str()) {
                *text = text.replace(ours.as_str(), theirs);
            }
        }
    };
    for block in &mut answer.blocks {
        match block {
            Block::Title(title) => change(title),
            Block::Lines(lines) => lines.iter_mut().for_each(change),
            Block::Picture(plot) => {
                [&mut plot.title, &mut plot.x.label, &mut plot.y.label]
                    .into_iter()
                    .for_each(change);
                let curves = plot.curves.iter_mut().map(|curve| &mut curve.label);
                curves.for_each(change);
                plot.marks
                    .iter_mut()
                    .for_each(|mark| change(&mut mark.label));
                plot.notes.iter_mut().for_each(change);
            }
            Block::Table(table) => {
                table
                    .groups
                    .iter_mut()
                    .for_each(|group| change(&mut group.0));
                table.heads.iter_mut().for_each(change);
                table.rows.iter_mut().flatten().for_each(change);
            }
            _ => {}
        }
    }
    answer.sheet.rows.iter_mut().flatten().for_each(change);
    about.language = words.get("language").cloned().unwrap_or_default();
    Ok(())
}
