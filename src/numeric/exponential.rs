//! The exponential function without branches, so that many of them are made side by side.

/// Beyond this the exponent counts as this, where exp is 1e304 or 1e-304.
const FARTHEST: f64 = 700.0;
/// 1.5 * 2^52: a number added to it is rounded to an integer, which stands in its last bits.
const ROUNDING: f64 = 6_755_399_441_055_744.0;
const LOG_2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LOG_2_LOW: f64 = 1.908_214_929_270_587_7e-10;

/// exp(x) to about 1e-16 of its value; beyond ±700 that at ±700.
///
/// With k the integer next to x / ln 2, exp(x) = 2^k exp(r), |r| <= ln(2)/2, where thirteen terms
/// of the series leave 4e-18.
///
/// # Example
/// ```
/// use zeotrope::numeric::exp;
/// assert!((exp(1.0) / std::f64::consts::E - 1.0).abs() < 4e-16);
/// assert!(exp(-1e9) < 1e-300);
/// assert!(exp(f64::NAN).is_nan());
/// ```
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    // written so that NaN stays what it is
    let x = if x > FARTHEST { FARTHEST } else { x };
    let x = if x < -FARTHEST { -FARTHEST } else { x };
    let rounded = x * std::f64::consts::LOG2_E + ROUNDING;
    let k = rounded - ROUNDING;
    let r = (x - k * LOG_2_HIGH) - k * LOG_2_LOW;
    let scale = f64::from_bits(rounded.to_bits().wrapping_add(1023) << 52);
    let s = r * r;
    let q = s * s;
    // 1/n! in four chains
    let a = 1.0 + r + s * (1.0 / 2.0 + r * (1.0 / 6.0));
    let b = 1.0 / 24.0 + r * (1.0 / 120.0) + s * (1.0 / 720.0 + r * (1.0 / 5_040.0));
    let c =
        1.0 / 40_320.0 + r * (1.0 / 362_880.0) + s * (1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0));
    let d = 1.0 / 479_001_600.0 + r * (1.0 / 6_227_020_800.0);
    scale * (a + q * (b + q * (c + q * d)))
}
