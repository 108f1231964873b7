//! A lookup's entries and the integer arithmetic that reads them, bit for bit that of generated code.
//!
//! An input is split by its leading bits: the exponent names the octave, the next bits an interval
//! of it, the bits below the fraction of the interval. So no logarithm is needed. Between the
//! nodes at its ends an interval is linear, or quadratic by an entry more. All products stay
//! within 32 bits; the last step, a whole number times a power of two, is exact, so that a fused
//! multiply-add changes nothing.

/// The numbers that a lookup takes and gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Arithmetic {
    /// 32-bit floating point: Pa and K.
    F32,
    /// 32-bit integers: Pa and mK.
    Integer,
}

/// Entries of one line with what is needed to read them.
#[derive(Debug, Clone, PartialEq)]
pub struct LookupForm {
    /// The numbers that it takes and gives.
    pub arithmetic: Arithmetic,
    /// The lowest input: the bits of the f32, or the integer.
    pub low: u32,
    /// The highest input, likewise.
    pub high: u32,
    /// An octave has two to this power of intervals.
    pub interval_bits: u32,
    /// An interval has two to this power of steps.
    pub fraction_bits: u32,
    /// The key of the first interval.
    pub first: u32,
    /// What is added to every value: K or Pa, with integers mK or Pa.
    pub base: i32,
    /// An entry counts two to this power, in the unit of the base.
    pub unit: i32,
    /// Values at the ends of the intervals.
    pub nodes: Vec<u16>,
    /// How far the middle of an interval lies off its chord, times four; empty where linear.
    pub curvature: Vec<u16>,
    /// Whether the middle lies below the chord.
    pub is_convex: bool,
}

/// The entries of one interval.
#[derive(Clone, Copy)]
struct Interval {
    start: u32,
    end: u32,
    curvature: Option<u32>,
    is_convex: bool,
    fraction_bits: u32,
}

impl Interval {
    /// No value above the base exceeds it.
    fn most(self) -> u32 {
        let bend = self.curvature.unwrap_or(0) << (self.fraction_bits - 2);
        let chord = self.start.max(self.end) << self.fraction_bits;
        match self.is_convex && self.curvature.is_some() {
            // A difference below zero would wrap.
            true if bend > self.start.min(self.end) << self.fraction_bits => u32::MAX,
            true => chord,
            false => chord.saturating_add(bend),
        }
    }

    /// The value above the base, in fractions of an entry's unit.
    #[inline(always)]
    fn above_base(self, t: u32) -> u32 {
        let rise = self.end.wrapping_sub(self.start).wrapping_mul(t);
        let chord = (self.start << self.fraction_bits).wrapping_add(rise);
        let Some(c) = self.curvature else {
            return chord;
        };
        // From one step to the next this changes by one entry at most: what is monotonic stays so.
        let part = (t * ((1 << self.fraction_bits) - t)) >> self.fraction_bits;
        let bend = c * part;
        if self.is_convex {
            chord.wrapping_sub(bend)
        } else {
            chord.wrapping_add(bend)
        }
    }
}

impl LookupForm {
    /// The key of the interval that holds an input, and the fraction of it.
    #[inline]
    pub fn interval_of(&self, raw: u32) -> (u32, u32) {
        let (k, fraction) = (self.interval_bits, self.fraction_bits);
        let mask = (1 << fraction) - 1;
        match self.arithmetic {
            Arithmetic::F32 => (raw >> (23 - k), (raw >> (23 - k - fraction)) & mask),
            Arithmetic::Integer => {
                let zeros = raw.leading_zeros();
                let whole = raw << zeros;
                let key = ((31 - zeros) << k) + ((whole >> (31 - k)) & ((1 << k) - 1));
                (key, (whole >> (31 - k - fraction)) & mask)
            }
        }
    }

    /// The value above the base, in fractions of an entry's unit.
    #[inline]
    fn above_base(&self, raw: u32) -> Option<u32> {
        if raw < self.low || raw > self.high {
            return None;
        }
        let (key, t) = self.interval_of(raw);
        Some(self.interval(key)?.above_base(t))
    }

    /// The entries of an interval.
    #[inline(always)]
    fn interval(&self, key: u32) -> Option<Interval> {
        let index = key.wrapping_sub(self.first) as usize;
        Some(Interval {
            start: u32::from(*self.nodes.get(index)?),
            end: u32::from(*self.nodes.get(index + 1)?),
            curvature: self.curvature.get(index).copied().map(u32::from),
            is_convex: self.is_convex,
            fraction_bits: self.fraction_bits,
        })
    }

    /// As [`LookupForm::value`] at many inputs in rising order; `None` where one has no value.
    pub(super) fn values(
        &self,
        raws: &[u32],
        gives_temperature: bool,
        plain: &mut Vec<f64>,
        fused: &mut Vec<f64>,
    ) -> Option<()> {
        plain.clear();
        fused.clear();
        let (first, last) = (*raws.first()?, *raws.last()?);
        let (key, _) = self.interval_of(first);
        let is_one = self.interval_of(last).0 == key && first >= self.low && last <= self.high;
        if !is_one || self.arithmetic == Arithmetic::Integer {
            for raw in raws {
                let (alone, with_fused) = self.value(*raw, gives_temperature)?;
                plain.push(alone);
                fused.push(with_fused);
            }
            return Some(());
        }
        let interval = self.interval(key)?;
        let (scale, base) = (self.scale(), self.base as f32);
        let below = 23 - self.interval_bits - self.fraction_bits;
        let mask = (1 << self.fraction_bits) - 1;
        let steps = raws.iter().map(|raw| (raw >> below) & mask);
        // What fits 31 bits is converted as if it had a sign, which processors do side by side.
        if interval.most() <= i32::MAX.unsigned_abs() {
            plain.extend(steps.map(|t| f64::from(interval.above_base(t) as i32 as f32)));
        } else {
            plain.extend(steps.map(|t| f64::from(interval.above_base(t) as f32)));
        }
        // The product and the sum are exact in f64, so that this is rounded once, as fused.
        let wide = f64::from(scale);
        fused.extend(plain.iter().map(|above| {
            let exact = above * wide + f64::from(base);
            f64::from(exact as f32)
        }));
        for one in plain.iter_mut() {
            *one = f64::from(base + *one as f32 * scale);
        }
        Some(())
    }

    /// The value of an input in f32, K or Pa: plainly, and with a fused multiply-add.
    #[inline]
    pub fn f32(&self, input: f32) -> Option<(f32, f32)> {
        let above = self.above_base(input.to_bits())? as f32;
        let (scale, base) = (self.scale(), self.base as f32);
        Some((base + above * scale, above.mul_add(scale, base)))
    }

    /// The value of an integer input, mK or Pa.
    #[inline]
    pub fn integer(&self, input: u32) -> Option<i32> {
        let above = self.above_base(input)?;
        Some(self.base + ((above + self.half()) >> self.shift()) as i32)
    }

    /// The value of an input by its bits, K or Pa: plainly and with a fused multiply-add.
    #[inline]
    pub fn value(&self, raw: u32, gives_temperature: bool) -> Option<(f64, f64)> {
        match self.arithmetic {
            Arithmetic::F32 => {
                let (plain, fused) = self.f32(f32::from_bits(raw))?;
                Some((f64::from(plain), f64::from(fused)))
            }
            Arithmetic::Integer => {
                let value = f64::from(self.integer(raw)?);
                let value = if gives_temperature {
                    value / 1000.0
                } else {
                    value
                };
                Some((value, value))
            }
        }
    }

    /// What the whole number above the base is multiplied with in f32, a power of two.
    pub fn scale(&self) -> f32 {
        2f32.powi(self.unit - self.fraction_bits as i32)
    }

    /// By how many bits the whole number above the base is shifted with integers.
    pub fn shift(&self) -> u32 {
        (self.fraction_bits as i32 - self.unit).clamp(0, 31) as u32
    }

    /// Half of the last bit kept, so that a shift rounds.
    pub fn half(&self) -> u32 {
        (1 << self.shift()) >> 1
    }

    /// Whether curvatures fit a byte each.
    pub fn has_byte_curvature(&self) -> bool {
        self.curvature.iter().all(|one| *one <= 255)
    }

    /// Bytes of the entries.
    pub fn bytes(&self) -> usize {
        let width = if self.has_byte_curvature() { 1 } else { 2 };
        2 * self.nodes.len() + width * self.curvature.len()
    }

    /// Operations of one reading as the generated code writes them: comparisons, shifts, masks,
    /// additions, multiplications and conversions; loads are not counted.
    pub fn operations(&self) -> usize {
        let bend = if self.curvature.is_empty() { 0 } else { 5 };
        let ends = match self.arithmetic {
            Arithmetic::F32 => 13,
            // Five steps of four to find the leading bit.
            Arithmetic::Integer => 35,
        };
        ends + bend
    }
}
