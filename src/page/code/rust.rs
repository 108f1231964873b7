//! Rust without its standard library and without dependencies.

use super::{argument, function, numbers};
use crate::chart::lookup::{Arithmetic, Lookup, LookupEntry};

pub(super) fn source(found: &Lookup, head: &[String]) -> String {
    let mut text: String = head.iter().map(|line| format!("//! {line}\n")).collect();
    // `no_std` stands in the index, the root of the crate; this file is a module of it.
    text.push_str("\n#![allow(non_snake_case)]\n\n");
    for entry in &found.entries {
        text.push_str(&one(found, entry));
    }
    text
}

fn one(found: &Lookup, entry: &LookupEntry) -> String {
    let form = &entry.form;
    let name = function(found, entry);
    let argument = argument(found, entry);
    let upper = entry.quantity.name().to_uppercase();
    let unit = argument
        .rsplit('_')
        .next()
        .unwrap_or_default()
        .to_uppercase();
    let (k, bits) = (form.interval_bits, form.fraction_bits);
    let (kind, low, high) = match found.arithmetic {
        Arithmetic::F32 => (
            "f32",
            format!("{:e}", f32::from_bits(form.low)),
            format!("{:e}", f32::from_bits(form.high)),
        ),
        Arithmetic::Integer => ("i32", form.low.to_string(), form.high.to_string()),
    };
    let mut text = format!(
        "/// Lowest input of [`{name}`].\npub const {upper}_FROM_{unit}: {kind} = {low};\n\
         /// Highest input of [`{name}`].\npub const {upper}_TO_{unit}: {kind} = {high};\n\
         static {upper}_NODES: [u16; {}] = [\n{},\n];\n",
        form.nodes.len(),
        numbers(&form.nodes)
    );
    if entry.quadratic {
        let width = if form.has_byte_curvature() { 8 } else { 16 };
        text.push_str(&format!(
            "static {upper}_CURVATURE: [u{width}; {}] = [\n{},\n];\n",
            form.curvature.len(),
            numbers(&form.curvature)
        ));
    }
    let (outside, place, result) = match found.arithmetic {
        Arithmetic::F32 => (
            "f32::NAN",
            format!(
                "    let bits = {argument}.to_bits();\n    \
                 let index = ((bits >> {}) - {}) as usize;\n    let t = (bits >> {}) & {};\n",
                23 - k,
                form.first,
                23 - k - bits,
                (1u32 << bits) - 1
            ),
            format!("{:e} + above as f32 * {:e}", form.base as f32, form.scale()),
        ),
        Arithmetic::Integer => (
            "i32::MIN",
            format!(
                "    let zeros = ({argument} as u32).leading_zeros();\n    \
                 let x = ({argument} as u32) << zeros;\n    \
                 let index = (((31 - zeros) << {k}) + ((x >> {}) & {}) - {}) as usize;\n    \
                 let t = (x >> {}) & {};\n",
                31 - k,
                (1u32 << k) - 1,
                form.first,
                31 - k - bits,
                (1u32 << bits) - 1
            ),
            format!(
                "{} + ((above + {}) >> {}) as i32",
                form.base,
                form.half(),
                form.shift()
            ),
        ),
    };
    let bend = if entry.quadratic {
        let sign = if form.is_convex { "sub" } else { "add" };
        format!(
            "    let bend = u32::from({upper}_CURVATURE[index]) * ((t * ({} - t)) >> {bits});\n    \
             let above = above.wrapping_{sign}(bend);\n",
            1u32 << bits
        )
    } else {
        String::new()
    };
    text.push_str(&format!(
        "/// {outside} outside the range.\npub fn {name}({argument}: {kind}) -> {kind} {{\n    \
         if !({argument} >= {upper}_FROM_{unit} && {argument} <= {upper}_TO_{unit}) {{\n        \
         return {outside};\n    }}\n{place}    let start = u32::from({upper}_NODES[index]);\n    \
         let slope = u32::from({upper}_NODES[index + 1]).wrapping_sub(start);\n    \
         let above = (start << {bits}).wrapping_add(slope.wrapping_mul(t));\n{bend}    {result}\n}}\n\n"
    ));
    text
}
