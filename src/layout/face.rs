//! The trophy face that the plate goes on, as asked for.

use super::{Grain, Named};

words! {
    /// What the trophy face is made of; figures stand in the mount's wood table.
    FaceMaterial {
        /// A hardwood that the table does not list.
        Hardwood = "hardwood",
        /// A softwood that the table does not list.
        Softwood = "softwood",
        /// Black walnut.
        BlackWalnut = "black walnut",
        /// White oak.
        WhiteOak = "white oak",
        /// Northern red oak.
        RedOak = "red oak",
        /// Hard maple.
        HardMaple = "hard maple",
        /// Black cherry.
        BlackCherry = "black cherry",
        /// Yellow birch.
        YellowBirch = "yellow birch",
        /// White ash.
        WhiteAsh = "white ash",
        /// American beech.
        Beech = "beech",
        /// Coast Douglas-fir.
        DouglasFir = "douglas fir",
        /// Eastern white pine.
        WhitePine = "white pine",
        /// White fir.
        WhiteFir = "white fir",
        /// True mahogany.
        Mahogany = "mahogany",
        /// Teak.
        Teak = "teak",
    }
}

/// Where on the face the plate goes. An axis without a distance is centred.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// On the centre line.
    Centred,
    /// From the left (across) or top (along) edge of the face to the plate's, mm.
    FromStart(f64),
    /// From the right (across) or bottom (along) edge of the face to the plate's, mm.
    FromEnd(f64),
}

/// The flat trophy face that the plate goes on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Material.
    pub material: FaceMaterial,
    /// Thickness of the wood behind the plate, mm.
    pub thickness: f64,
    /// Grain of the wood, where it is told.
    pub grain: Option<Grain>,
    /// Place across (left to right).
    pub across: Place,
    /// Place along (top to bottom).
    pub along: Place,
}
