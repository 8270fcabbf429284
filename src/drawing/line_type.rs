//! Line types of ISO 128 (codes as in ISO 128-2; dash proportions in line widths).

/// A line type by its ISO 128 code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineType {
    /// 01: continuous.
    Continuous,
    /// 02: dashed (hidden edges).
    Dashed,
    /// 04: long-dashed dotted (centre lines).
    LongDashedDotted,
    /// 05: long-dashed double-dotted (adjacent parts).
    LongDashedDoubleDotted,
}

impl LineType {
    /// Dash pattern in mm for a line `width` mm wide: drawn, left out, drawn …;
    /// empty for a continuous line.
    #[must_use]
    pub fn dashes(self, width: f64) -> Vec<f64> {
        let widths: &[f64] = match self {
            Self::Continuous => &[],
            Self::Dashed => &[12.0, 3.0],
            Self::LongDashedDotted => &[24.0, 3.0, 0.5, 3.0],
            Self::LongDashedDoubleDotted => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
        };
        widths.iter().map(|count| count * width).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Proportions of ISO 128-20, from memory: dashes 12 d, long dashes 24 d,
    /// gaps 3 d, dots 0.5 d.
    #[test]
    fn dashes_grow_with_the_line() {
        assert_eq!(LineType::Continuous.dashes(0.5), Vec::<f64>::new());
        assert_eq!(LineType::Dashed.dashes(0.5), [6.0, 1.5]);
        assert_eq!(LineType::LongDashedDotted.dashes(0.5), [12.0, 1.5, 0.25, 1.5]);
        let double = LineType::LongDashedDoubleDotted.dashes(0.5);
        assert_eq!(double, [12.0, 1.5, 0.25, 1.5, 0.25, 1.5]);
    }
}
