//! One chart, one text: every cell of the PDF and of the page for a browser is that of the sheet.

use crate::print::{bytes, lines};
use crate::program::answer;

const CHARTS: [&[&str]; 5] = [
    &[
        "R-134a", "R-407C", "R-744", "--from", "-60F", "--to", "100F", "--step", "10F",
    ],
    &[
        "R-454B", "R-410A", "--from", "-40C", "--to", "60C", "--step", "5C",
    ],
    &[
        "R-290",
        "R-404A",
        "--pressures",
        "5psig,60psig,250psig,800psig",
    ],
    &[
        "R-407C",
        "--decimal-comma",
        "--pressure-unit",
        "kPaa",
        "--columns",
        "bubble,mean,dew",
    ],
    &[
        "R-455A",
        "R-32",
        "--also",
        "kPag",
        "--elevation",
        "5280ft",
        "--digits",
        "uniform",
    ],
];

/// The rows of the sheet as they are set, each cell as blank-separated words: one number of
/// decimals a column, short marks, no row without a figure.
fn sheet(chart: &[&str]) -> Vec<String> {
    let digits: &[&str] = match chart.contains(&"--digits") {
        true => &[],
        false => &["--digits", "uniform"],
    };
    let text = answer(&[&["chart"], chart, digits, &["--format", "csv"]].concat());
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let cell = |cell: &str| match cell {
        "above critical" | "below range" | "above range" => "\u{2013}".to_owned(),
        figure => figure.replace("inHg vac", "v"),
    };
    reader
        .records()
        .map(|row| row.unwrap().iter().map(cell).collect::<Vec<_>>())
        .filter(|row| row[1..].iter().any(|cell| cell != "\u{2013}"))
        .map(|row| row.join(" "))
        .collect()
}

/// Every row of the sheet stands in the PDF, in its order, all cells of it on one line.
fn compare_with_pdf(chart: &[&str], form: &str) {
    let rows = sheet(chart);
    let pdf = bytes(&[chart, &["--form", form, "--resolution", "0.1K"]].concat());
    let text = lines(&pdf);
    let mut found = text.iter();
    for row in &rows {
        assert!(
            found.any(|line| line.split_whitespace().eq(row.split_whitespace())),
            "{form}: '{row}' is missing or out of order in {text:#?}"
        );
    }
}

#[test]
fn pdf_of_every_form() {
    for chart in CHARTS {
        compare_with_pdf(chart, "wall");
    }
    // On a card three refrigerants may stand below each other, which is no fault.
    for form in ["folded", "wallet"] {
        // Three columns of 39 rows are refused on the two sides of a wallet card.
        let last = if form == "wallet" { 3 } else { 4 };
        for chart in &CHARTS[1..last] {
            compare_with_pdf(chart, form);
        }
    }
    // A strip holds one refrigerant; a sheet holds the card of each.
    for form in ["strip", "sheet"] {
        compare_with_pdf(
            &["R-454B", "--from", "-40F", "--to", "150F", "--step", "5F"],
            form,
        );
        compare_with_pdf(
            &["R-744", "--from", "-40C", "--to", "40C", "--step", "5C"],
            form,
        );
    }
}

#[test]
fn page_for_a_browser() {
    for chart in CHARTS {
        let rows = sheet(chart);
        let page = String::from_utf8(bytes(&[chart, &["--format", "html"]].concat())).unwrap();
        let body = page.split_once("<tbody>").unwrap().1;
        let body = body.split_once("</tbody>").unwrap().0;
        let shown: Vec<String> = body
            .split("<tr>")
            .skip(1)
            .map(|row| {
                let row = row.replace("</t", " </t").replace('\u{a0}', " ");
                let texts = row
                    .split('<')
                    .map(|part| part.split_once('>').map_or(part, |one| one.1));
                let text = texts.collect::<String>().replace('\u{2212}', "-");
                text.split_whitespace().collect::<Vec<_>>().join(" ")
            })
            .collect();
        assert_eq!(shown, rows, "{chart:?}");
        // Nothing is fetched from elsewhere, and it fits a telephone.
        assert!(!page.contains("http://") && !page.contains("https://"));
        assert!(page.contains("width=device-width") && page.contains("@media print"));
        assert!(page.contains("<html lang=\"en\">") && page.contains("scope=\"row\""));
    }
}

/// A decimal comma is in the cell itself, so that every format has it.
#[test]
fn decimal_comma_in_all() {
    let chart = [
        "chart",
        "R-290",
        "--from",
        "0C",
        "--to",
        "10C",
        "--decimal-comma",
    ];
    for format in ["text", "markdown", "csv", "json", "html"] {
        let text = answer(&[&chart[..], &["--format", format]].concat());
        assert!(text.contains("3,73"), "{format}: {text}");
    }
}

/// Words of another language replace ours where they stand alone.
#[test]
fn words_of_another_language() {
    let folder = crate::print::Folder::new("words");
    let words = folder.write(
        "de.yaml",
        "language: de\ncolumn_bubble: Siede\ncolumn_dew: Tau\n",
    );
    let page =
        String::from_utf8(bytes(&["R-407C", "--words", &words, "--format", "html"])).unwrap();
    assert!(page.contains("<html lang=\"de\">"));
    assert!(page.contains(">Siede</span></th>") && page.contains(">Tau</span></th>"));
    for form in ["wall", "wallet", "strip", "sheet"] {
        let pdf = bytes(&["R-407C", "--words", &words, "--form", form]);
        let text = lines(&pdf);
        let is_head = |line: &&String| line.contains("Siede Tau");
        assert!(text.iter().any(|line| is_head(&line)), "{form}: {text:?}");
        assert!(!text.iter().any(|line| line.contains("bubble dew")));
        // The language of the document's catalog (ISO 32000-1, 14.9.2).
        let raw = String::from_utf8_lossy(&pdf);
        assert!(
            raw.contains("/Lang (de)") || raw.contains("/Lang(de)"),
            "{form}"
        );
    }
}

/// A decimal comma stands in what is said below the cells too, and nowhere a point.
#[test]
fn decimal_comma_below_the_table() {
    let text = answer(&[
        "chart",
        "R-454B",
        "R-744",
        "--from",
        "0C",
        "--to",
        "40C",
        "--decimal-comma",
    ]);
    for part in [
        "68,9 % R-32",
        "101,325 kPa (14,696 psia)",
        // Critical temperature of CO2: 304.1282 K (Span & Wagner 1996).
        "R-744, 31,0 °C",
    ] {
        assert!(text.contains(part), "'{part}' is missing: {text}");
    }
}

/// The line on bubble and dew stands where there are such columns; a mean by choice says that
/// superheat and subcooling are not relative to it.
#[test]
fn which_column_to_read() {
    let read = |arguments: &[&str]| answer(&[&["chart"], arguments].concat()).replace("\n ", "");
    let both = "read subcooling there";
    let mean = "superheat is relative to dew";
    let text = read(&["R-410A"]);
    assert!(!text.contains(both) && !text.contains(mean), "{text}");
    assert!(text.contains("halfway between bubble and dew"), "{text}");
    let text = read(&["R-410A", "--columns", "bubble,dew"]);
    assert!(text.contains(both) && !text.contains(mean), "{text}");
    let text = read(&["R-455A", "--columns", "mean"]);
    assert!(!text.contains(both) && text.contains(mean), "{text}");
}

/// The exercise has no figure in its table; the key behind it has all.
#[test]
fn exercise_and_key() {
    let text = answer(&["chart", "R-134a", "--from", "0C", "--to", "10C", "--blank"]);
    let (exercise, key) = text.split_once("Answer key").unwrap();
    // R-134a at 5 °C: 0.34966 MPa (Tillner-Roth & Baehr 1994), 2.483 bar above 101.325 kPa.
    assert!(key.contains("2.48") && !exercise.contains("2.48"), "{text}");
    assert!(exercise.contains("______"));
    // A second unit of the rows names them too: 5 °C are 41 °F.
    let text = answer(&[
        "chart", "R-134a", "--from", "0C", "--to", "10C", "--also", "F", "--blank",
    ]);
    let (exercise, key) = text.split_once("Answer key").unwrap();
    assert!(exercise.contains("41.0") && key.contains("41.0"), "{text}");
}

/// Air in a charge: by pressure there is no bubble point within the range, which is told once for all rows.
#[test]
fn a_line_below_the_temperatures_is_told_once() {
    let chart = crate::program::answer(&[
        "chart",
        "R-134a/R-728 (99/1)",
        "--pressures",
        "2bara,5bara,8bara",
    ]);
    let text = chart.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "from which on temperatures are calculated";
    assert_eq!(text.matches(said).count(), 1, "{chart}");
    assert_eq!(text.matches("no answer").count(), 4, "{chart}");
}
