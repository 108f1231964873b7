//! The index of a folder of lookups, by designation.

use super::{Language, argument, function, stem};
use crate::chart::lookup::{Arithmetic, Lookup, LookupEntry, LookupQuantity, Totals};

/// The index of a folder, by designation: names and texts of its files.
pub fn index(all: &[Lookup], language: Language) -> Vec<(String, String)> {
    match language {
        Language::C => vec![
            ("zeotrope_lookup.h".to_owned(), header(all)),
            ("zeotrope_lookup.c".to_owned(), source(all)),
        ],
        Language::Rust => vec![("zeotrope_lookup.rs".to_owned(), rust(all))],
        Language::Csv => vec![("zeotrope_lookup.csv".to_owned(), rows(all))],
    }
}

fn told(all: &[Lookup]) -> String {
    let total = Totals::of(all).bytes;
    format!("Index of lookups by designation, {total} bytes of entries in all.")
}

/// A lookup with an entry of each quantity that any has.
fn columns(all: &[Lookup]) -> Vec<(&Lookup, &LookupEntry)> {
    let first = |quantity: &LookupQuantity| {
        all.iter().find_map(|one| {
            let entry = one
                .entries
                .iter()
                .find(|entry| entry.quantity == *quantity)?;
            Some((one, entry))
        })
    };
    LookupQuantity::ALL.iter().filter_map(first).collect()
}

/// A refrigerant's functions in the order of the columns.
fn functions(one: &Lookup, all: &[Lookup]) -> Vec<Option<String>> {
    let columns = columns(all).into_iter().map(|(_, column)| {
        let mut entries = one.entries.iter();
        let entry = entries.find(|entry| entry.quantity == column.quantity)?;
        Some(function(one, entry))
    });
    columns.collect()
}

fn header(all: &[Lookup]) -> String {
    let includes: String = all
        .iter()
        .map(|one| format!("#include \"{}.h\"\n", stem(&one.refrigerant)))
        .collect();
    let fields: String = columns(all)
        .iter()
        .map(|(one, entry)| {
            let kind = match one.arithmetic {
                Arithmetic::F32 => "float",
                Arithmetic::Integer => "int32_t",
            };
            let (name, argument) = (function(one, entry), argument(one, entry));
            format!("    {kind} (*{name})({kind} {argument});\n")
        })
        .collect();
    format!(
        "/* {} */\n#ifndef ZEOTROPE_LOOKUP_H\n#define ZEOTROPE_LOOKUP_H\n\n\
         #include <stdint.h>\n\n{includes}\n\
         /* A refrigerant, bytes of its entries and its functions; 0 for one that it lacks. */\n\
         struct zeotrope_lookup {{\n    const char *designation;\n    uint32_t bytes;\n{fields}}};\n\n\
         #define ZEOTROPE_LOOKUPS {}u\n\
         extern const struct zeotrope_lookup zeotrope_lookups[ZEOTROPE_LOOKUPS];\n\n#endif\n",
        told(all),
        all.len()
    )
}

fn source(all: &[Lookup]) -> String {
    let lines: String = all
        .iter()
        .map(|one| {
            let stem = stem(&one.refrigerant);
            let functions = functions(one, all).into_iter().map(|name| {
                name.map_or_else(|| ", 0".to_owned(), |name| format!(", {stem}_{name}"))
            });
            let functions: String = functions.collect();
            format!(
                "    {{\"{}\", {}u{functions}}},\n",
                one.refrigerant, one.bytes
            )
        })
        .collect();
    format!(
        "/* {} */\n#include \"zeotrope_lookup.h\"\n\n\
         const struct zeotrope_lookup zeotrope_lookups[ZEOTROPE_LOOKUPS] = {{\n{lines}}};\n",
        told(all)
    )
}

fn rust(all: &[Lookup]) -> String {
    let modules: String = all
        .iter()
        .map(|one| format!("pub mod {};\n", stem(&one.refrigerant)))
        .collect();
    let fields: String = columns(all)
        .iter()
        .map(|(one, entry)| {
            let kind = match one.arithmetic {
                Arithmetic::F32 => "f32",
                Arithmetic::Integer => "i32",
            };
            format!(
                "    /// A line's value; none where the refrigerant lacks it.\n    \
                 pub {}: Option<fn({kind}) -> {kind}>,\n",
                function(one, entry)
            )
        })
        .collect();
    let columns = columns(all);
    let lines: String = all
        .iter()
        .map(|one| {
            let stem = stem(&one.refrigerant);
            let functions = functions(one, all);
            let functions = functions.into_iter().zip(&columns);
            let functions: String = functions
                .map(|(name, (other, column))| {
                    let field = function(other, column);
                    let value = name
                        .map_or_else(|| "None".to_owned(), |name| format!("Some({stem}::{name})"));
                    format!(", {field}: {value}")
                })
                .collect();
            format!(
                "    Lookup {{ designation: \"{}\", bytes: {}{functions} }},\n",
                one.refrigerant, one.bytes
            )
        })
        .collect();
    format!(
        "//! {}\n\n#![no_std]\n#![allow(non_snake_case)]\n\n{modules}\n\
         /// A refrigerant, bytes of its entries and its functions.\npub struct Lookup {{\n    \
         /// Its designation.\n    pub designation: &'static str,\n    \
         /// Bytes of its entries.\n    pub bytes: usize,\n{fields}}}\n\n\
         /// All, in the order asked for.\npub static LOOKUPS: [Lookup; {}] = [\n{lines}];\n",
        told(all),
        all.len()
    )
}

fn rows(all: &[Lookup]) -> String {
    let lines: String = all
        .iter()
        .map(|one| {
            let stem = stem(&one.refrigerant);
            format!("\"{}\",{stem}.csv,{}\n", one.refrigerant, one.bytes)
        })
        .collect();
    format!("refrigerant,file,bytes\n{lines}")
}
