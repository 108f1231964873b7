//! `chart`: the pressure-temperature chart.

use std::io::{IsTerminal, Write};
use std::path::Path;

use crate::catalogue::Catalogue;
use crate::chart::picture::Kind;
use crate::chart::plot::Plot;
use crate::chart::{Chart, Choices, Line, Request, Rows};
use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, LookArgs, OutputArgs, PrintArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::io::deliver;
use crate::cli::transition::cautions;
use crate::cli::verbs::charts::also;
use crate::cli::verbs::charts::chart_rows;
use crate::cli::verbs::charts::idle;
use crate::cli::verbs::charts::print;
use crate::cli::verbs::charts::recipe;
use crate::output::Format;
use crate::page::{About, Block, Document, Form, Shape};
use crate::refrigerant::{Refrigerant, Warning};
use crate::service::facts::Facts;
use crate::units::{TemperatureDifference, parse_temperature_difference};

#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope chart R-134a R-290 R-744 --from -40C --to 60C --step 5C\n  \
                  zeotrope chart R-134a --from -40F --to 150F --step 5F --elevation 5280ft\n  \
                  zeotrope chart R-717 --from 0psig --to 200psig --step 10psi\n  \
                  zeotrope chart R-290 --pressures 20psig,40psig,60psig --format csv\n  \
                  zeotrope chart R-455A --from 0F --to 120F --step 20F --tolerance\n  \
                  zeotrope chart R-454B --form wallet --output card.pdf\n  \
                  zeotrope chart R-454B R-32 --form sheet --paper letter --output cards.pdf\n  \
                  zeotrope chart R-410A --resolution 0.2F --columns bubble,dew\n  \
                  zeotrope chart R-454B --picture lens --pressures 5bara,10bara --output lens.svg\n  \
                  zeotrope chart R-290 --picture dome --from -40C --to 110C --output dome.svg\n  zeotrope chart R-32 R-454B --picture curves --form wall --landscape --output curves.pdf\n  \
                  zeotrope chart R-454B --form nodes --resolution 0.05K --format csv\n  \
                  zeotrope chart --all charts --format html"
)]
pub(crate) struct ChartArgs {
    /// Designations, chemical names or compositions
    #[arg(value_name = "REFRIGERANT", required_unless_present_any = ["all", "recipe"])]
    pub(crate) refrigerants: Vec<String>,
    /// First row: a temperature such as -40F, or a pressure such as 0psig
    #[arg(long, value_name = "VALUE")]
    pub(crate) from: Option<String>,
    /// Last row
    #[arg(long, value_name = "VALUE")]
    pub(crate) to: Option<String>,
    /// Step between rows: 5F, 2C, or 10psi where rows are pressures
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) step: Option<String>,
    /// Rows at these temperatures, separated by commas
    #[arg(
        long,
        value_name = "LIST",
        value_delimiter = ',',
        conflicts_with_all = ["from", "to", "step"]
    )]
    pub(crate) temperatures: Vec<String>,
    /// Rows at these pressures, separated by commas; beside rows of temperatures, both on one sheet
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(crate) pressures: Vec<String>,
    /// Lowest and highest value within the published tolerances of a blend's contents
    #[arg(long)]
    pub(crate) tolerance: bool,
    #[command(flatten)]
    pub(crate) look: LookArgs,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn run(
    args: &ChartArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let merged = recipe::with_recipe(args)?;
    let args = merged.as_ref().unwrap_or(args);
    let form = print::form(&args.print)?;
    let format = settled_format(args, form)?;
    idle::check(args, format, form)?;
    if let Some(folder) = &args.print.all {
        return whole_catalogue(args, folder, (format, form), err);
    }
    if let Some(path) = &args.output.output {
        deliver::check_target(path, args.output.force)?;
    }
    let found = answer(args, format, form.unwrap_or_default())?;
    deliver::in_format(&found, format, &args.output, out, err)
}

/// The format: as named, else by the ending of the file, else what the form or picture is made for.
fn settled_format(args: &ChartArgs, form: Option<Form>) -> Result<Format, Failure> {
    let is_picture = args.look.picture.is_some();
    let format = match (&args.output.format, &args.output.output) {
        (None, None) if form.is_some() => Format::Pdf,
        (None, None) if is_picture => Format::Svg,
        _ => meant::format(&args.output)?,
    };
    if form.is_some() && format != Format::Pdf {
        return Err(Failure::usage(
            "--form, --paper and --landscape are for PDF",
            "add --format pdf or --output chart.pdf",
        ));
    }
    if is_picture && !matches!(format, Format::Svg | Format::Html | Format::Pdf) {
        return Err(Failure::usage(
            "a picture comes as SVG, HTML or PDF",
            "add --format svg or --output picture.svg",
        ));
    }
    Ok(format)
}

/// Every refrigerant that is carried, a file each. A folder that holds one of the files already is
/// refused before any work is done; a refrigerant without an answer is named and left out.
fn whole_catalogue(
    args: &ChartArgs,
    folder: &Path,
    (format, form): (Format, Option<Form>),
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let catalogue = meant::catalogue(&args.basis.data)?;
    let mut names = catalogue.pure_designations();
    names.extend(catalogue.blend_designations());
    let path = |name: &str| folder.join(format!("{}.{}", name.replace('/', "_"), format.ending()));
    if !args.output.force {
        for name in &names {
            deliver::check_target(&path(name), false)?;
        }
    }
    // A sign that is wrong is wrong for all of them.
    if let Some(path) = &args.print.logo {
        print::logo(path, format)?;
    }
    std::fs::create_dir_all(folder).map_err(|problem| {
        Failure::no_answer(
            format!("{} could not be made: {problem}", folder.display()),
            "choose a folder that may be written to",
        )
    })?;
    let shows_progress = std::io::stderr().is_terminal();
    let mut written = 0;
    for (index, name) in names.iter().enumerate() {
        if shows_progress {
            let full = (index + 1) * 30 / names.len();
            let bar = format!("{}{}", "#".repeat(full), ".".repeat(30 - full));
            let _ = write!(err, "\r[{bar}] {}/{} {name:<24}", index + 1, names.len());
            let _ = err.flush();
        }
        let mut one = args.clone();
        one.refrigerants = vec![name.clone()];
        match answer(&one, format, form.unwrap_or_default()) {
            Ok(found) => {
                deliver::write_file(&path(name), &found.write(format)?, args.output.force)?;
                written += 1;
            }
            Err(failure) => {
                let _ = writeln!(err, "{name}: left out: {}", failure.message());
            }
        }
    }
    if shows_progress {
        let _ = writeln!(err);
    }
    if written == 0 {
        return Err(Failure::no_answer(
            "no refrigerant has a cell in these rows",
            "choose other rows with --from and --to",
        ));
    }
    let _ = writeln!(err, "{written} of {} files written", names.len());
    Ok(())
}

fn answer(args: &ChartArgs, format: Format, form: Form) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let (rows, units) = chart_rows::rows(args, &site)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerants = args
        .refrigerants
        .iter()
        .map(|text| meant::refrigerant(&catalogue, text, &args.basis))
        .collect::<Result<Vec<_>, _>>()?;
    let date = print::date(&args.print, format)?;
    let mut choices = choices(&args.look, format == Format::Pdf && form.shape.is_card())?;
    choices.date = date.map(print::written);
    choices.tolerance = args.tolerance;
    let asked = Request {
        refrigerants,
        rows,
        temperature_unit: units.temperature,
        pressure_unit: units.pressure,
        site,
        choices,
    };
    let mut about = About {
        date,
        csv_header: args.print.csv_header,
        ..About::default()
    };
    let mut answer = if print::is_nodes(&args.print) {
        crate::cli::verbs::charts::nodes::answer(&asked)?
    } else if args.look.picture.is_some() || format == Format::Svg {
        picture(args, &asked, &catalogue, format, form)?
    } else {
        let mut answer = Document::default();
        // A sheet holds a card for each refrigerant.
        let each: Vec<Request> = if format == Format::Pdf && form.shape == Shape::Sheet {
            let alone = |one: &Refrigerant| Request {
                refrigerants: vec![one.clone()],
                ..asked.clone()
            };
            asked.refrigerants.iter().map(alone).collect()
        } else {
            vec![asked]
        };
        for asked in each {
            let (mut one, labels) = card(args, &asked, &warnings)?;
            if format == Format::Pdf && form.shape.is_card() {
                shorten_title(&mut one, &asked);
            }
            let usual = one.blocks.first().cloned();
            print::dress(&mut one.blocks, &args.print, format, form)?;
            if args.look.blank {
                blank(&mut one, &labels, usual);
            }
            if format == Format::Pdf {
                // The key has a page of its own, so that it can be kept back.
                let is_key = |block: &Block| *block == Block::Title(KEY.into());
                if let Some(key) = one.blocks.iter().position(is_key) {
                    one.blocks.insert(key, Block::Paper(form));
                }
            }
            answer.blocks.append(&mut one.blocks);
            answer.sheet = one.sheet;
            answer.json = one.json;
        }
        answer
    };
    if let Some(path) = &args.print.words {
        print::translate(&mut answer, &mut about, path)?;
    }
    answer.blocks.push(Block::About(about));
    answer.warnings = warnings;
    Ok(answer)
}

/// A picture, with the user's own words and, where it stands on a page, what to take care of.
fn picture(
    args: &ChartArgs,
    asked: &Request,
    catalogue: &Catalogue,
    format: Format,
    form: Form,
) -> Result<Document, Failure> {
    let plot = Plot::new(kind(&args.look)?, asked, catalogue)?;
    let facts: Vec<Facts> = asked.refrigerants.iter().map(Facts::of).collect();
    let subjects: Vec<_> = asked.refrigerants.iter().zip(&facts).collect();
    let is_new = |line: &String| !plot.notes.iter().any(|note| note.contains(line));
    let care = cautions(&subjects).into_iter().filter(is_new).collect();
    let mut blocks = vec![Block::Picture(plot), Block::Lines(care)];
    print::dress(&mut blocks, &args.print, format, form)?;
    Ok(Document {
        blocks,
        ..Document::default()
    })
}

/// One card: the table, a second one where rows of both kinds are asked for, what stands below; and
/// for each table how many columns name its rows.
fn card(
    args: &ChartArgs,
    asked: &Request,
    warnings: &[Warning],
) -> Result<(Document, Vec<usize>), Failure> {
    let mut chart = Chart::new(asked)?;
    let beside = chart_rows::beside(args, asked)?.map(|rows| Request {
        rows,
        ..asked.clone()
    });
    let beside = match beside {
        Some(request) => Some((Chart::new(&request)?, request)),
        None => None,
    };
    if let Some((second, _)) = &beside {
        say_also(&mut chart, second);
    }
    for warning in warnings {
        chart.footers.push(format!("warning: {}.", warning.text));
    }
    let with_units = |chart: &Chart, asked: &Request| -> Result<(Document, usize), Failure> {
        let mut answer = Document::from(chart);
        let labels = match &args.look.also {
            Some(unit) => also::add(&mut answer, chart, asked, unit)?,
            None => 1,
        };
        Ok((answer, labels))
    };
    let (mut answer, labels) = with_units(&chart, asked)?;
    let mut labels = vec![labels];
    if let Some((second, request)) = &beside {
        let (more, more_labels) = with_units(second, request)?;
        labels.push(more_labels);
        join(&mut answer, more);
    }
    Ok((answer, labels))
}

/// Adds to a chart's notes and footers what only the second one has to say.
fn say_also(chart: &mut Chart, second: &Chart) {
    let new = |lines: &[String], known: &[String]| -> Vec<String> {
        let is_new = |line: &&String| !known.contains(line);
        lines.iter().filter(is_new).cloned().collect()
    };
    let notes = new(&second.notes, &chart.notes);
    chart.notes.extend(notes);
    let footers = new(&second.footers, &chart.footers);
    // The signature stays last.
    let end = chart.footers.len().saturating_sub(1);
    let told = footers
        .into_iter()
        .map(|line| format!("Second table: {line}"));
    chart.footers.splice(end..end, told);
}

/// Puts the second table behind the first. On a sheet its columns stand right of the first's and
/// its rows below them, so that each column keeps one meaning.
fn join(answer: &mut Document, more: Document) {
    let at = answer
        .blocks
        .iter()
        .position(|block| matches!(block, Block::Table(_)));
    let tables = more
        .blocks
        .into_iter()
        .filter(|block| matches!(block, Block::Title(_) | Block::Table(_)));
    let at = at.map_or(answer.blocks.len(), |at| at + 1);
    answer.blocks.splice(at..at, tables);
    let sheet = &mut answer.sheet;
    let (left, right) = (sheet.heads.len(), more.sheet.heads.len());
    sheet.heads.extend(more.sheet.heads);
    for row in &mut sheet.rows {
        row.resize(left + right, String::new());
    }
    let behind = |row: Vec<String>| vec![String::new(); left].into_iter().chain(row).collect();
    sheet.rows.extend(more.sheet.rows.into_iter().map(behind));
    if let (Some(first), Some(second)) = (answer.json.as_object_mut(), more.json.as_object()) {
        for key in ["columns", "rows", "notes", "also_rows"] {
            if let Some(value) = second.get(key) {
                first.insert(format!("second_{key}"), value.clone());
            }
        }
    }
}

/// What stands over the full tables of an exercise.
const KEY: &str = "Document key";
/// What an exercise has in place of a figure.
const BLANK: &str = "______";

/// Empties the cells and puts the full tables behind as a key, under the usual title as a line.
/// `labels` says for each table how many columns name its rows.
fn blank(answer: &mut Document, labels: &[usize], usual: Option<Block>) {
    let mut key = vec![Block::Title(KEY.into())];
    if let Some(Block::Title(usual)) = usual {
        key.push(Block::Lines(vec![usual]));
    }
    let tables = answer.blocks.iter_mut().filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    for (table, labels) in tables.zip(labels) {
        key.push(Block::Table(table.clone()));
        for cell in table
            .rows
            .iter_mut()
            .flat_map(|row| row.iter_mut().skip(*labels))
        {
            empty(cell);
        }
    }
    answer.blocks.append(&mut key);
    let is_label =
        |head: &String| head.starts_with("temperature_") || head.starts_with("pressure_");
    for row in &mut answer.sheet.rows {
        for (head, cell) in answer.sheet.heads.iter().zip(row) {
            if !is_label(head) {
                empty(cell);
            }
        }
    }
}

/// Empties a cell that holds a figure; a word stays.
fn empty(cell: &mut String) {
    if cell.bytes().any(|byte| byte.is_ascii_digit()) {
        BLANK.clone_into(cell);
    }
}

/// On a card there is room for names and units only.
fn shorten_title(answer: &mut Document, asked: &Request) {
    let (first, second) = match &asked.rows {
        Rows::Temperatures(_) => (asked.pressure_unit.typed(), asked.temperature_unit.symbol()),
        Rows::Pressures(_) => (asked.temperature_unit.symbol(), asked.pressure_unit.typed()),
    };
    let names: Vec<&str> = asked
        .refrigerants
        .iter()
        .map(Refrigerant::designation)
        .collect();
    let units = format!("{first} at {second}");
    if let Some(Block::Title(title)) = answer.blocks.first_mut() {
        *title = if names.len() > 2 {
            units
        } else {
            format!("{}: {units}", names.join(", "))
        };
    }
}

fn kind(look: &LookArgs) -> Result<Kind, Failure> {
    let Some(name) = &look.picture else {
        return Ok(Kind::Curves);
    };
    let lower = name.to_lowercase();
    Kind::ALL
        .into_iter()
        .find(|kind| kind.name() == lower)
        .ok_or_else(|| {
            Failure::usage(
                format!("'{name}' is no picture"),
                format!("use {}", Kind::ALL.map(Kind::name).join(", ")),
            )
        })
}

/// How the chart is made, as typed and as usual.
fn choices(look: &LookArgs, is_card: bool) -> Result<Choices, Failure> {
    let usual = Choices::default();
    let difference = |text: &Option<String>, option: &str, usual: f64| {
        let Some(text) = text else {
            return Ok(TemperatureDifference::kelvin(usual));
        };
        let typed = parse_temperature_difference(text)
            .map_err(|error| Failure::from(error).of_option(option))?;
        if typed.value.in_kelvin() > 0.0 {
            Ok(typed.value)
        } else {
            Err(Failure::usage(
                format!("{option} '{text}' is not above zero"),
                format!("give a difference, for example {option} 0.2F"),
            ))
        }
    };
    let lines = look
        .columns
        .iter()
        .map(|name| {
            [Line::Bubble, Line::Dew, Line::Mean]
                .into_iter()
                .find(|line| line.word().eq_ignore_ascii_case(name.trim()))
                .ok_or_else(|| {
                    Failure::usage(
                        format!("'{name}' is no column"),
                        "use bubble, dew, mean, separated by commas",
                    )
                })
        })
        .collect::<Result<Vec<_>, _>>()?;
    Ok(Choices {
        resolution: difference(
            &look.resolution,
            "--resolution",
            if is_card { 0.5 } else { 0.1 },
        )?,
        one_column_below: difference(&look.one_column_below, "--one-column-below", 0.5)?,
        uniform_digits: look.uniform_digits,
        decimal_comma: look.decimal_comma,
        lines,
        ..usual
    })
}
