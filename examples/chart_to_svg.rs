//! A pressure-temperature chart as an SVG drawing, without the program.
//!
//! ```text
//! cargo run --release --example chart_to_svg > chart.svg
//! ```
#![allow(clippy::print_stdout)]

use zeotrope::catalogue::Catalogue;
use zeotrope::chart::picture::{Picture, PictureKind};
use zeotrope::chart::{Choices, Request, Rows};
use zeotrope::output::Format;
use zeotrope::page::{Print, Style, picture};
use zeotrope::units::{Atmosphere, PressureUnit, TemperatureUnit, UnitSet};
use zeotrope::{Refrigerant, Result};

fn main() -> Result<()> {
    let request = Request {
        refrigerants: vec![Refrigerant::named("R-454B")?, Refrigerant::named("R-290")?],
        rows: Rows::temperatures(-40.0, 60.0, Some(5.0))?,
        temperature_unit: TemperatureUnit::Celsius,
        pressure_unit: PressureUnit::BarGauge,
        site: Atmosphere::standard_at_elevation(1600.0)?,
        choices: Choices::default(),
    };
    let drawn = Picture::new(PictureKind::Curves, &request, &Catalogue::embedded())?;
    let style = Style::new(UnitSet::SI, request.site);
    let refrigerants = &request.refrigerants;
    let document = picture(
        &drawn,
        refrigerants,
        &Print::default(),
        true,
        Vec::new(),
        &style,
    );
    print!("{}", String::from_utf8_lossy(&document.write(Format::Svg)?));
    Ok(())
}
