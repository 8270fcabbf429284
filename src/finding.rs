//! What a finding is: one thing noticed about a plaque, with what was measured,
//! what was required, by which rule, and whose rule it is.

use std::fmt;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know; nothing needs to change.
    Note,
    /// A habit of the trade, or comfort in reading, is not met.
    Caution,
    /// Do not make this.
    Stop,
}

/// What a finding concerns. A `stop` withholds the files of its scope only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Scope {
    /// The text as language.
    Wording,
    /// Letters on the plate.
    Lettering,
    /// Pictures and emblems that are another's.
    Photo,
    /// Holes, fixings and the face.
    Mount,
    /// What was signed against what is cut.
    SignOff,
}

/// A measured or required amount with its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The amount.
    pub value: f64,
    /// Its unit as printed: `mm`, `%`, `pixels/mm`, or empty for a count.
    pub unit: &'static str,
}

impl Quantity {
    /// An amount in millimetres.
    #[must_use]
    pub fn mm(value: f64) -> Self {
        Self { value, unit: "mm" }
    }
    /// A share, as per cent.
    #[must_use]
    pub fn percent(share: f64) -> Self {
        Self { value: share * 100.0, unit: "%" }
    }
    /// Pixels on a millimetre.
    #[must_use]
    pub fn pixels_per_mm(value: f64) -> Self {
        Self { value, unit: "pixels/mm" }
    }
    /// A plain count.
    #[must_use]
    pub fn count(value: f64) -> Self {
        Self { value, unit: "" }
    }
}

/// Where in the plaque, and in the layout that asked for it, a finding stands.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Place {
    /// Index into the layout's lines, from 0.
    pub line: Option<usize>,
    /// Index into the mount plan's holes, from 0.
    pub hole: Option<usize>,
    /// Dotted path of the key that asked for it, such as `line.2.text` (lines
    /// from 1) or `mount.inset`; its line and column are in
    /// [`crate::layout::Keys`].
    pub key: String,
}

/// One thing noticed.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Kebab-case name, ours, stable between versions.
    pub code: &'static str,
    /// How grave it is.
    pub severity: Severity,
    /// What it concerns.
    pub scope: Scope,
    /// Where it stands.
    pub place: Place,
    /// One plain sentence for the person at the bench.
    pub message: String,
    /// What was measured, where the rule measures.
    pub measured: Option<Quantity>,
    /// What was required, where the rule has a bound.
    pub required: Option<Quantity>,
    /// The rule in a few words.
    pub rule: String,
    /// Whose rule it is: a document and clause, the layout, geometry, or
    /// "common practice, no source".
    pub source: String,
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Stop => "stop",
        })
    }
}

impl fmt::Display for Scope {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Wording => "wording",
            Self::Lettering => "lettering",
            Self::Photo => "photo",
            Self::Mount => "mount",
            Self::SignOff => "sign-off",
        })
    }
}
