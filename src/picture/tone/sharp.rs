//! Unsharp masking.

use super::share;
use crate::picture::Grey;
use crate::picture::light::rounded;

/// Sharpening by what a blurred copy lacks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unsharp {
    /// Standard deviation of the blur, in dots, up to 50.
    pub radius_px: f64,
    /// How often the difference is added, up to 10; 1 doubles it.
    pub amount: f64,
}

const RADIUS_MOST: f64 = 50.0;
const AMOUNT_MOST: f64 = 10.0;

/// Standard deviations after which a blur ends: what lies beyond is 1 of 15 000.
const REACH: f64 = 4.0;

/// Each level with its difference from the picture blurred by a Gaussian added; beyond its
/// edges the picture is mirrored.
pub(super) fn sharpened(grey: &Grey, unsharp: Unsharp) -> Grey {
    let radius = share(unsharp.radius_px, RADIUS_MOST);
    let amount = share(unsharp.amount, AMOUNT_MOST);
    if radius <= 0.0 || amount <= 0.0 || grey.levels.is_empty() {
        return grey.clone();
    }
    let weights = weights(radius);
    let (width, height) = (grey.width as usize, grey.height as usize);
    let plain: Vec<f64> = grey.levels.iter().map(|level| f64::from(*level)).collect();
    // Each pass turns the picture on its side, so that both run along rows.
    let blurred = blurred(&blurred(&plain, width, &weights), height, &weights);
    let levels = plain.iter().zip(&blurred).map(|(a, b)| rounded(a + amount * (a - b))).collect();
    Grey { width: grey.width, height: grey.height, levels }
}

/// The weight of the middle and of each dot beside it, one side; both sides make up 1.
fn weights(radius: f64) -> Vec<f64> {
    let mut weights = vec![1.0];
    let mut sum = 1.0;
    let mut away = 1.0;
    while away < REACH * radius + 0.5 {
        let weight = libm::exp(-away * away / (2.0 * radius * radius));
        weights.push(weight);
        sum += 2.0 * weight;
        away += 1.0;
    }
    weights.iter().map(|weight| weight / sum).collect()
}

/// Rows blurred, and laid down as columns.
fn blurred(levels: &[f64], width: usize, weights: &[f64]) -> Vec<f64> {
    let reach = weights.len() - 1;
    let height = levels.len() / width.max(1);
    let mut blurred = vec![0.0; width * height];
    let mut wide = Vec::with_capacity(width + 2 * reach);
    for (y, row) in levels.chunks_exact(width).enumerate() {
        wide.clear();
        wide.extend((0..width + 2 * reach).map(|x| {
            row.get(mirrored(x + 2 * width * reach - reach, width)).copied().unwrap_or(0.0)
        }));
        for (x, about) in wide.windows(2 * reach + 1).enumerate() {
            let mut sum = 0.0;
            for (away, weight) in weights.iter().enumerate() {
                let (left, right) = (about.get(reach - away), about.get(reach + away));
                let both = left.copied().unwrap_or(0.0) + right.copied().unwrap_or(0.0);
                sum += weight * if away == 0 { both / 2.0 } else { both };
            }
            if let Some(place) = blurred.get_mut(x * height + y) {
                *place = sum;
            }
        }
    }
    blurred
}

/// The place in a row that a place in the row and its mirror images, one after the other, is.
fn mirrored(place: usize, width: usize) -> usize {
    let place = place % (2 * width);
    if place < width { place } else { 2 * width - 1 - place }
}
