//! How the letters of a line are set: language, case, quotes, further lettering, the forms
//! of letters and figures, narrowing and tracking.

use super::{LetteringChoice, Line, Named};

words! {
    /// Whether letters are set as written.
    Case {
        /// As the wording has them.
        AsWritten = "as written",
        /// In capitals by the rules of the language; ß becomes SS.
        Capitals = "capitals",
        /// The same, but ß becomes the capital ẞ.
        CapitalsWithSharpS = "capitals with ẞ",
    }
}

words! {
    /// Whether straight quotes and apostrophes are set as written.
    Quotes {
        /// As the wording has them.
        AsWritten = "as written",
        /// As the marks of the language.
        Typographic = "typographic",
    }
}

words! {
    /// Which letters are set as small capitals that the lettering has.
    SmallCapitalsFor {
        /// Lower case.
        LowerCase = "lower case",
        /// Lower case and capitals.
        AllLetters = "all letters",
    }
}

words! {
    /// Forms of figures.
    FigureForm {
        /// As high as capitals.
        Lining = "lining",
        /// With ascenders and descenders, as lower case.
        OldStyle = "old-style",
    }
}

words! {
    /// Widths of figures.
    FigureWidth {
        /// Each as wide as it is drawn.
        Proportional = "proportional",
        /// All of one width, so that columns line up.
        Tabular = "tabular",
    }
}

/// How the letters of a line are set beyond its lettering; what is not said is absent.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Lettering for what the line's own lacks, in the order in which it is tried.
    pub others: Vec<LetteringChoice>,
    /// Language of the wording, a tag of BCP 47 such as `cy` or `tr`.
    pub language: Option<String>,
    /// Letters as written, or in capitals.
    pub case: Case,
    /// Straight quotes as written, or as the language's own.
    pub quotes: Quotes,
    /// Whether letters may join into ligatures; those a script cannot do without always do.
    pub ligatures: bool,
    /// Which letters are small capitals.
    pub small_capitals: Option<SmallCapitalsFor>,
    /// Forms of figures.
    pub figures: Option<FigureForm>,
    /// Widths of figures.
    pub figure_widths: Option<FigureWidth>,
    /// Stylistic sets of the lettering, 1 to 20.
    pub stylistic_sets: Vec<u32>,
    /// Share of the drawn width down to which the fit may narrow the letters.
    pub narrow_to: Option<f64>,
    /// White that may be added between neighbouring capitals, at most, in cap heights.
    pub tracking: Option<f64>,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            others: Vec::new(),
            language: None,
            case: Case::AsWritten,
            quotes: Quotes::AsWritten,
            ligatures: true,
            small_capitals: None,
            figures: None,
            figure_widths: None,
            stylistic_sets: Vec::new(),
            narrow_to: None,
            tracking: None,
        }
    }
}

impl Setting {
    /// OpenType features of what is asked for. Letters that are tracked do not join.
    #[must_use]
    pub fn features(&self) -> Vec<String> {
        let mut tags: Vec<&str> = Vec::new();
        if !self.ligatures || self.tracking.is_some() {
            tags.extend(["-liga", "-clig"]);
        }
        match self.small_capitals {
            Some(SmallCapitalsFor::LowerCase) => tags.push("smcp"),
            Some(SmallCapitalsFor::AllLetters) => tags.extend(["smcp", "c2sc"]),
            None => {}
        }
        tags.extend(self.figures.map(FigureForm::feature));
        tags.extend(self.figure_widths.map(FigureWidth::feature));
        let sets = self.stylistic_sets.iter().map(|number| format!("ss{number:02}"));
        tags.into_iter().map(str::to_owned).chain(sets).collect()
    }

    /// Whether the wording may have to be set otherwise than it is written.
    #[must_use]
    pub fn changes_wording(&self) -> bool {
        self.case != Case::AsWritten || self.quotes != Quotes::AsWritten
    }
}

impl FigureForm {
    /// The OpenType feature.
    #[must_use]
    pub const fn feature(self) -> &'static str {
        match self {
            Self::Lining => "lnum",
            Self::OldStyle => "onum",
        }
    }
}

impl FigureWidth {
    /// The OpenType feature.
    #[must_use]
    pub const fn feature(self) -> &'static str {
        match self {
            Self::Proportional => "pnum",
            Self::Tabular => "tnum",
        }
    }
}

impl Line {
    /// All OpenType features of the line: those of its keys, then those written as
    /// features, which therefore prevail.
    #[must_use]
    pub fn all_features(&self) -> Vec<String> {
        let mut all = self.setting.features();
        all.extend(self.features.iter().cloned());
        all
    }
}

#[cfg(test)]
mod tests {
    use super::{FigureForm, FigureWidth, Setting, SmallCapitalsFor};

    #[test]
    fn keys_ask_for_the_features_that_opentype_registers() {
        assert!(Setting::default().features().is_empty());
        let asked = Setting {
            ligatures: false,
            small_capitals: Some(SmallCapitalsFor::AllLetters),
            figures: Some(FigureForm::OldStyle),
            figure_widths: Some(FigureWidth::Tabular),
            stylistic_sets: vec![1, 12],
            ..Setting::default()
        };
        let features = ["-liga", "-clig", "smcp", "c2sc", "onum", "tnum", "ss01", "ss12"];
        assert_eq!(asked.features(), features);
        let tracked = Setting { tracking: Some(0.05), ..Setting::default() };
        assert_eq!(tracked.features(), ["-liga", "-clig"]);
    }
}
