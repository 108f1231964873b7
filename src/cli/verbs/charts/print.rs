//! How a chart is printed, as meant: the form, the paper, the words around the table.

use std::collections::BTreeMap;
use std::path::Path;

use crate::cli::args::{FooterArg, PrintArgs};
use crate::cli::errors::Failure;
use crate::output::Format;
use crate::page::words::Words;
use crate::page::{self, Footer, Form, Logo, NotedTarget, Paper, Print, Shape};
use crate::service::date::Day;
use crate::units::parse_temperature_difference;

/// The form asked for; none where none is.
pub(crate) fn form(args: &PrintArgs) -> Result<Option<Form>, Failure> {
    let paper = args.paper.as_deref().map_or(Ok(Paper::A4), Paper::named)?;
    let size = args.size.as_deref().map(page::card_size).transpose()?;
    let bleed = args.bleed.as_deref().map_or(Ok(0.0), page::bleed)?;
    let is_asked = args.paper.is_some() || args.landscape || args.legible_at.is_some();
    let shape = match args.form.as_deref() {
        None if is_asked || bleed > 0.0 => Shape::Wall,
        None => return Ok(None),
        Some(name) if name.eq_ignore_ascii_case("nodes") => {
            return Err(Failure::usage(
                "unknown form 'nodes'",
                "the entries of an instrument's table come from 'lookup --for csv'",
            ));
        }
        Some(name) => Shape::named(name)?,
    };
    if args.landscape && shape != Shape::Wall {
        return Err(Failure::usage(
            format!("--landscape turns a wall chart, not {}", shape.name()),
            "leave --landscape out, or use --form wall",
        ));
    }
    Ok(Some(Form {
        shape,
        paper,
        landscape: args.landscape,
        card: size,
        bleed,
    }))
}

/// The date of the print: as typed, else SOURCE_DATE_EPOCH, else today where pages are made.
pub(crate) fn day(args: &PrintArgs, format: Format) -> Result<Option<Day>, Failure> {
    if let Some(text) = &args.date {
        return Day::parse(text).map(Some).ok_or_else(|| {
            Failure::usage(
                format!("--date: '{text}' is not a date"),
                "write year, month and day: --date 2026-05-31",
            )
        });
    }
    if let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") {
        let seconds: Option<u64> = text.trim().parse().ok();
        return seconds.and_then(Day::at_seconds).map(Some).ok_or_else(|| {
            Failure::usage(
                "SOURCE_DATE_EPOCH does not hold seconds since 1970",
                "set it to a whole number, or give --date",
            )
        });
    }
    // a browser has no clock here: its page says the day with --date
    if !matches!(format, Format::Html | Format::Pdf) || cfg!(target_family = "wasm") {
        return Ok(None);
    }
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    Ok(now
        .ok()
        .and_then(|passed| Day::at_seconds(passed.as_secs())))
}

/// The shop's logo, read and checked.
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

/// Of more refrigerants a wall chart names its papers in one line, so that one page holds it.
const FEW: usize = 4;

/// What stands around a chart of some refrigerants, as typed.
pub(crate) fn meant(
    args: &PrintArgs,
    blank: bool,
    format: Format,
    form: Option<Form>,
    count: usize,
) -> Result<Print, Failure> {
    let boxes = args.target_superheat.iter().chain(&args.target_subcooling);
    let texts = args.title.iter().chain(&args.shop).chain(&args.note);
    for text in texts.chain(&args.name).chain(boxes) {
        if text.chars().any(char::is_control) {
            return Err(Failure::usage(
                "--title, --shop and --note take one line of text each",
                "leave out line ends and other control characters",
            ));
        }
    }
    let logo = args.logo.as_deref().filter(|_| format != Format::Svg);
    let count = if form.is_some() { count } else { 0 };
    let is_card = form.is_some_and(|form| form.shape.is_card());
    let target = |target, value: &Option<String>| {
        let text = value.as_deref()?;
        let value = Some(text).filter(|text| !text.is_empty());
        let value = value.map(parse_temperature_difference).transpose();
        Some(value.map(|value| (target, value.map(|typed| typed.value))))
    };
    Ok(Print {
        compact: form.is_some() || format == Format::Html,
        footer: match args.footer {
            Some(FooterArg::Short) => Footer::Short,
            Some(FooterArg::Full) => Footer::Full,
            None if is_card || count > FEW => Footer::Short,
            None => Footer::Full,
        },
        boxes: [
            target(NotedTarget::Superheat, &args.target_superheat),
            target(NotedTarget::Subcooling, &args.target_subcooling),
        ]
        .into_iter()
        .flatten()
        .collect::<Result<_, _>>()?,
        writing_lines: args.writing_lines.into(),
        tint: args.tint.as_deref().map(page::tint).transpose()?,
        code: args.qr.clone(),
        contents: args.contents,
        name: None,
        title: args.title.clone(),
        notes: args.note.clone(),
        shop: args.shop.clone(),
        logo: logo.map(|path| self::logo(path, format)).transpose()?,
        form,
        blank,
        csv_header: args.csv_header,
    })
}

/// The words of another language, where a file of them is named.
pub(crate) fn words(args: &PrintArgs) -> Result<Words, Failure> {
    let Some(path) = &args.words else {
        return Ok(Words::default());
    };
    let shown = path.display();
    let broken = |problem: String, hint: String| {
        Failure::no_answer(format!("--words {shown}: {problem}"), hint)
    };
    let usual = || {
        "a file of words is YAML: 'language: de', then lines such as 'column_bubble: Siede'; \
         'zeotrope words' prints all of them"
            .to_owned()
    };
    let text = std::fs::read_to_string(path);
    let text = text.map_err(|problem| broken(problem.to_string(), usual()))?;
    let given: BTreeMap<String, String> =
        serde_yaml::from_str(&text).map_err(|problem| broken(problem.to_string(), usual()))?;
    Words::translated(given).map_err(|error| match error {
        crate::Error::File { problem, hint, .. } => broken(
            problem,
            format!("{hint}; 'zeotrope words' prints all of them"),
        ),
        other => other.into(),
    })
}
