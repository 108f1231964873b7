//! Every figure of the pages of properties stands for a field of the answer, with its value.

use zeotrope::catalogue::Catalogue;
use zeotrope::page::{self, Document, SaturationParts, Style};
use zeotrope::process::coil::{CoilKind, Liquid};
use zeotrope::process::glide::{self, glide};
use zeotrope::service::conversion::{Quantity, convert};
use zeotrope::service::facts::Facts;
use zeotrope::service::listing::list;
use zeotrope::service::profile::profile;
use zeotrope::service::saturation::{At, Question, saturation};
use zeotrope::service::state::{StateAnswer, states};
use zeotrope::units::{
    Atmosphere, BareUnit, Pressure, Temperature, UnitSet, parse_pressure, parse_temperature,
};
use zeotrope::{Given, Refrigerant, Zero};

/// Finds each figure's field in what programs read, with the same value; counts them.
fn walk(document: &Document) -> usize {
    let figures = document.figures.iter().filter(|one| !one.field.is_empty());
    figures
        .map(|figure| {
            let path = format!("/{}", figure.field);
            let value = document.json.pointer(&path);
            let value = value.unwrap_or_else(|| panic!("no field {path}"));
            assert!(figure.datum.is_value(value), "{path}: {value}");
        })
        .count()
}

fn style() -> Style {
    Style::new(UnitSet::INCH_POUND, Atmosphere::SEA_LEVEL)
}

#[test]
fn figures_of_saturation_state_and_glide_stand_for_fields() {
    let site = Atmosphere::SEA_LEVEL;
    for name in ["R-134a", "R-455A"] {
        let refrigerant = Refrigerant::named(name).unwrap().exact();
        let facts = Facts::of(&refrigerant);
        let pressure = parse_pressure("70psig", BareUnit::Refused, &site).unwrap();
        let question = Question {
            at: At::Pressure(pressure),
            reference: Zero::Usual,
            tolerance: true,
            ideal: true,
        };
        let found = saturation(&refrigerant, &facts, &question).unwrap();
        let with = SaturationParts {
            subject: (&refrigerant, &facts),
            site: &[],
            explain: true,
            is_one_of_several: true,
        };
        let one = page::saturation(&found, with, &style());
        assert!(walk(&one) > 20);
        assert_eq!(one.sheet.heads.len(), one.sheet.rows[0].len());
        assert!(
            one.json["working"]
                .as_array()
                .is_some_and(|all| all.len() > 2)
        );
        assert!(walk(&Document::joined(vec![one.clone(), one])) > 40);

        let given = Given::PressureQuality(pressure.value, 0.25);
        let found = states(&refrigerant, given, Zero::Usual, None).unwrap();
        let answers: Vec<_> = found
            .into_iter()
            .map(|one| StateAnswer::new(one, &facts))
            .collect();
        let page = page::state(&answers, (&refrigerant, &facts), &[], &style());
        assert!(walk(&page) > 25);

        let question = glide::Question {
            pressure,
            liquid: Some(Liquid {
                temperature: Temperature::fahrenheit(100.0),
                pressure: None,
            }),
            coils: vec![CoilKind::Evaporator],
            reference: Zero::Usual,
            ideal: true,
            atmosphere: site,
        };
        let found = glide(&refrigerant, &facts, &question).unwrap();
        let page = page::glide(&found, (&refrigerant, &facts), &[], true, &style());
        assert!(walk(&page) > 40);
        assert!(!page.json["evaporator"]["working"].is_null());

        let found = profile(&refrigerant, &facts);
        let page = page::profile(&found, &refrigerant, &facts, Vec::new(), &style());
        assert!(walk(&page) > 3);
        assert!(!page.cautions.is_empty());
    }
}

#[test]
fn figures_of_two_states_lists_and_conversions_stand_for_fields() {
    // one state shown twice: the page of two
    let refrigerant = Refrigerant::named("R-134a").unwrap().exact();
    let facts = Facts::of(&refrigerant);
    let given = Given::TemperaturePressure(Temperature::celsius(25.0), Pressure::bar(3.0));
    let found = states(&refrigerant, given, Zero::Usual, None).unwrap();
    let one = StateAnswer::new(found[0].clone(), &facts);
    let page = page::state(&[one.clone(), one], (&refrigerant, &facts), &[], &style());
    assert_eq!(page.json.as_array().unwrap().len(), 2);
    assert!(walk(&page) > 20);

    let entries = list(&Catalogue::embedded(), &["A2L"]).unwrap();
    let page = page::listing(&entries, &style());
    assert_eq!(walk(&page), 4 * entries.len());

    let typed = |text: &str| {
        let temperature = parse_temperature(text).unwrap();
        (text.to_owned(), Quantity::Temperature(temperature))
    };
    for given in [vec![typed("5C")], vec![typed("5C"), typed("41F")]] {
        let found = convert(given, None, Atmosphere::SEA_LEVEL).unwrap();
        let page = page::conversion(&found, Vec::new(), &style());
        assert_eq!(walk(&page), found.values.len());
    }
}
