//! How a chart is printed, as meant: the form, the paper, the words around the table.

use super::args::PrintArgs;
use super::failure::Failure;
use crate::output::{Form, Paper, Shape};

/// The form asked for; none where none is.
pub(super) fn form(args: &PrintArgs) -> Result<Option<Form>, Failure> {
    let paper = match args.paper.as_deref().map(str::to_lowercase).as_deref() {
        None | Some("a4") => Paper::A4,
        Some("letter") => Paper::Letter,
        Some(_) => {
            return Err(Failure::usage(
                format!(
                    "'{}' is no paper",
                    args.paper.as_deref().unwrap_or_default()
                ),
                "use --paper a4 or --paper letter",
            ));
        }
    };
    let Some(name) = &args.form else {
        return Ok((args.paper.is_some() || args.landscape).then_some(Form {
            paper,
            landscape: args.landscape,
            ..Form::default()
        }));
    };
    let lower = name.to_lowercase();
    let shape = Shape::ALL
        .into_iter()
        .find(|shape| shape.name() == lower)
        .ok_or_else(|| {
            Failure::usage(
                format!("'{name}' is no form"),
                format!("use {}", Shape::ALL.map(Shape::name).join(", ")),
            )
        })?;
    if args.landscape && shape != Shape::Wall {
        return Err(Failure::usage(
            format!("--landscape turns a wall chart, not {lower}"),
            "leave --landscape out, or use --form wall",
        ));
    }
    Ok(Some(Form {
        shape,
        paper,
        landscape: args.landscape,
    }))
}
