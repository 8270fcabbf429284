//! Published kernels of error diffusion.

/// To whom the error of a dot goes. All of these hand on the whole of it, so that tone is
/// kept; a kernel that loses a part of it is none of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kernel {
    /// R. W. Floyd, L. Steinberg: An adaptive algorithm for spatial greyscale. Proceedings
    /// of the Society for Information Display 17 (1976) 75–77. The sharpest.
    FloydSteinberg,
    /// J. F. Jarvis, C. N. Judice, W. H. Ninke: A survey of techniques for the display of
    /// continuous tone pictures on bilevel displays. Computer Graphics and Image Processing
    /// 5 (1976) 13–40.
    JarvisJudiceNinke,
    /// P. Stucki: MECCA, a multiple-error correction computation algorithm for bi-level
    /// image hardcopy reproduction. IBM Research Report RZ1060 (1981).
    Stucki,
    /// F. Sierra's kernel of three rows (1989).
    Sierra,
}

/// One neighbour: columns ahead (in the direction of the row), rows below, weight.
pub(super) type Share = (i64, usize, i64);

impl Kernel {
    /// All of them.
    pub const ALL: [Self; 4] =
        [Self::FloydSteinberg, Self::JarvisJudiceNinke, Self::Stucki, Self::Sierra];

    /// Who gets how much: columns ahead, rows below, weight.
    #[must_use]
    pub fn shares(self) -> &'static [Share] {
        match self {
            Self::FloydSteinberg => &[(1, 0, 7), (-1, 1, 3), (0, 1, 5), (1, 1, 1)],
            Self::JarvisJudiceNinke => &[
                (1, 0, 7),
                (2, 0, 5),
                (-2, 1, 3),
                (-1, 1, 5),
                (0, 1, 7),
                (1, 1, 5),
                (2, 1, 3),
                (-2, 2, 1),
                (-1, 2, 3),
                (0, 2, 5),
                (1, 2, 3),
                (2, 2, 1),
            ],
            Self::Stucki => &[
                (1, 0, 8),
                (2, 0, 4),
                (-2, 1, 2),
                (-1, 1, 4),
                (0, 1, 8),
                (1, 1, 4),
                (2, 1, 2),
                (-2, 2, 1),
                (-1, 2, 2),
                (0, 2, 4),
                (1, 2, 2),
                (2, 2, 1),
            ],
            Self::Sierra => &[
                (1, 0, 5),
                (2, 0, 3),
                (-2, 1, 2),
                (-1, 1, 4),
                (0, 1, 5),
                (1, 1, 4),
                (2, 1, 2),
                (-1, 2, 2),
                (0, 2, 3),
                (1, 2, 2),
            ],
        }
    }
}
