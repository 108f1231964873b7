//! Freestanding C99: no library function, no heap, no recursion, constant time in the range.

use super::{argument, function, numbers};
use crate::chart::lookup::{Arithmetic, Lookup, LookupEntry};

fn comment(head: &[String]) -> String {
    let lines: String = head.iter().map(|line| format!(" * {line}\n")).collect();
    format!("/*\n{lines} */\n")
}

fn types(found: &Lookup) -> &'static str {
    match found.arithmetic {
        Arithmetic::F32 => "float",
        Arithmetic::Integer => "int32_t",
    }
}

/// An f32 that reads back as the same bits.
fn float(value: f32) -> String {
    format!("{value:e}f")
}

fn end(found: &Lookup, raw: u32) -> String {
    match found.arithmetic {
        Arithmetic::F32 => float(f32::from_bits(raw)),
        Arithmetic::Integer => format!("((int32_t){raw})"),
    }
}

pub(super) fn header(found: &Lookup, stem: &str, head: &[String]) -> String {
    let guard = format!("{}_H", stem.to_uppercase());
    let kind = types(found);
    let outside = match found.arithmetic {
        Arithmetic::F32 => "NaN",
        Arithmetic::Integer => "INT32_MIN",
    };
    let mut text = comment(head);
    text.push_str(&format!(
        "#ifndef {guard}\n#define {guard}\n\n#include <stdint.h>\n\n"
    ));
    for entry in &found.entries {
        let (name, argument) = (function(found, entry), argument(found, entry));
        let upper = format!("{}_{}", stem, entry.quantity.name()).to_uppercase();
        let unit = argument.rsplit('_').next().unwrap_or_default();
        let (low, high) = (end(found, entry.form.low), end(found, entry.form.high));
        text.push_str(&format!(
            "#define {upper}_FROM_{unit} {low}\n#define {upper}_TO_{unit} {high}\n\
             /* {outside} outside the range. */\n{kind} {stem}_{name}({kind} {argument});\n\n"
        ));
    }
    text.push_str("#endif\n");
    text
}

pub(super) fn source(found: &Lookup, stem: &str, head: &[String]) -> String {
    let mut text = comment(head);
    text.push_str(&format!("#include \"{stem}.h\"\n\n"));
    text.push_str("#if defined(__clang__)\n#pragma STDC FP_CONTRACT OFF\n#endif\n\n");
    for entry in &found.entries {
        text.push_str(&tables(stem, entry));
        text.push_str(&match found.arithmetic {
            Arithmetic::F32 => by_float(found, stem, entry),
            Arithmetic::Integer => by_integer(found, stem, entry),
        });
    }
    text
}

fn tables(stem: &str, entry: &LookupEntry) -> String {
    let form = &entry.form;
    let name = format!("{stem}_{}", entry.quantity.name());
    let mut text = format!(
        "static const uint16_t {name}_nodes[{}] = {{\n{}\n}};\n",
        form.nodes.len(),
        numbers(&form.nodes)
    );
    if entry.quadratic {
        let width = if form.has_byte_curvature() { 8 } else { 16 };
        text.push_str(&format!(
            "static const uint{width}_t {name}_curvature[{}] = {{\n{}\n}};\n",
            form.curvature.len(),
            numbers(&form.curvature)
        ));
    }
    text.push('\n');
    text
}

/// From `index` and `t` to the whole number above the base.
fn middle(stem: &str, entry: &LookupEntry) -> String {
    let form = &entry.form;
    let name = format!("{stem}_{}", entry.quantity.name());
    let bits = form.fraction_bits;
    let mut text = format!(
        "    start = {name}_nodes[index];\n    slope = (uint32_t){name}_nodes[index + 1u] - start;\n"
    );
    text.push_str(&format!("    above = (start << {bits}) + slope * t;\n"));
    if entry.quadratic {
        let sign = if form.is_convex { '-' } else { '+' };
        text.push_str(&format!(
            "    above {sign}= (uint32_t){name}_curvature[index] * ((t * ({}u - t)) >> {bits});\n",
            1u32 << bits
        ));
    }
    text
}

fn by_float(found: &Lookup, stem: &str, entry: &LookupEntry) -> String {
    let form = &entry.form;
    let (name, argument) = (function(found, entry), argument(found, entry));
    let (k, bits) = (form.interval_bits, form.fraction_bits);
    format!(
        "float {stem}_{name}(float {argument})\n{{\n    union {{ float value; uint32_t bits; }} number;\n    \
         uint32_t index, t, start, slope, above;\n\n    \
         if (!({argument} >= {} && {argument} <= {})) {{\n        number.bits = 0x7fc00000u;\n        \
         return number.value;\n    }}\n    number.value = {argument};\n    \
         index = (number.bits >> {}) - {}u;\n    t = (number.bits >> {}) & {}u;\n{}    \
         return {} + (float)above * {};\n}}\n\n",
        end(found, form.low),
        end(found, form.high),
        23 - k,
        form.first,
        23 - k - bits,
        (1u32 << bits) - 1,
        middle(stem, entry),
        float(form.base as f32),
        float(form.scale()),
    )
}

fn by_integer(found: &Lookup, stem: &str, entry: &LookupEntry) -> String {
    let form = &entry.form;
    let (name, argument) = (function(found, entry), argument(found, entry));
    let (k, bits) = (form.interval_bits, form.fraction_bits);
    let steps: String = [16u32, 8, 4, 2, 1]
        .iter()
        .map(|by| {
            format!(
                "    s = (uint32_t)(x < 0x{:08x}u) * {by}u;\n    x <<= s;\n    octave -= s;\n",
                1u64 << (32 - by)
            )
        })
        .collect();
    // A shift by 31 - k keeps the leading one, which is taken off with the first key.
    format!(
        "int32_t {stem}_{name}(int32_t {argument})\n{{\n    \
         uint32_t x, s, octave, index, t, start, slope, above;\n\n    \
         if ({argument} < {} || {argument} > {}) {{\n        return INT32_MIN;\n    }}\n    \
         x = (uint32_t){argument};\n    octave = 31u;\n{steps}    \
         index = (octave << {k}) + ((x >> {}) & {}u) - {}u;\n    t = (x >> {}) & {}u;\n{}    \
         return (int32_t){} + (int32_t)((above + {}u) >> {});\n}}\n\n",
        end(found, form.low),
        end(found, form.high),
        31 - k,
        (1u32 << k) - 1,
        form.first,
        31 - k - bits,
        (1u32 << bits) - 1,
        middle(stem, entry),
        form.base,
        form.half(),
        form.shift(),
    )
}
