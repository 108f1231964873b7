//! Choices that would do nothing are refused: nothing that was asked for is left out in silence.
//! Those of a recipe count as typed.

use crate::chart::picture::PictureKind;
use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, TeachingArgs};
use crate::cli::errors::Failure;
use crate::cli::verbs::charts::chart_args::ChartArgs;
use crate::output::Format;
use crate::page::{Form, Shape};

/// Where choices do nothing.
struct Place {
    /// Whether the answer is of this kind.
    is_here: bool,
    /// What the answer is then.
    name: &'static str,
    /// What to ask for in its stead.
    hint: &'static str,
    /// The choices that change nothing in it.
    idle: &'static [&'static str],
}

/// What makes a table, as it is read, of a chart.
const OF_A_TABLE: [&str; 16] = [
    "--footer",
    "--name",
    "--target-superheat",
    "--target-subcooling",
    "--writing-lines",
    "--tint",
    "--qr",
    "--contents",
    "--legible-at",
    "--resolution",
    "--digits",
    "--columns",
    "--one-column-below",
    "--also",
    "--decimal-comma",
    "--tolerance",
];

/// Refuses a choice of a chart that would do nothing.
pub(crate) fn check(args: &ChartArgs, format: Format, form: Option<Form>) -> Result<(), Failure> {
    let is_picture = args.look.picture.is_some() || format == Format::Svg;
    let has_pressures = !args.pressures.is_empty();
    let has_temperatures = args.from.is_some() || !args.temperatures.is_empty();
    let shape = form.map(|form| form.shape);
    let is_of = |kind: PictureKind| {
        args.look
            .picture
            .as_deref()
            .is_some_and(|name| name.eq_ignore_ascii_case(kind.name()))
    };
    let a_table = "it is for a table: leave it out, or ask for neither picture nor SVG";
    let words = "it stands next to a table or picture: leave it out, or choose another format";
    let places = [
        Place {
            is_here: is_picture,
            name: "a picture",
            hint: a_table,
            idle: &OF_A_TABLE,
        },
        Place {
            is_here: !is_of(PictureKind::Dome),
            name: "what is no dome",
            hint: "add --picture dome, or leave it out",
            idle: &["--plane", "--isolines"],
        },
        Place {
            is_here: !is_of(PictureKind::Coil),
            name: "what is no coil",
            hint: "add --picture coil, or leave it out",
            idle: &["--liquid", "--air", "--water"],
        },
        Place {
            is_here: is_picture && has_pressures && has_temperatures,
            name: "rows of temperatures without a table",
            hint: "give rows of one kind, or ask for neither picture nor SVG",
            idle: &["--pressures"],
        },
        Place {
            is_here: has_pressures && args.from.is_none(),
            name: "rows from a list",
            hint: "it goes with --from and --to",
            idle: &["--step"],
        },
        Place {
            is_here: format == Format::Json,
            name: "JSON",
            hint: words,
            idle: &["--title", "--note", "--shop", "--words", "--blank"],
        },
        Place {
            is_here: format == Format::Csv && !args.print.csv_header,
            name: "CSV without a header",
            hint: "add --csv-header, or leave it out",
            idle: &["--title", "--note", "--shop", "--date"],
        },
        Place {
            is_here: format != Format::Csv,
            name: "a format other than CSV",
            hint: "add --format csv, or leave it out",
            idle: &["--csv-header"],
        },
        Place {
            is_here: !matches!(format, Format::Html | Format::Pdf),
            name: "a format other than HTML and PDF",
            hint: "add --format html or --format pdf, or leave it out",
            idle: &[
                "--logo",
                "--tint",
                "--target-superheat",
                "--target-subcooling",
            ],
        },
        Place {
            is_here: format != Format::Pdf,
            name: "a format other than PDF",
            hint: "add --form wall or another form, or leave it out",
            idle: &["--size", "--qr", "--contents", "--writing-lines"],
        },
        Place {
            is_here: !matches!(shape, Some(Shape::Wallet | Shape::Sheet)),
            name: "a form other than wallet and sheet",
            hint: "add --form wallet, or leave it out",
            idle: &["--size"],
        },
        Place {
            is_here: !matches!(shape, Some(Shape::Wall)),
            name: "a form other than a wall chart",
            hint: "add --form wall, or leave it out",
            idle: &["--legible-at"],
        },
        Place {
            is_here: matches!(shape, Some(Shape::Sheet | Shape::Strip)),
            name: "pages that have cut marks already",
            hint: "leave it out, or use --form wallet, folded or wall",
            idle: &["--bleed"],
        },
        Place {
            is_here: shape == Some(Shape::Wallet),
            name: "a wallet card",
            hint: "it has a size of its own: leave it out, or use --form sheet for cards on paper",
            idle: &["--paper"],
        },
    ];
    refuse(&places, &chosen(args))
}

/// As [`check`], for what teaches: a spreadsheet has no place for it.
pub(crate) fn check_teaching(args: &TeachingArgs, output: &OutputArgs) -> Result<(), Failure> {
    let sheet = Place {
        is_here: meant::format(output)? == Format::Csv,
        name: "CSV",
        hint: "leave it out, or choose another format",
        idle: &["--explain", "--model"],
    };
    let choices = [
        ("--explain", args.explain),
        ("--model", args.model.is_some()),
    ];
    refuse(&[sheet], &made(&choices))
}

/// Refuses the first choice that does nothing where it was made.
fn refuse(places: &[Place], chosen: &[&str]) -> Result<(), Failure> {
    for place in places.iter().filter(|place| place.is_here) {
        if let Some(choice) = chosen.iter().find(|choice| place.idle.contains(choice)) {
            return Err(Failure::usage(
                format!("{choice} does nothing for {}", place.name),
                place.hint,
            ));
        }
    }
    Ok(())
}

fn made(choices: &[(&'static str, bool)]) -> Vec<&'static str> {
    let made = choices.iter().filter(|(_, is_made)| *is_made);
    made.map(|(choice, _)| *choice).collect()
}

/// The choices that were made, of those that do nothing somewhere.
fn chosen(args: &ChartArgs) -> Vec<&'static str> {
    let (look, print, site) = (&args.look, &args.print, &args.site);
    made(&[
        ("--step", args.step.is_some()),
        ("--pressures", !args.pressures.is_empty()),
        ("--tolerance", args.tolerance),
        ("--resolution", look.resolution.is_some()),
        ("--digits", look.digits.is_some()),
        ("--columns", !look.columns.is_empty()),
        ("--one-column-below", look.one_column_below.is_some()),
        ("--also", look.also.is_some()),
        ("--decimal-comma", look.decimal_comma),
        ("--picture", look.picture.is_some()),
        ("--blank", look.blank),
        ("--paper", print.paper.is_some()),
        ("--landscape", print.landscape),
        ("--title", print.title.is_some()),
        ("--note", !print.note.is_empty()),
        ("--shop", print.shop.is_some()),
        ("--logo", print.logo.is_some()),
        ("--date", print.date.is_some()),
        ("--words", print.words.is_some()),
        ("--size", print.size.is_some()),
        ("--legible-at", print.legible_at.is_some()),
        ("--bleed", print.bleed.is_some()),
        ("--tint", print.tint.is_some()),
        ("--footer", print.footer.is_some()),
        ("--name", print.name.is_some()),
        ("--target-superheat", print.target_superheat.is_some()),
        ("--target-subcooling", print.target_subcooling.is_some()),
        ("--writing-lines", print.writing_lines > 0),
        ("--qr", print.qr.is_some()),
        ("--contents", print.contents),
        ("--csv-header", print.csv_header),
        ("--plane", args.drawn.plane.is_some()),
        ("--isolines", !args.drawn.isolines.is_empty()),
        ("--liquid", args.drawn.liquid.is_some()),
        ("--air", args.drawn.air.is_some()),
        ("--water", args.drawn.water.is_some()),
        ("--pressure-unit", args.units.pressure_unit.is_some()),
        ("--elevation", site.elevation.is_some()),
        ("--station-pressure", site.station_pressure.is_some()),
    ])
}
