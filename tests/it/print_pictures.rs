//! Pictures: what stands where, read back from the file.

use crate::picture_names::check_leaders;
use crate::print::{Folder, bytes, info, lines, pictures, pixels, placed_words};

fn picture(arguments: &[&str]) -> String {
    String::from_utf8(bytes(&[arguments, &["--format", "svg"]].concat())).unwrap()
}

pub(crate) fn attribute(tag: &str, key: &str) -> Option<f64> {
    let from = tag.find(&format!(" {key}=\""))? + key.len() + 3;
    let rest = &tag[from..];
    rest[..rest.find('"')?].parse().ok()
}

/// Points of every curve, on the page.
pub(crate) fn curves(svg: &str) -> Vec<Vec<(f64, f64)>> {
    svg.lines()
        .filter(|line| line.starts_with("<polyline"))
        .map(|line| {
            let points = line
                .split("points=\"")
                .nth(1)
                .unwrap()
                .split('"')
                .next()
                .unwrap();
            let point = |pair: &str| {
                let (x, y) = pair.split_once(',').unwrap();
                (x.parse().unwrap(), y.parse().unwrap())
            };
            points.split(' ').map(point).collect()
        })
        .collect()
}

/// Names beside curves: left, top, right, bottom, text; half an em a letter at the least.
pub(crate) fn names(svg: &str) -> Vec<([f64; 4], String)> {
    svg.lines()
        .filter(|line| line.starts_with("<text") && line.contains("paint-order"))
        .map(|line| {
            let (tag, rest) = line.split_once('>').unwrap();
            let text = rest.trim_end_matches("</text>").to_owned();
            let size = attribute(tag, "font-size").unwrap();
            let (x, y) = (attribute(tag, "x").unwrap(), attribute(tag, "y").unwrap());
            let half = text.chars().count() as f64 * size * 0.25;
            ([x - half, y - 0.75 * size, x + half, y + 0.1 * size], text)
        })
        .collect()
}

/// No name stands on another name or on a curve, but for that of a thin line on its own; leaders keep
/// clear of each other and of names.
pub(crate) fn check_names(svg: &str, wanted: &[&str]) {
    check_leaders(svg);
    let names = names(svg);
    let polylines = svg.lines().filter(|line| line.starts_with("<polyline"));
    let is_thin: Vec<bool> = polylines
        .map(|line| line.contains("stroke-width=\"0.8\""))
        .collect();
    for one in wanted {
        assert!(
            names.iter().any(|(_, text)| text == one),
            "{one} is not named"
        );
    }
    for (index, ([left, top, right, bottom], text)) in names.iter().enumerate() {
        let mut crossing = Vec::new();
        for (place, curve) in curves(svg).into_iter().enumerate() {
            let passes = curve.windows(2).any(|pair| {
                (0..=20).any(|step| {
                    let share = f64::from(step) / 20.0;
                    let x = pair[0].0 + share * (pair[1].0 - pair[0].0);
                    let y = pair[0].1 + share * (pair[1].1 - pair[0].1);
                    x > *left && x < *right && y > *top && y < *bottom
                })
            });
            crossing.extend(passes.then_some(is_thin[place]));
        }
        let on_its_own = crossing.is_empty() || crossing == [true];
        assert!(on_its_own, "a curve passes through '{text}'");
        for ([l, t, r, b], other) in &names[index + 1..] {
            let apart = l >= right || r <= left || t >= bottom || b <= top;
            assert!(apart, "'{text}' and '{other}' cover each other");
        }
    }
}

#[test]
fn curves_of_many() {
    let many = [
        "R-134a", "R-290", "R-744", "R-454B", "R-407C", "R-32", "R-717",
    ];
    let svg = picture(&[&many[..], &["--from", "-40C", "--to", "60C"]].concat());
    check_names(&svg, &many);
    assert!(svg.contains("role=\"img\"") && svg.contains("<title>") && svg.contains("<desc>"));
    assert!(svg.contains(">\u{2212}40</text>") && !svg.contains(">-40</text>"));
    // Four blends with two lines each and three pure refrigerants.
    assert_eq!(curves(&svg).len(), 2 * 2 + 5);
}

/// Both lines of a lens meet at the pure ends; R-32 boils at -51.65 °C and R-1234yf at -29.45 °C
/// under 101.325 kPa (normal boiling points, from memory, to 0.2 K).
#[test]
fn lens_of_two() {
    let svg = picture(&["R-454B", "--picture", "lens", "--pressures", "101325Pa"]);
    let curves = curves(&svg);
    // Bubble, dew, both of an ideal mixture, the glide, and the tie line.
    assert_eq!(curves.len(), 6);
    let (bubble, dew) = (&curves[0], &curves[1]);
    let [from, to] = curves[4][..] else {
        panic!("a glide has two ends")
    };
    assert!(from.0 == to.0 && from.1 > to.1);
    let [liquid, blend, vapor] = curves[5][..] else {
        panic!("a tie line passes its blend")
    };
    // It is level and runs toward the component that boils first, past the blend halfway up.
    assert!(liquid.1 == vapor.1 && vapor.0 > blend.0 && blend.0 > liquid.0);
    assert!((blend.1 - (from.1 + to.1) / 2.0).abs() < 0.02 && blend.0 == from.0);
    let ends = |line: &[(f64, f64)]| [line[0].1, line[line.len() - 1].1];
    // The ideal mixture ends in the same pure refrigerants.
    for other in [dew, &curves[2]] {
        let apart = |(a, b): (f64, f64)| (a - b).abs() < 0.05;
        assert!(ends(bubble).into_iter().zip(ends(other)).all(apart));
    }
    // Dew lies above bubble everywhere between; a page counts downwards.
    let dew_at = |x: f64| {
        let pair = dew.windows(2).find(|pair| pair[0].0 <= x && x <= pair[1].0);
        let pair = pair.unwrap();
        let share = (x - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1 + share * (pair[1].1 - pair[0].1)
    };
    let inner = &bubble[1..bubble.len() - 1];
    assert!(inner.iter().all(|point| point.1 > dew_at(point.0)));
    check_names(&svg, &["101325 Pa"]);
    // Normal boiling and dew point of R-454B, -50.9 and -50.0 degC within 0.7 K (ANSI/ASHRAE 34, from
    // memory).
    let marked = |word: &str| {
        let names = names(&svg);
        let found = names.iter().find(|(_, text)| text.contains(word)).unwrap();
        let value = found.1.split(word).nth(1).unwrap().trim();
        let number = value.split(' ').next().unwrap().replace('\u{2212}', "-");
        number.parse::<f64>().unwrap()
    };
    let (bubble, dew) = (marked("bubble"), marked("dew"));
    assert!(
        (bubble + 50.9).abs() < 0.7 && (dew + 50.0).abs() < 0.7,
        "{bubble}, {dew}"
    );
}

/// A lens is solved from neighbors; each composition's own refrigerant says the same to a tenth of a
/// pixel, also where neighbors are not followed (R-744 near its critical point, a liquid that parts).
#[test]
fn lens_as_each_composition_answers() {
    use zeotrope::{Refrigerant, units::Pressure};
    let pairs = [
        ("R-32", "R-1234yf", 10.0),
        ("R-134a", "R-600a", 3.0),
        ("R-744", "R-1234yf", 45.0),
        ("R-744", "R-1234yf", 60.0),
        ("R-717", "R-134a", 5.0),
    ];
    for (first, second, bar) in pairs {
        let pressures = format!("{bar}bara");
        let svg = picture(&[
            first,
            second,
            "--picture",
            "lens",
            "--pressures",
            &pressures,
        ]);
        let all = curves(&svg);
        let alone = |name: &str, is_dew: bool| {
            let one = Refrigerant::named(name).unwrap();
            let at = Pressure::bar(bar);
            let found = match is_dew {
                true => one.dew_temperature(at),
                false => one.bubble_temperature(at),
            };
            found.ok().map(|found| found.in_celsius())
        };
        // The picture's own scale, from two points of its bubble line.
        let literal = |percent: u32| format!("{first}/{second} ({percent}/{})", 100 - percent);
        let x = |percent: u32| 70.0 + 666.0 * f64::from(percent) / 100.0;
        let drawn = |line: usize, percent: u32| {
            let mut parts = all[line].windows(2);
            let [from, to] = *parts.find(|two| {
                let (low, high) = (two[0].0.min(two[1].0), two[0].0.max(two[1].0));
                (low - 0.02..=high + 0.02).contains(&x(percent))
            })?
            else {
                return None;
            };
            let share = (x(percent) - from.0) / (to.0 - from.0);
            Some(from.1 + share * (to.1 - from.1))
        };
        let scale = || {
            let (a, b) = (alone(&literal(40), false)?, alone(&literal(80), false)?);
            let (at_a, at_b) = (drawn(0, 40)?, drawn(0, 80)?);
            Some((at_a, a, (at_b - at_a) / (b - a)))
        };
        let (zero, degrees, slope) = scale().unwrap();
        for percent in [10, 30, 50, 70, 90] {
            for (line, is_dew) in [(0, false), (1, true)] {
                let wanted = alone(&literal(percent), is_dew);
                let wanted = wanted.map(|one| zero + slope * (one - degrees));
                match (wanted, drawn(line, percent)) {
                    (Some(wanted), Some(drawn)) => {
                        assert!((wanted - drawn).abs() < 0.1, "{first}/{second} {percent}");
                    }
                    (None, None) => {}
                    other => panic!("{first}/{second} {percent}: {other:?}"),
                }
            }
        }
    }
}

/// Each point of a line of equal glide has that glide, by the refrigerant of its own composition, to
/// what straight lines between compositions 10 % apart may miss (0.6 K away from the pure corners);
/// the sides, where one component is missing, among them.
#[test]
fn lines_of_equal_glide() {
    use zeotrope::catalogue::Catalogue;
    use zeotrope::chart::picture::{Name, Picture, PictureKind};
    use zeotrope::chart::{Choices, Request, Rows};
    use zeotrope::units::{Atmosphere, Pressure, PressureUnit, TemperatureUnit};
    use zeotrope::{Refrigerant, Result};
    let request = Request {
        refrigerants: vec![Refrigerant::named("R-407C").unwrap()],
        rows: Rows::Pressures(vec![6.0]),
        temperature_unit: TemperatureUnit::Celsius,
        pressure_unit: PressureUnit::BarAbsolute,
        site: Atmosphere::SEA_LEVEL,
        choices: Choices::default(),
    };
    let found = Picture::new(PictureKind::Triangle, &request, &Catalogue::embedded()).unwrap();
    let glide = |shares: [f64; 3]| -> Result<f64> {
        let names = ["R-32", "R-125", "R-134a"];
        let all = names.iter().zip(shares).filter(|(_, share)| *share > 1e-9);
        let (names, shares): (Vec<&str>, Vec<String>) = all
            .map(|(name, share)| (*name, format!("{share:.6}")))
            .unzip();
        let literal = format!("{} ({})", names.join("/"), shares.join("/"));
        let one = Refrigerant::named(&literal)?.exact();
        let at = Pressure::bar(6.0);
        Ok((one.dew_temperature(at)? - one.bubble_temperature(at)?).in_kelvin())
    };
    let (mut checked, mut on_a_side) = (0, 0);
    for curve in &found.curves {
        let Name::Difference(level) = curve.name else {
            continue;
        };
        for (first, second) in &curve.points {
            let shares = [*first, *second, 100.0 - first - second];
            let is_far = |share: &f64| *share < 1e-6 || *share >= 10.0 - 1e-6;
            if !shares.iter().all(is_far) || shares.iter().any(|share| *share > 90.0) {
                continue;
            }
            let own = glide(shares).unwrap();
            assert!(
                (own - level).abs() < 0.6,
                "{shares:?}: {own} on the line of {level}"
            );
            checked += 1;
            on_a_side += usize::from(shares.iter().any(|share| *share < 1e-6));
        }
    }
    assert!(checked > 20 && on_a_side > 1, "{checked}, {on_a_side}");
}

/// A triangle names its lines and the blend; the tie line runs toward R-32; two components are refused.
#[test]
fn triangle_of_three() {
    let asked = ["R-407C", "--picture", "triangle", "--pressures", "5bara"];
    let svg = picture(&asked);
    check_names(&svg, &["R-407C", "6 K"]);
    assert!(svg.contains("R-32 + R-125 + R-134a: glide at 5 bara"));
    let curves = curves(&svg);
    let [liquid, vapor] = curves[curves.len() - 1][..] else {
        panic!("a tie line has two ends")
    };
    assert!(vapor.0 > liquid.0);
    // Nothing lies above the side without the third component.
    let corner = [(70.0, 736.0), (42.0, 482.0)];
    for (x, y) in curves.iter().flatten() {
        let (x, y) = ((x - corner[0].0) / 666.0, (corner[1].1 - y) / 440.0);
        assert!(x > -1e-3 && y > -1e-3 && x + y < 1.001);
    }
    let two = [
        "R-454B",
        "--picture",
        "triangle",
        "--pressures",
        "5bara",
        "--format",
        "svg",
    ];
    let refused = crate::program::zeotrope(&[&["chart"], &two[..]].concat());
    assert!(
        refused
            .err
            .contains("picture 'triangle' is of three components")
    );
}

#[test]
fn dome_with_isotherms() {
    let svg = picture(&[
        "R-290",
        "--picture",
        "dome",
        "--from",
        "-40C",
        "--to",
        "120C",
    ]);
    check_names(&svg, &["bubble", "dew", "critical point", "20 \u{b0}C"]);
    let blend = picture(&[
        "R-454B",
        "--picture",
        "dome",
        "--from",
        "-40F",
        "--to",
        "120F",
    ]);
    check_names(&blend, &["bubble", "dew"]);
    assert!(blend.contains("Btu/lb"));
}

/// Along a coil temperature rises from bubble to dew, and stands still for a pure refrigerant.
#[test]
fn along_a_coil() {
    let svg = picture(&[
        "R-407C",
        "R-455A",
        "R-134a",
        "--picture",
        "coil",
        "--pressures",
        "65psig",
    ]);
    check_names(&svg, &["R-407C", "R-455A", "R-134a"]);
    let curves = curves(&svg);
    for blend in &curves[..2] {
        assert!(blend.windows(2).all(|pair| pair[1].1 < pair[0].1));
    }
    assert!((curves[2][0].1 - curves[2].last().unwrap().1).abs() < 0.02);
}

/// The same picture on paper: every text of the SVG's drawing is there to be selected, inside the
/// page and in no type under 6.5 points; the same cautions as on a chart; curves are drawn.
#[test]
fn on_paper() {
    let asked: [&[&str]; 4] = [
        &["R-454B", "R-32", "--from", "-40C", "--to", "60C"],
        &["R-454B", "--picture", "lens", "--pressures", "5bara,10bara"],
        &[
            "R-407C",
            "R-32",
            "--picture",
            "coil",
            "--pressures",
            "5bara",
        ],
        &[
            "R-290",
            "--picture",
            "dome",
            "--from",
            "-40C",
            "--to",
            "110C",
        ],
    ];
    for one in asked {
        let kind = if one.contains(&"--picture") {
            one.to_vec()
        } else {
            [one, &["--picture", "curves"]].concat()
        };
        for paper in [&["--paper", "a4"][..], &["--landscape"]] {
            let chart = [&kind[..], paper].concat();
            let pdf = bytes(&chart);
            assert!(pdf == bytes(&chart) && pictures(&pdf).is_empty());
            let told = lines(&pdf).join("\n");
            let svg = picture(one);
            let wanted: Vec<&str> = svg
                .lines()
                .filter(|line| line.starts_with("<text"))
                .map(|line| line.split_once('>').unwrap().1.trim_end_matches("</text>"))
                .collect();
            assert!(wanted.len() > 12, "{one:?}");
            for text in wanted {
                let flat = told.replace('\n', " ");
                let text = text.replace('\u{2212}', "-");
                assert!(flat.contains(&text), "{one:?}: '{text}' is not in\n{told}");
            }
            for caution in [
                "Refrigerants are pressurized",
                "flammable: use a recovery machine",
                "not a judgement",
            ] {
                assert_eq!(told.matches(caution).count(), 1, "{one:?}: {caution}");
            }
            let (pages, words) = placed_words(&pdf);
            assert_eq!(pages.len(), 1, "{one:?} {paper:?}");
            for word in &words {
                let [left, top, right, bottom] = word.place;
                let inside = left > 20.0 && top > 20.0;
                let inside = inside && right < pages[0][0] - 20.0 && bottom < pages[0][1] - 20.0;
                assert!(inside, "{one:?}: '{}' at {:?}", word.text, word.place);
                // The box of a line is 2701/2048 of its type; one that is turned stands upright.
                let size = (bottom - top).min(right - left).max((bottom - top) * 0.5);
                let turned = bottom - top > 2.0 * (right - left);
                assert!(turned || size > 6.5 * 0.99, "{one:?}: '{}'", word.text);
            }
            let page = pixels(&pdf);
            let black = page.places().filter(|at| page.at(*at) == [0, 0, 0]).count();
            assert!(black > 10_000, "{one:?}: {black}");
            assert!(info(&pdf).contains("Tagged:          yes"));
        }
    }
}

/// Own words stand on a picture too, in each of its formats, and words of another language.
#[test]
fn own_words_on_a_picture() {
    let folder = Folder::new("picture-words");
    let words = folder.write(
        "de.yaml",
        "language: de\naxis_temperature: 'Temperatur, {unit}'\n",
    );
    let own = [
        "R-32",
        "--picture",
        "curves",
        "--from",
        "0C",
        "--to",
        "50C",
        "--title",
        "Ours",
        "--note",
        "for class 2",
        "--shop",
        "Harbour",
        "--words",
        &words,
    ];
    let html = String::from_utf8(bytes(&[&own[..], &["--format", "html"]].concat())).unwrap();
    let pdf = lines(&bytes(&[&own[..], &["--form", "wall"]].concat())).join("\n");
    for told in [picture(&own), html.clone(), pdf] {
        for wanted in ["Ours", "for class 2", "Harbour", "Temperatur, \u{b0}C"] {
            assert!(told.contains(wanted), "{wanted} is not in\n{told}");
        }
    }
    assert!(html.contains("<html lang=\"de\">") && html.contains("R-32 is flammable"));
}

/// A hundred curves leave no room for all names: those left out are told.
#[test]
fn names_without_room_are_told() {
    let mut many: Vec<String> = (0..100)
        .map(|step| {
            format!(
                "R-32/R-125 ({}/{})",
                20.0 + 0.5 * step as f64,
                80.0 - 0.5 * step as f64
            )
        })
        .collect();
    many.extend(["--from", "-40C", "--to", "60C"].map(str::to_owned));
    let many: Vec<&str> = many.iter().map(String::as_str).collect();
    let svg = picture(&many);
    let named = names(&svg).len();
    assert!(named < 100, "{named}");
    let told = svg.split("Drawn without room for a name:").nth(1).unwrap();
    let told = told.split("Full line:").next().unwrap();
    assert_eq!(told.matches("R-32/R-125").count(), 100 - named);
}

#[test]
fn same_picture_again() {
    let chart = ["R-454B", "R-32", "--format", "svg"];
    assert!(bytes(&chart) == bytes(&chart));
}

/// A picture on a wall has class, hazard and what its pressures are relative to above it, and fills
/// at least three quarters of its paper each way.
#[test]
fn pictures_on_walls_have_a_face() {
    let dome = [
        "R-290",
        "--picture",
        "dome",
        "--from",
        "-40C",
        "--to",
        "110C",
    ];
    let lens = [
        "R-454B",
        "--picture",
        "lens",
        "--pressures",
        "60psig,120psig",
    ];
    let coil = ["R-454B", "--picture", "coil", "--pressures", "60psig"];
    let curves = ["R-290", "R-717", "--picture", "curves", "--units", "si"];
    for (picture, first) in [
        (
            &dome[..],
            "R-290 \u{b7} A3 flammable bara at \u{b0}C, pressures absolute",
        ),
        (
            &lens,
            "R-454B \u{b7} A2L flammable \u{b0}F at psig, gauge zeroed at 5280 ft",
        ),
        (
            &coil,
            "R-454B \u{b7} A2L flammable \u{b0}F at psig, gauge zeroed at 5280 ft",
        ),
        (
            &curves,
            "R-290 \u{b7} A3, R-717 \u{b7} B2L flammable toxic: R-717",
        ),
    ] {
        for more in [&["--elevation", "5280ft"][..], &["--landscape"]] {
            let pdf = bytes(&[picture, &["--form", "wall"], more].concat());
            let (pages, words) = placed_words(&pdf);
            assert_eq!(pages.len(), 1, "{picture:?}");
            let text: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
            let first = match more.len() {
                1 => first.replace("5280 ft", "sea level"),
                _ => first.to_owned(),
            };
            assert!(
                text.join(" ").starts_with(&first),
                "{picture:?}: {}",
                text.join(" ")
            );
            let [width, height] = pages[0];
            let ends = |at: usize, better: fn(f64, f64) -> f64| {
                words
                    .iter()
                    .map(|word| word.place[at])
                    .reduce(better)
                    .unwrap()
            };
            let wide = (ends(2, f64::max) - ends(0, f64::min)) / width;
            let high = (ends(3, f64::max) - ends(1, f64::min)) / height;
            assert!(
                wide > 0.75 && high > 0.75,
                "{picture:?}: {wide:.2} x {high:.2}"
            );
        }
    }
}
