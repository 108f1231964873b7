//! `chart`: the pressure-temperature chart.

use std::io::Write;
use std::path::Path;

use clap::ValueEnum;

use crate::args::meant::{self, value_of};
use crate::args::{Digits, LookArgs, System};
use crate::errors::Failure;
use crate::io::deliver;
use crate::io::progress::Progress;
use crate::verbs::charts::chart_args::ChartArgs;
use crate::verbs::charts::{chart_rows, idle, print, recipe};
use zeotrope::chart::picture::{Picture, PictureChoices, PictureKind};
use zeotrope::chart::{Also, Chart, Choices, Request, parse_lines};
use zeotrope::output::Format;
use zeotrope::page::{self, Document, Form, Style};
use zeotrope::refrigerant::Refrigerant;
use zeotrope::units::{TemperatureDifference, parse_resolution};

pub(crate) fn run(
    args: &ChartArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let form = print::form(&args.print)?;
    let format = settled_format(args, form)?;
    idle::check(args, format, form)?;
    if let Some(folder) = &args.print.all {
        return whole_catalogue(args, folder, (format, form), err);
    }
    if let Some(path) = &args.asked.output.output {
        deliver::check_target(path, args.asked.output.force)?;
    }
    let found = answer(args, format, form)?;
    deliver::in_format(&found, format, &args.asked.output, out, err)
}

/// The chart, before any format.
pub(crate) fn document(args: &ChartArgs) -> Result<Document, Failure> {
    let form = print::form(&args.print)?;
    answer(args, settled_format(args, form)?, form)
}

/// The format: as named, else by the ending of the file, else what the form or picture is made for.
fn settled_format(args: &ChartArgs, form: Option<Form>) -> Result<Format, Failure> {
    let is_picture = args.look.picture.is_some();
    let format = match (&args.asked.output.format, &args.asked.output.output) {
        (None, None) if form.is_some() => Format::Pdf,
        (None, None) if is_picture => Format::Svg,
        _ => meant::format(&args.asked.output)?,
    };
    if form.is_some() && format != Format::Pdf {
        return Err(Failure::usage(
            "--form, --paper and --landscape are for PDF",
            "add --format pdf or --output chart.pdf",
        ));
    }
    if is_picture && matches!(format, Format::Text | Format::Markdown) {
        return Err(Failure::usage(
            "a picture comes as SVG, HTML or PDF, its numbers as CSV or JSON",
            "add --format svg or --output picture.svg",
        ));
    }
    Ok(format)
}

/// Every refrigerant that is included, a file each. A folder that holds one of the files already is
/// refused before any work is done; a refrigerant without an answer is named and left out.
fn whole_catalogue(
    args: &ChartArgs,
    folder: &Path,
    (format, form): (Format, Option<Form>),
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let mut names = catalogue.pure_designations();
    names.extend(catalogue.blend_designations());
    let path = |name: &str| folder.join(format!("{}.{}", name.replace('/', "_"), format.ending()));
    if !args.asked.output.force {
        for name in &names {
            deliver::check_target(&path(name), false)?;
        }
    }
    // A logo that is wrong is wrong for all of them.
    if let Some(path) = &args.print.logo {
        print::logo(path, format)?;
    }
    deliver::make_folder(folder)?;
    let mut written = 0;
    let mut progress = Progress::new(true);
    for (index, name) in names.iter().enumerate() {
        progress.show_if_due(err, || {
            let full = (index + 1) * 30 / names.len();
            let bar = format!("{}{}", "#".repeat(full), ".".repeat(30 - full));
            format!("[{bar}] {}/{} {name}", index + 1, names.len())
        });
        let mut one = args.clone();
        one.refrigerants = vec![name.clone()];
        match answer(&one, format, form) {
            Ok(found) => {
                deliver::write_file(&path(name), &found.write(format)?, args.asked.output.force)?;
                written += 1;
            }
            Err(failure) => {
                progress.end(err);
                let _ = writeln!(err, "{name}: left out: {}", failure.message());
            }
        }
    }
    progress.end(err);
    if written == 0 {
        return Err(Failure::no_answer(
            "no refrigerant has a cell in these rows",
            "choose other rows with --from and --to",
        ));
    }
    let _ = writeln!(err, "{written} of {} files written", names.len());
    Ok(())
}

fn answer(args: &ChartArgs, format: Format, form: Option<Form>) -> Result<Document, Failure> {
    let words = print::words(args.print.words.as_deref())?;
    // What was typed outranks the custom of a language.
    let mut args = args.clone();
    if let Ok(custom) = System::from_str(&words.units, true) {
        let custom_units = || vec![words.units.clone()];
        args.given
            .entry("units".into())
            .or_insert_with(custom_units);
        args.asked.units.units.get_or_insert(custom);
    }
    let args = &args;
    let (site, warnings) = meant::site(&args.asked.site)?;
    let (rows, units) = chart_rows::rows(args, &site)?;
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let catalogue = meant::with_pairs(&catalogue, args.asked.basis.pairs);
    let named = |text: &String| meant::refrigerant(&catalogue, text, &args.asked.basis);
    let refrigerants = args.refrigerants.iter().map(named);
    let refrigerants = refrigerants.collect::<Result<Vec<_>, _>>()?;
    let form = (format == Format::Pdf).then(|| form.unwrap_or_default());
    let is_card = form.is_some_and(|form| form.shape.is_card());
    let is_set = matches!(format, Format::Pdf | Format::Html);
    let mut choices = choices(&args.look, is_card, is_set)?;
    choices.gas_cooler = is_card;
    choices.tolerance = args.tolerance;
    choices.picture = PictureChoices::typed(
        &args.drawn.isolines,
        args.drawn.liquid.as_deref(),
        [args.drawn.air.as_deref(), args.drawn.water.as_deref()],
    )?;
    choices.picture.plane = args.drawn.plane.unwrap_or_default();
    choices.picture.basis = args.asked.basis.basis();
    choices.second = chart_rows::second(args, &rows, units.pressure, &site)?;
    let style = Style {
        decimal_comma: args.look.decimal_comma || words.decimal_comma,
        words,
        day: print::day(args.print.date.as_deref(), format)?,
        ..args.asked.output.style(units, site)
    };
    let count = refrigerants.len();
    let mut print = print::meant(&args.print, args.look.blank, format, form, count)?;
    if args.print.qr.as_deref() == Some("recipe") {
        print.code = Some(recipe::typed_again(args));
    }
    if let Some(name) = &args.print.name {
        print = print.named(name, &refrigerants, &catalogue)?;
    }
    let asked = Request {
        refrigerants,
        rows,
        temperature_unit: units.temperature,
        pressure_unit: units.pressure,
        site,
        choices,
    };
    let named = &asked.refrigerants;
    if args.look.picture.is_some() || format == Format::Svg {
        let kind = args.look.picture.as_deref();
        let kind = kind.map_or(Ok(PictureKind::Curves), PictureKind::named)?;
        let found = Picture::new(kind, &asked, &catalogue)?;
        let is_alone = format == Format::Svg;
        let page = page::picture(&found, named, &print, is_alone, warnings, &style);
        return Ok(page);
    }
    let charts = if form.is_some_and(|form| form.shape.is_of_pieces()) {
        let alone = |one: &Refrigerant| Request {
            refrigerants: vec![one.clone()],
            ..asked.clone()
        };
        let each = named.iter().map(|one| Chart::new(&alone(one)));
        each.collect::<Result<Vec<_>, _>>()?
    } else {
        vec![Chart::new(&asked)?]
    };
    let Some(distance) = &args.print.legible_at else {
        return Ok(page::chart(&charts, &print, &warnings, &style));
    };
    let is_fixed = args.print.paper.is_some();
    let around = (&print, warnings.as_slice(), &style);
    Ok(page::legible_wall(
        asked.with_fewer_rows(),
        distance,
        is_fixed,
        around,
    )?)
}

/// How the chart is made, as typed and as usual.
fn choices(look: &LookArgs, is_card: bool, is_set: bool) -> Result<Choices, Failure> {
    let usual = if is_card { 0.5 } else { 0.1 };
    let resolution = value_of!(look.resolution, parse_resolution)?;
    let one_column_below = value_of!(look.one_column_below, parse_resolution)?;
    Ok(Choices {
        resolution: resolution.unwrap_or(TemperatureDifference::kelvin(usual)),
        one_column_below: one_column_below.unwrap_or(TemperatureDifference::kelvin(0.5)),
        uniform_digits: look
            .digits
            .map_or(is_set, |digits| digits == Digits::Uniform),
        also: value_of!(look.also, Also::named)?,
        lines: parse_lines(&look.columns)?,
        ..Choices::default()
    })
}
