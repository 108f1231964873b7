//! How a chart is printed, as meant: the form, the paper, the words around the table.

use std::path::Path;

use crate::args::PrintArgs;
use crate::errors::{Failure, OrFailure};
use crate::io;
use zeotrope::output::Format;
use zeotrope::page::words::Words;
use zeotrope::page::{self, Footer, Form, LOGO_HINT, Logo, NotedTarget, Paper, Print, Shape};
use zeotrope::service::date::Day;

/// The form asked for; none where none is.
pub(crate) fn form(args: &PrintArgs) -> Result<Option<Form>, Failure> {
    let paper = args.paper.as_deref().map_or(Ok(Paper::A4), Paper::named)?;
    let size = args.size.as_deref().map(page::card_size).transpose()?;
    let bleed = args.bleed.as_deref().map_or(Ok(0.0), page::bleed)?;
    let is_asked = args.paper.is_some() || args.landscape || args.legible_at.is_some();
    let shape = match args.form.as_deref() {
        None if is_asked || bleed > 0.0 => Shape::Wall,
        None => return Ok(None),
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
pub(crate) fn day(typed: Option<&str>, format: Format) -> Result<Option<Day>, Failure> {
    if let Some(text) = typed {
        return Day::read(text).map(Some).of_option("--date");
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
    let bytes = std::fs::read(path).map_err(|problem| zeotrope::Error::File {
        file: String::new(),
        problem: problem.to_string(),
        hint: LOGO_HINT.into(),
    });
    let logo = bytes.and_then(Logo::new);
    let checked = logo.and_then(|logo| logo.check(format).map(|()| logo));
    checked.map_err(|error| named(error, "--logo", path))
}

/// What is wrong with a file that an option names.
fn named(error: zeotrope::Error, option: &str, path: &Path) -> Failure {
    match error {
        zeotrope::Error::File { problem, hint, .. } => {
            Failure::no_answer(format!("{option} {}: {problem}", path.display()), hint)
        }
        other => other.into(),
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
    Print::check_texts(texts.chain(&args.name).chain(boxes))?;
    let logo = args.logo.as_deref().filter(|_| format != Format::Svg);
    let count = if form.is_some() { count } else { 0 };
    let is_card = form.is_some_and(|form| form.shape.is_card());
    Ok(Print {
        compact: form.is_some() || format == Format::Html,
        footer: args.footer.unwrap_or(match is_card || count > FEW {
            true => Footer::Short,
            false => Footer::Full,
        }),
        boxes: NotedTarget::boxes(
            args.target_superheat.as_deref(),
            args.target_subcooling.as_deref(),
        )?,
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
pub(crate) fn words(path: Option<&Path>) -> Result<Words, Failure> {
    let Some(path) = path else {
        return Ok(Words::default());
    };
    let text = io::text(path, "name a file of words");
    let words = text.and_then(|text| Words::parse(&text));
    words.map_err(|mut error| {
        if let zeotrope::Error::File { hint, .. } = &mut error {
            hint.push_str("; 'zeotrope words' prints all of them");
        }
        named(error, "--words", path)
    })
}
