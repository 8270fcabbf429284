//! Words of the layout file that name one of a few values.

/// A closed list of words that may stand for a value in a layout file.
pub trait Named: Sized + Copy + PartialEq + 'static {
    /// Every value with the word that a user writes for it, in the order in
    /// which they are offered.
    const ALL: &'static [(&'static str, Self)];

    /// The word for this value.
    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, value)| *value == self).map_or("", |(word, _)| word)
    }
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$vdoc])* $variant),+ }
        impl Named for $name {
            const ALL: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),+];
        }
    };
}
