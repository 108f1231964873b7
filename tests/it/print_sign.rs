//! The shop's own sign on every printed form, and signs that cannot be printed.

use crate::print::{Folder, bytes, pictures, pixels};
use crate::program::zeotrope;

const FORMS: [&str; 5] = ["wall", "folded", "wallet", "strip", "sheet"];

/// A grey PNG of 6 x 3 pixels.
const SIGN: &str = concat!(
    "89504e470d0a1a0a0000000d4948445200000006000000030800000000956a21270000001149444154789c63f8",
    "cf00820c0cff9120005fb508f84de061ab0000000049454e44ae426082",
);

#[test]
fn png_on_print() {
    let folder = Folder::new("sign-png");
    let logo = folder.file("sign.png");
    let sign: Vec<u8> = (0..SIGN.len())
        .step_by(2)
        .map(|at| u8::from_str_radix(&SIGN[at..at + 2], 16).unwrap())
        .collect();
    std::fs::write(&logo, &sign).unwrap();
    for form in FORMS {
        let chart = ["R-32", "--form", form, "--shop", "Harbour", "--logo", &logo];
        let found = pictures(&bytes(&chart));
        let sizes: Vec<Vec<&str>> = found
            .iter()
            .map(|line| line.split_whitespace().skip(3).take(2).collect())
            .collect();
        assert!(!sizes.is_empty(), "{form}: no picture");
        assert!(
            sizes.iter().all(|size| size == &["6", "3"]),
            "{form}: {found:?}"
        );
    }
    let page = bytes(&["R-32", "--format", "html", "--logo", &logo]);
    let page = String::from_utf8(page).unwrap();
    assert!(page.contains("data:image/png;base64,iVBOR"));
    // Cut off in the middle.
    let half = folder.file("half.png");
    std::fs::write(&half, &sign[..sign.len() / 2]).unwrap();
    refused(&half, "not a whole PNG picture");
}

fn svg(inside: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
         viewBox=\"0 0 40 20\">{inside}</svg>"
    )
}

/// Left half red by a style sheet, behind it blue that a clip path cuts to the right half, and a
/// script, a link and an entity that do no harm.
const PATHS: &str = "<style>.a{fill:#f00}</style><script>alert(1)</script>\
     <clipPath id=\"c\"><rect x=\"20\" width=\"20\" height=\"20\"/></clipPath>\
     <rect width=\"40\" height=\"20\" fill=\"blue\" clip-path=\"url(#c)\"/>\
     <a xlink:href=\"http://example.org/\"><rect class=\"a\" width=\"20\" height=\"20\"/></a>";

#[test]
fn svg_on_print() {
    let folder = Folder::new("sign-svg");
    let logo = folder.write("sign.svg", &svg(PATHS));
    for form in FORMS {
        let chart = ["R-32", "--form", form, "--shop", "Harbour", "--logo", &logo];
        let pdf = bytes(&chart);
        let page = pixels(&pdf);
        let of = |colour: [u8; 3]| -> Vec<(usize, usize)> {
            let is_of = |at: &(usize, usize)| page.at(*at) == colour;
            page.places().filter(is_of).collect()
        };
        let (red, blue) = (of([255, 0, 0]), of([0, 0, 255]));
        assert!(
            red.len() > 400 && blue.len() > 400,
            "{form}: {} red, {} blue",
            red.len(),
            blue.len()
        );
        let ratio = red.len() as f64 / blue.len() as f64;
        assert!((0.9..1.1).contains(&ratio), "{form}: {ratio}");
        // Once on a page, in its upper right corner, unless the page holds eight cards.
        if form == "wallet" || form == "wall" {
            let right = |place: &(usize, usize)| 2 * place.0 > page.width;
            assert!(red.iter().chain(&blue).all(right), "{form}");
        }
        assert!(pictures(&pdf).is_empty(), "{form}: drawn as pixels");
        assert!(pdf == bytes(&chart), "{form}: other bytes");
    }
    // A browser draws a picture that stands in an <img> without running or loading anything.
    let page = bytes(&["R-32", "--format", "html", "--logo", &logo]);
    let page = String::from_utf8(page).unwrap();
    assert!(page.contains("<img class=\"logo\"") && !page.contains("alert(1)"));
}

/// Half of a group's opacity over white: a red of 255, 128, 128; and a gradient from black to red.
#[test]
fn shades_on_print() {
    let folder = Folder::new("sign-shades");
    let logo = folder.write(
        "sign.svg",
        &svg(
            "<linearGradient id=\"g\"><stop stop-color=\"#000\"/><stop offset=\"1\" \
             stop-color=\"#f00\"/></linearGradient><rect width=\"40\" height=\"10\" \
             fill=\"url(#g)\"/><g opacity=\".5\"><rect y=\"10\" width=\"40\" height=\"10\" \
             fill=\"red\"/><rect y=\"12\" width=\"40\" height=\"8\" fill=\"red\"/></g>",
        ),
    );
    let page = pixels(&bytes(&["R-32", "--form", "wallet", "--logo", &logo]));
    let near = |wanted: [u8; 3]| {
        let is_near = |at: &(usize, usize)| {
            let seen = page.at(*at);
            (0..3).all(|index| seen[index].abs_diff(wanted[index]) <= 2)
        };
        page.places().filter(is_near).count()
    };
    assert!(near([255, 128, 128]) > 400);
    for half_way in [[64, 0, 0], [128, 0, 0], [192, 0, 0]] {
        assert!(near(half_way) > 5, "{half_way:?}");
    }
}

/// Groups in groups a thousand deep, each a little clearer, need no deep stack.
#[test]
fn deep_groups() {
    let folder = Folder::new("sign-deep");
    let deep = format!(
        "{}<rect width=\"9\" height=\"9\"/>{}",
        "<g opacity=\".999\">".repeat(1000),
        "</g>".repeat(1000)
    );
    let logo = folder.write("sign.svg", &svg(&deep));
    assert!(bytes(&["R-32", "--form", "wallet", "--logo", &logo]).starts_with(b"%PDF"));
}

/// The sign is refused on PDF, in words, and nothing is written.
#[track_caller]
fn refused(logo: &str, words: &str) {
    let out = format!("{logo}.pdf");
    let chart = ["chart", "R-32", "--form", "wallet", "--logo", logo];
    let told = zeotrope(&[&chart[..], &["--output", &out]].concat());
    assert_eq!(told.code, 1, "{words}: {}", told.err);
    assert!(
        told.err.contains(words) && told.err.contains("--logo"),
        "{words}: {}",
        told.err
    );
    assert!(told.err.contains("hint:"), "{}", told.err);
    assert!(!std::path::Path::new(&out).exists(), "{words}");
}

#[test]
fn signs_that_cannot_be_printed() {
    let folder = Folder::new("sign-bad");
    let secret = folder.write("secret.svg", &svg("<rect width=\"9\" height=\"9\"/>"));
    let link = format!("<image width=\"9\" height=\"9\" xlink:href=\"{secret}\"/>");
    let filter = "<filter id=\"f\"><feGaussianBlur stdDeviation=\"2\"/></filter>\
                  <rect width=\"9\" height=\"9\" filter=\"url(#f)\"/>";
    let several = "<clipPath id=\"c\"><rect width=\"9\" height=\"9\"/><circle r=\"9\"/></clipPath>\
                   <rect width=\"9\" height=\"9\" clip-path=\"url(#c)\"/>";
    // Ten times ten times ten ... of one square.
    let mut bomb = "<g id=\"a0\"><rect width=\"1\" height=\"1\"/></g>".to_owned();
    for level in 1..12 {
        let uses = format!("<use xlink:href=\"#a{}\"/>", level - 1).repeat(10);
        bomb.push_str(&format!("<g id=\"a{level}\">{uses}</g>"));
    }
    let nested = format!("{}{}", "<g>".repeat(5000), "</g>".repeat(5000));
    let mut laughs = "<!ENTITY a0 \"ha\">".to_owned();
    for level in 1..20 {
        let ten = format!("&a{};", level - 1).repeat(10);
        laughs.push_str(&format!("<!ENTITY a{level} \"{ten}\">"));
    }
    let laughs = format!("<!DOCTYPE svg [{laughs}]>{}", svg("<g id=\"&a19;\"/>"));
    let outside = "<!DOCTYPE svg [<!ENTITY x SYSTEM \"file:///etc/hostname\">]><svg \
                   xmlns=\"http://www.w3.org/2000/svg\"><g id=\"&x;\"/></svg>";
    for (document, words) in [
        (svg("<text y=\"9\">Harbour</text>"), "holds text"),
        (svg(&link), "holds a picture inside"),
        (svg("<foreignObject/>"), "holds a foreign object"),
        (svg(filter), "holds a filter"),
        (svg(several), "a clip path of several shapes"),
        (
            svg("<rect width=\"9\" height=\"9\" style=\"mix-blend-mode:multiply\"/>"),
            "a blend of colours",
        ),
        (svg(""), "shows nothing"),
        (
            svg("<rect width=\"9\" height=\"9\" fill=\"none\"/>"),
            "shows nothing",
        ),
        (svg("<rect width=\"9\""), "not a whole SVG document"),
        (svg(&bomb), "too many parts"),
        (svg(&nested), "too many parts"),
        (laughs, "not a whole SVG document"),
        (outside.to_owned(), "not a whole SVG document"),
        // Without a namespace too.
        (
            "<svg viewBox=\"0 0 9 9\"><rect width=\"9\" height=\"9\"/><text>x</text></svg>"
                .to_owned(),
            "holds text",
        ),
        (
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"0\" height=\"5\"/>".to_owned(),
            "has no size",
        ),
        (
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"900\" height=\"5\"><rect \
             width=\"9\" height=\"9\"/></svg>"
                .to_owned(),
            "40 times",
        ),
        (
            "no picture, but <svg".to_owned(),
            "not a whole SVG document",
        ),
        (" ".repeat(2_000_001), "larger than 2 MB"),
    ] {
        let logo = folder.write("sign.svg", &document);
        refused(&logo, words);
    }
}

/// Over the whole catalogue it is told once, before a folder is made.
#[test]
fn a_bad_sign_is_told_once() {
    let folder = Folder::new("sign-all");
    let (logo, cards) = (folder.write("sign.svg", &svg("")), folder.file("cards"));
    let all = [
        "chart", "--all", &cards, "--form", "wallet", "--logo", &logo,
    ];
    let told = zeotrope(&all);
    assert_eq!(told.code, 1);
    assert_eq!(told.err.matches("shows nothing").count(), 1, "{}", told.err);
    assert!(!std::path::Path::new(&cards).exists());
}
