//! A printer that does not print true: what its check bars measured, and the pattern
//! made larger or smaller to come out true on that printer alone.

use kurbo::Affine;

use crate::drawing::{Group, Page};
use crate::sheets::page::Size;
use crate::units::digits::trimmed;

/// What the check bars are drawn as, mm.
const BAR_MM: f64 = 100.0;

/// Greatest error that is made good, per cent. Printers stretch and shrink paper by a few
/// parts in a thousand; a driver that fits a page into its margins takes off 3 to 8 per
/// cent (common practice, no source).
pub const MOST_OFF_PER_CENT: f64 = 3.0;

/// What the two bars of 100 mm measured on paper, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrintedBars {
    across: f64,
    along: f64,
}

impl PrintedBars {
    /// Bars that measured `across` mm and, up the sheet, `along` mm.
    ///
    /// # Errors
    /// A bar that is off by more than [`MOST_OFF_PER_CENT`], or no number: its length.
    pub fn new(across: f64, along: f64) -> Result<Self, f64> {
        let good = |length: f64| (length - BAR_MM).abs() <= BAR_MM * MOST_OFF_PER_CENT / 100.0;
        match [across, along].into_iter().find(|length| !good(*length)) {
            Some(off) => Err(off),
            None => Ok(Self { across, along }),
        }
    }

    /// By how much a page is made longer across and along.
    fn factors(self) -> (f64, f64) {
        (BAR_MM / self.across, BAR_MM / self.along)
    }

    /// The same on a page that the printer turns.
    pub(super) fn turned(self) -> Self {
        Self { across: self.along, along: self.across }
    }

    /// A sheet whose contents keep its margins when they are made longer, whichever way
    /// it is turned.
    pub(super) fn kept(self, size: Size) -> Size {
        let (across, along) = self.factors();
        let factor = across.max(along);
        let margin =
            |whole: f64, margin: f64| margin.max(whole / 2.0 - (whole / 2.0 - margin) / factor);
        let margins = (margin(size.width, size.margin.0), margin(size.height, size.margin.1));
        Size { margin: margins, ..size }
    }

    /// The page made longer about its middle.
    pub(super) fn corrected(self, page: Page) -> Page {
        let (across, along) = self.factors();
        let (x, y) = (page.width / 2.0, page.height / 2.0);
        let mut group = Group::new("corrected", &self.told(), page.items);
        group.transform = Affine::translate((x, y))
            * Affine::new([across, 0.0, 0.0, along, 0.0, 0.0])
            * Affine::translate((-x, -y));
        Page { items: vec![group.into()], ..page }
    }

    /// What stands in print on every page.
    pub(super) fn told(self) -> String {
        format!(
            "Corrected for a printer that prints 100 mm as {} mm across and {} mm along: true on \
             that printer alone, at the same settings.",
            trimmed(self.across, 2),
            trimmed(self.along, 2)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_taken_up_to_the_limit() {
        assert!(PrintedBars::new(97.0, 103.0).is_ok());
        assert_eq!(PrintedBars::new(96.9, 100.0), Err(96.9));
        assert_eq!(PrintedBars::new(100.0, 103.1), Err(103.1));
        assert!(PrintedBars::new(f64::NAN, 100.0).is_err());
    }

    #[test]
    fn contents_keep_the_margins_when_they_grow() {
        let size = Size { width: 210.0, height: 297.0, margin: (10.0, 10.0) };
        let kept = PrintedBars::new(98.0, 102.0).unwrap().kept(size);
        // Worked by hand: (105 - margin) x 100/98 = 95, so the margin is 105 - 93.1; on a
        // page that is turned the long way grows: (148.5 - margin) x 100/98 = 138.5.
        assert!((kept.margin.0 - 11.9).abs() < 1e-9, "{kept:?}");
        assert!((kept.margin.1 - 12.77).abs() < 1e-9, "{kept:?}");
        // What is made smaller keeps them anyway.
        let kept = PrintedBars::new(101.0, 102.0).unwrap().kept(size);
        assert_eq!(kept.margin, (10.0, 10.0));
    }
}
