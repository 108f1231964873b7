//! Choices that would do nothing are refused: nothing that was asked for is left out in silence.
//! Those of a recipe count as typed.

use crate::args::{OutputArgs, TeachingArgs, meant};
use crate::errors::Failure;
use crate::verbs::charts::chart_args::ChartArgs;
use zeotrope::chart::picture::PictureKind;
use zeotrope::output::Format;
use zeotrope::page::{Form, Shape};

/// Refuses a choice of a chart that would do nothing.
pub(crate) fn check(args: &ChartArgs, format: Format, form: Option<Form>) -> Result<(), Failure> {
    let is_picture = args.look.picture.is_some() || format == Format::Svg;
    let has_pressures = !args.pressures.is_empty();
    let has_temperatures = args.from.is_some() || !args.temperatures.is_empty();
    let shape = form.map(|form| form.shape);
    let is_card = matches!(shape, Some(Shape::Wallet | Shape::Sheet));
    let has_marks = matches!(shape, Some(Shape::Sheet | Shape::Strip));
    let is_set = matches!(format, Format::Html | Format::Pdf);
    let is_of = |kind: PictureKind| {
        let picture = args.look.picture.as_deref();
        picture.is_some_and(|name| name.eq_ignore_ascii_case(kind.name()))
    };
    let reason = |choice: &str| {
        Some(match choice {
            "footer" | "name" | "target-superheat" | "target-subcooling" | "writing-lines"
            | "tint" | "qr" | "contents" | "legible-at" | "resolution" | "digits" | "columns"
            | "one-column-below" | "also" | "decimal-comma" | "tolerance"
                if is_picture =>
            {
                (
                    "a picture",
                    "it is for a table: leave it out, or ask for neither picture nor SVG",
                )
            }
            "plane" | "isolines" if !is_of(PictureKind::Dome) => {
                ("what is no dome", "add --picture dome, or leave it out")
            }
            "liquid" | "air" | "water" if !is_of(PictureKind::Coil) => {
                ("what is no coil", "add --picture coil, or leave it out")
            }
            "pressures" if is_picture && has_pressures && has_temperatures => (
                "rows of temperatures without a table",
                "give rows of one kind, or ask for neither picture nor SVG",
            ),
            "step" if has_pressures && args.from.is_none() => {
                ("rows from a list", "it goes with --from and --to")
            }
            "title" | "note" | "shop" | "words" | "blank" if format == Format::Json => (
                "JSON",
                "it stands next to a table or picture: leave it out, or choose another format",
            ),
            "title" | "note" | "shop" | "date"
                if format == Format::Csv && !args.print.csv_header =>
            {
                ("CSV without a header", "add --csv-header, or leave it out")
            }
            "csv-header" if format != Format::Csv => (
                "a format other than CSV",
                "add --format csv, or leave it out",
            ),
            "logo" | "tint" | "target-superheat" | "target-subcooling" if !is_set => (
                "a format other than HTML and PDF",
                "add --format html or --format pdf, or leave it out",
            ),
            "size" | "qr" | "contents" | "writing-lines" if format != Format::Pdf => (
                "a format other than PDF",
                "add --form wall or another form, or leave it out",
            ),
            "size" if !is_card => (
                "a form other than wallet and sheet",
                "add --form wallet, or leave it out",
            ),
            "legible-at" if shape != Some(Shape::Wall) => (
                "a form other than a wall chart",
                "add --form wall, or leave it out",
            ),
            "bleed" if has_marks => (
                "pages that have cut marks already",
                "leave it out, or use --form wallet, folded or wall",
            ),
            "paper" if shape == Some(Shape::Wallet) => (
                "a wallet card",
                "it has a size of its own: leave it out, or use --form sheet for cards on paper",
            ),
            _ => return None,
        })
    };
    let mut given = args.given.keys();
    match given.find_map(|choice| Some((choice, reason(choice)?))) {
        Some((choice, (place, hint))) => Err(idle(choice, place, hint)),
        None => Ok(()),
    }
}

/// As [`check`], for what teaches: a spreadsheet has no place for it.
pub(crate) fn check_teaching(args: &TeachingArgs, output: &OutputArgs) -> Result<(), Failure> {
    let choice = match (args.explain, &args.model) {
        (true, _) => "explain",
        (_, Some(_)) => "model",
        _ => return Ok(()),
    };
    let hint = "leave it out, or choose another format";
    match meant::format(output)? {
        Format::Csv => Err(idle(choice, "CSV", hint)),
        _ => Ok(()),
    }
}

fn idle(choice: &str, place: &str, hint: &str) -> Failure {
    Failure::usage(format!("--{choice} does nothing for {place}"), hint)
}
